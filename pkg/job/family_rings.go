package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var ringsFamily = Family{
	Name: "rings", About: "circles round a ring or in a row, each crossing its neighbours", Size: "ring", Other: "pitch",
	keys: []conf.Key{
		{Name: "count", Is: conf.Whole, Range: conf.From(3, mostRings), Default: conf.Typed{"6"}, Example: conf.Typed{"6"}, Help: "how many"},
		sizeKey("ring", "radius of the ring on which their centres stand", conf.Typed{"60", "2.5"}),
		{Name: "pitch", Is: conf.Length, Range: conf.Positive, Said: "they stand on a ring", Quiet: true, Example: conf.Typed{"50", "2"}, Help: "in place of ring: they stand in a row, this far from centre to centre"},
		proportionKey("radius", "radius of each", "as crosses neighbours well", conf.Typed{"40", "1.5"}),
	},
	read: func(t conf.Section) family.Pattern {
		p := family.Rings{Count: t.Count("count"), Ring: t.Length("ring")}
		ok := optional(t, "pitch", &p.Pitch) && optional(t, "radius", &p.Radius)
		if p.Count < 3 || !ok {
			return nil
		}
		return p
	},
}

// mostRings is how many there may be.
const mostRings = 60

// proportionKey is a length that is in proportion to a pattern's size if it isn't given.
func proportionKey(name, help, said string, example conf.Typed) conf.Key {
	return conf.Key{Name: name, Is: conf.Length, Range: conf.Positive, Said: said, Quiet: true, Example: example, Help: help}
}

// roundKey is the radius by which what may stay sharp is rounded.
func roundKey(what string) conf.Key {
	return conf.Key{Name: "round", Is: conf.Length, Range: conf.NotNegative, Default: conf.Typed{"0"}, Quiet: true, Example: conf.Typed{"8", "3/8"}, Help: "radius by which the " + what + " are rounded; 0: they stay sharp"}
}

// optional reads a length into to where it is given; it is false where that is wrong.
func optional(t conf.Section, key string, to *float64) bool {
	if t.Given(key) {
		*to = t.Length(key)
	}
	return !math.IsNaN(*to)
}

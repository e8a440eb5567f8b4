package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var ringsFamily = Family{
	Name: "rings", About: "circles round a ring, each crossing its neighbours", Size: "ring",
	keys: []conf.Key{
		{Name: "count", Is: conf.Whole, Range: conf.From(3, mostRings), Default: conf.Typed{"6"}, Example: conf.Typed{"6"}, Help: "how many"},
		sizeKey("ring", "radius of the ring on which their centres stand", conf.Typed{"60", "2.5"}),
		{Name: "radius", Is: conf.Length, Range: conf.Positive, Said: "as crosses neighbours well", Quiet: true, Example: conf.Typed{"40", "1.5"}, Help: "radius of each"},
	},
	read: func(t conf.Section) family.Pattern {
		p := family.Rings{Count: t.Count("count"), Ring: t.Length("ring")}
		if t.Given("radius") {
			p.Radius = t.Length("radius")
		}
		if p.Count < 3 || math.IsNaN(p.Radius) {
			return nil
		}
		return p
	},
}

// mostRings is how many there may be.
const mostRings = 60

package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

// foilCusps are the words for what foils do where they meet.
var foilCusps = []string{family.CuspCross: "cross", family.CuspTee: "tee", family.CuspPoint: "point"}

var foilFamily = Family{
	Name: "foil", About: "a trefoil, a quatrefoil and so on, in a ring", Size: "ring",
	keys: []conf.Key{
		{Name: "count", Is: conf.Whole, Range: conf.From(3, 12), Default: conf.Typed{"4"}, Example: conf.Typed{"4"}, Help: "how many foils, the first on top"},
		sizeKey("ring", "radius of the ring that holds them", conf.Typed{"60", "2.5"}),
		proportionKey("radius", "radius of each foil", "as crosses neighbours well", conf.Typed{"27", "1 1/8"}),
		{Name: "cusp", Is: conf.Word, Words: foilCusps, Default: conf.Typed{`"cross"`}, Example: conf.Typed{`"cross"`}, Help: "where they meet whole rings cross, or each ends on the one before (tee), or one outline has a cusp (point)"},
		roundKey("cusps"),
	},
	read: func(t conf.Section) family.Pattern {
		cusp := t.Word("cusp")
		p := family.Foil{Count: t.Count("count"), Ring: t.Length("ring"), Round: t.Length("round"), Cusp: family.Cusp(cusp)}
		if ok := optional(t, "radius", &p.Radius); p.Count < 3 || cusp < 0 || math.IsNaN(p.Round) || !ok {
			return nil
		}
		return p
	},
}

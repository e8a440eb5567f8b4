package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var lobesFamily = Family{
	Name: "lobes", About: "a knot of pointed lobes: the triquetra and its kin", Size: "ring",
	keys: []conf.Key{
		{Name: "count", Is: conf.Whole, Range: conf.From(3, 12), Default: conf.Typed{"3"}, Example: conf.Typed{"3"}, Help: "how many tips, the first on top"},
		{Name: "step", Is: conf.Whole, Range: conf.From(1, 6), Said: "1 for three tips, else 2", Quiet: true, Example: conf.Typed{"2"}, Help: "arcs go from each tip to the one this many places on; with 1 they are bowed to the middle, else away from it"},
		sizeKey("ring", "radius of the circle on which the tips lie", conf.Typed{"60", "2.5"}),
		proportionKey("radius", "radius of the arcs", "as makes tips of 76 degrees", conf.Typed{"56", "2.4"}),
		roundKey("tips"),
	},
	read: func(t conf.Section) family.Pattern {
		p := family.Lobes{Count: t.Count("count"), Ring: t.Length("ring"), Round: t.Length("round")}
		ok := optional(t, "radius", &p.Radius) && !math.IsNaN(p.Round)
		if t.Given("step") {
			p.Step = t.Count("step")
			ok = ok && p.Step > 0
		}
		if p.Count < 3 || !ok {
			return nil
		}
		return p
	},
}

package job

import (
	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var loopsFamily = Family{
	Name: "loops", About: "a polygon whose corners are loops", Size: "ring",
	keys: []conf.Key{
		{Name: "count", Is: conf.Whole, Range: conf.From(3, 12), Default: conf.Typed{"4"}, Example: conf.Typed{"4"}, Help: "how many corners; a side lies at the bottom"},
		sizeKey("ring", "radius of the circle that touches the sides", conf.Typed{"60", "2.5"}),
		proportionKey("radius", "radius of each loop", "0.7 times half a side", conf.Typed{"30", "1 1/4"}),
	},
	read: func(t conf.Section) family.Pattern {
		p := family.Loops{Count: t.Count("count"), Ring: t.Length("ring")}
		if ok := optional(t, "radius", &p.Radius); p.Count < 3 || !ok {
			return nil
		}
		return p
	},
}

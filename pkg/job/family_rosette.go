package job

import (
	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var rosetteFamily = Family{
	Name: "rosette", About: "circles that all cross one another, turned about the middle", Size: "ring",
	keys: []conf.Key{
		{Name: "count", Is: conf.Whole, Range: conf.From(3, 24), Default: conf.Typed{"6"}, Example: conf.Typed{"6"}, Help: "how many, the first on top"},
		sizeKey("ring", "radius of the ring on which their centres stand", conf.Typed{"60", "2.5"}),
		proportionKey("radius", "radius of each", "1.6 times the ring", conf.Typed{"96", "4"}),
	},
	read: func(t conf.Section) family.Pattern {
		p := family.Rosette{Count: t.Count("count"), Ring: t.Length("ring")}
		if ok := optional(t, "radius", &p.Radius); p.Count < 3 || !ok {
			return nil
		}
		return p
	},
}

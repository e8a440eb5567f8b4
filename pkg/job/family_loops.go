package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var loopsFamily = Family{
	Name: "loops", About: "a polygon whose corners are loops", Size: "ring",
	keys: []conf.Key{
		{Name: "count", Is: conf.Whole, Range: conf.From(3, 12), Default: conf.Typed{"4"}, Example: conf.Typed{"4"}, Help: "how many corners"},
		sizeKey("ring", "radius of the circle that touches the sides", conf.Typed{"60", "2.5"}),
		{Name: "radius", Is: conf.Length, Range: conf.Positive, Said: "in proportion to the sides", Quiet: true, Example: conf.Typed{"30", "1 1/4"}, Help: "radius of each loop"},
	},
	read: func(t conf.Section) family.Pattern {
		p := family.Loops{Count: t.Count("count"), Ring: t.Length("ring")}
		if t.Given("radius") {
			p.Radius = t.Length("radius")
		}
		if p.Count < 3 || math.IsNaN(p.Radius) {
			return nil
		}
		return p
	},
}

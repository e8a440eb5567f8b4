package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var starFamily = Family{
	Name: "star", About: "a star of straights from point to point", Size: "radius",
	keys: []conf.Key{
		{Name: "points", Is: conf.Whole, Range: conf.From(5, 24), Default: conf.Typed{"8"}, Example: conf.Typed{"8"}, Help: "how many, the first on top"},
		{Name: "step", Is: conf.Whole, Range: conf.From(2, 11), Default: conf.Typed{"3"}, Example: conf.Typed{"3"}, Help: "each point is joined to those this many places on: 1 would be the outline"},
		sizeKey("radius", "radius of the circle on which the points lie", conf.Typed{"45", "2"}),
		roundKey("points"),
	},
	read: func(t conf.Section) family.Pattern {
		p := family.Star{Points: t.Count("points"), Step: t.Count("step"), Radius: t.Length("radius"), Round: t.Length("round")}
		if p.Points < 5 || p.Step < 2 || math.IsNaN(p.Round) {
			return nil
		}
		return p
	},
}

package job

import (
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/family"
)

var ringPlaitFamily = Family{
	Name: "ring-plait", About: "a plait bent to a ring, as in a rosette or a Turk's head laid flat", Size: "inside",
	keys: []conf.Key{
		{Name: "leads", Is: conf.Whole, Range: conf.From(2, 8), Default: conf.Typed{"3"}, Example: conf.Typed{"3"}, Help: "how many strands lie side by side"},
		{Name: "bights", Is: conf.Whole, Range: conf.From(3, 60), Default: conf.Typed{"8"}, Example: conf.Typed{"8"}, Help: "how often they turn back, inside and outside; one strand in all where it shares no divisor with leads"},
		sizeKey("inside", "radius of the circle that the inner bights touch", conf.Typed{"60", "2.5"}),
		{Name: "pitch", Is: conf.Length, Range: conf.Positive, Said: "so that strands cross squarely, all in all", Quiet: true, Example: conf.Typed{"20", "0.75"}, Help: "from one circle of crossings to the next; with 2 leads, which have one circle, a larger pitch is a steeper crossing"},
	},
	read: func(t conf.Section) family.Pattern {
		p := family.RingPlait{Leads: t.Count("leads"), Bights: t.Count("bights"), Inside: t.Length("inside"), Pitch: ifGiven(t, "pitch")}
		if p.Leads < 2 || p.Bights < 3 || math.IsNaN(p.Pitch) {
			return nil
		}
		return p
	},
}

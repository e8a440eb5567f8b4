package report

// Where one groove is made in two goes.

import (
	"math"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
)

// A split is a place where a smooth stretch of groove is made in two goes.
type split struct {
	at     geom.Point
	strand int
	cuts   []string // the cuts that meet there
	hidden bool
	under  string // the element that hides it
}

// splits lists the splits of all cuts once each, by strand and distance.
func splits(r build.Result) []split {
	var list []split
	for _, c := range r.Cuts {
		for _, stop := range []groove.Stop{c.From, c.To} {
			if stop.Kind != groove.StopSplit {
				continue
			}
			i := slices.IndexFunc(list, func(s split) bool { return s.strand == c.Strand && s.at.Near(stop.At, motif.Same) })
			if i < 0 {
				i = len(list)
				list = append(list, split{at: stop.At, strand: c.Strand, hidden: stop.Hidden, under: hider(r, c.Strand, stop)})
			}
			if !slices.Contains(list[i].cuts, c.Name) {
				list[i].cuts = append(list[i].cuts, c.Name)
			}
		}
	}
	return list
}

// hider names the element that lies over a hidden stop; "" for a visible one.
func hider(r build.Result, strand int, stop groove.Stop) string {
	if !stop.Hidden {
		return ""
	}
	best, name := math.Inf(1), ""
	for _, x := range r.Weave.Crossings {
		if x.Lower().Strand != strand {
			continue
		}
		if d := x.At.Dist(stop.At); d < best {
			over, _ := passes(r.Motif, x)
			best, name = d, over
		}
	}
	return name
}

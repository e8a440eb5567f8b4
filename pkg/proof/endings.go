package proof

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
)

// An Ending is a place where a smooth groove ends: a corner, or a strand's end.
type Ending struct {
	At     geom.Point
	Name   string         // "corner of bar.1 and bar.2", "end of bar.1"
	Strand int            // of the motif; -1 where there is no ending at all
	S      float64        // the place along the strand
	Corner *groove.Corner // nil for a strand's end
	Last   bool           // which end of the strand
}

// name says which of the groove's endings a leftover is at.
func (l *Leftover) name(g groove.Groove) {
	e := NearestEnding(g, l.At)
	l.Where, l.Strand, l.S = e.Name, e.Strand, e.S
}

// NearestEnding is the ending nearest to p; one named "groove" where there is
// none at all.
func NearestEnding(g groove.Groove, p geom.Point) Ending {
	nearest, best := Ending{Name: "groove", Strand: -1}, math.Inf(1)
	take := func(e Ending) {
		if d := p.Dist(e.At); d < best {
			nearest, best = e, d
		}
	}
	for i, s := range g.Motif.Strands {
		for _, c := range g.Corners(i) {
			name := "corner of " + bothNames(g.Motif.NameAt(i, before(s, c.S)), g.Motif.NameAt(i, c.S))
			take(Ending{At: c.P, Name: name, Strand: i, S: c.S, Corner: &c})
		}
		if !s.Contour.Closed {
			take(Ending{At: s.Contour.Start(), Name: "end of " + g.Motif.NameAt(i, 0), Strand: i})
			take(Ending{At: s.Contour.End(), Name: "end of " + g.Motif.NameAt(i, s.Length()), Strand: i, S: s.Length(), Last: true})
		}
	}
	return nearest
}

func bothNames(a, b string) string {
	if a == b {
		return a
	}
	return a + " and " + b
}

// before is a distance along s just short of d, a lap on where d is the start.
func before(s motif.Strand, d float64) float64 {
	if d < motif.Same {
		d += s.Length()
	}
	return d - motif.Same
}

package weave

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/work"
)

// kinked is an open strand along the x axis with a joint at the origin, at
// which it turns by a kink in degrees: of two straights, of a straight and an
// arc, or of two arcs, bent by bulges.
func kinked(id string, before, after, kink float64) motif.Strand {
	a := geom.Edge{A: geom.Pt(-50, 0), B: geom.Pt(0, 0), Bulge: before}
	a = geom.Turning(-a.Tangent(1).Angle()).Edge(geom.Edge{A: geom.Pt(-50, 0), B: geom.Pt(0, 0), Bulge: before})
	b := geom.Edge{A: geom.Pt(0, 0), B: geom.Pt(50, 0), Bulge: after}
	b = geom.Turning(kink*math.Pi/180 - b.Tangent(0).Angle()).Edge(b)
	return motif.NewStrand(id, geom.Chain(false, a, b), []int{0, 0}, []bool{false, false, false})
}

// turned is a strand turned by degrees and shifted along the x axis.
func turned(s motif.Strand, by, shift float64) motif.Strand {
	c := geom.Turning(by * math.Pi / 180).Then(geom.Shifting(geom.Pt(shift, 0))).Contour(s.Contour)
	return motif.NewStrand(s.ID, c, []int{1, 1}, s.Corner)
}

// TestCrossingsAtKinks has strands with small kinks cross at, just before and
// just after a joint: always once, as straights do, and arcs that bend by less
// than the angle at which they meet.
func TestCrossingsAtKinks(t *testing.T) {
	shapes := [][2]float64{{0, 0}, {0, 0.05}, {0.05, 0.02}, {0.05, -0.05}}
	for _, sh := range shapes {
		for _, kink := range []float64{0, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 0.01, 0.1, 0.3, 0.5} {
			for _, angle := range []float64{90, 45, 10, 2.5} {
				if angle < 10 && sh != [2]float64{} {
					continue
				}
				for _, shift := range []float64{0, 1e-9, 1e-7, 1e-6, 1e-5, 1e-4, 5e-4, 9.9e-4, 1e-3, 1.1e-3, 2e-3, 0.01, 0.02, 0.021, 0.05, 0.1, 0.3} {
					for _, sign := range []float64{1, -1} {
						for _, other := range []float64{0, kink, -kink} {
							a := kinked("s1", sh[0], sh[1], sign*kink)
							b := turned(kinked("s2", 0, 0, other), angle, shift)
							once(t, fmt.Sprintf("bulges %v, kinks %v and %v, %v degrees, %v mm off", sh, sign*kink, other, angle, shift), a, b)
							once(t, fmt.Sprintf("bulges %v, kinks %v and %v, %v degrees, %v mm before", sh, sign*kink, other, angle, shift), a, turned(kinked("s2", 0, 0, other), angle, -shift))
						}
					}
				}
			}
		}
	}
}

// once checks that two strands cross once and do nothing else.
func once(t *testing.T, name string, a, b motif.Strand) {
	t.Helper()
	m := motif.Motif{Strands: []motif.Strand{a, b}, Sources: []motif.Source{{Name: "a"}, {Name: "b", Element: 1}}}
	w, found := Build(m, work.Weaving{FirstOver: true})
	if len(w.Crossings) != 1 || len(found) > 0 {
		t.Errorf("%s: %d crossings, %v", name, len(w.Crossings), found)
	}
}

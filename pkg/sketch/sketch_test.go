package sketch_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
	"strapwork/pkg/sheet"
	"strapwork/pkg/sketch"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// rings is a motif of linked rings in a ring.
func rings(n int) work.Drawing {
	d := work.Drawing{Copies: 1}
	for i := range n {
		at := geom.Polar(100, 2*math.Pi*float64(i)/float64(n))
		d.Elements = append(d.Elements, work.Element{Name: fmt.Sprintf("link-%d", i+1), Kind: work.KindCircle, Contour: geom.Circle(at, 130*math.Sin(math.Pi/float64(n)))})
	}
	return d
}

func sketched(t *testing.T, d work.Drawing, width float64, more ...diag.Finding) sketch.Sketch {
	t.Helper()
	m, found := motif.Build(d)
	w, also := weave.Build(m, work.Weaving{FirstOver: true})
	found.Add(also...)
	found.Add(more...)
	return sketch.Of(sketch.Drawing{Title: "Linked rings", Units: unit.MM, Width: width, Motif: m, Weave: w, Findings: found})
}

// box is what a text takes up at least: what its letters are wide at most, less a
// margin, from its base line up.
func box(s sheet.Text) geom.Box {
	w := s.Width()
	b := geom.Box{Min: s.At, Max: s.At.Add(geom.Pt(w, s.Height))}
	if s.Middle {
		b.Min.X, b.Max.X = b.Min.X-w/2, b.Max.X-w/2
	}
	return b
}

// holdPage holds a picture to what any page must be: its lettering lies on it, apart
// from all other lettering.
func holdPage(t *testing.T, p sheet.Picture) {
	t.Helper()
	for i, s := range p.Texts {
		b := box(s)
		if !p.Bounds.Holds(b.Min) || !p.Bounds.Holds(b.Max) {
			t.Errorf("%q is not on the page: %v of %v", s.String, b, p.Bounds)
		}
		for _, o := range p.Texts[:i] {
			if box(o).Expand(-1e-6).Meets(b) {
				t.Errorf("%q at %v and %q at %v overlap", s.String, s.At, o.String, o.At)
			}
		}
	}
}

// TestLetteringIsApart: as areas see it, which share no code with how room was found,
// no name lies on a line.
func TestLetteringIsApart(t *testing.T) {
	for _, n := range []int{3, 8, 24} {
		for _, width := range []float64{0, 3} {
			d := rings(n)
			p := sketched(t, d, width).Picture()
			holdPage(t, p)
			var names []region.Region
			for _, s := range p.Texts {
				if strings.HasPrefix(s.String, "link-") {
					names = append(names, region.New(geom.Rect(box(s))))
				}
			}
			if len(names) == 0 {
				t.Errorf("%d rings: no names are written", n)
			}
			for _, f := range p.Fills {
				if f.Label != sketch.Drawn.String() {
					continue
				}
				for _, c := range f.Loops {
					ink := region.Stroke(c, f.StrokeWidth/2)
					if slices.ContainsFunc(names, func(r region.Region) bool { return !region.Intersect(r, ink).Empty() }) {
						t.Errorf("%d rings of width %g: a name lies on a line", n, width)
					}
				}
			}
		}
	}
}

package inlay

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// TestDetails: the section's strips are as wide and high to one another, and to the arrows
// of the groove's width, as the job has them; the numbers are the job's; no words overlap or lie
// off the picture, on wide boards and tall ones; and the inlay is the largest thing in it.
func TestDetails(t *testing.T) {
	for _, size := range []geom.Point{geom.Pt(900, 600), geom.Pt(600, 900), geom.Pt(700, 700)} {
		j := loopedTriangle()
		j.Board = &work.Board{Size: size, Thickness: 22, Origin: size.Scale(0.5)}
		j.Units = unit.MM
		in, _ := quiet(t, j)
		g := work.Inlay{Depth: 3, Proud: 0.3, Clearance: 0.08, Width: in.layers[0].Thickness + 0.08}
		for _, l := range in.layers[1:] {
			g.Width += l.Thickness
		}
		crossing := &Crossing{At: geom.Pt(0, 0), Over: Passage{"side.1", geom.Pt(1, 0)}, Under: Passage{"side.2", geom.Pt(0, 1)}}
		plain, p := in.Picture("plain"), in.Detailed("details", Detail{g, crossing})
		for i, x := range p.Texts {
			box := geom.Box{Min: x.At, Max: x.At.Add(geom.Pt(x.Width(), x.Height))}
			if x.Middle {
				box.Min.X, box.Max.X = box.Min.X-x.Width()/2, box.Max.X-x.Width()/2
			}
			if !p.Bounds.Holds(box.Min) || !p.Bounds.Holds(box.Max) {
				t.Errorf("%v: %q is off the picture", size, x.String)
			}
			for _, y := range p.Texts[:i] {
				other := geom.Box{Min: y.At, Max: y.At.Add(geom.Pt(y.Width(), y.Height))}
				if y.Middle {
					other.Min.X, other.Max.X = other.Min.X-y.Width()/2, other.Max.X-y.Width()/2
				}
				if box.Meets(other) {
					t.Errorf("%v: %q and %q overlap", size, x.String, y.String)
				}
			}
		}
		for _, want := range []string{"3 mm deep", "0.3 mm proud", "0.08 mm clearance in all", "side.1 goes over", "side.2 is cut and butted"} {
			if !says(p, want) {
				t.Errorf("%v: nothing says %q", size, want)
			}
		}
		board := plain.Fills[1].Loops[0].Bounds().Size()
		most := 1.7 * math.Max(board.X, board.Y)
		if whole := p.Bounds.Size(); whole.X > most || whole.Y > most {
			t.Errorf("%v: the picture is %v", size, whole)
		}
		holdSection(t, in, p, len(plain.Fills))
	}
}

func says(p sheet.Picture, words string) bool {
	for _, x := range p.Texts {
		if x.String == words {
			return true
		}
	}
	return false
}

// holdSection measures the strips of the section, which are drawn after what a picture without
// details has.
func holdSection(t *testing.T, in Inlay, p sheet.Picture, from int) {
	t.Helper()
	k := 0
	scale := 0.0
	for _, f := range p.Fills[from:] {
		if k == len(in.layers) {
			break
		}
		if f.Label == "" || f.Label != in.layerName(k) {
			continue
		}
		size := f.Loops[0].Bounds().Size()
		if scale == 0 {
			scale = size.Y / 3.3 // 3 mm deep and 0.3 mm proud
		}
		if math.Abs(size.X-scale*in.layers[k].Thickness) > 1e-6 || math.Abs(size.Y-scale*3.3) > 1e-6 {
			t.Errorf("strip %d is drawn %v, at the scale %g", k+1, size, scale)
		}
		k++
	}
	if k != len(in.layers) || strings.TrimSpace(p.Title) == "" {
		t.Errorf("%d strips of %d stand in the section", k, len(in.layers))
	}
}

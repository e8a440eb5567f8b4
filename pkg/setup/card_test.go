package setup

import (
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// inked is the box that a text takes up.
func inked(x sheet.Text) geom.Box {
	wide := letterWide * x.Height * float64(len([]rune(x.String)))
	low := x.At
	if x.Middle {
		low.X -= wide / 2
	}
	return geom.Box{Min: low, Max: low.Add(geom.Pt(wide, x.Height))}
}

// textsApart holds that no two texts overlap and that all are within the picture.
func textsApart(t *testing.T, what string, p sheet.Picture) {
	t.Helper()
	for i, x := range p.Texts {
		box := inked(x)
		if !p.Bounds.Holds(box.Min) || !p.Bounds.Holds(box.Max) {
			t.Errorf("%s: %q is off the picture", what, x.String)
		}
		for _, y := range p.Texts[:i] {
			if box.Meets(inked(y)) {
				t.Errorf("%s: %q and %q overlap", what, x.String, y.String)
			}
		}
	}
}

// TestCardsAreLegible: printed at the size that they are made for, capitals are at least
// 1.2 mm high (names of tracks among dozens); nothing overlaps or lies
// off the picture, every cut has its number, and nothing is drawn that is engraved.
func TestCardsAreLegible(t *testing.T) {
	size := geom.Pt(85, 60)
	for _, name := range append(jobs, "rosette.toml") {
		d := pictures(t, name)
		cards := Cards(d.job, d.groove, d.set, size)
		if len(cards) != d.set.SetUps() {
			t.Fatalf("%s: %d cards of %d set-ups", name, len(cards), d.set.SetUps())
		}
		for i, c := range cards {
			p := c.Picture
			textsApart(t, c.Caption, p)
			k := math.Min(size.X/p.Bounds.Size().X, size.Y/p.Bounds.Size().Y)
			for _, x := range p.Texts {
				if x.Height*k < 1.19 {
					t.Errorf("%s, %s: %q is printed %.2f mm high", name, c.Caption, x.String, x.Height*k)
				}
			}
			if n := len(labelled(p, "cut number ")); n != len(d.set.Plan.SetUps[i].Made()) || c.SetUp != i+1 {
				t.Errorf("%s, card %d, %s: %d numbers", name, c.SetUp, c.Caption, n)
			}
			if n := len(labelled(p, "mark")); n > 0 {
				t.Errorf("%s: %d marks", c.Caption, n)
			}
		}
	}
}

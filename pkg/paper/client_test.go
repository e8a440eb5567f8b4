package paper

import (
	"math"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// clientOf is a top of a size with an inlay in its upper left, on its sheet.
func clientOf(t *testing.T, wide, high float64, paper string, u unit.System) (Client, Page) {
	t.Helper()
	p, err := profile.OpenPaper(paper, nil)
	if err != nil {
		t.Fatal(err)
	}
	board := geom.Box{Max: geom.Pt(wide, high)}
	inlay := geom.Box{Min: geom.Pt(0.1*wide, 0.5*high), Max: geom.Pt(0.5*wide, 0.9*high)}
	c := Client{Title: "A top", Board: board, Thick: 19, Inlay: inlay, Woods: []Swatch{{"#5e452e", "walnut"}, {"#e5ddcb", "holly"}}}
	c.Top = sheet.Picture{Bounds: board, Fills: []sheet.Fill{
		{Loops: []geom.Contour{geom.Rect(board)}, Color: "#5e452e"}, {Loops: []geom.Contour{geom.Rect(inlay)}, Color: "#e5ddcb"},
	}}
	d := ClientSheet(c, Options{Paper: p, Units: u})
	if len(d.Pages) != 1 {
		t.Fatalf("%d pages", len(d.Pages))
	}
	return c, d.Pages[0]
}

// TestClientsSheet: the top has the size that the scale says, the sheet lies as it is
// larger, the dimensions are the board's and the middle's by hand, and all is on the page.
func TestClientsSheet(t *testing.T) {
	for _, c := range []struct {
		wide, high float64
		paper      string
		units      unit.System
		scale      float64
		across     bool
		says       []string
	}{
		{1200, 450, "A4", unit.MM, 0.2, true, []string{"1200 mm", "450 mm", "360 mm", "315 mm", "Scale 1:5", "Board 1200 mm x 450 mm x 19 mm, inlay 480 mm x 180 mm"}},
		{450, 1200, "A4", unit.MM, 1.0 / 6, false, []string{"Scale 1:6", "135 mm", "840 mm"}},
		{100, 100, "A4", unit.MM, 1, true, []string{"Scale 1:1", "30 mm", "70 mm"}},
		{60, 40, "A3", unit.MM, 2, true, []string{"Scale 2:1"}},
		{30 * 25.4, 20 * 25.4, "Letter", unit.Inch, 1.0 / 4, true, []string{"30 in", "20 in", "9 in", "14 in", "Scale 1:4"}},
	} {
		_, p := clientOf(t, c.wide, c.high, c.paper, c.units)
		if across := p.Width > p.Height; across != c.across && c.wide != c.high {
			t.Errorf("%g x %g: the page is %g x %g", c.wide, c.high, p.Width, p.Height)
		}
		if got := p.Areas[0].Loops[0].Bounds().Size(); math.Abs(got.X-c.wide*c.scale) > 1e-6 || math.Abs(got.Y-c.high*c.scale) > 1e-6 {
			t.Errorf("%g x %g: the top is %v on paper, want the scale %g", c.wide, c.high, got, c.scale)
		}
		words := []string{}
		page := geom.Box{Max: geom.Pt(p.Width, p.Height)}
		for _, x := range p.Texts {
			words = append(words, x.String)
			long := geom.Polar(Width(x.String, x.Size, x.Bold), x.Angle)
			from := x.At.Sub(long.Scale(map[Align]float64{Left: 0, Center: 0.5, Right: 1}[x.Align]))
			if !page.Expand(-10).Holds(from) || !page.Expand(-10).Holds(from.Add(long)) {
				t.Errorf("%g x %g: %q is off the page", c.wide, c.high, x.String)
			}
		}
		for _, s := range c.says {
			if !slices.Contains(words, s) {
				t.Errorf("%g x %g: no %q in %q", c.wide, c.high, s, words)
			}
		}
	}
}

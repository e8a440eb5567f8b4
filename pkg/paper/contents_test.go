package paper

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// A part that is on two sheets has its measures once, and no line of the drawing, which is
// under the plates, is on a map's page as a line over them.
func TestContentsSayAThingOnce(t *testing.T) {
	o := Options{Paper: open(t, "A4"), Units: unit.MM}
	var list []Pattern
	for range 2 {
		d := frame(300, 100)
		d.Pieces = []Piece{{Name: "wedge", Make: 2, Drawn: 1}}
		d.Tables = []Table{{Title: "wedge: points", Head: []string{"point", "(x, y)"}, Rows: [][]string{{"1", "(0, 0)"}}}}
		p, err := NewPattern(d, o)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
	pages := Bind("patterns", list, o).Document.Pages
	if n := strings.Count(saidOn(pages[len(pages)-1]), "wedge: points"); n != 1 {
		t.Errorf("the measures stand there %d times", n)
	}
	var lines, plates int
	for _, a := range pages[1].Areas {
		switch {
		case a.Empty && plates == 0:
			lines++
		case !a.Empty && a.Gray == 1:
			plates++
		}
	}
	if lines == 0 || plates == 0 {
		t.Errorf("%d lines before %d plates", lines, plates)
	}
}

// A line round a wood narrower than a screen's dot is left out; lines of their own and
// wider ones are drawn.
func TestThinOutlinesAreLeftOut(t *testing.T) {
	box := []geom.Contour{geom.Rect(geom.Box{Max: geom.Pt(1, 1)})}
	pic := sheet.Picture{Bounds: geom.Box{Max: geom.Pt(1, 1)}, Fills: []sheet.Fill{
		{Loops: box, Color: "#e5ddcb", Stroke: "#000000", StrokeWidth: 0.25},
		{Loops: box, Stroke: "#000000", StrokeWidth: 0.25},
	}}
	for _, c := range []struct{ scale, outline, line float64 }{{1, 0.25, 0.25}, {0.3, 0, 0.075}, {0.1, 0, hairline}} {
		var p Page
		p.drawPicture(pic, geom.Pt(0, 0), c.scale)
		if a, b := p.Areas[0].Pen.Width, p.Areas[1].Pen.Width; math.Abs(a-c.outline) > 1e-9 || math.Abs(b-c.line) > 1e-9 {
			t.Errorf("at %g: an outline of %g and a line of %g, want %g and %g", c.scale, a, b, c.outline, c.line)
		}
	}
}

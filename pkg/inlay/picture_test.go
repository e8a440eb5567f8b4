package inlay

import (
	"bytes"
	"encoding/xml"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/svg"
	"strapwork/pkg/unit"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// lightness is CIE L* of #rrggbb.
func lightness(t testing.TB, hex string) float64 {
	t.Helper()
	c, ok := wood.FromHex(hex)
	if !ok {
		t.Fatalf("%q is not a colour", hex)
	}
	return c.L
}

func written(t testing.TB, p sheet.Picture) string {
	t.Helper()
	var b bytes.Buffer
	if err := svg.WritePicture(&b, p); err != nil {
		t.Fatal(err)
	}
	if err := xml.Unmarshal(b.Bytes(), new(struct{})); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// A picture shows the board where the job puts it, a fill for each strip and
// the legend in the job's units; the same inlay gives the same bytes.
func TestPicture(t *testing.T) {
	j := loopedTriangle()
	j.Board = &work.Board{Size: geom.Pt(700, 600), Thickness: 22, Origin: geom.Pt(350, 300)}
	j.Units = unit.Inch
	in, _ := quiet(t, j)
	p := in.Picture("Looped triangle")
	for _, corner := range []geom.Point{{X: -350, Y: -300}, {X: 350, Y: 300}} {
		if !p.Bounds.Holds(corner) {
			t.Errorf("the board's corner %v is not in %v", corner, p.Bounds)
		}
	}
	strips := 0
	for _, f := range p.Fills {
		if strings.HasPrefix(f.Label, "s1 ") {
			strips++
			if f.Stroke == "" || f.Stroke == f.Color {
				t.Errorf("%s has no line round it", f.Label)
			}
		}
	}
	if strips != 4 {
		t.Errorf("%d strips are drawn, want 4", strips)
	}
	var words []string
	for _, x := range p.Texts {
		words = append(words, x.String)
		if !p.Bounds.Holds(x.At) || x.At.Y > -300 {
			t.Errorf("%q is at %v", x.String, x.At)
		}
	}
	legend := strings.Join(words, "; ")
	for _, want := range []string{"1 pear 0.035 in", "2 holly 0.063 in", "3 bronze 0.039 in", "4 pear 0.035 in"} {
		if !strings.Contains(legend, want) {
			t.Errorf("the legend %q lacks %q", legend, want)
		}
	}
	if a, b := written(t, p), written(t, in.Picture("Looped triangle")); a != b {
		t.Error("two pictures of one inlay differ")
	}
}

// What there is to draw is drawn, however little.
func TestPictureOfLittle(t *testing.T) {
	written(t, Inlay{}.Picture("nothing"))
	j := jobOf(nil, 1, polyline(0, 0, 10, 0))
	j.Inlay.Width, j.Inlay.Clearance = 4, 0
	in, _ := quiet(t, j)
	p := in.Picture("one fill")
	written(t, p)
	if len(p.Texts) != 1 || p.Texts[0].String != "1 fill 4 mm" {
		t.Errorf("the legend is %v", p.Texts)
	}
	// Strips too dark for a dark line have a light one.
	j = jobOf([]work.Strip{{Material: "wenge", Thickness: 2}}, 1, polyline(0, 0, 10, 0))
	in, _ = quiet(t, j)
	for _, f := range in.Picture("dark").Fills {
		if strings.HasPrefix(f.Label, "s1") && lightness(t, f.Stroke)-lightness(t, f.Color) < 20 {
			t.Errorf("wenge %s has the line %s", f.Color, f.Stroke)
		}
	}
}

package inlay

import (
	"bytes"
	"encoding/xml"
	"math"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/svg"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// lightness is CIE L* of #rrggbb (CIE 15 and IEC 61966-2-1, from memory).
func lightness(t testing.TB, hex string) float64 {
	t.Helper()
	y := 0.0
	for i, share := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[1+2*i:3+2*i], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		v := float64(n) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		y += share * v
	}
	if y > 216.0/24389 {
		return 116*math.Cbrt(y) - 16
	}
	return y * 24389 / 27
}

// Known values of the conversion: white, black, and the sRGB primary red with
// its L*a*b* 53.24, 80.09, 67.20 under D65 (common tables, from memory).
func TestLabToScreen(t *testing.T) {
	for want, c := range map[string]lab{
		"#ffffff": {100, 0, 0}, "#000000": {0, 0, 0}, "#ff0000": {53.24, 80.09, 67.20}, "#777777": {50.03, 0, 0},
	} {
		got := c.hex()
		for i := 1; i < 7; i += 2 {
			g, _ := strconv.ParseInt(got[i:i+2], 16, 32)
			w, _ := strconv.ParseInt(want[i:i+2], 16, 32)
			if g-w > 1 || w-g > 1 {
				t.Errorf("%v is %s, want %s to one step", c, got, want)
			}
		}
	}
}

// No two materials are one shade of grey as they are shown, and each is as
// light as it says.
func TestMaterialsApart(t *testing.T) {
	const least = 1.5 // L*; one step is about the smallest that is seen side by side
	for n, c := range materials {
		l := lightness(t, c.hex())
		near(t, n, l, c.l, 1)
		for o, d := range materials {
			if n != o && math.Abs(l-lightness(t, d.hex())) < least {
				t.Errorf("%s and %s are both of lightness %.1f", n, o, l)
			}
		}
	}
	order := []string{"holly", "maple", "pear", "bronze", "walnut", "wenge"}
	for i := 1; i < len(order); i++ {
		if a, b := materials[order[i-1]], materials[order[i]]; a.l-b.l < 10 {
			t.Errorf("%s (%g) is not clearly lighter than %s (%g)", order[i-1], a.l, order[i], b.l)
		}
	}
}

func TestPalette(t *testing.T) {
	names := []string{"Holly", "stained pear", "micarta", "holly", "resin", "", "micarta"}
	p := palette(names)
	if p["Holly"] != materials["holly"] || p["stained pear"] != materials["pear"] {
		t.Errorf("known materials are %v", p)
	}
	for i, a := range []string{"Holly", "stained pear", "micarta", "resin", ""} {
		for _, b := range []string{"Holly", "stained pear", "micarta", "resin", ""}[:i] {
			if math.Abs(p[a].l-p[b].l) < 8 {
				t.Errorf("%q and %q are %g and %g light", a, b, p[a].l, p[b].l)
			}
		}
	}
	for range 5 {
		if q := palette(names); q["micarta"] != p["micarta"] || q["resin"] != p["resin"] {
			t.Fatal("the colours change from one time to the next")
		}
	}
}

func TestHasMetal(t *testing.T) {
	for name, want := range map[string]bool{
		"bronze": true, "Phosphor Bronze": true, "silver": true, "pear": false, "bronze pear": false, "": false, "resin": false,
	} {
		if got := HasMetal([]work.Strip{{Material: "holly"}, {Material: name}}); got != want {
			t.Errorf("%q: %t", name, got)
		}
	}
	if HasMetal(nil) {
		t.Error("no strips have metal among them")
	}
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

package lettering

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
)

// Hershey numbered the simplex roman's capitals 501 to 526, the small letters
// 601 to 626 and the figures 700 to 709 (his list, in the data's first column).
func TestNumbers(t *testing.T) {
	if want := int(lastChar-firstChar) + 2; len(glyphs) != want {
		t.Fatalf("%d characters, want %d", len(glyphs), want)
	}
	for _, r := range []struct {
		first, last rune
		number      int
	}{{'A', 'Z', 501}, {'a', 'z', 601}, {'0', '9', 700}} {
		for c := r.first; c <= r.last; c++ {
			if got, want := glyphOf(c).number, r.number+int(c-r.first); got != want {
				t.Errorf("%c is number %d, want %d", c, got, want)
			}
		}
	}
}

// Capitals and figures stand on the base line and are as high as asked for,
// save for the tails of J and Q, and letters keep within their own width.
func TestHeights(t *testing.T) {
	const h = 10.0
	for c := rune(firstChar); c <= lastChar; c++ {
		box := bounds(Text(string(c), geom.Pt(0, 0), h))
		if c == ' ' {
			if !box.Empty() {
				t.Error("a space is drawn")
			}
			continue
		}
		if w := Width(string(c), h); box.Min.X < -1e-9 || box.Max.X > w+1e-9 {
			t.Errorf("%c reaches from %g to %g in a width of %g", c, box.Min.X, box.Max.X, w)
		}
		capital := c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
		if !capital {
			continue
		}
		bottom := box.Min.Y
		if c == 'Q' {
			bottom = 0 // but for its tail
		}
		if math.Abs(box.Max.Y-h) > 1e-9 || math.Abs(bottom) > 1e-9 {
			t.Errorf("%c reaches from %g to %g, want 0 to %g", c, box.Min.Y, box.Max.Y, h)
		}
	}
}

// The data's H is two uprights 14 units apart, each with 4 units to its side,
// and a bar 11 units above the base line: G]KFK[ RYFY[ RKPYP.
func TestLetterH(t *testing.T) {
	got := Text("H", geom.Pt(100, 50), 21)
	want := [][]geom.Point{
		{geom.Pt(104, 71), geom.Pt(104, 50)}, {geom.Pt(118, 71), geom.Pt(118, 50)}, {geom.Pt(104, 61), geom.Pt(118, 61)},
	}
	if len(got) != len(want) {
		t.Fatalf("%d strokes, want %d", len(got), len(want))
	}
	for i, c := range got {
		if c.Closed || len(c.Vertices) != 2 || !c.Start().Near(want[i][0], 1e-9) || !c.End().Near(want[i][1], 1e-9) {
			t.Errorf("stroke %d is %v, want %v", i, c, want[i])
		}
	}
	if w := Width("H", 21); w != 22 {
		t.Errorf("an H is %g wide, want 22", w)
	}
}

// A turn is the turned drawing, and a line is as wide as its letters.
func TestTurned(t *testing.T) {
	const s = "Panel A-12"
	at, angle := geom.Pt(3, -4), 2.0
	turn := geom.Shifting(at.Scale(-1)).Then(geom.Turning(angle)).Then(geom.Shifting(at))
	flat, turned := Text(s, at, 7), Turned(s, at, 7, angle)
	if len(flat) != len(turned) || len(flat) == 0 {
		t.Fatal(len(flat), len(turned))
	}
	for i := range flat {
		want := turn.Contour(flat[i])
		for k, v := range turned[i].Vertices {
			if !v.Near(want.Vertices[k].Point, 1e-9) {
				t.Fatalf("stroke %d, point %d: %v, want %v", i, k, v.Point, want.Vertices[k].Point)
			}
		}
	}
	sum := 0.0
	for _, c := range s {
		sum += Width(string(c), 7)
	}
	if math.Abs(sum-Width(s, 7)) > 1e-9 {
		t.Errorf("%g, want %g", Width(s, 7), sum)
	}
}

func TestASCII(t *testing.T) {
	for in, want := range map[string]string{
		"plain ~text!":          "plain ~text!",
		"90°":                   "90 deg",
		"⌀100":                  "dia 100",
		"⅛ in, 3½ in, 1 ¾":      "1/8 in, 3 1/2 in, 1 3/4",
		"a\u00a0b\tc\nd":        "a b c d",
		"Café — “zoë”, naïve’s": "Cafe - \"zoe\", naive's",
		"e\u0301a\u00adb\x07":   "eab",
		"Łódź ßtraße Æ":         "Lodz sstrasse AE",
		"木 \xff":                "? ?",
		"±0.1 × 2":              "+/-0.1 x 2",
	} {
		if got := ASCII(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}

func TestArrow(t *testing.T) {
	a := Arrow(geom.Pt(0, 0), geom.Pt(0, 20), 5)
	if len(a) != 2 {
		t.Fatalf("%d strokes", len(a))
	}
	if a[0].Start() != geom.Pt(0, 0) || a[0].End() != geom.Pt(0, 20) {
		t.Errorf("the shaft is %v", a[0])
	}
	head := a[1].Vertices
	// tan 20 degrees = 0.363970 (tables)
	if head[1].Point != geom.Pt(0, 20) || !head[0].Near(geom.Pt(-1.81985, 15), 1e-5) || !head[2].Near(geom.Pt(1.81985, 15), 1e-5) {
		t.Errorf("the head is %v", head)
	}
	quarter := geom.Chain(false, geom.Arc(geom.Pt(0, 0), 10, 0, math.Pi/2)...)
	if head := ArrowAlong(quarter, 3)[1].Vertices; !head[0].Near(geom.Pt(3, 10-3*BarbReach), 1e-9) {
		t.Errorf("a head on an arc that ends at (0, 10) westwards begins at %v", head[0])
	}
	if short := Arrow(geom.Pt(0, 0), geom.Pt(2, 0), 5)[1]; math.Abs(short.Start().X) > 1e-12 {
		t.Errorf("a head of 5 on a shaft of 2 begins at %v", short.Start())
	}
}

func TestNothingToDraw(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, got := range map[string][]geom.Contour{
		"empty":      Text("", geom.Pt(0, 0), 5),
		"no height":  Text("A", geom.Pt(0, 0), 0),
		"negative":   Text("A", geom.Pt(0, 0), -1),
		"nan height": Text("A", geom.Pt(0, 0), nan),
		"inf height": Text("A", geom.Pt(0, 0), inf),
		"nan place":  Text("A", geom.Pt(nan, 0), 5),
		"nan angle":  Turned("A", geom.Pt(0, 0), 5, nan),
		"no arrow":   Arrow(geom.Pt(1, 1), geom.Pt(1, 1), 5),
		"no head":    Arrow(geom.Pt(1, 1), geom.Pt(5, 1), 0),
		"nan arrow":  Arrow(geom.Pt(nan, 1), geom.Pt(5, 1), 2),
		"closed":     ArrowAlong(geom.Circle(geom.Pt(0, 0), 5), 2),
		"no shaft":   ArrowAlong(geom.Contour{}, 2),
	} {
		if len(got) != 0 {
			t.Errorf("%s: %v", name, got)
		}
	}
	if w := Width("A", -1) + Width("A", nan); w != 0 {
		t.Errorf("the width of nothing is %g", w)
	}
}

func TestParseRefuses(t *testing.T) {
	for in, want := range map[string]string{
		"\n":                      "line 1: 0 characters",
		"  501  3I[RFJ\n":         "pairs are announced",
		"  501  3I[RFJ[ \n":       "pairs are announced",
		"  501  3I[RFJ[\nx\n":     "line 2",
		"  5x1  3I[RFJ[\n":        "not a number",
		"   -1  3I[RFJ[\n":        "not a number",
		"  501  0\n":              "not a number",
		"  501  1[I\n":            "left limit",
		"  501  3I[RFRF\n":        "stands still",
		"  501  2I[RF\n":          "a stroke of 1 points",
		"  501  4I[RFJ[ R\n":      "a stroke of 0 points",
		"  501  4I[ RRFJ[\n":      "a stroke of 0 points",
		"  501  5I[RFJ[ R R\n":    "a stroke of 0 points",
		"  501  3I[RFJ[\r\n":      "characters follow",
		"  501  3I[R\x80J[\n":     "can't stand",
		"  501  3I[RF S\n":        "can't stand",
		"  501  3I[R J[\n":        "can't stand",
		"  501  2 RRF\n":          "can't stand",
		"  501  3I[RFJ[ trailing": "characters follow",
	} {
		if _, err := parse([]byte(in)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", in, err, want)
		}
	}
	if g, err := parse([]byte("  501  3I[RFJ[")); err != nil || len(g) != 1 {
		t.Errorf("a last line without its end: %v, %v", g, err)
	}
}

// The conditions under which the data may be passed on.
func TestAcknowledgement(t *testing.T) {
	for _, want := range []string{"A. V. Hershey", "U. S.", "National Bureau of Standards", "James Hurt", "Cognition, Inc."} {
		if !strings.Contains(Acknowledgement, want) {
			t.Errorf("the acknowledgement lacks %q", want)
		}
	}
}

// Whatever is read has strokes of two points or more within the letters that
// two characters can tell of, and as many lines as characters.
func FuzzParse(f *testing.F) {
	f.Add(data)
	f.Add([]byte("  501  9I[RFJ[ RRFZ[ RMTWT\n"))
	f.Add([]byte("  699  1JZ\n"))
	f.Fuzz(func(t *testing.T, in []byte) {
		list, err := parse(in)
		if err != nil {
			return
		}
		if lines := bytes.Count(in, []byte("\n")); len(list) < lines || len(list) > lines+1 {
			t.Fatalf("%d characters of %d lines", len(list), lines)
		}
		for _, g := range list {
			for _, s := range g.strokes {
				if len(s) < 2 {
					t.Fatalf("a stroke of %d points", len(s))
				}
				for _, p := range s {
					if math.Abs(p.X) > 'R' || math.Abs(p.Y) > 'R' {
						t.Fatalf("a point at %v", p)
					}
				}
			}
		}
	})
}

// Any text is written in what there are letters for, and draws finite strokes
// that hold to its width.
func FuzzText(f *testing.F) {
	f.Add("Looped strap 3⅛°")
	f.Add("\xff\x00木\u0301")
	f.Fuzz(func(t *testing.T, s string) {
		a := ASCII(s)
		for _, c := range a {
			if c < firstChar || c > lastChar {
				t.Fatalf("%q holds %q", a, c)
			}
		}
		if ASCII(a) != a {
			t.Fatalf("%q changes again", a)
		}
		width := Width(s, 5)
		for _, c := range Text(s, geom.Pt(0, 0), 5) {
			if b := c.Bounds(); b.Min.X < -1e-6 || b.Max.X > width+1e-6 || c.Length() <= 0 {
				t.Fatalf("a stroke %v in a width of %g", c, width)
			}
		}
	})
}

func bounds(cs []geom.Contour) geom.Box {
	b := geom.EmptyBox()
	for _, c := range cs {
		b = b.Join(c.Bounds())
	}
	return b
}

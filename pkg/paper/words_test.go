package paper

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// Widths of the Go fonts' letters from their hmtx tables, in 2048 units: space
// 569, zero 1139, W 1933 (regular); a sum of them for a word.
func TestWidths(t *testing.T) {
	if w := Width("000", 2048, false); math.Abs(w-3*Width("0", 2048, false)) > 1e-9 || w <= 0 {
		t.Errorf("three noughts are %v wide", w)
	}
	for c := 32; c < 127; c++ {
		for _, bold := range []bool{false, true} {
			if a := Advance(byte(c), bold); !(a > 0.1 && a < 1.3) {
				t.Errorf("%q is %v of the body wide", rune(c), a)
			}
		}
	}
}

// The code page's upper half, from the table in the PDF Reference, appendix
// D.2: euro 80, bullet 95, diameter Ø D8, half BD, degree B0.
func TestLetters(t *testing.T) {
	for r, want := range map[rune]byte{'\u20ac': 0x80, '\u2022': 0x95, '\u0178': 0x9f, '\u00d8': 0xd8, '\u00bd': 0xbd, '\u00b0': 0xb0, 'A': 0x41, '\u03a9': '?', '\n': '?'} {
		if got := code(r); got != want {
			t.Errorf("code(%q) = %x, want %x", r, got, want)
		}
	}
	if got := Legible("\u2300 5 mm \u2212 \u03a9"); got != "\u00d8 5 mm - ?" {
		t.Errorf("got %q", got)
	}
}

// Lines are no longer than asked for, and hold all words in order.
func TestWrap(t *testing.T) {
	text := "Glue it down flat all over, let it dry, then check it again before you cut"
	lines := wrap(text, 3, false, 40)
	if strings.Join(lines, " ") != text || len(lines) < 3 {
		t.Errorf("%q", lines)
	}
	for _, l := range lines {
		if Width(l, 3, false) > 40 {
			t.Errorf("%q is too long", l)
		}
	}
	for _, l := range breakRuns(runs("**Glue it** down flat, **let** it dry, then check"), 3, 30) {
		sum := 0.0
		for _, r := range l {
			sum += Width(r.text, 3, r.bold)
		}
		if sum > 30+1e-9 {
			t.Errorf("%v is too long", l)
		}
	}
}

// An arc of R 500 from 30 to 150 degrees about (10, 20), in three edges, is one
// arc in the table, with its centre and the ends 20 + 250 high (sin 30 = 1/2).
func TestMeasure(t *testing.T) {
	edges := geom.Arc(geom.Pt(10, 20), 500, math.Pi/6, 2*math.Pi/3)
	cut := append([]geom.Edge{edges[0].Part(0, 0.2), edges[0].Part(0.2, 0.7), edges[0].Part(0.7, 1)}, edges[1:]...)
	d := Drawing{Lines: []Drawn{{Use: Cut, Contour: geom.Chain(false, cut...)}, {Use: Cut, Contour: geom.Circle(geom.Pt(10, 400), 2.5)}}}
	d.Measure("part", []geom.Contour{d.Lines[0].Contour, d.Lines[1].Contour}, unit.MM)
	arcs, points := d.Tables[0].Rows, d.Tables[1].Rows
	if len(arcs) != 2 || strings.Join(arcs[0], "|") != "R 500 mm|(10, 20)|1 to 2|counter-clockwise" || arcs[1][3] != "\u00d8 5 mm" {
		t.Errorf("arcs: %q", arcs)
	}
	if len(points) != 2 || points[0][1] != "(443.01, 270)" || points[1][1] != "(-423.01, 270)" {
		t.Errorf("points: %q", points)
	}
}

// A set-up sheet's marks become boxes, bullets and bold letters; links keep
// their text; what isn't shown in the text comes at its end.
func TestProse(t *testing.T) {
	text := "# Title\n\nSee [A-wall](templates/A-wall.svg) and\n**take care** of 3 \\* 4, `rider`.\n\n- an item that\n  goes on\n- [ ] tick me\n\n1. first\n\n| a | b |\n| - | - |\n| 1 | x \\| y |\n\n![The inlay](inlay.svg)\n"
	pic := sheet.Picture{Title: "a set-up", Bounds: geom.Box{Max: geom.Pt(10, 10)}, Fills: []sheet.Fill{{Loops: []geom.Contour{geom.Rect(geom.Box{Max: geom.Pt(10, 10)})}, Color: "#ff0000"}}}
	doc := Prose("t", []byte(text), []Illustration{{"inlay.svg", pic}, {"templates/set-up-1.svg", pic}}, Options{Paper: open(t, "A4"), Block: Block{Job: "j", Revision: "r"}})
	var all []string
	areas, boxes := 0, 0
	for _, p := range doc.Pages {
		for _, l := range p.Texts {
			all = append(all, l.String)
		}
		areas += len(p.Areas)
		for _, s := range p.Strokes {
			if s.Contour.Closed {
				boxes++
			}
		}
	}
	said := strings.Join(all, "\n")
	for _, want := range []string{"Title", "See A-wall and\n", "take care", " of 3 * 4, rider.", "\u2022\nan item that goes on", "tick me", "1.\nfirst", "x | y", "The inlay", "Drawings", "a set-up", "page 2 of 2"} {
		if !strings.Contains(said, want) {
			t.Errorf("no %q in %q", want, said)
		}
	}
	if areas != 2 || boxes != 1 {
		t.Errorf("%d pictures and %d boxes to tick", areas, boxes)
	}
}

// Every entry to tick off has its box, on the page where it begins, those that go
// on over the end of a page too: the sheet begins at every height.
func TestEveryTickHasItsBox(t *testing.T) {
	const entries = 40
	long := "- [ ] Copy the card, put in what was measured of rider, bit and tracks, and have it judged before anything is glued, as often as it takes.\n"
	for before := range 12 {
		text := strings.Repeat("A line.\n\n", before) + strings.Repeat(long, entries)
		doc := Prose("t", []byte(text), nil, Options{Paper: open(t, "A4"), Block: Block{Job: "j", Revision: "r"}})
		boxes := 0
		for _, p := range doc.Pages {
			begun, here := 0, 0
			for _, l := range p.Texts {
				if strings.HasPrefix(l.String, "Copy the card") {
					begun++
				}
			}
			for _, s := range p.Strokes {
				if s.Contour.Closed {
					here++
				}
			}
			if begun != here {
				t.Errorf("%d lines before: a page with %d entries has %d boxes", before, begun, here)
			}
			boxes += here
		}
		if boxes != entries {
			t.Errorf("%d lines before: %d boxes", before, boxes)
		}
	}
}

// A box to tick within a text stays in one piece, and with what is ticked.
func TestBoxesStayWhole(t *testing.T) {
	for n := range 60 {
		text := strings.Repeat("x", n) + " cut it to" + strings.Repeat(" [ ] 0.042", 40) + "\n"
		doc := Prose("t", []byte(text), nil, Options{Paper: open(t, "A4"), Block: Block{Job: "j", Revision: "r"}})
		lines, boxes := map[float64]string{}, 0
		for _, l := range doc.Pages[0].Texts {
			lines[l.At.Y] += l.String
		}
		for _, l := range lines {
			boxes += strings.Count(l, "[ ] 0.042")
			if strings.Count(l, "[") != strings.Count(l, "[ ] 0.042") || strings.Count(l, "]") != strings.Count(l, "[") {
				t.Errorf("%d: %q", n, l)
			}
		}
		if boxes != 40 {
			t.Errorf("%d: %d boxes", n, boxes)
		}
	}
}

package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// barOf is a piece of a length, with a bend of a radius under it unless that is 0.
func barOf(name string, long, radius float64) Bar {
	b := Bar{Name: name, Facts: []string{"**2 pieces**, holly 3 x 5 mm", "left end butt 53.2\u00b0 off square (36.8\u00b0 to the strip); right end square"}}
	b.Flat = []Drawn{{Use: Strip, Contour: geom.Rect(geom.Box{Max: geom.Pt(long, 3)})}}
	if radius > 0 {
		arc := geom.Arc(geom.Pt(0, 0), radius, math.Pi, math.Pi)
		b.Laid = []View{{Say: "R", Lines: []Drawn{{Use: Strip, Contour: geom.Chain(false, arc...)}}}}
	}
	return b
}

// bars are some of all lengths.
func bars() (all []Bar) {
	for i := range 40 {
		radius := 0.0
		if i%3 == 0 {
			radius = 5 + float64(i)
		}
		all = append(all, barOf(fmt.Sprintf("%d, %d", i+1, i+101), 10+float64(i*i), radius))
	}
	return all
}

// All that is on the strips' sheet is on its pages above the title block, no words lie over
// words or lines, every piece is on the page that is said, and one that is shorter than a page has its
// true size; of a longer one both ends are true.
func TestStripSheet(t *testing.T) {
	for _, on := range []string{"A4", "Letter", "roll 610 mm"} {
		o := Options{Paper: open(t, on), Units: unit.MM, Block: Block{Job: "job", Revision: "1"}}
		list := bars()
		book := StripSheet("strips", []byte("# A title\n\nText."), nil, list, []string{"**Said** of all."}, o)
		if first := saidOn(book.Document.Pages[0]); !strings.Contains(first, "A title") || !strings.Contains(first, fmt.Sprintf("page 1 of %d", len(book.Document.Pages))) {
			t.Errorf("%s: the first page says %q", on, first)
		}
		if second := saidOn(book.Document.Pages[1]); !strings.Contains(second, "Print at actual size") {
			t.Errorf("%s: the second page says %q", on, second)
		}
		for i, p := range book.Document.Pages[2:] {
			holdPage(t, p, false)
			free := p.free(o.Paper.Margin).Expand(1e-6)
			if say := saidOn(p); !strings.Contains(say, fmt.Sprintf("page %d of %d", i+3, len(book.Document.Pages))) || !strings.Contains(say, "Scale check: 50 mm") {
				t.Errorf("%s: page %d says %q", on, i+3, say)
			}
			for _, s := range p.Strokes {
				if b := s.Contour.Bounds(); !free.Holds(b.Min) || !free.Holds(b.Max) {
					t.Errorf("%s: a line reaches %v on page %d", on, b, i+3)
				}
			}
			for _, x := range p.Texts {
				for _, s := range p.Strokes {
					if s.Pen.Width == penStrip.Width && textBox(x).Meets(s.Contour.Bounds()) && len(s.Contour.Within(textBox(x))) > 0 {
						t.Errorf("%s: %q lies over a line of page %d", on, x.String, i+3)
					}
				}
			}
		}
		room := BarRoom(o).X
		for _, bar := range list {
			pages := book.Pages[bar.Name]
			if len(pages) != 1 || !strings.Contains(saidOn(book.Document.Pages[pages[0]-1]), bar.Name) {
				t.Fatalf("%s: %s is said to be on %v", on, bar.Name, pages)
			}
			want := extent(bar.Flat).Size().X
			whole := slices.ContainsFunc(book.Document.Pages[pages[0]-1].Strokes, func(s Stroke) bool {
				size := s.Contour.Bounds().Size()
				return s.Contour.Closed && math.Abs(size.X-want) < 1e-9 && math.Abs(size.Y-3) < 1e-9
			})
			if whole != (want <= room) {
				t.Errorf("%s: a piece of %g mm is whole: %v", on, want, whole)
			}
		}
	}
}

// A broken piece fills half of the page, and both its parts begin at its true ends.
func TestBrokenPiece(t *testing.T) {
	o := Options{Paper: open(t, "A4"), Units: unit.MM}
	book := StripSheet("strips", nil, nil, []Bar{barOf("1", 700, 0)}, nil, o)
	page := book.Document.Pages[len(book.Document.Pages)-1]
	var boxes []geom.Box
	for _, s := range page.Strokes {
		if s.Pen.Width == penStrip.Width && s.Contour.Bounds().Size().X > 20 && !s.Contour.Closed && s.Contour.Bounds().Size().Y > 2.9 {
			boxes = append(boxes, s.Contour.Bounds())
		}
	}
	room := BarRoom(o).X
	half := ((room-placesApart)/2 - breakGap) / 2
	if len(boxes) != 2 || math.Abs(boxes[0].Size().X-half) > 1e-9 || math.Abs(boxes[1].Size().X-half) > 1e-9 || math.Abs(boxes[1].Min.X-boxes[0].Max.X-breakGap) > 1e-9 {
		t.Errorf("%v, want two of %g", boxes, half)
	}
}

// Labels lie on the page within the lines that they are cut along, each within its own, every
// number is there, and 500 pieces and 30 bags take 8 pages.
func TestTags(t *testing.T) {
	var pieces, bags []Tag
	for i := range 500 {
		pieces = append(pieces, Tag{fmt.Sprint(i + 1), []string{"a strand with a name, strip 3", "rosewood, dyed black 0.5 mm", "cut 1429.1 mm", "bend R 54.3 mm"}})
	}
	for i := range 30 {
		bags = append(bags, Tag{strings.Repeat(fmt.Sprintf("%d, ", 1000+i), i+1) + "9", []string{"16 pieces, holly 0.8 mm", "cut 12 mm, bend R 40 mm"}})
	}
	o := Options{Paper: open(t, "A4"), Block: Block{Job: "job", Revision: "1"}}
	d := TagSheet("labels", pieces, bags, o)
	if len(d.Pages) != 8 {
		t.Errorf("%d pages", len(d.Pages))
	}
	all := ""
	for _, p := range d.Pages {
		holdPage(t, p, false)
		page := p.free(o.Paper.Margin)
		for _, x := range p.Texts {
			b := textBox(x)
			if !page.Expand(1e-6).Holds(b.Max) || !page.Expand(1).Holds(b.Min) {
				t.Errorf("%q is off the page", x.String)
			}
			for _, s := range p.Strokes {
				if b.Meets(s.Contour.Bounds()) && len(s.Contour.Within(b)) > 0 {
					t.Errorf("%q lies over a line to cut along", x.String)
				}
			}
		}
		all += "\n" + saidOn(p) + "\n"
	}
	for _, tag := range pieces {
		if !strings.Contains(all, "\n"+tag.Number+"\n") {
			t.Errorf("there is no label %s", tag.Number)
		}
	}
}

// A text whose last page would be nearly empty is set a little smaller; a longer one is not.
func TestTightProse(t *testing.T) {
	o := Options{Paper: open(t, "A4"), Block: Block{Job: "j", Revision: "r"}}
	text := func(lines int) []byte { return []byte("# A title\n\n" + strings.Repeat("- entry\n", lines)) }
	full := 1
	for len(newProse(Card{}, text(full+1), nil, o).pages) == 1 {
		full++
	}
	for _, c := range []struct {
		lines, pages int
		small        bool
	}{{full, 1, false}, {full + 3, 1, true}, {full + full/2, 2, false}, {2*full + 7, 2, true}} {
		w := tightProse(text(c.lines), nil, o)
		scale := w.pages[0].ScaleX
		if len(w.pages) != c.pages || scale < 1 != c.small || scale < tightest {
			t.Errorf("%d entries where %d fill a page: %d pages at scale %g, want %d, smaller %v", c.lines, full, len(w.pages), scale, c.pages, c.small)
		}
	}
	if high := small * tightest * capHeight; high < leastLetter {
		t.Errorf("the smallest capitals are %g mm high, want %g", high, leastLetter)
	}
}

// A heading stands on the page of the table that it is of.
func TestHeadingKeepsItsTable(t *testing.T) {
	o := Options{Paper: open(t, "A4"), Block: Block{Job: "j", Revision: "r"}}
	for lines := range 60 {
		w := newProse(Card{}, []byte(strings.Repeat("- entry\n", lines)+"### The heading\n\n| head | b |\n|---|---|\n| row 1 | "+strings.Repeat("word ", 40)+"|\n| row 2 | x |\n"), nil, o)
		on := map[string]int{}
		for i, p := range w.pages {
			for _, t := range p.Texts {
				on[t.String] = i + 1
			}
		}
		if on["The heading"] == 0 || on["The heading"] != on["row 1"] {
			t.Errorf("after %d lines the heading is on page %d and its table's first row on page %d", lines, on["The heading"], on["row 1"])
		}
	}
}

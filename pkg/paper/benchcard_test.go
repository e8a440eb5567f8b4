package paper

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// cardOf is a card of set-ups with so many cuts each, a note after every ninth cut, and
// a track left alone in the last set-up.
func cardOf(passes int, cuts ...int) Card {
	c := Card{
		Title: "Cutting card: a table", Head: []string{"Groove 5.9 wide", "Each pass as always"}, Care: "Eye and ear protection.",
		Columns: []string{"cut", "track", "start", "finish"}, Ticks: "depth, mm", Measure: "measured width",
	}
	for i := range passes {
		c.Passes = append(c.Passes, fmt.Sprint(1.375*float64(i+1)))
	}
	number := 0
	for i, n := range cuts {
		s := CardSetUp{Title: fmt.Sprintf("Set-up %d: panel A", i+1), Lay: "Lay it letter up", Picture: pictured}
		for k := range n {
			number++
			s.Rows = append(s.Rows, CardRow{Cells: []string{strconv.Itoa(number), "A" + strconv.Itoa(k+1), "lower", "upper"}})
			if k%9 == 8 {
				s.Rows = append(s.Rows, CardRow{Aside: "above: 12.5 mm cut in set-up 1, 3.4 mm cut in set-up 2, and nothing is left there to cut"})
			}
		}
		c.SetUps = append(c.SetUps, s)
	}
	last := &c.SetUps[len(c.SetUps)-1]
	last.Rows = append(last.Rows, CardRow{Cells: []string{"", "A99"}, Aside: "leave alone: cut in set-up 1"})
	return c
}

// pictured is a picture of one area, twice as wide as high.
func pictured(size geom.Point) sheet.Picture {
	b := geom.Box{Max: geom.Pt(size.X, size.X/2)}
	return sheet.Picture{Bounds: b, Fills: []sheet.Fill{{Loops: []geom.Contour{geom.Rect(b)}, Color: "#806040"}}}
}

// Every cut has its row, in order, with a box for each pass; set-ups of few cuts stand
// four a page, larger ones take more of it; nothing covers anything, and letters and
// boxes are as large as they are to be: capitals of 2.5 mm (ISO 3098-1), boxes of 4 mm.
func TestCard(t *testing.T) {
	for _, c := range []struct {
		passes int
		cuts   []int
		pages  int
	}{
		{3, []int{2, 2, 1, 1, 2}, 2},
		{3, []int{8, 8, 7}, 1},
		{3, []int{11, 8, 8, 8, 3}, 2},
		{3, []int{16, 16, 27, 26}, 3},
		{3, []int{41, 41, 41, 41}, 4},
		{1, []int{3, 3, 3, 3}, 1},
		{9, []int{4}, 1},
		{3, []int{150}, 3},
	} {
		for _, paper := range []string{"A4", "Letter", "A3"} {
			o := Options{Paper: open(t, paper), Block: Block{Job: "j", Revision: "r"}}
			card := cardOf(c.passes, c.cuts...)
			pages, wide := card.pages(o), card.wide(o)
			if most := c.pages; len(pages) > most || paper == "A4" && len(pages) != most {
				t.Errorf("%v on %s: %d pages, want %d", c.cuts, paper, len(pages), most)
			}
			numbers, boxes, pictures := 0, 0, 0
			for i := range pages {
				p := pages[i]
				pictures += len(p.Areas)
				ticks := ticksOf(t, p, holdApart(t, p))
				boxes += len(ticks)
				for _, l := range p.Texts {
					if l.Size*capHeight < 2.5-1e-9 {
						t.Errorf("%q is %v mm high", l.String, l.Size*capHeight)
					}
				}
				for _, n := range numbersOf(p) {
					numbers++
					here := 0
					for _, b := range ticks {
						if mid := n.At.Y + n.Size*capHeight/2; b.Min.Y < mid && mid < b.Max.Y && b.Min.X > n.At.X && b.Min.X < n.At.X+wide {
							here++
						}
					}
					if n.String != strconv.Itoa(numbers) || here != c.passes {
						t.Errorf("%v on %s: cut %s in place %d has %d boxes", c.cuts, paper, n.String, numbers, here)
					}
				}
			}
			want := 0
			for _, n := range c.cuts {
				want += n
			}
			if numbers != want || boxes != want*c.passes+len(c.cuts) || pictures != len(c.cuts) {
				t.Errorf("%v on %s: %d cuts, %d boxes, %d pictures", c.cuts, paper, numbers, boxes, pictures)
			}
		}
	}
}

// wide is the width of the card's rows on a paper.
func (c Card) wide(o Options) float64 {
	d := carding{card: c, next: func() Page { return upright(o.Paper) }, margin: o.Paper.Margin}
	d.begin()
	return d.newTable().width
}

// numbersOf are the cuts' numbers on a page, in columns from left to right for each
// set-up.
func numbersOf(p Page) []Text {
	var list []Text
	for _, l := range p.Texts {
		if _, err := strconv.Atoi(l.String); err == nil && l.Bold {
			list = append(list, l)
		}
	}
	return list
}

// ticksOf are a page's boxes to tick, which cover no lettering, picture or other box.
func ticksOf(t *testing.T, p Page, words []geom.Box) (boxes []geom.Box) {
	t.Helper()
	for _, s := range p.Strokes {
		if !s.Contour.Closed || s.Pen.Width != penTick.Width {
			continue
		}
		b := s.Contour.Bounds()
		if math.Abs(b.Size().X-4) > 1e-9 || math.Abs(b.Size().Y-4) > 1e-9 {
			t.Errorf("a box of %v", b.Size())
		}
		if i := slices.IndexFunc(words, b.Meets); i >= 0 {
			t.Errorf("a box lies over %q", p.Texts[i].String)
		}
		for _, a := range p.Areas {
			if b.Meets(a.Loops[0].Bounds()) {
				t.Errorf("a box lies over a picture")
			}
		}
		if slices.ContainsFunc(boxes, b.Meets) {
			t.Errorf("two boxes meet at %v", b.Min)
		}
		boxes = append(boxes, b)
	}
	return boxes
}

// A card stands before the text, and its pages count with the text's.
func TestCardBeforeText(t *testing.T) {
	o := Options{Paper: open(t, "A4"), Block: Block{Job: "j", Revision: "r"}}
	doc := SetUpSheet("t", cardOf(3, 2, 2, 1, 1, 2), nil, o, []byte("# Title\n\nText.\n"))
	if len(doc.Pages) != 3 {
		t.Fatalf("%d pages", len(doc.Pages))
	}
	for i, p := range doc.Pages {
		holdApart(t, p)
		first, last := p.Texts[0].String, p.Texts[len(p.Texts)-1].String
		if want := map[bool]string{true: "Cutting card: a table", false: "Title"}[i < 2]; first != want || last != fmt.Sprintf("page %d of 3", i+1) {
			t.Errorf("page %d begins with %q and ends with %q", i+1, first, last)
		}
	}
}

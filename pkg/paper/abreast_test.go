package paper

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// A picture right after a heading stands beside the text up to the next heading: no line
// runs into it, and the next chapter begins below it, on a page that is the same size.
func TestPictureBesideItsText(t *testing.T) {
	pic := sheet.Picture{Bounds: geom.Box{Max: geom.Pt(30, 20)}, Fills: []sheet.Fill{{Loops: []geom.Contour{geom.Rect(geom.Box{Max: geom.Pt(30, 20)})}, Color: "#806040"}}}
	for lines := range 12 {
		text := "# A top\n\n![The inlay](inlay.svg)\n\n" + strings.Repeat("- words that fill more than half of the width of a page when it is A4 and upright\n", lines) +
			"\n| a | b |\n|---|---|\n| 1 | " + strings.Repeat("wide ", 16*(lines%2)) + "|\n\n## Next\n\nMore.\n"
		doc := Prose("t", []byte(text), []Illustration{{"inlay.svg", pic}}, Options{Paper: open(t, "A4"), Block: Block{Job: "j", Revision: "r"}})
		if len(doc.Pages) != 1 || len(doc.Pages[0].Areas) != 1 {
			t.Fatalf("%d pages, %d areas", len(doc.Pages), len(doc.Pages[0].Areas))
		}
		box, p := doc.Pages[0].Areas[0].Loops[0].Bounds(), doc.Pages[0]
		for _, l := range p.Texts {
			if lettered(l).Meets(box) {
				t.Errorf("%d lines: %q runs into the picture", lines, l.String)
			}
			if l.String == "Next" && l.At.Y > box.Min.Y {
				t.Errorf("%d lines: the next chapter begins beside the picture", lines)
			}
		}
	}
}

// A narrow table stands in parts side by side, page after page: every cell once, parts
// in order from left to right, and none over another.
func TestNarrowTableInParts(t *testing.T) {
	for _, rows := range []int{2, 5, 7, 60, 400} {
		var text strings.Builder
		text.WriteString("| cut | track | done |\n|---|---|---|\n")
		for i := range rows {
			fmt.Fprintf(&text, "| n%d | A%d | [ ] |\n", i, i)
		}
		doc := Prose("t", []byte(text.String()), nil, Options{Paper: open(t, "Letter"), Block: Block{Job: "j", Revision: "r"}})
		var order []string
		for _, p := range doc.Pages {
			var cells []Text
			for _, l := range p.Texts {
				if strings.HasPrefix(l.String, "n") {
					cells = append(cells, l)
				}
			}
			slices.SortFunc(cells, func(a, b Text) int {
				if a.At.X != b.At.X {
					return int(1000 * (a.At.X - b.At.X))
				}
				return int(1000 * (b.At.Y - a.At.Y))
			})
			for _, c := range cells {
				order = append(order, c.String)
			}
			holdApart(t, p)
		}
		for i, s := range order {
			if s != fmt.Sprintf("n%d", i) {
				t.Fatalf("%d rows: %q is in place %d", rows, s, i)
			}
		}
		if most := 1 + rows/150; len(order) != rows || len(doc.Pages) > most {
			t.Errorf("%d of %d rows on %d pages", len(order), rows, len(doc.Pages))
		}
	}
}

// A table's cells stand under their heads, also where cells before or after them are
// empty, and its head is never the last thing on a page.
func TestTableStandsUnderItsHead(t *testing.T) {
	wide := strings.Repeat("long ", 12)
	for before := range 60 {
		text := strings.Repeat("A line.\n\n", before) + "| set-up | cut | way | done |\n|---|---|---|---|\n" +
			"| 1 | first | " + wide + " | [ ] |\n|  | second | " + wide + " |  |\n| 2 | third | " + wide + " | [ ] |\n"
		doc := Prose("t", []byte(text), nil, Options{Paper: open(t, "A4"), Block: Block{Job: "j", Revision: "r"}})
		seen := 0
		for _, p := range doc.Pages {
			at := map[string]float64{}
			for _, l := range p.Texts {
				at[l.String] = l.At.X
			}
			for _, name := range []string{"first", "second", "third"} {
				if x, ok := at[name]; ok {
					seen++
					if head, ok := at["cut"]; !ok || x != head {
						t.Errorf("%d lines before: %s stands at %v, its head at %v", before, name, x, head)
					}
				}
			}
			_, head := at["cut"]
			_, first := at["first"]
			_, third := at["third"]
			if head && !first && !third {
				t.Errorf("%d lines before: a head stands alone", before)
			}
		}
		if seen != 3 {
			t.Errorf("%d lines before: %d of 3 rows", before, seen)
		}
	}
}

// holdApart holds a page's level lettering apart, and on the page, and returns the boxes
// of its capitals.
func holdApart(t *testing.T, p Page) (boxes []geom.Box) {
	t.Helper()
	for _, l := range p.Texts {
		b := lettered(l)
		if !(b.Min.X > 0 && b.Min.Y > 0 && b.Max.X < p.Width && b.Max.Y < p.Height) {
			t.Errorf("%q runs off the page", l.String)
		}
		if j := slices.IndexFunc(boxes, b.Expand(-0.05).Meets); j >= 0 {
			t.Errorf("%q lies over %q", l.String, p.Texts[j].String)
		}
		boxes = append(boxes, b)
	}
	return boxes
}

// lettered is the box of a level line's capitals.
func lettered(l Text) geom.Box {
	wide, from := Width(l.String, l.Size, l.Bold), l.At
	switch l.Align {
	case Left:
	case Center:
		from.X -= wide / 2
	case Right:
		from.X -= wide
	}
	return geom.Box{Min: from, Max: from.Add(geom.Pt(wide, l.Size*capHeight))}
}

package paper

import (
	"math"
	"strings"

	"strapwork/pkg/geom"
)

// A flow writes running text down a page and on to the next.
type flow struct {
	next   func() Page // makes an empty page
	margin float64     // that the printer leaves clear
	punch  float64     // kept free at the left at least
	foot   float64     // kept free at the page's foot
	widest float64     // of a line; 0 for the page's width
	pages  []Page
	y      float64 // of the last base line, or what stands above the next
	pic    beside  // what stands at the right of the text
}

// lead is the distance of base lines over the body.
const lead = 1.34

func (f *flow) page() *Page { return &f.pages[len(f.pages)-1] }

// area is what text may fill of the present page.
func (f *flow) area() geom.Box {
	b := f.page().free(f.margin)
	b.Min.X = math.Max(b.Min.X, f.punch)
	b.Min.Y += f.foot
	if f.widest > 0 && b.Max.X-b.Min.X > f.widest {
		b.Max.X = b.Min.X + f.widest
	}
	if f.isBeside() {
		b.Max.X = f.pic.left
	}
	return b
}

// begin starts a page.
func (f *flow) begin() {
	f.pages = append(f.pages, f.next())
	f.y = f.area().Max.Y
}

// room makes sure of so much height, on a new page if need be.
func (f *flow) room(height float64) {
	if f.y-height < f.area().Min.Y {
		f.begin()
	}
}

// skip leaves some height, but not at the top of a page.
func (f *flow) skip(height float64) {
	if f.y < f.area().Max.Y {
		f.y -= height
	}
}

// down goes to the next base line.
func (f *flow) down(size float64) {
	f.room(size * lead)
	f.y -= size * lead
}

// put writes one line at a distance from the left side, on the present base
// line.
func (f *flow) put(indent float64, s string, size float64, bold bool) {
	f.page().text(Text{At: geom.Pt(f.area().Min.X+indent, f.y), String: Legible(s), Size: size, Bold: bold})
}

// heading writes a heading and keeps two lines after it on its page.
func (f *flow) heading(s string, size float64) {
	f.under()
	f.skip(size * 0.7)
	f.room(size*lead + 2*medium*lead)
	for _, l := range wrap(s, size, true, f.area().Size().X) {
		f.down(size)
		f.put(0, l, size, true)
	}
	f.skip(size * 0.25)
}

// para writes a paragraph at a distance from the left side. Words between
// pairs of ** are bold.
func (f *flow) para(s string, size, indent float64) {
	f.hang("", s, size, indent, indent)
}

// hang writes a paragraph whose first line begins with a mark, at the distance
// first, and whose text stands at the distance rest.
func (f *flow) hang(mark, s string, size, first, rest float64) {
	for i, l := range breakRuns(runs(s), size, f.area().Size().X-rest) {
		f.down(size)
		if i == 0 && mark != "" {
			f.put(first, mark, size, false)
		}
		x := rest
		for _, r := range l {
			f.put(x, r.text, size, r.bold)
			x += Width(Legible(r.text), size, r.bold)
		}
	}
}

// tick writes an entry of a list to tick off: a box to put the tick in, on the
// page of its first line.
func (f *flow) tick(s string, size, indent float64) {
	f.room(size * lead)
	b := geom.Box{Min: geom.Pt(f.area().Min.X+indent, f.y-size*lead-0.08*size)}
	b.Max = b.Min.Add(geom.Pt(0.85*size, 0.85*size))
	f.page().box(penFrame, b)
	f.hang("", s, size, indent, indent+1.7*size)
}

// A piece of text in one weight.
type weighted struct {
	text string
	bold bool
}

// runs splits a text at its pairs of **.
func runs(s string) []weighted {
	var list []weighted
	for i, part := range strings.Split(s, "**") {
		if part != "" {
			list = append(list, weighted{text: part, bold: i%2 == 1})
		}
	}
	return list
}

// breakRuns breaks runs of text into lines of a width, at spaces only.
func breakRuns(list []weighted, size, width float64) [][]weighted {
	lines := [][]weighted{nil}
	x, space := 0.0, false
	for _, r := range list {
		words := strings.Fields(r.text)
		space = space || strings.HasPrefix(r.text, " ")
		for i, w := range words {
			space = space || i > 0
			wide := Width(Legible(w), size, r.bold)
			if space && x > 0 {
				gap := Width(" ", size, r.bold)
				if x+gap+wide > width {
					lines, x = append(lines, nil), 0
				} else {
					lines[len(lines)-1] = append(lines[len(lines)-1], weighted{text: " ", bold: r.bold})
					x += gap
				}
			}
			last := &lines[len(lines)-1]
			*last = append(*last, weighted{text: w, bold: r.bold})
			x, space = x+wide, false
		}
		space = space || strings.HasSuffix(r.text, " ")
	}
	for i := range lines {
		lines[i] = merged(lines[i])
	}
	return lines
}

// merged joins neighbours of one weight, so that a line's words can be found
// together.
func merged(line []weighted) []weighted {
	var out []weighted
	for _, r := range line {
		if n := len(out); n > 0 && out[n-1].bold == r.bold {
			out[n-1].text += r.text
			continue
		}
		out = append(out, r)
	}
	return out
}

// table writes a table: columns as wide as they need to be, all narrowed alike
// when the page is too narrow, and cells broken over lines.
func (f *flow) table(head []string, rows [][]string, size float64) {
	all := append([][]string{head}, rows...)
	if f.isBeside() && total(columns(all, size, math.Inf(1))) > f.area().Size().X {
		f.under()
	}
	cols := columns(all, size, f.area().Size().X)
	if n := f.abreast(cols, rows, size); n > 1 {
		f.tables(head, rows, cols, size, n)
		return
	}
	f.room(rowHeight(head, cols, size) + heightOf(rows[:min(len(rows), 2)], cols, size))
	f.row(head, cols, size, true)
	for _, r := range rows {
		pages := len(f.pages)
		f.room(rowHeight(r, cols, size))
		if len(f.pages) > pages {
			f.row(head, cols, size, true)
		}
		f.row(r, cols, size, false)
	}
	f.skip(size * 0.6)
}

const (
	cellGap = 3.0 // between columns, mm
	// rounding is what adding up words may make longer than the line at once.
	rounding = 1e-6
)

func columns(rows [][]string, size, width float64) []float64 {
	var cols []float64
	for _, r := range rows {
		for i, c := range r {
			if i == len(cols) {
				cols = append(cols, 4)
			}
			text := Legible(strings.ReplaceAll(c, "**", ""))
			cols[i] = max(cols[i], Width(text, size, true)+rounding, Width(text, size, false)+rounding)
		}
	}
	// The widest gives way first, down to the others.
	for total(cols) > width {
		widest := 0
		for i := range cols {
			if cols[i] > cols[widest] {
				widest = i
			}
		}
		const least = 8 // mm: a word
		if cols[widest] <= least {
			break
		}
		cols[widest] = max(least, cols[widest]-max(0.5, (total(cols)-width)/4))
	}
	return cols
}

func total(cols []float64) float64 {
	sum := -cellGap
	for _, c := range cols {
		sum += c + cellGap
	}
	return sum
}

func rowHeight(r []string, cols []float64, size float64) float64 {
	n := 1
	for i, c := range r {
		n = max(n, len(breakRuns(runs(c), size, cols[i])))
	}
	return float64(n)*size*lead + rowGap
}

// heightOf is the height of rows together.
func heightOf(rows [][]string, cols []float64, size float64) (high float64) {
	for _, r := range rows {
		high += rowHeight(r, cols, size)
	}
	return high
}

const (
	rowGap  = 1.0 // above a row's rule, mm
	rowRise = 0.2 // of the body: how much higher letters stand, so that none goes through the rule
)

// row writes one row and a rule under it.
func (f *flow) row(r []string, cols []float64, size float64, head bool) {
	f.rowAt(0, r, cols, size, head)
}

// rowAt is row at a distance from the left side.
func (f *flow) rowAt(left float64, r []string, cols []float64, size float64, head bool) {
	f.room(rowHeight(r, cols, size))
	top := f.y
	x := left
	for i, c := range r {
		f.y = top + size*rowRise
		for _, l := range breakRuns(runs(c), size, cols[i]) {
			f.y -= size * lead
			at := x
			for _, part := range l {
				f.put(at, part.text, size, head || part.bold)
				at += Width(Legible(part.text), size, head || part.bold)
			}
		}
		x += cols[i] + cellGap
	}
	f.y = top - rowHeight(r, cols, size) + rowGap/2
	a := geom.Pt(f.area().Min.X+left, f.y)
	pen := Pen{Width: 0.08}
	if head {
		pen = penThin
	}
	f.page().line(pen, a, a.Add(geom.Pt(x-left-cellGap, 0)))
	f.y -= rowGap / 2
}

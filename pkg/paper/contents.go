package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// contents writes what is in the book, how sheets are joined, and what lines
// mean.
func (b *binder) contents() []Page {
	f := b.flow()
	f.heading("Patterns at full size", huge)
	f.para("**Measure page 1 first.** Then find the part below, join its sheets, and glue them down flat.", small, 0)
	f.skip(1)
	head, rows := b.list()
	f.table(head, rows, small)
	b.maps(f)
	f.heading("Joining sheets", medium)
	for _, text := range b.joinWords() {
		f.para(text, small, 0)
		f.skip(0.6)
	}
	f.heading("What the lines mean", medium)
	b.legend(f)
	for _, text := range b.notes() {
		f.para(text, small, 0)
		f.skip(0.6)
	}
	return f.pages
}

// list is the table of all pieces, each once.
func (b *binder) list() (head []string, rows [][]string) {
	head = []string{"part", "make", "thickness", "pages", "sheets of paper"}
	var all []Piece
	var where []string
	for _, p := range b.patterns {
		for k, piece := range p.d.Pieces {
			if i := slices.IndexFunc(all, func(q Piece) bool { return q.Name == piece.Name }); i >= 0 {
				all[i].Drawn += piece.Drawn
				continue
			}
			all = append(all, piece)
			switch {
			case k > 0 && p.floor():
				where = append(where, "the wall's sheets: print them again for the floor")
			case p.shared():
				where = append(where, "with other small parts")
			default:
				where = append(where, p.paperWords())
			}
		}
	}
	for i, piece := range all {
		row := []string{piece.Name, "", "", spans(b.pages[piece.Name]), where[i]}
		if piece.Make > 0 {
			row[1], row[2] = fmt.Sprint(piece.Make), b.o.length(piece.Thickness)
		}
		if piece.Make > piece.Drawn {
			row[1] += fmt.Sprintf(" (%d drawn)", piece.Drawn)
		}
		rows = append(rows, row)
	}
	return head, rows
}

// shared reports whether a pattern is one sheet with small parts.
func (p Pattern) shared() bool { return len(p.d.Pieces) > 1 && !p.floor() }

// spans writes a list of rising pages: "3 - 10, 12".
func spans(pages []int) string {
	var list []string
	for i := 0; i < len(pages); {
		k := i
		for k+1 < len(pages) && pages[k+1] == pages[k]+1 {
			k++
		}
		if k == i {
			list = append(list, fmt.Sprint(pages[i]))
		} else {
			list = append(list, fmt.Sprintf("%d - %d", pages[i], pages[k]))
		}
		i = k + 1
	}
	return strings.Join(list, ", ")
}

// paperWords say how a pattern's sheets lie.
func (p Pattern) paperWords() string {
	l := p.l
	way := "upright"
	if l.Landscape {
		way = "lying"
	}
	if l.Rows*l.Cols == 1 {
		return "1 sheet, " + way
	}
	words := fmt.Sprintf("%s, %s, %s of %d", unit.Count(l.Count(), "sheet"), way, unit.Count(l.Rows, "row"), l.Cols)
	if out := p.leftOut(); len(out) > 0 {
		words += ", without " + strings.Join(out, ", ")
	}
	return words
}

// leftOut lists the cells without a page.
func (p Pattern) leftOut() []string {
	var out []string
	for i, there := range p.l.Present {
		if !there {
			out = append(out, Label(i/p.l.Cols, i%p.l.Cols))
		}
	}
	return out
}

// floor reports whether a pattern has lines of the floor's own.
func (p Pattern) floor() bool {
	return slices.ContainsFunc(p.d.Lines, func(l Drawn) bool { return l.Use == FloorCut })
}

// maps draws, side by side, every pattern of several sheets small with its grid.
func (b *binder) maps(f *flow) {
	const abreast, gap, tallest = 3, 5.0, 46.0
	wide := (f.area().Size().X - (abreast-1)*gap) / abreast
	var row []int
	flush := func() {
		high := 0.0
		for _, i := range row {
			high = math.Max(high, b.patterns[i].mapSize(wide, tallest).Y)
		}
		f.skip(2)
		f.room(high + small*lead + 1)
		for k, i := range row {
			at := geom.Pt(f.area().Min.X+float64(k)*(wide+gap), f.y-high)
			b.patterns[i].drawMap(f.page(), at, wide, tallest)
			say := b.patterns[i].names() + ": " + b.pagesOf(i)
			f.page().text(Text{At: at.Sub(geom.Pt(0, small*lead)), String: fit(Legible(say), small, true, wide), Size: small, Bold: true})
		}
		f.y -= high + small*lead
		f.skip(1)
		row = nil
	}
	for i, p := range b.patterns {
		if p.l.Rows*p.l.Cols > 1 {
			row = append(row, i)
		}
		if len(row) == abreast {
			flush()
		}
	}
	if len(row) > 0 {
		flush()
	}
}

// names are those of a pattern's pieces.
func (p Pattern) names() string {
	var list []string
	for _, piece := range p.d.Pieces {
		list = append(list, piece.Name)
	}
	return strings.Join(list, ", ")
}

// pagesOf is the pages of a pattern.
func (b *binder) pagesOf(i int) string {
	n := len(b.patterns[i].tiles)
	if n == 1 {
		return fmt.Sprintf("page %d", b.first[i])
	}
	return fmt.Sprintf("pages %d - %d", b.first[i], b.first[i]+n-1)
}

func (p Pattern) mapScale(wide, tall float64) float64 {
	return math.Min(wide/(float64(p.l.Cols)*p.l.Pitch.X), tall/(float64(p.l.Rows)*p.l.Pitch.Y))
}

// mapSize is the size of a map.
func (p Pattern) mapSize(wide, tall float64) geom.Point {
	return geom.Pt(float64(p.l.Cols)*p.l.Pitch.X, float64(p.l.Rows)*p.l.Pitch.Y).Scale(p.mapScale(wide, tall))
}

// mapPlate in mm is how far round a sheet's name the drawing behind it is blank.
const mapPlate = 0.5

// drawMap draws the grid small, with the drawing behind it and the name of each
// sheet on a plate; cells that are left out are crossed.
func (p Pattern) drawMap(on *Page, at geom.Point, wide, tall float64) {
	k := p.mapScale(wide, tall)
	to := func(q geom.Point) geom.Point { return at.Add(q.Sub(p.l.Origin).Scale(k)) }
	for _, l := range p.d.Lines {
		switch l.Use {
		case Mark, Note, Chisel: // too small to be made out
		case Cut, FloorCut, Edge, GrooveEdge, Centre, Upper, Strip, Blank:
			// As areas, which lie under the names' plates.
			on.Areas = append(on.Areas, Area{Loops: []geom.Contour{mapped(l.Contour, to)}, Empty: true, Pen: Pen{Width: 0.15, Gray: 0.45}})
		}
	}
	for row := range p.l.Rows {
		for col := range p.l.Cols {
			p.mapCell(on, row, col, to)
		}
	}
}

// mapped is a contour with every vertex moved; the map must be a similarity,
// so that bulges stay as they are.
func mapped(c geom.Contour, on func(geom.Point) geom.Point) geom.Contour {
	out := geom.Contour{Closed: c.Closed, Vertices: make([]geom.Vertex, len(c.Vertices))}
	for i, v := range c.Vertices {
		out.Vertices[i] = geom.Vertex{Point: on(v.Point), Bulge: v.Bulge}
	}
	return out
}

func (p Pattern) mapCell(on *Page, row, col int, to func(geom.Point) geom.Point) {
	c := p.l.Cell(row, col)
	b := geom.Box{Min: to(c.Min), Max: to(c.Max)}
	if !p.l.Has(row, col) {
		on.box(penTrim, b)
		on.line(penScale, b.Min, b.Max)
		on.line(penScale, geom.Pt(b.Min.X, b.Max.Y), geom.Pt(b.Max.X, b.Min.Y))
		return
	}
	on.box(penBlock, b)
	label := Label(row, col)
	size := math.Min(small, b.Size().Y*0.5)
	size = math.Min(size, b.Size().X*0.8/Width(label, 1, true))
	at := b.Center().Sub(geom.Pt(0, capHeight*size/2))
	half := geom.Pt(Width(label, size, true)/2+mapPlate, capHeight*size/2+mapPlate)
	on.fill(1, geom.Rect(geom.Box{Min: b.Center().Sub(half), Max: b.Center().Add(half)}))
	on.text(Text{At: at, String: label, Size: size, Bold: true, Align: Center})
}

// several reports whether a pattern is of several sheets.
func (b *binder) several() bool {
	return slices.ContainsFunc(b.patterns, func(p Pattern) bool { return len(p.tiles) > 1 })
}

// joinWords say how sheets are joined.
func (b *binder) joinWords() []string {
	if !b.several() {
		return []string{"Every part is on a sheet of its own or with others: nothing is joined."}
	}
	overlap := b.patterns[0].l.Overlap
	words := []string{
		fmt.Sprintf("**Sheets overlap by %s**; non-printing margin %s. Tiles are named by row and column, 1-1 at the upper left.",
			b.o.length(overlap), b.o.length(b.o.Paper.Margin)),
		"**Trim** a sheet's left and upper side along the dotted line and lay it over its neighbours. Lines, ticks and crosses of both must meet.",
		"**Place every sheet by its crosses**, measured from the origin, not by its neighbour alone: then errors can't add up.",
		"**Check** the grey bars that run over several sheets, between their end marks, before the glue is dry.",
	}
	if slices.ContainsFunc(b.patterns, func(p Pattern) bool { return len(p.leftOut()) > 0 }) {
		words = append(words, "**Crossed out on the map:** nothing of the part is there, so there is no sheet.")
	}
	return words
}

// notes are what is said of patterns, each note once.
func (b *binder) notes() []string {
	var words []string
	say := func(text string) {
		if !slices.Contains(words, text) {
			words = append(words, text)
		}
	}
	if slices.ContainsFunc(b.patterns, Pattern.floor) {
		say("**Wall and floor on the same sheets:** edge and holes are the same for both. Print the sheets once for the wall and again for the floor, and mark each set before you cut: in the wall cut the solid openings, in the floor the dashed slots only.")
	}
	short, left := false, false
	for _, p := range b.patterns {
		for _, n := range p.d.Notes {
			say(n)
		}
		short = short || p.said.short
		left = left || p.said.left > 0
	}
	if short {
		say("**A number alone** is that of a point, or in bold letters of a crossing, in the measures at the end.")
	}
	if left {
		say("**Where there was no room for a label** its measure is at the end.")
	}
	return words
}

// legend shows a sample of every kind of line that the patterns have, in two
// columns.
func (b *binder) legend(f *flow) {
	const sample, gap = 20.0, 2.5
	half := f.area().Size().X / 2
	n := 0
	entry := func(say string, draw func(p *Page, a, b geom.Point)) {
		x := 0.0
		if n%2 == 0 {
			f.down(medium)
		} else {
			x = half
		}
		n++
		at := geom.Pt(f.area().Min.X+x, f.y+0.3*medium)
		draw(f.page(), at, at.Add(geom.Pt(sample, 0)))
		f.put(x+sample+gap, fit(say, small, false, half-sample-gap-2), small, false)
	}
	for _, u := range uses() {
		has := func(d Drawn) bool { return d.Use == u }
		if slices.ContainsFunc(b.patterns, func(p Pattern) bool { return slices.ContainsFunc(p.d.Lines, has) }) {
			entry(u.String(), func(p *Page, a, b geom.Point) { p.lineSample(u, a, b) })
		}
	}
	entry("hatched side of a line: waste", func(p *Page, a, b geom.Point) {
		for x := 0.0; x < b.X-a.X; x += hatchStep {
			at := a.Add(geom.Pt(x, 0))
			p.line(penHatch, at, at.Add(geom.Pt(hatchDeep/2, hatchDeep/2)))
		}
	})
	entry("point to lay out from: a centre or an end", func(p *Page, a, b geom.Point) {
		m := a.Lerp(b, 0.5)
		p.line(penPoint, m.Sub(geom.Pt(crossArm, 0)), m.Add(geom.Pt(crossArm, 0)))
		p.line(penPoint, m.Sub(geom.Pt(0, crossArm)), m.Add(geom.Pt(0, crossArm)))
	})
	entry("leader from a place to its label: not cut", func(p *Page, a, b geom.Point) { p.line(penLeader, a, b) })
	entry("side of a tile: trimmed on the left and above", func(p *Page, a, b geom.Point) { p.line(penTrim, a, b) })
	if slices.ContainsFunc(b.patterns, func(p Pattern) bool { return len(p.bars) > 0 }) {
		entry("bar to check how sheets were joined", func(p *Page, a, b geom.Point) {
			p.fill(grayBar, geom.Rect(geom.Box{Min: a, Max: a.Lerp(b, 0.5).Add(geom.Pt(0, barWidth))}))
			p.box(penBar, geom.Box{Min: a, Max: b.Add(geom.Pt(0, barWidth))})
		})
	}
	f.skip(1.5)
}

// lineSample draws a line of a use, hatched as it would be.
func (p *Page) lineSample(u Use, a, b geom.Point) {
	p.line(u.pen(), a, b)
	within, beyond := u.waste()
	if !within && !beyond {
		return
	}
	for x := hatchStep / 2; x < b.X-a.X-hatchDeep/2; x += hatchStep {
		at := a.Add(geom.Pt(x, 0))
		p.line(penHatch, at.Add(geom.Pt(hatchFrom, hatchFrom)), at.Add(geom.Pt(hatchDeep/2, hatchDeep/2)))
	}
}

// measures writes the tables of what patterns are laid out by, for whoever has
// no printer; there is no page if there is none.
func (b *binder) measures() []Page {
	f := b.flow()
	empty := true
	done := map[string]bool{} // a part that is on several sheets has its tables once
	for _, p := range b.patterns {
		for _, t := range p.d.Tables {
			whole := fmt.Sprint(t)
			if len(t.Rows) == 0 || done[whole] {
				continue
			}
			done[whole] = true
			if empty {
				f.heading("Measures, to lay out without a printer", large)
				f.para("From the origin of each part, x to the right and y up, in "+b.o.Units.Name()+". Numbers are those on the sheets.", small, 0)
				empty = false
			}
			f.heading(t.Title, medium)
			f.table(t.spread(f.area().Size().X))
		}
	}
	if empty {
		return nil
	}
	return f.pages
}

// spread is a table's head and rows with as many of them side by side as a width
// has room for, read down the columns, and the size of their letters.
func (t Table) spread(width float64) (head []string, rows [][]string, size float64) {
	const most = 8
	for abreast := min(most, len(t.Rows)); ; abreast-- {
		head, rows = t.abreast(abreast)
		if abreast == 1 || total(columns(append([][]string{head}, rows...), small, math.Inf(1))) <= width {
			return head, rows, small
		}
	}
}

func (t Table) abreast(n int) (head []string, rows [][]string) {
	deep := (len(t.Rows) + n - 1) / n
	for range (len(t.Rows) + deep - 1) / deep {
		head = append(head, t.Head...)
	}
	for i := range deep {
		var row []string
		for k := i; len(row) < len(head); k += deep {
			if k < len(t.Rows) {
				row = append(row, t.Rows[k]...)
			} else {
				row = append(row, make([]string, len(t.Head))...)
			}
		}
		rows = append(rows, row)
	}
	return head, rows
}

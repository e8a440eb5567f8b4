package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// overview makes the page map, the legend, and the tables of measures.
func (s *sheets) overview() {
	f := s.flow()
	f.begin()
	f.heading("How the sheets go together", large)
	s.pageMap(f)
	for _, text := range s.mapWords() {
		f.para(text, small, 0)
		f.skip(0.8)
	}
	f.heading("What the lines mean", medium)
	s.legend(f)
	for _, t := range s.d.Tables {
		if len(t.Rows) > 0 {
			f.heading(t.Title, medium)
			f.table(t.Head, t.Rows, small)
		}
	}
	s.add(f, "page map and legend")
}

// pageMap draws the grid small, with the drawing behind it and the label of
// each sheet; cells that are left out are crossed.
func (s *sheets) pageMap(f *flow) {
	const tallest = 95.0
	size := geom.Pt(float64(s.l.Cols)*s.l.Pitch.X, float64(s.l.Rows)*s.l.Pitch.Y)
	k := math.Min(math.Min(f.area().Size().X/size.X, tallest/size.Y), 0.5)
	f.room(size.Y*k + 4)
	o := geom.Pt(f.area().Min.X, f.y-size.Y*k-2)
	p := f.page()
	on := func(q geom.Point) geom.Point { return o.Add(q.Sub(s.l.Origin).Scale(k)) }
	for _, l := range s.d.Lines {
		if l.Use == Mark || l.Use == Note {
			continue
		}
		p.stroke(Pen{Width: 0.1, Gray: 0.45}, mapped(l.Contour, on))
	}
	for row := range s.l.Rows {
		for col := range s.l.Cols {
			s.mapCell(p, row, col, on)
		}
	}
	f.y = o.Y - 2
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

func (s *sheets) mapCell(p *Page, row, col int, on func(geom.Point) geom.Point) {
	c := s.l.Cell(row, col)
	b := geom.Box{Min: on(c.Min), Max: on(c.Max)}
	if !s.l.Has(row, col) {
		p.box(penTrim, b)
		p.line(penScale, b.Min, b.Max)
		p.line(penScale, geom.Pt(b.Min.X, b.Max.Y), geom.Pt(b.Max.X, b.Min.Y))
		return
	}
	p.box(penFrame, b)
	size := math.Min(large, b.Size().Y*0.5)
	label := Label(row, col)
	size = math.Min(size, b.Size().X*0.8/Width(label, 1, true))
	at := b.Center().Sub(geom.Pt(0, capHeight*size/2))
	p.text(Text{At: at, String: label, Size: size, Bold: true, Align: Center})
}

// mapWords say how the sheets are joined, and which are left out.
func (s *sheets) mapWords() []string {
	l := s.l
	way := "upright"
	if l.Landscape {
		way = "lying"
	}
	words := []string{fmt.Sprintf("**%s of %s, %s**, %s and %s. Cells are %s by %s; neighbours both show a strip of %s.",
		unit.Count(l.Count(), "sheet"), s.o.Paper.Name, way, unit.Count(l.Rows, "row"), unit.Count(l.Cols, "column"),
		s.length(l.Pitch.X), s.length(l.Pitch.Y), s.length(l.Overlap))}
	if out := s.leftOut(); len(out) > 0 {
		words = append(words, fmt.Sprintf("**Left out, since nothing is drawn there:** %s (crossed on the map).", strings.Join(out, ", ")))
	} else {
		words = append(words, "No cell of the grid is left out.")
	}
	if l.Count() > 1 {
		words = append(words,
			"**Join** from the upper left: trim a sheet's left and upper side along the dotted line and lay it over its neighbours, whose right and lower sides go under. Lines, ticks and crosses of both must meet.",
			"**Place every sheet by the grid**, not by its neighbour alone: each cross says where it is, measured from the origin. Draw the grid's lines on the board first and errors can't add up.")
	}
	for _, b := range s.bars {
		if n := b.to.Dist(b.from); n > 0 {
			axis := "across"
			if b.to.X == b.from.X {
				axis = "up"
			}
			words = append(words, fmt.Sprintf("**Check** the bar that runs %s over the sheets: %s between its end marks.", axis, s.length(n)))
		}
	}
	if s.said.short {
		words = append(words, "**A number alone** is that of a point, or in bold letters of a crossing, in the tables after this page: there was no room for more.")
	}
	if n := s.said.left; n > 0 {
		words = append(words, fmt.Sprintf("**%s found no room** on the sheets: what they say is in the tables.", unit.Count(n, "label")))
	}
	return append(words, s.d.Notes...)
}

// leftOut lists the cells without a page.
func (s *sheets) leftOut() []string {
	var out []string
	for i, there := range s.l.Present {
		if !there {
			out = append(out, Label(i/s.l.Cols, i%s.l.Cols))
		}
	}
	return out
}

// legend shows a sample of every kind of line that the pattern has.
func (s *sheets) legend(f *flow) {
	const sample, gap = 26.0, 3.0
	entry := func(say string, draw func(p *Page, a, b geom.Point)) {
		f.down(medium)
		a := geom.Pt(f.area().Min.X, f.y+0.3*medium)
		draw(f.page(), a, a.Add(geom.Pt(sample, 0)))
		f.put(sample+gap, say, small, false)
	}
	for _, u := range uses() {
		if slices.ContainsFunc(s.d.Lines, func(d Drawn) bool { return d.Use == u }) {
			entry(u.String(), func(p *Page, a, b geom.Point) { p.line(u.pen(), a, b) })
		}
	}
	if len(s.d.Points) > 0 {
		entry("point to lay out from: a centre or an end, with its place", func(p *Page, a, b geom.Point) {
			m := a.Lerp(b, 0.5)
			p.line(penPoint, m.Sub(geom.Pt(crossArm, 0)), m.Add(geom.Pt(crossArm, 0)))
			p.line(penPoint, m.Sub(geom.Pt(0, crossArm)), m.Add(geom.Pt(0, crossArm)))
		})
	}
	if s.said.leader {
		entry("leader from a place to what is said about it: not cut", func(p *Page, a, b geom.Point) { p.line(penLeader, a, b) })
	}
	entry("side of a sheet's cell: trimmed on the left and above", func(p *Page, a, b geom.Point) { p.line(penTrim, a, b) })
	if len(s.bars) > 0 {
		entry("bar to check how sheets were joined", func(p *Page, a, b geom.Point) {
			half := geom.Box{Min: a, Max: a.Lerp(b, 0.5).Add(geom.Pt(0, barWidth))}
			p.fill(0, geom.Rect(half))
			p.box(penThin, geom.Box{Min: a, Max: b.Add(geom.Pt(0, barWidth))})
		})
	}
}

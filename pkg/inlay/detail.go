package inlay

// What is shown enlarged beside the inlay: a groove's section, and one crossing.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// A Detail is what is enlarged.
type Detail struct {
	Groove   work.Inlay
	Crossing *Crossing // nil where there is none
}

// A Crossing is one of the motif, and what its strands are called there.
type Crossing struct {
	At          geom.Point
	Over, Under Passage
}

// A Passage is a strand at a crossing: its name, and the unit direction that it runs in.
type Passage struct {
	Name  string
	Along geom.Point
}

// Measures of details: shares of the board's longer side, and of what is shown.
const (
	detailSide   = 0.2  // what is drawn
	detailWide   = 0.46 // with the words beside it
	detailApart  = 0.05
	detailText   = 0.8  // of the legend's capitals
	sectionWide  = 2.4  // of the board, in widths of the groove
	sectionDeep  = 2.0  // of the board, in depths of the groove
	crossingHalf = 2.2  // half of what is shown of a crossing, in widths of the groove
	wideBoard    = 1.27 // longer by so much: details stand under it, else beside it
)

// Detailed is Picture with the details under or beside it, smaller than the inlay.
func (in Inlay) Detailed(title string, d Detail, numbers ...work.Numbers) sheet.Picture {
	p := in.Picture(title, numbers...)
	board := in.boardBox()
	long := board.Size()
	size := math.Max(long.X, long.Y)
	k := detailing{in: in, Detail: d, p: &p, side: detailSide * size, h: detailText * capitals * size}
	apart := detailApart * size
	at, next := geom.Pt(p.Bounds.Max.X+apart/2, board.Max.Y), geom.Pt(0, -2*detailSide*size)
	if long.X > wideBoard*long.Y {
		at, next = geom.Pt(board.Min.X, p.Bounds.Min.Y-apart/2), geom.Pt((detailWide+detailApart)*size, 0)
	}
	if k.section(at) {
		at = at.Add(next)
	}
	if d.Crossing != nil {
		k.crossing(at)
	}
	page := p.Bounds
	if !k.box.Empty() {
		page = page.Join(k.box.Expand(pageMargin * size))
	}
	p.Bounds = page
	p.Fills[0] = sheet.Fill{Loops: []geom.Contour{geom.Rect(page)}, Color: pageShade}
	return p
}

// A detailing draws details.
type detailing struct {
	Detail
	in   Inlay
	p    *sheet.Picture
	side float64  // of what is drawn
	h    float64  // of capitals
	box  geom.Box // what details take up; the zero box until there is one
	some bool
}

func (k *detailing) fill(color, stroke string, width float64, label string, loops ...geom.Contour) {
	k.p.Fills = append(k.p.Fills, sheet.Fill{Loops: loops, Color: color, Stroke: stroke, StrokeWidth: width * k.h, Flat: true, Label: label})
	for _, c := range loops {
		k.takes(c.Bounds())
	}
}

func (k *detailing) takes(b geom.Box) {
	if !k.some {
		k.box, k.some = b, true
	}
	k.box = k.box.Join(b)
}

// text writes a line from a place, or about it.
func (k *detailing) text(at geom.Point, middle bool, s string) {
	t := sheet.Text{At: at, Height: k.h, String: s, Middle: middle, Color: lineShade}
	k.p.Texts = append(k.p.Texts, t)
	if middle {
		at.X -= t.Width() / 2
	}
	k.takes(geom.Box{Min: at, Max: at.Add(geom.Pt(t.Width(), k.h))})
}

// thin is the width of lines in details, in heights of capitals.
const thin = 0.07

func (k *detailing) line(pts ...geom.Point) {
	var edges []geom.Edge
	for i := range len(pts) - 1 {
		edges = append(edges, geom.Line(pts[i], pts[i+1]))
	}
	k.fill("", lineShade, thin, "", geom.Chain(false, edges...))
}

// dimension draws a line with arrows from a to b.
func (k *detailing) dimension(a, b geom.Point) {
	k.line(a, b)
	way := b.Sub(a).Unit()
	long := math.Min(0.8*k.h, a.Dist(b)/2)
	for _, tip := range []struct{ at, way geom.Point }{{a, way}, {b, way.Scale(-1)}} {
		back, side := tip.at.Add(tip.way.Scale(long)), tip.way.Left().Scale(0.22*k.h)
		k.fill(lineShade, "", 0, "", geom.Polygon(tip.at, back.Sub(side), back.Add(side)))
	}
}

// leader points from words to a place.
func (k *detailing) leader(from, to geom.Point) {
	k.fill("", pageShade, 3*thin, "", geom.Chain(false, geom.Line(from, to))) // seen on dark wood too
	k.line(from, to)
	k.fill(pageShade, lineShade, thin, "", geom.Circle(to, 0.22*k.h))
}

func (k *detailing) said(mm float64) string { return unit.Len(mm).In(k.in.units) }

// section draws a groove cut across, with its upper left corner at a place, and reports
// whether there is one to draw.
func (k *detailing) section(at geom.Point) bool {
	w, d, proud := k.Groove.Width, k.Groove.Depth, math.Max(0, k.Groove.Proud)
	if !(w > 0 && d > 0) || math.IsInf(w+d+proud, 0) {
		return false
	}
	h := k.h
	scale := math.Min(k.side/(sectionWide*w), k.side/(sectionDeep*d+proud))
	k.text(at.Sub(geom.Pt(0, h)), false, "Section across a groove")
	origin := at.Add(geom.Pt(k.side/2, -5.6*h-proud*scale)) // the middle of the groove at the board's face
	on := func(x, y float64) geom.Point { return origin.Add(geom.Pt(x*scale, y*scale)) }
	x, deep := sectionWide/2*w, sectionDeep*d
	face := []geom.Point{on(x, 0), on(w/2, 0), on(w/2, -d), on(-w/2, -d), on(-w/2, 0), on(-x, 0)}
	k.fill(wood.BoardColor(k.in.wood).Hex(), "", 0, "board, cut across", geom.Polygon(append([]geom.Point{on(-x, -deep), on(x, -deep)}, face...)...))
	k.strips(on, d, proud)
	k.line(face...)

	top := on(0, proud).Y + 1.2*h
	for _, s := range []float64{-1, 1} {
		k.line(geom.Pt(on(s*w/2, 0).X, on(0, 0).Y), geom.Pt(on(s*w/2, 0).X, top+0.4*h))
	}
	k.dimension(geom.Pt(on(-w/2, 0).X, top), geom.Pt(on(w/2, 0).X, top))
	k.text(geom.Pt(origin.X, top+0.7*h), true, k.said(w)+" wide")

	side := on(x, 0).X + 1.2*h
	k.line(on(x, 0), geom.Pt(side+0.4*h, on(0, 0).Y))
	k.line(on(w/2, -d), geom.Pt(side+0.4*h, on(0, -d).Y))
	k.dimension(geom.Pt(side, on(0, -d).Y), geom.Pt(side, on(0, 0).Y))
	k.text(geom.Pt(side+0.9*h, on(0, -d/2).Y-h/2), false, k.said(d)+" deep")
	half := k.stack() / 2
	if proud > 0 {
		at := geom.Pt(side+0.9*h, on(0, proud).Y+0.8*h)
		k.text(at, false, k.said(proud)+" proud")
		k.leader(at.Add(geom.Pt(-0.4*h, h/2)), on(half, proud))
	}
	if c := k.Groove.Clearance; c > 0 {
		at := geom.Pt(on(-x, 0).X, on(0, -deep).Y-2*h)
		k.text(at, false, k.said(c)+" clearance in all")
		k.leader(geom.Pt(on(-half, 0).X, at.Y+1.3*h), on(-(half+w/2)/2, -0.8*d))
	}
	return true
}

// stack is how wide the strips are together.
func (k *detailing) stack() (sum float64) {
	for _, l := range k.in.layers {
		sum += l.Thickness
	}
	return sum
}

// strips draws the lay-up on the groove's floor.
func (k *detailing) strips(on func(x, y float64) geom.Point, deep, proud float64) {
	left := -k.stack() / 2
	for i, c := range wood.Palette(k.in.layers, wood.BoardColor(k.in.wood)) {
		right := left + k.in.layers[i].Thickness
		box := geom.Box{Min: on(left, -deep), Max: on(right, proud)}
		k.fill(c.Hex(), wood.Line(c).Hex(), thin, k.in.layerName(i), geom.Rect(box))
		left = right
	}
}

// crossing draws one, with its upper left corner at a place.
func (k *detailing) crossing(at geom.Point) {
	h, c := k.h, k.Crossing
	k.text(at.Sub(geom.Pt(0, h)), false, "One crossing, enlarged")
	half := crossingHalf * k.Groove.Width
	middle := at.Add(geom.Pt(k.side/2, -2.4*h-k.side/2))
	to := geom.Shifting(c.At.Scale(-1)).Then(geom.Scaling(k.side / 2 / half)).Then(geom.Shifting(middle))
	window := geom.Box{Min: c.At, Max: c.At}.Expand(half)
	rim := to.Contour(geom.Rect(window))
	shown := func(color, stroke string, label string, areas ...region.Region) {
		var loops []geom.Contour
		for _, a := range areas {
			if a.Bounds().Meets(window) {
				loops = append(loops, region.Intersect(a, region.New(geom.Rect(window))).Transform(to).Loops()...)
			}
		}
		if len(loops) > 0 {
			k.fill(color, stroke, thin, label, loops...)
		}
	}
	board := wood.BoardColor(k.in.wood)
	if len(k.in.tops) == 0 {
		k.fill(board.Hex(), "", 0, "", rim)
	}
	for _, t := range k.in.tops {
		shown(board.Hex(), wood.Line(board).Hex(), "", region.New(t.Outline))
	}
	for _, g := range k.in.grooves {
		shown(grooveShade, "", "", g)
	}
	colors := wood.Palette(k.in.layers, wood.BoardColor(k.in.wood))
	for _, s := range k.in.Strips {
		var areas []region.Region
		for _, p := range s.Pieces {
			areas = append(areas, p.Area)
		}
		shown(colors[s.Layer].Hex(), wood.Line(colors[s.Layer]).Hex(), "", areas...)
	}
	k.fill("", lineShade, thin, "", rim)
	k.passages(to, half)
}

// passages says which strand goes over and which is cut, beside the crossing.
func (k *detailing) passages(to geom.Similarity, half float64) {
	c, w := k.Crossing, k.Groove.Width
	right := func(v geom.Point) geom.Point {
		if v.X < -geom.Coincident {
			return v.Scale(-1)
		}
		return v
	}
	over, under := right(c.Over.Along), right(c.Under.Along)
	sine := math.Max(math.Abs(over.Cross(under)), 0.3)
	cut, whole := c.Under.Name+" is cut and butted", c.Over.Name+" goes over"
	if c.Under.Name == c.Over.Name {
		cut, whole = "is cut and butted", "goes over"
	}
	marks := []struct {
		at   geom.Point
		word string
	}{
		{to.Apply(c.At.Add(over.Scale(0.7 * half))), whole},
		{to.Apply(c.At.Add(under.Scale(math.Min(0.9*half, w/2/sine)))), cut},
	}
	if marks[1].at.Y > marks[0].at.Y {
		marks[0], marks[1] = marks[1], marks[0]
	}
	edge, middle := to.Apply(c.At.Add(geom.Pt(half, 0))), to.Apply(c.At)
	for i, m := range marks {
		at := geom.Pt(edge.X+1.5*k.h, middle.Y+(1.6-3.2*float64(i))*k.h)
		k.text(at, false, m.word)
		k.leader(at.Add(geom.Pt(-0.4*k.h, k.h/2)), m.at)
	}
}

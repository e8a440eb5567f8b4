package sketch

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/numbering"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// apart in mm is kept between pieces of lettering, and between them and lines.
const apart = 0.6

// keepOff has lettering keep off all that is drawn.
func (g *page) keepOff() {
	k := g.scale
	for _, l := range g.Layers {
		half := max(l.Width*k, l.Style.look().width) / 2
		for _, c := range l.Lines {
			g.room.KeepOff(half+apart/2, 1, g.to.Contour(c))
		}
	}
	for _, s := range g.Signs {
		g.room.KeepOff(apart/2, 1, s.Kind.shape(g.to.Apply(s.At), s.Dir, g.size)...)
	}
}

// boxOf is what a text that isn't turned takes up: its capitals, and what hangs below.
func boxOf(t sheet.Text) geom.Contour {
	w := t.Width()
	low := t.At.Sub(geom.Pt(0, 0.3*t.Height))
	if t.Middle {
		low.X -= w / 2
	}
	return geom.Rect(geom.Box{Min: low, Max: low.Add(geom.Pt(w, 1.4*t.Height))})
}

// directions is in how many directions from its place a label is tried.
const directions = 16

// around visits boxes of a size about a place whose nearest points are so far from it,
// until visit is false: first to the right and up, where labels are looked for.
func around(at, size geom.Point, far float64, visit func(box geom.Box, from geom.Point) bool) {
	for i := range directions {
		turn := (i + 1) / 2
		if i%2 == 0 {
			turn = -turn
		}
		d := geom.TurningFraction(2*turn+1, 2*directions).Apply(geom.Pt(math.Sqrt2/2, math.Sqrt2/2))
		mid := at.Add(d.Scale(far)).Add(geom.Pt(reachOf(d.X)*size.X/2, reachOf(d.Y)*size.Y/2))
		box := geom.Box{Min: mid.Sub(size.Scale(0.5)), Max: mid.Add(size.Scale(0.5))}
		if !visit(box, nearest(box, at)) {
			return
		}
	}
}

// reachOf is how far a box's middle lies in a direction's part: a box beside its place
// has it at its side's middle, one above it over its own.
func reachOf(part float64) float64 { return max(-1, min(1, 1.6*part)) }

// nearest is the point of a box that is nearest to a place outside.
func nearest(b geom.Box, p geom.Point) geom.Point {
	return geom.Pt(max(b.Min.X, min(b.Max.X, p.X)), max(b.Min.Y, min(b.Max.Y, p.Y)))
}

// distances in mm at which labels are tried; from farLabel on a line leads to them.
var distances = [...]float64{0.8, 1.6, 3, 5, 7.5, 10.5, 14}

const farLabel = 2.4

// A spot is where a label stands, and where its leader ends, if it has one.
type spot struct {
	box    geom.Box
	leader *geom.Edge
}

// half in mm of the page is how far bands reach from their middles.
func (g *page) half() (half float64) {
	for _, l := range g.Layers {
		half = max(half, l.Width*g.scale/2)
	}
	return half
}

// tooMany is of how many lines a leader that crosses them isn't followed by anyone.
const tooMany = 6

// find looks for room for a label of a size beside one of some places of the page, which
// are so large themselves, and no further from them than most. A leader crosses the fewest
// lines, and less than so many.
func (g *page) find(places []geom.Point, size geom.Point, from, most float64, crossing int) (best spot, ok bool) {
	least := crossing
	for _, d := range distances {
		if d > most {
			continue
		}
		for _, at := range places {
			around(at, size, from+d, func(box geom.Box, end geom.Point) bool {
				if !g.area.Holds(box.Min) || !g.area.Holds(box.Max) || !g.room.Free(geom.Rect(box)) {
					return true
				}
				if d < farLabel {
					best, least = spot{box: box}, -1
					return false
				}
				dir := end.Sub(at).Unit()
				e := geom.Line(at.Add(dir.Scale(from+0.2)), end.Sub(dir.Scale(apart/2)))
				if crossed, leads := g.room.Leads(e); leads && crossed < least {
					best, least = spot{box, &e}, crossed
				}
				return least > 0
			})
			if least <= 0 {
				return best, true
			}
		}
	}
	return best, least < crossing
}

// take keeps a spot from later labels, and draws its leader.
func (g *page) take(s spot) {
	g.room.Take(apart, geom.Rect(s.box))
	if s.leader != nil {
		c := geom.Chain(false, *s.leader)
		g.room.Take(apart, c)
		g.stroke(quietShade, 0.15, c)
	}
}

// longestName is how many characters of a name are shown in the drawing.
const longestName = 24

// fewNames is how many names can have leaders across a drawing: more would hide it, and
// then each stands close by or not at all.
const fewNames = 40

// names writes names where they find room, and says how many don't.
func (g *page) names() {
	left, major := 0, 0
	for _, n := range g.Names {
		if !n.Minor {
			major++
		}
	}
	crowded := major > fewNames
	for _, minor := range []bool{false, true} {
		for _, n := range g.Names {
			if n.Minor == minor && !g.name(n, crowded) && !minor {
				left++
			}
		}
	}
	if left > 0 {
		g.Closing = append(g.Closing, unit.Count(left, "name")+" found no room in the drawing")
	}
}

func (g *page) name(n Name, crowded bool) bool {
	t := sheet.Text{Height: capitals, String: plain(n.Text, longestName), Color: inkShade}
	most, crossing := distances[len(distances)-1], tooMany
	switch {
	case n.Minor:
		t.Height, t.Color, most = small, quietShade, farLabel
	case crowded:
		t.Height, most, crossing = small, 3, 1
	}
	var places []geom.Point
	for _, p := range n.Near {
		places = append(places, g.to.Apply(p))
	}
	s, ok := g.find(places, boxOf(t).Bounds().Size(), g.half(), most, crossing)
	if !ok {
		return false
	}
	g.take(s)
	t.At = s.box.Min.Add(geom.Pt(0, 0.3*t.Height))
	g.text(t)
	return true
}

// numbers writes the numbers of crossings.
func (g *page) numbers() {
	s := numbering.Style{Heights: []float64{small, 1.5}, Half: g.half(), Apart: apart / 2, To: g.to, Color: noteShade, Ink: noteShade, Line: 0.2}
	for _, n := range g.Numbers {
		l := s.Of(n, &g.room)
		g.p.Fills = append(g.p.Fills, l.Fills...)
		g.p.Texts = append(g.p.Texts, l.Texts...)
	}
	if len(g.Numbers) > 0 {
		g.Closing = append(g.Closing, numbering.Legend)
	}
}

// ring and badge are the radii in mm of the ring about a mark's place and of the disc
// with its number.
const ring, badge = 1.3, 2.1

// marks draws the marks' places and their numbers: beside them where there is room,
// else over what is drawn, and never over another.
func (g *page) marks() {
	for i, m := range g.Marks {
		for _, c := range m.rings(g.to, g.area) {
			g.fill(sheet.Fill{Loops: []geom.Contour{c}, Stroke: shadeOf(m.Severity), StrokeWidth: 0.35, Label: "place of " + mark(i, m.Severity)})
			g.room.KeepOff(apart/2, 1, c)
		}
	}
	for i, m := range g.Marks {
		at := g.to.Apply(m.At)
		if !m.Placed || !g.area.Holds(at) {
			continue
		}
		size := geom.Pt(2*badge, 2*badge)
		s, ok := g.find([]geom.Point{at}, size, ring, math.Inf(1), tooMany)
		if !ok {
			s = g.anywhere(at, size)
		}
		g.take(s)
		g.badge(s.box.Center(), i+1, m.Severity)
	}
}

// rings are those about a mark's places that lie within a box of the page.
func (m Mark) rings(to geom.Similarity, box geom.Box) (list []geom.Contour) {
	places := m.Also
	if m.Placed {
		places = append([]geom.Point{m.At}, m.Also...)
	}
	for _, p := range places {
		if at := to.Apply(p); box.Holds(at) {
			list = append(list, geom.Circle(at, ring))
		}
	}
	return list
}

// anywhere is a spot that lies off other labels alone: the nearest that there is.
func (g *page) anywhere(at, size geom.Point) (best spot) {
	const step, most = 2 * badge, 40 // further than any label is from its place
	for k := 1; k <= most; k++ {
		found := false
		around(at, size, ring+apart+float64(k-1)*step, func(box geom.Box, end geom.Point) bool {
			e := geom.Line(at.Add(end.Sub(at).Unit().Scale(ring)), end)
			best = spot{box, &e}
			found = g.area.Holds(box.Min) && g.area.Holds(box.Max) && g.room.Apart(geom.Rect(box))
			return !found
		})
		if found {
			break
		}
	}
	return best
}

// shadeOf is the colour of what is said with a severity.
func shadeOf(s diag.Severity) string {
	switch s {
	case diag.Error:
		return errorShade
	case diag.Warning:
		return warnShade
	case diag.Note:
		return noteShade
	}
	return inkShade
}

// mark names a mark of an index, as the page that shows the picture looks for it.
func mark(i int, s diag.Severity) string { return s.String() + " " + unit.Decimal(float64(i+1), 0) }

// badge draws a number: of an error on a dark disc, of a warning in a heavy ring, of a
// note in a thin one.
func (g *page) badge(at geom.Point, n int, s diag.Severity) {
	f := sheet.Fill{Loops: []geom.Contour{geom.Circle(at, badge-0.2)}, Color: paperShade, Stroke: shadeOf(s), StrokeWidth: 0.25, Label: mark(n-1, s)}
	ink := inkShade
	switch s {
	case diag.Error:
		f.Color, ink = errorShade, paperShade
	case diag.Warning:
		f.StrokeWidth = 0.6
	case diag.Note:
	}
	g.fill(f)
	h := 1.8
	if n >= 100 {
		h = 1.4
	}
	g.text(sheet.Text{At: at.Sub(geom.Pt(0, h/2)), Height: h, String: unit.Decimal(float64(n), 0), Middle: true, Color: ink})
}

// frames draws what the insets show as squares with their letters.
func (g *page) frames() {
	for i, in := range g.Insets {
		at := g.to.Apply(in.At)
		if !g.area.Holds(at) {
			continue
		}
		half := max(in.Half*g.scale, ring)
		box := geom.Rect(geom.Box{Min: at, Max: at}.Expand(half))
		g.stroke(inkShade, 0.2, box)
		g.room.KeepOff(apart/2, 1, box)
		t := sheet.Text{Height: capitals, String: letter(i), Color: inkShade}
		size := boxOf(t).Bounds().Size()
		s, ok := g.find([]geom.Point{at}, size, half+apart, math.Inf(1), tooMany)
		if !ok {
			s = g.anywhere(at, size)
		}
		g.take(s)
		t.At = s.box.Min.Add(geom.Pt(0, 0.3*t.Height))
		g.text(t)
	}
}

// letter is the name of an inset.
func letter(i int) string { return string(rune('A' + i%26)) }

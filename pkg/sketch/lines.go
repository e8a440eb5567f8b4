package sketch

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/label"
	"strapwork/pkg/sheet"
)

// A look is how a style is drawn.
type look struct {
	line  string // of the line, or of the middle of a band
	width float64
	dash  []float64
	band  string
	edge  string
}

func (s Style) look() look {
	switch s {
	case Drawn:
		return look{line: "#1a1a1a", width: 0.5, band: "#dcc79b", edge: "#4a3618"}
	case Copied:
		return look{line: "#8f979d", width: 0.4, band: "#f3ecdd", edge: "#a2947a"}
	case Given:
		return look{line: "#a9c8e4", width: 1.3, band: "#dbe8f4", edge: "#7fa6c9"}
	case Made:
		return look{line: "#9c1420", width: 0.3, band: "#f6dfe0", edge: "#9c1420"}
	case Left:
		return look{line: "#8f979d", width: 0.2, dash: []float64{1.5, 1}, band: "#f4f4f4", edge: "#8f979d"}
	case Parted:
		return look{line: "#3d464d", width: 0.4, dash: []float64{4, 2}, band: "#f4f4f4", edge: "#3d464d"}
	}
	return look{}
}

// edgeWidth is that of the line along a band in mm, and hairline that of its middle:
// both can be printed, and distinguished from one another.
const edgeWidth, hairline = 0.25, 0.15

// narrow is the width in mm of a band on the page under which it is drawn as a line:
// there is nothing to be seen between its edges.
const narrow = 3 * edgeWidth

// wide is that from which its middle is drawn too.
const wide = 2.0

// layer draws lines or bands as they come to lie, within a window unless that is nil.
func (g *page) layer(l Layer, to geom.Similarity, window *geom.Box) {
	var lines []geom.Contour
	for _, c := range l.Lines {
		lines = append(lines, shown(to.Contour(c), window, l.Width*scaleOf(to)/2)...)
	}
	g.drawn(l.Style, lines, l.Width*scaleOf(to), window)
}

// scaleOf is by how much a similarity stretches.
func scaleOf(t geom.Similarity) float64 { return t.Apply(geom.Pt(1, 0)).Dist(t.Apply(geom.Pt(0, 0))) }

// shown is what of a line is seen in a window, to which half its band may reach in.
func shown(c geom.Contour, window *geom.Box, half float64) (out []geom.Contour) {
	if window == nil {
		return []geom.Contour{c}
	}
	for _, s := range c.Within(window.Expand(half)) {
		out = append(out, s.Contour)
	}
	return out
}

// drawn draws lines of the page, or bands about them.
func (g *page) drawn(s Style, lines []geom.Contour, width float64, window *geom.Box) {
	if len(lines) == 0 {
		return
	}
	k := s.look()
	if width < narrow {
		g.fill(sheet.Fill{Loops: lines, Stroke: k.line, StrokeWidth: k.width, Dash: k.dash, Flat: true, Clip: window, Label: s.String()})
		return
	}
	g.fill(sheet.Fill{Loops: lines, Stroke: k.edge, StrokeWidth: width, Flat: true, Clip: window})
	g.within(k, lines, width, window, s.String())
}

// within draws what is between a band's edges.
func (g *page) within(k look, lines []geom.Contour, width float64, window *geom.Box, label string) {
	g.fill(sheet.Fill{Loops: lines, Stroke: k.band, StrokeWidth: width - 2*edgeWidth, Flat: true, Clip: window, Label: label})
	if width >= wide {
		g.fill(sheet.Fill{Loops: lines, Stroke: k.edge, StrokeWidth: hairline, Dash: k.dash, Flat: true, Clip: window})
	}
}

// gap in mm is what is left free beside a line that passes over another, and reach how
// far along it to each side.
const gap, reach = 0.7, 1.6

// passes draws again what passes over something: first what sets it off, and then its
// lines, all of a style together.
func (g *page) passes(to geom.Similarity, window *geom.Box) {
	for s := Drawn; s <= Parted; s++ {
		var lines []geom.Contour
		for _, p := range g.Passes {
			switch {
			case p.Style != s:
			case p.Width*scaleOf(to) >= narrow:
				g.bandPass(p, to, window)
			default:
				lines = append(lines, shown(p.stretch(to, 0), window, 0)...)
			}
		}
		if len(lines) > 0 {
			g.fill(sheet.Fill{Loops: lines, Stroke: paperShade, StrokeWidth: s.look().width + 2*gap, Flat: true, Clip: window})
			g.drawn(s, lines, 0, window)
		}
	}
}

// bandPass draws a band over what it passes. What is between its edges is a little
// longer, so that it ends without a seam.
func (g *page) bandPass(p Pass, to geom.Similarity, window *geom.Box) {
	const seam = 0.3 // mm of the page, more than a pixel of any screen
	width, k := p.Width*scaleOf(to), p.Style.look()
	g.fill(sheet.Fill{Loops: shown(p.stretch(to, 0), window, width/2), Stroke: k.edge, StrokeWidth: width, Flat: true, Clip: window})
	g.within(k, shown(p.stretch(to, seam), window, width/2), width, window, "")
}

// stretch is what of a pass's line is drawn again, as it comes to lie, longer by so much
// at each end.
func (p Pass) stretch(to geom.Similarity, longer float64) geom.Contour {
	k := scaleOf(to)
	half := min(p.Room, max(p.Needs, reach/k)) + longer/k
	return to.Contour(stretch(p.Line, p.At-half, p.At+half))
}

// stretch is a part of a line by distances along it; a closed one is gone round, no more
// than once.
func stretch(c geom.Contour, from, to float64) geom.Contour {
	length := c.Length()
	if !c.Closed {
		return c.Sub(max(0, from), min(length, to))
	}
	return c.Sub(from, min(to, from+length))
}

// Signs are so large in mm, and smaller where there are many.
const largestSign, smallestSign = 2.4, 0.9

// signs draws the signs.
func (g *page) signs() {
	if len(g.Signs) == 0 {
		return
	}
	size := g.area.Size()
	const share = 0.22 // of the room that each would have if all were spread evenly
	g.size = max(smallestSign, min(largestSign, share*math.Sqrt(size.X*size.Y/float64(len(g.Signs)))))
	for k := Joint; k <= Way; k++ {
		var all []geom.Contour
		var arrows label.Room
		for _, s := range g.Signs {
			if s.Kind != k {
				continue
			}
			shape := k.shape(g.to.Apply(s.At), s.Dir, g.size)
			if k == Way && !arrows.Apart(shape...) {
				continue // of arrows in a heap none can be distinguished from the next
			}
			arrows.Take(apart, shape...)
			all = append(all, shape...)
		}
		if len(all) > 0 {
			g.used[k] = true
			g.sign(k, all)
		}
	}
}

// sign fills shapes of signs.
func (g *page) sign(k SignKind, shapes []geom.Contour) {
	f := sheet.Fill{Loops: shapes, Color: paperShade, Stroke: inkShade, StrokeWidth: 0.3, Label: k.String()}
	if k == Tee || k == Way {
		f.Color = inkShade
	}
	g.fill(f)
}

// shape is a sign at a place of the page, of a size.
func (k SignKind) shape(at, dir geom.Point, size float64) []geom.Contour {
	dir = dir.Unit()
	if dir == (geom.Point{}) {
		dir = geom.Pt(1, 0)
	}
	h := size / 2
	along, across := dir.Scale(h), dir.Left().Scale(h)
	switch k {
	case Joint:
		return []geom.Contour{segment(at.Sub(across), at.Add(across))}
	case Corner:
		x, y := geom.Pt(h, 0), geom.Pt(0, h)
		return []geom.Contour{geom.Polygon(at.Sub(x), at.Sub(y), at.Add(x), at.Add(y))}
	case Tee:
		thin := across.Scale(0.35)
		return []geom.Contour{geom.Polygon(at.Sub(along).Sub(thin), at.Add(along).Sub(thin), at.Add(along).Add(thin), at.Sub(along).Add(thin))}
	case End:
		return []geom.Contour{geom.Circle(at, 0.8*h)}
	case Way:
		tip := at.Add(along.Scale(3))
		return []geom.Contour{geom.Polygon(tip, tip.Sub(along.Scale(1.6)).Add(across.Scale(0.7)), tip.Sub(along.Scale(1.6)).Sub(across.Scale(0.7)))}
	}
	return nil
}

package sketch

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/label"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// Measures of the page in mm. It goes on A4 and on Letter, and lettering is that of
// ISO 3098's small sizes.
const (
	pageWidth  = 190.0 // within its margins
	pageMargin = 8.0
	border     = 16.0 // round what is drawn, for names and numbers
	capitals   = 2.4  // height of most lettering
	small      = 1.9  // of names of copies, and of hints
	line       = 4.6  // from one line of lettering to the next
)

// Shades.
const (
	paperShade = "#ffffff"
	inkShade   = "#1a1a1a"
	quietShade = "#5b646b"
	axisShade  = "#8a8f96"
	errorShade = "#b3161d"
	warnShade  = "#a65b00"
	noteShade  = "#1d5c8a"
)

// A page is a picture while it is drawn, in mm of paper: the drawing's place has its
// lower left corner at 0, 0.
type page struct {
	Sketch
	p     sheet.Picture
	shown geom.Box        // of the motif
	scale float64         // of paper over motif
	to    geom.Similarity // from the motif to the page
	area  geom.Box        // of the drawing with its names
	room  label.Room
	foot  float64 // the lowest that was drawn under the drawing
	used  map[SignKind]bool
	size  float64 // of signs
}

// longestTitle is how many characters of a title are shown.
const longestTitle = 200

// Picture draws s.
func (s Sketch) Picture() sheet.Picture {
	g := &page{Sketch: s, used: map[SignKind]bool{}}
	g.p.Title = plain(s.Title, longestTitle)
	g.fill(sheet.Fill{}) // the paper, when its size is known
	g.place()
	g.axes()
	for _, l := range s.Layers {
		g.layer(l, g.to, nil)
	}
	g.passes(g.to, nil)
	g.signs()
	g.keepOff()
	g.frames()
	g.marks()
	g.numbers()
	g.names()
	g.scaleBar()
	g.insets()
	g.legend()
	g.list()
	g.closing()
	top := g.heading()
	g.p.Bounds = geom.Box{Min: geom.Pt(0, g.foot), Max: geom.Pt(pageWidth, top)}.Expand(pageMargin)
	g.p.Fills[0] = sheet.Fill{Loops: []geom.Contour{geom.Rect(g.p.Bounds)}, Color: paperShade}
	return g.p
}

// least is the size in mm of the smallest place that is shown: a single point isn't
// magnified without end.
const least = 1.0

// place finds what is shown, at which scale, and where on the page.
func (g *page) place() {
	g.shown = geom.EmptyBox()
	for _, l := range g.Layers {
		for _, c := range l.Lines {
			g.shown = g.shown.Join(c.Bounds().Expand(l.Width / 2))
		}
	}
	if g.shown.Empty() {
		g.shown = geom.Box{}
	}
	size := g.shown.Size()
	if d := least - max(size.X, size.Y); d > 0 {
		g.shown = g.shown.Expand(d / 2)
	}
	// What lies near is shown too; what is far away would make all else small.
	near := g.shown.Expand(max(size.X, size.Y) / 4)
	for _, m := range g.Marks {
		if m.Placed && near.Holds(m.At) {
			g.shown = g.shown.Include(m.At)
		}
	}
	if g.Axes && near.Holds(geom.Pt(0, 0)) {
		g.shown = g.shown.Include(geom.Pt(0, 0))
	}
	size = g.shown.Size()
	const most = pageWidth - 2*border
	g.scale = roundScale(most / max(size.X, size.Y))
	g.area = geom.Box{Max: geom.Pt(pageWidth, max(size.Y*g.scale, 2*border)+2*border)}
	g.to = geom.Scaling(g.scale).Then(geom.Shifting(g.area.Center().Sub(g.shown.Center().Scale(g.scale))))
}

// scales are the ratios that a scale may have, times powers of ten.
var scales = [...]float64{1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10}

// roundScale is the largest scale of a ratio that a person can work with, no larger
// than most.
func roundScale(most float64) float64 {
	ratio := most
	if most < 1 {
		ratio = 1 / most
	}
	ten := math.Pow(10, math.Floor(math.Log10(ratio)))
	best := ten
	for _, s := range scales {
		const slack = 1e-9 // for what is round itself
		switch s *= ten; {
		case most < 1 && s >= ratio*(1-slack):
			return 1 / s
		case most >= 1 && s <= ratio*(1+slack):
			best = s
		}
	}
	return best
}

// scaleText says a scale as on drawings: "1:2.5", "2:1".
func scaleText(scale float64) string {
	if scale < 1 {
		return "1:" + unit.Decimal(1/scale, 2)
	}
	return unit.Decimal(scale, 2) + ":1"
}

func (g *page) fill(f sheet.Fill) { g.p.Fills = append(g.p.Fills, f) }

// stroke adds lines of the page.
func (g *page) stroke(color string, width float64, lines ...geom.Contour) {
	g.fill(sheet.Fill{Loops: lines, Stroke: color, StrokeWidth: width})
}

func (g *page) text(t sheet.Text) { g.p.Texts = append(g.p.Texts, t) }

// write adds a line of lettering.
func (g *page) write(at geom.Point, height float64, color, s string) {
	g.text(sheet.Text{At: at, Height: height, String: s, Color: color})
}

// segment is a straight line.
func segment(a, b geom.Point) geom.Contour { return geom.Chain(false, geom.Line(a, b)) }

// axes draws the motif's axes, dash and dot, and its origin.
func (g *page) axes() {
	o := g.to.Apply(geom.Pt(0, 0))
	if !g.Axes || !g.area.Holds(o) {
		return
	}
	box := g.area.Expand(-capitals)
	lines := []geom.Contour{segment(geom.Pt(box.Min.X, o.Y), geom.Pt(box.Max.X, o.Y)), segment(geom.Pt(o.X, box.Min.Y), geom.Pt(o.X, box.Max.Y))}
	g.fill(sheet.Fill{Loops: lines, Stroke: axisShade, StrokeWidth: 0.15, Dash: []float64{4, 1, 0.6, 1}, Label: "axes"})
	g.room.KeepOff(apart/2, 0, lines...)
	g.stroke(axisShade, 0.15, geom.Circle(o, 1.2))
	for _, a := range []struct {
		at   geom.Point
		name string
	}{{geom.Pt(box.Max.X-small, o.Y+0.8), "x"}, {geom.Pt(o.X+0.8, box.Max.Y-small), "y"}} {
		t := sheet.Text{At: a.at, Height: small, String: a.name, Color: quietShade}
		g.text(t)
		g.room.Take(apart, boxOf(t))
	}
}

// heading writes title, lines and scale above the drawing, and returns how high it is.
func (g *page) heading() float64 {
	const titleHeight = 3.5
	var rows []string
	for _, l := range append(g.Lines, "scale "+scaleText(g.scale)) {
		rows = append(rows, wrapped(l, capitals, pageWidth)...)
	}
	titles := wrapped(plain(g.Title, longestTitle), titleHeight, pageWidth)
	y := g.area.Max.Y + 2
	for i := len(rows) - 1; i >= 0; i-- {
		g.write(geom.Pt(0, y), capitals, quietShade, rows[i])
		y += line
	}
	y += 1
	for i := len(titles) - 1; i >= 0; i-- {
		g.write(geom.Pt(0, y), titleHeight, inkShade, titles[i])
		y += 1.6 * titleHeight
	}
	return y
}

// scaleBar draws a bar of a round length in the lower left corner.
func (g *page) scaleBar() {
	const longest = 50.0 // mm of paper
	one := 1.0
	if g.Units == unit.Inch {
		one = unit.MMPerInch
	}
	n := longest / g.scale / one // in the units' own
	ten := math.Pow(10, math.Floor(math.Log10(n)))
	for _, s := range []float64{5, 2, 1} {
		if s*ten <= n*(1+1e-9) {
			n = s * ten
			break
		}
	}
	length := n * one * g.scale
	y := g.foot - 4
	a, b := geom.Pt(0, y), geom.Pt(length, y)
	up := geom.Pt(0, 1.2)
	g.stroke(inkShade, 0.25, segment(a, b), segment(a.Sub(up), a.Add(up)), segment(b.Sub(up), b.Add(up)))
	g.write(geom.Pt(length+2, y-capitals/2), capitals, inkShade, unit.Len(n*one).In(g.Units))
	g.foot = y - line
}

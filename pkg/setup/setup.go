// Package setup draws each set-up, a panel laid in one position, as a picture
// for the bench: the work, the frame and the panel as they lie, the tracks, what
// is cut, in which order and which way round, and what the router's base
// passes over.
//
// A picture is in the work's coordinates, in true mm: the motif's origin and
// axes, the upper edge up. Shades and strokes differ so that a grey print can
// be read.
package setup

import (
	"math"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Params are what pictures of set-ups show besides panels and frame.
type Params struct {
	Title  string // of the job
	Units  unit.System
	Router work.Router
	Margin float64     // of the panels, mm
	Board  *work.Board // nil where nothing is said of it
	Wood   work.Wood
	Table  *work.Table // that comes apart, or nil: Board is the work at its first station
}

// Pictures draws all set-ups of a job in the order of work: panel by panel,
// position by position. A job without panels has none.
func Pictures(j Params, g groove.Groove, s template.Set) []sheet.Picture {
	all := s.Plan.SetUps
	if len(all) == 0 {
		return nil
	}
	ideal := g.Area()
	pictures := make([]sheet.Picture, len(all))
	for i, u := range all {
		d := newDrawing(j, g, s, u)
		sweep := d.sweep()
		d.measure(s.Frame, sweep)
		d.scene(ideal, s)
		d.axes()
		d.boardRim()
		if d.sweeps() {
			d.p.Fills = append(d.p.Fills, d.sweepLine(sweep.Loops()))
		}
		d.cuts()
		if s.Rail != nil {
			d.holeNumbers(s.Rail)
		}
		d.upperEdge("upper edge of the work")
		d.words(s.Frame != nil)
		pictures[i] = d.p
	}
	return pictures
}

func newDrawing(j Params, g groove.Groove, s template.Set, u plan.SetUp) *drawing {
	return &drawing{j: j, g: g, u: u, of: len(s.Plan.SetUps), panel: s.Panels[u.Panel], laid: u.Position.Similarity(), rail: s.Rail}
}

// Shades, from light to dark: also as greys, what lies side by side differs.
const (
	pageShade   = "#ffffff"
	rimShade    = "#7a5a2e"
	frameShade  = "#d2d6da"
	holeShade   = "#ffffff"
	wedgeShade  = "#a9b0b7"
	panelShade  = "#f6f8fa"
	grooveShade = "#9c958b"
	cutShade    = "#6b1020"
	markShade   = "#8a8f96"
	lineShade   = "#1a1a1a"
	sweepShade  = "#4a4a4a"
)

// A drawing is a picture while it is drawn.
type drawing struct {
	j     Params
	g     groove.Groove
	u     plan.SetUp
	of    int // set-ups in all
	panel template.Panel
	laid  geom.Similarity // the panel, as drawn, to the work
	box   geom.Box        // of all but the words
	h     float64         // height of capitals, mm
	card  bool            // for the cutting card: few words
	rail  *fixture.Rail   // nil where panels aren't stepped
	p     sheet.Picture

	labels []geom.Contour // what labels, leaders and arrows take up so far
}

// Lettering and strokes grow with what is drawn, so that it can be read when
// the picture is made to fit a page or a screen.
const (
	leastText  = 4.0   // mm at true size
	leastShare = 0.75  // of the usual text, of what has little room: 3 mm, more than the 2.5 of ISO 3098's small lettering
	textShare  = 0.014 // of the longer side
	lineShare  = 0.08  // of the text's height
)

// scene draws the work, the frame and the panel as they lie, the groove, and what is cut.
func (d *drawing) scene(ideal region.Region, s template.Set) {
	d.work()
	if frame := s.Frame; frame != nil {
		d.fill(frameShade, lineShade, 0.5, "frame", d.seen(frame.Wood)...)
		d.fixings(frame)
	}
	if d.rail != nil {
		d.along(d.rail)
		ideal = d.within(ideal)
	}
	d.wall()
	if d.rail != nil {
		d.pin(d.rail)
	}
	d.fill(grooveShade, "", 0, "groove", ideal.Loops()...)
	for i, t := range d.u.Tracks {
		if !t.Spare {
			d.fill(cutShade, "", 0, "cut "+t.Cut.Name, d.grown(i, d.g.Size.Bit/2).Loops()...)
		}
	}
}

// cuts draws how each cut is made, its number, and what is left alone.
func (d *drawing) cuts() {
	for _, t := range d.u.Made() {
		d.travel(t)
	}
	d.number(d.u.Made())
	for _, t := range d.u.Spare() {
		d.crossOut(t.Line)
	}
}

// measure finds what is shown, and with it how large letters are.
func (d *drawing) measure(frame *fixture.Frame, sweep region.Region) {
	d.box = d.laid.Contour(d.panel.Outline).Bounds().Join(sweep.Bounds())
	if d.rail != nil {
		d.measureAlong()
		return
	}
	if frame != nil {
		d.box = d.box.Join(frame.Wood.Bounds())
	}
	if d.j.Board != nil {
		d.box = d.box.Join(d.j.Board.Box())
	}
	size := d.box.Size()
	d.h = math.Max(leastText, textShare*math.Max(size.X, size.Y))
}

// fixings are the frame's screw holes, and its wedges where they are driven.
func (d *drawing) fixings(frame *fixture.Frame) {
	var holes, wedges []geom.Contour
	for _, w := range frame.Wedges {
		wedges = append(wedges, d.seen(region.New(w.Outline(frame.Gap)))...)
	}
	d.fill(wedgeShade, lineShade, 0.5, "wedges", wedges...)
	if d.card {
		return
	}
	for _, s := range frame.Screws {
		holes = append(holes, geom.Circle(s.At, fixture.ScrewHole/2))
	}
	d.fill(holeShade, lineShade, 0.5, "screw holes", holes...)
}

// fill adds an area or lines; width is in strokes of usual width.
func (d *drawing) fill(color, stroke string, width float64, label string, loops ...geom.Contour) {
	if len(loops) == 0 {
		return
	}
	d.p.Fills = append(d.p.Fills, sheet.Fill{Loops: loops, Color: color, Stroke: stroke, StrokeWidth: width * d.stroke(), Hair: true, Label: label})
}

// mark adds what is only as large as letters, and so are its strokes.
func (d *drawing) mark(color, stroke string, width float64, label string, loops ...geom.Contour) {
	d.fill(color, stroke, width, label, loops...)
	d.p.Fills[len(d.p.Fills)-1].Hair = false
}

func (d *drawing) stroke() float64 { return lineShare * d.h }

func (d *drawing) text(at geom.Point, height float64, middle bool, s string) {
	d.p.Texts = append(d.p.Texts, sheet.Text{At: at, Height: height, String: s, Middle: middle})
}

// grown is all places within r of where the bit's centre may go in a track, as
// laid.
func (d *drawing) grown(track int, r float64) region.Region {
	c := d.panel.Openings[track].Cut
	if d.g.Size.Thin() {
		return region.Stroke(c.Line, r).Transform(d.laid)
	}
	return c.Centre.Grow(r).Transform(d.laid)
}

// baseRadius is that of the router's base; 0 when it is not known.
func (d *drawing) baseRadius() float64 {
	return d.j.Router.BaseRadius()
}

// sweep is what the base passes over in all cuts of the set-up; empty when its
// size is not known.
func (d *drawing) sweep() region.Region {
	r := d.baseRadius()
	if r <= 0 {
		return region.Region{}
	}
	var all []region.Region
	for i, t := range d.u.Tracks {
		if !t.Spare {
			all = append(all, d.grown(i, r))
		}
	}
	return region.Union(all...)
}

// sweeps reports whether it is worth drawing: a base that rides the walls stays
// within the track.
func (d *drawing) sweeps() bool { return d.baseRadius() > 0 && !d.j.Router.Guide.RidesBase() }

func (d *drawing) sweepLine(loops []geom.Contour) sheet.Fill {
	s := d.stroke()
	return sheet.Fill{Loops: loops, Stroke: sweepShade, StrokeWidth: s, Hair: true, Dash: []float64{6 * s, 4 * s}, Label: "what the router's base passes over"}
}

// wall draws the panel as laid and its openings. What is engraved on it isn't drawn:
// cuts are seen better without.
func (d *drawing) wall() {
	wood := []geom.Contour{d.laid.Contour(d.panel.Outline)}
	if d.laid.Mirrors() {
		wood[0] = wood[0].Reverse()
	}
	var tracks []geom.Contour
	for _, o := range d.panel.Openings {
		tracks = append(tracks, o.Area.Transform(d.laid).Loops()...)
	}
	for _, t := range tracks {
		wood = append(wood, t.Reverse())
	}
	d.fill(panelShade, lineShade, 1.6, "panel "+d.panel.ID, wood...)
	d.fill(boardShade(d.j.Wood), lineShade, 0.8, "track", tracks...)
}

// axes draws the work's pencilled axes, dash and dot, as far as anything shows.
func (d *drawing) axes() {
	s := d.stroke()
	box := d.box.Include(geom.Pt(0, 0)).Expand(d.h)
	lines := []geom.Contour{
		geom.Chain(false, geom.Line(geom.Pt(box.Min.X, 0), geom.Pt(box.Max.X, 0))),
		geom.Chain(false, geom.Line(geom.Pt(0, box.Min.Y), geom.Pt(0, box.Max.Y))),
	}
	if d.rail != nil {
		lines = d.axesShown()
	}
	d.p.Fills = append(d.p.Fills, sheet.Fill{
		Loops:  lines,
		Stroke: markShade, StrokeWidth: 0.5 * s, Hair: true, Dash: []float64{12 * s, 3 * s, 2 * s, 3 * s}, Label: "axes of the work",
	})
}

package fromdxf

import (
	"math"

	"strapwork/pkg/drawing"
	"strapwork/pkg/dxf/tags"
	"strapwork/pkg/geom"
)

// maxKept is how many entities, segments and vertices of a file are kept, used or not:
// blocks that nothing inserts are among them.
const maxKept = 8 * drawing.MaxCurves

// A body is what the ENTITIES section, or a block, holds.
type body struct {
	items  []item
	passed drawing.Drawing // what is no line to follow, counted
}

// An item is an entity that is drawn, or would be if it could be read.
type item struct {
	style
	shape
	line int
	bad  error // why it can't be read: said where it is drawn
}

// A shape is what an entity draws, in the coordinates of what holds it.
type shape struct {
	segments []drawing.Segment
	closed   bool
	width    float64
	insert   *insert
	pass     string // why it is no line to follow; empty where it is
	doubt    string // what may be other than it was meant; empty: nothing
}

// out is a shape that is passed over.
func out(why string) shape { return shape{pass: why} }

// Reasons for which lines are passed over.
const (
	outOfPlane  = "line out of the plane"
	noLength    = "line of no length"
	hidden      = "hidden"
	hiddenLayer = "hidden layer"
	paperSpace  = "paper space"
)

// passes are entities that are no lines to follow, and what they are called.
var passes = map[string]string{
	"TEXT": "text", "MTEXT": "text", "ATTRIB": "text", "ATTDEF": "text", "SHAPE": "text", "RTEXT": "text",
	"DIMENSION": "dimension", "ARC_DIMENSION": "dimension", "LARGE_RADIAL_DIMENSION": "dimension",
	"LEADER": "dimension", "MULTILEADER": "dimension", "MLEADER": "dimension", "TOLERANCE": "dimension",
	"HATCH": "hatch", "MPOLYGON": "hatch", "SOLID": "filled shape", "TRACE": "filled shape",
	"WIPEOUT": "picture", "IMAGE": "picture", "OLEFRAME": "picture", "OLE2FRAME": "picture", "UNDERLAY": "picture",
	"PDFUNDERLAY": "picture", "DWFUNDERLAY": "picture", "DGNUNDERLAY": "picture",
	"POINT": "point", "VIEWPORT": "view", "LIGHT": "view", "CAMERA": "view", "SUN": "view",
	"3DFACE": "solid", "3DSOLID": "solid", "BODY": "solid", "REGION": "solid", "MESH": "solid", "SURFACE": "solid",
	"EXTRUDEDSURFACE": "solid", "LOFTEDSURFACE": "solid", "REVOLVEDSURFACE": "solid", "SWEPTSURFACE": "solid",
	"PLANESURFACE": "solid", "HELIX": outOfPlane, "RAY": "endless line", "XLINE": "endless line",
	"MLINE": "multiline", "ACAD_TABLE": "table",
}

// readers read the entities that draw lines.
var readers = map[string]func(*record) shape{
	"LINE": (*record).straight, "ARC": (*record).arc, "CIRCLE": (*record).circle, "ELLIPSE": (*record).ellipse,
	"LWPOLYLINE": (*record).lwpolyline, "POLYLINE": (*record).polyline, "SPLINE": (*record).spline,
	"INSERT": (*record).insertion,
}

// entities reads entities up to the word that ends them.
func (p *parser) entities(b *body, end string) error {
	for {
		t, err := p.tags.Next()
		switch {
		case err != nil || t.Is(end):
			return err
		case t.Code != 0:
			return tags.Errorf(t.Line, "expected an entity or %s, found group %d", end, t.Code)
		case t.Value == "ENDSEC", t.Value == "EOF", t.Value == "SECTION":
			return tags.Errorf(t.Line, "expected an entity or %s, found %s", end, t.Value)
		}
		if err := p.entity(b, t); err != nil {
			return err
		}
		if p.kept > maxKept {
			return tooMuch(t.Line, "the file holds more than %d entities and vertices", maxKept)
		}
	}
}

// entity reads one entity whose word has been read.
func (p *parser) entity(b *body, word tags.Tag) error {
	read, drawn := readers[word.Value]
	keep := keepAll
	if !drawn {
		keep = func(code int) bool { return code == 67 }
	}
	r, err := p.record(word, keep)
	if err == nil && r.kind == "POLYLINE" {
		err = p.vertices(r)
	}
	if err != nil || r.kind == "SEQEND" { // the end of an INSERT's attributes
		return err
	}
	it := item{line: r.line, style: p.style(r)}
	switch {
	case drawn:
		it.shape = read(r)
	case passes[r.kind] != "":
		it.pass = passes[r.kind]
	default:
		it.pass = "unknown entity"
	}
	onPaper, unseen := r.whole(67, 0) == 1, r.whole(60, 0) == 1
	if it.bad = r.err; it.bad != nil {
		it.shape = shape{} // made of wrong numbers
	}
	switch {
	case onPaper:
		it.pass = paperSpace
	case unseen:
		it.pass = hidden
	}
	if it.pass != "" {
		b.passed.Pass(it.pass, p.at(it.line))
		return nil
	}
	p.kept += 1 + len(it.segments)
	b.items = append(b.items, it)
	return nil
}

// A style is what all entities say of themselves.
type style struct {
	layer    string
	color    ink
	linetype string
	weight   int
	handle   string
}

// style reads what all entities say: 5 handle, 6 line type, 8 layer, 62 and 420 colour,
// 370 line weight. (And 60, 1 for invisible; 67, 1 for paper space.)
func (p *parser) style(r *record) style {
	return style{
		handle: r.text(5, ""), layer: p.name(r.text(8, "0")), linetype: p.name(r.text(6, byLayerName)),
		color: r.ink(colorByLayer), weight: r.whole(370, byLayer),
	}
}

// straight reads LINE: 10 and 11 its ends, in the drawing's own axes whatever its
// extrusion.
func (r *record) straight() shape {
	l := drawing.Line{A: r.point(10), B: r.point(11)}
	h := newHeights()
	h.add(l.A, r.number(30, 0))
	h.add(l.B, r.number(31, 0))
	switch {
	case !h.flat():
		return out(outOfPlane)
	case l.A == l.B:
		return out(noLength)
	}
	return shape{segments: []drawing.Segment{l}}
}

// round reads what ARC and CIRCLE share: 10 the centre, 40 the radius, in the axes of
// their own plane.
func (r *record) round(from, sweep float64) shape {
	center, radius := r.point(10), math.Abs(r.must(40))
	if radius == 0 {
		return out(noLength)
	}
	whole := sweep >= 2*math.Pi
	return r.faced(shape{segments: []drawing.Segment{drawing.Circle(center, radius, from, sweep)}, closed: whole})
}

// circle reads CIRCLE.
func (r *record) circle() shape { return r.round(0, 2*math.Pi) }

// arc reads ARC: 50 and 51 the degrees at which it begins and ends, counter-clockwise.
func (r *record) arc() shape {
	from, to := r.must(50), r.must(51)
	return r.round(from*math.Pi/180, onTo(from, to, 360)*math.Pi/180)
}

// onTo is how far it is from one angle on to another: above 0, up to a full turn.
func onTo(from, to, full float64) float64 {
	turn := math.Mod(to-from, full)
	if turn <= 0 {
		turn += full
	}
	return turn
}

// fromBehind is how a plane that faces down is seen from above.
var fromBehind = drawing.Stretch(-1, 1)

// faced is a shape read in the axes of its own plane, as it is seen from above.
func (r *record) faced(s shape) shape {
	switch r.facing() {
	case up:
	case down:
		for i, g := range s.segments {
			s.segments[i] = g.Moved(fromBehind)
		}
	case askew:
		return out(outOfPlane)
	}
	return s
}

// ellipse reads ELLIPSE: 10 the centre, 11 the end of the major half axis from there, 40
// the minor one as a share of it, 41 and 42 where it begins and ends in radians of the
// parameter, counter-clockwise round the extrusion; in the drawing's own axes.
func (r *record) ellipse() shape {
	major, ratio, way := r.point(11), math.Abs(r.must(40)), r.facing()
	from := r.number(41, 0)
	sweep := onTo(from, r.number(42, 2*math.Pi), 2*math.Pi)
	e := drawing.Ellipse{Center: r.point(10), Major: major, Minor: major.Left().Scale(ratio), From: from, Sweep: sweep}
	switch {
	case way == askew || math.Abs(r.number(31, 0)) > level*major.Norm():
		return out(outOfPlane)
	case major == geom.Pt(0, 0) || ratio == 0:
		return out(noLength)
	case way == down: // the minor axis is the extrusion times the major one
		e.Minor = e.Minor.Scale(-1)
	}
	whole := sweep >= 2*math.Pi*(1-tiny)
	if whole {
		e.Sweep = 2 * math.Pi
	}
	return shape{segments: []drawing.Segment{e}, closed: whole}
}

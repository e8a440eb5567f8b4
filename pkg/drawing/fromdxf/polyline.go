package fromdxf

import (
	"math"

	"strapwork/pkg/drawing"
	"strapwork/pkg/dxf/tags"
	"strapwork/pkg/geom"
)

// A vertex is where an edge of a polyline begins.
type vertex struct {
	geom.Point
	z        float64
	bulge    float64 // of the edge that begins here: the tangent of a quarter of its sweep
	from, to float64 // the edge's width at its ends
}

// Flags of POLYLINE and VERTEX, group 70.
const (
	polylineClosed = 1
	polyline3D     = 8
	polylineMesh   = 16 | 64 // of polygons, of faces
	vertexFrame    = 16      // a control point of a fitted spline, which is not on it
)

// vertices reads the VERTEX entities of a POLYLINE up to SEQEND: 10, 20, 30 the place, 40
// and 41 the widths (those of the polyline where left out), 42 the bulge, 70 flags. Of
// one that was fitted these are the fitted vertices and, left out here, the frame.
func (p *parser) vertices(r *record) error {
	from, to := r.number(40, 0), r.number(41, 0)
	for {
		t, err := p.tags.Next()
		if err != nil {
			return err
		}
		if t.Value != "VERTEX" && t.Value != "SEQEND" { // each ended at a group 0
			p.tags.Unread(t) // some leave SEQEND out
			return nil
		}
		v, err := p.record(t, keepAll)
		if err != nil || v.kind == "SEQEND" {
			return err
		}
		if p.kept++; p.kept > maxKept {
			return nil // entities reports it
		}
		if v.whole(70, 0)&vertexFrame == 0 {
			r.vertices = append(r.vertices, vertex{
				v.point(10), v.number(30, 0), v.number(42, 0), v.number(40, from), v.number(41, to),
			})
		}
		if v.err != nil {
			r.fail(v.err)
		}
	}
}

// polyline reads POLYLINE: 70 flags, and its vertices; flat ones are in the axes of their
// own plane.
func (r *record) polyline() shape {
	flags := r.whole(70, 0)
	closed := flags&polylineClosed != 0
	switch {
	case flags&polylineMesh != 0:
		return out("solid")
	case flags&polyline3D != 0:
		h := newHeights()
		for i := range r.vertices {
			v := &r.vertices[i]
			v.bulge, v.from, v.to = 0, 0, 0
			h.add(v.Point, v.z)
		}
		if !h.flat() {
			return out(outOfPlane)
		}
		return chain(r.vertices, closed)
	}
	return r.faced(chain(r.vertices, closed))
}

// lwpolyline reads LWPOLYLINE: 70 flags, 43 the width of all edges, and for each vertex
// 10, 20 its place, then 40, 41 its edge's widths and 42 its bulge.
func (r *record) lwpolyline() shape {
	width := r.number(43, 0)
	var vs []vertex
	for _, t := range r.tags {
		switch t.Code {
		case 10:
			vs = append(vs, vertex{Point: geom.Pt(r.value(t), math.NaN()), from: width, to: width})
		case 20, 40, 41, 42:
			r.of(t, vs)
		}
	}
	for _, v := range vs {
		if math.IsNaN(v.Y) {
			r.fail(tags.Errorf(r.line, "%s has a vertex without y", r.kind))
		}
	}
	return r.faced(chain(vs, r.whole(70, 0)&polylineClosed != 0))
}

// of takes a group that belongs to the last vertex. (A width that comes before all is a
// default of old files.)
func (r *record) of(t tags.Tag, vs []vertex) {
	if len(vs) == 0 {
		if t.Code == 20 || t.Code == 42 {
			r.fail(tags.Errorf(t.Line, "group %d comes before its vertex", t.Code))
		}
		return
	}
	v, value := &vs[len(vs)-1], r.value(t)
	switch t.Code {
	case 20:
		v.Y = value
	case 40:
		v.from = value
	case 41:
		v.to = value
	case 42:
		v.bulge = value
	}
}

// straightest is the largest bulge that is taken for none: the arc leaves its chord by
// half of that, as a share, and the rounding of its centre would move it by as much.
const straightest = 1e-8

// chain is the shape through vertices; edges of no length are left out.
func chain(vs []vertex, closed bool) shape {
	var s shape
	box := geom.EmptyBox()
	for i, v := range vs {
		box = box.Include(v.Point)
		if i == len(vs)-1 && !closed {
			break
		}
		if next := vs[(i+1)%len(vs)].Point; next != v.Point {
			s.segments = append(s.segments, edge(v, next))
			s.width = max(s.width, v.from, v.to)
		}
	}
	if len(s.segments) == 0 {
		return out(noLength)
	}
	size := box.Size().Norm()
	s.closed = closed || len(s.segments) > 1 && together(vs[0].Point, vs[len(vs)-1].Point, size)
	return s
}

// edge is the line or arc from a vertex to the next point.
func edge(v vertex, to geom.Point) drawing.Segment {
	if math.Abs(v.bulge) < straightest {
		return drawing.Line{A: v.Point, B: to}
	}
	// The centre lies on the chord's middle line, (1 - bulge²) / (4 bulge) chords to the left.
	chord := to.Sub(v.Point)
	center := v.Lerp(to, 0.5).Add(chord.Left().Scale((1 - v.bulge*v.bulge) / (4 * v.bulge)))
	start := v.Sub(center)
	return drawing.Ellipse{Center: center, Major: start, Minor: start.Left(), Sweep: 4 * math.Atan(v.bulge)}
}

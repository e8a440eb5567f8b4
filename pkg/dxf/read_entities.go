package dxf

import (
	"strings"

	"strapwork/pkg/dxf/tags"
	"strapwork/pkg/geom"
)

// maxVertices is far above what a template has (a busy panel has some thousands), but a
// file that exceeds it is a drawing of something else: it holds memory within a small
// multiple of what any part of a template needs.
const maxVertices = 1 << 20

// coordinate is t's value as a number that may be a coordinate.
func coordinate(t tags.Tag) (float64, error) {
	v, err := t.Number()
	if err == nil && !within(v) {
		err = tags.Errorf(t.Line, "%g is beyond %g", v, maxCoordinate)
	}
	return v, err
}

// entitiesSection reads the figures.
func (p *parser) entitiesSection() error {
	for {
		t, err := p.tags.Next()
		if err != nil {
			return err
		}
		if t.Code != 0 {
			return tags.Errorf(t.Line, "expected an entity or ENDSEC, found group %d", t.Code)
		}
		switch t.Value {
		case "ENDSEC":
			return nil
		case "LWPOLYLINE":
			err = p.lwpolyline(t.Line)
		case "POLYLINE":
			err = p.polyline(t.Line)
		case "CIRCLE":
			err = p.circle(t.Line)
		default:
			err = tags.Errorf(t.Line, "%.40s: only LWPOLYLINE, POLYLINE and CIRCLE are read", t.Value)
		}
		if err != nil {
			return err
		}
	}
}

// each calls take for every group up to the next group 0, which it puts back.
// Groups that all entities share are dealt with here; layer is checked to be
// in the table.
func (p *parser) each(line int, take func(tags.Tag) error) (layer string, err error) {
	for {
		t, err := p.tags.Next()
		if err != nil {
			return "", err
		}
		switch t.Code {
		case 0:
			p.tags.Unread(t)
			if !p.layers[layer] {
				return "", tags.Errorf(line, "layer %.40q is not in the table of layers", layer)
			}
			return layer, nil
		case 8:
			layer = t.Value
		default:
			if err := common(t, take); err != nil {
				return "", err
			}
		}
	}
}

// common passes t on to take unless it is a group that says nothing about
// shape (handles, owners, subclass markers, colour, line type and weight) or one that
// may only have its neutral value.
func common(t tags.Tag, take func(tags.Tag) error) error {
	switch t.Code {
	case 5, 6, 48, 62, 100, 102, 330, 360, 370, 390:
		return nil
	case 38, 39, 67, 210, 220: // elevation, thickness, paper space, extrusion
		return mustBe(t, 0)
	case 230:
		return mustBe(t, 1)
	}
	return take(t)
}

// mustBe reports an error unless t has the value v.
func mustBe(t tags.Tag, v float64) error {
	got, err := t.Number()
	if err == nil && got != v {
		err = tags.Errorf(t.Line, "group %d is %g: only %g is read", t.Code, got, v)
	}
	return err
}

func unexpected(t tags.Tag, entity string) error {
	return tags.Errorf(t.Line, "group %d in %s is not read", t.Code, entity)
}

// A vertexReader gathers vertices, each begun by its x.
type vertexReader struct {
	vertices []geom.Vertex
	hasY     bool // of the last vertex
}

// take takes the groups 10, 20 and 42, and reports whether t was one.
func (v *vertexReader) take(t tags.Tag) (bool, error) {
	n := len(v.vertices) - 1
	switch t.Code {
	case 10:
		if n >= 0 && !v.hasY {
			return true, tags.Errorf(t.Line, "the vertex before has no y")
		}
		x, err := coordinate(t)
		v.vertices = append(v.vertices, geom.Vertex{Point: geom.Pt(x, 0)})
		v.hasY = false
		return true, err
	case 20, 42:
		if n < 0 || (t.Code == 20 && v.hasY) {
			return true, tags.Errorf(t.Line, "group %d comes before its vertex", t.Code)
		}
		x, err := coordinate(t)
		if t.Code == 20 {
			v.vertices[n].Y, v.hasY = x, true
			return true, err
		}
		if err == nil && (x < -1 || x > 1) {
			err = tags.Errorf(t.Line, "the bulge %g is an arc of more than a half circle, which is not read", x)
		}
		v.vertices[n].Bulge = x
		return true, err
	}
	return false, nil
}

// lwpolyline reads an LWPOLYLINE.
func (p *parser) lwpolyline(line int) error {
	if p.drawing.Version == R12 {
		return tags.Errorf(line, "release 12 has no LWPOLYLINE")
	}
	var v vertexReader
	flags, count := 0, -1
	layer, err := p.each(line, func(t tags.Tag) (err error) {
		if ok, err := v.take(t); ok || err != nil {
			return p.countVertex(t, err)
		}
		switch t.Code {
		case 90:
			count, err = t.Integer()
		case 70:
			flags, err = t.Integer()
		case 40, 41, 43:
			err = mustBe(t, 0)
		default:
			err = unexpected(t, "LWPOLYLINE")
		}
		return err
	})
	if err != nil {
		return err
	}
	if count != len(v.vertices) {
		return tags.Errorf(line, "LWPOLYLINE has %d vertices, but says %d", len(v.vertices), count)
	}
	if len(v.vertices) > 0 && !v.hasY {
		return tags.Errorf(line, "the last vertex has no y")
	}
	// 128 is "plinegen", how a dashed line runs through the corners.
	return p.addLine(line, layer, flags&^128, v.vertices)
}

// countVertex holds the total of vertices within its limit.
func (p *parser) countVertex(t tags.Tag, err error) error {
	if err != nil || t.Code != 10 {
		return err
	}
	if p.vertices++; p.vertices > maxVertices {
		return tags.Errorf(t.Line, "more than %d vertices: this is no template", maxVertices)
	}
	return nil
}

// addLine adds a polyline; flags may be 0 (open) or 1 (closed).
func (p *parser) addLine(line int, layer string, flags int, vs []geom.Vertex) error {
	if flags != 0 && flags != 1 {
		return tags.Errorf(line, "a polyline with the flags %d: only flat ones of lines and arcs are read", flags)
	}
	if len(vs) < 2 {
		return tags.Errorf(line, "a polyline of %d vertices has no edge", len(vs))
	}
	if flags == 0 {
		vs[len(vs)-1].Bulge = 0 // it means nothing
	}
	p.drawing.Lines = append(p.drawing.Lines, Line{layer, geom.Contour{Vertices: vs, Closed: flags == 1}})
	return nil
}

// polyline reads a POLYLINE with its VERTEX entities up to SEQEND.
func (p *parser) polyline(line int) error {
	flags := 0
	layer, err := p.each(line, func(t tags.Tag) (err error) {
		switch t.Code {
		case 66:
			return mustBe(t, 1)
		case 70:
			flags, err = t.Integer()
			return err
		case 10, 20, 30, 40, 41:
			return mustBe(t, 0)
		}
		return unexpected(t, "POLYLINE")
	})
	if err != nil {
		return err
	}
	var vs []geom.Vertex
	for {
		t, err := p.tags.Next()
		if err != nil {
			return err
		}
		switch t.Value { // each ended at a group 0
		case "VERTEX":
			v, err := p.vertex(t.Line, layer)
			if err != nil {
				return err
			}
			vs = append(vs, v)
		case "SEQEND":
			if _, err := p.each(t.Line, func(t tags.Tag) error { return unexpected(t, "SEQEND") }); err != nil {
				return err
			}
			return p.addLine(line, layer, flags&^128, vs)
		default:
			return tags.Errorf(t.Line, "expected VERTEX or SEQEND, found %.40s", strings.TrimSpace(t.Value))
		}
	}
}

// vertex reads one VERTEX, which must be on its polyline's layer.
func (p *parser) vertex(line int, layer string) (geom.Vertex, error) {
	var v vertexReader
	own, err := p.each(line, func(t tags.Tag) error {
		if ok, err := v.take(t); ok || err != nil {
			return p.countVertex(t, err)
		}
		switch t.Code {
		case 30, 40, 41, 70:
			return mustBe(t, 0)
		}
		return unexpected(t, "VERTEX")
	})
	if err != nil {
		return geom.Vertex{}, err
	}
	if own != layer {
		return geom.Vertex{}, tags.Errorf(line, "a VERTEX on layer %.40q belongs to a POLYLINE on layer %.40q", own, layer)
	}
	if len(v.vertices) != 1 || !v.hasY {
		return geom.Vertex{}, tags.Errorf(line, "a VERTEX needs one x and one y")
	}
	return v.vertices[0], nil
}

// circle reads a CIRCLE.
func (p *parser) circle(line int) error {
	var c [3]float64
	var seen [3]bool
	layer, err := p.each(line, func(t tags.Tag) (err error) {
		i := 0
		switch t.Code {
		case 10:
		case 20:
			i = 1
		case 40:
			i = 2
		case 30:
			return mustBe(t, 0)
		default:
			return unexpected(t, "CIRCLE")
		}
		if seen[i] {
			return tags.Errorf(t.Line, "group %d is given twice", t.Code)
		}
		seen[i] = true
		c[i], err = coordinate(t)
		return err
	})
	if err != nil {
		return err
	}
	if seen != [3]bool{true, true, true} || c[2] <= 0 {
		return tags.Errorf(line, "a CIRCLE needs a centre and a radius above 0")
	}
	p.drawing.Circles = append(p.drawing.Circles, Circle{layer, geom.Pt(c[0], c[1]), c[2]})
	return nil
}

package dxf

import (
	"strings"

	"strapwork/pkg/geom"
)

// entitiesSection reads the figures.
func (p *parser) entitiesSection() error {
	for {
		t, err := p.tags.next()
		if err != nil {
			return err
		}
		if t.code != 0 {
			return errorAt(t.line, "expected an entity or ENDSEC, found group %d", t.code)
		}
		switch t.value {
		case "ENDSEC":
			return nil
		case "LWPOLYLINE":
			err = p.lwpolyline(t.line)
		case "POLYLINE":
			err = p.polyline(t.line)
		case "CIRCLE":
			err = p.circle(t.line)
		default:
			err = errorAt(t.line, "%.40s: only LWPOLYLINE, POLYLINE and CIRCLE are read", t.value)
		}
		if err != nil {
			return err
		}
	}
}

// each calls take for every group up to the next group 0, which it puts back.
// Groups that all entities share are dealt with here; layer is checked to be
// in the table.
func (p *parser) each(line int, take func(tag) error) (layer string, err error) {
	for {
		t, err := p.tags.next()
		if err != nil {
			return "", err
		}
		switch t.code {
		case 0:
			p.tags.unread(t)
			if !p.layers[layer] {
				return "", errorAt(line, "layer %.40q is not in the table of layers", layer)
			}
			return layer, nil
		case 8:
			layer = t.value
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
func common(t tag, take func(tag) error) error {
	switch t.code {
	case 5, 6, 48, 62, 100, 102, 330, 360, 370, 390:
		return nil
	case 38, 39, 67, 210, 220: // elevation, thickness, paper space, extrusion
		return t.mustBe(0)
	case 230:
		return t.mustBe(1)
	}
	return take(t)
}

// mustBe reports an error unless t has the value v.
func (t tag) mustBe(v float64) error {
	got, err := t.number()
	if err == nil && got != v {
		err = errorAt(t.line, "group %d is %g: only %g is read", t.code, got, v)
	}
	return err
}

func unexpected(t tag, entity string) error {
	return errorAt(t.line, "group %d in %s is not read", t.code, entity)
}

// A vertexReader gathers vertices, each begun by its x.
type vertexReader struct {
	vertices []geom.Vertex
	hasY     bool // of the last vertex
}

// take takes the groups 10, 20 and 42, and tells whether t was one.
func (v *vertexReader) take(t tag) (bool, error) {
	n := len(v.vertices) - 1
	switch t.code {
	case 10:
		if n >= 0 && !v.hasY {
			return true, errorAt(t.line, "the vertex before has no y")
		}
		x, err := t.coordinate()
		v.vertices = append(v.vertices, geom.Vertex{Point: geom.Pt(x, 0)})
		v.hasY = false
		return true, err
	case 20, 42:
		if n < 0 || (t.code == 20 && v.hasY) {
			return true, errorAt(t.line, "group %d comes before its vertex", t.code)
		}
		x, err := t.coordinate()
		if t.code == 20 {
			v.vertices[n].Y, v.hasY = x, true
			return true, err
		}
		if err == nil && (x < -1 || x > 1) {
			err = errorAt(t.line, "the bulge %g is an arc of more than a half circle, which is not read", x)
		}
		v.vertices[n].Bulge = x
		return true, err
	}
	return false, nil
}

// lwpolyline reads an LWPOLYLINE.
func (p *parser) lwpolyline(line int) error {
	if p.drawing.Version == R12 {
		return errorAt(line, "release 12 has no LWPOLYLINE")
	}
	var v vertexReader
	flags, count := 0, -1
	layer, err := p.each(line, func(t tag) (err error) {
		if ok, err := v.take(t); ok || err != nil {
			return p.countVertex(t, err)
		}
		switch t.code {
		case 90:
			count, err = t.integer()
		case 70:
			flags, err = t.integer()
		case 40, 41, 43:
			err = t.mustBe(0)
		default:
			err = unexpected(t, "LWPOLYLINE")
		}
		return err
	})
	if err != nil {
		return err
	}
	if count != len(v.vertices) {
		return errorAt(line, "LWPOLYLINE has %d vertices, but says %d", len(v.vertices), count)
	}
	if len(v.vertices) > 0 && !v.hasY {
		return errorAt(line, "the last vertex has no y")
	}
	// 128 is "plinegen", how a dashed line runs through the corners.
	return p.addLine(line, layer, flags&^128, v.vertices)
}

// countVertex holds the total of vertices within its limit.
func (p *parser) countVertex(t tag, err error) error {
	if err != nil || t.code != 10 {
		return err
	}
	if p.vertices++; p.vertices > maxVertices {
		return errorAt(t.line, "more than %d vertices: this is no template", maxVertices)
	}
	return nil
}

// addLine adds a polyline; flags may be 0 (open) or 1 (closed).
func (p *parser) addLine(line int, layer string, flags int, vs []geom.Vertex) error {
	if flags != 0 && flags != 1 {
		return errorAt(line, "a polyline with the flags %d: only flat ones of lines and arcs are read", flags)
	}
	if len(vs) < 2 {
		return errorAt(line, "a polyline of %d vertices has no edge", len(vs))
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
	layer, err := p.each(line, func(t tag) (err error) {
		switch t.code {
		case 66:
			return t.mustBe(1)
		case 70:
			flags, err = t.integer()
			return err
		case 10, 20, 30, 40, 41:
			return t.mustBe(0)
		}
		return unexpected(t, "POLYLINE")
	})
	if err != nil {
		return err
	}
	var vs []geom.Vertex
	for {
		t, err := p.tags.next()
		if err != nil {
			return err
		}
		switch t.value { // each ended at a group 0
		case "VERTEX":
			v, err := p.vertex(t.line, layer)
			if err != nil {
				return err
			}
			vs = append(vs, v)
		case "SEQEND":
			if _, err := p.each(t.line, func(t tag) error { return unexpected(t, "SEQEND") }); err != nil {
				return err
			}
			return p.addLine(line, layer, flags&^128, vs)
		default:
			return errorAt(t.line, "expected VERTEX or SEQEND, found %.40s", strings.TrimSpace(t.value))
		}
	}
}

// vertex reads one VERTEX, which must be on its polyline's layer.
func (p *parser) vertex(line int, layer string) (geom.Vertex, error) {
	var v vertexReader
	own, err := p.each(line, func(t tag) error {
		if ok, err := v.take(t); ok || err != nil {
			return p.countVertex(t, err)
		}
		switch t.code {
		case 30, 40, 41, 70:
			return t.mustBe(0)
		}
		return unexpected(t, "VERTEX")
	})
	if err != nil {
		return geom.Vertex{}, err
	}
	if own != layer {
		return geom.Vertex{}, errorAt(line, "a VERTEX on layer %.40q belongs to a POLYLINE on layer %.40q", own, layer)
	}
	if len(v.vertices) != 1 || !v.hasY {
		return geom.Vertex{}, errorAt(line, "a VERTEX needs one x and one y")
	}
	return v.vertices[0], nil
}

// circle reads a CIRCLE.
func (p *parser) circle(line int) error {
	var c [3]float64
	var seen [3]bool
	layer, err := p.each(line, func(t tag) (err error) {
		i := 0
		switch t.code {
		case 10:
		case 20:
			i = 1
		case 40:
			i = 2
		case 30:
			return t.mustBe(0)
		default:
			return unexpected(t, "CIRCLE")
		}
		if seen[i] {
			return errorAt(t.line, "group %d is given twice", t.code)
		}
		seen[i] = true
		c[i], err = t.coordinate()
		return err
	})
	if err != nil {
		return err
	}
	if seen != [3]bool{true, true, true} || c[2] <= 0 {
		return errorAt(line, "a CIRCLE needs a centre and a radius above 0")
	}
	p.drawing.Circles = append(p.drawing.Circles, Circle{layer, geom.Pt(c[0], c[1]), c[2]})
	return nil
}

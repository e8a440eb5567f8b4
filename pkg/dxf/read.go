package dxf

import (
	"fmt"
	"io"
	"slices"

	"strapwork/pkg/dxf/tags"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// A ReadError says what is wrong with a file and in which line, from 1.
type ReadError = tags.Error

// A Drawing is what was found in a file, in the file's own units.
type Drawing struct {
	Version Version
	Units   Units
	Layers  []Layer // a negative colour is a layer that is switched off
	Lines   []Line
	Circles []Circle
	Extents geom.Box // as the file states them; empty when it says there is nothing
}

// A Line is a polyline and the layer that it is on.
type Line struct {
	Layer   string
	Contour geom.Contour
}

// A Circle is a circle and the layer that it is on.
type Circle struct {
	Layer  string
	Center geom.Point
	Radius float64
}

// Bounds is the smallest box that holds everything in d, worked out from the
// geometry, exact for arcs.
func (d Drawing) Bounds() geom.Box {
	b := geom.EmptyBox()
	for _, l := range d.Lines {
		b = b.Join(l.Contour.Bounds())
	}
	for _, c := range d.Circles {
		b = b.Join(sheet.Hole{Center: c.Center, Radius: c.Radius}.Bounds())
	}
	return b
}

// Sheet returns d in millimetres, with the roles that o's layers stand for. A
// layer that stands for no role, or for several (a shop may share one), is an
// error.
func (d Drawing) Sheet(o Options) (sheet.Sheet, error) {
	var s sheet.Sheet
	k := 1 / d.Units.MM()
	for _, l := range d.Lines {
		r, err := o.role(l.Layer)
		if err != nil {
			return sheet.Sheet{}, err
		}
		s.Lines = append(s.Lines, sheet.Line{Role: r, Contour: scaled(l.Contour, k)})
	}
	for _, c := range d.Circles {
		r, err := o.role(c.Layer)
		if err != nil {
			return sheet.Sheet{}, err
		}
		s.Holes = append(s.Holes, sheet.Hole{Role: r, Center: geom.Pt(c.Center.X/k, c.Center.Y/k), Radius: c.Radius / k})
	}
	return s, nil
}

// role is the role that a layer's name stands for.
func (o Options) role(name string) (sheet.Role, error) {
	var found []sheet.Role
	for _, r := range sheet.Roles() {
		if o.layer(r).Name == name {
			found = append(found, r)
		}
	}
	switch len(found) {
	case 0:
		return 0, fmt.Errorf("dxf: layer %q stands for no role", name)
	case 1:
		return found[0], nil
	}
	return 0, fmt.Errorf("dxf: layer %q stands for %s and %s", name, found[0], found[1])
}

// Read reads a file of the kind that Write writes, of either version: LWPOLYLINE
// or two-dimensional POLYLINE with bulges up to 1, and CIRCLE, flat in the x-y
// plane. It doesn't judge them: a polyline that should be closed and isn't
// comes back open.
//
// Read refuses, as a *ReadError with the line, anything that it would have to
// drop or guess at: other entities, widths, thicknesses, layers not in the layer
// table, units not stated. Its memory is a small multiple of the file's size,
// and of maxVertices at most. A byte order mark, or lines that end with CR LF,
// do no harm.
func Read(r io.Reader) (Drawing, error) {
	p := parser{tags: tags.NewReader(r), layers: map[string]bool{}}
	if err := p.file(); err != nil {
		return Drawing{}, err
	}
	return p.drawing, nil
}

// A parser reads a file section by section.
type parser struct {
	tags     *tags.Reader
	drawing  Drawing
	vertices int
	sections []string // those met
	layers   map[string]bool
}

// file reads sections up to EOF.
func (p *parser) file() error {
	for {
		t, err := p.tags.Next()
		if err != nil {
			return err
		}
		switch {
		case t.Is("EOF"):
			if !slices.Contains(p.sections, "ENTITIES") {
				return tags.Errorf(t.Line, "the file has no ENTITIES section")
			}
			return p.tags.Rest()
		case t.Is("SECTION"):
			if err := p.section(); err != nil {
				return err
			}
		default:
			return tags.Errorf(t.Line, "expected SECTION or EOF, found group %d %.40q", t.Code, t.Value)
		}
	}
}

// section reads one section, whose SECTION has been read.
func (p *parser) section() error {
	t, err := p.tags.Next()
	if err != nil {
		return err
	}
	if t.Code != 2 {
		return tags.Errorf(t.Line, "expected the section's name in group 2, found group %d", t.Code)
	}
	if slices.Contains(p.sections, t.Value) {
		return tags.Errorf(t.Line, "a second section %.40s", t.Value)
	}
	p.sections = append(p.sections, t.Value)
	switch t.Value {
	case "HEADER":
		return p.headerSection()
	case "TABLES":
		return p.tablesSection()
	case "BLOCKS":
		return p.blocksSection()
	case "ENTITIES":
		if len(p.drawing.Layers) == 0 || !slices.Contains(p.sections, "HEADER") {
			return tags.Errorf(t.Line, "the entities come before a header and a table of layers")
		}
		return p.entitiesSection()
	case "CLASSES", "OBJECTS":
		return p.skipSection()
	}
	return tags.Errorf(t.Line, "section %.40q is not known", t.Value)
}

// skipSection passes over what holds nothing to be cut.
func (p *parser) skipSection() error {
	for {
		t, err := p.tags.Next()
		if err != nil || t.Is("ENDSEC") {
			return err
		}
		if t.Is("SECTION") || t.Is("EOF") {
			return tags.Errorf(t.Line, "expected ENDSEC, found %s", t.Value)
		}
	}
}

// blocksSection accepts the empty blocks that stand for model and paper space.
func (p *parser) blocksSection() error {
	for {
		t, err := p.tags.Next()
		if err != nil || t.Is("ENDSEC") {
			return err
		}
		if t.Code == 0 && t.Value != "BLOCK" && t.Value != "ENDBLK" {
			return tags.Errorf(t.Line, "%.40s within a block: only blocks without entities are read", t.Value)
		}
	}
}

// tablesSection takes the layers from their table and passes over the others.
func (p *parser) tablesSection() error {
	for {
		t, err := p.tags.Next()
		if err != nil || t.Is("ENDSEC") {
			return err
		}
		switch {
		case t.Is("LAYER"):
			if err := p.layer(t.Line); err != nil {
				return err
			}
		case t.Is("SECTION") || t.Is("EOF"):
			return tags.Errorf(t.Line, "expected ENDSEC, found %s", t.Value)
		}
	}
}

// layer reads one record of the layer table.
func (p *parser) layer(line int) error {
	var l Layer
	for {
		t, err := p.tags.Next()
		if err != nil {
			return err
		}
		switch t.Code {
		case 0:
			p.tags.Unread(t)
			return p.addLayer(l, line)
		case 2:
			l.Name = t.Value
		case 62:
			if l.Color, err = t.Integer(); err != nil {
				return err
			}
		}
	}
}

func (p *parser) addLayer(l Layer, line int) error {
	if l.Name == "" {
		return tags.Errorf(line, "a layer has no name")
	}
	if l.Color == 0 || l.Color < -maxColor || l.Color > maxColor {
		return tags.Errorf(line, "layer %.40q has the colour %d, not 1 to %d", l.Name, l.Color, maxColor)
	}
	if p.layers[l.Name] {
		return tags.Errorf(line, "a second layer %.40q", l.Name)
	}
	p.layers[l.Name] = true
	p.drawing.Layers = append(p.drawing.Layers, l)
	return nil
}

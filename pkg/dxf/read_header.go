package dxf

import (
	"strings"

	"strapwork/pkg/dxf/tags"
	"strapwork/pkg/geom"
)

// headerValues are the variables that matter, as found; nil where missing.
type headerValues struct {
	version, units, measurement *tags.Tag
	low, high                   corner
}

// A corner is a point variable being read.
type corner struct{ x, y *tags.Tag }

// headerSection reads the variables.
func (p *parser) headerSection() error {
	var h headerValues
	name := ""
	for {
		t, err := p.tags.Next()
		if err != nil {
			return err
		}
		switch {
		case t.Is("ENDSEC"):
			return p.takeHeader(h, t.Line)
		case t.Code == 0:
			return tags.Errorf(t.Line, "expected a variable or ENDSEC, found %.40q", t.Value)
		case t.Code == 9:
			name = t.Value
		case name == "":
			return tags.Errorf(t.Line, "group %d comes before the first variable", t.Code)
		default:
			h.take(name, t)
		}
	}
}

// take keeps t when it is a value that matters; where one is given twice the
// last counts.
func (h *headerValues) take(name string, t tags.Tag) {
	switch {
	case name == "$ACADVER" && t.Code == 1:
		h.version = &t
	case name == "$INSUNITS" && t.Code == 70:
		h.units = &t
	case name == "$MEASUREMENT" && t.Code == 70:
		h.measurement = &t
	case name == "$EXTMIN" && t.Code == 10:
		h.low.x = &t
	case name == "$EXTMIN" && t.Code == 20:
		h.low.y = &t
	case name == "$EXTMAX" && t.Code == 10:
		h.high.x = &t
	case name == "$EXTMAX" && t.Code == 20:
		h.high.y = &t
	}
}

// takeHeader checks and keeps the values; line is where the section ends.
func (p *parser) takeHeader(h headerValues, line int) error {
	if err := p.takeVersion(h, line); err != nil {
		return err
	}
	if err := p.takeUnits(h, line); err != nil {
		return err
	}
	lo, err := h.low.point(line, "$EXTMIN")
	if err != nil {
		return err
	}
	hi, err := h.high.point(line, "$EXTMAX")
	if err != nil {
		return err
	}
	p.drawing.Extents = geom.Box{Min: lo, Max: hi}
	if p.drawing.Extents.Empty() {
		p.drawing.Extents = geom.EmptyBox()
	}
	return nil
}

func (p *parser) takeVersion(h headerValues, line int) error {
	if h.version == nil {
		return tags.Errorf(line, "the header has no $ACADVER")
	}
	switch v := strings.TrimSpace(h.version.Value); v {
	case R2000.String():
		p.drawing.Version = R2000
	case R12.String():
		p.drawing.Version = R12
	default:
		return tags.Errorf(h.version.Line, "version %.40q: save the file as release 2000 (%s) or 12 (%s)", v, R2000, R12)
	}
	return nil
}

// takeUnits insists on units: a part read as millimetres that was meant in
// inches ruins a board.
func (p *parser) takeUnits(h headerValues, line int) error {
	if h.units == nil {
		return tags.Errorf(line, "the header has no $INSUNITS, so nobody knows what a number means")
	}
	n, err := h.units.Integer()
	if err != nil {
		return err
	}
	switch n {
	case Millimetres.insunits():
		p.drawing.Units = Millimetres
	case Inches.insunits():
		p.drawing.Units = Inches
	default:
		return tags.Errorf(h.units.Line, "$INSUNITS is %d: only 1 (inches) and 4 (millimetres) are read", n)
	}
	if h.measurement == nil {
		return nil
	}
	m, err := h.measurement.Integer()
	if err != nil {
		return err
	}
	if m != p.drawing.Units.measurement() {
		return tags.Errorf(h.measurement.Line, "$MEASUREMENT is %d, but $INSUNITS says %s", m, p.drawing.Units)
	}
	return nil
}

func (c corner) point(line int, name string) (geom.Point, error) {
	if c.x == nil || c.y == nil {
		return geom.Point{}, tags.Errorf(line, "the header has no %s", name)
	}
	x, err := c.x.Number()
	if err != nil {
		return geom.Point{}, err
	}
	y, err := c.y.Number()
	return geom.Pt(x, y), err
}

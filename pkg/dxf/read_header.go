package dxf

import (
	"strings"

	"strapwork/pkg/geom"
)

// headerValues are the variables that matter, as found; nil where missing.
type headerValues struct {
	version, units, measurement *tag
	low, high                   corner
}

// A corner is a point variable being read.
type corner struct{ x, y *tag }

// headerSection reads the variables.
func (p *parser) headerSection() error {
	var h headerValues
	name := ""
	for {
		t, err := p.tags.next()
		if err != nil {
			return err
		}
		switch {
		case t.is("ENDSEC"):
			return p.takeHeader(h, t.line)
		case t.code == 0:
			return errorAt(t.line, "expected a variable or ENDSEC, found %.40q", t.value)
		case t.code == 9:
			name = t.value
		case name == "":
			return errorAt(t.line, "group %d comes before the first variable", t.code)
		default:
			h.take(name, t)
		}
	}
}

// take keeps t when it is a value that matters; where one is given twice the
// last counts.
func (h *headerValues) take(name string, t tag) {
	switch {
	case name == "$ACADVER" && t.code == 1:
		h.version = &t
	case name == "$INSUNITS" && t.code == 70:
		h.units = &t
	case name == "$MEASUREMENT" && t.code == 70:
		h.measurement = &t
	case name == "$EXTMIN" && t.code == 10:
		h.low.x = &t
	case name == "$EXTMIN" && t.code == 20:
		h.low.y = &t
	case name == "$EXTMAX" && t.code == 10:
		h.high.x = &t
	case name == "$EXTMAX" && t.code == 20:
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
		return errorAt(line, "the header has no $ACADVER")
	}
	switch v := strings.TrimSpace(h.version.value); v {
	case R2000.String():
		p.drawing.Version = R2000
	case R12.String():
		p.drawing.Version = R12
	default:
		return errorAt(h.version.line, "version %.40q: save the file as release 2000 (%s) or 12 (%s)", v, R2000, R12)
	}
	return nil
}

// takeUnits insists on units: a part read as millimetres that was meant in
// inches ruins a board.
func (p *parser) takeUnits(h headerValues, line int) error {
	if h.units == nil {
		return errorAt(line, "the header has no $INSUNITS, so nobody knows what a number means")
	}
	n, err := h.units.integer()
	if err != nil {
		return err
	}
	switch n {
	case Millimetres.insunits():
		p.drawing.Units = Millimetres
	case Inches.insunits():
		p.drawing.Units = Inches
	default:
		return errorAt(h.units.line, "$INSUNITS is %d: only 1 (inches) and 4 (millimetres) are read", n)
	}
	if h.measurement == nil {
		return nil
	}
	m, err := h.measurement.integer()
	if err != nil {
		return err
	}
	if m != p.drawing.Units.measurement() {
		return errorAt(h.measurement.line, "$MEASUREMENT is %d, but $INSUNITS says %s", m, p.drawing.Units)
	}
	return nil
}

func (c corner) point(line int, name string) (geom.Point, error) {
	if c.x == nil || c.y == nil {
		return geom.Point{}, errorAt(line, "the header has no %s", name)
	}
	x, err := c.x.number()
	if err != nil {
		return geom.Point{}, err
	}
	y, err := c.y.number()
	return geom.Pt(x, y), err
}

package fromdxf

import (
	"strings"

	"strapwork/pkg/dxf/tags"
)

// header is what matters of the HEADER section.
type header struct {
	release  string // $ACADVER; empty where it isn't stated
	codepage string // $DWGCODEPAGE
	unit     float64
}

// unitsMM are the units of $INSUNITS in mm (DXF Reference; 0 is none). An inch is
// 25.4 mm (agreement of 1959), a US survey foot 1200/3937 m. Left out are 17 to 20,
// gigametres and the units of astronomers.
var unitsMM = map[int]float64{
	1: 25.4, 2: 304.8, 3: 1609344, 4: 1, 5: 10, 6: 1000, 7: 1e6, 8: 25.4e-6, 9: 25.4e-3,
	10: 914.4, 11: 1e-7, 12: 1e-6, 13: 1e-3, 14: 100, 15: 1e4, 16: 1e5,
	21: 1200e3 / 3937, 22: 100e3 / 3937, 23: 3600e3 / 3937, 24: 5280 * (1200e3 / 3937),
}

// headerSection reads the variables: a name in group 9, then its values.
func (p *parser) headerSection() error {
	name := ""
	for {
		t, err := p.tags.Next()
		switch {
		case err != nil || t.Is("ENDSEC"):
			return err
		case t.Code == 0:
			return tags.Errorf(t.Line, "expected a variable or ENDSEC, found %.40q", t.Value)
		case t.Code == 9:
			name = t.Value
		case name == "$ACADVER" && t.Code == 1:
			p.header.release = strings.TrimSpace(t.Value)
		case name == "$DWGCODEPAGE" && t.Code == 3:
			p.header.codepage = strings.TrimSpace(t.Value)
		case name == "$INSUNITS" && t.Code == 70:
			if err := p.units(t); err != nil {
				return err
			}
		}
	}
}

// units takes $INSUNITS. ($MEASUREMENT says what a program begins a drawing in, and is
// wrong in many files that have no $INSUNITS.)
func (p *parser) units(t tags.Tag) error {
	n, err := t.Integer()
	if err != nil {
		return err
	}
	unit, ok := unitsMM[n]
	if !ok && n != 0 {
		p.found.WarnAt(p.at(t.Line), ruleUnits, "$INSUNITS is %d, which is not a unit for a drawing: it is read as without a unit", n)
	}
	p.header.unit = unit
	return nil
}

package profile

import (
	"strapwork/pkg/conf"
	"strapwork/pkg/unit"
)

// ParsePrinter reads a printer's file: its paper, margin, and what was measured
// on its proof page, for all jobs that are printed on it. Lengths have their unit, such
// as "148.9 mm"; bare ones are in mm. The error is a diag.Findings.
func ParsePrinter(file string, data []byte) (Paper, error) {
	p, ok := begin(&printerFormat, kindShop, file, data)
	if !ok {
		return Paper{}, p.done()
	}
	var out Paper
	if v := p.Get("paper"); v != nil {
		paper, text, hint, ok := named(p.Text("paper"))
		if out = paper; !ok && v.Kind == conf.KindString {
			p.Faultf(v, conf.BadValue, "%s", text).Hintf("%s", hint)
		}
	}
	out.Margin = p.Length("margin")
	if v := p.Get("margin"); v != nil {
		p.printed(v, "margin", out.Margin, CheckMargin)
	}
	p.pair("measured", &out.Measured, ProofBar)
	p.pair("diagonals", &out.Diagonals, ProofDiagonal)
	if err := p.done(); err != nil {
		return Paper{}, err
	}
	return out, nil
}

// pair reads two measured lengths of what should be want mm long.
func (p parser) pair(key string, mm *[2]float64, want float64) {
	if !p.Fill(key, mm[:]) {
		return
	}
	for i, v := range p.Get(key).Items {
		p.printed(v, key, mm[i], func(x float64) (text, hint unit.Text, ok bool) { return CheckMeasured(x, want) })
	}
}

// printed checks one length; what is not a number is reported already.
func (p parser) printed(v *conf.Value, key string, mm float64, check func(float64) (text, hint unit.Text, ok bool)) {
	if text, hint, ok := check(mm); !ok && mm == mm {
		p.Faultf(v, conf.BadValue, "%s: %s", key, text).Hintf("%s", hint)
	}
}

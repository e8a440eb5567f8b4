package profile

import (
	"fmt"

	"strapwork/pkg/unit"
)

// printer is a printer's file as TOML has it.
type printer struct {
	About     string   `toml:"about"`
	Paper     string   `toml:"paper"`
	Margin    any      `toml:"margin"`
	Measured  []string `toml:"measured"`
	Diagonals []string `toml:"diagonals"`
}

var printerKeys = []string{"about", "paper", "margin", "measured", "diagonals"}

// ParsePrinter reads a printer's file: its paper, margin, and what was measured
// on its proof page, for all jobs that are printed on it. Lengths are texts
// with a unit, such as "148.9 mm". The error is a diag.Findings.
func ParsePrinter(file string, data []byte) (Paper, error) {
	r := parser{file: file, data: data, rule: RulePaper, what: "a printer's file", keys: printerKeys}
	if len(data) > maxSize {
		r.errorf("", "the printer's file is larger than %d KiB", maxSize>>10)
		return Paper{}, r.found
	}
	var w printer
	r.decode(&w)
	if r.found.HasErrors() {
		r.found.Sort()
		return Paper{}, r.found
	}
	p, text, hint, ok := named(w.Paper)
	if !ok {
		r.errorf("paper", "%s", text).Hintf("%s", hint)
	}
	p.Margin = DefaultMargin
	if w.Margin != nil {
		p.Margin = r.printed("margin", fmt.Sprint(w.Margin), CheckMargin)
	}
	p.Measured = r.pair("measured", w.Measured, ProofBar)
	p.Diagonals = r.pair("diagonals", w.Diagonals, ProofDiagonal)
	if r.found.HasErrors() {
		r.found.Sort()
		return Paper{}, r.found
	}
	return p, nil
}

// pair reads two measured lengths of what should be want mm long.
func (p *parser) pair(key string, list []string, want float64) (mm [2]float64) {
	if list == nil {
		return mm
	}
	if len(list) != 2 {
		p.errorf(key, "%s needs two lengths, not %d", key, len(list)).Hintf(`write %s = ["%.1f mm", "%.1f mm"], as you measured them`, key, want, want)
		return mm
	}
	for i, s := range list {
		mm[i] = p.printed(key, s, func(v float64) (text, hint unit.Text, ok bool) { return CheckMeasured(v, want) })
	}
	return mm
}

// printed reads one length and checks it; 0 if it was wrong and told.
func (p *parser) printed(key, s string, check func(float64) (text, hint unit.Text, ok bool)) float64 {
	mm, err := unit.Eval(s, unit.Env{})
	if err != nil {
		p.errorf(key, "%s: %v", key, err).Hintf(`write a length such as "148.9 mm"`)
		return 0
	}
	if text, hint, ok := check(mm); !ok {
		p.errorf(key, "%s: %s", key, text).Hintf("%s", hint)
		return 0
	}
	return mm
}

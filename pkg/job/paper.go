package job

import (
	"math"
	"strings"

	"strapwork/pkg/unit"
)

// Paper is what patterns are printed on. The name of the paper is understood,
// and what was measured held against the proof page, by package profile, which
// knows the sizes.
type Paper struct {
	Name      string     // "A4", "roll 610 mm", or a printer's file; may be empty
	Margin    float64    // that the printer leaves clear on each side; NaN when not given
	Measured  [2]float64 // the printed proof bars, across the sheet and along it; 0 when not given
	Diagonals [2]float64 // the printed proof square's; 0 when not given
	Revision  string     // for the title block; may be empty
	Date      string     // for the title block; may be empty
}

func (r *reader) readPaper(t *node) *Paper {
	if t == nil {
		return nil
	}
	if t.kind != nodeTable {
		r.wrongType(t, "paper", "a table", `write [paper] on a line of its own, and below it paper = "A4"`)
		return nil
	}
	r.known("paper", t)
	p := &Paper{Margin: r.lengthOr(t, "margin", notNegative, math.NaN())}
	if n := t.get("paper"); n != nil {
		if p.Name = strings.TrimSpace(r.text(n, "paper")); n.kind == nodeString && p.Name == "" {
			r.errorf(ruleValue, n.off, "paper is empty").Hintf(`write paper = "A4", or take the key away`)
		}
	}
	p.Measured = r.pair(t, "measured", "148.9 mm", "150.3 mm")
	p.Diagonals = r.pair(t, "diagonals", "212.0 mm", "212.3 mm")
	if n := t.get("revision"); n != nil {
		p.Revision = r.text(n, "revision")
	}
	if n := t.get("date"); n != nil && n.kind == nodeDate {
		p.Date = n.text
	} else if n != nil {
		p.Date = r.text(n, "date")
	}
	return p
}

// pair reads two lengths that were measured; zeros if there are none.
func (r *reader) pair(t *node, key, one, other string) (mm [2]float64) {
	n := t.get(key)
	if n == nil {
		return mm
	}
	hint := "write " + key + ` = ["` + one + `", "` + other + `"], as you measured them`
	switch {
	case n.kind != nodeList:
		r.wrongType(n, key, "a list of two lengths", hint)
	case len(n.items) != 2:
		r.errorf(ruleType, n.off, "%s must have two lengths, not %d", key, len(n.items)).Hintf("%s", hint)
	default:
		for i, item := range n.items {
			mm[i] = r.length(item, key, positive)
		}
	}
	return mm
}

// DefaultPaper is the paper of a job that names none: what offices have where
// its units are used.
func (j *Job) DefaultPaper() string {
	if j.Units == unit.Inch {
		return "Letter"
	}
	return "A4"
}

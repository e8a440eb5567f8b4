package job

import (
	"math"
	"strconv"

	"strapwork/pkg/conf"
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

func (r *reader) readPaper(top conf.Section) *Paper {
	t, ok := top.Sub("paper")
	if !ok {
		return nil
	}
	p := &Paper{Name: t.Name("paper"), Margin: math.NaN(), Revision: t.Text("revision")}
	if t.Given("margin") {
		p.Margin = t.Length("margin")
	}
	t.Fill("measured", p.Measured[:])
	t.Fill("diagonals", p.Diagonals[:])
	if v := t.Get("date"); v != nil && v.Kind == conf.KindDate {
		p.Date = v.Text
	} else {
		p.Date = t.Text("date")
	}
	return p
}

// DefaultPaper is the paper of a job that names none: what offices have where
// its units are used.
func (j *Job) DefaultPaper() string {
	name, _ := strconv.Unquote(format.Table("paper").Key("paper").Default.In(j.Units)) // a test reads it
	return name
}

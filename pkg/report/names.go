package report

import (
	"strings"

	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// visitName is the element that a visit runs along: its copy's name.
func visitName(m motif.Motif, v weave.Visit) string {
	s := m.Strands[v.Strand]
	if v.Edge >= 0 && v.Edge < len(s.Sources) {
		return m.Sources[s.Sources[v.Edge]].Name
	}
	return m.Sources[s.Source(v.S)].Name
}

// passes names the upper and the lower passage of a crossing. Where an
// element crosses itself the names tell its passes apart, the first being the
// nearer to the strand's start.
func passes(m motif.Motif, x weave.Crossing) (over, under string) {
	over, under = visitName(m, x.Upper()), visitName(m, x.Lower())
	if over != under {
		return over, under
	}
	if x.Visits[0].Over {
		return over + " pass 1", under + " pass 2"
	}
	return over + " pass 2", under + " pass 1"
}

// withoutLines drops " (line 12)" from a text that names elements: on the
// bench nobody has the job file open.
func withoutLines(s string) string {
	const open, end = " (line ", ")"
	for from := 0; ; {
		i := strings.Index(s[from:], open)
		if i < 0 {
			return s
		}
		i += from
		j := i + len(open)
		for j < len(s) && s[j] >= '0' && s[j] <= '9' {
			j++
		}
		if j == i+len(open) || !strings.HasPrefix(s[j:], end) {
			from = i + 1
			continue
		}
		s = s[:i] + s[j+len(end):]
		from = i
	}
}

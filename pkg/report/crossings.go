package report

import (
	"math"

	"strapwork/pkg/build"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

func newCrossings(r build.Result) []crossJSON {
	list := make([]crossJSON, 0, len(r.Weave.Crossings))
	for _, x := range r.Weave.Crossings {
		over, under := passes(r.Motif, x)
		list = append(list, crossJSON{
			At: toXY(x.At), Over: over, Under: under,
			OverStrand: r.Motif.Strands[x.Upper().Strand].ID, UnderStrand: r.Motif.Strands[x.Lower().Strand].ID,
			AngleDeg: num(x.Angle * 180 / math.Pi), Broken: x.Broken,
		})
	}
	return list
}

// visitName is the element that a visit runs along: its copy's name.
func visitName(m motif.Motif, v weave.Visit) string {
	s := m.Strands[v.Strand]
	if v.Edge >= 0 && v.Edge < len(s.Sources) {
		return m.Sources[s.Sources[v.Edge]].Name
	}
	return m.Sources[s.Source(v.S)].Name
}

// passes names the upper and the lower passage of a crossing. Where an
// element crosses itself the names distinguish its passes, the first being the
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

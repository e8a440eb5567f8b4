package aids

import (
	"testing"

	"strapwork/pkg/fixture"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/proof"
	"strapwork/pkg/template"
)

func paramsOf(j made.Job) Params {
	return Params{Router: j.Router, Template: j.Template, Depth: j.Inlay.Depth}
}

// leftOf is a job up to its panels, and what these leave for the chisel.
func leftOf(t testing.TB, text string) (made.Job, []proof.Leftover) {
	t.Helper()
	j := made.Planned(t, text)
	set := template.Draw(fixture.Params{Router: j.Router, Template: j.Template, Board: j.Board, Units: j.Units}, j.Groove, j.Plan)
	return j, proof.Prove(j.Groove, j.Laid(set.Parts(j.Template, j.Groove.Size, 0)), 0).Leftovers
}

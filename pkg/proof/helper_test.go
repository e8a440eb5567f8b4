package proof_test

import (
	"testing"

	"strapwork/pkg/fixture"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/proof"
	"strapwork/pkg/template"
)

// A drawn job, up to its panels.
type drawn struct {
	made.Job
	set template.Set
}

func prepared(t testing.TB, text string) drawn {
	t.Helper()
	return withPanels(made.Planned(t, text))
}

func withPanels(j made.Job) drawn {
	return drawn{j, template.Draw(fixture.Params{Router: j.Router, Template: j.Template, Board: j.Board, Units: j.Units}, j.Groove, j.Plan)}
}

// laid returns the panels as their sheets show them.
func (m drawn) laid(kerf float64) []proof.Placed {
	return m.Laid(m.set.Parts(m.Template, m.Groove.Size, kerf))
}

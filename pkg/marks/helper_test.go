package marks

import (
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/fixture"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/template"
)

// A drawn job, up to its panels.
type drawn struct {
	made.Job
	set    template.Set
	marked template.Set  // set with its marks, and
	found  diag.Findings // what found no room, of those that are kept
}

func prepared(t testing.TB, text string) drawn {
	t.Helper()
	return withPanels(made.Planned(t, text))
}

func withPanels(j made.Job) drawn {
	return drawn{Job: j, set: template.Draw(fixtureParams(j), j.Groove, j.Plan)}
}

func fixtureParams(j made.Job) fixture.Params {
	return fixture.Params{Router: j.Router, Template: j.Template, Board: j.Board, Units: j.Units}
}

func paramsOf(m drawn) Params {
	return Params{Title: m.Title, Units: m.Units, Guide: m.Router.Guide, Size: m.Groove.Size, Revision: revision}
}

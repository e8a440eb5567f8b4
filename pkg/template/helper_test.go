package template

import (
	"os"
	"testing"

	"strapwork/pkg/fixture"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/profile"
	"strapwork/pkg/proof"
)

// A drawn job, up to its panels.
type drawn struct {
	made.Job
	set Set
}

func prepared(t testing.TB, text string) drawn {
	t.Helper()
	return forShop(t, text, profile.Plain())
}

// forShop is a job as one shop would cut it.
func forShop(t testing.TB, text string, shop profile.Shop) drawn {
	t.Helper()
	j := made.Planned(t, text)
	return drawn{j, NewSet(fixture.Params{Router: j.Router, Template: j.Template, Board: j.Board, Units: j.Units}, j.Groove, j.Plan, shop)}
}

// withBed is a router with cutters of 6 mm and a bed.
func withBed(x, y float64) profile.Shop {
	return profile.Shop{Name: "test", Cutter: profile.Router, CutterDiameter: 6, Bed: [2]float64{x, y}}
}

// laid returns the panels as their sheets show them.
func (m drawn) laid(kerf float64) []proof.Placed {
	return m.Laid(m.set.Parts(m.Template, m.Groove.Size, kerf))
}

func opened(t testing.TB, name string) profile.Shop {
	t.Helper()
	s, err := profile.Open(name, os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

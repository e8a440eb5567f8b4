package glue_test

import (
	"math"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/glue"
	"strapwork/pkg/work"
)

var (
	woods = []work.Strip{{Material: "holly", Thickness: 1}, {Material: "maple", Thickness: 1}}
	brass = []work.Strip{{Material: "brass", Thickness: 1}}
	mixed = append(append([]work.Strip(nil), woods...), brass...)
)

// A straight groove of 100 x 3.08 mm, 3 mm deep, round 3 mm of strips: 24 mm3 (a product).
func TestVoids(t *testing.T) {
	if got := glue.Voids(100*3.08, 100*3, 3); math.Abs(got-24) > 1e-9 {
		t.Errorf("%v", got)
	}
	if got := glue.Voids(299.9999999, 300, 3); got != 0 {
		t.Errorf("strips as wide as the groove leave %v", got)
	}
}

// Common practice: water-based glue wants room for what wood strips swell by, and metal
// strips swell by nothing; thin cyanoacrylate runs into no gap at all and fills none.
func TestFit(t *testing.T) {
	for _, c := range []struct {
		g         work.Glue
		strips    []work.Strip
		clearance float64
		want      glue.Fit
	}{
		{work.GluePVA, woods, 0.05, glue.Tight},
		{work.GluePVA, mixed, 0.05, glue.Tight},
		{work.GluePVA, brass, 0.05, glue.Right},
		{work.GluePVA, woods, 0.1, glue.Right},
		{work.GluePVA, woods, 0.3, glue.Loose},
		{work.GlueEpoxy, mixed, 0.3, glue.Right},
		{work.GlueEpoxy, mixed, 0, glue.Tight},
		{work.GlueCA, mixed, 0, glue.Right},
		{work.GlueCA, mixed, 0.2, glue.Loose},
		{work.GlueHide, woods, 0.1, glue.Right},
		{work.GluePolyurethane, woods, 0.1, glue.Right},
		{work.GlueAny, woods, 0.1, glue.Unknown},
		{work.GluePVA, nil, 0, glue.Unknown},
	} {
		if got := glue.FitOf(c.g, c.strips, c.clearance); got != c.want {
			t.Errorf("%s, %v, %v mm: %s, want %s", c.g, c.strips, c.clearance, got, c.want)
		}
	}
}

// Every kind has its figures.
func TestKinds(t *testing.T) {
	for _, g := range work.Glues() {
		if least, most := glue.Suits(g, woods); least < 0 || most <= least {
			t.Errorf("%s: %v to %v", g, least, most)
		}
	}
}

// Glues of water don't hold bare metal, and the proposed one does.
func TestCheck(t *testing.T) {
	for _, g := range append(work.Glues(), work.GlueAny) {
		for _, strips := range [][]work.Strip{woods, mixed, nil} {
			found := glue.Check(work.Inlay{Glue: g, Strips: strips})
			water := g == work.GlueHide || g == work.GluePVA
			if bad := water && len(strips) == len(mixed); bad != (len(found) == 1) {
				t.Errorf("%s, %v: %v", g, strips, found)
			}
			if len(found) == 1 && (found[0].Severity != diag.Warning || found[0].Cures[0].Value != `"epoxy"`) {
				t.Errorf("%+v", found[0])
			}
		}
	}
}

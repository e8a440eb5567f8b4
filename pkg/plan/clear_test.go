package plan

import (
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// A bar right across, and panels that leave one of two lines free which it crosses 40 mm
// apart: it is split between them, and shared out over two set-ups. Of three at one place
// there is none that a panel could keep off, and no plan. By hand: the track of 20 mm and
// the web of 8 take 18.5 mm to either side of a line with the half millimetre past a split.
func TestPanelsKeepOff(t *testing.T) {
	r := mustPrepare(t, "[[motif.line]]\nfrom = [-200, 0]\nto = [200, 0]\n[inlay]\ndepth = 3\nwidth = 3\n"+
		"[router]\nguide = \"bushing\"\nrider = 20\nbit = 3\nbase = 100\n[template]\nturn = false\n")
	line := func(x float64) Free {
		return Free{Lines: []geom.Edge{geom.Line(geom.Pt(x, -100), geom.Pt(x, 100))}, Web: 8}
	}
	want := paramsOf(r.job)
	want.Clear = []Free{line(-40), line(40)}
	if !CouldClear(want, &r.groove) {
		t.Error("it is said that there is no plan")
	}
	p := Make(want, &r.groove, r.cuts)
	checkPlan(t, &r.groove, p)
	if !p.InParts || len(p.SetUps) != 2 || p.Visible != 1 {
		t.Fatalf("%v, want 2 set-ups and 1 visible split", p)
	}
	for _, q := range p.Panels {
		clear := 0
		for _, f := range want.Clear {
			ok := true
			for _, c := range q.Cuts {
				wall := region.New(geom.Rect(f.Lines[0].Bounds().Expand(f.Web)))
				ok = ok && r.groove.Opening(c).Gap(wall) > 0
			}
			if ok {
				clear++
			}
		}
		if clear == 0 {
			t.Errorf("panel %s keeps off neither line", q.ID)
		}
	}
	want.Clear = []Free{line(-5), line(0), line(5)}
	if CouldClear(want, &r.groove) {
		t.Error("it is said that there may be a plan")
	}
	if p := Make(want, &r.groove, r.cuts); len(p.Panels) != 0 {
		t.Errorf("%v, where none is free of what it must keep off", p)
	}
}

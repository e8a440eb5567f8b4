package plan

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/sat"
)

// lattice is so many bars each way across one another.
func lattice(across, up int, pitch float64) figure {
	var f figure
	x0, y0 := -pitch*float64(across-1)/2, -pitch*float64(up-1)/2
	for i := range across {
		x := x0 + pitch*float64(i)
		f.paths = append(f.paths, bar(geom.Pt(x, y0-pitch), geom.Pt(x, -y0+pitch)))
	}
	for i := range up {
		y := y0 + pitch*float64(i)
		f.paths = append(f.paths, bar(geom.Pt(x0-pitch, y), geom.Pt(-x0+pitch, y)))
	}
	return f
}

// crosses is a field of crosses that stand apart, every other one aslant.
func crosses(columns, rows int, pitch float64) figure {
	var f figure
	arm := 0.36 * pitch
	for i := range columns {
		for k := range rows {
			at := geom.Pt(pitch*(float64(i)-float64(columns-1)/2), pitch*(float64(k)-float64(rows-1)/2))
			for q := range 2 {
				d := geom.Polar(arm, math.Pi*(0.5*float64(q)+0.25*float64((i+k)%2)))
				f.paths = append(f.paths, bar(at.Sub(d), at.Add(d)))
			}
		}
	}
	return f
}

// star is bars that run past one another round the middle.
func star(copies int, radii ...float64) figure {
	f := figure{copies: copies}
	for i, r := range radii {
		half := 0.8*r + 30
		f.paths = append(f.paths, bar(geom.Pt(r, -half+7*float64(i)), geom.Pt(r, half)))
	}
	return f
}

// BenchmarkPlan plans motifs of more and more cuts. Besides the time it says
// the set-ups, the panels, and how many set-ups more than the bound that is.
func BenchmarkPlan(b *testing.B) {
	for _, test := range []struct {
		name string
		f    figure
	}{
		{"lattice", lattice(5, 5, 60)},
		{"lattice", lattice(10, 10, 60)},
		{"star", star(10, 100, 190)},
		{"star", star(8, 131, 227, 284, 392, 445)},
		{"star", star(12, 131, 227, 284, 392, 445)},
		{"crosses", crosses(10, 10, 90)},
		{"crosses", crosses(20, 25, 90)},
	} {
		r := mustPrepare(b, test.f.text(9)+inlay+bushing)
		b.Run(fmt.Sprintf("%s/cuts=%d", test.name, len(r.cuts)), func(b *testing.B) {
			var p Plan
			for b.Loop() {
				p = r.plan()
			}
			checkPlan(b, &r.groove, p)
			b.ReportMetric(float64(len(p.SetUps)), "setups")
			b.ReportMetric(float64(p.LeastSetUps), "bound")
			b.ReportMetric(float64(len(p.SetUps)-p.LeastSetUps), "gap")
			b.ReportMetric(float64(len(p.Panels)), "panels")
			b.ReportMetric(float64(p.LeastPanels), "panelbound")
		})
	}
	r := fromFile(b, "looped-triangle")
	b.Run("looped-triangle", func(b *testing.B) {
		for b.Loop() {
			r.plan()
		}
	})
}

// BenchmarkQuestion asks the solver whether the rosette can be made cleanly in four
// set-ups. It can't; what is measured is the solver, in steps.
func BenchmarkQuestion(b *testing.B) {
	r := fromFile(b, "rosette")
	at := cutUp(&r.groove, positionsFor(paramsOf(r.job), &r.groove), math.Inf(1), false)
	at.relate()
	steps := 0
	for b.Loop() {
		m := newModel(at, kind{panels: 4, once: true, clean: true})
		if ans := m.Solve(oneQuestion, m.visible.atMost(0)...); ans != sat.No {
			b.Fatal("four set-ups do, it says: ", ans)
		}
		steps += m.Steps()
	}
	b.ReportMetric(float64(steps)/float64(b.N), "steps/op")
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(steps), "ns/step")
}

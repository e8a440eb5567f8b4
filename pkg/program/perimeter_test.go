package program_test

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/program"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/work"
)

func TestPerimeter(t *testing.T) {
	eachDialect(t, func(t *testing.T, o ngc.Options) {
		s := setting(o)
		box := geom.Box{Min: geom.Pt(-50, -40), Max: geom.Pt(70, 60)}
		var b bytes.Buffer
		if err := program.Perimeter(&b, box, s); err != nil {
			t.Fatal(err)
		}
		checkText(t, b.String(), s.NGC)
		var round []geom.Point
		lifted := false
		for _, m := range readBack(t, b.String(), o) {
			if m.Spindle != ngc.SpindleOff {
				t.Errorf("line %d: the spindle turns", m.Line)
			}
			if m.Kind == ngc.Rapid && m.Named == ngc.AxisZ {
				lifted = true
			}
			if m.Kind.Travels() && (!lifted || !high(m.To.Z, s)) {
				t.Errorf("line %d goes to %v, lifted: %v", m.Line, m.To, lifted)
			}
			if m.Kind == ngc.Line && !(m.Feed <= s.Feed) {
				t.Errorf("line %d: feed %v", m.Line, m.Feed)
			}
			if m.Kind == ngc.Line {
				round = append(round, m.To.Point())
			}
		}
		// Counter-clockwise, from the lower left corner and back to it.
		want := []geom.Point{geom.Pt(190.5, 40.25), geom.Pt(190.5, 140.25), geom.Pt(70.5, 140.25), geom.Pt(70.5, 40.25)}
		if len(round) != len(want) {
			t.Fatalf("%v", round)
		}
		for i, p := range want {
			if !round[i].Near(p, slack(s)) {
				t.Errorf("corner %d is %v, want %v", i, round[i], p)
			}
		}
		text := strings.ReplaceAll(b.String(), ")\n(", " ")
		if !o.Bare && (!strings.Contains(text, "(perimeter: Box lid") || !strings.Contains(text, "once at the safe height with the spindle off")) {
			t.Errorf("%s", text)
		}
	})
	for _, box := range []geom.Box{geom.EmptyBox(), {Min: geom.Pt(math.NaN(), 0)}} {
		if err := program.Perimeter(&bytes.Buffer{}, box, setting(ngc.Options{})); !errors.Is(err, program.ErrNothing) {
			t.Errorf("%v: %v", box, err)
		}
	}
}

func TestExtents(t *testing.T) {
	box, lowest := program.Extents(plan())
	if want := (geom.Box{Min: geom.Pt(-51, -51), Max: geom.Pt(51, 51)}); !box.Min.Near(want.Min, 1e-9) || !box.Max.Near(want.Max, 1e-9) || lowest != -2.8 {
		t.Errorf("%v, %v", box, lowest)
	}
}

// The plunge feed rules where a way down is steep, and is nearly reached there:
// at 45 degrees the bit goes sqrt(2) times as fast along its way as down.
func TestSteepWaysAreSlow(t *testing.T) {
	p := toolpath.Plan{Depths: []float64{20}, Bit: 3, Width: 3, Runs: []toolpath.Run{{Name: "s1", Passes: []toolpath.Pass{{
		Depth: 20, Moves: chain(toolpath.Ramp, geom.Pt(0, 0), [4]float64{20, 0, -20, 0}, [4]float64{90, 0, -20, 0}),
	}}}}}
	text, sections := written(t, p, setting(ngc.Options{}))
	for _, m := range readBack(t, text, ngc.Options{}) {
		switch int(m.Line) {
		case sections[0].Line:
			if want := 250 * math.Sqrt2; m.Feed > want || m.Feed < want*0.9999 {
				t.Errorf("feed %v on a slope of 45 degrees, want %v", m.Feed, want)
			}
		case sections[0].Last:
			if m.Feed != 1200 {
				t.Errorf("feed %v on the level", m.Feed)
			}
		}
	}
}

// Any chain of lines and arcs, up to the steepest, becomes a safe program whose
// cuts end where the chain ends.
func TestAnyPlanIsSafe(t *testing.T) {
	length := rapid.Float64Range(-80, 80)
	rapid.Check(t, func(rt *rapid.T) {
		o := rapid.SampledFrom([]ngc.Options{
			{},
			{Decimals: 3},
			{Units: ngc.Inches, Decimals: 4},

			{Decimals: 3, Chord: 0.01},
			{Units: ngc.Inches, Decimals: 4, Chord: 0.05},
			{Decimals: 3, Repeat: true},
		}).Draw(rt, "options")
		s := setting(o)
		s.Shift = work.Shift(geom.Pt(length.Draw(rt, "shift x"), length.Draw(rt, "shift y")))
		s.Feed, s.Plunge = rapid.Float64Range(50, 6000).Draw(rt, "feed"), rapid.Float64Range(50, 900).Draw(rt, "plunge")
		at, z := geom.Pt(length.Draw(rt, "x"), length.Draw(rt, "y")), 0.0
		r := toolpath.Run{Name: "s1", Start: at}
		pass := toolpath.Pass{Role: toolpath.Forward}
		for range rapid.IntRange(1, 12).Draw(rt, "moves") {
			step := rapid.SampledFrom([]float64{1, 0.05, 0.001}).Draw(rt, "scale")
			to := at.Add(geom.Pt(length.Draw(rt, "dx")*step, length.Draw(rt, "dy")*step))
			bulge := rapid.SampledFrom([]float64{0, 0, 1, -1, 0.4, -0.01}).Draw(rt, "bulge")
			if to == at {
				bulge = 0
			}
			z -= rapid.Float64Range(0, 2).Draw(rt, "fall")
			pass.Moves = append(pass.Moves, chain(toolpath.Ramp, at, [4]float64{to.X, to.Y, z, bulge})...)
			at = to
		}
		pass.Depth = -z
		r.Passes = []toolpath.Pass{pass}
		var b bytes.Buffer
		if _, err := program.Groove(&b, toolpath.Plan{Runs: []toolpath.Run{r}, Depths: []float64{-z}, Bit: 3, Width: 3}, s); err != nil {
			rt.Fatal(err)
		}
		moves := readBack(rt, b.String(), o)
		checkText(rt, b.String(), s.NGC)
		checkMoves(rt, moves, s)
		last := moves[len(moves)-1]
		// A point is rounded to half a step, of 0.0025 mm at most, in both axes; an arc by a whole one.
		if end := s.Shift.Point(at); last.To.Point().Dist(end) > 0.004 {
			rt.Errorf("it ends at %v, want %v", last.To, end)
		}
	})
}

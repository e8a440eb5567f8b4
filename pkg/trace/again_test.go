package trace_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/trace"
)

// copies are strands drawn several times, each time cut at other random places, pieces of
// a copy in any order and either way round, coordinates to so many decimals.
func copies(r *rand.Rand, times, decimals int, cs ...geom.Contour) (all []drawing.Curve) {
	part := math.Pow(10, float64(decimals))
	round := func(p geom.Point) geom.Point {
		return geom.Pt(math.Round(p.X*part)/part, math.Round(p.Y*part)/part)
	}
	for range times {
		for _, c := range cs {
			for _, e := range c.Edges() {
				cuts := []float64{0}
				for range r.IntN(3) {
					cuts = append(cuts, 0.1+0.8*r.Float64())
				}
				slices.Sort(cuts)
				cuts = append(cuts, 1)
				for k := 1; k < len(cuts); k++ {
					if (cuts[k]-cuts[k-1])*e.Length() < 1 {
						cuts[k] = cuts[k-1] // drawn with the next
						continue
					}
					g := e.Part(cuts[k-1], cuts[k])
					g.A, g.B = round(g.A), round(g.B)
					var s drawing.Segment = drawing.Line{A: g.A, B: g.B}
					if !g.IsLine() {
						s = drawing.Circle(g.Center(), g.Radius(), g.A.Sub(g.Center()).Angle(), g.Sweep())
					}
					if r.IntN(2) == 0 {
						s = s.Reversed()
					}
					all = append(all, drawing.Curve{Segments: []drawing.Segment{s}, Stroked: true, Width: 1})
				}
			}
		}
	}
	return all
}

// looped is a square of sides 80 whose sides run on by 12 past their corners, into loops of
// radius 12 and three quarters of a turn, by hand.
func looped() (sides []geom.Contour) {
	for k := range 4 {
		turn := geom.TurningFraction(-k, 4)
		edges := []geom.Edge{turn.Edge(geom.Line(geom.Pt(-52, 40), geom.Pt(52, 40)))}
		for _, e := range geom.Arc(geom.Pt(52, 52), 12, -math.Pi/2, 1.5*math.Pi) {
			edges = append(edges, turn.Edge(e))
		}
		sides = append(sides, geom.Chain(false, edges...))
	}
	return sides
}

// TestCopiesCutElsewhereAreOne: whatever a strand is drawn over and over, in whichever
// pieces, is that strand. Lengths and crossings by hand: circles of 30 whose centres are
// 40 apart cross twice; the S of three tangent arcs and the line that crosses it in its
// middle arc, once.
func TestCopiesCutElsewhereAreOne(t *testing.T) {
	ring := func(x float64) geom.Contour { return geom.Circle(geom.Pt(x, 0), 30) }
	wave := geom.Chain(false, append(append(geom.Arc(geom.Pt(0, 30), 30, -math.Pi, math.Pi/2),
		geom.Arc(geom.Pt(0, -20), 20, math.Pi/2, -math.Pi/2)...), geom.Arc(geom.Pt(50, -20), 30, math.Pi, math.Pi/2)...)...)
	for _, c := range []struct {
		name               string
		drawn              []geom.Contour
		strands, crossings int
		length             float64
	}{
		{"looped square", looped(), 1, 4, 4 * (104 + 1.5*math.Pi*12)},
		{"rings", []geom.Contour{ring(0), ring(40), ring(80)}, 3, 4, 3 * 2 * math.Pi * 30},
		{"arcs and a line", []geom.Contour{wave, geom.Chain(false, geom.Line(geom.Pt(0, -30), geom.Pt(40, 10)))}, 2, 1, math.Pi/2*80 + 40*math.Sqrt2},
	} {
		for times, decimals := range map[int]int{2: 3, 4: 2} {
			name := fmt.Sprintf("%s, %d times, %d decimals", c.name, times, decimals)
			r := traced(t, trace.Default(), copies(rand.New(rand.NewPCG(uint64(times), uint64(decimals))), times, decimals, c.drawn...)...).Report
			if r.Strands != c.strands || r.Crossings != c.crossings || r.Shown != 0 || r.Off > trace.Tolerance || r.Trouble.HasErrors() {
				t.Errorf("%s: %d strands, %d crossings, %d shown, off %v: %v", name, r.Strands, r.Crossings, r.Shown, r.Off, r.Trouble)
				continue
			}
			if math.Abs(r.Length-c.length) > 0.1 {
				t.Errorf("%s: %v long, want %v", name, r.Length, c.length)
			}
		}
	}
}

// TestWhatSticksOutStays: of strokes that overlap in part the whole is one line, by hand;
// curves that only touch or cross at a small angle are cut nowhere.
func TestWhatSticksOutStays(t *testing.T) {
	bezier := func(x ...float64) drawing.Curve {
		var points []geom.Point
		for i := 0; i < len(x); i += 2 {
			points = append(points, geom.Pt(x[i], x[i+1]))
		}
		return drawing.Curve{Stroked: true, Segments: []drawing.Segment{drawing.Bezier{Points: points}}}
	}
	for _, c := range []struct {
		name               string
		drawn              []drawing.Curve
		strands, crossings int
		merged             int
		length             float64
	}{
		{"lines that overlap", []drawing.Curve{line(0, 0, 60, 0), line(100, 0, 40, 0)}, 1, 0, 1, 100},
		{"a row of them", []drawing.Curve{line(0, 0, 40, 0), line(30, 0, 70, 0), line(110, 0, 60, 0), line(20, -20, 20, 20)}, 2, 1, 1, 150},
		{"one that sticks out both ways", []drawing.Curve{line(0, 0, 50, 0), line(50, 0, 50, 60), line(-20, 0, 30, 0)}, 1, 0, 1, 130},
		{"arcs of a ring", []drawing.Curve{arc(0, 0, 30, 0, 200), arc(0, 0, 30, 300, -150)}, 1, 0, 1, 300.0 / 180 * math.Pi * 30},
		// The parabola x²/200 over 0..60 and over 40..100: its two stretches are those of one over 0..100,
		// 50 (√2 + asinh 1) long.
		{"curves", []drawing.Curve{bezier(0, 0, 30, 0, 60, 18), bezier(40, 8, 70, 20, 100, 50)}, 1, 0, 1, 114.779},
		{"lines that cross at a degree", []drawing.Curve{line(-100, 0, 100, 0), line(-100, -1.75, 100, 1.75)}, 2, 1, 0, 400.03},
	} {
		r := traced(t, trace.Default(), c.drawn...).Report
		if r.Strands != c.strands || r.Crossings != c.crossings || r.Merged != c.merged || math.Abs(r.Length-c.length) > 0.02 {
			t.Errorf("%s: %d strands, %d crossings, %d merged, %v long, want %d, %d, %d, %v: %v", c.name,
				r.Strands, r.Crossings, r.Merged, r.Length, c.strands, c.crossings, c.merged, c.length, r.Trouble)
		}
	}
	touching := traced(t, trace.Default(), arc(0, 0, 30, 0, 360), arc(60, 0, 30, 0, 360))
	if len(touching.Elements)*touching.Copies != 2 || touching.Report.Merged != 0 {
		t.Errorf("circles that touch: %+v", touching.Report)
	}
}

// TestPartsPaintedAgainAreOver: where a strand is painted once more it is over, also where
// all of it is drawn twice before, cut at other places, and where the part runs across a
// cut.
func TestPartsPaintedAgainAreOver(t *testing.T) {
	base := []drawing.Curve{line(-60, 0, 7, 0), line(7, 0, 60, 0), line(0, -40, 0, 40)}
	again := []drawing.Curve{line(60, 0, -20, 0), line(-20, 0, -60, 0), line(0, 3, 0, 40), line(0, -40, 0, 3)}
	over := func(horizontal bool, drawn ...drawing.Curve) {
		t.Helper()
		got := traced(t, trace.Default(), drawn...)
		if r := got.Report; r.Strands != 2 || r.Crossings != 1 || r.Shown != 1 {
			t.Errorf("%d strands, %d crossings, %d shown", r.Strands, r.Crossings, r.Shown)
		} else if along := got.Over[0].Along; math.Abs(along.X) > 0.5 != horizontal {
			t.Errorf("what runs along %v is on top", along)
		}
	}
	over(true, append(slices.Clone(base), line(-10, 0, 10, 0))...)
	over(true, append(append(slices.Clone(base), again...), line(-10, 0, 10, 0))...)
	over(false, append(append(slices.Clone(base), again...), line(0, 8, 0, -8))...)
	// Dashed: what goes under has a gap at the crossing, and is drawn in two pieces that
	// overlap; the dashes of the second count from its own start.
	dashed := func(c drawing.Curve, start float64) drawing.Curve {
		c.Dashed, c.Dashes, c.DashStart = true, []float64{50, 20}, start
		return c
	}
	over(false, dashed(line(-60, 0, 30, 0), 0), dashed(line(-20, 0, 80, 0), 40), line(0, -40, 0, 40))
}

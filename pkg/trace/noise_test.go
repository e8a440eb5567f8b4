package trace_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/trace"
)

// asWritten is lines and arcs as a drawing program writes them: each in two parts, some the
// other way round, each drawn twice, with coordinates to so many decimals. An arc is
// written by its ends and radius, as path data has it, and is read so.
func asWritten(r *rand.Rand, decimals int, cs []geom.Contour) (d drawing.Drawing) {
	part := math.Pow(10, float64(decimals))
	round := func(p geom.Point) geom.Point {
		return geom.Pt(math.Round(p.X*part)/part, math.Round(p.Y*part)/part)
	}
	for _, c := range cs {
		for _, e := range c.Edges() {
			at := 0.3 + 0.4*r.Float64()
			for _, g := range [2]geom.Edge{e.Part(0, at), e.Part(at, 1)} {
				g.A, g.B = round(g.A), round(g.B)
				var s drawing.Segment = drawing.Line{A: g.A, B: g.B}
				if !g.IsLine() {
					s = drawing.Circle(g.Center(), g.Radius(), g.A.Sub(g.Center()).Angle(), g.Sweep())
				}
				for range 2 {
					if r.IntN(2) == 0 {
						s = s.Reversed()
					}
					d.Curves = append(d.Curves, drawing.Curve{Segments: []drawing.Segment{s}, Stroked: true, Width: 1})
				}
			}
		}
	}
	r.Shuffle(len(d.Curves), func(i, j int) { d.Curves[i], d.Curves[j] = d.Curves[j], d.Curves[i] })
	return d
}

// TestExactMotifsComeBack: what was drawn in pieces, twice, either way and rounded is one
// strand of the lines and radii that it was made of.
// It is a square of sides 80 whose sides run on by 12 past their corners, into loops of
// radius 12 and three quarters of a turn, by hand.
func TestExactMotifsComeBack(t *testing.T) {
	side := geom.Line(geom.Pt(-52, 40), geom.Pt(52, 40))
	var sides []geom.Contour
	for k := range 4 {
		turn := geom.TurningFraction(-k, 4)
		edges := []geom.Edge{turn.Edge(side)}
		for _, e := range geom.Arc(geom.Pt(52, 52), 12, -math.Pi/2, 1.5*math.Pi) {
			edges = append(edges, turn.Edge(e))
		}
		sides = append(sides, geom.Chain(false, edges...))
	}
	for _, decimals := range []int{3, 2} {
		for seed := range uint64(3) {
			d := asWritten(rand.New(rand.NewPCG(seed, 1)), decimals, sides)
			p := trace.Default()
			p.Size.Unit = 1
			got, found := trace.Trace(d, p)
			if found.HasErrors() {
				t.Fatal(found)
			}
			r := got.Report
			if r.Strands != 1 || r.Crossings != 4 || r.Turns != 4 || len(got.Elements) != 1 || r.Off > p.Tolerance {
				t.Errorf("%d decimals, seed %d: %d strands, %d crossings, %d turns, %d elements, off %v: %v", decimals, seed,
					r.Strands, r.Crossings, r.Turns, len(got.Elements), r.Off, r.Trouble)
				continue
			}
			for _, e := range got.Elements[0].Contour.Edges() {
				if !e.IsLine() && math.Abs(e.Radius()-12) > 0.01 {
					t.Errorf("%d decimals, seed %d: a radius of %v, want 12", decimals, seed, e.Radius())
				}
			}
			if want := 4 * (104 + 1.5*math.Pi*12); math.Abs(r.Length-want) > 0.05 {
				t.Errorf("%d decimals, seed %d: %v long, want %v", decimals, seed, r.Length, want)
			}
		}
	}
}

// TestTurnedShiftedAndScaled: a drawing elsewhere, turned and larger gives the same motif.
func TestTurnedShiftedAndScaled(t *testing.T) {
	wave := drawing.Bezier{Points: []geom.Point{geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(-10, 50), geom.Pt(70, 50)}}
	ring := drawing.Circle(geom.Pt(35, 25), 20, 0, 2*math.Pi)
	lengths := map[int]float64{}
	for i, m := range []drawing.Affine{
		drawing.Identity(),
		drawing.Turn(0.7).Then(drawing.Shift(geom.Pt(300, -80))),
		drawing.Stretch(0.1, 0.1).Then(drawing.Turn(2)),
	} {
		curve := func(s drawing.Segment, closed bool) drawing.Curve {
			return drawing.Curve{Segments: []drawing.Segment{s.Moved(m)}, Closed: closed, Stroked: true}
		}
		p := trace.Default()
		p.Size.Unit = 1 / m.Scale()
		got, found := trace.Trace(drawing.Drawing{Curves: []drawing.Curve{curve(wave, false), curve(ring, true)}}, p)
		r := got.Report
		if found.HasErrors() || r.Strands != 2 || r.Crossings != 2 || r.Off > p.Tolerance {
			t.Errorf("%v: %d strands, %d crossings, off %v: %v", m, r.Strands, r.Crossings, r.Off, found)
		}
		lengths[i] = r.Length
	}
	if math.Abs(lengths[1]-lengths[0]) > 0.05 || math.Abs(lengths[2]-lengths[0]) > 0.05 {
		t.Errorf("lengths %v", lengths)
	}
}

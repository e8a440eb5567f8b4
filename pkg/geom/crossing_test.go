package geom_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
)

// met is what a meeting should be.
type met struct {
	at   geom.Point
	kind geom.Kind
}

// A crossingTest is two edges and their meetings, in order along the first.
type crossingTest struct {
	name string
	e, f geom.Edge
	want []met
}

const tol = geom.Coincident

func line(x0, y0, x1, y1 float64) geom.Edge { return geom.Line(geom.Pt(x0, y0), geom.Pt(x1, y1)) }

func half(c geom.Point, r, start float64) geom.Edge { return geom.Arc(c, r, start, math.Pi)[0] }

func twoLines() []crossingTest {
	p := geom.Pt
	return []crossingTest{
		{"lines crossing", line(0, 0, 4, 4), line(0, 4, 4, 0), []met{{p(2, 2), geom.Cross}}},
		{"lines missing", line(0, 0, 1, 1), line(0, 4, 4, 0), nil},
		{"lines parallel", line(0, 0, 4, 0), line(0, 1, 4, 1), nil},
		{"lines sharing an end at a corner", line(0, 0, 4, 0), line(4, 0, 4, 3), []met{{p(4, 0), geom.Cross}}},
		{"lines in line sharing an end", line(0, 0, 4, 0), line(4, 0, 7, 0), []met{{p(4, 0), geom.Touch}}},
		{"end on line", line(0, 0, 4, 0), line(1, 0, 1, 3), []met{{p(1, 0), geom.Cross}}},
		{"end just off a line, within", line(0, 0, 4, 0), line(1, 0.9*tol, 1, 3), []met{{p(1, 0), geom.Cross}}},
		{"end just off a line, over", line(0, 0, 4, 0), line(1, 1.1*tol, 1, 3), nil},
		{"lines overlapping", line(0, 0, 4, 0), line(2, 0, 7, 0), []met{{p(2, 0), geom.Overlap}, {p(4, 0), geom.Overlap}}},
		{"lines overlapping, opposed", line(0, 0, 4, 0), line(7, 0, 2, 0), []met{{p(2, 0), geom.Overlap}, {p(4, 0), geom.Overlap}}},
		{"line within line", line(0, 0, 9, 0), line(2, 0, 5, 0), []met{{p(2, 0), geom.Overlap}, {p(5, 0), geom.Overlap}}},
		{"one line twice", line(0, 0, 9, 0), line(0, 0, 9, 0), []met{{p(0, 0), geom.Overlap}, {p(9, 0), geom.Overlap}}},
		{"lines side by side within tol", line(0, 0, 4, 0), line(0, 0.5*tol, 4, 0.5*tol), []met{{p(0, 0), geom.Overlap}, {p(4, 0), geom.Overlap}}},
	}
}

func lineAndArc() []crossingTest {
	p := geom.Pt
	upper := half(p(0, 0), 5, 0)
	return []crossingTest{
		{"line through arc", line(3, -1, 3, 9), upper, []met{{p(3, 4), geom.Cross}}},
		{"line through arc twice", line(-9, 3, 9, 3), upper, []met{{p(-4, 3), geom.Cross}, {p(4, 3), geom.Cross}}},
		{"line stopping between", line(-9, 3, 0, 3), upper, []met{{p(-4, 3), geom.Cross}}},
		{"line on the circle's other half", line(-9, -3, 9, -3), upper, nil},
		{"line touching arc", line(-9, 5, 9, 5), upper, []met{{p(0, 5), geom.Touch}}},
		{"line nearly touching, within", line(-9, 5+0.9*tol, 9, 5+0.9*tol), upper, []met{{p(0, 5), geom.Touch}}},
		{"line nearly touching, over", line(-9, 5+1.1*tol, 9, 5+1.1*tol), upper, nil},
		{"smooth joint of line and arc", line(5, -3, 5, 0), upper, []met{{p(5, 0), geom.Touch}}},
		{"diameter", line(-5, 0, 5, 0), upper, []met{{p(-5, 0), geom.Cross}, {p(5, 0), geom.Cross}}},
		{"end on arc", line(3, 4, 3, 9), upper, []met{{p(3, 4), geom.Cross}}},
	}
}

func twoArcs() []crossingTest {
	p := geom.Pt
	upper := half(p(0, 0), 5, 0)
	return []crossingTest{
		{"arcs crossing", upper, half(p(6, 0), 5, 0), []met{{p(3, 4), geom.Cross}}},
		{"arcs crossing twice", upper, geom.Arc(p(0, 6), 5, math.Pi, math.Pi)[0], []met{{p(4, 3), geom.Cross}, {p(-4, 3), geom.Cross}}},
		{"arcs touching outside", upper, half(p(0, 8), 3, math.Pi), []met{{p(0, 5), geom.Touch}}},
		{"arcs touching inside", upper, half(p(0, 2), 3, 0), []met{{p(0, 5), geom.Touch}}},
		{"arcs touching inside, larger second", half(p(0, 2), 3, 0), upper, []met{{p(0, 5), geom.Touch}}},
		{"arcs nearly touching, within", upper, half(p(0, 8+0.9*tol), 3, math.Pi), []met{{p(0, 5), geom.Touch}}},
		{"arcs nearly touching, over", upper, half(p(0, 8+1.1*tol), 3, math.Pi), nil},
		{"arcs touching where one is not", upper, half(p(0, -8), 3, 0), nil},
		{"arcs concentric", upper, half(p(0, 0), 4, 0), nil},
		{"arcs concentric within tol", upper, half(p(0, 0), 5+0.5*tol, 0), []met{{p(5, 0), geom.Overlap}, {p(-5, 0), geom.Overlap}}},
		{"one arc twice, opposed", upper, upper.Reverse(), []met{{p(5, 0), geom.Overlap}, {p(-5, 0), geom.Overlap}}},
		{"arcs overlapping", upper, half(p(0, 0), 5, math.Pi/2), []met{{p(0, 5), geom.Overlap}, {p(-5, 0), geom.Overlap}}},
		{"two halves of a circle", upper, half(p(0, 0), 5, math.Pi), []met{{p(5, 0), geom.Touch}, {p(-5, 0), geom.Touch}}},
		{"s-shaped joint", upper, geom.Edge{A: p(-5, 0), B: p(-11, 0), Bulge: -1}, []met{{p(-5, 0), geom.Touch}}},
		{"cusp", upper, geom.Arc(p(-8, 0), 3, 0, math.Pi)[0], []met{{p(-5, 0), geom.Touch}}},
		{"arcs at a corner", upper, half(p(-5, -5), 5, 0), []met{{p(-5, 0), geom.Cross}}},
		{"far apart", upper, half(p(100, 0), 5, 0), nil},
	}
}

// Elementary geometry; the values follow from Pythagoras' theorem.
func TestCrossings(t *testing.T) {
	tests := append(append(twoLines(), lineAndArc()...), twoArcs()...)
	for _, tt := range tests {
		checkMeetings(t, tt.name, tt.e, tt.f, tt.want)
		var back []met // the same, from the second edge's side
		for _, i := range order(tt.f, tt.want) {
			back = append(back, tt.want[i])
		}
		checkMeetings(t, tt.name+", exchanged", tt.f, tt.e, back)
		turned := geom.Turning(0.7).Then(geom.Shifting(geom.Pt(31, -17)))
		for i := range tt.want {
			tt.want[i].at = turned.Apply(tt.want[i].at)
		}
		checkMeetings(t, tt.name+", turned", turned.Edge(tt.e), turned.Edge(tt.f), tt.want)
	}
}

// order is the order of the meetings along f.
func order(f geom.Edge, ms []met) []int {
	if len(ms) < 2 {
		return []int{0}[:len(ms)]
	}
	if f.Param(ms[0].at) < f.Param(ms[1].at) {
		return []int{0, 1}
	}
	return []int{1, 0}
}

func checkMeetings(t *testing.T, name string, e, f geom.Edge, want []met) {
	t.Helper()
	got := geom.Crossings(e, f, geom.Coincident)
	if len(got) != len(want) {
		t.Errorf("%s: %v, want %v", name, got, want)
		return
	}
	multiplicity := map[geom.Kind]int{geom.Cross: 1, geom.Touch: 2, geom.Overlap: 0}
	for i, m := range got {
		w := want[i]
		if m.Kind != w.kind || !m.At.Near(w.at, 2*geom.Coincident) || m.Multiplicity() != multiplicity[w.kind] {
			t.Errorf("%s: meeting %d is %v %v, want %v %v", name, i, m.Kind, m.At, w.kind, w.at)
		}
		if !e.At(m.E).Near(m.At, 2*geom.Coincident) || !f.At(m.F).Near(m.At, 2*geom.Coincident) {
			t.Errorf("%s: meeting %d is not at its fractions %g, %g", name, i, m.E, m.F)
		}
	}
}

// Full circles meet in two points, in one, or not at all.
func TestCircleCircle(t *testing.T) {
	a := geom.Circle(geom.Pt(0, 0), 5)
	for _, tt := range []struct {
		b    geom.Contour
		want int // as a sum of multiplicities
	}{
		{geom.Circle(geom.Pt(6, 1), 5), 2},
		{geom.Circle(geom.Pt(0, 8), 3), 2},
		{geom.Circle(geom.Pt(0, 2), 3), 2},
		{geom.Circle(geom.Pt(0, 9), 3), 0},
		{geom.Circle(geom.Pt(0, 0), 3), 0},
		{geom.Circle(geom.Pt(1, 1), 3), 0},
	} {
		sum := 0
		for _, e := range a.Edges() {
			for _, f := range tt.b.Edges() {
				for _, m := range geom.Crossings(e, f, geom.Coincident) {
					sum += m.Multiplicity()
				}
			}
		}
		if sum != tt.want {
			t.Errorf("%v: multiplicities add up to %d, want %d", tt.b, sum, tt.want)
		}
	}
}

func randomEdge(rng *rand.Rand) geom.Edge {
	p := func() geom.Point { return geom.Pt(rng.Float64()*10, rng.Float64()*10) }
	e := geom.Line(p(), p())
	if rng.IntN(3) > 0 {
		e.Bulge = 2*rng.Float64() - 1
	}
	return e
}

// The gap between two edges against dense sampling of both.
func TestGap(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	for i := range 500 {
		e, f := randomEdge(rng), randomEdge(rng)
		got := geom.Gap(e, f)
		brute := math.Inf(1)
		const n = 400
		for k := range n + 1 {
			u := float64(k) / n
			brute = min(brute, f.Dist(e.At(u)), e.Dist(f.At(u)))
		}
		// A sample is at most half a step off; the distance changes as slowly.
		step := max(e.Length(), f.Length()) / n / 2
		if got > brute+1e-12 || got < brute-step {
			t.Errorf("%d: gap %g, sampled %g: %v %v", i, got, brute, e, f)
		}
		if back := geom.Gap(f, e); math.Abs(back-got) > 1e-9 {
			t.Errorf("%d: gap %g one way, %g the other", i, got, back)
		}
		if meets := len(geom.Crossings(e, f, 1e-9)) > 0; meets != (got <= 1e-9) {
			t.Errorf("%d: gap %g, but meets is %v", i, got, meets)
		}
	}
}

// Crossings of random edges: as many as the distance to the other curve
// changes sign along a fine sampling.
func TestCrossingsSampled(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	for i := range 300 {
		e, f := randomEdge(rng), randomEdge(rng)
		got := geom.Crossings(e, f, geom.Coincident)
		for _, m := range got {
			if e.Dist(m.At) > 1e-9 || f.Dist(m.At) > 1e-9 {
				t.Errorf("%d: %v is off the edges by %g, %g: %v %v", i, m, e.Dist(m.At), f.Dist(m.At), e, f)
			}
		}
		changes := 0
		const n = 4000
		for k := range n {
			a, b := e.At(float64(k)/n), e.At(float64(k+1)/n)
			if len(geom.Crossings(geom.Line(a, b), f, 0)) > 0 {
				changes++
			}
		}
		// Two crossings within one step, or one at a joint of steps, are rare.
		if changes != len(got) && !nearby(got, e.Length()/n*2) {
			t.Errorf("%d: %d crossings, sampling says %d: %v %v", i, len(got), changes, e, f)
		}
	}
}

func nearby(ms []geom.Meeting, d float64) bool {
	return len(ms) == 2 && ms[0].At.Dist(ms[1].At) < d
}

func ExampleCrossings() {
	e := geom.Line(geom.Pt(-9, 3), geom.Pt(9, 3))
	for _, m := range geom.Crossings(e, geom.Arc(geom.Pt(0, 0), 5, 0, math.Pi)[0], geom.Coincident) {
		fmt.Println(m.At, m.Kind)
	}
	// Output:
	// {-4 3} cross
	// {4 3} cross
}

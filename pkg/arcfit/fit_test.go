package arcfit_test

import (
	"errors"
	"math"
	"math/rand"
	"slices"
	"testing"

	"strapwork/pkg/arcfit"
	"strapwork/pkg/geom"
)

// ellipse is n points of an ellipse with these half axes.
func ellipse(a, b float64, n int) arcfit.Section {
	s := arcfit.Section{Closed: true}
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		s.Points = append(s.Points, geom.Pt(a*cos, b*sin))
	}
	return s
}

// bezier is n chords of a cubic.
func bezier(n int, p ...geom.Point) arcfit.Section {
	var s arcfit.Section
	for i := range n + 1 {
		t := float64(i) / float64(n)
		u := 1 - t
		s.Points = append(s.Points, p[0].Scale(u*u*u).Add(p[1].Scale(3*u*u*t)).Add(p[2].Scale(3*u*t*t)).Add(p[3].Scale(t*t*t)))
	}
	return s
}

// letterS is the cubic of the study.
func letterS() arcfit.Section {
	return bezier(1000, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(-10, 50), geom.Pt(70, 50))
}

// chords are n chords of a chain, their ends each out by noise (a standard deviation) both ways.
func chords(c arcfit.Chain, n int, noise float64, r *rand.Rand) arcfit.Section {
	s := arcfit.Section{Closed: c.Closed}
	line, length := c.Contour(), c.Length()
	count := n + 1
	if c.Closed {
		count = n
	}
	for i := range count {
		p, _ := line.At(length * float64(i) / float64(n))
		s.Points = append(s.Points, p.Add(geom.Pt(r.NormFloat64()*noise, r.NormFloat64()*noise)))
	}
	return s
}

// check holds a chain against its section with no help from the package: points of its contour against
// the section's chords and the section's points against the contour, each to the nearest; joints by the
// edges' tangents.
func check(t testing.TB, s arcfit.Section, c arcfit.Chain, tolerance float64) {
	t.Helper()
	line := c.Contour()
	var most float64
	for _, p := range s.Points {
		q, _ := line.Nearest(p)
		most = max(most, p.Dist(q))
	}
	drawn := geom.Contour{Closed: s.Closed}
	boxes := []geom.Box{}
	for _, p := range s.Points {
		drawn.Vertices = append(drawn.Vertices, geom.Vertex{Point: p})
	}
	for _, e := range drawn.Edges() {
		boxes = append(boxes, e.Bounds())
	}
	index := geom.NewIndex(boxes)
	const n = 2000
	for i := range n {
		p, _ := line.At(line.Length() * (float64(i) + 0.5) / n)
		most = max(most, index.Nearest(p, func(i int) float64 { return drawn.Edge(i).Dist(p) }))
	}
	if most > tolerance*(1+1e-9) {
		t.Errorf("section and chain are %.5f apart, want %g", most, tolerance)
	}
	for i, e := range line.Edges() {
		next := i + 1
		if next == line.Len() && c.Closed {
			next = 0
		} else if next == line.Len() {
			break
		}
		if turn := e.Tangent(1).Cross(line.Edge(next).Tangent(0)); math.Abs(turn) > 1e-9 {
			t.Errorf("joint %d turns by %g", i, turn)
		}
		if math.Abs(e.Bulge) > 1 {
			t.Errorf("edge %d has a bulge of %g", i, e.Bulge)
		}
	}
	if !s.Closed && !s.Loose {
		last := len(s.Points) - 1
		if !line.Start().Near(s.Points[0], 1e-9) || !line.End().Near(s.Points[last], 1e-9) {
			t.Errorf("runs from %v to %v, want %v to %v", line.Start(), line.End(), s.Points[0], s.Points[last])
		}
	}
	if c.Closed && (!c.End().Near(c.Start, 1e-9) || math.Abs(math.Remainder(c.Turned()-c.Heading, 2*math.Pi)) > 1e-9) {
		t.Errorf("doesn't close: %v to %v", c.Start, c.End())
	}
}

// TestStudy holds the counts to those of the study (section 3: the same curves with a numeric Jacobian).
func TestStudy(t *testing.T) {
	cases := []struct {
		name      string
		section   arcfit.Section
		tolerance float64
		most      int
	}{
		{"ellipse", ellipse(50, 30, 1000), 0.1, 10},
		{"ellipse", ellipse(50, 30, 1000), 0.05, 12},
		{"ellipse", ellipse(50, 30, 1000), 0.02, 16},
		{"ellipse", ellipse(50, 30, 1000), 0.01, 21},
		{"S", letterS(), 0.1, 6},
		{"S", letterS(), 0.02, 12},
		{"S", letterS(), 0.01, 13},
	}
	for _, c := range cases {
		chain, result, err := arcfit.Fit(c.section, arcfit.Params{Tolerance: c.tolerance})
		if err != nil || !result.Met || len(chain.Pieces) > c.most {
			t.Errorf("%s at %g: %d pieces, want %d; %+v, %v", c.name, c.tolerance, len(chain.Pieces), c.most, result, err)
		}
		if result.Least > len(chain.Pieces) {
			t.Errorf("%s at %g: %d pieces, and %d are said to be the least", c.name, c.tolerance, len(chain.Pieces), result.Least)
		}
		check(t, c.section, chain, c.tolerance)
	}
}

// threeArcs is the study's chain of arcs.
func threeArcs() arcfit.Chain {
	return arcfit.Chain{Heading: 0.3, Pieces: []arcfit.Piece{{Curvature: 1. / 30, Length: 45}, {Curvature: -1. / 18, Length: 30}, {Curvature: 1. / 45, Length: 50}}}
}

// arcLineArcArc is the study's other one.
func arcLineArcArc() arcfit.Chain {
	return arcfit.Chain{Heading: -1, Pieces: []arcfit.Piece{
		{Curvature: 1. / 30, Length: 45}, {Length: 25}, {Curvature: -1. / 18, Length: 30}, {Curvature: 1. / 30, Length: 50},
	}}
}

// TestNoisyArcs is the study's: 400 chords of three tangent arcs, each end out by 0.005 mm (a standard
// deviation), are three arcs again. Their radii are as near as the noise lets them: the curvature of a parabola fitted to n points over a
// length l has a standard deviation of 2 sqrt(180/n) sigma/l^2 (least squares, closed form). Pulled to
// half millimetres they are what was drawn. Ends are loose: held, two points would count for as much as all others.
func TestNoisyArcs(t *testing.T) {
	want := threeArcs()
	const sigma = 0.005
	for seed := range int64(8) {
		s := chords(want, 400, sigma, rand.New(rand.NewSource(seed)))
		s.Loose = true
		free, result, err := arcfit.Fit(s, arcfit.Params{Tolerance: 0.02})
		if err != nil || !result.Met || len(free.Pieces) != 3 {
			t.Errorf("seed %d: %d pieces, %+v, %v", seed, len(free.Pieces), result, err)
			continue
		}
		check(t, s, free, 0.02)
		pulled, _, _ := arcfit.Fit(s, arcfit.Params{Tolerance: 0.02, Snap: arcfit.Usual()})
		check(t, s, pulled, 0.02)
		for i, w := range want.Pieces {
			r := 1 / w.Curvature
			n := 400 * w.Length / want.Length()
			most := 3 * 2 * math.Sqrt(180/n) * sigma / (w.Length * w.Length) * r * r
			if got := 1 / free.Pieces[i].Curvature; math.Abs(got-r) > most {
				t.Errorf("seed %d: arc %d has a radius of %.4f, want %g to %.4f", seed, i, got, r, most)
			}
			if len(pulled.Pieces) != 3 || pulled.Pieces[i].Curvature != w.Curvature {
				t.Errorf("seed %d: %+v, want %+v", seed, pulled.Pieces, want.Pieces)
			}
		}
	}
}

// TestSnap holds what is pulled to what was drawn, exactly, also with ends held.
func TestSnap(t *testing.T) {
	want := arcLineArcArc()
	for seed := range int64(4) {
		s := chords(want, 400, 0.001, rand.New(rand.NewSource(seed)))
		got, result, err := arcfit.Fit(s, arcfit.Params{Tolerance: 0.02, Snap: arcfit.Usual()})
		if err != nil || !result.Met || len(got.Pieces) != 4 {
			t.Fatalf("seed %d: %d pieces, %+v, %v", seed, len(got.Pieces), result, err)
		}
		for i, p := range got.Pieces {
			if p.Curvature != want.Pieces[i].Curvature || math.Abs(p.Length-want.Pieces[i].Length) > 0.02 {
				t.Errorf("seed %d: piece %d is %+v, want %+v", seed, i, p, want.Pieces[i])
			}
		}
		check(t, s, got, 0.02)
	}
}

// TestPreferredRadii: a radius of another chain is taken before round ones, in sixteenths of an inch too.
func TestPreferredRadii(t *testing.T) {
	sixteenth, other := 25.4/16, 30.02
	c := arcfit.Chain{Pieces: []arcfit.Piece{{Curvature: 1 / other, Length: 45}, {Curvature: -1 / (12 * sixteenth), Length: 30}}}
	s := chords(c, 300, 0, rand.New(rand.NewSource(1)))
	got, _, err := arcfit.Fit(s, arcfit.Params{Tolerance: 0.02, Snap: arcfit.Snap{Radii: []float64{29, other}, Steps: []float64{sixteenth}}})
	if err != nil || len(got.Pieces) != 2 || got.Pieces[0].Curvature != 1/other || got.Pieces[1].Curvature != -1/(12*sixteenth) {
		t.Errorf("%+v, %v", got, err)
	}
}

// TestSweepsAndCenters: a ring of four lobes, drawn to 0.001 mm, is lobes of one radius and whole sweeps.
func TestSweepsAndCenters(t *testing.T) {
	row := []arcfit.Piece{{Curvature: 1. / 20, Length: 20 * 150 * degree}, {Curvature: -1. / 35, Length: 35 * 60 * degree}}
	c := arcfit.Chain{Closed: true}
	for range 4 {
		c.Pieces = append(c.Pieces, row...)
	}
	s := chords(c, 800, 0.001, rand.New(rand.NewSource(3)))
	got, result, err := arcfit.Fit(s, arcfit.Params{Tolerance: 0.02, Snap: arcfit.Usual()})
	if err != nil || !result.Met || len(got.Pieces) != 8 {
		t.Fatalf("%d pieces, %+v, %v", len(got.Pieces), result, err)
	}
	whole := 0
	for _, p := range got.Pieces {
		if p.Curvature != 1./20 && p.Curvature != -1./35 {
			t.Errorf("a piece of radius %.6f", 1/p.Curvature)
		}
		if turn := math.Abs(p.Sweep()) / degree; math.Abs(turn-150) < 1e-9 || math.Abs(turn-60) < 1e-9 {
			whole++
		}
	}
	if whole < 6 {
		t.Errorf("%d of 8 sweeps are whole: %+v", whole, got.Pieces)
	}
	check(t, s, got, 0.02)
}

// TestShakes: noise of 0.010 mm has a tail of 0.04, and no few arcs follow it within 0.02: what would
// do is said.
func TestShakes(t *testing.T) {
	for seed := range int64(2) {
		s := chords(arcLineArcArc(), 400, 0.01, rand.New(rand.NewSource(seed)))
		got, result, err := arcfit.Fit(s, arcfit.Params{Tolerance: 0.02})
		if err != nil || result.Met || result.Deviation < 0.02 || result.Deviation > 0.045 {
			t.Fatalf("seed %d: %+v, %v", seed, result, err)
		}
		check(t, s, got, result.Deviation)
		if _, again, err := arcfit.Fit(s, arcfit.Params{Tolerance: result.Deviation * 1.03}); err != nil || !again.Met {
			t.Errorf("seed %d: %.4f was to do, and doesn't: %+v, %v", seed, result.Deviation, again, err)
		}
	}
}

// TestCircle: a whole circle is one piece, wherever it begins and however it is drawn.
func TestCircle(t *testing.T) {
	for _, n := range []int{3, 12, 100, 5000} {
		s := ellipse(20, 20, n)
		tol := max(0.02, 20*(1-math.Cos(math.Pi/float64(n)))) // its chords' rise
		got, result, err := arcfit.Fit(s, arcfit.Params{Tolerance: tol, Snap: arcfit.Usual()})
		if err != nil || !result.Met || len(got.Pieces) != 1 || !got.Closed {
			t.Errorf("%d chords: %+v, %+v, %v", n, got, result, err)
			continue
		}
		check(t, s, got, tol)
		if n == 5000 && 1/got.Pieces[0].Curvature != 20 {
			t.Errorf("radius %g", 1/got.Pieces[0].Curvature)
		}
	}
}

// TestSmall has sections of next to nothing, and what is no section.
func TestSmall(t *testing.T) {
	pt := geom.Pt
	cases := []struct {
		name   string
		s      arcfit.Section
		pieces int
		err    error
	}{
		{"two points", arcfit.Section{Points: []geom.Point{pt(1, 2), pt(4, 6)}}, 1, nil},
		{"two points and their repetitions", arcfit.Section{Points: []geom.Point{pt(1, 2), pt(1, 2), pt(4, 6), pt(4, 6)}}, 1, nil},
		{"three in a row", arcfit.Section{Points: []geom.Point{pt(0, 0), pt(1, 1), pt(2, 2)}}, 1, nil},
		{"three not in a row", arcfit.Section{Points: []geom.Point{pt(0, 0), pt(1, 0.01), pt(2, 0)}}, 1, nil},
		{"tiny", arcfit.Section{Points: []geom.Point{pt(0, 0), pt(1e-5, 0), pt(1e-5, 1e-5)}}, 1, nil},
		{"far off", arcfit.Section{Points: []geom.Point{pt(1e6, 1e6), pt(1e6+30, 1e6), pt(1e6+60, 1e6)}}, 1, nil},
		{"nothing", arcfit.Section{}, 0, arcfit.ErrPoint},
		{"a point", arcfit.Section{Points: []geom.Point{pt(1, 2), pt(1, 2)}}, 0, arcfit.ErrPoint},
		{"there and back", arcfit.Section{Points: []geom.Point{pt(1, 2), pt(4, 6)}, Closed: true}, 0, arcfit.ErrFlat},
		{"no number", arcfit.Section{Points: []geom.Point{pt(1, 2), pt(math.NaN(), 6)}}, 0, arcfit.ErrFinite},
	}
	for _, c := range cases {
		got, result, err := arcfit.Fit(c.s, arcfit.Params{Tolerance: 0.02, Snap: arcfit.Usual()})
		if !errors.Is(err, c.err) || len(got.Pieces) != c.pieces {
			t.Errorf("%s: %+v, %+v, %v", c.name, got, result, err)
		} else if err == nil {
			check(t, c.s, got, 0.02)
		}
	}
	if _, _, err := arcfit.Fit(cases[0].s, arcfit.Params{}); !errors.Is(err, arcfit.ErrTolerance) {
		t.Error(err)
	}
}

// TestDirectionsHeld: a chain leaves and arrives as it must.
func TestDirectionsHeld(t *testing.T) {
	s := letterS()
	s.Leave, s.Arrive = geom.Pt(1, 0), geom.Pt(1, 0)
	got, result, err := arcfit.Fit(s, arcfit.Params{Tolerance: 0.05})
	if err != nil || !result.Met || len(got.Pieces) > 11 {
		t.Fatalf("%d pieces, %+v, %v", len(got.Pieces), result, err)
	}
	check(t, s, got, 0.05)
	for _, angle := range []float64{got.Heading, got.Turned()} {
		if math.Abs(math.Remainder(angle, 2*math.Pi)) > 1e-9 {
			t.Errorf("a direction of %g, want 0", angle)
		}
	}
}

// TestGapIsSeen is what broke in the study: circles that pass through all points, but not the chain.
func TestGapIsSeen(t *testing.T) {
	c := threeArcs()
	s := chords(c, 200, 0, rand.New(rand.NewSource(1)))
	if got := arcfit.Measure(s, c); got.Deviation > 0.01 { // the chords' rise
		t.Errorf("a chain is %g from itself", got.Deviation)
	}
	long := c
	long.Pieces = slices.Clone(c.Pieces)
	long.Pieces[2].Length += 15
	if got := arcfit.Measure(s, long); got.Deviation < 14 {
		t.Errorf("a chain that runs on by 15 mm is said to be %g off", got.Deviation)
	}
	long.Pieces[2].Length -= 30
	if got := arcfit.Measure(s, long); got.Deviation < 14 {
		t.Errorf("a chain that ends 15 mm early is said to be %g off", got.Deviation)
	}
	loop := c
	loop.Pieces = slices.Insert(slices.Clone(c.Pieces), 1, arcfit.Piece{Curvature: 1. / 30, Length: 60 * math.Pi})
	if got := arcfit.Measure(s, loop); got.Deviation < 30 {
		t.Errorf("a chain with a loop too many is said to be %g off", got.Deviation)
	}
	back := c.Reverse()
	if got := arcfit.Measure(s, back); got.Deviation < 30 {
		t.Errorf("a chain that runs the other way is said to be %g off", got.Deviation)
	}
}

// TestLike: a section turned, shifted, mirrored, reversed and made larger gives the like chain.
func TestLike(t *testing.T) {
	s := chords(arcLineArcArc(), 300, 0.002, rand.New(rand.NewSource(2)))
	want, _, err := arcfit.Fit(s, arcfit.Params{Tolerance: 0.02})
	if err != nil {
		t.Fatal(err)
	}
	for name, move := range map[string]geom.Similarity{
		"turned": geom.Turning(1), "shifted": geom.Shifting(geom.Pt(300, -120)), "mirrored": geom.MirrorX(), "larger": geom.Scaling(3),
	} {
		times := 1.0
		if name == "larger" {
			times = 3
		}
		moved := arcfit.Section{}
		for _, p := range s.Points {
			moved.Points = append(moved.Points, move.Apply(p))
		}
		got, _, err := arcfit.Fit(moved, arcfit.Params{Tolerance: 0.02 * times})
		if err != nil || len(got.Pieces) != len(want.Pieces) {
			t.Errorf("%s: %d pieces, want %d, %v", name, len(got.Pieces), len(want.Pieces), err)
			continue
		}
		for i, p := range got.Pieces {
			q := want.Pieces[i]
			if name == "mirrored" {
				q.Curvature = -q.Curvature
			}
			if math.Abs(p.Length/times-q.Length) > 1e-3 || math.Abs(p.Curvature*times-q.Curvature) > 1e-6 {
				t.Errorf("%s: piece %d is %+v, want %+v", name, i, p, q)
			}
		}
	}
	back := arcfit.Section{Points: slices.Clone(s.Points)}
	slices.Reverse(back.Points)
	got, _, err := arcfit.Fit(back, arcfit.Params{Tolerance: 0.02})
	if err != nil || len(got.Pieces) != len(want.Pieces) {
		t.Fatalf("reversed: %d pieces, want %d, %v", len(got.Pieces), len(want.Pieces), err)
	}
	for i, p := range got.Reverse().Pieces {
		if q := want.Pieces[i]; math.Abs(p.Length-q.Length) > 0.01 || math.Abs(p.Curvature-q.Curvature) > 1e-5 {
			t.Errorf("reversed: piece %d is %+v, want %+v", i, p, q)
		}
	}
}

// TestLong: some hundred pieces in one section, open and closed.
func TestLong(t *testing.T) {
	var open arcfit.Chain
	for range 12 {
		open.Pieces = append(open.Pieces, arcLineArcArc().Pieces...)
		open.Pieces = append(open.Pieces, threeArcs().Pieces[1:]...)
	}
	ring := arcfit.Chain{Closed: true}
	for range 24 { // 24 lobes turn by 15 degrees each
		ring.Pieces = append(ring.Pieces,
			arcfit.Piece{Curvature: 1. / 20, Length: 20 * 130 * degree}, arcfit.Piece{Length: 10}, arcfit.Piece{Curvature: -1. / 15, Length: 15 * 115 * degree})
	}
	for _, c := range []arcfit.Chain{open, ring} {
		s := chords(c, int(c.Length()), 0.002, rand.New(rand.NewSource(1)))
		got, result, err := arcfit.Fit(s, arcfit.Params{Tolerance: 0.02})
		if n := len(c.Pieces); err != nil || !result.Met || len(got.Pieces) > n+n/20 || result.Least > n {
			t.Errorf("%d pieces, want %d: %+v, %v", len(got.Pieces), n, result, err)
		}
		check(t, s, got, 0.02)
	}
}

func BenchmarkFit(b *testing.B) {
	noisy := chords(threeArcs(), 400, 0.005, rand.New(rand.NewSource(1)))
	for name, s := range map[string]arcfit.Section{"ellipse": ellipse(50, 30, 1000), "S": letterS(), "arcs": noisy} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, _, err := arcfit.Fit(s, arcfit.Params{Tolerance: 0.02, Snap: arcfit.Usual()}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

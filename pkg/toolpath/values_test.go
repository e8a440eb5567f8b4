package toolpath

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// The sizes that the closed values are given for.
const (
	w = 5.08
	b = 3.175
	k = (w - b) / 2
)

// A free end keeps two corners of (1 - pi/4) (b/2)^2 each for the chisel,
// 1.0817 mm2; derived, and confirmed by an independent geometry library.
func TestLeftAtFreeEnds(t *testing.T) {
	g := drawn(t, w, b, "M 0 0 L 200 0")
	for how, o := range variants() {
		left := region.Subtract(g.Area(), cut(plan(t, g, o))).Area()
		near(t, how+": left at two ends", left, 2*1.0817, 1e-4)
		near(t, how+": left at two ends", left, 4*(1-math.Pi/4)*b*b/4, 1e-9)
	}
}

// A corner of included angle t keeps the mitre's rounded tip for the chisel:
// (b/2)^2 (cot(t/2) - (pi-t)/2). Derived, and confirmed by an independent
// geometry library.
func TestLeftAtCorners(t *testing.T) {
	ends := 4 * (1 - math.Pi/4) * b * b / 4
	for _, c := range []struct{ degrees, left float64 }{
		{30, 6.107}, {45, 3.115}, {60, 1.726}, {90, 0.5408}, {120, 0.1355},
	} {
		y, x := math.Sincos(c.degrees * degree)
		g := drawn(t, w, b, fmt.Sprintf("M 100 0 L 0 0 L %.12f %.12f", 100*x, 100*y))
		for how, o := range variants() {
			name := fmt.Sprintf("%s: left at %g degrees", how, c.degrees)
			left := region.Subtract(g.Area(), cut(plan(t, g, o))).Area() - ends
			half := c.degrees / 2 * degree
			near(t, name, left, c.left, 6e-4)
			near(t, name, left, b*b/4*(1/math.Tan(half)-(math.Pi/2-half)), 1e-6)
		}
	}
}

// Laps of a ring: the outer wall's is clockwise about the middle with the radius R
// + k, the inner one's counter-clockwise with R - k, whichever way the ring is drawn;
// and each runs on over its start.
func TestRingLaps(t *testing.T) {
	const radius = 20.0
	for _, path := range []string{
		"M 20 0 A 20 20 0 0 1 -20 0 A 20 20 0 0 1 20 0 Z",
		"M 20 0 A 20 20 0 0 0 -20 0 A 20 20 0 0 0 20 0 Z",
	} {
		g := drawn(t, w, b, path)
		for _, climb := range []bool{false, true} {
			o := Params{Depth: 1, Step: 1, Climb: climb}
			sense := 1.0
			if climb {
				sense = -1
			}
			p := plan(t, g, o)
			seen := map[Role]bool{}
			for _, pass := range p.Runs[0].Passes {
				var edges []geom.Edge
				for _, m := range pass.Moves {
					if m.Role == pass.Role {
						edges = append(edges, m.Edge)
					}
				}
				way := geom.Chain(false, edges...)
				seen[pass.Role] = true
				name, r, turned := "inner lap", radius-k, sense
				if way.Start().Norm() > radius {
					name, r, turned = "outer lap", radius+k, -sense
				}
				for _, e := range edges {
					near(t, name+" round the middle", e.Center().Norm()+math.Abs(e.Radius()-r), 0, 1e-9)
				}
				near(t, name+" about the middle", turnsAbout(way), turned*way.Length()/r, 1e-9)
				if more := way.Length() - 2*math.Pi*r; more < 1-1e-9 || more > 2 {
					t.Errorf("the %s runs on by %v mm", name, more)
				}
			}
			if len(seen) != 2 || !seen[Forward] || !seen[Back] {
				t.Errorf("passes %v, want forward and back", seen)
			}
		}
	}
}

// turnsAbout is the angle that a way turns about the origin, counter-clockwise
// positive.
func turnsAbout(way geom.Contour) (sum float64) {
	for _, e := range way.Edges() {
		for _, half := range [2]geom.Edge{e.Part(0, 0.5), e.Part(0.5, 1)} {
			sum += math.Atan2(half.A.Cross(half.B), half.A.Dot(half.B))
		}
	}
	return sum
}

// On an arc a lane of radius rho stops asin((b/2) / rho) before the flat.
func TestArcEnds(t *testing.T) {
	g := drawn(t, w, b, "M 20 0 A 20 20 0 0 1 0 20")
	p := plan(t, g, Params{Depth: 1, Step: 1})
	for _, pass := range p.Runs[0].Passes {
		for _, m := range pass.Moves {
			if m.Role != pass.Role {
				continue
			}
			rho := m.Edge.Radius()
			near(t, "distance from the first flat", min(m.Edge.A.Y, m.Edge.B.Y), b/2, 1e-9)
			near(t, "distance from the other flat", min(m.Edge.A.X, m.Edge.B.X), b/2, 1e-9)
			near(t, "sweep", math.Abs(m.Edge.Sweep()), math.Pi/2-2*math.Asin(b/2/rho), 1e-9)
		}
	}
}

// A ramp of 3 degrees to a depth d is d / tan 3 long, 19.08 times the depth,
// however it is folded; a plunge is straight down (elementary).
func TestRampLength(t *testing.T) {
	for _, c := range []struct {
		path  string
		folds int // moves down, 0: any
	}{
		{"M 0 0 L 200 0", 2},
		{"M 0 0 L 8 0", 0},
		{"M 20 0 A 20 20 0 0 1 -20 0 A 20 20 0 0 1 20 0 Z", 0},
	} {
		g := drawn(t, w, b, c.path)
		p := plan(t, g, Params{Depth: 1, Step: 1, Ramp: 3 * degree})
		length, folds := 0.0, 0
		for _, pass := range p.Runs[0].Passes {
			for _, m := range pass.Moves {
				if m.Role == Ramp {
					length += m.Edge.Length()
					folds++
				}
			}
		}
		near(t, c.path+": ramp", length, 19.0811, 1e-4)
		if c.folds > 0 && folds != c.folds {
			t.Errorf("%s: %d ramps, want %d", c.path, folds, c.folds)
		}
	}
}

// A recut is wider by Widen, as long as before, about the same centre line.
func TestWiden(t *testing.T) {
	g := drawn(t, w, b, "M 0 0 L 100 0")
	o := usual()
	o.Rough, o.Widen = 0.15, 0.1
	p := plan(t, g, o)
	near(t, "width", p.Width, w+0.1, 0)
	box := cut(p).Bounds()
	near(t, "left end", box.Min.X, 0, 1e-9)
	near(t, "right end", box.Max.X, 100, 1e-9)
	near(t, "lower wall", box.Min.Y, -(w+0.1)/2, 1e-9)
	near(t, "upper wall", box.Max.Y, (w+0.1)/2, 1e-9)
	if len(p.Depths) != 1 || len(p.Runs[0].Passes) != 2 {
		t.Errorf("depths %v and %d passes, want one and two", p.Depths, len(p.Runs[0].Passes))
	}
}

// Lanes are k from the centre line, by the distances of an outside library
// (simplefeatures) on a finely flattened copy.
func TestLanesAgainstLibrary(t *testing.T) {
	const chords = 2000 // an arc of radius 30 is within 30/8 (pi/2000)^2 = 1e-5 of them
	rng := rand.New(rand.NewPCG(41, 42))
	for range 20 {
		bend := 60 + 60*rng.Float64()
		g := drawn(t, w, b, fmt.Sprintf("M -60 0 L 0 0 A 30 30 0 0 1 30 30 L 30 %.3f", bend))
		var flat []float64
		line := g.Motif.Strands[0].Contour
		for i := range line.Len() {
			for n := range chords + 1 {
				q := line.Edge(i).At(float64(n) / chords)
				flat = append(flat, q.X, q.Y)
			}
		}
		centre := sf.NewLineString(sf.NewSequence(flat, sf.DimXY)).AsGeometry()
		p := plan(t, g, Params{Depth: 1, Step: 1})
		judged := 0
		for _, pass := range p.Runs[0].Passes {
			for _, m := range pass.Moves {
				if m.Role != pass.Role {
					continue
				}
				for n := range 5 {
					q := m.Edge.At(float64(n) / 4)
					d, ok := sf.Distance(sf.XY{X: q.X, Y: q.Y}.AsPoint().AsGeometry(), centre)
					if !ok {
						t.Fatal("no distance")
					}
					near(t, "distance from the centre line", d, k, 2e-5)
					judged++
				}
			}
		}
		if judged < 20 {
			t.Fatalf("%d places judged", judged)
		}
	}
}

// Depth steps: as groove.Depths, or equal ones no deeper than asked.
func TestDepths(t *testing.T) {
	for _, c := range []struct {
		depth, step, widen float64
		want               []float64
	}{
		{3, 0, 0, []float64{1.375, 2.75, 3}}, // half of 3.175 mm goes twice into 2.75 mm; then the last light pass
		{3, 1, 0, []float64{1, 2, 3}},
		{3, 1.1, 0, []float64{1, 2, 3}},
		{3, 0.99, 0, []float64{0.75, 1.5, 2.25, 3}},
		{3, 5, 0, []float64{3}},
		{3, 1, 0.1, []float64{3}},
	} {
		got := Params{Depth: c.depth, Step: c.step, Widen: c.widen}.depths(b)
		if len(got) != len(c.want) {
			t.Errorf("%+v: %v", c, got)
			continue
		}
		for i := range got {
			near(t, fmt.Sprintf("%+v: depth %d", c, i), got[i], c.want[i], 1e-12)
		}
	}
}

// Lanes are even in number, at most as far apart as they may be, from wall to
// wall; a smooth strand needs more than two only when w > 2b - 0.05.
func TestLanes(t *testing.T) {
	for _, c := range []struct {
		width, bit float64
		lanes      int
	}{
		{5.08, 3.175, 2}, {3.175, 3.175, 1}, {3.1758, 3.175, 1}, {3.1762, 3.175, 2}, {3.2, 3.175, 2}, {6.29, 3.175, 2}, {6.35, 3.175, 4}, {7, 2, 4}, {8, 2, 6}, {12, 2, 8}, {13, 2, 8},
	} {
		g := drawn(t, c.width, c.bit, "M 0 0 L 100 0")
		cs := newCourse(&g, 0, usual())
		lanes := cs.lanes(cs.play, false)
		if len(lanes) != c.lanes {
			t.Errorf("%+v: lanes %v", c, lanes)
		}
		for i := 1; i < len(lanes); i++ {
			if gap := lanes[i-1] - lanes[i]; gap <= 0 || gap > c.bit-overlap {
				t.Errorf("%+v: lanes %v", c, lanes)
			}
		}
	}
}

package toolpath

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/internal/thrown"
)

// Tolerances of the checks, in mm.
const (
	gouge = 2e-6 // areas are exact to Coincident, safe areas to five times that
	speck = 5e-3 // thickness of what may be left: half of what makers work to
	// A lap that begins next to a joint of two tangent edges may start or end with a piece
	// of this length on the other of them: a hundredth of what programs are written to.
	stub = 1e-5
)

// checkPlan holds a plan to all that every plan must keep.
func checkPlan(t *testing.T, name string, g groove.Groove, o Params) bool {
	t.Helper()
	p, err := Make(&g, o)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return false
	}
	ok := true
	fail := func(format string, args ...any) {
		ok = false
		t.Errorf(name+": "+format, args...)
	}
	if len(p.Runs) != len(g.Motif.Strands) {
		fail("%d runs for %d strands", len(p.Runs), len(g.Motif.Strands))
	}
	for _, r := range p.Runs {
		if fault := continuity(r, o); fault != "" {
			fail("%s: %s", r.Name, fault)
		}
		if fault := wallSide(g, r, o); fault != "" {
			fail("%s: %s", r.Name, fault)
		}
		if g.Motif.Strands[r.Strand].Contour.Closed {
			if fault := runsOn(r); fault != "" {
				fail("%s: %s", r.Name, fault)
			}
		}
	}
	whole := g.Area()
	if over := region.Subtract(swept(p), whole.Grow(o.Widen/2+gouge)); !over.Empty() {
		fail("%g mm2 cut outside the groove at %v", over.Area(), over.Bounds())
	}
	if o.Widen > 0 {
		return ok
	}
	// A bit that fills the groove has only its centre line in it, which is no area.
	reachable := whole.Shrink(g.Size.Bit/2 - onBorder).Grow(g.Size.Bit / 2)
	for _, at := range p.Depths {
		have := cutAt(p.Runs, p.Bit, -at)
		want := reachable
		if o.Rough > 0 && at < o.Depth {
			want = slots(g, o.Rough, 2*g.Size.Width)
		}
		for _, piece := range region.Subtract(want, have).Shrink(speck / 2).Pieces() {
			fail("%g mm2 left at depth %g at %v (%s)", piece.Area(), at, piece.Bounds(), around(g, piece.Bounds().Center()))
			break
		}
	}
	return ok
}

// around says what is near a place.
func around(g groove.Groove, p geom.Point) string {
	ends, corners, crossings, tees := math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1)
	for i, s := range g.Motif.Strands {
		if !s.Contour.Closed {
			ends = min(ends, p.Dist(s.Contour.Start()), p.Dist(s.Contour.End()))
		}
		for _, c := range g.Corners(i) {
			corners = min(corners, p.Dist(c.P))
		}
	}
	for _, c := range g.Weave.Crossings {
		crossings = min(crossings, p.Dist(c.At))
	}
	for _, t := range g.Weave.Tees {
		tees = min(tees, p.Dist(t.At))
	}
	return fmt.Sprintf("from an end %.2f, a corner %.2f, a crossing %.2f, a tee %.2f", ends, corners, crossings, tees)
}

// slots is all that is within w/2 - rough of a centre line, and no less than the
// bit takes there, short of free ends by inset: what roughing has to take.
func slots(g groove.Groove, rough, inset float64) region.Region {
	var all []region.Region
	for _, s := range g.Motif.Strands {
		line := s.Contour
		if !line.Closed {
			if s.Length() < 2*inset+speck {
				continue
			}
			line = line.Sub(inset, s.Length()-inset)
		}
		half := g.Size.Width/2 - rough
		if half < g.Size.Bit/2+thinnest {
			half = g.Size.Bit / 2 // one roughing pass
		}
		all = append(all, region.Stroke(line, half))
	}
	return region.Union(all...)
}

// continuity says where a run breaks off, goes down too steeply, or up.
func continuity(r Run, o Params) string {
	at, z := r.Start, r.Z
	for i, p := range r.Passes {
		for k, m := range p.Moves {
			place := fmt.Sprintf("pass %d, move %d (%v)", i, k, m.Role)
			length, drop := m.Edge.Length(), z-m.Z
			switch {
			case m.Edge.A != at:
				return fmt.Sprintf("%s begins %g mm from where the bit is", place, m.Edge.A.Dist(at))
			case math.Abs(m.Edge.Bulge) > 1 || !m.Edge.B.Finite():
				return place + " is no edge"
			case drop < 0:
				return place + " goes up"
			case drop > 0 && m.Role != Ramp && m.Role != Plunge:
				return place + " goes down"
			case m.Role == Plunge && length != 0, m.Role != Plunge && length == 0:
				return place + " has the wrong length"
			case m.Role == Ramp && math.Atan2(drop, length) > o.Ramp+1e-6:
				return fmt.Sprintf("%s goes down at %g degrees", place, math.Atan2(drop, length)/degree)
			case m.Z < -p.Depth:
				return place + " goes too deep"
			}
			at, z = m.Edge.B, m.Z
		}
		if z != -p.Depth {
			return fmt.Sprintf("pass %d ends at %g", i, z)
		}
	}
	if z != -o.Depth {
		return fmt.Sprintf("ends at %g", z)
	}
	return ""
}

// wallSide says where a way along a wall has the wood on the wrong side: a
// point just beyond the bit's rim on that side must be outside the strand's own
// groove, and one on the other side inside it.
func wallSide(g groove.Groove, r Run, o Params) string {
	line := g.Motif.Strands[r.Strand].Contour
	k := g.Size.Offset() + o.Widen/2
	if k < thinnest || followsNoWall(g, r.Strand, o) {
		return ""
	}
	side := 1.0
	if o.Climb {
		side = -1
	}
	for i, p := range r.Passes {
		for _, m := range p.Moves {
			if m.Role != p.Role || (m.Role != Forward && m.Role != Back) || m.Edge.Length() < stub {
				continue
			}
			a, n := m.Edge.Mid(), m.Edge.Tangent(0.5).Left().Scale(side*k)
			if _, d := nearestOn(line, a.Sub(n)); d > 1e-6 && !pastMitre(g, r.Strand, a) {
				return fmt.Sprintf("pass %d (%v) at %v: the centre line is not on its other side, but %g mm off", i, p.Role, a, d)
			}
		}
	}
	return ""
}

// runsOn says which pass along a wall of a ring doesn't end by repeating its first 1
// to 2 mm, or all of it where it is shorter than that. (A way aside begins and ends
// at one place.)
func runsOn(r Run) string {
	for i, p := range r.Passes {
		if p.Role != Forward && p.Role != Back {
			continue
		}
		var edges []geom.Edge
		for _, m := range p.Moves {
			if m.Role == p.Role {
				edges = append(edges, m.Edge)
			}
		}
		way := geom.Chain(false, edges...)
		length := way.Length()
		least, most := min(1.0, length/2), min(2.0, length/2)
		q, more := way.Sub(0, most+1e-6).Nearest(way.End())
		if off := q.Dist(way.End()); off > 1e-6 || more < least-1e-6 {
			return fmt.Sprintf("pass %d (%v, %g mm) ends %g mm off its start's first %g mm, %g mm behind it", i, p.Role, length, off, most, more)
		}
		for k := range 11 {
			u := more * float64(k) / 10
			a, _ := way.At(u)
			b, _ := way.At(length - more + u)
			if !a.Near(b, stub) {
				return fmt.Sprintf("pass %d (%v) doesn't repeat its start: %v is not %v", i, p.Role, b, a)
			}
		}
	}
	return ""
}

// followsNoWall reports whether no lanes can follow a strand's walls, so that it
// is run along its centre line.
func followsNoWall(g groove.Groove, strand int, o Params) bool {
	c := newCourse(&g, strand, o)
	_, err := c.run(o, 0)
	_, errBack := c.reverse().run(o, 0)
	return err != nil || errBack != nil
}

// pastMitre reports whether a place may lie on the extension of an arm round a
// corner, where no centre line is beside it.
func pastMitre(g groove.Groove, strand int, p geom.Point) bool {
	for _, c := range g.Corners(strand) {
		if p.Dist(c.P) < 4*g.Size.Width {
			return true
		}
	}
	return false
}

func nearestOn(c geom.Contour, p geom.Point) (geom.Point, float64) {
	q, _ := c.Nearest(p)
	return q, p.Dist(q)
}

// TestJobs holds the plans of all demonstration jobs, cut in every way, to what
// plans must keep.
func TestJobs(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	for name, g := range jobs(t) {
		for how, o := range variants() {
			t.Run(name+"/"+how, func(t *testing.T) { checkPlan(t, name, g, o) })
		}
		o := usual()
		o.Widen = 0.1
		t.Run(name+"/widen", func(t *testing.T) { checkPlan(t, name, g, o) })
	}
}

// TestShapes does the same for figures of every kind that a motif is made of.
func TestShapes(t *testing.T) {
	for _, c := range []struct {
		name       string
		width, bit float64
		paths      []string
	}{
		{"straight", 5.08, 3.175, []string{"M 0 0 L 200 0"}},
		{"wide", 8, 2, []string{"M 0 0 L 60 0 L 60 60"}},
		{"twice the bit", 4, 2, []string{"M 0 0 L 60 0 L 10 40"}},
		{"filled", 3.175, 3.175, []string{"M 0 0 L 60 0 L 60 60", "M 30 -30 L 30 30"}},
		{"nearly filled", 3.3, 3.175, []string{"M 0 0 L 60 0 L 60 60", "M 30 -30 L 30 30"}},
		{"short", 5, 3, []string{"M 0 0 L 3.2 0"}},
		{"ring", 5, 3, []string{"M 20 0 A 20 20 0 0 1 -20 0 A 20 20 0 0 1 20 0 Z"}},
		{"clockwise ring", 5, 3, []string{"M 20 0 A 20 20 0 0 0 -20 0 A 20 20 0 0 0 20 0 Z"}},
		{"wide ring", 9, 3, []string{"M 20 0 A 20 20 0 0 1 -20 0 A 20 20 0 0 1 20 0 Z"}},
		{"smallest ring", 5, 3, []string{"M 2.6 0 A 2.6 2.6 0 0 1 -2.6 0 A 2.6 2.6 0 0 1 2.6 0 Z"}},
		{"square", 5, 3, []string{"M 0 0 L 40 0 L 40 40 L 0 40 Z"}},
		{"star", 4, 3, []string{"M 0 0 L 60 0 L 10 30 L 30 -30 L 50 30 Z"}},
		{"figure of eight", 5, 3, []string{"M 0 0 A 20 20 0 1 1 20 20 L 0 20 A 20 20 0 1 0 20 0 Z"}},
		{"open loop", 4, 3, []string{"M -60 0 L 0 0 A 30 30 0 1 1 -30 30 L -30 -40"}},
		{"tee", 5, 3, []string{"M -60 0 L 60 0", "M 0 0 L 30 50"}},
		{"tee on an arc", 5, 3, []string{"M -60 0 A 70 70 0 0 1 60 0", "M 0 -33.944 L 30 50"}},
		{"tees at both ends", 5, 3, []string{"M -60 0 L 60 0", "M -60 40 L 60 40", "M 0 0 L 30 40"}},
		{"arc ends", 5.08, 3.175, []string{"M 20 0 A 20 20 0 0 1 0 20", "M 60 0 A 20 20 0 0 0 40 20"}},
		{"tightest arc", 5.08, 3, []string{"M 2.6 0 A 2.6 2.6 0 0 1 -2.6 0"}},
		{"corner near the end", 5, 3, []string{"M 0 0 L 1 0 L 1 40"}},
		{"corner near the end, sharp", 5, 3, []string{"M 0 0 L 4 0 L -20 25"}},
		{"bend near the end", 5, 3, []string{"M 0 0 L 1 0 A 6 6 0 0 1 7 6 L 7 40"}},
		{"short arm", 5, 3, []string{"M 0 0 L 40 0 L 44 3 L 44 50"}},
	} {
		g := drawn(t, c.width, c.bit, c.paths...)
		for how, o := range variants() {
			t.Run(c.name+"/"+how, func(t *testing.T) { checkPlan(t, c.name, g, o) })
		}
		o := usual()
		o.Widen = 0.1
		t.Run(c.name+"/widen", func(t *testing.T) { checkPlan(t, c.name, g, o) })
	}
}

// TestCorners turns corners of every angle between straights and arcs.
func TestCorners(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	judged := 0
	for n := range 150 {
		deg := 20 + 150*rng.Float64()
		path := thrown.Corner(rng, deg)
		bit := 1.2 + 3*rng.Float64()
		g, ok := build(t, text(5.08, min(bit, 5.08), path))
		if !ok {
			continue
		}
		judged++
		o := usual()
		o.Climb = rng.IntN(2) == 0
		o.Rough = float64(rng.IntN(2)) * 0.15
		o.Depth, o.Step = 1, 1
		if !checkPlan(t, fmt.Sprintf("%d: %.1f degrees, bit %.3f", n, deg, bit), g, o) {
			t.Log(path)
		}
	}
	if judged < 100 {
		t.Errorf("only %d corners were judged", judged)
	}
}

// TestRandomMotifs plans chains of lines and arcs thrown at random.
func TestRandomMotifs(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	judged := 0
	for n := range 120 {
		var paths []string
		for range 1 + rng.IntN(3) {
			paths = append(paths, thrown.Chain(rng))
		}
		width := 2 + 4*rng.Float64()
		bit := width * (0.3 + 0.7*rng.Float64())
		g, ok := build(t, text(width, bit, paths...))
		if !ok {
			continue
		}
		judged++
		o := usual()
		o.Depth, o.Step = 1, 1
		o.Climb = rng.IntN(2) == 0
		o.Rough = float64(rng.IntN(2)) * 0.15
		if !checkPlan(t, fmt.Sprintf("%d: width %.3f, bit %.3f", n, width, bit), g, o) {
			t.Log(strings.Join(paths, " / "))
		}
	}
	if judged < 40 {
		t.Errorf("only %d motifs were judged", judged)
	}
}

// TestRandomRings plans closed strands of straights and arcs with corners of all
// kinds, drawn either way round, some with edges too short to begin a lap on.
func TestRandomRings(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	judged := 0
	for n := range 80 {
		path := thrown.Ring(rng)
		width := 2 + 4*rng.Float64()
		bit := width * (0.3 + 0.7*rng.Float64())
		g, ok := build(t, text(width, bit, path))
		if !ok {
			continue
		}
		judged++
		o := usual()
		o.Depth, o.Step = 2, 1
		o.Climb = rng.IntN(2) == 0
		o.Rough = float64(rng.IntN(2)) * 0.15
		if !checkPlan(t, fmt.Sprintf("%d: width %.3f, bit %.3f", n, width, bit), g, o) {
			t.Log(path)
		}
	}
	if judged < 30 {
		t.Errorf("only %d rings were judged", judged)
	}
}

// TestRingOfShortSides: where no side of a ring has room for the overlap, and the
// way round a corner to the next is too long, the bit goes back to where it began.
func TestRingOfShortSides(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	const side, width, bit = 2.81, 4.5, 0.5 // the lane inside has 0.5 mm of a side left
	path := "M"
	for i := range 6 {
		p := geom.Polar(side, float64(i)*60*degree)
		path += fmt.Sprintf(" %.12f %.12f", p.X, p.Y)
		if i == 0 {
			path += " L"
		}
	}
	g := drawn(t, width, bit, path+" Z")
	c := newCourse(&g, 0, usual())
	places := c.places()
	if _, to, home := (way{c, places}).over(-c.play, places[0].from); len(home) == 0 || to != places[0].from {
		t.Errorf("the bit goes on to %v", to)
	}
	for how, o := range variants() {
		checkPlan(t, how, g, o)
	}
}

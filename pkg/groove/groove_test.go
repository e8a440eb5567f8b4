package groove

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// The sizes that the design's values are given for.
const (
	w = 5.08
	b = 3.175
	r = 50.0
	k = (w - b) / 2
)

// read makes a groove of paths in the notation of the job file.
func read(t testing.TB, router string, paths ...string) (Groove, diag.Findings) {
	t.Helper()
	var s strings.Builder
	s.WriteString("title = \"test\"\nunits = \"mm\"\n")
	for i, p := range paths {
		fmt.Fprintf(&s, "[[motif.path]]\nname = \"p%d\"\nd = %q\n", i+1, p)
	}
	s.WriteString("[inlay]\ndepth = 3\nwidth = 5.08\n[router]\n" + router + "\n")
	j, found := job.Read("test.toml", []byte(s.String()))
	if found.HasErrors() {
		t.Fatal(found)
	}
	m, found := motif.Build(j.Motif)
	if found.HasErrors() {
		t.Fatal(found)
	}
	wv, found := weave.Build(m, j.Weave)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return Build(SizeOf(j.Inlay, j.Router, j.Template), m, wv)
}

const (
	base    = "guide = \"base\"\nrider = 100\nbit = 3.175"
	bearing = "guide = \"bearing\"\nbit = 3.175"
)

func cuts(t testing.TB, router string, paths ...string) (Groove, []Cut) {
	t.Helper()
	g, found := read(t, router, paths...)
	if found.HasErrors() {
		t.Fatal(found)
	}
	cs, found := g.wholes()
	if found.HasErrors() {
		t.Fatal(found)
	}
	return g, cs
}

// wholes are the cuts of chains that are each cut whole, and what stands against it.
func (g *Groove) wholes() ([]Cut, diag.Findings) {
	var cuts []Cut
	var found diag.Findings
	reported := map[int]bool{}
	for i := range g.Motif.Strands {
		if g.ReportTightArcs(i, reported, &found) {
			continue
		}
		for _, ch := range g.Chains(i) {
			c := g.Stretch(i, ch.From, ch.To)
			if ch.Ring || !g.Follows(c) {
				g.ReportUnfollowed(ch, []Stop{ch.From, ch.To}, &found)
			}
			cuts = append(cuts, c)
		}
	}
	return cuts, found
}

// swept is what all cuts together take away.
func swept(g Groove, cs []Cut) region.Region {
	var all []region.Region
	for _, c := range cs {
		all = append(all, g.Size.Swept(g.Opening(c), 0))
	}
	return region.Union(all...)
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s is %.10g, want %.10g (tolerance %g)", what, got, want, tol)
	}
}

// Design item 1: what two square ends leave for the chisel. Derived, and
// confirmed by an independent geometry library.
func TestStraightCut(t *testing.T) {
	g, cs := cuts(t, base, "M 0 0 L 200 0")
	if len(cs) != 1 {
		t.Fatalf("cuts %v, want one", cs)
	}
	near(t, "C", cs[0].Centre.Area(), (200-b)*2*k, 1e-9)
	left := region.Subtract(g.Area(), swept(g, cs))
	near(t, "left for the chisel", left.Area(), 2.1633, 5e-5)
	near(t, "left for the chisel", left.Area(), 4*(1-math.Pi/4)*b*b/4, 1e-9)
	if over := region.Subtract(swept(g, cs), g.Area()); !over.Empty() {
		t.Errorf("overcut of %g mm2", over.Area())
	}
}

func corner(degrees, arm float64) string {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return fmt.Sprintf("M %g 0 L 0 0 L %.12f %.12f", arm, arm*c, arm*s)
}

// Design item 2: what one cut round a sharp corner would take too much.
// Derived, and confirmed by an independent geometry library.
func TestCornerInOneCut(t *testing.T) {
	for _, c := range []struct{ degrees, area, depth float64 }{
		{90, 502.98, 20.05}, {60, 1605.14, 48.41}, {120, 125.98, 7.49},
	} {
		g, found := read(t, base, corner(c.degrees, 400))
		if found.HasErrors() {
			t.Fatal(found)
		}
		first, last := g.ends(0)
		whole := g.Stretch(0, first, last)
		over := region.Subtract(g.Size.Swept(g.Opening(whole), 0), g.Area())
		near(t, "overcut area", over.Area(), c.area, 0.005)
		half := c.degrees / 2 * math.Pi / 180
		near(t, "overcut area", over.Area(), (r-b/2)*(r-b/2)*(1/math.Tan(half)-(math.Pi/2-half)), 1e-6)
		// The deepest point is on the bisector, at the fillet; the inner corner
		// of the walls is w/2 / sin(t/2) from the strand's corner.
		inner := geom.Polar(w/2/math.Sin(half), half)
		fillet := 0.0
		for _, l := range over.Loops() {
			for i := range l.Len() {
				for n := range 101 {
					fillet = math.Max(fillet, bisectorDepth(l.Edge(i).At(float64(n)/100), inner, half))
				}
			}
		}
		near(t, "overcut depth", g.Size.cornerOvercut(2*half), c.depth, 0.005)
		near(t, "overcut depth as drawn", fillet, c.depth, 0.02)
		if g.follows(whole) {
			t.Errorf("%g degrees: one cut passes as right", c.degrees)
		}
	}
}

// bisectorDepth is the distance of p from inner if p is on the bisector, else 0.
func bisectorDepth(p, inner geom.Point, half float64) float64 {
	v := p.Sub(inner)
	if math.Abs(math.Remainder(v.Angle()-half, 2*math.Pi)) > 0.02 {
		return 0
	}
	return v.Norm()
}

// A bearing of the bit's size turns corners in one cut (item 2).
func TestBearingTurnsCorners(t *testing.T) {
	for _, degrees := range []float64{30, 60, 90, 120} {
		g, cs := cuts(t, bearing, corner(degrees, 100))
		if len(cs) != 1 {
			t.Errorf("%g degrees: %d cuts, want 1", degrees, len(cs))
		}
		near(t, "overcut", region.Subtract(swept(g, cs), g.Area()).Area(), 0, 1e-9)
	}
}

// Design item 3: what the mitre's rounded tip leaves when a corner is split.
// Derived, and confirmed by an independent geometry library.
func TestCornerSplit(t *testing.T) {
	ends := 4 * (1 - math.Pi/4) * b * b / 4
	for _, c := range []struct{ degrees, left float64 }{
		{30, 6.107}, {45, 3.115}, {60, 1.726}, {90, 0.5408}, {120, 0.1355},
	} {
		for _, arm := range []float64{400, 60} {
			g, cs := cuts(t, base, corner(c.degrees, arm))
			if len(cs) != 2 {
				t.Fatalf("%g degrees: %d cuts, want 2", c.degrees, len(cs))
			}
			near(t, "left for the chisel", region.Subtract(g.Area(), swept(g, cs)).Area()-ends, c.left, 0.0006)
			near(t, "overcut", region.Subtract(swept(g, cs), g.Area()).Area(), 0, 1e-9)
		}
	}
}

// Design item 4: the overcut of an arc that is too tight, 150 degrees of sweep.
// The closed form is derived, and the table's values, for ends drawn back
// squarely by b/2, are confirmed by an independent library. The ends of C
// itself are parallel to the groove's flat ends.
func TestTightArc(t *testing.T) {
	for _, c := range []struct{ radius, over float64 }{
		{50.9, 0.1282}, {50, 2.0531}, {48, 5.1342}, {40, 10.7654},
	} {
		sweep := 150 * math.Pi / 180
		from, to := geom.Polar(c.radius, -sweep/2), geom.Polar(c.radius, sweep/2)
		path := fmt.Sprintf("M %.12f %.12f A %g %g 0 0 1 %.12f %.12f", from.X, from.Y, c.radius, c.radius, to.X, to.Y)
		g, found := read(t, base, path)
		if found.HasErrors() {
			t.Fatal(found)
		}
		first, last := g.ends(0)
		cut := g.Stretch(0, first, last)
		i := c.radius - k
		closed := func(f float64) float64 {
			return i*(1-math.Cos(f)) - (r - math.Sqrt(r*r-i*i*math.Sin(f)*math.Sin(f)))
		}
		name := fmt.Sprintf("overcut at R %g", c.radius)
		near(t, name, axisOvercut(g, cut, c.radius), closed(sweep/2-math.Asin(b/2/i)), 1e-6)
		cut.Centre = band(cut.Line, k)
		squarely := sweep/2 - b/2/c.radius
		near(t, name+", by the table", closed(squarely), c.over, 5e-5)
		near(t, name+", ends square", axisOvercut(g, cut, c.radius), closed(sweep/2-math.Asin(b/2/c.radius)), 1e-6)
		_, errs := g.wholes()
		if !errs.HasErrors() {
			t.Fatalf("R %g is accepted", c.radius)
		}
		// 2 R - 2 k, less what leaves a nose that a machine can draw: 0.02 mm or so.
		var named float64
		if _, err := fmt.Sscanf(errs[0].Hint, "the largest rider that can is %f mm", &named); err != nil {
			t.Fatal(errs[0].Hint, err)
		}
		if most := 2 * (c.radius - k); named > most || named < most-0.05 {
			t.Errorf("R %g: the rider named is %g mm, %g at most leave a nose", c.radius, named, most)
		}
	}
}

// axisOvercut is how far, on the x axis, what is cut reaches inside the inner
// side of an arc about the origin.
func axisOvercut(g Groove, cut Cut, radius float64) float64 {
	axis := geom.Line(geom.Pt(0, 0), geom.Pt(radius, 0))
	low := radius
	for _, l := range g.Size.Swept(g.Opening(cut), 0).Loops() {
		for i := range l.Len() {
			for _, m := range geom.Crossings(l.Edge(i), axis, geom.Coincident) {
				low = math.Min(low, m.At.X)
			}
		}
	}
	return radius - w/2 - low
}

// At R = H the rider just follows, and the wall inside is a finding.
func TestArcAtTheLimit(t *testing.T) {
	h := r + k
	path := fmt.Sprintf("M %.12f 0 A %.12f %.12f 0 0 1 0 %.12f", h, h, h, h)
	g, _ := read(t, base, path)
	cs, found := g.wholes()
	if found.HasErrors() || len(cs) != 1 {
		t.Fatalf("%d cuts, %v", len(cs), found)
	}
	near(t, "overcut", region.Subtract(swept(g, cs), g.Area()).Area(), 0, 1e-6)
	if len(found) != 1 || found[0].Rule != "thin-nose" {
		t.Errorf("findings %v, want one about the nose", found)
	}
}

// Design item 5: a disc that rolls along a wall over a gap dips into it.
// Elementary: r - sqrt(r^2 - g^2/4).
func TestDipOverGap(t *testing.T) {
	wall := region.New(geom.Polygon(geom.Pt(-20, -10), geom.Pt(20, -10), geom.Pt(20, 0), geom.Pt(0.25, 0),
		geom.Pt(0.25, -5), geom.Pt(-0.25, -5), geom.Pt(-0.25, 0), geom.Pt(-20, 0)))
	closed := wall.Close(1.5)
	low := 0.0
	for _, l := range closed.Loops() {
		for i := range l.Len() {
			if e := l.Edge(i); e.Mid().X == 0 || math.Abs(e.Mid().X) < 1e-9 {
				if y := e.Mid().Y; y > -1 {
					low = math.Min(low, y)
				}
			}
		}
	}
	near(t, "dip", -low, 0.0209801, 5e-8)
}

// Corners of every pairing of lines and arcs: the cuts stay within the groove
// and leave no more than the mitre's tip.
func TestCornersOfLinesAndArcs(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	done := 0
	for n := range 300 {
		deg := 20 + 150*rng.Float64()
		arm := func(angle float64) (end geom.Point, path func(reverse bool) string) {
			chord := 60 + 60*rng.Float64()
			radius := 65 + 100*rng.Float64()
			bend := math.Asin(chord / 2 / radius)
			kind := rng.IntN(3) - 1 // right, straight, left
			end = geom.Polar(chord, angle+float64(kind)*bend)
			return end, func(reverse bool) string {
				to := end
				if reverse {
					to = geom.Point{}
				}
				if kind == 0 {
					return fmt.Sprintf("L %.12f %.12f", to.X, to.Y)
				}
				ccw := (kind > 0) != reverse
				flag := 0
				if ccw {
					flag = 1
				}
				return fmt.Sprintf("A %.12f %.12f 0 0 %d %.12f %.12f", radius, radius, flag, to.X, to.Y)
			}
		}
		turn := 2 * math.Pi * rng.Float64()
		e1, p1 := arm(turn)
		_, p2 := arm(turn + deg*math.Pi/180)
		path := fmt.Sprintf("M %.12f %.12f %s %s", e1.X, e1.Y, p1(true), p2(false))
		g, found := read(t, base, path)
		if found.HasErrors() {
			// Much bent arms may meet again, and sharp ones have no mitre.
			if rule := found[0].Rule; rule != "grooves-touch" && (deg > 40 || rule != "no-mitre") {
				t.Errorf("%d: %s: %v", n, path, found)
			}
			continue
		}
		cs, found := g.wholes()
		if found.HasErrors() {
			t.Errorf("%d: %g degrees: %s: %v", n, deg, path, found)
			continue
		}
		done++
		all := swept(g, cs)
		if over := region.Subtract(all, g.Area().Grow(1e-6)); !over.Empty() {
			t.Errorf("%d: %g degrees: overcut %g mm2: %s", n, deg, over.Area(), path)
		}
		c := g.corners[0][0]
		tip, _, _, _ := c.meeting(w/2, 4*w)
		for _, piece := range region.Subtract(g.Area(), all).Pieces() {
			if piece.Bounds().Dist(c.P) > 40 || piece.Area() < 1e-6 {
				continue // a free end
			}
			if d := piece.Dist(tip); d > 1e-6 {
				t.Errorf("%d: %g degrees: %g mm2 left %g mm from the mitre's tip: %s", n, deg, piece.Area(), d, path)
			}
		}
	}
	if done < 250 {
		t.Errorf("only %d of the corners were judged", done)
	}
}

// Tees of every pairing: the groove runs on into the host's, never past its
// far wall, and nothing is left standing where the two meet.
func TestTees(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for n := range 200 {
		turn := 2 * math.Pi * rng.Float64()
		at := func(x, y float64) string {
			p := geom.Pt(x, y).Turn(turn)
			return fmt.Sprintf("%.12f %.12f", p.X, p.Y)
		}
		// The host runs through the origin along +x before it is turned.
		host := fmt.Sprintf("M %s L %s", at(-120, 0), at(120, 0))
		if bend := rng.IntN(3); bend > 0 {
			radius := 70 + 100*rng.Float64()
			sag := radius - math.Sqrt(radius*radius-60*60)
			flag, side := 0, -1.0
			if bend == 1 {
				flag, side = 1, 1
			}
			host = fmt.Sprintf("M %s A %.12f %.12f 0 0 %d %s", at(-60, side*sag), radius, radius, flag, at(60, side*sag))
		}
		angle := (35 + 110*rng.Float64()) * math.Pi / 180
		if rng.IntN(2) == 0 {
			angle = -angle
		}
		end := geom.Polar(100+40*rng.Float64(), angle)
		guest := fmt.Sprintf("M %s L %s", at(0, 0), at(end.X, end.Y))
		g, found := read(t, base, host, guest)
		if found.HasErrors() {
			t.Errorf("%d: %s / %s: %v", n, host, guest, found)
			continue
		}
		if len(g.Weave.Tees) != 1 {
			t.Fatalf("%d: %d tees, want 1: %s / %s", n, len(g.Weave.Tees), host, guest)
		}
		cs, found := g.wholes()
		if found.HasErrors() {
			t.Errorf("%d: %s / %s: %v", n, host, guest, found)
			continue
		}
		all := swept(g, cs)
		if over := region.Subtract(all, g.Area().Grow(1e-6)); !over.Empty() {
			t.Errorf("%d: overcut %g mm2: %s / %s", n, over.Area(), host, guest)
		}
		for _, piece := range region.Subtract(g.Area(), all).Pieces() {
			if piece.Area() > 1e-6 && piece.Bounds().Dist(geom.Pt(0, 0)) < 30 {
				t.Errorf("%d: %g mm2 left at the tee, %v: %s / %s", n, piece.Area(), piece.Bounds(), host, guest)
			}
		}
	}
}

// TestTeeAtAJoint: a strand may end where its host's edges meet, a hair to
// either side.
func TestTeeAtAJoint(t *testing.T) {
	for _, off := range []float64{0, 1e-9, -1e-9, 1e-7, -1e-7, 1e-5, -1e-5, 1e-3, -1e-3, 0.01, -0.01} {
		for _, to := range []float64{-8, 0, 8} {
			_, found := read(t, bearing, "M 20 0 A 20 20 0 0 1 -20 0 A 20 20 0 0 1 20 0 Z", fmt.Sprintf("M 20 %g L 50 %g", off, to))
			if found.HasErrors() {
				t.Errorf("%g mm off the joint, to y %g: %v", off, to, found)
			}
		}
	}
}

// TestSplitAtACorner: a bearing as wide as the bit goes round corners in one
// cut. Where it is split at one, the two cuts meet in the mitre and leave no more
// of it than a round bit must: (b/2)^2 (1 - pi/4) of a right angle (derived: the
// square at a circle's quarter, less the quarter).
func TestSplitAtACorner(t *testing.T) {
	g, found := read(t, bearing, "M 0 0 H 100 V 80 H 0 Z")
	if found.HasErrors() {
		t.Fatal(found)
	}
	a, b2, c := g.SplitAt(0, 0, false), g.SplitAt(0, 180, false), g.SplitAt(0, 360, false)
	split := []Cut{g.Stretch(0, a, b2), g.Stretch(0, b2, c)}
	for _, cut := range split {
		if !g.Follows(cut) {
			t.Errorf("the bearing can't follow %v to %v", cut.From, cut.To)
		}
	}
	left := region.Subtract(g.Area(), swept(g, split))
	near(t, "left for the chisel", left.Area(), 4*(1-math.Pi/4)*b*b/4, 1e-6)
	if over := region.Subtract(swept(g, split), g.Area()); over.Area() > 1e-6 {
		t.Errorf("overcut of %g mm2", over.Area())
	}
}

package groove

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// arcPath is an arc about the origin from -sweep/2 to sweep/2.
func arcPath(radius, sweep float64) string {
	from, to, large := geom.Polar(radius, -sweep/2), geom.Polar(radius, sweep/2), 0
	if sweep > math.Pi {
		large = 1
	}
	return fmt.Sprintf("M %.12f %.12f A %.12f %.12[3]f 0 %d 1 %.12f %.12f", from.X, from.Y, radius, large, to.X, to.Y)
}

// sound makes a groove of paths in which nothing is wrong.
func sound(t testing.TB, router string, paths ...string) Groove {
	t.Helper()
	g, found := read(t, router, paths...)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return g
}

// whole is the one cut of a strand's first chain.
func whole(g *Groove, strand int) Cut {
	ch := g.Chains(strand)[0]
	return g.Stretch(strand, ch.From, ch.To)
}

// The largest rider inside an arc of radius R: as long as a nose is left, of radius
// R - k - r, the rider rolls along it, so r may be R - k. A rider larger than that
// bridges the inside between the ends: with i = R - k and f half of C's sweep it
// stands off the middle by c = i (1 - cos f) - (r - sqrt(r^2 - i^2 sin^2 f)), which
// solved for r is (s^2 + c'^2) / 2c', with s = i sin f and c' = i (1 - cos f) - c
// (derived: TestTightArc's closed form).
func TestLargestRiderOnAnArc(t *testing.T) {
	for _, c := range []struct{ radius, degrees float64 }{
		{3.4, 180}, {4, 150}, {10, 180}, {30, 180}, {30, 120}, {44, 60}, {30, 50}, {30, 40},
	} {
		g := sound(t, base, arcPath(c.radius, c.degrees*math.Pi/180))
		first, last := g.ends(0)
		i := c.radius - k
		f := c.degrees*math.Pi/360 - math.Asin(b/2/i)
		s, rise := i*math.Sin(f), i*(1-math.Cos(f))-planned
		want := math.Min(math.Max(i, (s*s+rise*rise)/2/rise), r)
		got := g.largestRiderRadius(0, first, last)
		// A hundredth of a millimetre on the diameter, and what leaves a nose to draw.
		if got > want+1e-9 || got < want-0.005-drawableNose {
			t.Errorf("R %g, %g degrees: radius %g, want %g", c.radius, c.degrees, got, want)
		}
		g.Size.RiderRadius = got
		if !g.Follows(g.Stretch(0, first, last)) {
			t.Errorf("R %g, %g degrees: a rider of radius %g can't follow", c.radius, c.degrees, got)
		}
	}
}

// The largest rider round a corner: the closing of two straights has a fillet of
// radius r - b/2, which is (r - b/2) (1/sin(t/2) - 1) off the corner (derived). A
// stretch shorter than the bit no rider follows.
func TestLargestRiderRoundACorner(t *testing.T) {
	for _, degrees := range []float64{60, 120, 178} {
		g := sound(t, base, corner(degrees, 300))
		first, last := g.ends(0)
		want := b/2 + planned/(1/math.Sin(degrees*math.Pi/360)-1)
		near(t, fmt.Sprintf("rider at %g degrees", degrees), g.largestRiderRadius(0, first, last), want-0.0025, 0.0026)
		if got := g.largestRiderRadius(0, first, Stop{Kind: StopFree, S: b / 2}); got != 0 {
			t.Errorf("%g degrees: a stretch shorter than the bit is followed by %g", degrees, got)
		}
	}
}

// Bands, by Pappus and Guldin: an area that runs along a line is as wide as it is,
// times the length of its middle, straight or curved. Of a mitred corner the inside
// lacks the same kite, h^2 / tan(t/2), that the outside has too much (elementary).
func TestAreaOfBands(t *testing.T) {
	for _, c := range []struct {
		path   string
		length float64
	}{
		{"M 0 0 L 200 0", 200},
		{arcPath(60, 2), 120},
		{arcPath(3, 3), 9},
		{"M 0 0 L 100 0 A 40 40 0 0 1 140 40 L 140 90 A 25 25 0 0 0 165 115", 150 + 65*math.Pi/2},
		{"M 60 0 A 60 60 0 0 1 -60 0 A 60 60 0 0 1 60 0 Z", 120 * math.Pi},
		{corner(70, 100), 200},
		{corner(20, 100), 200},
		{"M 0 0 H 100 V 80 H 0 Z", 360},
	} {
		g := sound(t, bearing, c.path)
		near(t, c.path, g.Area().Area(), w*c.length, 1e-6)
		near(t, "around all of "+c.path, g.Around(g.Area().Bounds()).Area(), w*c.length, 1e-6)
		for _, p := range g.Parts() {
			if p.Source.Element != 0 || p.Bounds.Max.X-p.Bounds.Min.X <= 0 {
				t.Errorf("%s: part %+v", c.path, p)
			}
		}
	}
	// Two that cross at 50 degrees share a rhombus of w^2 / sin (elementary).
	g := sound(t, bearing, bar(0, 0, 80), bar(5, 50, 80))
	near(t, "a crossing", g.Area().Area(), w*320-w*w/math.Sin(50*math.Pi/180), 1e-6)
}

// Mitres of straight arms by their half angles: the tip is w/2 / sin(t/2) from the
// corner, the bit's centre gets to k / sin(t/2), and b/2 (1/sin(t/2) - 1) of the tip
// is left for the chisel (elementary: right triangles with the half angle at P).
func TestMitresByHalfAngles(t *testing.T) {
	for _, degrees := range []float64{20, 45, 60, 90, 120, 170} {
		g := sound(t, base, corner(degrees, 200))
		c := g.Corners(0)[0]
		half := degrees / 2 * math.Pi / 180
		what := func(s string) string { return fmt.Sprintf("%s at %g degrees", s, degrees) }
		near(t, what("included angle"), c.Included(), 2*half, 1e-12)
		m, ok := g.Mitre(c)
		if !ok {
			t.Fatal(what("no mitre"))
		}
		out := geom.Polar(1, half+math.Pi) // away from both arms
		near(t, what("tip"), m.Tip.Dist(out.Scale(w/2/math.Sin(half))), 0, 1e-9)
		near(t, what("angle"), m.Angle(), 2*half, 1e-9)
		near(t, what("outward"), m.Outward().Dist(out), 0, 1e-9)
		if m.Curvatures() != [2]float64{} {
			t.Errorf("straight walls bend by %v", m.Curvatures())
		}
		reach, _, _, _ := c.meeting(k, 4*w)
		near(t, what("the bit's reach"), reach.Dist(out.Scale(k/math.Sin(half))), 0, 1e-9)
		cs, found := g.wholes()
		if found.HasErrors() || len(cs) != 2 {
			t.Fatal(found)
		}
		near(t, what("left of the tip"), swept(g, cs).Dist(m.Tip), b/2*(1/math.Sin(half)-1), 1e-6)
		checkSides(t, g, m)
	}
}

// checkSides checks that the groove lies on the said side of a mitre's walls, and
// that they run to the tip and away from it.
func checkSides(t *testing.T, g Groove, m Mitre) {
	t.Helper()
	area := g.Area()
	for i, e := range [2]geom.Edge{m.In, m.Out} {
		at := e.Param(m.Tip) + float64(2*i-1)*0.01*w/e.Length()
		p, n := e.At(at), e.Tangent(at).Left().Scale(0.001*m.Side)
		if area.Dist(p.Add(n)) > 0 || area.Dist(p.Sub(n)) == 0 {
			t.Errorf("wall %d of the mitre at %v: the groove isn't on its side %g", i, m.Tip, m.Side)
		}
	}
}

// Of curved arms the walls are two circles: they meet at the cosine-rule's angle,
// cos = (R1^2 + R2^2 - d^2) / 2 R1 R2 for centres d apart (elementary).
func TestMitreOfArcs(t *testing.T) {
	const radius = 80.0
	for _, bend := range []float64{1, -1} { // both arms bend to the corner's inside, or away from it
		flag := int(1+bend) / 2
		// Arms that leave (0, 0) at 180 - 35 and at 35 degrees, a sixth of a circle each.
		dir := 35 * math.Pi / 180
		left, right := dir+math.Pi/2, dir-math.Pi/2
		side := left
		if bend < 0 {
			side = right
		}
		center := geom.Polar(radius, side)
		end := center.Add(geom.Polar(radius, side+math.Pi+bend*math.Pi/3))
		g := sound(t, bearing, fmt.Sprintf("M %.12f %.12f A 80 80 0 0 %d 0 0 A 80 80 0 0 %[3]d %.12[4]f %.12[2]f", -end.X, end.Y, flag, end.X))
		m, ok := g.Mitre(g.Corners(0)[0])
		if !ok {
			t.Fatal("no mitre")
		}
		wall := radius + bend*w/2 // the outer walls, below
		d := 2 * center.X
		cos := (2*wall*wall - d*d) / (2 * wall * wall)
		want := math.Acos(cos)
		near(t, "sine of the angle", math.Sin(m.Angle()), math.Sin(want), 1e-9)
		near(t, "tip from the first centre", m.Tip.Dist(geom.Pt(-center.X, center.Y)), wall, 1e-9)
		near(t, "tip from the second centre", m.Tip.Dist(center), wall, 1e-9)
		for _, got := range m.Curvatures() {
			near(t, "bend", got, bend/wall, 1e-12)
		}
		checkSides(t, g, m)
	}
}

// A free end has two right angles, w apart, whose walls bend as the strand does; of
// each (b/2)^2 (1 - pi/4) is left, and sqrt(2) - 1 of b/2 at the tip (elementary).
func TestEndMitres(t *testing.T) {
	for _, path := range []string{"M -30 0 L 90 0", arcPath(50, 1.2)} {
		g := sound(t, bearing, path)
		s := g.Motif.Strands[0].Contour
		cut := swept(g, []Cut{whole(&g, 0)})
		for _, atEnd := range []bool{false, true} {
			p := s.Start()
			if atEnd {
				p = s.End()
			}
			ms := g.EndMitres(0, atEnd)
			near(t, "between the tips", ms[0].Tip.Dist(ms[1].Tip), w, 1e-9)
			near(t, "middle of the tips", ms[0].Tip.Lerp(ms[1].Tip, 0.5).Dist(p), 0, 1e-9)
			for _, m := range ms {
				near(t, "angle", m.Angle(), math.Pi/2, 1e-9)
				near(t, "outward", math.Abs(m.Outward().Dot(m.Tip.Sub(p).Unit())), math.Sqrt2/2, 1e-9)
				if g.Area().Dist(m.Tip.Add(m.Outward().Scale(0.01))) == 0 {
					t.Error("outward is inside the groove")
				}
				if math.Abs(cut.Dist(m.Tip)-b/2*(math.Sqrt2-1)) > 0.02 {
					t.Errorf("%g is left of the tip", cut.Dist(m.Tip))
				}
				checkSides(t, g, m)
			}
		}
	}
	g := sound(t, bearing, arcPath(50, 1.2))
	if got := g.EndMitres(0, true)[0].Curvatures(); math.Abs(got[1]-0) > 1e-12 || math.Abs(got[0]+1/(50-w/2)) > 1e-12 {
		t.Errorf("the inner wall of an end bends by %v, want away from the groove by 1/%g", got, 50-w/2)
	}
}

// The overcut at a kink: of straights it is the corner's closed form, f (1/cos(turn/2)
// - 1) with f = r - b/2, of which turn^2 f / 8 is the first term. Between arcs of walls
// that bend with the fillet by 1/R, or against it by 1/R, it is turn^2 / 8 (1/f -+ 1/R)
// (derived: the formula's comment, with both arms alike).
func TestKinkOvercut(t *testing.T) {
	size := Size{Width: w, Bit: b, RiderRadius: r}
	f := r - b/2
	const turn = 0.4 * math.Pi / 180
	kink := func(bulge float64) Corner {
		in := geom.Edge{A: geom.Pt(-40, 0), B: geom.Pt(0, 0), Bulge: bulge}
		back := in.Tangent(1).Angle()
		out := geom.Edge{A: geom.Pt(0, 0), Bulge: bulge}
		out.B = geom.Polar(40, back+turn+2*math.Atan(bulge))
		return Corner{In: in, Out: out}
	}
	c := kink(0)
	near(t, "turn", c.Turn(), turn, 1e-12)
	near(t, "straights", size.kinkOvercut(c)/size.cornerOvercut(math.Pi-turn), 1, 1e-5)
	for _, bulge := range []float64{0.05, 0.1, -0.05, -0.1} {
		c := kink(bulge)
		near(t, "turn", c.Turn(), turn, 1e-12)
		// The inside of a turn to the left is the left wall: nearer the centre where
		// the arcs bend to the left as well.
		bend := 1 / (c.In.Radius() - w/2)
		if bulge < 0 {
			bend = -1 / (c.In.Radius() + w/2)
		}
		near(t, fmt.Sprintf("arcs of bulge %g", bulge), size.kinkOvercut(c), turn*turn/8/(1/f-bend), 1e-9)
	}
	// A wall as curved as the fillet: as deep as the arms are long.
	tight := kink(0.5)
	size.RiderRadius = tight.In.Radius() - k + 1
	near(t, "walls as curved as the fillet", size.kinkOvercut(tight), turn*tight.In.Length(), 1e-9)
	if got := (Size{Width: w, Bit: b, RiderRadius: b / 2}).kinkOvercut(c); got != 0 {
		t.Errorf("a rider as wide as the bit cuts %g too deep", got)
	}
}

// The tip of a kink is h / cos(turn/2) from the joint, outside (elementary), and
// its kite of straights h^2 tan(turn/2) in area, and what it laps over.
func TestKinkTip(t *testing.T) {
	const turn = 20 * math.Pi / 180
	e := geom.Line(geom.Pt(-50, 0), geom.Pt(0, 0))
	f := geom.Line(geom.Pt(0, 0), geom.Polar(50, turn))
	if _, ok := kinkTip(e, f, 3); ok {
		t.Error("a tip on the inside")
	}
	tip, ok := kinkTip(e, f, -3)
	if !ok {
		t.Fatal("no tip")
	}
	near(t, "tip", tip.Dist(geom.Polar(3/math.Cos(turn/2), turn/2-math.Pi/2)), 0, 1e-12)
	near(t, "kite", kinkKite(e, f, 3).Area(), 9*math.Tan(turn/2)+2*3*kinkLap, 1e-9)
	near(t, "mirrored kite", kinkKite(f.Reverse(), e.Reverse(), 3).Area(), 9*math.Tan(turn/2)+2*3*kinkLap, 1e-9)
	// Two bands with a kink, as one: w times their length, and no slit.
	joined := band(geom.Chain(false, e, f), 3)
	near(t, "band", joined.Area(), 600, 1e-9)
	if n := len(joined.Loops()); n != 1 {
		t.Errorf("%d loops", n)
	}
}

// An arc's free end: C ends b/2 from the groove's flat, measured square to it. Where
// the bit fills the groove the line ends b/2 + k from it, and what is swept ends at
// the flat itself; at a corner of t it ends k (1 - 1/tan(t/2)) short, as far as that is
// short of it (elementary: a disc of radius k that touches the outer side at T).
func TestInsets(t *testing.T) {
	for _, bit := range []float64{b, w - 0.02} {
		for _, radius := range []float64{5, 30} {
			g := sound(t, bearing, arcPath(radius, 2.4))
			g.Size.Bit, g.Size.RiderRadius = bit, bit/2
			want := bit / 2
			if g.Size.Thin() {
				want = w / 2
			}
			c := whole(&g, 0)
			for i, p := range [2]geom.Point{c.Line.Start(), c.Line.End()} {
				flat := geom.Polar(1, 1.2*float64(2*i-1))
				near(t, fmt.Sprintf("bit %g, R %g: from the flat", bit, radius), math.Abs(flat.Cross(p)), want, 1e-9)
			}
		}
		for _, degrees := range []float64{60, 90, 120, 150} {
			g := sound(t, bearing, corner(degrees, 100))
			g.Size.Bit, g.Size.RiderRadius = bit, 50
			k := g.Size.Offset()
			want := 100 - bit/2
			if g.Size.Thin() {
				want = 100 - w/2 - math.Max(0, k*(1-1/math.Tan(degrees*math.Pi/360)))
			}
			c := whole(&g, 0)
			near(t, fmt.Sprintf("bit %g, %g degrees: length", bit, degrees), c.Length(), want, 1e-9)
			if over := region.Subtract(g.Size.Swept(g.Opening(c), 0), g.Area()); over.Area() > 1e-6 {
				t.Errorf("bit %g, %g degrees: overcut of %g mm2", bit, degrees, over.Area())
			}
		}
	}
}

// Openings of two straights side by side come within a web of one another where the
// lines are nearer than 2H + web: a wall is H from its line (definition of H).
func TestConflictOfParallels(t *testing.T) {
	for _, bit := range []float64{b, w - 0.02} {
		for _, off := range []float64{-0.001, 0.001} {
			size := Size{Width: w, Bit: bit, RiderRadius: 12, Web: 7}
			d := 2*size.Reach() + size.Web + off
			g := sound(t, bearing, "M 0 0 L 100 0", fmt.Sprintf("M 20 %.12f L 80 %.12[1]f", d))
			g.Size = size
			one, other := whole(&g, 0), whole(&g, 1)
			if got := g.Conflict(one, other); got != (off < 0) {
				t.Errorf("bit %g, lines %g apart: conflict %t", bit, d, got)
			}
			gap := g.Opening(one).Gap(g.Opening(other))
			near(t, "between the openings", gap, size.Web+off, 1e-9)
			swath := geom.Chain(true, g.Swath(one.Line)...)
			if got, want := swath.Area(), 2*size.Offset()*one.Length(); !size.Thin() {
				near(t, "swath", math.Abs(got), want, 1e-9)
			}
		}
	}
}

// A bend that all but closes: the ends of its opening are apart by twice the height
// of C's inner corner less the rider, (R - k) sin(a + asin(b/2 / (R - k))) - r, where
// a is half the gap's angle. Under a web the wood inside hangs on too little.
func TestWoodInsideABend(t *testing.T) {
	const radius, rider, web = 40.0, 9.0, 6.0
	i := radius - k
	// i sin(a + asin(b/2/i)) - rider = web/2, for a.
	a := math.Asin((web/2+rider)/i) - math.Asin(b/2/i)
	for _, off := range []float64{-0.001, 0.001} {
		g := sound(t, bearing, arcPath(radius, 2*math.Pi-2*(a+off)))
		g.Size.RiderRadius, g.Size.Web = rider, web
		if got := g.Follows(whole(&g, 0)); got != (off > 0) {
			t.Errorf("ends %g mm over a web apart: followed %t", 2*i*off, got)
		}
	}
}

// Beside cuts an area along a line or a circle: half discs and circular segments,
// R^2 (a - sin a cos a) for the half angle a (elementary).
func TestBeside(t *testing.T) {
	disc := region.Disc(geom.Pt(0, 0), 10)
	a := math.Acos(0.4)
	segment := 100 * (a - math.Sin(a)*math.Cos(a))
	up := geom.Line(geom.Pt(4, -1), geom.Pt(4, 1)) // its right is the smaller part
	near(t, "right of a line", Beside(disc, up, -1).Area(), segment, 1e-9)
	near(t, "left of a line", Beside(disc, up, 1).Area(), 100*math.Pi-segment, 1e-9)
	ring := geom.Arc(geom.Pt(0, 0), 6, 0, 1)[0]
	near(t, "left of a circle", Beside(disc, ring, 1).Area(), 36*math.Pi, 1e-9)
	near(t, "right of a circle", Beside(disc, ring, -1).Area(), 64*math.Pi, 1e-9)
	near(t, "right of a clockwise circle", Beside(disc, ring.Reverse(), -1).Area(), 36*math.Pi, 1e-9)
}

// An arm that bends to the corner's outer side more tightly than the groove's half
// has no side there, on whichever arm it is: there is no mitre.
func TestArmsThatTurnOver(t *testing.T) {
	straight := geom.Line(geom.Pt(-50, 0), geom.Pt(0, 0))
	for _, radius := range []float64{2, 2.999, 3.001, 40} {
		// Turning left by 80 degrees, then bending to the right.
		start := geom.Polar(1, 80*math.Pi/180)
		center := start.Left().Scale(-radius)
		bent := geom.ArcThrough(geom.Pt(0, 0), center.Add(start.Scale(radius)), center, false)
		for name, c := range map[string]Corner{
			"out": {P: geom.Pt(0, 0), In: straight, Out: bent},
			"in":  {P: geom.Pt(0, 0), In: bent.Reverse(), Out: straight.Reverse()},
		} {
			if _, _, _, ok := c.meeting(3, 100); ok && radius <= 3 {
				t.Errorf("%s with radius %g: a mitre", name, radius)
			}
			if got := turnsOver(bent, -3); got != (radius <= 3) {
				t.Errorf("radius %g shifted by 3 to its inside turns over: %t", radius, got)
			}
			if turnsOver(bent, 3) {
				t.Errorf("radius %g shifted by 3 to its outside turns over", radius)
			}
		}
	}
}

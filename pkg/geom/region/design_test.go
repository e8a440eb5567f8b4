package region

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
)

// The values here are closed forms derived in the project's geometry notes
// and confirmed there by an independent geometry library: groove width w, bit
// b, rider radius r, play k.
const (
	w = 5.08
	b = 3.175
	r = 50.0
	k = (w - b) / 2
)

// groove is the band of half-width h about a centre line, corners mitred and
// ends flat.
func groove(line geom.Contour, h float64) Region {
	left, right := line.Parallel(h, geom.Mitre), line.Parallel(-h, geom.Mitre).Reverse()
	edges := append(right.Reverse().Edges(), geom.Line(right.Start(), left.End()))
	edges = append(edges, left.Reverse().Edges()...)
	return New(geom.Chain(true, append(edges, geom.Line(left.Start(), right.End()))...))
}

// corner is a centre line with two straight arms that include the angle t,
// its tip at the origin, its inside towards +x.
func corner(t, arm float64) geom.Contour {
	return geom.Chain(false, geom.Line(geom.Polar(arm, t/2), geom.Pt(0, 0)), geom.Line(geom.Pt(0, 0), geom.Polar(arm, -t/2)))
}

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }

// Item 1: the corners that a round bit leaves at a straight cut's two ends.
func TestStraightCutLeavings(t *testing.T) {
	g := groove(geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(120, 0))), w/2)
	near(t, "groove", g.Area(), 120*w, 1e-9)
	c := g.Shrink(b / 2)
	near(t, "where the bit's centre may go", c.Area(), (120-b)*(w-b), 1e-9)
	left := Subtract(g, c.Grow(b/2))
	near(t, "left for the chisel", left.Area(), 4*(1-math.Pi/4)*b*b/4, 1e-9)
	near(t, "left for the chisel, as printed", left.Area(), 2.1633, 5e-5)
	if n := len(left.Pieces()); n != 4 {
		t.Errorf("%d pieces left, want 4", n)
	}
}

// Item 2: a sharp corner cut as one: the rider rounds the inner corner.
func TestCornerOvercut(t *testing.T) {
	for _, tt := range []struct{ degrees, area, depth float64 }{
		{90, 502.98, 20.05}, {60, 1605.14, 48.41}, {120, 125.98, 7.49},
	} {
		a := radians(tt.degrees)
		g := groove(corner(a, 300), w/2)
		floor := g.Shrink(b / 2).Close(r).Grow(b / 2)
		over := Subtract(floor, g)
		near(t, fmt.Sprint("overcut at ", tt.degrees), over.Area(), (r-b/2)*(r-b/2)*(1/math.Tan(a/2)-(math.Pi-a)/2), 1e-6)
		near(t, fmt.Sprint("overcut as printed at ", tt.degrees), over.Area(), tt.area, 5e-3)
		inner := geom.Pt(w/2/math.Sin(a/2), 0)
		depth := toArc(over, r-b/2, inner)
		near(t, fmt.Sprint("depth at ", tt.degrees), depth, (r-b/2)*(1/math.Sin(a/2)-1), 1e-9)
		near(t, fmt.Sprint("depth as printed at ", tt.degrees), depth, tt.depth, 5e-3)
		// With a bearing the rider is the bit.
		none := Subtract(g.Shrink(b/2).Close(b/2).Grow(b/2), g)
		near(t, fmt.Sprint("overcut with a bearing at ", tt.degrees), none.Area(), 0, 1e-6)
	}
}

// Item 3: the chain split at its corner: nothing but the mitre's rounded tip
// is left.
func TestMitreTip(t *testing.T) {
	for _, tt := range []struct{ degrees, area float64 }{
		{30, 6.1065}, {45, 3.115}, {60, 1.726}, {90, 0.5408}, {120, 0.1355},
	} {
		a := radians(tt.degrees)
		line := corner(a, 100)
		g := groove(line, w/2)
		room := g.Shrink(b / 2)
		cut := Region{}
		for i := range 2 {
			arm := line.Edge(i).Part(-1, 2) // run on past the corner
			c := Intersect(room, groove(geom.Chain(false, arm), k))
			// The extended band meets the other arm only next to the corner.
			cut = Union(cut, c.Pieces()[0].Grow(b/2))
		}
		near(t, fmt.Sprint("nothing overcut at ", tt.degrees), Subtract(cut, g).Area(), 0, 1e-6)
		tip := Intersect(Subtract(g, cut), New(geom.Circle(geom.Pt(0, 0), 20)))
		near(t, fmt.Sprint("tip at ", tt.degrees), tip.Area(), b*b/4*(1/math.Tan(a/2)-(math.Pi-a)/2), 1e-6)
		near(t, fmt.Sprint("tip as printed at ", tt.degrees), tip.Area(), tt.area, 5e-4)
	}
}

// Item 4: an arc too tight for the rider loses its inner wall.
func TestTightArc(t *testing.T) {
	for _, tt := range []struct{ radius, depth float64 }{
		{50.9, 0.1282}, {50, 2.0531}, {48, 5.1342}, {40, 10.7654}, {50.9525, 0}, {60, 0},
	} {
		sweep := radians(150) - b/tt.radius // ends drawn back by b/2 along the arc
		line := geom.Chain(false, geom.Arc(geom.Pt(0, 0), tt.radius, math.Pi/2-sweep/2, sweep)...)
		c := groove(line, k)
		over := Subtract(c.Close(r), c)
		inner := tt.radius - k
		if tt.depth == 0 {
			near(t, fmt.Sprint("no overcut at R ", tt.radius), over.Area(), 0, 1e-5)
			continue
		}
		f := sweep / 2
		want := inner*(1-math.Cos(f)) - (r - math.Sqrt(r*r-sq(inner*math.Sin(f))))
		got := toArc(over, r, geom.Pt(0, inner))
		near(t, fmt.Sprint("depth at R ", tt.radius), got, want, 1e-9)
		near(t, fmt.Sprint("depth as printed at R ", tt.radius), got, tt.depth, 5e-5)
	}
}

// toArc is the distance from p to the nearest arc of the given radius on the
// boundary of x.
func toArc(x Region, radius float64, p geom.Point) float64 {
	best := math.Inf(1)
	for _, c := range x.Loops() {
		for _, e := range c.Edges() {
			if math.Abs(e.Radius()-radius) < 1e-6 {
				best = min(best, e.Dist(p))
			}
		}
	}
	return best
}

func sq(x float64) float64 { return x * x }

// Item 5: a disc rolling along a wall over a gap dips into it.
func TestDipIntoGap(t *testing.T) {
	const radius, gap = 1.5, 0.5
	walls := Union(square(-10, -10, 10), square(gap, -10, 10))
	dip := walls.Close(radius).BoundaryDist(geom.Pt(gap/2, 0))
	near(t, "dip", dip, radius-math.Sqrt(radius*radius-gap*gap/4), 1e-9)
	near(t, "dip as printed", dip, 0.0209801, 5e-8)
}

// Cutter radius offset, NISTIR 6556 (Kramer, Proctor, Messina: The NIST
// RS274/NGC Interpreter, version 3), tables 12 and 13: radius 0.5.
func TestGrowNGC(t *testing.T) {
	p := geom.Pt
	g2 := func(a, b, c geom.Point) geom.Edge { return geom.ArcThrough(a, b, c, false) }
	example := geom.Chain(true,
		g2(p(2, 3), p(3, 2), p(2, 2)), geom.Line(p(3, 2), p(3, -1)),
		g2(p(3, -1), p(2, -2), p(2, -1)), geom.Line(p(2, -2), p(-2, -2)),
		g2(p(-2, -2), p(-2.6, -0.2), p(-2, -1)), geom.Line(p(-2.6, -0.2), p(1.4, 2.8)),
		g2(p(1.4, 2.8), p(2, 3), p(2, 2)))
	grown := New(example).Grow(0.5)
	if n := len(grown.Loops()); n != 1 {
		t.Fatalf("%d loops, want 1", n)
	}
	loop := grown.Loops()[0]
	want := []geom.Point{p(2, 3.5), p(3.5, 2), p(3.5, -1), p(2, -2.5), p(-2, -2.5), p(-2.9, 0.2), p(1.1, 3.2)}
	onLoop := func(q geom.Point) bool {
		for _, v := range loop.Vertices {
			if v.Near(q, 1e-9) {
				return true
			}
		}
		return false
	}
	for _, q := range want {
		// The two arcs about (2, 2) become one, without the point between them.
		if !onLoop(q) && !(q == p(2, 3.5) && grown.BoundaryDist(q) < 1e-9) {
			t.Errorf("no vertex at %v: %v", q, loop)
		}
	}
	for _, e := range loop.Edges() {
		if e.IsLine() {
			continue
		}
		c := e.Center()
		if math.Abs(e.Radius()-1.5) > 1e-9 || !(c.Near(p(2, 2), 1e-9) || c.Near(p(2, -1), 1e-9) || c.Near(p(-2, -1), 1e-9)) {
			t.Errorf("arc about %v of radius %g", c, e.Radius())
		}
	}
	parallel := example.Parallel(0.5, geom.Round)
	near(t, "area as the parallel curve's", grown.Area(), -parallel.Area(), 1e-9)
}

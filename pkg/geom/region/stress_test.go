package region

// The trade's ordinary cases, generated: scenes on coarse grids, in which arcs
// touch, edges lie on each other, circles are concentric, and offsets vanish,
// pinch and split; turned, shifted by a little, rounded as a drawing file
// would. Every result is compared with the definition of its operation, worked
// out point by point.

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
)

var (
	scenes   = flag.Int("scenes", 120, "number of scenes of each kind in the stress test")
	moreSeed = flag.Uint64("seed", 0, "added to the seeds of the stress test")
)

// blur is how a scene's exact coordinates are spoiled.
type blur struct {
	name  string
	turn  bool
	noise float64 // each coordinate is moved by up to this
	round bool    // to nine decimals, as in a drawing file
	scale float64 // of a table top; 0 for the size of a box lid
}

var blurs = []blur{
	{name: "exact"},
	{name: "turned", turn: true},
	{name: "rounded", turn: true, round: true},
	{name: "1e-9", noise: 1e-9},
	{name: "1e-8", noise: 1e-8, turn: true},
	{name: "1e-7", noise: 1e-7},
	{name: "1e-6", noise: 1e-6, turn: true},
	{name: "table", turn: true, scale: 100},
	{name: "table rounded", turn: true, round: true, scale: 100},
	{name: "table 1e-8", noise: 1e-8, scale: 100},
}

func (b blur) apply(rng *rand.Rand, c geom.Contour, t geom.Similarity) geom.Contour {
	if b.scale > 0 {
		c = geom.Scaling(b.scale).Contour(c)
	}
	if b.turn {
		c = t.Contour(c)
	}
	out := geom.Contour{Closed: c.Closed}
	for _, v := range c.Vertices {
		v.X += b.noise * (2*rng.Float64() - 1)
		v.Y += b.noise * (2*rng.Float64() - 1)
		if b.round {
			v.X, v.Y, v.Bulge = nine(v.X), nine(v.Y), nine(v.Bulge)
		}
		out.Vertices = append(out.Vertices, v)
	}
	return out
}

func nine(x float64) float64 { return math.Round(x*1e9) / 1e9 }

// gridShape is a closed contour whose vertices, centres and radii are whole or
// half numbers on a small board.
func gridShape(rng *rand.Rand) geom.Contour {
	n := func(k int) float64 { return float64(rng.IntN(k)) }
	p := geom.Pt(n(13), n(13))
	switch rng.IntN(9) {
	case 0:
		return geom.Rect(geom.Box{Min: p, Max: p.Add(geom.Pt(1+n(6), 1+n(6)))})
	case 1, 2:
		return geom.Circle(p, 1+n(8)/2)
	case 3:
		return band(p, p.Add(geom.Pt(n(9), n(5)-2)), 0.5*(1+n(4)))
	case 4:
		return sector(p, 1+n(3), 1+n(3), rng.IntN(8), 1+rng.IntN(7))
	case 5:
		return geom.Polygon(p, p.Add(geom.Pt(1+n(5), 0)), p.Add(geom.Pt(n(5), 1+n(5))))
	case 6:
		w, h := 2+2*n(3), 2+2*n(3)
		return roundRect(p, w, h, 1)
	case 7:
		return geom.Polygon(p, p.Add(geom.Pt(6, 0)), p.Add(geom.Pt(6, 4)), p.Add(geom.Pt(4, 4)),
			p.Add(geom.Pt(4, 1+n(3))), p.Add(geom.Pt(2, 1+n(3))), p.Add(geom.Pt(2, 4)), p.Add(geom.Pt(0, 4)))
	}
	r := 1 + n(4)
	return geom.Chain(true, geom.ArcThrough(p, p.Add(geom.Pt(2*r, 0)), p.Add(geom.Pt(r, 0)), true),
		geom.Line(p.Add(geom.Pt(2*r, 0)), p))
}

// band is a bar with round ends.
func band(p, q geom.Point, r float64) geom.Contour {
	if p == q {
		return geom.Circle(p, r)
	}
	n := q.Sub(p).Unit().Left().Scale(r)
	return geom.Chain(true, geom.Line(p.Sub(n), q.Sub(n)), geom.Edge{A: q.Sub(n), B: q.Add(n), Bulge: 1},
		geom.Line(q.Add(n), p.Add(n)), geom.Edge{A: p.Add(n), B: p.Sub(n), Bulge: 1})
}

// sector is a piece of a ring, from and over so many eighths of a turn.
func sector(c geom.Point, inner, width float64, from, over int) geom.Contour {
	a, s := float64(from)*math.Pi/4, float64(over)*math.Pi/4
	out := geom.Arc(c, inner+width, a, s)
	in := geom.Arc(c, inner, a+s, -s)
	edges := append(append(out[:len(out):len(out)], geom.Line(out[len(out)-1].B, in[0].A)), in...)
	return geom.Chain(true, append(edges, geom.Line(in[len(in)-1].B, out[0].A))...)
}

func roundRect(p geom.Point, w, h, r float64) geom.Contour {
	q := func(x, y float64) geom.Point { return p.Add(geom.Pt(x, y)) }
	b := math.Tan(math.Pi / 8)
	return geom.Contour{Closed: true, Vertices: []geom.Vertex{
		{Point: q(r, 0)},
		{Point: q(w-r, 0), Bulge: b},
		{Point: q(w, r)},
		{Point: q(w, h-r), Bulge: b},
		{Point: q(w-r, h)},
		{Point: q(r, h), Bulge: b},
		{Point: q(0, h-r)},
		{Point: q(0, r), Bulge: b},
	}}
}

// winds is how often the contour winds about p, worked out without anything
// of this package: the polygon of the chords by the crossing rule, and one
// more for each arc's segment that p lies in. p is moved by a hair, since on
// this grid it often lies just on a chord, about which the two must agree.
func winds(c geom.Contour, p geom.Point) int {
	p = p.Add(geom.Pt(3.1e-10, 7.3e-10))
	w := 0
	for i := range c.Len() {
		e := c.Edge(i)
		a, b := e.A.Sub(p), e.B.Sub(p)
		side := b.Sub(a).Cross(a.Scale(-1))
		if a.Y <= 0 && b.Y > 0 && side > 0 {
			w++
		} else if a.Y > 0 && b.Y <= 0 && side < 0 {
			w--
		}
		if e.Bulge != 0 && e.Center().Dist(p) < e.Radius() && side*e.Bulge < 0 {
			if e.Bulge > 0 {
				w++
			} else {
				w--
			}
		}
	}
	return w
}

// holds is whether r's loops wind about p.
func holds(r Region, p geom.Point) bool {
	w := 0
	for _, c := range r.Loops() {
		w += winds(c, p)
	}
	return w > 0
}

// signedDist is the distance from p to r's boundary, negative inside.
func signedDist(r Region, p geom.Point) float64 {
	best := math.Inf(1)
	for _, c := range r.Loops() {
		for i := range c.Len() {
			best = math.Min(best, c.Edge(i).Dist(p))
		}
	}
	if holds(r, p) {
		return -best
	}
	return best
}

// clear is how far a sample must be from every boundary that could decide
// about it: the noise of the scenes aside, ten times Coincident.
const clear = 1e-6

// samples are places on and between the lines of the grid over the board.
func samples(rng *rand.Rand, b geom.Box, n int) []geom.Point {
	pts := make([]geom.Point, n)
	for i := range pts {
		pts[i] = geom.Pt(b.Min.X+rng.Float64()*(b.Max.X-b.Min.X), b.Min.Y+rng.Float64()*(b.Max.Y-b.Min.Y))
	}
	return pts
}

// simple reports what is wrong with the loops of r: edges too short, crossing
// or lying on each other.
func simple(r Region) string {
	var all []geom.Edge
	for _, c := range r.Loops() {
		if !c.Closed || c.Len() < 2 {
			return fmt.Sprint("not a loop: ", c)
		}
		all = append(all, c.Edges()...)
	}
	for i, e := range all {
		if e.A.Near(e.B, geom.Coincident) {
			return fmt.Sprint("short edge ", e)
		}
		for _, f := range all[:i] {
			for _, m := range geom.Crossings(e, f, geom.Coincident) {
				inE := m.At.Dist(e.A) > clear && m.At.Dist(e.B) > clear
				inF := m.At.Dist(f.A) > clear && m.At.Dist(f.B) > clear
				if inE && inF && m.Kind == geom.Cross {
					return fmt.Sprint("edges cross: ", e, f, m)
				}
			}
		}
	}
	return ""
}

// doubts reports pieces whose winding numbers contradict their neighbours'. The
// results may be right all the same, each piece having asked for itself, but
// the arrangement was not settled.
func doubts(a, b Region, d float64) string {
	raw := func(loops []geom.Contour, d float64) (in []input) {
		for _, c := range loops {
			in = appendContour(in, rawOffset(c, d), 0)
		}
		return in
	}
	for _, in := range [][]input{b.appendTo(a.appendTo(nil, 0), 1), raw(a.Loops(), d), raw(b.Loops(), d), raw(a.Grow(d).Loops(), d/3)} {
		if n := arrange(in).doubtful; n > 0 {
			return fmt.Sprint(n, " of ", len(in))
		}
	}
	return ""
}

// checkMembers compares membership in got with the function inside, which
// returns how far a point is from changing its mind (negative inside).
func checkMembers(got Region, pts []geom.Point, inside func(geom.Point) float64) string {
	for _, p := range pts {
		s := inside(p)
		if math.Abs(s) < clear || math.Abs(signedDist(got, p)) < clear {
			continue
		}
		if holds(got, p) != (s < 0) {
			return fmt.Sprintf("%v: result says %v, %g from the boundary; definition %g", p, holds(got, p), signedDist(got, p), s)
		}
	}
	if s := simple(got); s != "" {
		return s
	}
	return ""
}

// checkOffset checks that got is a grown by d (shrunk for d < 0).
func checkOffset(a, got Region, d float64, pts []geom.Point) string {
	for _, c := range got.Loops() {
		for i := range c.Len() {
			for _, t := range []float64{0, 0.37, 0.5} {
				p := c.Edge(i).At(t)
				if e := math.Abs(signedDist(a, p) - d); e > 5*geom.Coincident {
					return fmt.Sprintf("boundary point %v (edge %v) is out by %g", p, c.Edge(i), e)
				}
			}
		}
	}
	return checkMembers(got, pts, func(p geom.Point) float64 { return signedDist(a, p) - d })
}

type scene struct {
	a, b []geom.Contour
	d    float64
}

func newScene(rng *rand.Rand, b blur) scene {
	var s scene
	t := geom.Turning(rng.Float64() * 6).Then(geom.Shifting(geom.Pt(rng.Float64(), rng.Float64())))
	many := 3
	if rng.IntN(4) == 0 {
		many = 9
	}
	for range 1 + rng.IntN(many) {
		s.a = append(s.a, b.apply(rng, gridShape(rng), t))
	}
	for range 1 + rng.IntN(many-1) {
		s.b = append(s.b, b.apply(rng, gridShape(rng), t))
	}
	s.d = float64(1+rng.IntN(8)) / 4
	if rng.IntN(4) == 0 {
		s.d *= 4
	}
	if b.scale > 0 {
		s.d *= b.scale
	}
	return s
}

// check returns what is wrong with the results for the scene, if anything.
func (s scene) check(rng *rand.Rand) []string {
	var bad []string
	note := func(op, what string) {
		if what != "" {
			bad = append(bad, op+": "+what)
		}
	}
	a, b := New(s.a...), New(s.b...)
	box := a.Bounds().Join(b.Bounds()).Expand(1.1 * s.d)
	pts := samples(rng, box, 60)
	def := func(cs []geom.Contour) func(p geom.Point) float64 {
		return func(p geom.Point) float64 {
			in, near := false, math.Inf(1)
			for _, c := range cs {
				in = in || winds(c, p) != 0
				for _, e := range c.Edges() {
					near = math.Min(near, e.Dist(p))
				}
			}
			if in {
				return -near
			}
			return near
		}
	}
	note("new", checkMembers(a, pts, def(s.a)))
	note("doubts", doubts(a, b, s.d))
	both := func(f func(x, y float64) float64) func(geom.Point) float64 {
		return func(p geom.Point) float64 { return f(signedDist(a, p), signedDist(b, p)) }
	}
	u, x, m := Union(a, b), Intersect(a, b), Subtract(a, b)
	note("union", checkMembers(u, pts, both(math.Min)))
	note("intersect", checkMembers(x, pts, both(math.Max)))
	note("subtract", checkMembers(m, pts, both(func(x, y float64) float64 { return math.Max(x, -y) })))
	tol := 4 * geom.Coincident * (a.Perimeter() + b.Perimeter() + 1)
	if e := u.Area() + x.Area() - a.Area() - b.Area(); math.Abs(e) > tol {
		note("areas", fmt.Sprint("union and intersection out by ", e))
	}
	for _, r := range []Region{a, m, x} {
		g := r.Grow(s.d)
		note("grow", checkOffset(r, g, s.d, pts))
		note("shrink", checkOffset(r, r.Shrink(s.d), -s.d, pts))
		note("close", checkOffset(g, g.Shrink(s.d), -s.d, pts))
		if c := g.Shrink(s.d); Subtract(r, c).Area() > tol {
			note("close", "does not contain the region")
		}
	}
	return bad
}

// curveOnGrid is an open or closed curve of lines and arcs whose corners lie on
// the grid: smooth, cornered, doubled back, crossing itself.
func curveOnGrid(rng *rand.Rand) geom.Contour {
	n := func(k int) float64 { return float64(rng.IntN(k)) }
	at := geom.Pt(2+n(9), 2+n(9))
	start := at
	var edges []geom.Edge
	for range 1 + rng.IntN(5) {
		to := at.Add([]geom.Point{{X: 2}, {X: -2}, {Y: 2}, {Y: -2}, {X: 3, Y: 3}, {X: -4}, {Y: 4}}[rng.IntN(7)])
		bulge := []float64{0, 0, 1, -1, math.Tan(math.Pi / 8), -math.Tan(math.Pi / 8)}[rng.IntN(6)]
		edges = append(edges, geom.Edge{A: at, B: to, Bulge: bulge})
		at = to
	}
	if rng.IntN(3) > 0 || at == start {
		return geom.Chain(false, edges...)
	}
	return geom.Chain(true, append(edges, geom.Edge{A: at, B: start, Bulge: []float64{0, 1, -1}[rng.IntN(3)]})...)
}

func checkStroke(rng *rand.Rand, b blur) (string, geom.Contour, float64) {
	t := geom.Turning(rng.Float64() * 6).Then(geom.Shifting(geom.Pt(rng.Float64(), rng.Float64())))
	c := b.apply(rng, curveOnGrid(rng), t)
	d := float64(1+rng.IntN(8)) / 4
	if rng.IntN(5) == 0 {
		d *= 4
	}
	if b.scale > 0 {
		d *= b.scale
	}
	got := Stroke(c, d)
	far := func(p geom.Point) float64 {
		q, _ := c.Nearest(p)
		return p.Dist(q)
	}
	for _, l := range got.Loops() {
		for i := range l.Len() {
			for _, u := range []float64{0, 0.37, 0.5} {
				p := l.Edge(i).At(u)
				if e := math.Abs(far(p) - d); e > 5*geom.Coincident {
					return fmt.Sprintf("boundary point %v (edge %v) is out by %g", p, l.Edge(i), e), c, d
				}
			}
		}
	}
	pts := samples(rng, c.Bounds().Expand(1.1*d), 100)
	return checkMembers(got, pts, func(p geom.Point) float64 { return far(p) - d }), c, d
}

func TestStrokeStress(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	for k, b := range blurs {
		t.Run(b.name, func(t *testing.T) {
			failed := 0
			for i := range 3 * *scenes {
				rng := rand.New(rand.NewPCG(*moreSeed+uint64(100+k), uint64(i)))
				if bad, c, d := checkStroke(rng, b); bad != "" {
					if failed++; failed < 8 {
						t.Errorf("curve %d: %s\n%v, d %g", i, bad, c, d)
					}
				}
			}
			if failed > 0 {
				t.Errorf("%d of %d curves", failed, 3**scenes)
			}
		})
	}
}

func TestStress(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	for k, b := range blurs {
		t.Run(b.name, func(t *testing.T) {
			failed := 0
			for i := range *scenes {
				rng := rand.New(rand.NewPCG(*moreSeed+uint64(k), uint64(i)))
				s := newScene(rng, b)
				if bad := s.check(rng); bad != nil {
					failed++
					if failed < 12 {
						t.Errorf("scene %d (d %g): %q", i, s.d, bad)
					}
				}
			}
			if failed > 0 {
				t.Errorf("%d of %d scenes", failed, *scenes)
			}
		})
	}
}

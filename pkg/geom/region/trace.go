package region

// From an arrangement back to boundary loops.

import (
	"math"

	"strapwork/pkg/geom"
)

// trace returns the boundary of the faces that inside accepts, as simple
// loops with those faces on their left.
func (ar *arrangement) trace(inside func(winding) bool) []geom.Contour {
	kept := make([]bool, 2*len(ar.pieces))
	for p, q := range ar.pieces {
		l, r := inside(q.left), inside(q.right)
		kept[2*p], kept[2*p+1] = l && !r, r && !l
	}
	t := tracer{ar: ar, kept: kept, place: make([]int, len(ar.verts.pts))}
	for h := range kept {
		if kept[h] {
			t.walk(half(h))
		}
	}
	return t.loops
}

// A tracer follows boundaries.
type tracer struct {
	ar    *arrangement
	kept  []bool // by half: a boundary to be followed
	place []int  // by vertex: 1 + the length of path when it came there, 0 if it did not
	path  []half
	loops []geom.Contour
}

// walk follows the boundary from h until it closes, taking the halves it uses
// out of kept. Where the walk comes back to a vertex a loop is complete, so
// that loops touch at points but none touches itself.
func (t *tracer) walk(h half) {
	t.path = t.path[:0]
	v := t.ar.from(h)
	t.place[v] = 1
	for ok := true; ok; h, ok = t.ar.follow(h, t.kept) {
		t.kept[h] = false
		t.path = append(t.path, h)
		v = t.ar.to(h)
		if k := t.place[v] - 1; k >= 0 {
			if c, ok := t.ar.loop(t.path[k:]); ok {
				t.loops = append(t.loops, c)
			}
			for _, g := range t.path[k:] {
				t.place[t.ar.from(g)] = 0
			}
			t.path = t.path[:k]
		}
		t.place[v] = len(t.path) + 1
	}
	t.place[v] = 0
	for _, g := range t.path { // where numbers contradict each other it may not close
		t.place[t.ar.from(g)] = 0
	}
}

// follow returns the next half of the boundary after h: the first one
// clockwise from where h came, since the inside is on the left of h.
func (ar *arrangement) follow(h half, kept []bool) (half, bool) {
	round := ar.out[ar.to(h)]
	n, i := len(round), ar.pos[h.twin()]
	for k := 1; k < n; k++ {
		if g := round[(i+n-k)%n]; kept[g] {
			return g, true
		}
	}
	return 0, false
}

// loop makes a contour of a closed path, joining pieces of one line or circle.
// A loop whose mean width is under Coincident bounds nothing and is left out.
func (ar *arrangement) loop(path []half) (geom.Contour, bool) {
	runs := ar.runs(path)
	edges := make([]geom.Edge, len(runs))
	for i, r := range runs {
		edges[i] = geom.Edge{A: ar.verts.pts[r.from], B: ar.verts.pts[r.to], Bulge: r.bulge}
	}
	c := geom.Chain(true, edges...)
	if math.Abs(c.Area()) <= geom.Coincident*c.Length() {
		return geom.Contour{}, false
	}
	return c, true
}

// A run is a stretch of a loop on one line or circle.
type run struct {
	from, to int
	bulge    float64
	carrier  geom.Edge // the input edge, in the direction of travel
}

func (ar *arrangement) runs(path []half) []run {
	all := make([]run, len(path))
	for i, h := range path {
		e := ar.edge(h)
		in := ar.src[ar.pieces[h.piece()].src].Edge
		if e.Bulge == 0 && in.Bulge != 0 {
			in = e // too short for an arc: it stands for itself
		} else if e.Bulge*in.Bulge < 0 || (e.Bulge == 0 && e.B.Sub(e.A).Dot(in.B.Sub(in.A)) < 0) {
			in = in.Reverse()
		}
		all[i] = run{ar.from(h), ar.to(h), e.Bulge, in}
	}
	// Begin where two runs can't be joined, if there is such a place.
	for i := range all {
		if _, ok := ar.join(all[(i+len(all)-1)%len(all)], all[i]); !ok {
			all = append(all[i:len(all):len(all)], all[:i]...)
			break
		}
	}
	joined := all[:1]
	for _, r := range all[1:] {
		if j, ok := ar.join(joined[len(joined)-1], r); ok {
			joined[len(joined)-1] = j
		} else {
			joined = append(joined, r)
		}
	}
	return joined
}

// sameCarrier is the distance in millimetres within which two lines, or the
// centres and radii of two circles, are one: well above the rounding of a
// few operations and a hundredth of Coincident, so that joining never moves a
// boundary.
const sameCarrier = 1e-9

// join makes one run of r and s, if they follow each other on one line or
// circle and are together at most half a circle.
func (ar *arrangement) join(r, s run) (run, bool) {
	if r.to != s.from || r.from == s.to || (r.bulge == 0) != (s.bulge == 0) {
		return run{}, false
	}
	both := run{r.from, s.to, 0, r.carrier}
	a, b, c := ar.verts.pts[r.from], ar.verts.pts[r.to], ar.verts.pts[s.to]
	if r.bulge == 0 {
		ac := c.Sub(a)
		straight := r.carrier == s.carrier || math.Abs(ac.Cross(b.Sub(a))) <= sameCarrier*ac.Norm()
		return both, straight && ac.Dot(b.Sub(a)) > 0 && ac.Dot(c.Sub(b)) > 0
	}
	sweep := math.Atan(r.bulge) + math.Atan(s.bulge)
	if r.bulge*s.bulge < 0 || math.Abs(sweep) > math.Pi/4+1e-12 {
		return run{}, false
	}
	if r.carrier != s.carrier && (!r.carrier.Center().Near(s.carrier.Center(), sameCarrier) ||
		math.Abs(r.carrier.Radius()-s.carrier.Radius()) > sameCarrier) {
		return run{}, false
	}
	both.bulge = math.Max(-1, math.Min(1, math.Tan(sweep)))
	return both, true
}

package trace

import (
	"math"
	"slices"

	"strapwork/pkg/arcfit"
	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// Angles at the joints of what is drawn, in radians.
const (
	// smoothTurn is up to where a joint is smooth: motif takes it so too.
	smoothTurn = 0.5 * math.Pi / 180
	// kinkTurn is up to where a joint is neither smooth nor surely a corner.
	kinkTurn = 7 * math.Pi / 180
	// cuspTurn is from where a curve runs back beside itself: no mitre closes that.
	cuspTurn = 175 * math.Pi / 180
	// exactTurn is a turn that is rounding of sums and nothing else.
	exactTurn = 1e-7
)

// A track is a chain of lines and arcs.
type track struct {
	edges  []geom.Edge
	closed bool
	stroke int          // one that it is drawn by
	points []geom.Point // places to which it was laid; nil where it is drawn as it is
}

// A stretch is a smooth part of a chain.
type stretch struct {
	segs   []drawing.Segment
	closed bool
}

// tracks turns the strokes into lines and arcs.
func (t *tracer) tracks() []track {
	var all []track
	for _, c := range t.chains() {
		tr := track{closed: c.closed, stroke: c.of[0]}
		for _, s := range t.split(c) {
			edges := t.trace(s, t.strokes[c.of[0]])
			if len(edges) == 0 {
				return nil
			}
			tr.edges = append(tr.edges, edges...)
		}
		tr.tie()
		all = append(all, tr)
	}
	return t.unbroken(all)
}

// tie lets each edge begin where the one before ends.
func (tr *track) tie() {
	n := len(tr.edges)
	for i := range n {
		j := (i + 1) % n
		if j == 0 && !tr.closed {
			return
		}
		mid := tr.edges[i].B.Lerp(tr.edges[j].A, 0.5)
		if tr.edges[i].B == tr.edges[j].A {
			mid = tr.edges[i].B
		}
		tr.edges[i].B, tr.edges[j].A = mid, mid
	}
}

// split cuts a chain at its corners.
func (t *tracer) split(c chain) []stretch {
	n := len(c.segs)
	chords := t.chords(c)
	var cuts []int // before which segments
	for i := range n {
		if i == 0 && !c.closed {
			continue
		}
		if t.corner(c, i, chords[i]) {
			cuts = append(cuts, i)
		}
	}
	if len(cuts) == 0 {
		return []stretch{{c.segs, c.closed}}
	}
	var all []stretch
	if !c.closed {
		all = append(all, stretch{segs: c.segs[:cuts[0]]})
	}
	for k, from := range cuts {
		switch {
		case k+1 < len(cuts):
			all = append(all, stretch{segs: c.segs[from:cuts[k+1]]})
		case c.closed:
			all = append(all, stretch{segs: append(append([]drawing.Segment{}, c.segs[from:]...), c.segs[:cuts[0]]...)})
		default:
			all = append(all, stretch{segs: c.segs[from:]})
		}
	}
	return all
}

// corner reports whether a chain has a corner before its i-th segment, and keeps what the
// report says of it; chord is that it lies between chords of a curve.
func (t *tracer) corner(c chain, i int, chord bool) bool {
	n := len(c.segs)
	before, after := c.segs[(i+n-1)%n], c.segs[i]
	turn := math.Abs(turnOf(heading(before, 1), heading(after, 0)))
	at := after.At(0)
	switch {
	case turn <= smoothTurn || chord:
		return false
	case turn <= kinkTurn:
		t.rep.Kinks = append(t.rep.Kinks, Turn{at, turn, t.strokes[c.of[i]].Pos})
		return !t.p.Kinks
	case turn >= cuspTurn:
		t.rep.Cusps = append(t.rep.Cusps, Turn{at, turn, t.strokes[c.of[i]].Pos})
	}
	t.rep.Corners = append(t.rep.Corners, Turn{at, turn, t.strokes[c.of[i]].Pos})
	return true
}

// fewChords is from how many lines in a row on they may stand for a curve.
const fewChords = 4

// chords says of each segment of a chain whether it and the one before are chords of a
// curve.
func (t *tracer) chords(c chain) []bool {
	n := len(c.segs)
	smooth := make([]bool, n)
	line := func(i int) bool {
		_, ok := c.segs[i].(drawing.Line)
		return ok
	}
	all := !slices.ContainsFunc(c.segs, func(s drawing.Segment) bool { _, ok := s.(drawing.Line); return !ok })
	for from := 0; from < n; from++ {
		to := from
		for to < n && line(to) {
			to++
		}
		if to-from < fewChords {
			continue
		}
		closed := all && c.closed
		var points []geom.Point
		for i := from; i < to; i++ {
			points = append(points, c.segs[i].At(0))
		}
		if !closed {
			points = append(points, c.segs[to-1].At(1))
		}
		for i := from; i < to; i++ {
			smooth[i] = i > from || closed
		}
		for _, k := range arcfit.Corners(points, closed, t.p.Tolerance) {
			if i := from + k.Index; i < to {
				smooth[i] = false
			}
		}
		from = to
	}
	return smooth
}

// trace is a stretch as tangent lines and arcs; none where that was refused.
func (t *tracer) trace(s stretch, of stroke) []geom.Edge {
	if edges, ok := drawnExact(s); ok {
		t.took(edges)
		return edges
	}
	return t.fit(s, of)
}

// drawnExact is a stretch that is drawn as lines and arcs, tangent where they meet.
func drawnExact(s stretch) ([]geom.Edge, bool) {
	all, ok := exactly(s)
	if !ok {
		return nil, false
	}
	for i := range all {
		j := (i + 1) % len(all)
		if j == 0 && !s.closed {
			break
		}
		if math.Abs(turnOf(all[i].Tangent(1), all[j].Tangent(0))) > exactTurn || !all[i].B.Near(all[j].A, geom.Coincident) {
			return nil, false
		}
	}
	return united(all, s.closed, exactOff), true
}

// exactly is a stretch as the lines and arcs that it is drawn as.
func exactly(s stretch) (all []geom.Edge, ok bool) {
	for _, seg := range s.segs {
		edges, ok := exact(seg)
		if !ok {
			return nil, false
		}
		all = append(all, edges...)
	}
	return all, true
}

// united makes one edge of neighbours that are parts of one line or arc,
// within a tolerance.
func united(edges []geom.Edge, closed bool, tol float64) []geom.Edge {
	var all []geom.Edge
	for _, e := range edges {
		if n := len(all); n > 0 {
			if one, ok := one(all[n-1], e, tol); ok {
				all[n-1] = one
				continue
			}
		}
		all = append(all, e)
	}
	if n := len(all); closed && n > 2 {
		if one, ok := one(all[n-1], all[0], tol); ok {
			all[0] = one
			all = all[:n-1]
		}
	}
	return all
}

// one is the edge that two edges make, one after the other, if they lie on one line or on
// one circle and make no more than a half circle.
func one(e, f geom.Edge, tol float64) (geom.Edge, bool) {
	whole := geom.Line(e.A, f.B)
	if !e.IsLine() || !f.IsLine() {
		sweep := e.Sweep() + f.Sweep()
		if e.IsLine() || f.IsLine() || e.Bulge*f.Bulge < 0 || math.Abs(sweep) > math.Pi*(1+1e-9) {
			return geom.Edge{}, false
		}
		whole.Bulge = max(-1, min(1, math.Tan(sweep/4)))
	} else if e.Tangent(0).Dot(f.Tangent(0)) < 0 {
		return geom.Edge{}, false
	}
	for _, g := range [2]geom.Edge{e, f} {
		for _, u := range [4]float64{0, 0.25, 0.5, 1} {
			if whole.Dist(g.At(u)) > tol {
				return geom.Edge{}, false
			}
		}
	}
	return whole, true
}

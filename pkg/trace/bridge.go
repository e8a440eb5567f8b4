package trace

// Strands that are drawn in pieces: cut where they pass under others, hidden where bands
// cross. Two ends that look at one another along one line or curve are one strand.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/arcfit"
	"strapwork/pkg/geom"
)

// A tip is an end of a track: 2i its start, 2i+1 its end.
type tip int

func (e tip) track() int { return int(e) / 2 }

// outward is the edge at a tip, run towards it.
func (e tip) outward(tracks []track) geom.Edge {
	es := tracks[e.track()].edges
	if e%2 == 0 {
		return es[0].Reverse()
	}
	return es[len(es)-1]
}

// A gap is where a strand was led on over what the drawing doesn't show of it.
type gap struct{ a, b geom.Point }

// A bridge leads from a tip to another.
type bridge struct {
	a, b tip
	off  float64 // by how much the two curves miss one another
	long float64
}

// Angles and lengths of bridges.
const (
	// bridgeTurn is by how much the directions of two ends may differ that are one strand,
	// besides what their curves make of the gap between them.
	bridgeTurn = 12 * math.Pi / 180
	// bridgeWidths is how long a gap is at most, in widths of the band: a band that is
	// crossed at 34 degrees is hidden for some two widths.
	bridgeWidths = 3.5
	// bridgeOff is by how much of their gap two ends may miss one another.
	bridgeOff = 0.15
	// cornerWidths is how far from a band's ends their corner may lie: as far as mitres go.
	cornerWidths = 4.5
)

// ahead is the point so far beyond the end of an edge, on its line or circle, and the
// direction there.
func ahead(e geom.Edge, by float64) (geom.Point, geom.Point) {
	t := 1 + by/e.Length()
	return e.At(t), e.Tangent(t)
}

// bridgeOf is the bridge between two tips, if they look at one another; most is how long
// it may be.
func bridgeOf(tracks []track, a, b tip, most float64) (bridge, bool) {
	e, f := a.outward(tracks), b.outward(tracks)
	d := f.B.Sub(e.B)
	long := d.Norm()
	if long > most || long == 0 || e.Tangent(1).Dot(d) < 0.5*long || f.Tangent(1).Dot(d) > -0.5*long {
		return bridge{}, false
	}
	p, u := ahead(e, long/2)
	q, v := ahead(f, long/2)
	turn := math.Abs(turnOf(u, v.Scale(-1)))
	off := p.Dist(q)
	if turn > bridgeTurn || off > bridgeOff*long {
		return bridge{}, false
	}
	return bridge{a, b, off, long}, true
}

// bridges are the bridges that there are, those of the best fit first, none of them with
// an end of one before.
func bridges(tracks []track, most func(a, b tip) float64, ok func(bridge) bool) (all []bridge) {
	var tips []tip
	var boxes []geom.Box
	for i, tr := range tracks {
		if tr.closed {
			continue
		}
		for _, e := range [2]tip{tip(2 * i), tip(2*i + 1)} {
			p := e.outward(tracks).B
			tips, boxes = append(tips, e), append(boxes, geom.Box{Min: p, Max: p})
		}
	}
	reach := 0.0
	for i := range tips {
		for j := range i {
			reach = max(reach, most(tips[i], tips[j]))
		}
		if i > 200 {
			break // they are all much alike
		}
	}
	geom.NewIndex(boxes).Pairs(reach, func(i, j int) bool {
		a, b := tips[i], tips[j]
		if br, fits := bridgeOf(tracks, min(a, b), max(a, b), most(a, b)); fits && ok(br) {
			all = append(all, br)
		}
		return true
	})
	slices.SortFunc(all, func(p, q bridge) int {
		return cmp.Or(cmp.Compare(p.off/p.long+p.long/reach/8, q.off/q.long+q.long/reach/8), cmp.Compare(p.a, q.a), cmp.Compare(p.b, q.b))
	})
	used := map[tip]bool{}
	return slices.DeleteFunc(all, func(b bridge) bool {
		if used[b.a] || used[b.b] {
			return true
		}
		used[b.a], used[b.b] = true, true
		return false
	})
}

// pointsOf are places along a track.
func (t *tracer) pointsOf(tr track) []geom.Point {
	if tr.points != nil {
		return tr.points
	}
	var points []geom.Point
	for i, e := range tr.edges {
		n := 4
		if !e.IsLine() {
			n = int(max(4, math.Ceil(math.Abs(e.Sweep())*math.Sqrt(e.Radius()/(8*t.p.Tolerance*chordShare)))))
		}
		for k := range n {
			points = append(points, e.At(float64(k)/float64(n)))
		}
		if i == len(tr.edges)-1 && !tr.closed {
			points = append(points, e.B)
		}
	}
	return points
}

// over is places along a bridge, without its ends: from the one curve over to the other.
func (b bridge) over(tracks []track, fine float64) []geom.Point {
	e, f := b.a.outward(tracks), b.b.outward(tracks)
	k := max(math.Abs(e.Curvature()), math.Abs(f.Curvature()))
	n := int(max(8, min(400, math.Ceil(b.long*math.Sqrt(k/(8*fine))))))
	var points []geom.Point
	for i := 1; i < n; i++ {
		u := float64(i) / float64(n)
		p, _ := ahead(e, u*b.long)
		q, _ := ahead(f, (1-u)*b.long)
		points = append(points, p.Lerp(q, u*u*(3-2*u)))
	}
	return points
}

// bridged joins tracks by bridges, and lays them anew where they were joined.
func (t *tracer) bridged(tracks []track, all []bridge) ([]track, bool) {
	if len(all) == 0 {
		return tracks, true
	}
	mates := map[tip]bridge{}
	for _, b := range all {
		mates[b.a], mates[b.b] = b, bridge{b.b, b.a, b.off, b.long}
		t.gaps = append(t.gaps, gap{b.a.outward(tracks).B, b.b.outward(tracks).B})
	}
	t.rep.Joined += len(all)
	used := make([]bool, len(tracks))
	var out []track
	for _, begin := range starts(tracks, mates) {
		if used[begin.track()] {
			continue
		}
		tr, ok := t.along(tracks, mates, used, begin)
		if !ok {
			return nil, false
		}
		out = append(out, tr)
	}
	return out, true
}

// starts are the tips at which to begin: those of open chains first.
func starts(tracks []track, mates map[tip]bridge) (list []tip) {
	for i := range tracks {
		for _, e := range [2]tip{tip(2 * i), tip(2*i + 1)} {
			if _, joined := mates[e]; !joined {
				list = append(list, e)
			}
		}
	}
	for i := range tracks {
		list = append(list, tip(2*i))
	}
	return list
}

// along follows tracks over bridges from a tip.
func (t *tracer) along(tracks []track, mates map[tip]bridge, used []bool, begin tip) (track, bool) {
	var whole track
	var points []geom.Point
	joined := 0
	for e := begin; ; {
		i := e.track()
		used[i] = true
		tr, own := tracks[i], slices.Clone(t.pointsOf(tracks[i]))
		if e%2 == 1 {
			tr = tr.reverse()
			slices.Reverse(own)
		}
		points = append(points, own...)
		whole.edges = append(whole.edges, tr.edges...)
		whole.closed, whole.stroke = tr.closed, tracks[begin.track()].stroke
		b, ok := mates[e^1]
		if !ok {
			break
		}
		joined++
		points = append(points, b.over(tracks, t.fine())...)
		whole.edges = append(whole.edges, b.edge(tracks))
		if used[b.b.track()] {
			whole.closed = b.b == begin
			break
		}
		e = b.b
	}
	if joined == 0 {
		return tracks[begin.track()], true
	}
	if !t.p.Edges {
		whole.edges = united(whole.edges, whole.closed, t.p.Tolerance)
		return whole, true
	}
	return t.relay(whole, points)
}

// edge leads over a bridge with the mean of the curvatures on both sides.
func (b bridge) edge(tracks []track) geom.Edge {
	e, f := b.a.outward(tracks), b.b.outward(tracks)
	sine := b.long * (e.Curvature() - f.Curvature()) / 4 // of half the sweep
	return geom.Edge{A: e.B, B: f.B, Bulge: math.Tan(math.Asin(max(-1, min(1, sine))) / 2)}
}

// unbroken joins centre lines that are interrupted where another crosses them: on one line
// or circle, by less than what is drawn of them on either side.
func (t *tracer) unbroken(tracks []track) []track {
	size := 0.0
	for _, s := range t.strokes {
		size = max(size, s.box.Size().Norm())
	}
	most := func(a, b tip) float64 {
		return min(a.outward(tracks).Length(), b.outward(tracks).Length(), 0.2*size)
	}
	all := bridges(tracks, most, func(b bridge) bool {
		return b.off <= gapOff*t.p.Tolerance && crossed(tracks, b)
	})
	out, _ := t.bridged(tracks, all) // what is only led on is always laid
	return out
}

// gapOff is by how many tolerances two ends may miss one another that are one line: each is
// out by up to one, and farther where it is led on.
const gapOff = 6

// crossed reports whether a track crosses a bridge well within it.
func crossed(tracks []track, b bridge) bool {
	way := b.edge(tracks)
	for _, tr := range tracks {
		for _, g := range tr.edges {
			for _, m := range geom.Crossings(way, g, geom.Coincident) {
				if m.Kind == geom.Cross && m.E > 0.1 && m.E < 0.9 {
					return true
				}
			}
		}
	}
	return false
}

func (tr track) reverse() track {
	out := tr
	out.edges, out.points = nil, slices.Clone(tr.points)
	slices.Reverse(out.points)
	for i := range tr.edges {
		out.edges = append(out.edges, tr.edges[len(tr.edges)-1-i].Reverse())
	}
	return out
}

// relay lays lines and arcs along places anew, corner by corner.
func (t *tracer) relay(tr track, points []geom.Point) (track, bool) {
	chain, result, err := arcfit.Fit(arcfit.Section{Points: points, Closed: tr.closed, Loose: t.p.Edges}, t.fitting())
	if err != nil || !result.Met {
		t.shakes(t.strokes[tr.stroke].Pos, result)
		return track{}, false
	}
	tr.edges, tr.points = t.took(chain.Contour().Edges()), points
	return tr, true
}

// led leads the middles of bands on: over what hides them, to their corners, and to where
// they end.
func (t *tracer) led(tracks []track, o outline) []track {
	w := t.rep.Width
	all := bridges(tracks, func(tip, tip) float64 { return bridgeWidths * w }, func(bridge) bool { return true })
	tracks, ok := t.bridged(tracks, all)
	if !ok {
		return nil
	}
	done := t.cornered(tracks)
	t.ended(tracks, done, o)
	return tracks
}

// cornered leads ends on to where they meet.
func (t *tracer) cornered(tracks []track) (done map[tip]bool) {
	type meeting struct {
		a, b tip
		at   geom.Point
		far  float64
	}
	reach := cornerWidths * t.rep.Width
	done = map[tip]bool{}
	var tips []tip
	for i, tr := range tracks {
		if !tr.closed {
			tips = append(tips, tip(2*i), tip(2*i+1))
		}
	}
	var all []meeting
	for i, a := range tips {
		for _, b := range tips[i+1:] {
			e, f := a.outward(tracks), b.outward(tracks)
			if e.B.Dist(f.B) > reach {
				continue
			}
			for _, m := range geom.Crossings(beyond(e, reach), beyond(f, reach), geom.Coincident) {
				if m.At.Dist(e.B) > host(tracks, a, reach)+t.p.Tolerance || m.At.Dist(f.B) > host(tracks, b, reach)+t.p.Tolerance {
					continue // it ends on a strand before
				}
				all = append(all, meeting{a, b, m.At, m.At.Dist(e.B) + m.At.Dist(f.B)})
			}
		}
	}
	slices.SortFunc(all, func(p, q meeting) int {
		return cmp.Or(cmp.Compare(p.far, q.far), cmp.Compare(p.a, q.a), cmp.Compare(p.b, q.b))
	})
	for _, m := range all {
		if done[m.a] || done[m.b] {
			continue
		}
		done[m.a], done[m.b] = true, true
		tracks[m.a.track()].lead(m.a, m.at)
		tracks[m.b.track()].lead(m.b, m.at)
		u, v := m.a.outward(tracks).Tangent(1), m.b.outward(tracks).Tangent(1)
		t.rep.Corners = append(t.rep.Corners, Turn{m.at, math.Abs(turnOf(u, v.Scale(-1))), t.strokes[0].Pos})
	}
	return done
}

// host is how far ahead of a tip the first other track is, infinite where none is within
// reach.
func host(tracks []track, e tip, reach float64) float64 {
	_, far := meets(tracks, e, beyond(e.outward(tracks), reach))
	return far
}

// beyond is what follows an edge, so far, but no more than a half circle.
func beyond(e geom.Edge, by float64) geom.Edge {
	if !e.IsLine() {
		by = min(by, math.Pi*e.Radius()*0.99)
	}
	return e.Part(1, 1+by/e.Length())
}

// lead moves a track's tip on, along its last line or circle.
func (tr *track) lead(e tip, to geom.Point) {
	if e%2 == 0 {
		g := led(tr.edges[0].Reverse(), to)
		tr.edges[0] = g[len(g)-1].Reverse()
		if len(g) == 2 {
			tr.edges = append([]geom.Edge{g[1].Reverse(), g[0].Reverse()}, tr.edges[1:]...)
		}
		return
	}
	n := len(tr.edges) - 1
	tr.edges = append(tr.edges[:n:n], led(tr.edges[n], to)...)
}

// led is an edge that goes on to a point of its line or circle, in two parts where it
// becomes more than a half circle.
func led(e geom.Edge, to geom.Point) []geom.Edge {
	if e.IsLine() {
		return []geom.Edge{geom.Line(e.A, to)}
	}
	more := geom.ArcThrough(e.B, to, e.Center(), e.Bulge > 0)
	if whole, ok := one(e, more, exactOff); ok {
		return []geom.Edge{whole}
	}
	return []geom.Edge{e, more}
}

// ended leads ends on to a strand that they end on, or to where the band's own end is
// drawn.
func (t *tracer) ended(tracks []track, done map[tip]bool, o outline) {
	w := t.rep.Width
	for i := range tracks {
		if tracks[i].closed {
			continue
		}
		for _, e := range [2]tip{tip(2 * i), tip(2*i + 1)} {
			if done[e] {
				continue
			}
			way := beyond(e.outward(tracks), bridgeWidths*w)
			best, far := meets(tracks, e, way)
			if math.IsInf(far, 1) {
				if d, ok := o.hit(way.A, way.Tangent(0), 0, w); ok {
					best, far = way.At(d/way.Length()), d
				}
			}
			if !math.IsInf(far, 1) && far > t.p.Tolerance {
				tracks[i].lead(e, best)
			}
		}
	}
}

// meets is where the way ahead of a tip first meets another track, and how far off that
// is; infinitely far where it meets none.
func meets(tracks []track, e tip, way geom.Edge) (best geom.Point, far float64) {
	far = math.Inf(1)
	for j, other := range tracks {
		if j == e.track() {
			continue
		}
		for _, g := range other.edges {
			for _, m := range geom.Crossings(way, g, geom.Coincident) {
				if d := m.At.Dist(way.A); d < far {
					best, far = m.At, d
				}
			}
		}
	}
	return best, far
}

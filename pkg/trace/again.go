package trace

// Strands are drawn under, with a halo and over, and files cut each copy where it suits
// them: what lies on what is there already is taken out, and what sticks out stays.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// An overlay is what is kept of the strokes so far.
type overlay struct {
	t       *tracer
	boxes   []geom.Box // of all strokes
	index   geom.Index
	kept    [][]laid     // of each stroke: what is kept of it, its pieces in order
	turns   []geom.Point // ends and corners of all strokes: common stretches begin and end there
	turnsAt geom.Index
}

// A laid is a stroke that is kept.
type laid struct {
	stroke
	lines *polyline
}

// dropRepeats takes out what lies on other strokes. The longest stay; of equals the first.
func (t *tracer) dropRepeats() {
	o := t.newOverlay()
	order := make([]int, len(t.strokes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Compare(t.strokes[j].length, t.strokes[i].length)
	})
	for _, i := range order {
		s := t.strokes[i]
		if host := o.host(s, i); host >= 0 {
			s.part = s.length < partShare*t.strokes[host].length
			t.again = append(t.again, s)
			t.rep.Merged++
			continue
		}
		// Edges of bands that share a stretch are those of two bands.
		if t.p.Edges || !o.merge(s, i) {
			o.keep(s, i)
		}
	}
	t.strokes = nil
	for _, list := range o.kept {
		for _, l := range list {
			t.strokes = append(t.strokes, l.stroke)
		}
	}
	t.checkParts()
}

func (t *tracer) newOverlay() *overlay {
	o := &overlay{t: t, kept: make([][]laid, len(t.strokes))}
	var at []geom.Box
	for _, s := range t.strokes {
		o.boxes = append(o.boxes, s.box.Expand(t.p.Tolerance))
		for _, p := range s.turns() {
			o.turns, at = append(o.turns, p), append(at, geom.Box{Min: p, Max: p})
		}
	}
	o.index, o.turnsAt = geom.NewIndex(o.boxes), geom.NewIndex(at)
	return o
}

// turns are the ends of a stroke and its corners.
func (s stroke) turns() []geom.Point {
	all := []geom.Point{s.points[0], s.points[len(s.points)-1]}
	for i := 1; i < len(s.Segments); i++ {
		if math.Abs(turnOf(heading(s.Segments[i-1], 1), heading(s.Segments[i], 0))) > kinkTurn {
			all = append(all, s.Segments[i].At(0))
		}
	}
	return all
}

func (o *overlay) keep(s stroke, i int) {
	o.kept[i] = append(o.kept[i], laid{s, newPolyline(s.points)})
}

// host is the first stroke that is kept whole and on which a stroke lies all along, -1 where
// there is none.
func (o *overlay) host(s stroke, i int) int {
	tol, host := o.t.p.Tolerance, -1
	o.index.Search(o.boxes[i], func(j int) bool {
		if len(o.kept[j]) == 1 && (host < 0 || j < host) {
			lines := o.kept[j][0].lines
			if around := lines.box.Expand(2 * tol); around.Holds(s.box.Min) && around.Holds(s.box.Max) && lines.covers(s.along(), tol) {
				host = j
			}
		}
		return true
	})
	return host
}

// merge keeps of a stroke what sticks out of those that are kept already; not ok where that
// is all of it, or a part that can't be cut out. A common stretch begins and ends where
// one of the strokes ends or turns: curves that touch, cross or fork have none.
func (o *overlay) merge(s stroke, i int) bool {
	near := o.near(i)
	if len(near) == 0 {
		return false
	}
	var pieces []piece
	cuts, some := o.cuts(s), false
	for k := 1; k < len(cuts); k++ {
		p, ok := o.t.part(s, cuts[k-1], cuts[k])
		if !ok {
			return false
		}
		if p.length <= noLength {
			continue
		}
		covered := lieOn(near, p, o.t.p.Tolerance)
		// An end that reaches into another by no more than ends are joined across is no stretch.
		some = some || covered && p.length > o.t.p.Tolerance
		if n := len(pieces); n > 0 && pieces[n-1].covered == covered {
			pieces[n-1].to = cuts[k]
			continue
		}
		pieces = append(pieces, piece{cuts[k-1], cuts[k], covered})
	}
	if !some {
		return false
	}
	for _, c := range pieces {
		p, _ := o.t.part(s, c.from, c.to) // its pieces could be cut
		switch {
		case c.covered:
			p.part = p.length < partShare*longest(near, p, o.t.p.Tolerance)
			o.t.again = append(o.t.again, p)
		case p.length > o.t.p.Tolerance:
			o.keep(p, i)
		}
	}
	o.t.rep.Merged++
	return true
}

// A piece of a stroke lies on others, or doesn't.
type piece struct {
	from, to cut
	covered  bool
}

// near is what is kept in the neighbourhood of a stroke.
func (o *overlay) near(i int) (all []laid) {
	var at []int
	o.index.Search(o.boxes[i], func(j int) bool {
		at = append(at, j)
		return true
	})
	slices.Sort(at)
	for _, j := range at {
		for _, l := range o.kept[j] {
			if l.lines.box.Meets(o.boxes[i]) {
				all = append(all, l)
			}
		}
	}
	return all
}

// lieOn reports whether a stroke lies on others all along, and runs along them.
func lieOn(others []laid, s stroke, tol float64) bool {
	points := s.along()
	var near []laid
	for _, l := range others {
		if l.lines.box.Meets(s.box.Expand(tol)) {
			near = append(near, l)
		}
	}
	for i, q := range points {
		way := points[min(i+1, len(points)-1)].Sub(points[max(i-1, 0)]).Unit()
		if !slices.ContainsFunc(near, func(l laid) bool { return l.lines.runsBy(q, way, tol) }) {
			return false
		}
	}
	return true
}

// runsBy reports whether a polyline comes within tol of a place, about in a direction or
// against it.
func (p *polyline) runsBy(q, way geom.Point, tol float64) bool {
	hit := false
	p.index.Search(geom.Box{Min: q, Max: q}.Expand(tol), func(i int) bool {
		hit = p.edges[i].Dist(q) <= tol && math.Abs(p.edges[i].Tangent(0).Cross(way)) <= sideways
		return !hit
	})
	return hit
}

// longest is the length of the longest of those that run along the middle of a stroke.
func longest(others []laid, s stroke, tol float64) (most float64) {
	at, way := s.halfway(0.5)
	for _, l := range others {
		if l.length > most && l.lines.runsBy(at, way, tol) {
			most = l.length
		}
	}
	return most
}

// halfway is the place at a share of a stroke's length, and the direction there.
func (s stroke) halfway(share float64) (at, way geom.Point) {
	left := share * s.length
	for i := 1; i < len(s.points); i++ {
		a, b := s.points[i-1], s.points[i]
		if d := b.Dist(a); d >= left || i == len(s.points)-1 {
			return a.Lerp(b, min(1, left/max(d, noLength))), b.Sub(a).Unit()
		} else {
			left -= d
		}
	}
	return s.points[0], geom.Point{}
}

// A cut is a place on a stroke: a parameter of one of its segments.
type cut struct {
	seg int
	u   float64
}

// cuts are the places where a stroke begins, turns or ends, and where others do on it.
func (o *overlay) cuts(s stroke) []cut {
	last := len(s.Segments) - 1
	all := []cut{{0, 0}, {last, 1}}
	way := o.t.trail(s)
	tol := o.t.p.Tolerance
	o.turnsAt.Search(s.box.Expand(tol), func(i int) bool {
		if c, ok := way.project(o.turns[i], tol); ok {
			all = append(all, c)
		}
		return true
	})
	for i, c := range all {
		if c.u == 1 && c.seg < last {
			all[i] = cut{c.seg + 1, 0}
		}
	}
	slices.SortFunc(all, func(a, b cut) int { return cmp.Or(cmp.Compare(a.seg, b.seg), cmp.Compare(a.u, b.u)) })
	return slices.Compact(all)
}

// halvings is how often the place nearest to a point is narrowed down between two samples:
// to a millionth of their distance.
const halvings = 36

// A trail is the samples of a stroke with the places that they are at.
type trail struct {
	segs  []drawing.Segment
	lines *polyline
	from  []cut     // where each chord begins
	to    []float64 // the parameter at which it ends
}

func (t *tracer) trail(s stroke) trail {
	w := trail{segs: s.Segments}
	var chords [][]geom.Point
	for i, seg := range s.Segments {
		us := drawing.Places(seg, t.fine())
		for k := 1; k < len(us); k++ {
			chords = append(chords, []geom.Point{seg.At(us[k-1]), seg.At(us[k])})
			w.from, w.to = append(w.from, cut{i, us[k-1]}), append(w.to, us[k])
		}
	}
	w.lines = newPolyline(chords...)
	return w
}

// project is the place on a trail that is nearest to a point, if that is within tol of it.
func (w trail) project(q geom.Point, tol float64) (cut, bool) {
	best, chord := math.Inf(1), -1
	w.lines.index.Search(geom.Box{Min: q, Max: q}.Expand(tol), func(i int) bool {
		if d := w.lines.edges[i].Dist(q); d < best || d == best && i < chord {
			best, chord = d, i
		}
		return true
	})
	if best > tol {
		return cut{}, false
	}
	from, to := w.from[chord].u, w.to[chord]
	seg := w.segs[w.from[chord].seg]
	for range halvings {
		third := (to - from) / 3
		if seg.At(from+third).Dist(q) <= seg.At(to-third).Dist(q) {
			to -= third
		} else {
			from += third
		}
	}
	u := (from + to) / 2
	// Where a segment ends it isn't cut.
	switch p := seg.At(u); {
	case p.Near(seg.At(0), noLength):
		u = 0
	case p.Near(seg.At(1), noLength):
		u = 1
	}
	return cut{w.from[chord].seg, u}, true
}

// part is a stretch of a stroke; not ok where one of its segments can't be cut.
func (t *tracer) part(s stroke, from, to cut) (p stroke, ok bool) {
	p = s
	p.points, p.length, p.Closed = nil, 0, false
	if p.Segments, ok = s.between(from, to); !ok {
		return p, false
	}
	if len(s.Dashes) > 0 {
		before, _ := s.between(cut{}, from) // it is cut there already
		for _, seg := range before {
			p.DashStart += drawing.Length(seg)
		}
	}
	t.sample(&p)
	return p, true
}

// between are the segments of a stroke from one place to another.
func (s stroke) between(from, to cut) (all []drawing.Segment, ok bool) {
	for i := from.seg; i <= to.seg; i++ {
		a, b := 0.0, 1.0
		if i == from.seg {
			a = from.u
		}
		if i == to.seg {
			b = to.u
		}
		if a >= b {
			continue
		}
		seg, ok := cutOut(s.Segments[i], a, b)
		if !ok {
			return nil, false
		}
		all = append(all, seg)
	}
	return all, true
}

// cutOut is a segment from one parameter to another; not ok where it is of a kind that
// isn't cut.
func cutOut(s drawing.Segment, from, to float64) (drawing.Segment, bool) {
	if from == 0 && to == 1 {
		return s, true
	}
	switch s := s.(type) {
	case drawing.Line:
		return drawing.Line{A: s.At(from), B: s.At(to)}, true
	case drawing.Ellipse:
		s.From, s.Sweep = s.From+from*s.Sweep, (to-from)*s.Sweep
		return s, true
	case drawing.Bezier:
		_, rest := halved(s.Points, from)
		part, _ := halved(rest, (to-from)/(1-from))
		return drawing.Bezier{Points: part}, true
	case drawing.NURBS:
	}
	return nil, false
}

// halved is the control points of the two parts into which a Bezier curve is cut at u: de
// Casteljau's construction.
func halved(points []geom.Point, u float64) (left, right []geom.Point) {
	row := slices.Clone(points)
	right = make([]geom.Point, len(row))
	for n := len(row); n > 0; n-- {
		left, right[n-1] = append(left, row[0]), row[n-1]
		for i := 0; i+1 < n; i++ {
			row[i] = row[i].Lerp(row[i+1], u)
		}
	}
	return left, right
}

// partShare is up to what share of another's length a stroke that lies on it is a part of
// it.
const partShare = 0.9

// How often a stroke is looked at for how deep it is painted, and which of its places, from
// the least, says it: at others it may be painted once more.
const (
	depthLooks = 32
	depthLow   = 3
)

// checkParts takes for parts that are painted once more only those under which the strand
// is painted more often than elsewhere: of a strand that is drawn twice, cut at different
// places, all pieces lie on others.
func (t *tracer) checkParts() {
	depth := t.depths()
	lines := make([]*polyline, len(t.strokes))
	var boxes []geom.Box
	for _, s := range t.strokes {
		boxes = append(boxes, s.box)
	}
	hosts, low := geom.NewIndex(boxes), map[int]int{}
	for i := range t.again {
		s := &t.again[i]
		if !s.part {
			continue
		}
		least := math.MaxInt
		hosts.Search(s.box.Expand(t.p.Tolerance), func(j int) bool {
			if lines[j] == nil {
				lines[j] = newPolyline(t.strokes[j].points)
			}
			if !hostOf(lines[j], *s, t.p.Tolerance) {
				return true
			}
			if _, known := low[j]; !known {
				low[j] = depth(t.strokes[j])
			}
			least = min(least, low[j])
			return true
		})
		s.part = least == math.MaxInt || depth(*s) > least
	}
}

// depths answers how often a stroke is drawn again, but for a few places at which it is
// drawn less often.
func (t *tracer) depths() func(stroke) int {
	boxes := make([]geom.Box, len(t.again))
	lines := make([]*polyline, len(t.again))
	for i, s := range t.again {
		boxes[i], lines[i] = s.box, newPolyline(s.points)
	}
	index := geom.NewIndex(boxes)
	return func(s stroke) int {
		var all [depthLooks]int
		for k := range all {
			q, way := s.halfway((float64(k) + 0.5) / depthLooks)
			index.Search(geom.Box{Min: q, Max: q}.Expand(t.p.Tolerance), func(j int) bool {
				if lines[j].runsBy(q, way, t.p.Tolerance) {
					all[k]++
				}
				return true
			})
		}
		slices.Sort(all[:])
		return all[depthLow]
	}
}

// hostOf reports whether a part lies on a stroke, at one of a few places at least.
func hostOf(host *polyline, part stroke, tol float64) bool {
	for _, share := range [...]float64{0.1, 0.3, 0.5, 0.7, 0.9} {
		if q, way := part.halfway(share); host.runsBy(q, way, tol) {
			return true
		}
	}
	return false
}

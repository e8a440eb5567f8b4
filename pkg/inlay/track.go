package inlay

// Stations. A place on a parallel curve is named by its station: the distance
// along the strand's centre line of the foot of its normal. A line's or an
// arc's parallel has the same fractions of length as the line or arc itself,
// so one station serves all parallels; where a side runs on past a corner to
// its mitre, its station lies beyond the corner's.

import (
	"math"
	"sort"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
)

// A track is a strand as strips are laid along it.
type track struct {
	strand    int
	closed    bool
	length    float64
	arms      []arm // in order; a closed strand's begin at its first corner
	unders    []*under
	far       float64 // the furthest that any of them reaches
	stretches []stretch
}

// An arm is a smooth run of a strand, from corner to corner.
type arm struct {
	edges         []geom.Edge // its centre line; a ring's are given for two laps
	at            []float64   // stations of the edges' ends: one more than there are edges
	ring          bool
	start, finish []float64  // for each line, the stations where it begins and ends
	ends          [2]EndKind // EndFree, EndMitre, or EndSquare for a ring
	short         bool       // it has been reported that this arm is too short
}

func newTrack(strand int, st motif.Strand) *track {
	t := &track{strand: strand, closed: st.Contour.Closed, length: st.Length()}
	n := st.Contour.Len()
	var stops []int
	if !t.closed {
		stops = append(stops, 0)
	}
	for v := range n {
		if st.Corner[v] {
			stops = append(stops, v)
		}
	}
	switch {
	case !t.closed:
		stops = append(stops, n)
	case len(stops) == 0:
		a := newArm(st, 0, 2*n)
		a.ring = true
		t.arms = []arm{a}
		return t
	default:
		stops = append(stops, stops[0]+n)
	}
	for i := range len(stops) - 1 {
		t.arms = append(t.arms, newArm(st, stops[i], stops[i+1]))
	}
	t.arms[0].ends[0], t.arms[len(t.arms)-1].ends[1] = EndFree, EndFree
	return t
}

// newArm is the run from one vertex to another; vertices past the last one of
// a closed strand are on its next lap.
func newArm(st motif.Strand, from, to int) arm {
	n := st.Contour.Len()
	a := arm{}
	for v := from; v <= to; v++ {
		s := st.Offsets()[v%n] + float64(v/n)*st.Length()
		if !st.Contour.Closed {
			s = st.Offsets()[v]
		}
		a.at = append(a.at, s)
		if v < to {
			a.edges = append(a.edges, st.Contour.Edge(v%n))
		}
	}
	return a
}

func (a *arm) begin() float64 { return a.at[0] }

func (a *arm) end() float64 { return a.at[len(a.at)-1] }

// lap is the length of a ring.
func (a *arm) lap() float64 { return a.at[len(a.edges)/2] }

func (a *arm) length(k int) float64 { return a.at[k+1] - a.at[k] }

// locate returns the edge at station s and the fraction of its length there:
// below 0 before the arm's begin, above 1 past its end. At a joint it is the
// edge that begins there.
func (a *arm) locate(s float64) (k int, t float64) {
	k = sort.Search(len(a.edges)-1, func(i int) bool { return a.at[i+1] > s })
	return k, (s - a.at[k]) / a.length(k)
}

// tangent is the direction of travel at station s.
func (a *arm) tangent(s float64) geom.Point {
	k, t := a.locate(s)
	return a.edges[k].Tangent(t)
}

// point is the point at station s on the parallel at offset d.
func (a *arm) point(d, s float64) geom.Point {
	k, t := a.locate(s)
	return a.parallel(k, d).At(t)
}

// parallel is edge k's parallel at offset d, to where it meets its neighbours' at
// a slight turn between them.
func (a *arm) parallel(k int, d float64) geom.Edge {
	e, n := a.edges[k].Shift(d), len(a.edges)
	t0, t1 := 0.0, 1.0
	if k > 0 || a.ring {
		if tip, ok := kinkTip(a.edges[(k+n-1)%n], a.edges[k], d); ok {
			t0, e.A = e.Param(tip), tip
		}
	}
	if k < n-1 || a.ring {
		if tip, ok := kinkTip(a.edges[k], a.edges[(k+1)%n], d); ok {
			t1, e.B = a.edges[k].Shift(d).Param(tip), tip
		}
	}
	if t0 == 0 && t1 == 1 {
		return e
	}
	e.Bulge = math.Tan(math.Atan(e.Bulge) * (t1 - t0))
	if t0 >= t1 || math.Abs(e.Bulge) > 1 {
		return a.edges[k].Shift(d) // all trimmed away, or more than a half circle: a gap of some micrometres is left
	}
	return e
}

// kinkTip is where the parallels of e and f at offset d meet near their joint, by
// their tangents; none where they turn by nothing there. Two arcs meet off it by
// (d turn)^2 / 8 R, at half a degree and d = R = 5 mm 0.00005 mm.
func kinkTip(e, f geom.Edge, d float64) (geom.Point, bool) {
	u, v := e.Tangent(1), f.Tangent(0)
	turn := math.Atan2(u.Cross(v), u.Dot(v))
	if math.Abs(turn*d) <= geom.Coincident {
		return geom.Point{}, false
	}
	return f.A.Add(u.Add(v).Unit().Left().Scale(d / math.Cos(turn/2))), true
}

// side is the parallel at offset d from station s0 to station s1, none if s1
// is not past s0.
func (a *arm) side(d, s0, s1 float64) []geom.Edge {
	var edges []geom.Edge
	first, _ := a.locate(s0)
	last, _ := a.locate(s1)
	for k := first; k <= last; k++ {
		t0, t1 := 0.0, 1.0
		if k == first {
			t0 = (s0 - a.at[k]) / a.length(k)
		}
		if k == last {
			t1 = (s1 - a.at[k]) / a.length(k)
		}
		if (t1-t0)*a.length(k) > stationTie {
			edges = append(edges, part(a.parallel(k, d), t0, t1)...)
		}
	}
	return edges
}

// stationTie is the distance in mm along a strand below which two stations are
// one: the rounding of distances summed along 100 m, a hundred times over.
const stationTie = 1e-9

// part is e.Part, in two when it is more than a half circle.
func part(e geom.Edge, t0, t1 float64) []geom.Edge {
	if t0 == 0 && t1 == 1 {
		return []geom.Edge{e}
	}
	if math.Abs(e.Sweep()*(t1-t0)) > math.Pi {
		mid := (t0 + t1) / 2
		return []geom.Edge{e.Part(t0, mid), e.Part(mid, t1)}
	}
	return []geom.Edge{e.Part(t0, t1)}
}

// find returns the arm that holds station s of the strand, and what must be
// added to s to have it in that arm's stations.
func (t *track) find(s float64) (i int, shift float64) {
	if t.closed {
		for begin := t.arms[0].begin(); s+shift < begin; {
			shift += t.length
		}
		for begin := t.arms[0].begin(); s+shift >= begin+t.length; {
			shift -= t.length
		}
	}
	i = sort.Search(len(t.arms)-1, func(i int) bool { return t.arms[i].end() > s+shift })
	return i, shift
}

// between returns line k, at offset d, from station s0 to station s1 of the
// strand, round its corners; s1 - s0 is at most a closed strand's length.
func (t *track) between(k int, d, s0, s1 float64) []geom.Edge {
	var edges []geom.Edge
	i, shift := t.find(s0)
	for {
		a := &t.arms[i]
		lo, hi := math.Max(s0+shift, a.start[k]), math.Min(s1+shift, a.finish[k])
		if lo < hi {
			edges = append(edges, a.side(d, lo, hi)...)
		}
		if a.end() >= s1+shift || (i == len(t.arms)-1 && !t.closed) {
			return edges
		}
		if i++; i == len(t.arms) {
			i, shift = 0, shift-t.length
		}
	}
}

// apart is the distance between two stations along the strand, the short way
// round a closed one.
func (t *track) apart(s, u float64) float64 {
	d := math.Abs(s - u)
	if t.closed {
		d = math.Min(d, t.length-d)
	}
	return d
}

// layTracks makes the tracks of all strands and their mitres. A strand with an
// arc too tight for the groove has no arms.
func (b *builder) layTracks(width float64) {
	for i, st := range b.motif.Strands {
		if b.tight(i, width/2) {
			b.tracks = append(b.tracks, &track{strand: i})
			continue
		}
		t := newTrack(i, st)
		for k := range t.arms {
			a := &t.arms[k]
			for range b.lines.at {
				a.start = append(a.start, a.begin())
				a.finish = append(a.finish, a.end())
			}
		}
		for k := range t.arms {
			next := (k + 1) % len(t.arms)
			if t.arms[k].ring || (next == 0 && !t.closed) {
				continue
			}
			b.mitre(t, &t.arms[k], &t.arms[next])
		}
		b.tracks = append(b.tracks, t)
	}
}

// tight reports, and returns, whether a strand has an arc with a radius of half
// the groove or less: the inner side would have none.
func (b *builder) tight(strand int, half float64) bool {
	st := b.motif.Strands[strand]
	for k := range st.Contour.Len() {
		e := st.Contour.Edge(k)
		if e.IsLine() || e.Radius() > half+geom.Coincident {
			continue
		}
		src := b.motif.Sources[st.Sources[k]]
		radius, width := unit.Apart(e.Radius(), 2*half)
		place(b.found.Errorf(src.Key, "strip-tight", "%s has a radius of %s: strips in a groove %s wide can't turn inside it",
			src.Name, radius, width), b.tops, e.Mid()).
			Hintf("make the radius more than %s, or the groove narrower", unit.AtLeast(half))
		return true
	}
	return false
}

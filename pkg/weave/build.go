package weave

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// FlipReach is the distance in mm within which a flip finds its crossing.
const FlipReach = 1.0

// RuleMany is the rule of the error after which there is no weave at all.
const RuleMany = "crossings-many"

// Build finds the crossings and tees of m and weaves them as the job's [weave]
// says: over and under alternate along every strand, the first crossing of the
// first strand of each connected piece is as asked, and flips are exchanged
// afterwards. Where open strands make alternation impossible the fewest breaks
// are made, each a warning. Errors are touches, overlaps, three strands
// through one point, ends on corners, and flips that find no crossing; the
// weave then lacks the places in error.
func Build(m motif.Motif, want work.Weaving) (Weave, diag.Findings) {
	w, lefts, found, ok := find(m)
	if !ok {
		return w, found
	}
	w.order(len(m.Strands), lefts)
	w.alternate(m, lefts, want.FirstOver, &found)
	w.asDrawn(m, want.Drawn, &found)
	w.flip(m, want.Flips, &found)
	w.spread()
	return w, found
}

// Find finds the crossings and tees of m as Build does, and decides nothing: each
// crossing's first passage is over, for a stage that weaves them by rules of its own. Errors are
// those of the places.
func Find(m motif.Motif) (Weave, diag.Findings) {
	w, lefts, found, ok := find(m)
	if !ok {
		return w, found
	}
	w.order(len(m.Strands), lefts)
	for i := range w.Crossings {
		w.Crossings[i].Visits[0].Over, w.Crossings[i].Visits[1].Over = true, false
	}
	w.spread()
	return w, found
}

// New puts together the weave of so many strands: crossings in any order, whose visits say
// which is over.
func New(strands int, crossings []Crossing, tees []Tee) Weave {
	w := Weave{Crossings: slices.Clone(crossings), Tees: tees}
	for i := range w.Crossings {
		if v := &w.Crossings[i].Visits; compareVisits(v[0], v[1]) > 0 {
			v[0], v[1] = v[1], v[0]
		}
	}
	w.order(strands, make([]bool, len(crossings)))
	w.spread()
	return w
}

// find finds the crossings, in no order, and the tees; lefts says of each crossing whether
// its second passage leaves to the left of the first. ok is false where there are too many.
func find(m motif.Motif) (w Weave, lefts []bool, found diag.Findings, ok bool) {
	f := newFinder(m)
	meetings, ok := f.meetings()
	if !ok {
		found.Errorf("motif", RuleMany, "the strands cross more than %s times", unit.Grouped(mostMeetings)).
			Hintf("take fewer copies, or draw the motif in parts")
		return Weave{}, nil, found, false
	}
	w, lefts, troubles := f.sort(f.clusters(meetings))
	troubles = append(troubles, f.nearTees(w.Tees)...)
	report(m, troubles, &found)
	return w, lefts, found, true
}

// sort turns clusters into crossings, tees and troubles. lefts says of each
// crossing whether its second passage leaves to the left of the first.
func (f finder) sort(clusters []cluster, concurrent [][2]int) (w Weave, lefts []bool, troubles []trouble) {
	kinds := make([]geom.Kind, len(clusters))
	bad := make([]bool, len(clusters)) // reported as part of a crowd
	left := make([]bool, len(clusters))
	for i, c := range clusters {
		kinds[i], left[i] = f.classify(c)
	}
	troubles = crowds(clusters, kinds, concurrent, bad)
	for i, c := range clusters {
		m := c.main()
		switch {
		case bad[i] || m.a.end != middle && m.b.end != middle:
			// Two free ends that meet are the motif's to report.
		case kinds[i] == geom.Overlap:
			troubles = append(troubles, trouble{overlapping, m.at, c.sources()})
		case m.a.end != middle || m.b.end != middle:
			if t, ok := f.tee(m); !ok {
				troubles = append(troubles, trouble{teeAtCorner, m.at, c.sources()})
			} else if c.has(geom.Touch) {
				troubles = append(troubles, trouble{touching, m.at, c.sources()})
			} else {
				w.Tees = append(w.Tees, t)
			}
		case kinds[i] == geom.Touch:
			troubles = append(troubles, trouble{touching, m.at, c.sources()})
		default:
			w.Crossings = append(w.Crossings, f.crossing(m))
			lefts = append(lefts, left[i])
		}
	}
	slices.SortFunc(w.Tees, func(t, u Tee) int {
		return cmp.Or(cmp.Compare(t.Strand, u.Strand), cmp.Compare(side(t), side(u)))
	})
	return w, lefts, troubles
}

func side(t Tee) int {
	if t.AtEnd {
		return 1
	}
	return 0
}

// crowds marks the clusters that share a point with another one, and makes one
// trouble of each such point. Overlaps are worse, and reported as such.
func crowds(clusters []cluster, kinds []geom.Kind, concurrent [][2]int, bad []bool) []trouble {
	group := make([]int, len(clusters))
	for i := range group {
		group[i] = i
	}
	for _, p := range concurrent {
		if kinds[p[0]] != geom.Overlap && kinds[p[1]] != geom.Overlap {
			unite(group, p[0], p[1])
			bad[p[0]], bad[p[1]] = true, true
		}
	}
	var troubles []trouble
	number := map[int]int{}
	for i, c := range clusters {
		if !bad[i] {
			continue
		}
		r := root(group, i)
		if r == i {
			number[r] = len(troubles)
			troubles = append(troubles, trouble{fault: crowded, at: c.main().at})
		}
		t := &troubles[number[r]]
		t.sources = append(t.sources, c.sources()...)
	}
	return troubles
}

// tee reads a meeting at a free end; not ok if the host has a corner there.
func (f finder) tee(m meeting) (t Tee, ok bool) {
	guest, host := m.a, m.b
	if guest.end == middle {
		guest, host = host, guest
	}
	if host.vertex && f.motif.Strands[host.strand].Corner[host.edge] {
		return Tee{}, false
	}
	return Tee{guest.strand, guest.end == finishEnd, host.strand, host.s, m.at}, true
}

func (f finder) crossing(m meeting) Crossing {
	u, v := f.tangent(m.a), f.tangent(m.b)
	return Crossing{
		At: m.at,
		Visits: [2]Visit{
			{Strand: m.a.strand, S: m.a.s, Edge: m.a.edge},
			{Strand: m.b.strand, S: m.b.s, Edge: m.b.edge},
		},
		Angle: math.Atan2(math.Abs(u.Cross(v)), math.Abs(u.Dot(v))),
	}
}

// nearTees finds free ends that stop short of the middle of a strand, or run
// a little past it, by less than motif.NearJoint, unless the job says that they
// are meant to.
func (f finder) nearTees(tees []Tee) []trouble {
	isTee := map[spot]bool{}
	for _, t := range tees {
		isTee[spot{strand: t.Strand, end: startEnd + end(side(t))}] = true
	}
	var troubles []trouble
	for i, st := range f.motif.Strands {
		if st.Contour.Closed {
			continue
		}
		for _, e := range [2]end{startEnd, finishEnd} {
			if isTee[spot{strand: i, end: e}] {
				continue
			}
			at, edge := st.Contour.Start(), 0
			if e == finishEnd {
				at, edge = st.Contour.End(), st.Contour.Len()-1
			}
			if f.motif.Sources[st.Sources[edge]].Open {
				continue
			}
			if host, ok := f.nearMiddle(i, e, at); ok {
				troubles = append(troubles, trouble{teeNear, at, []int{st.Sources[edge], host}})
			}
		}
	}
	return troubles
}

// nearMiddle returns the source of an edge that a free end of a strand comes
// near to. Vertices do not count: ends that nearly meet are the motif's to
// report.
func (f finder) nearMiddle(strand int, e end, at geom.Point) (source int, ok bool) {
	own := 0.0
	if e == finishEnd {
		own = f.motif.Strands[strand].Length()
	}
	source = math.MaxInt
	f.index.Search(geom.Box{Min: at, Max: at}.Expand(motif.NearJoint), func(i int) bool {
		g := f.edges[i]
		q, t := g.Nearest(at)
		p := f.spotAt(g, t)
		d := q.Dist(at)
		// The strand's own last stretch is near its end without meeting it.
		itself := g.strand == strand && math.Abs(p.s-own) <= 2*motif.NearJoint
		if d > motif.Same && d <= motif.NearJoint && !p.vertex && !itself {
			source, ok = min(source, f.source(g)), true
		}
		return true
	})
	return source, ok
}

// order sorts the crossings by their first passage, lefts with them, and lists
// the visits of each strand.
func (w *Weave) order(strands int, lefts []bool) {
	perm := make([]int, len(w.Crossings))
	for i := range perm {
		perm[i] = i
	}
	slices.SortFunc(perm, func(i, j int) int {
		c, d := w.Crossings[i], w.Crossings[j]
		return cmp.Or(compareVisits(c.Visits[0], d.Visits[0]), compareVisits(c.Visits[1], d.Visits[1]))
	})
	crossings, sides := slices.Clone(w.Crossings), slices.Clone(lefts)
	w.Visits = make([][]Visit, strands)
	for to, from := range perm {
		w.Crossings[to], lefts[to] = crossings[from], sides[from]
		for k := range w.Crossings[to].Visits {
			v := &w.Crossings[to].Visits[k]
			v.Crossing = to
			w.Visits[v.Strand] = append(w.Visits[v.Strand], *v)
		}
	}
	for _, vs := range w.Visits {
		slices.SortFunc(vs, compareVisits)
	}
}

func compareVisits(v, u Visit) int {
	return cmp.Or(cmp.Compare(v.Strand, u.Strand), cmp.Compare(v.S, u.S))
}

// passage says which of a crossing's two passages v is.
func (w *Weave) passage(v Visit) int {
	if first := w.Crossings[v.Crossing].Visits[0]; first.Strand == v.Strand && first.S == v.S {
		return 0
	}
	return 1
}

// setOver puts a passage of a crossing on top.
func (w *Weave) setOver(crossing, passage int) {
	vs := &w.Crossings[crossing].Visits
	vs[passage].Over, vs[1-passage].Over = true, false
}

// spread copies what the crossings say to the strands' visits.
func (w *Weave) spread() {
	for _, vs := range w.Visits {
		for k := range vs {
			vs[k] = w.Crossings[vs[k].Crossing].Visits[w.passage(vs[k])]
		}
	}
}

// flip exchanges over and under where the job asks for it.
func (w *Weave) flip(m motif.Motif, flips []work.Flip, found *diag.Findings) {
	for _, i := range Flipped(m, flips, func(p geom.Point) (int, Crossing, float64) {
		i, d := w.nearest(p)
		if i < 0 {
			return i, Crossing{}, d
		}
		return i, w.Crossings[i], d
	}, found) {
		w.setOver(i, w.passage(w.Crossings[i].Lower()))
	}
}

// Flipped lists the crossings that flips name, as often as they name them, and reports
// flips that find none and those that undo others. nearest is the number of the crossing
// nearest to a place, negative if there is none, with what is said of it and how far off
// it is.
func Flipped(m motif.Motif, flips []work.Flip, nearest func(geom.Point) (int, Crossing, float64), found *diag.Findings) (list []int) {
	by := map[int]int{}
	for k, fl := range flips {
		i, c, d := nearest(fl.At)
		if d > FlipReach {
			f := found.Errorf(fl.Key, "flip-nothing", "no crossing within %s of %s to flip", unit.Len(FlipReach), motif.Place(fl.At)).
				SetAt(fl.At.X, fl.At.Y)
			if i < 0 {
				f.Hintf("the motif has no crossings: leave the flip out")
				continue
			}
			f.Hintf("the nearest crossing, of %s, is at %s", names(m, []int{
				m.Strands[c.Visits[0].Strand].Sources[c.Visits[0].Edge],
				m.Strands[c.Visits[1].Strand].Sources[c.Visits[1].Edge],
			}), motif.Place(c.At)).
				Propose(fl.Key, motif.Place(c.At).Typed())
			continue
		}
		if entry, twice := by[i]; twice {
			found.Warnf(fl.Key, "flip-twice", "the crossing at %s is flipped twice: entry %d of flip names it already", motif.Place(c.At), entry).
				SetAt(fl.At.X, fl.At.Y).
				Hintf("leave both out: two flips undo each other")
		}
		by[i] = k + 1
		list = append(list, i)
	}
	return list
}

// nearest is the crossing nearest to p, -1 if there is none, and how far off
// it is.
func (w *Weave) nearest(p geom.Point) (crossing int, dist float64) {
	crossing, dist = -1, math.Inf(1)
	for i, c := range w.Crossings {
		if d := c.At.Dist(p); d < dist {
			crossing, dist = i, d
		}
	}
	return crossing, dist
}

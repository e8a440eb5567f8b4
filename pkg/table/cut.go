package table

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// A piece is a part of a strand of the top within a section.
type piece struct {
	strand   int
	section  int
	from, to float64
	joints   [2]int // that it ends on, at from and at to; -1 for none
}

// cut cuts the top's strands at the joints.
func (t Table) cut() (pieces []piece) {
	for i, s := range t.Top.Strands {
		pieces = append(pieces, t.cutStrand(i, s)...)
	}
	return pieces
}

// cutStrand cuts one strand. What lies beyond a joint by no more than ends are joined by
// is no piece: the strand ends on the joint.
func (t Table) cutStrand(n int, s motif.Strand) []piece {
	l := s.Length()
	at := []mark{}
	for i := range s.Contour.Len() {
		e := s.Contour.Edge(i)
		for j, x := range t.Joints {
			for _, f := range meets(e, x) {
				at = append(at, mark{s.Offsets()[i] + f*e.Length(), j})
			}
		}
	}
	slices.SortFunc(at, func(a, b mark) int { return cmp.Compare(a.s, b.s) })
	at = slices.CompactFunc(at, func(a, b mark) bool { return a.joint == b.joint && math.Abs(b.s-a.s) < geom.Coincident })
	if s.Contour.Closed && len(at) > 1 && at[0].s+l-at[len(at)-1].s < geom.Coincident {
		at = at[:len(at)-1]
	}
	if len(at) == 0 {
		return []piece{{n, t.sectionAt(s.Contour.Bounds().Center().X), 0, l, [2]int{-1, -1}}}
	}
	var all []piece
	add := func(from, to mark) {
		if to.s-from.s < tiny {
			return
		}
		mid, _ := s.Contour.At((from.s + to.s) / 2)
		if n := len(all); n > 0 && all[n-1].section == t.sectionAt(mid.X) && from.joint >= 0 {
			all[n-1].to, all[n-1].joints[1] = to.s, to.joint // it touches the joint
			return
		}
		all = append(all, piece{n, t.sectionAt(mid.X), from.s, to.s, [2]int{from.joint, to.joint}})
	}
	if s.Contour.Closed {
		for i, a := range at {
			b := at[(i+1)%len(at)]
			if i == len(at)-1 {
				b.s += l
			}
			add(a, b)
		}
		if k := len(all); k > 1 && all[0].section == all[k-1].section { // it touches there
			all[0].from, all[0].joints[0] = all[k-1].from-l, all[k-1].joints[0]
			all = all[:k-1]
		}
		if len(all) == 1 {
			all[0].from, all[0].to, all[0].joints = 0, l, [2]int{-1, -1}
		}
		return all
	}
	add(mark{0, -1}, at[0])
	for i := 1; i < len(at); i++ {
		add(at[i-1], at[i])
	}
	add(at[len(at)-1], mark{l, -1})
	return t.trimmed(all)
}

// trimmed drops an open strand's first and last piece where they are mere spurs past a
// joint; what they hung on is then a strand's own end.
func (t Table) trimmed(all []piece) []piece {
	spur := func(p piece, own int) bool {
		return p.to-p.from <= motif.Joint && p.joints[own] < 0 && p.joints[1-own] >= 0
	}
	if len(all) > 1 && spur(all[0], 0) {
		all = all[1:]
		all[0].joints[0] = -1
	}
	if n := len(all); n > 1 && spur(all[n-1], 1) {
		all = all[:n-1]
		all[n-2].joints[1] = -1
	}
	return all
}

// A mark is a place along a strand where it meets a joint; joint is -1 at its own ends.
type mark struct {
	s     float64
	joint int
}

// meets are the fractions along an edge at which it meets the line x.
func meets(e geom.Edge, x float64) (all []float64) {
	if e.IsLine() {
		if d := e.B.X - e.A.X; d != 0 {
			if f := (x - e.A.X) / d; f >= 0 && f <= 1 {
				all = append(all, f)
			}
		}
		return all
	}
	c, r := e.Center(), e.Radius()
	d := x - c.X
	if math.Abs(d) > r {
		return nil
	}
	up := math.Sqrt(r*r - d*d)
	for _, y := range [2]float64{c.Y - up, c.Y + up} {
		p := geom.Pt(x, y)
		f := e.Param(p)
		if f >= 0 && f <= 1 && e.At(f).Near(p, geom.Coincident) {
			all = append(all, f)
		}
	}
	return all
}

// sectionAt is the section at x, all leaves in.
func (t Table) sectionAt(x float64) int {
	i, _ := slices.BinarySearchFunc(t.Joints, x, func(j, x float64) int { return cmp.Compare(j, x) })
	return i
}

// alike gives every section its stretches and crossings, in the order of its kind's first
// section, and reports sections of one name whose grooves differ.
func (t *Table) alike(pieces []piece, found *diag.Findings) {
	own := make([][]Stretch, len(t.Sections))
	for _, p := range pieces {
		st := Stretch{Strand: p.strand, From: p.from, To: p.to, At: [2]int{-1, -1}}
		for k, j := range p.joints {
			if j >= 0 {
				st.At[k] = j // the joint, until pass has the passings
			}
		}
		own[p.section] = append(own[p.section], st)
	}
	crossings := make([][]Crossing, len(t.Sections))
	for i, c := range t.Weave.Crossings {
		n := t.sectionAt(c.At.X - geom.Coincident) // one on a joint is on its left at all joints
		crossings[n] = append(crossings[n], Crossing{Top: i, At: c.At.Sub(geom.Pt(t.Sections[n].X, 0)), Joint: -1})
	}
	for k, kind := range t.Kinds {
		first := kind.First
		t.Sections[first].Stretches, t.Sections[first].Crossings = own[first], crossings[first]
		for i := range t.Sections {
			if s := &t.Sections[i]; s.Kind == k && i != first {
				var off geom.Point
				var ok bool
				if s.Stretches, off, ok = t.match(first, own[first], i, own[i]); ok {
					s.Crossings, ok = matchCrossings(crossings[first], crossings[i])
				}
				if !ok {
					s.Stretches, s.Crossings = own[i], crossings[i]
					found.Errorf(kind.Key, ruleAlike, "the sections named %s would get different grooves: those of the first and of the %s differ near %s of the section",
						kind.Name, nth(s.Nth), motif.Place(off)).
						Hintf("give them names of their own, or lay the stations alike on both: stations = \"joints\" does")
					return
				}
			}
		}
	}
}

// likeness is the distance in mm within which two sections' stretches are alike: what is
// computed for one station after another differs by rounding only, and joined ends by half
// of what they are joined by.
const likeness = motif.Joint

// match puts a section's stretches into the order of its kind's first one; off is the
// first place that has no mate.
func (t Table) match(first int, want []Stretch, n int, have []Stretch) (list []Stretch, off geom.Point, ok bool) {
	used := make([]bool, len(have))
	for _, w := range want {
		a := t.placesOf(first, w)
		mate := -1
		for i, h := range have {
			if used[i] {
				continue
			}
			b := t.placesOf(n, h)
			if same(a, b) {
				mate = i
				break
			}
			slices.Reverse(b)
			if same(a, b) {
				mate = i
				have[i].Reversed = true
				break
			}
		}
		if mate < 0 {
			return nil, a[len(a)/2], false
		}
		used[mate] = true
		list = append(list, have[mate])
	}
	if i := slices.Index(used, false); i >= 0 {
		p := t.placesOf(n, have[i])
		return nil, p[len(p)/2], false
	}
	return list, off, true
}

// placesOf are places along a stretch, in its section's coordinates: lines and arcs that
// share so many are one.
func (t Table) placesOf(section int, s Stretch) []geom.Point {
	const places = 9
	c := t.Top.Strands[s.Strand].Contour
	all := make([]geom.Point, places)
	for i := range all {
		at := s.From + (s.To-s.From)*float64(i)/(places-1)
		p, _ := c.At(at)
		all[i] = p.Sub(geom.Pt(t.Sections[section].X, 0))
	}
	return all
}

func same(a, b []geom.Point) bool {
	for i := range a {
		if !a[i].Near(b[i], likeness) {
			return false
		}
	}
	return true
}

// matchCrossings puts a section's crossings into the order of its kind's first one.
func matchCrossings(want, have []Crossing) (list []Crossing, ok bool) {
	if len(want) != len(have) {
		return nil, false
	}
	have = slices.Clone(have)
	for _, w := range want {
		best, least := -1, 2*likeness
		for i, c := range have {
			if d := c.At.Dist(w.At); d < least {
				best, least = i, d
			}
		}
		if best < 0 {
			return nil, false
		}
		list = append(list, have[best])
		have = slices.Delete(have, best, best+1)
	}
	return list, true
}

// nth is "second" for 2.
func nth(n int) string {
	names := [...]string{"", "first", "second", "third", "fourth", "fifth", "sixth"}
	if n < len(names) {
		return names[n]
	}
	return "last"
}

// pass finds the passings of every kind's edges, from its first section.
func (t *Table) pass() {
	for k, kind := range t.Kinds {
		for _, side := range [2]work.Side{work.Left, work.Right} {
			var list []Passing
			for i, st := range t.Sections[kind.First].Stretches {
				for e, j := range st.At {
					if j >= 0 && t.sideOf(kind.First, j) == side {
						list = append(list, t.passing(k, side, i, e == 1))
					}
				}
			}
			t.Passings = append(t.Passings, fromFront(list)...)
		}
	}
	// Joints give way to passings, in all sections of the kind.
	for i := range t.Sections {
		for k := range t.Sections[i].Stretches {
			t.Sections[i].Stretches[k].At = [2]int{-1, -1}
		}
	}
	for n, p := range t.Passings {
		for i := range t.Sections {
			if t.Sections[i].Kind != p.Kind {
				continue
			}
			if p.Stretch < len(t.Sections[i].Stretches) {
				st := &t.Sections[i].Stretches[p.Stretch]
				at := 0
				if p.AtEnd != st.Reversed {
					at = 1
				}
				st.At[at] = n
			}
		}
	}
}

// fromFront is passings from the front; those that pass at one place, where strands cross
// on the joint, from the least angle, so that alike edges have them in one order.
func fromFront(list []Passing) []Passing {
	slices.SortStableFunc(list, func(a, b Passing) int { return cmp.Compare(a.Y, b.Y) })
	for i := 1; i < len(list); i++ {
		for k := i; k > 0 && list[k].Y-list[k-1].Y < joinedMeet && list[k].Angle < list[k-1].Angle; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
	return list
}

// sideOf is the side of a section that a joint is on.
func (t Table) sideOf(section, joint int) work.Side {
	if joint < section {
		return work.Left
	}
	return work.Right
}

// passing is that of an end of a kind's stretch.
func (t Table) passing(kind int, side work.Side, stretch int, atEnd bool) Passing {
	st := t.Sections[t.Kinds[kind].First].Stretches[stretch]
	s := t.Top.Strands[st.Strand]
	at, inward := st.From, motif.Joint
	if atEnd {
		at, inward = st.To, -motif.Joint
	}
	p, _ := s.Contour.At(wrapped(s, at))
	// The strand as it is on this side of the joint: what is drawn to begin there is out by a
	// little where numbers are rounded.
	e := s.Contour.Edge(s.Edge(wrapped(s, at+inward)))
	along := e.Tangent(math.Max(0, math.Min(1, e.Param(p))))
	bend := e.Curvature()
	with := along.X > 0 // it runs with x
	if !with {
		along, bend = along.Scale(-1), -bend
	}
	out := Passing{
		Kind: kind, Side: side, Y: p.Y, Angle: math.Atan2(along.Y, along.X), Curvature: bend, Stretch: stretch, AtEnd: atEnd,
	}
	// Seen along the strand the first strip is on the left, at the back where it runs with x.
	out.Strips = slices.Clone(t.Strips)
	if with {
		slices.Reverse(out.Strips)
	}
	return out
}

// wrapped is a distance along a strand that may be beyond a closed one's ends.
func wrapped(s motif.Strand, d float64) float64 {
	if l := s.Length(); s.Contour.Closed {
		return d - math.Floor(d/l)*l
	}
	return math.Max(0, math.Min(s.Length(), d))
}

// RunOn is how far in mm along the strand a groove runs on past an edge that it passes at
// an angle from the normal, so that a bit leaves it with its whole width: (w/2) tan(phi) +
// b/2 + 1 mm.
func (t Table) RunOn(p Passing) float64 {
	return t.Groove/2*math.Tan(math.Abs(p.Angle)) + t.Bit/2 + 1
}

// runOn is how far a stretch runs on past one of its ends: RunOn, or on a curve until the
// groove's whole width has left the edge; but no more than half of what the strand has there
// beyond the edge.
func (t Table) runOn(section int, st Stretch, end int, more float64) float64 {
	if st.At[end] < 0 {
		return 0
	}
	p := t.Passings[st.At[end]]
	s := t.Top.Strands[st.Strand]
	run := t.RunOn(p) + more
	left, right := t.Ends(section)
	from, sign := st.From, -1.0
	if end == 1 {
		from, sign = st.To, 1
	}
	room := t.beyond(section, st, end)
	const step = 0.25 // mm: how finely the run-on of a curve is found
	for ; run < room; run += step {
		at, along := s.Contour.At(wrapped(s, from+sign*(run-t.Bit/2)))
		off := along.Left().Scale(t.Groove / 2)
		a, b := at.Add(off).X, at.Sub(off).X
		if p.Side == work.Left && math.Max(a, b) <= left || p.Side == work.Right && math.Min(a, b) >= right {
			break
		}
	}
	return math.Min(run, room)
}

// beyond is how much of its strand a stretch may take up past an end: all there is to an
// open strand's own end, half of what lies between two stretches of the section.
func (t Table) beyond(section int, st Stretch, end int) float64 {
	s := t.Top.Strands[st.Strand]
	l := s.Length()
	room := st.From
	if end == 1 {
		room = l - st.To
	}
	if s.Contour.Closed {
		room = (l - (st.To - st.From)) / 2
	}
	for _, o := range t.Sections[section].Stretches {
		if o.Strand != st.Strand || o.From == st.From {
			continue
		}
		gap := st.From - o.To
		if end == 1 {
			gap = o.From - st.To
		}
		if s.Contour.Closed {
			gap -= math.Floor(gap/l) * l
		}
		if gap >= 0 {
			room = math.Min(room, gap/2)
		}
	}
	return math.Max(0, room)
}

// Cut is a section's strands, laid somewhere with what they run on past its edges.
type Cut struct {
	Motif motif.Motif
	Weave weave.Weave
	Runs  [][2]float64 // how far each strand runs on past its start and its end; 0 at its own ends
	Of    []Place      // of each strand
	Index []int        // of each of the weave's crossings: its place in the section's own list; -1 for one beyond the edge
}

// A Place says which stretch of which section a strand is.
type Place struct{ Section, Stretch int }

// Section is a section of a kind in its own coordinates, its strands running on past its
// edges as the top has them; more is how much further than RunOn in mm.
func (t Table) Section(kind int, more float64) Cut {
	n := t.Kinds[kind].First
	return t.laid([]int{n}, []float64{-t.Sections[n].X}, more)
}

// Apart is the whole table, its sections laid from left to right with a space between them
// that what they run on does not bridge; lefts are where their left edges lie then.
func (t Table) Apart(more float64) (c Cut, lefts []float64) {
	space := 0.0
	var all []int
	for i, s := range t.Sections {
		for _, st := range s.Stretches {
			for e := range st.At {
				space = math.Max(space, t.runOn(i, st, e, more))
			}
		}
		all = append(all, i)
	}
	space = math.Ceil(2*(space+t.Groove)/10) * 10
	shifts := make([]float64, len(all))
	for i, s := range t.Sections {
		shifts[i] = space * float64(i)
		lefts = append(lefts, s.X+shifts[i])
	}
	return t.laid(all, shifts, more), lefts
}

// laid is sections of the top, each shifted along x.
func (t Table) laid(sections []int, shifts []float64, more float64) Cut {
	c := Cut{Motif: motif.Motif{Sources: t.Top.Sources}}
	l := layer{t: t, cut: &c}
	for i, n := range sections {
		l.add(n, geom.Shifting(geom.Pt(shifts[i], 0)), more)
	}
	c.Weave = weave.New(len(c.Motif.Strands), l.crossings, l.tees)
	c.Index = make([]int, len(c.Weave.Crossings))
	for i, w := range c.Weave.Crossings {
		c.Index[i] = l.index[w.At]
	}
	return c
}

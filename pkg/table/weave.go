package table

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/parity"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// Over and under in all arrangements at once. Sections of one kind are alike, so what is
// decided is a bit for each crossing of each kind; and since a section can meet several
// others, what its strands ask beyond its edges is a bit too where nothing within it says
// so: the phase of a passing. What follows one another along a strand must alternate, within
// sections and at every pair of edges that can meet (pkg/parity).

// A loom is over and under as bits.
type loom struct {
	t       *Table
	first   []int        // of each kind: its first crossing's bit, whether the crossing's first passage is over
	threads [][][]visit  // of each kind and stretch: what it passes, in order
	over    [][2]literal // of each of the top's crossings: whether its passages are over
	phases  []literal    // of each passing: whether the next crossing beyond the edge is over
	on      []onJoint    // of each passing: the crossing on its joint, if there is one
	carries []bool       // of each passing: whether a crossing comes on its section's side, there or in sections further on
	count   int          // bits
	list    []parity.Constraint
	meant   []alternation // what each of list is about; those after are no alternation
	bits    []bool
	broken  []bool // of each bit: it doesn't alternate with another
}

// A literal is a bit or its opposite.
type literal struct {
	bit int
	not bool
}

func (x literal) opposite() literal { return literal{x.bit, !x.not} }

func (l *loom) holds(x literal) bool { return l.bits[x.bit] != x.not }

// A visit is a passage of a kind's stretch through a crossing.
type visit struct {
	s    float64
	over literal
	weave.Visit
}

// An onJoint is whether a strand is over where it passes a joint, if it crosses another just
// there. Such a crossing comes between two sections and is in neither.
type onJoint struct {
	crosses bool
	over    literal
}

// An alternation is two things that follow one another along a strand: crossings of a
// kind's stretch, its passings if it has no crossing, or the passings of two edges that
// meet.
type alternation struct {
	kind, stretch int // of within a section
	a, b          int // visits of that stretch; -1 for its passings
	edges         [2]edge
	passings      [2]int
	place         place
}

// A place is where along a strand two things follow one another.
type place int

const (
	inSection  place = iota
	onTheJoint       // a passing and the crossing on its joint
	overJoint        // two passings
)

// weave decides over and under. Sections of one name are alike: they have one list of crossings
// to decide on.
func (t *Table) weave(found *diag.Findings) {
	l := loom{t: t}
	l.warp()
	l.carry()
	l.ask()
	made := parity.Solve(l.count, l.list)
	l.bits = made.Bits
	if !made.Proved {
		found.Notef("weave", "weave-search", "over and under can't alternate everywhere, and there are too many ways to try them all: fewer breaks than these may be possible").
			Hintf("let strands that run through the leaves cross an even number of others in each")
	}
	pieces := l.pieces()
	l.start(pieces)
	l.report(found)
	l.draw(pieces, found)
	l.flip(found)
	l.finish()
}

// warp numbers the bits and finds what each stretch passes.
func (l *loom) warp() {
	l.first = make([]int, len(l.t.Kinds))
	l.threads = make([][][]visit, len(l.t.Kinds))
	for k := range l.t.Kinds {
		l.first[k] = l.count
		l.threads[k] = make([][]visit, len(l.t.StretchesOf(k)))
		for _, c := range l.t.CrossingsOf(k) {
			if l.t.isOnJoint(c) {
				l.count++
				continue
			}
			for passage, v := range l.t.Weave.Crossings[c.Top].Visits {
				if n, s := l.t.stretchAt(k, v); n >= 0 {
					l.threads[k][n] = append(l.threads[k][n], visit{s, literal{l.count, passage == 1}, v})
				}
			}
			l.count++
		}
		for _, list := range l.threads[k] {
			slices.SortStableFunc(list, func(a, b visit) int { return cmp.Compare(a.s, b.s) })
		}
	}
	l.phases = make([]literal, len(l.t.Passings))
	for i, p := range l.t.Passings {
		list := l.threads[p.Kind][p.Stretch]
		switch {
		case len(list) == 0:
			l.phases[i] = literal{bit: l.count}
			l.count++
		case p.AtEnd:
			l.phases[i] = list[len(list)-1].over.opposite()
		default:
			l.phases[i] = list[0].over.opposite()
		}
	}
	l.on = make([]onJoint, len(l.t.Passings))
	l.over = l.overs()
	for i, p := range l.t.Passings {
		if v, ok := l.t.crossingOn(p); ok {
			l.on[i] = onJoint{true, l.over[v.Crossing][l.t.passageOf(v)]}
		}
	}
}

// stretchAt is the stretch of a kind's first section that a visit is on, and how far along
// the strand: a crossing that lies on a joint may be a hair beyond the stretch.
func (t *Table) stretchAt(kind int, v weave.Visit) (stretch int, s float64) {
	best := math.Inf(1)
	stretch = -1
	for i, st := range t.StretchesOf(kind) {
		if st.Strand != v.Strand {
			continue
		}
		at := v.S
		if c := t.Top.Strands[st.Strand]; c.Contour.Closed {
			// Within half of what is not the stretch's to either side of it.
			room := (c.Length() - (st.To - st.From)) / 2
			at -= math.Floor((at-st.From+room)/c.Length()) * c.Length()
		}
		if off := max(st.From-at, at-st.To, 0); off < best {
			best, stretch, s = off, i, at
		}
	}
	return stretch, s
}

// carry says which passings lead to a crossing. A strand that ends without one asks nothing
// of what comes before.
func (l *loom) carry() {
	l.carries = make([]bool, len(l.t.Passings))
	for i, p := range l.t.Passings {
		l.carries[i] = len(l.threads[p.Kind][p.Stretch]) > 0
	}
	mates := make([][]int, len(l.t.Passings))
	for _, p := range l.t.pairs() {
		for _, m := range l.t.mates(p) {
			mates[m[0]] = append(mates[m[0]], m[1])
			mates[m[1]] = append(mates[m[1]], m[0])
		}
	}
	for again := true; again; {
		again = false
		for i := range l.t.Passings {
			through := l.t.through(i)
			if !l.carries[i] && through >= 0 && (l.on[through].crosses || slices.ContainsFunc(mates[through], func(m int) bool { return l.carries[m] })) {
				l.carries[i], again = true, true
			}
		}
	}
}

// through is the passing at the other end of a passing's stretch, -1 if it ends within its
// section.
func (t *Table) through(passing int) int {
	p := t.Passings[passing]
	at := t.StretchesOf(p.Kind)[p.Stretch].At
	if p.AtEnd {
		return at[0]
	}
	return at[1]
}

// passingsOn are the numbers of the passings of an edge as it lies, from the front.
func (t *Table) passingsOn(e edge) []int {
	side := e.side
	if e.turned {
		side = side.Other()
	}
	var list []int
	for i, p := range t.Passings {
		if p.Kind == e.kind && p.Side == side {
			list = append(list, i)
		}
	}
	if e.turned {
		slices.Reverse(list)
	}
	return list
}

// mates are the passings of two edges that go on in one another; none where the edges don't
// match, which is an error already. Two strands that cross on the joint itself pass it at
// one place: each goes on the way that it came.
func (t *Table) mates(pair [2]edge) (all [][2]int) {
	a, b := t.passingsOn(pair[0]), t.passingsOn(pair[1])
	if len(a) != len(b) {
		return nil
	}
	y := func(e edge, i int) float64 {
		if e.turned {
			return t.Table.Width - t.Passings[i].Y
		}
		return t.Passings[i].Y
	}
	for _, i := range a {
		best, least := 0, math.Inf(1)
		for k, j := range b {
			off := math.Abs(y(pair[0], i) - y(pair[1], j))
			if off < likeness { // as good as none: the angle decides
				off = likeness * math.Abs(t.Passings[i].Angle-t.Passings[j].Angle) / math.Pi
			}
			if off < least {
				best, least = k, off
			}
		}
		all = append(all, [2]int{i, b[best]})
		b = slices.Delete(b, best, best+1)
	}
	return all
}

// ask asks that over and under alternate.
func (l *loom) ask() {
	sections, joints := l.occurrences()
	for k := range l.t.Kinds {
		for n, list := range l.threads[k] {
			l.within(k, n, list, sections[k])
		}
	}
	for _, p := range l.t.pairs() {
		for _, m := range l.t.mates(p) {
			if l.carries[m[0]] && l.carries[m[1]] && !l.on[m[0]].crosses && !l.on[m[1]].crosses {
				l.differ(l.phases[m[0]], l.phases[m[1]], joints[p], alternation{edges: p, passings: m, place: overJoint})
			}
		}
	}
	for i, on := range l.on {
		if on.crosses && l.carries[i] {
			l.differ(l.phases[i].opposite(), on.over, l.meets(i, joints), alternation{passings: [2]int{i, i}, place: onTheJoint})
		}
	}
	l.across()
}

// within asks it along one stretch of a kind.
func (l *loom) within(kind, stretch int, list []visit, all int) {
	for i := 1; i < len(list); i++ {
		l.differ(list[i-1].over, list[i].over, all, alternation{kind: kind, stretch: stretch, a: i - 1, b: i})
	}
	st := l.t.StretchesOf(kind)[stretch]
	ring := l.t.Top.Strands[st.Strand].Contour.Closed && st.At == [2]int{-1, -1}
	switch n := len(list); {
	case n > 0 && ring:
		l.differ(list[n-1].over, list[0].over, all, alternation{kind: kind, stretch: stretch, a: n - 1, b: 0})
	case n == 0 && st.At[0] >= 0 && st.At[1] >= 0 && l.carries[st.At[0]] && l.carries[st.At[1]]:
		l.differ(l.phases[st.At[0]], l.phases[st.At[1]], all, alternation{kind: kind, stretch: stretch, a: -1, b: -1})
	}
}

func (l *loom) differ(a, b literal, all int, about alternation) {
	l.list = append(l.list, parity.Constraint{A: a.bit, B: b.bit, Differ: a.not == b.not, Once: 1, All: all})
	l.meant = append(l.meant, about)
}

// occurrences counts, over the arrangements, the sections of each kind and how often edges
// meet.
func (l *loom) occurrences() (sections []int, joints map[[2]edge]int) {
	sections = make([]int, len(l.t.Kinds))
	joints = map[[2]edge]int{}
	for _, a := range l.t.Arrangements {
		for i, s := range a.Sections {
			sections[s.Kind]++
			if i > 0 {
				before := a.Sections[i-1]
				joints[[2]edge{{before.Kind, work.Right, before.Turned}, {s.Kind, work.Left, s.Turned}}]++
			}
		}
	}
	return sections, joints
}

// meets counts over the arrangements how often a passing's edge meets another.
func (l *loom) meets(passing int, joints map[[2]edge]int) (n int) {
	p := l.t.Passings[passing]
	for pair, times := range joints {
		for _, e := range pair {
			if e == (edge{p.Kind, p.Side, false}) || e == (edge{p.Kind, p.Side.Other(), true}) {
				n += times
			}
		}
	}
	return n
}

// pieces gives each bit the lowest that it is joined to by what is asked.
func (l *loom) pieces() []int {
	piece := make([]int, l.count)
	for i := range piece {
		piece[i] = i
	}
	root := func(i int) int {
		for piece[i] != i {
			i = piece[i]
		}
		return i
	}
	for _, c := range l.list {
		a, b := root(c.A), root(c.B)
		piece[max(a, b)] = min(a, b)
	}
	for i := range piece {
		piece[i] = root(i)
	}
	return piece
}

// exchange turns all bits of a piece.
func (l *loom) exchange(pieces []int, piece int) {
	for i, p := range pieces {
		if p == piece {
			l.bits[i] = !l.bits[i]
		}
	}
}

// start lets the first crossing of the first strand of each piece be as the job says.
func (l *loom) start(pieces []int) {
	done := make([]bool, l.count)
	for _, vs := range l.t.Weave.Visits {
		if len(vs) == 0 {
			continue
		}
		x := l.over[vs[0].Crossing][l.t.passageOf(vs[0])]
		if p := pieces[x.bit]; !done[p] {
			done[p] = true
			if l.holds(x) != l.t.Weaving.FirstOver {
				l.exchange(pieces, p)
			}
		}
	}
}

// passageOf says which of its crossing's two passages a visit is.
func (t *Table) passageOf(v weave.Visit) int {
	if first := t.Weave.Crossings[v.Crossing].Visits[0]; first.Strand == v.Strand && first.S == v.S {
		return 0
	}
	return 1
}

// overs are whether the two passages of each of the top's crossings are over, by the bits of
// its kind's own.
func (l *loom) overs() [][2]literal {
	all := make([][2]literal, len(l.t.Weave.Crossings))
	for i := range l.t.Sections {
		k := l.t.Sections[i].Kind
		own := l.t.CrossingsOf(k)
		for n, c := range l.t.Sections[i].Crossings {
			x := literal{l.first[k] + n, l.t.crosswise(l.t.Weave.Crossings[own[n].Top], l.t.Weave.Crossings[c.Top])}
			all[c.Top] = [2]literal{x, x.opposite()}
		}
	}
	return all
}

// crosswise reports whether the first passage of one crossing is the second one's second:
// it runs as that does.
func (t *Table) crosswise(a, b weave.Crossing) bool {
	along := t.along(a.Visits[0])
	return alike(along, t.along(b.Visits[1])) > alike(along, t.along(b.Visits[0]))
}

// finish says of all crossings of the top, and of the passings, what was decided.
func (l *loom) finish() {
	t := l.t
	for i, x := range l.over {
		c := &t.Weave.Crossings[i]
		c.Visits[0].Over, c.Visits[1].Over = l.holds(x[0]), l.holds(x[1])
		c.Broken = l.broken[x[0].bit]
	}
	t.Weave = weave.New(len(t.Top.Strands), t.Weave.Crossings, t.Weave.Tees)
	for i := range t.Passings {
		t.Passings[i].Asks = l.carries[i]
		t.Passings[i].Over = l.carries[i] && l.holds(l.phases[i])
	}
}

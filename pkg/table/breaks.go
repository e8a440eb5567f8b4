package table

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/parity"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
)

// report warns of each place at which over and under fail to alternate.
func (l *loom) report(found *diag.Findings) {
	l.broken = make([]bool, l.count)
	for i, about := range l.meant {
		c := l.list[i]
		if (l.bits[c.A] != l.bits[c.B]) == c.Differ {
			continue
		}
		l.broken[c.A], l.broken[c.B] = true, true
		if about.joint {
			l.reportJoint(about, found)
		} else {
			l.reportWithin(about, found)
		}
	}
}

// reportWithin warns of a break within a section.
func (l *loom) reportWithin(about alternation, found *diag.Findings) {
	t, kind := l.t, l.t.Kinds[about.kind]
	st := t.StretchesOf(about.kind)[about.stretch]
	if about.a < 0 {
		x := l.phases[st.At[0]]
		s, at := t.endOf(st, 0)
		l.warn(st.Strand, s, at, st.At[1], found, "%s cannot alternate: its strand passes %s before the section %s and again after it", overWord(l.holds(x)), kind.Name)
		return
	}
	list := l.threads[about.kind][about.stretch]
	a, b := list[about.a], list[about.b]
	first := l.mark(a, l.t.Sections[kind.First].X)
	if about.a == about.b {
		l.warn(st.Strand, a.S, first.at, -1, found, "%s cannot alternate: in the section %s its strand passes %s at %s, round and round", kind.Name, overWord(l.holds(a.over)), motif.Place(first.own))
		return
	}
	second := l.mark(b, l.t.Sections[kind.First].X)
	l.warn(st.Strand, a.S, first.at, -1, found, "%s cannot alternate: in the section %s its strand passes %s at %s and again at %s",
		kind.Name, overWord(l.holds(a.over)), motif.Place(first.own), motif.Place(second.own))
}

// reportJoint warns of a break between two edges that meet.
func (l *loom) reportJoint(about alternation, found *diag.Findings) {
	p := l.t.Passings[about.passings[0]]
	st := l.t.StretchesOf(p.Kind)[p.Stretch]
	end, through := 0, -1
	if p.AtEnd {
		end = 1
	}
	for _, n := range about.passings {
		if l.t.through(n) >= 0 {
			through = n
		}
	}
	s, at := l.t.endOf(st, end)
	y := p.Y
	if about.edges[0].turned {
		y = l.t.Table.Width - y
	}
	l.warn(st.Strand, s, at, through, found, "%s cannot alternate where %s meets %s: its strand, %s from the front there, passes %s on both sides of the joint",
		l.t.edgeName(about.edges[0]), l.t.edgeName(about.edges[1]), unit.Len(y), overWord(!l.holds(l.phases[about.passings[0]])))
}

// warn reports one break at a place of the top; through says that the strand runs right
// through a section. What is broken comes after the element's name.
func (l *loom) warn(strand int, s float64, at geom.Point, through int, found *diag.Findings, format string, args ...any) {
	m := l.t.Top
	source := m.Sources[m.Strands[strand].Source(wrapped(m.Strands[strand], s))]
	at = l.t.inMotif(at)
	f := found.Warnf(source.Key, "weave-break", format, append([]any{source.Name}, args...)...).SetAt(at.X, at.Y)
	if through >= 0 {
		f.Hintf("let it cross an even number of strands in each leaf, or make one section of leaves that always go in together; or accept it")
		return
	}
	f.Hintf("a strand ends inside a loop: lead its end out of the loop, or accept it")
}

func overWord(over bool) string {
	if over {
		return "over"
	}
	return "under"
}

// A crossed place is a visit's, on the top and in its section.
type crossed struct{ at, own geom.Point }

func (l *loom) mark(v visit, left float64) crossed {
	at := l.t.Weave.Crossings[v.Crossing].At
	return crossed{at, at.Sub(geom.Pt(left, 0))}
}

// endOf is where one end of a stretch is, along its strand and on the top.
func (t *Table) endOf(st Stretch, end int) (s float64, at geom.Point) {
	s = st.From
	if end == 1 {
		s = st.To
	}
	at, _ = t.Top.Strands[st.Strand].Contour.At(wrapped(t.Top.Strands[st.Strand], s))
	return s, at
}

// literalsOf are the bits of a motif's crossing, each as whether what runs along a direction
// is over: of all sections that have it, each bit once.
func (l *loom) literalsOf(c weave.Crossing, along geom.Point, over [][2]literal) (list []literal) {
	seen := map[int]bool{}
	l.t.instances(c.At, func(top int) {
		v := l.t.Weave.Crossings[top].Visits
		x := over[top][0]
		if alike(along, l.t.along(v[1])) > alike(along, l.t.along(v[0])) {
			x = x.opposite()
		}
		if !seen[x.bit] {
			seen[x.bit] = true
			list = append(list, x)
		}
	})
	return list
}

// draw puts on top what drawings show on top; see weave.Build, which does it for a motif.
func (l *loom) draw(pieces []int, found *diag.Findings) {
	var want []literal // that hold
	var by diag.Key
	over := l.overs()
	for _, o := range l.t.Weaving.Drawn {
		if _, c, d := l.t.nearest(o.At); d <= weave.FlipReach {
			want = append(want, l.literalsOf(c, o.Along, over)...)
			by = o.Key
		}
	}
	votes := make([]int, l.count)
	for _, x := range want {
		if l.holds(x) {
			votes[pieces[x.bit]]++
		} else {
			votes[pieces[x.bit]]--
		}
	}
	for p, n := range votes {
		if n < 0 {
			l.exchange(pieces, p)
		}
	}
	differ := 0
	for _, x := range want {
		if !l.holds(x) {
			l.bits[x.bit] = !l.bits[x.bit]
			differ++
		}
	}
	weave.ReportDrawn(by, differ, found)
}

// flip exchanges over and under where the job asks for it, in all sections that have the
// crossing.
func (l *loom) flip(found *diag.Findings) {
	if len(l.t.Weaving.Flips) == 0 {
		return
	}
	over := l.overs()
	named := map[int]weave.Crossing{}
	nearest := func(p geom.Point) (int, weave.Crossing, float64) {
		i, c, d := l.t.nearest(p)
		named[i] = c
		return i, c, d
	}
	for _, i := range weave.Flipped(l.t.Top, l.t.Weaving.Flips, nearest, found) {
		for _, x := range l.literalsOf(named[i], l.t.along(named[i].Visits[0]), over) {
			l.bits[x.bit] = !l.bits[x.bit]
		}
	}
}

// nearest is the crossing of the top that is nearest to a place of the motif at some
// station, of alike ones the first, with its place in the motif's coordinates there.
func (t *Table) nearest(p geom.Point) (top int, c weave.Crossing, dist float64) {
	top, dist = -1, math.Inf(1)
	for _, s := range t.Stations {
		for i, own := range t.Weave.Crossings {
			if d := own.At.Dist(p.Add(s.At)); d < dist-likeness {
				top, c, dist = i, own, d
				c.At = own.At.Sub(s.At)
			}
		}
	}
	return top, c, dist
}

// A jointCrossing is a crossing that may lie across a joint, as it lies there.
type jointCrossing struct {
	at    geom.Point // from the front of the joint
	over  literal    // of what runs along
	along geom.Point
	edge  edge
}

// across makes one bit of a crossing that lies across joints, for all edges that can meet:
// one strip's end would lie on the other's otherwise.
func (l *loom) across() {
	hard := len(l.list) + 1
	group := l.t.meeting()
	var all []jointCrossing
	for k := range l.t.Kinds {
		for n, c := range l.t.CrossingsOf(k) {
			if c.Joint < 0 {
				continue
			}
			for _, x := range l.t.lying(k, c, literal{bit: l.first[k] + n}) {
				for _, o := range all {
					if group[o.edge] != group[x.edge] || !o.at.Near(x.at, 2*likeness) {
						continue
					}
					crosswise := alike(o.along, x.along) < math.Cos(l.t.Weave.Crossings[c.Top].Angle/2)
					l.list = append(l.list, parity.Constraint{A: o.over.bit, B: x.over.bit, Differ: crosswise, Once: hard})
					break
				}
				all = append(all, x)
			}
		}
	}
}

// lying are the ways in which a crossing across a joint may lie there: as it is, and with
// its leaf turned.
func (t *Table) lying(kind int, c Crossing, over literal) (all []jointCrossing) {
	top := t.Weave.Crossings[c.Top]
	x := t.Joints[c.Joint]
	side := t.sideOf(t.Kinds[kind].First, c.Joint)
	at := geom.Pt(top.At.X-x, top.At.Y)
	own := jointCrossing{at, over, t.along(top.Visits[0]), edge{kind, side, false}}
	all = append(all, own)
	if len(t.ways(t.Kinds[kind].First)) > 1 {
		own.at = geom.Pt(-at.X, t.Table.Width-at.Y)
		own.edge = edge{kind, side.Other(), true}
		all = append(all, own)
	}
	return all
}

// meeting numbers the edges such that those have one number that can meet the same.
func (t *Table) meeting() map[edge]edge {
	group := map[edge]edge{}
	root := func(e edge) edge {
		for {
			up, ok := group[e]
			if !ok || up == e {
				return e
			}
			e = up
		}
	}
	var order []edge
	for _, p := range t.pairs() {
		group[root(p[1])] = root(p[0])
		order = append(order, p[0], p[1])
	}
	for _, e := range order {
		group[e] = root(e)
	}
	return group
}

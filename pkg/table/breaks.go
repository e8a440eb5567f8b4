package table

import (
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
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
		switch about.place {
		case inSection:
			l.reportWithin(about, found)
		case onTheJoint:
			l.reportOn(about.passings[0], found)
		case overJoint:
			l.reportJoint(about, found)
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
		l.warn(st.Strand, s, at, true, found, "%s cannot alternate: its strand passes %s before it comes into the section %s and again after it", overWord(l.holds(x)), kind.Name)
		return
	}
	list := l.threads[about.kind][about.stretch]
	a, b := list[about.a], list[about.b]
	first := l.mark(a, l.t.Sections[kind.First].X)
	if about.a == about.b {
		l.warn(st.Strand, a.S, first.at, st.At[0] >= 0 && st.At[1] >= 0, found, "%s cannot alternate: in the section %s its strand passes %s at %s, round and round", kind.Name, overWord(l.holds(a.over)), motif.Place(first.own))
		return
	}
	second := l.mark(b, l.t.Sections[kind.First].X)
	l.warn(st.Strand, a.S, first.at, st.At[0] >= 0 && st.At[1] >= 0, found, "%s cannot alternate: in the section %s its strand passes %s at %s and again at %s",
		kind.Name, overWord(l.holds(a.over)), motif.Place(first.own), motif.Place(second.own))
}

// reportOn warns of a break between a section and the crossing on its joint.
func (l *loom) reportOn(passing int, found *diag.Findings) {
	p := l.t.Passings[passing]
	strand, s, at := l.t.passes(p)
	l.warn(strand, s, at, true, found, "%s cannot alternate at %s: its strand passes %s on the joint, %s from the front, and again in %s",
		l.t.edgeName(edge{p.Kind, p.Side, false}), overWord(l.holds(l.on[passing].over)), unit.Len(p.Y), l.t.Kinds[p.Kind].Name)
}

// reportJoint warns of a break between two edges that meet.
func (l *loom) reportJoint(about alternation, found *diag.Findings) {
	p := l.t.Passings[about.passings[0]]
	strand, s, at := l.t.passes(p)
	y := p.Y
	if about.edges[0].turned {
		y = l.t.Table.Width - y
	}
	l.warn(strand, s, at, true, found, "%s cannot alternate where %s meets %s: its strand, %s from the front there, passes %s on both sides of the joint",
		l.t.edgeName(about.edges[0]), strings.TrimSuffix(l.t.edgeName(about.edges[1]), ","), unit.Len(y), overWord(!l.holds(l.phases[about.passings[0]])))
}

// passes is where a passing is: along which of the top's strands, and where on the top.
func (t *Table) passes(p Passing) (strand int, s float64, at geom.Point) {
	st := t.StretchesOf(p.Kind)[p.Stretch]
	end := 0
	if p.AtEnd {
		end = 1
	}
	s, at = t.endOf(st, end)
	return st.Strand, s, at
}

// warn reports one break at a place of the top; through says that its strand runs
// over joints: that is refused unless the job accepts it. What is broken comes after the
// element's name.
func (l *loom) warn(strand int, s float64, at geom.Point, through bool, found *diag.Findings, format string, args ...any) {
	m := l.t.Top
	source := m.Sources[m.Strands[strand].Source(wrapped(m.Strands[strand], s))]
	at = l.t.inMotif(at)
	report, accept := found.Warnf, ""
	if through && !l.t.Weaving.Breaks {
		report, accept = found.Errorf, "; or accept it: breaks = true under [weave]"
	}
	f := report(source.Key, "weave-break", format, append([]any{source.Name}, args...)...).SetAt(at.X, at.Y)
	if through {
		if l.t.Table.TurnLeaves {
			accept = "; or leave turn_leaves out" + accept
		}
		f.Hintf("let it cross an even number of strands in each leaf, or make leaves that always go in together one section%s", accept)
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

package table

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/parity"
	"strapwork/pkg/weave"
)

// isOnJoint reports whether a crossing lies on its joint itself.
func (t *Table) isOnJoint(c Crossing) bool {
	return c.Joint >= 0 && math.Abs(t.Weave.Crossings[c.Top].At.X-t.Joints[c.Joint]) < motif.Same
}

// crossingOn is where a passing's strand passes the crossing on its joint, if there is one.
func (t *Table) crossingOn(p Passing) (weave.Visit, bool) {
	strand, s, at := t.passes(p)
	own := t.Top.Strands[strand]
	for _, section := range t.Sections {
		for _, c := range section.Crossings {
			if !t.isOnJoint(c) || !t.Weave.Crossings[c.Top].At.Near(at, likeness) {
				continue
			}
			for _, v := range t.Weave.Crossings[c.Top].Visits {
				off := math.Abs(v.S - wrapped(own, s))
				if own.Contour.Closed {
					off = min(off, own.Length()-off)
				}
				if v.Strand == strand && off < likeness {
					return v, true
				}
			}
		}
	}
	return weave.Visit{}, false
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

package motif

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/work"
)

// NearSmooth is the angle, 3 degrees in radians, up to which an arc that meets
// another element with a kink was probably meant to meet it smoothly.
const NearSmooth = 3 * math.Pi / 180

// An arm is a run as it leaves one of its ends, in the copy that the member by
// of the group makes.
type arm struct {
	shape, run int
	atEnd      bool
	by         int
}

// A bend is a place where two runs meet, in one copy of it.
type bend struct {
	arms  [2]arm
	drawn float64 // the kink in [0, pi], as drawn
	arced bool    // one of the two is an arc
	asked bool    // the job has it smooth, though it is drawn otherwise
}

// bends lists the places where runs meet, each once for all its copies.
func (d *drawing) bends() []bend {
	var all []bend
	for i := range d.shapes {
		s := &d.shapes[i]
		for k := range s.runs {
			switch prev := k - 1; {
			case s.ring, k == 0 && !s.contour.Closed:
			case k == 0:
				prev = len(s.runs) - 1
				fallthrough
			default:
				all = append(all, d.bend(arm{i, prev, true, 0}, arm{i, k, false, 0}, s.from.Smooth != work.SmoothAsDrawn))
			}
		}
	}
	done := map[meeting]bool{}
	for e, mate := range d.mates {
		if mate < e {
			continue // free, or seen from the other side
		}
		m := d.meeting(e, mate)
		if done[m] || done[m.reverse(d.group)] {
			continue
		}
		done[m] = true
		asked := d.wantsSmooth(m.shape, m.side) || d.wantsSmooth(m.other, m.end)
		all = append(all, d.bend(d.endArm(m.shape, m.side, 0), d.endArm(m.other, m.end, m.by), asked))
	}
	return all
}

func (d *drawing) bend(a, b arm, asked bool) bend {
	e, f := d.armEdge(a), d.armEdge(b)
	n := bend{arms: [2]arm{a, b}, drawn: turn(e.Reverse(), f), arced: !e.IsLine() || !f.IsLine()}
	n.asked = asked && n.arced && n.drawn > Smooth && n.drawn <= NearSmooth
	return n
}

func (d *drawing) endArm(shape, side, by int) arm {
	run := 0
	if side == 1 {
		run = len(d.shapes[shape].runs) - 1
	}
	return arm{shape, run, side == 1, by}
}

// wantsSmooth reports whether the job has an end smooth.
func (d *drawing) wantsSmooth(shape, side int) bool {
	switch d.shapes[shape].from.Smooth {
	case work.SmoothAsDrawn:
		return false
	case work.SmoothStart:
		return side == 0
	case work.SmoothEnd:
		return side == 1
	case work.SmoothBoth:
		return true
	}
	return false
}

// armEdge is the first edge of an arm, run away from its end, as drawn.
func (d *drawing) armEdge(a arm) geom.Edge {
	s := &d.shapes[a.shape]
	first := s.runs[a.run].edge
	e := s.contour.Edge(first)
	if a.atEnd {
		e = s.contour.Edge(first + len(s.runs[a.run].cuts)).Reverse()
	}
	return d.group.moves[a.by].Edge(e)
}

// vertex is where an arm starts, as drawn.
func (d *drawing) vertex(a arm) geom.Point { return d.armEdge(a).A }

// drawingKey begins the keys of tables that read a drawing: what they make has no keys of
// its own.
const drawingKey = "motif.drawing"

// reportNearSmooth warns of corners that an arc makes, so flat that they were
// probably meant to be none.
func (d *drawing) reportNearSmooth(all []bend) {
	for _, b := range all {
		if !b.arced || b.asked || b.drawn <= Smooth || b.drawn > NearSmooth {
			continue
		}
		p := d.vertex(b.arms[0])
		s, t := &d.shapes[b.arms[0].shape], &d.shapes[b.arms[1].shape]
		who, key := s.from.Name+" and "+t.from.Name+" meet", `smooth = "start"`
		if b.arms[0].atEnd {
			key = `smooth = "end"`
		}
		if s == t {
			who = "two parts of " + s.from.Name + " meet"
			key = `smooth = "both"`
		}
		hint := fmt.Sprintf("write %s in %s, or draw the arc tangent", key, s.from.Name)
		if strings.HasPrefix(string(s.from.Key), drawingKey) {
			hint = `write kinks = "smooth"`
		}
		d.found.Warnf(s.from.Key, "nearly-smooth", "%s at %s with a corner of %.2f degrees: it is cut as one", who, Place(p), b.drawn*degrees).
			SetAt(p.X, p.Y).
			Hintf("if they are meant to go on smoothly, %s", hint)
	}
}

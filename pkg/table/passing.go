package table

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/motif"
	"strapwork/pkg/work"
)

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

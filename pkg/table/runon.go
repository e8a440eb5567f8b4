package table

import (
	"math"

	"strapwork/pkg/work"
)

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

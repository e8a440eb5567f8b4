package toolpath

// Where lanes end.
//
// At a free end every lane stops where the bit is b/2 from the line of the
// groove's flat: on an arc of radius rho the angle asin(b/2 / rho) before it,
// which differs from lane to lane. So all stops lie on one line parallel to the
// flat, and going across from lane to lane follows the flat. At a tee lanes end
// beside the strand's end, which lies on the host's centre line: at most k from
// that, where the bit is within the host's groove.
//
// That is all as long as the strand's last edge reaches far enough. Where a
// corner or another bend comes nearer to the end, the lanes are held to the
// places from which the bit stays within the groove.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// ways are the lanes of a layer of an open course as they are run: trimmed at
// both ends, every other one backwards. Where there is no room to leave wood at
// the flat ends none is left there.
func (c course) ways(l layer) ([]geom.Contour, error) {
	list, err := c.trimmed(l)
	if err != nil && l.rough > 0 {
		l.rough = 0
		list, err = c.trimmed(l)
	}
	if err != nil && c.single {
		if way, ok := c.room(); ok {
			return []geom.Contour{way}, nil
		}
	}
	return list, err
}

// room is the longest stretch of the centre line on which the bit stays in the
// groove, if there is any.
func (c course) room() (longest geom.Contour, ok bool) {
	if c.g == nil {
		return longest, false
	}
	inside, stops := c.safeAreaIn(c.line.Bounds()).spans(c.line)
	for i, in := range inside {
		to := c.line.Length()
		if i+1 < len(stops) {
			to = stops[i+1]
		}
		if in && to-stops[i] > max(longest.Length(), 2*onBorder) {
			longest = c.line.Sub(stops[i], to)
		}
	}
	return longest, longest.Len() > 0
}

func (c course) trimmed(l layer) ([]geom.Contour, error) {
	list := make([]geom.Contour, len(l.offsets))
	for i, d := range l.offsets {
		list[i] = parallel(c.line, d)
	}
	if err := c.trim(list, l); err != nil {
		return nil, err
	}
	reverseAll(list)
	if err := c.reverse().trim(list, l.mirrored()); err != nil {
		return nil, err
	}
	for i := range list {
		if i%2 == 0 {
			list[i] = list[i].Reverse()
		}
	}
	return list, nil
}

// mirrored is the layer seen from the other end.
func (l layer) mirrored() layer {
	l.offsets = slices.Clone(l.offsets)
	for i, d := range l.offsets {
		l.offsets[i] = -d
	}
	return l
}

func reverseAll(list []geom.Contour) {
	for i, c := range list {
		list[i] = c.Reverse()
	}
}

// trim cuts the lanes off at the course's start, in place.
func (c course) trim(lanes []geom.Contour, l layer) error {
	inset := c.bit / 2
	if c.tee[0] {
		inset, l.rough = 0, 0
	}
	if c.trimPlain(lanes, l.offsets, inset+l.rough) || c.trimPlain(lanes, l.offsets, inset) {
		return nil
	}
	safe := c.safeArea()
	for i, lane := range lanes {
		if safe == nil || lane.Len() == 0 {
			return c.tooShort()
		}
		s, ok := safe.enter(lane, c.nearEnd())
		if !ok || lane.Length()-s <= geom.Coincident {
			return c.tooShort()
		}
		lanes[i] = lane.Sub(s, lane.Length())
	}
	return nil
}

// tooShort is the error of a strand whose end leaves no room for the bit.
func (c course) tooShort() error {
	return &StrandError{c.strand, c.name, c.line.Start(), "the bit has no room at its end; make the strand longer, or take a narrower bit"}
}

// trimPlain cuts off the lanes at the course's start where they reach inset from
// the flat, if that is on the first edge of each; else it changes nothing.
func (c course) trimPlain(lanes []geom.Contour, offsets []float64, inset float64) bool {
	if c.cramped[0] || c.line.Len() == 0 {
		return false
	}
	first := c.line.Edge(0)
	cut := make([]float64, len(lanes))
	for i, lane := range lanes {
		if lane.Len() == 0 {
			return false
		}
		e := lane.Edge(0)
		t, ok := reach(e, inset)
		if !ok || !e.A.Near(first.Shift(offsets[i]).A, geom.Coincident) {
			return false
		}
		cut[i] = t * e.Length()
	}
	for i, lane := range lanes {
		if cut[i] > 0 {
			lanes[i] = lane.Sub(cut[i], lane.Length())
		}
	}
	return true
}

// reach is the fraction of e's length after which it is d from the line through
// its start that is square to it, if it comes that far.
func reach(e geom.Edge, d float64) (float64, bool) {
	if d == 0 {
		return 0, true
	}
	t := d / e.Length()
	if e.Bulge != 0 {
		if d >= e.Radius() {
			return 0, false
		}
		t = math.Asin(d/e.Radius()) / math.Abs(e.Sweep())
	}
	return t, t < 1
}

// findPlain finds out at which ends all lanes can be trimmed by the flat alone:
// then a straight way leads across.
func (c course) findPlain() (plain [2]bool) {
	for end, d := range [2]course{c, c.reverse()} {
		inset := d.bit / 2
		if d.tee[0] {
			inset = 0
		}
		lanes := []geom.Contour{parallel(d.line, d.play), parallel(d.line, -d.play)}
		plain[end] = d.trimPlain(lanes, []float64{d.play, -d.play}, inset)
	}
	return plain
}

// route is the way from p to q at the course's start (end 0) or end (1), both
// places of lanes: straight, or where the end is cramped along the border of
// where the bit may go.
func (c course) route(end int, p, q geom.Point) []geom.Edge {
	if c.g == nil || c.plain[end] || p.Near(q, geom.Coincident) {
		return straight(p, q)
	}
	if end == 1 {
		c = c.reverse()
	}
	return c.safeArea().route(p, q)
}

// nearEnd is how far in mm from its end a lane may have to be held back: as far
// as the groove's outer sides may meet from a corner, four widths.
func (c course) nearEnd() float64 { return 4 * (2*c.play + c.bit) }

package trace

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// A chain is strokes joined end to end: files cut a line where it suits them.
type chain struct {
	segs   []drawing.Segment
	of     []int // of each segment: the stroke that it is from
	closed bool
}

// An end is that of a stroke: 2i its start, 2i+1 its last point.
type end int

func (e end) stroke() int { return int(e) / 2 }
func (e end) other() end  { return e ^ 1 }

// at is where an end lies, and the direction in which the stroke leaves it, outwards.
func (t *tracer) at(e end) (geom.Point, geom.Point) {
	s := t.strokes[e.stroke()]
	if e%2 == 0 {
		first := s.Segments[0]
		return s.points[0], heading(first, 0).Scale(-1)
	}
	last := s.Segments[len(s.Segments)-1]
	return s.points[len(s.points)-1], heading(last, 1)
}

// heading is the unit direction of a segment at one of its ends. A Bezier whose control
// points fall together has no speed there: the direction is that of a little farther on.
func heading(s drawing.Segment, u float64) geom.Point {
	const little = 1e-3
	v := s.Speed(u)
	far := s.At(1).Sub(s.At(0)).Norm()
	if v.Norm() > 1e-6*far && v.Norm() > 0 {
		return v.Unit()
	}
	if u < 0.5 {
		return s.At(little).Sub(s.At(0)).Unit()
	}
	return s.At(1).Sub(s.At(1 - little)).Unit()
}

// turnOf is the angle from one direction to another, -pi to pi.
func turnOf(u, v geom.Point) float64 { return math.Atan2(u.Cross(v), u.Dot(v)) }

// chains joins strokes whose ends meet: two at a place, or those of more that go on
// smoothly, one pair after another.
func (t *tracer) chains() []chain {
	mates := t.mates()
	used := make([]bool, len(t.strokes))
	var all []chain
	follow := func(from end) chain {
		var c chain
		for e := from; ; {
			i := e.stroke()
			used[i] = true
			segs := t.strokes[i].Segments
			if e%2 == 1 {
				segs = reversed(segs)
			}
			c.segs = append(c.segs, segs...)
			c.of = append(c.of, slices.Repeat([]int{i}, len(segs))...)
			next, ok := mates[e.other()]
			if !ok {
				return c
			}
			if used[next.stroke()] {
				c.closed = next == from
				return c
			}
			e = next
		}
	}
	// Open chains begin at a free end; then what is left is closed.
	for i := range t.strokes {
		for _, e := range [2]end{end(2 * i), end(2*i + 1)} {
			if _, joined := mates[e]; !joined && !used[i] {
				all = append(all, follow(e))
			}
		}
	}
	for i := range t.strokes {
		if !used[i] {
			all = append(all, follow(end(2*i)))
		}
	}
	slices.SortStableFunc(all, func(a, b chain) int { return cmp.Compare(slices.Min(a.of), slices.Min(b.of)) })
	return all
}

func reversed(segs []drawing.Segment) []drawing.Segment {
	var back []drawing.Segment
	for i := range segs {
		back = append(back, segs[len(segs)-1-i].Reversed())
	}
	return back
}

// goesOn is the angle within which two ends that meet among others are one line: drawings
// with two decimals are out by so much at short pieces.
const goesOn = 3 * math.Pi / 180

// mates are the ends that are joined to each other.
func (t *tracer) mates() map[end]end {
	var ends []end
	var boxes []geom.Box
	mates := map[end]end{}
	for i, s := range t.strokes {
		first, last := s.points[0], s.points[len(s.points)-1]
		if s.Closed || first.Near(last, t.p.Tolerance) && s.length > 4*t.p.Tolerance {
			mates[end(2*i)], mates[end(2*i+1)] = end(2*i+1), end(2*i)
			continue
		}
		for _, e := range [2]end{end(2 * i), end(2*i + 1)} {
			p, _ := t.at(e)
			ends, boxes = append(ends, e), append(boxes, geom.Box{Min: p, Max: p})
		}
	}
	type pair struct {
		a, b end
		turn float64
	}
	var pairs []pair
	crowd := map[end]int{} // how many ends meet an end
	geom.NewIndex(boxes).Pairs(t.p.Tolerance, func(i, j int) bool {
		p, u := t.at(ends[i])
		q, v := t.at(ends[j])
		if p.Dist(q) <= t.p.Tolerance {
			pairs = append(pairs, pair{ends[i], ends[j], math.Abs(turnOf(u, v.Scale(-1)))})
			crowd[ends[i]]++
			crowd[ends[j]]++
		}
		return true
	})
	slices.SortFunc(pairs, func(p, q pair) int {
		return cmp.Or(cmp.Compare(p.turn, q.turn), cmp.Compare(p.a, q.a), cmp.Compare(p.b, q.b))
	})
	for _, p := range pairs {
		_, a := mates[p.a]
		_, b := mates[p.b]
		alone := crowd[p.a] == 1 && crowd[p.b] == 1
		if !a && !b && (alone || p.turn <= goesOn) {
			mates[p.a], mates[p.b] = p.b, p.a
		}
	}
	return mates
}

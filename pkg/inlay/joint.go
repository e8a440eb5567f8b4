package inlay

// Pieces that end at a joint between two sections of a table. The strips are laid on whole
// strands, which run on past the joints; each piece is then cut along the joint's line, and
// what of it lies beyond belongs to the neighbour.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// A Span is the part of the plane in which a strand's strips are laid: between the joints
// x = From and x = To, both parallel to y. An infinite one is no joint.
type Span struct{ From, To float64 }

// everywhere is the span of a strand that meets no joint.
var everywhere = Span{math.Inf(-1), math.Inf(1)}

// span is the one of a strand.
func (p Params) span(strand int) Span {
	if strand < len(p.Spans) {
		return p.Spans[strand]
	}
	return everywhere
}

// beyond is how far p lies outside of the span; negative inside.
func (s Span) beyond(p geom.Point) float64 { return math.Max(s.From-p.X, p.X-s.To) }

// holds reports whether a box lies within the span, and touches no joint.
func (s Span) holds(b geom.Box) bool {
	return s.beyond(b.Min) < -onLine && s.beyond(b.Max) < -onLine
}

// on reports whether an edge lies in one of the joints.
func (s Span) on(e geom.Edge) bool {
	for _, x := range [2]float64{s.From, s.To} {
		if math.Abs(e.A.X-x) < onLine && math.Abs(e.Mid().X-x) < onLine && math.Abs(e.B.X-x) < onLine {
			return true
		}
	}
	return false
}

// cut is what of an area lies within the span.
func (s Span) cut(area region.Region) region.Region {
	const past = 1 // mm, for the sides that are no joints to be clear of the area
	box := area.Bounds()
	if s.holds(box) {
		return area
	}
	box = box.Expand(past)
	box.Min.X, box.Max.X = math.Max(box.Min.X, s.From), math.Min(box.Max.X, s.To)
	if box.Empty() {
		return region.Region{}
	}
	return region.Intersect(area, region.New(geom.Rect(box)))
}

// trimmed returns what of the pieces of a layer lies within the strand's span.
func (b *builder) trimmed(t *track, layer int, s Span, pieces []Piece) (kept []Piece) {
	if s == everywhere {
		return pieces
	}
	thick := b.lines.at[2*layer] - b.lines.at[2*layer+2]
	for _, p := range pieces {
		if s.holds(p.Area.Bounds()) {
			kept = append(kept, p)
			continue
		}
		st := t.stretches[p.Stretch]
		covers := t.covers(&st)
		ring := st.arm.ring && st.cuts[0] == nil
		if ring {
			p.From, p.To = st.openAt(s)
		}
		for _, area := range s.cut(p.Area).Pieces() {
			if area.Area() < leastPiece*thick {
				continue
			}
			m := b.shape(&st, layer, area, p.From, p.To)
			m.span = s
			q := m.piece(covers)
			q.Stretch = p.Stretch
			if len(area.Loops()) > 1 && !ring {
				q.Left, q.Right = b.sidesLeft(&st, layer, p, s)
			}
			for i, e := range q.Ends {
				if !e.Joint {
					q.Ends[i] = p.Ends[i]
				}
			}
			kept = append(kept, q)
		}
	}
	return kept
}

// sidesLeft are the lengths of the sides of a piece within a span, by what lies beyond it: a piece
// that touches itself has an outline that doesn't show all of its sides.
func (b *builder) sidesLeft(st *stretch, layer int, p Piece, s Span) (left, right float64) {
	left, right = p.Left, p.Right
	for _, side := range [2]Span{{math.Inf(-1), s.From}, {s.To, math.Inf(1)}} {
		for _, area := range side.cut(p.Area).Pieces() {
			m := b.shape(st, layer, area, p.From, p.To)
			left, right = left-m.sides[0].length, right-m.sides[1].length
		}
	}
	return left, right
}

// openAt lets a ring without cuts begin where it is the furthest beyond a joint, and returns
// where it begins and ends.
func (st *stretch) openAt(s Span) (from, to float64) {
	a, most := st.arm, math.Inf(-1)
	for k, e := range a.edges[:len(a.edges)/2] {
		for _, p := range furthest(e, geom.Pt(1, 0)) {
			if far := s.beyond(p); far > most {
				most, st.from = far, a.at[k]+e.Param(p)*a.length(k)
			}
		}
	}
	st.to = st.from + a.lap()
	st.parted = [2]bool{true, true}
	return st.from, st.to
}

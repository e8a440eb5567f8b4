package arcfit

import (
	"math"

	"strapwork/pkg/geom"
)

// parts is into how many stretches the chain is cut between the feet of two points, and the
// known curve between them, when it is looked how far they are apart there. The greatest
// distance of an arc from a chord is then missed by at most (1/parts)^2 of it.
const parts = 8

// Measure is how far a section and a chain lie apart, both ways: every point from the
// chain, and the chain from the points' chords, each compared where it is as far along.
// A chain that leaves the section, or runs past it, is found so, though its lines and
// circles pass through all points. Least and Met are not judged.
func Measure(s Section, c Chain) Result {
	m := measurer{
		chain: c, frames: c.frames(),
		result: Result{Pieces: make([]float64, len(c.Pieces))},
	}
	m.starts = make([]float64, len(c.Pieces)+1)
	for i, p := range c.Pieces {
		m.starts[i+1] = m.starts[i] + p.Length
	}
	points := s.Points
	if len(points) == 0 || len(c.Pieces) == 0 {
		return m.result
	}
	m.foot = foot{}
	if c.Closed {
		m.foot = m.nearest(points[0])
	}
	m.step(points[0])
	first, from := points[0], m.at
	if !c.Closed {
		m.between(0, m.at, first, first)
	}
	for i := 1; i < len(points); i++ {
		m.along(s, i-1, points[i-1], points[i])
	}
	last := points[len(points)-1]
	if s.Closed {
		m.along(s, len(points)-1, last, first)
		last = first
	}
	whole := m.starts[len(c.Pieces)]
	if c.Closed {
		whole += from
	}
	m.between(m.at, whole, last, last)
	return m.result
}

type measurer struct {
	chain  Chain
	frames []frame
	starts []float64 // length from the chain's start to each piece
	foot   foot      // of the point looked at last
	at     float64   // its length from the chain's start; round a closed chain it goes on growing
	result Result
}

// along goes from one point to the next, by way of the curve between them if it is known.
func (m *measurer) along(s Section, i int, a, b geom.Point) {
	if s.Between != nil {
		for j := 1; j < parts; j++ {
			p := s.Between(i, float64(j)/parts)
			m.chord(a, p)
			a = p
		}
	}
	m.chord(a, b)
}

func (m *measurer) chord(a, b geom.Point) {
	from := m.at
	m.step(b)
	m.between(from, m.at, a, b)
}

// step moves the foot to that of p.
func (m *measurer) step(p geom.Point) {
	before := m.starts[m.foot.piece] + m.foot.along
	m.foot = m.chain.walk(m.frames, p, m.foot.piece, m.foot.along)
	m.foot.along = max(0, min(m.foot.along, m.chain.Pieces[m.foot.piece].Length))
	now := m.starts[m.foot.piece] + m.foot.along
	step := now - before
	if whole := m.starts[len(m.chain.Pieces)]; m.chain.Closed {
		step -= float64(whole * math.Round(step/whole))
	}
	m.at += step
	m.hold(m.foot.piece, m.chain.point(m.frames, m.foot.piece, m.foot.along).Dist(p), p)
}

// between compares the chain from one length to another with a chord. Where the feet step
// back, the chain was there before.
func (m *measurer) between(from, to float64, a, b geom.Point) {
	length := to - from
	if length <= 0 {
		return
	}
	// A chain that is much longer than the chord is looked at that much more closely.
	const most = 64
	n := parts * int(max(1, min(most, length/max(a.Dist(b), length/most))))
	chord := geom.Line(a, b)
	whole := m.starts[len(m.chain.Pieces)]
	i := 0
	for j := range n + 1 {
		at := from + length*float64(j)/float64(n)
		if m.chain.Closed {
			at -= float64(whole * math.Floor(at/whole))
		}
		for i > 0 && m.starts[i] > at {
			i--
		}
		for i+1 < len(m.chain.Pieces) && m.starts[i+1] < at {
			i++
		}
		p := m.chain.point(m.frames, i, at-m.starts[i])
		m.hold(i, chord.Dist(p), p)
	}
}

func (m *measurer) hold(piece int, d float64, at geom.Point) {
	m.result.Pieces[piece] = max(m.result.Pieces[piece], d)
	if d > m.result.Deviation {
		m.result.Deviation, m.result.At = d, at
	}
}

// nearest is the foot of p on whichever piece it is nearest to.
func (m *measurer) nearest(p geom.Point) foot {
	var best foot
	least := math.Inf(1)
	for i, piece := range m.chain.Pieces {
		f := piece.project(m.frames[i], p, piece.Length/2)
		f.along = max(0, min(f.along, piece.Length))
		if d := m.chain.point(m.frames, i, f.along).Dist(p); d < least {
			least, best = d, f
			best.piece = i
		}
	}
	m.at = m.starts[best.piece] + best.along
	return best
}

// point is the place at a length along a piece.
func (c Chain) point(frames []frame, piece int, along float64) geom.Point {
	return Piece{c.Pieces[piece].Curvature, along}.from(frames[piece]).at
}

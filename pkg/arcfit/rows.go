package arcfit

import (
	"math"

	"strapwork/pkg/geom"
)

// How far a point lies from its foot on a chain depends on the piece's own curvature and
// length, and on all pieces before only by how they move and turn the frame in which the piece
// begins: a twist (x, y, turn) of the plane about the origin, the same for all that follows.
// So the sums over points are taken piece by piece, five numbers each, and are put together from
// the chain's end; a point costs the same however many pieces there are.

// A row is the derivative of one distance: by the twist of the piece's frame, by its
// curvature and by its length.
type row [5]float64

const (
	byX = iota
	byY
	byTurn
	byCurvature
	byLength
)

// moved is the row of a place that moves with the twist only, seen in the direction d.
func moved(at, d geom.Point) row {
	return row{d.X, d.Y, cross(at, d)}
}

func dot(p, q geom.Point) float64   { return float64(p.X*q.X) + float64(p.Y*q.Y) }
func cross(p, q geom.Point) float64 { return float64(p.X*q.Y) - float64(p.Y*q.X) }

// A block is the sums over a piece's points: of products of rows, and of rows times distances.
type block struct {
	h [5][5]float64
	g [5]float64
}

// add adds a distance off with its row; pull weighs its gradient and stiff its square.
func (b *block) add(a row, off, pull, stiff float64) {
	for i, v := range a {
		b.g[i] += float64(float64(pull*off) * v)
		w := float64(stiff * v)
		for j := range i + 1 {
			b.h[i][j] += float64(w * a[j])
		}
	}
}

// twists are what a change of a piece's curvature and of its length does to the frame at its end.
func (p Piece) twists(from, to frame) (curvature, length row) {
	// By a longer piece the end moves on and turns.
	length = row{
		to.way.X + float64(p.Curvature*to.at.Y),
		to.way.Y - float64(p.Curvature*to.at.X),
		p.Curvature,
	}
	d := p.bends(to)
	curvature = row{
		d.X + float64(p.Length*to.at.Y),
		d.Y - float64(p.Length*to.at.X),
		p.Length,
	}
	return curvature, length
}

// bends is how the end of a piece, at the frame to, moves when its curvature grows: the integral of
// s (-sin, cos)(heading at s) over its length, seen along and across the end's way.
func (p Piece) bends(to frame) geom.Point {
	turn := p.Sweep()
	square := p.Length * p.Length
	var along, across float64
	if math.Abs(turn) < 0.05 { // series, to better than 1e-16
		t2 := turn * turn
		along = square * turn * (1./6 - float64(t2*(1./120-float64(t2*(1./5040-float64(t2/362880))))))
		across = square * (1./2 - float64(t2*(1./24-float64(t2*(1./720-float64(t2/40320))))))
	} else {
		along = square * (turn - math.Sin(turn)) / (turn * turn)
		half := math.Sin(turn / 2)
		across = square * 2 * half * half / (turn * turn)
	}
	return geom.Point{
		X: float64(along*to.way.X) - float64(across*to.way.Y),
		Y: float64(along*to.way.Y) + float64(across*to.way.X),
	}
}

// A system is the sums put together: the matrix and the gradient of all of a chain's numbers.
type system struct {
	h dense
	g []float64
}

// assemble puts the blocks of a chain's pieces together; the last block is of what moves with the
// chain's end.
func assemble(c Chain, frames []frame, blocks []block) system {
	n := len(c.Pieces)
	sys := system{newDense(firstPiece + 2*n), make([]float64, firstPiece+2*n)}
	// Twists of the start, then of each piece's curvature and length.
	cols := make([]row, firstPiece+2*n)
	cols[startX] = row{1, 0, 0}
	cols[startY] = row{0, 1, 0}
	cols[heading] = row{c.Start.Y, -c.Start.X, 1}
	for i, p := range c.Pieces {
		cols[curvatureOf(i)], cols[lengthOf(i)] = p.twists(frames[i], frames[i+1])
	}
	var after block // the sums over all that follows, of the twist only
	fold := func(b block) {
		for i := range 3 {
			after.g[i] += b.g[i]
			for j := range i + 1 {
				after.h[i][j] += b.h[i][j]
				after.h[j][i] = after.h[i][j]
			}
		}
	}
	fold(blocks[n])
	for i := n - 1; i >= 0; i-- {
		b := blocks[i]
		for own := byLength; own >= byCurvature; own-- {
			at := firstPiece + 2*i + own - byCurvature
			force := after.apply(cols[at])
			for j := at; j >= 0; j-- {
				sys.h.a[at*sys.h.n+j] = force.twist(cols[j])
			}
			sys.g[at] = after.pull(cols[at])
			// The piece's own points see its curvature and length directly, and the twists of what is before it.
			direct := row{b.h[own][byX], b.h[own][byY], b.h[own][byTurn]}
			for j := range firstPiece + 2*i {
				sys.h.a[at*sys.h.n+j] += direct.twist(cols[j])
			}
			sys.g[at] += b.g[own]
			for j := byCurvature; j <= own; j++ {
				sys.h.a[at*sys.h.n+firstPiece+2*i+j-byCurvature] += b.h[own][j]
			}
		}
		fold(b)
	}
	for at := range firstPiece {
		force := after.apply(cols[at])
		for j := range at + 1 {
			sys.h.a[at*sys.h.n+j] = force.twist(cols[j])
		}
		sys.g[at] = after.pull(cols[at])
	}
	return sys
}

// apply is the block's matrix times a twist.
func (b *block) apply(t row) row {
	var out row
	for i := range 3 {
		out[i] = float64(b.h[i][0]*t[0]) + float64(b.h[i][1]*t[1]) + float64(b.h[i][2]*t[2])
	}
	return out
}

func (b *block) pull(t row) float64 {
	return float64(b.g[0]*t[0]) + float64(b.g[1]*t[1]) + float64(b.g[2]*t[2])
}

// twist is the product of two rows' twists.
func (a row) twist(t row) float64 {
	return float64(a[0]*t[0]) + float64(a[1]*t[1]) + float64(a[2]*t[2])
}

// A demand is a number that must be 0, and its derivatives by all of a chain's numbers.
type demand struct {
	off float64
	by  []float64
}

// demands are what ties ask of a chain besides held numbers: that it closes, ends at the
// section's end and in its direction, has common centres.
func (t ties) demands(c Chain, frames []frame, end geom.Point) []demand {
	n := len(c.Pieces)
	var out []demand
	add := func(off float64, r row, from, to int) *demand {
		out = append(out, demand{off, c.spread(frames, r, from, to)})
		return &out[len(out)-1]
	}
	last := frames[n]
	if c.Closed {
		end = c.Start
	}
	if c.Closed || t.exact {
		from := 0
		if c.Closed { // the start moves too
			from = firstPiece
		}
		gap := last.at.Sub(end)
		add(gap.X, moved(last.at, geom.Point{X: 1}), from, n)
		add(gap.Y, moved(last.at, geom.Point{Y: 1}), from, n)
	}
	if c.Closed {
		add(last.heading-c.Heading-t.turns, row{0, 0, 1}, firstPiece, n)
	} else if t.arrive {
		add(last.heading-t.arrival, row{0, 0, 1}, 0, n)
	}
	for _, pair := range t.centers {
		i, j := pair[0], pair[1]
		a, b := c.center(frames, i), c.center(frames, j)
		for _, d := range []geom.Point{{X: 1}, {Y: 1}} {
			one := add(dot(a.Sub(b), d), moved(a, d), 0, i)
			other := c.spread(frames, moved(b, d), 0, j)
			for k, v := range other {
				one.by[k] -= v
			}
			one.by[curvatureOf(i)] -= dot(frames[i].way.Left(), d) / (c.Pieces[i].Curvature * c.Pieces[i].Curvature)
			one.by[curvatureOf(j)] += dot(frames[j].way.Left(), d) / (c.Pieces[j].Curvature * c.Pieces[j].Curvature)
		}
	}
	return out
}

// center is the middle of an arc's circle.
func (c Chain) center(frames []frame, piece int) geom.Point {
	return frames[piece].at.Add(frames[piece].way.Left().Scale(1 / c.Pieces[piece].Curvature))
}

// spread is the derivative, by all of a chain's numbers, of what moves with the frame of a piece; those
// before from are left out.
func (c Chain) spread(frames []frame, r row, from, piece int) []float64 {
	by := make([]float64, firstPiece+2*len(c.Pieces))
	if from < firstPiece {
		by[startX], by[startY] = r[0], r[1]
		by[heading] = r.twist(row{c.Start.Y, -c.Start.X, 1})
	}
	for i := range piece {
		curvature, length := c.Pieces[i].twists(frames[i], frames[i+1])
		by[curvatureOf(i)], by[lengthOf(i)] = r.twist(curvature), r.twist(length)
	}
	return by
}

package arcfit

import (
	"math"
	"slices"
)

// Ties say which of a chain's numbers are held, and which are one and the same.
type ties struct {
	group   []int     // of each piece: those in one group have one radius
	sign    []float64 // of each piece's curvature
	value   []float64 // of each group: the curvature without sign (with it, where it is alone)
	held    []bool    // of each group: its curvature stays what it is
	sweep   []float64 // of each piece: the angle that it keeps, NaN where it is free
	centers [][2]int  // pieces about one centre
	exact   bool      // an open chain begins and ends at the section's ends
	leave   bool      // its first heading stays
	arrive  bool      // its last heading is arriving
	arrival float64   // that heading
	turns   float64   // of a closed chain: the angle by which it turns in all
}

// free are ties with a group for each piece of a chain.
func free(c Chain) ties {
	var t ties
	for i, p := range c.Pieces {
		t.group = append(t.group, i)
		t.sign = append(t.sign, 1)
		t.value = append(t.value, p.Curvature)
		t.held = append(t.held, false)
		t.sweep = append(t.sweep, math.NaN())
	}
	return t
}

// clone is a copy to change.
func (t ties) clone() ties {
	t.group, t.sign = slices.Clone(t.group), slices.Clone(t.sign)
	t.value, t.held = slices.Clone(t.value), slices.Clone(t.held)
	t.sweep, t.centers = slices.Clone(t.sweep), slices.Clone(t.centers)
	return t
}

// The numbers of a chain stand in this order: start, heading, and each piece's curvature and length.
const (
	startX = iota
	startY
	heading
	firstPiece
)

func curvatureOf(piece int) int { return firstPiece + 2*piece }
func lengthOf(piece int) int    { return firstPiece + 2*piece + 1 }

// A reduction maps a chain's numbers to those that are free to move.
type reduction struct {
	col   []int     // which free number moves it; -1 where it is held
	times []float64 // by how much of that number's move
	n     int       // how many are free
}

// reduce finds the free numbers under ties.
func (t ties) reduce(c Chain) reduction {
	full := firstPiece + 2*len(c.Pieces)
	r := reduction{col: make([]int, full), times: make([]float64, full)}
	one := func(i int, free bool) {
		r.col[i], r.times[i] = -1, 1
		if free {
			r.col[i] = r.n
			r.n++
		}
	}
	open := !c.Closed
	one(startX, !(open && t.exact))
	one(startY, !(open && t.exact))
	one(heading, !t.leave)
	groups := make([]int, len(t.value))
	for g := range groups {
		groups[g] = -1
		if !t.held[g] {
			groups[g] = r.n
			r.n++
		}
	}
	for i, p := range c.Pieces {
		r.col[curvatureOf(i)], r.times[curvatureOf(i)] = groups[t.group[i]], t.sign[i]
		if math.IsNaN(t.sweep[i]) {
			one(lengthOf(i), true)
			continue
		}
		r.col[lengthOf(i)] = groups[t.group[i]]
		r.times[lengthOf(i)] = -p.Length / p.Curvature * t.sign[i]
	}
	return r
}

// move is the chain after a move of its free numbers, cut short where a length would all but vanish, and
// the values of the groups. Sweeps change by what the move says to first order: so do the headings at all
// joints then, and what is of second order stays within a piece instead of turning all that follows.
func (t ties) move(c Chain, r reduction, by []float64) (Chain, []float64) {
	const most = 0.7 // of a length may go in one move
	part := 1.0
	delta := func(i int) float64 {
		if r.col[i] < 0 {
			return 0
		}
		return part * float64(r.times[i]*by[r.col[i]])
	}
	for i, p := range c.Pieces {
		if d := delta(lengthOf(i)); -d > most*p.Length {
			part *= most * p.Length / -d
		}
	}
	value := slices.Clone(t.value)
	out := Chain{Start: c.Start, Heading: c.Heading + delta(heading), Closed: c.Closed}
	out.Start.X += delta(startX)
	out.Start.Y += delta(startY)
	out.Pieces = make([]Piece, len(c.Pieces))
	for i := range c.Pieces {
		value[t.group[i]] = t.value[t.group[i]] + float64(delta(curvatureOf(i))*t.sign[i])
	}
	alone := make([]int, len(value))
	for _, g := range t.group {
		alone[g]++
	}
	for i, p := range c.Pieces {
		dk, dl := delta(curvatureOf(i)), delta(lengthOf(i))
		turn := p.Sweep() + float64(p.Length*dk) + float64(p.Curvature*dl)
		q := Piece{t.sign[i] * value[t.group[i]], p.Length + dl}
		switch g := t.group[i]; {
		case !math.IsNaN(t.sweep[i]):
			q.Length = t.sweep[i] / q.Curvature
		case alone[g] == 1 && !t.held[g]:
			q.Curvature = turn / q.Length
			value[g] = t.sign[i] * q.Curvature
		case turn*q.Curvature > 0:
			q.Length = turn / q.Curvature
		}
		out.Pieces[i] = q
	}
	return out, value
}

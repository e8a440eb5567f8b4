package motif

// Runs that meet with a small kink are made tangent by the least change that
// does it: Newton's method on the kinks, each step the least by weighted
// squares. Unknown are the points of the classes of nodes and the sweeps of the
// arcs, for one copy of each; between fixed ends an arc's directions depend on
// its chord and its sweep alone. The steps come from conjugate gradients on the
// normal equations (Hestenes and Stiefel 1952), whose rows have no more than a
// dozen entries: the work grows with the number of kinks, and is bounded.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
)

const (
	// tangentTo is the kink in radians under which two runs are tangent: at the
	// end of 10 m it is a hundredth of a micrometre.
	tangentTo = 1e-9
	// newtonSteps are enough for kinks of a few degrees: each step squares
	// what is left, and the first leaves a few per cent.
	newtonSteps = 8
	// conjugateSteps bounds the work on one step. Chains of arcs and lines of
	// like size need some dozens.
	conjugateSteps = 400
	// attempts bounds how often kinks that cost too much are left out and the
	// rest is tried again.
	attempts = 8
)

// A term is one entry of a row: how a kink changes with an unknown.
type term struct {
	unknown int
	by      float64
}

// unknowns are numbered: two for the point of each class, then the sweeps of
// the runs, one for those that a member of the group makes one.
type unknowns struct {
	sweepOf [][]int     // of each shape, of each run: the unknown; none for a line
	sign    [][]float64 // and with which sign
	weight  []float64   // of each: the square of how far, in mm, a curve moves with it
	runs    map[int][]arm
}

// newUnknowns numbers the unknowns.
func (d *drawing) newUnknowns() unknowns {
	u := unknowns{runs: map[int][]arm{}}
	for range d.places.all {
		u.weight = append(u.weight, 1, 1)
	}
	for i := range d.shapes {
		s := &d.shapes[i]
		of, sign := slices.Repeat([]int{none}, len(s.runs)), slices.Repeat([]float64{1}, len(s.runs))
		for k, r := range s.runs {
			if r.sweep == 0 || s.ring {
				continue
			}
			if j, flip, ok := d.alike(s, k); ok {
				of[k], sign[k] = of[j], flip*sign[j]
				u.runs[of[k]] = append(u.runs[of[k]], arm{shape: i, run: k})
				continue
			}
			of[k] = len(u.weight)
			u.runs[of[k]] = []arm{{shape: i, run: k}}
			from, to := s.ends(k)
			// The arc's middle is off its chord by chord/2 tan(sweep/4).
			rise := d.places.drawn[from].Dist(d.places.drawn[to]) / 8 / math.Pow(math.Cos(r.sweep/4), 2)
			u.weight = append(u.weight, rise*rise)
		}
		u.sweepOf, u.sign = append(u.sweepOf, of), append(u.sign, sign)
	}
	return u
}

// alike is an earlier run that a member of the group moves onto the run k of
// its own shape, and whether it then turns the same way: 1 or -1.
func (d *drawing) alike(s *shape, k int) (run int, flip float64, ok bool) {
	from, to := s.ends(k)
	for j := range k {
		a, b := s.ends(j)
		for _, m := range s.keeps[1:] {
			flip := 1.0
			switch mirrored := d.group.mirrored(m); {
			case d.moves(m, a, from) && d.moves(m, b, to):
				if mirrored {
					flip = -1
				}
			case d.moves(m, a, to) && d.moves(m, b, from):
				if !mirrored {
					flip = -1
				}
			default:
				continue
			}
			if math.Abs(flip*s.runs[j].sweep-s.runs[k].sweep) <= NearSmooth {
				return j, flip, true
			}
		}
	}
	return 0, 0, false
}

// moves reports whether a member of the group moves one node onto another.
func (d *drawing) moves(member, from, to int) bool {
	return d.group.moves[member].Apply(d.node(from)).Near(d.node(to), 10*asDrawn)
}

// A system is the kinks that hang together, with their rows.
type system struct {
	d     *drawing
	u     *unknowns
	bends []bend
}

// residual is the kink of a bend as it is now, with its sign, and its row.
func (s system) residual(b bend) (float64, []term) {
	dir, row := s.direction(b.arms[0], 1, nil)
	other, row := s.direction(b.arms[1], -1, row)
	return math.Remainder(dir-other-math.Pi, 2*math.Pi), row
}

// direction is the angle at which an arm leaves, and adds its share of a row,
// with a sign.
func (s system) direction(a arm, sign float64, row []term) (float64, []term) {
	d, sh := s.d, &s.d.shapes[a.shape]
	from, to := sh.ends(a.run)
	move, turned := d.group.moves[a.by], 1.0
	if d.group.mirrored(a.by) {
		turned = -1
	}
	chord := move.Apply(d.place(to).Sub(d.place(from)))
	// The direction of an angle t changes by normal.v/length as its vector
	// changes by v; back in the frame of the shape, that is the normal moved
	// back.
	normal := d.group.back(a.by, chord.Left().Scale(sign/chord.Dot(chord)))
	row = s.pull(to, normal, row)
	row = s.pull(from, normal.Scale(-1), row)
	half := -turned * sh.sweeps[a.run] / 2
	share := -turned * sign / 2
	angle := chord.Angle()
	if a.atEnd {
		half, share, angle = -half, -share, angle+math.Pi
	}
	if k := s.u.sweepOf[a.shape][a.run]; k != none {
		row = append(row, term{k, share * s.u.sign[a.shape][a.run]})
	}
	return angle + half, row
}

// pull adds to a row what a node's move along by makes of its class's point: as
// much of it as the point may move.
func (s system) pull(node int, by geom.Point, row []term) []term {
	p := &s.d.places
	k := p.class[node]
	if p.all[k].pinned {
		return row
	}
	v := s.d.group.mean(p.all[k].keeps, s.d.group.back(p.lies[node], by))
	return append(row, term{2 * k, v.X}, term{2*k + 1, v.Y})
}

// solve makes the bends tangent; not ok if it can't, and then things are
// anywhere.
func (s system) solve() bool {
	for range newtonSteps {
		worst := 0.0
		off := make([]float64, len(s.bends))
		rows := make([][]term, len(s.bends))
		for i, b := range s.bends {
			off[i], rows[i] = s.residual(b)
			worst = max(worst, math.Abs(off[i]))
		}
		if worst <= tangentTo {
			return true
		}
		if math.IsNaN(worst) || worst > 1 {
			return false
		}
		s.step(s.least(rows, off))
	}
	return false
}

// least is the least change of the unknowns, by weighted squares, that takes
// the kinks away as far as they change in proportion.
func (s system) least(rows [][]term, off []float64) change {
	c := change{number: map[int]int{}}
	var weight []float64
	for i, row := range rows {
		var size float64
		for k, t := range row {
			n, ok := c.number[t.unknown]
			if !ok {
				n = len(weight)
				c.number[t.unknown] = n
				c.unknown = append(c.unknown, t.unknown)
				weight = append(weight, s.u.weight[t.unknown])
			}
			row[k].unknown = n
			size += t.by * t.by / weight[n]
		}
		// A row's length says how stiff its kink is, which is nothing to the
		// others.
		size = math.Sqrt(size)
		for k := range row {
			row[k].by /= size
		}
		off[i] /= -size
	}
	spread := func(x []float64) []float64 { // W^-1 J^T x
		v := make([]float64, len(weight))
		for i, row := range rows {
			for _, t := range row {
				v[t.unknown] += t.by * x[i] / weight[t.unknown]
			}
		}
		return v
	}
	c.by = spread(conjugate(off, func(x []float64) []float64 {
		v, y := spread(x), make([]float64, len(rows))
		for i, row := range rows {
			for _, t := range row {
				y[i] += t.by * v[t.unknown]
			}
		}
		return y
	}))
	return c
}

// A change is what is added to some of the unknowns.
type change struct {
	number  map[int]int // of each of these unknowns
	unknown []int
	by      []float64
}

// conjugate solves apply(x) = b for a symmetric apply that has no negative
// eigenvalue.
func conjugate(b []float64, apply func([]float64) []float64) []float64 {
	x := make([]float64, len(b))
	r, p := slices.Clone(b), slices.Clone(b)
	rr := dot(r, r)
	for k, first := 0, rr; k < conjugateSteps && rr > 1e-26*first && rr > 0; k++ {
		q := apply(p)
		pq := dot(p, q)
		if pq <= 0 {
			break
		}
		a := rr / pq
		for i := range x {
			x[i] += a * p[i]
			r[i] -= a * q[i]
		}
		next := dot(r, r)
		for i := range p {
			p[i] = r[i] + next/rr*p[i]
		}
		rr = next
	}
	return x
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// step makes a change.
func (s system) step(c change) {
	for i, k := range c.unknown {
		if k >= 2*len(s.d.places.all) {
			for _, a := range s.u.runs[k] {
				s.d.shapes[a.shape].sweeps[a.run] += c.by[i] * s.u.sign[a.shape][a.run]
			}
			continue
		}
		at := &s.d.places.all[k/2].at
		if k%2 == 0 {
			at.X += c.by[i]
		} else {
			at.Y += c.by[i]
		}
	}
}

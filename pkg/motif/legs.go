package motif

// Curves drawn as many short lines. A run of legs stands for an arc where one
// circle passes all its vertices within Joint; the longest run from a vertex is
// found by doubling and halving, each trial a least-squares circle (I. Kasa,
// "A circle fitting procedure and its error analysis", IEEE Trans. Instrum.
// Meas. 25, 1976: linear, so that it can't fail to end). Pieces of an ellipse
// pass within Joint of circles too. They are distinguished from arcs by trying a quarter
// of that: a true arc is then as long as before, since its vertices are off by
// rounding alone, while what a circle follows of another curve is shorter by
// the cube root of four.

import (
	"math"

	"strapwork/pkg/geom"
)

const (
	// leastLegs make a run: fewer are corners that somebody meant.
	leastLegs = 8
	// legTurn is the angle in radians, 12 degrees, that legs of a curve turn by
	// at most. A polygon of up to 30 sides turns by more.
	legTurn = 12 * math.Pi / 180
	// legsAlike is how much longer one leg of a curve may be than the next.
	legsAlike = 3
)

// A legRun is a run of legs in a contour.
type legRun struct {
	from, legs int // the first leg, and how many; in a closed contour they may run past its start
	center     geom.Point
	radius     float64 // 0 for a curve that is no arc
	sweep      float64
	off        float64 // how far a vertex is from the arc, at most
	inside     float64 // and how far the legs lie inside it
}

// whole reports whether the run is a full circle.
func (l legRun) whole() bool { return math.Abs(l.sweep) == 2*math.Pi }

// legWalk is a contour's vertices, to be walked along legs.
type legWalk struct {
	c  geom.Contour
	at []geom.Point
	n  int // edges
}

func (w legWalk) vertex(i int) geom.Point { return w.at[i%len(w.at)] }

func (w legWalk) leg(i int) geom.Edge { return w.c.Edge(i % w.n) }

// flat reports whether the legs before and after a vertex make one stretch.
func (w legWalk) flat(i int) bool {
	if !w.c.Closed && (i <= 0 || i >= w.n) {
		return false
	}
	e, f := w.leg(i+w.n-1), w.leg(i)
	return e.IsLine() && f.IsLine() && turn(e, f) < legTurn
}

// legRuns lists the runs of legs that stand for arcs, and those that stand for
// other curves.
func legRuns(c geom.Contour) (arcs, curves []legRun) {
	w := legWalk{c: c, n: c.Len()}
	for _, v := range c.Vertices {
		w.at = append(w.at, v.Point)
	}
	start, cyclic := 0, c.Closed
	for i := range w.n {
		if c.Closed && !w.flat(i) {
			start, cyclic = i, false
			break
		}
	}
	if cyclic {
		if l, ok := w.ring(); ok {
			return []legRun{l}, nil
		}
		if first := w.pieces(0, w.n); len(first) > 0 {
			start = first[0].from + first[0].legs // not in the middle of an arc
		}
	}
	for i := start; i < start+w.n; {
		end := i + 1
		for end < start+w.n && w.flat(end) {
			end++
		}
		if w.leg(i).IsLine() && end-i >= leastLegs {
			a, o := w.stretch(i, end)
			arcs, curves = append(arcs, a...), append(curves, o...)
		}
		i = end
	}
	return arcs, curves
}

// ring is the full circle for which a closed contour's legs stand.
func (w legWalk) ring() (legRun, bool) {
	if w.n < leastLegs {
		return legRun{}, false
	}
	l, ok := w.fit(0, w.n, Joint)
	l.sweep = math.Copysign(2*math.Pi, l.sweep)
	return l, ok
}

// stretch parts the legs from one to another, none of which turns sharply, into
// arcs and other curves.
func (w legWalk) stretch(from, to int) (arcs, curves []legRun) {
	curved := make([]bool, to-from) // of each leg
	for i := from; i < to; {
		end := i + 1
		for end < to && w.alike(end) {
			end++
		}
		for k := i; end-i >= leastLegs && k < end; k++ {
			curved[k-from] = true
		}
		i = end
	}
	pieces := w.pieces(from, to)
	for _, p := range pieces { // of an arc too many legs for the noise in them
		for i := range p.legs {
			curved[p.from+i-from] = true
		}
	}
	at := func(i int) bool { return i >= from && i < to && curved[i-from] }
	other := make([]bool, len(pieces)) // it is part of another curve
	for k, p := range pieces {
		goesOn := at(p.from-1) || at(p.from+p.legs)
		other[k] = goesOn && w.longest(p.from, to, Joint/4) < p.legs-1
		// What is left over at the end of a curve says nothing on its own.
		if k > 0 && other[k-1] && pieces[k-1].from+pieces[k-1].legs == p.from && p.legs < pieces[k-1].legs {
			other[k] = true
		}
	}
	for k, p := range pieces {
		if other[k] {
			continue
		}
		arcs = append(arcs, p)
		for i := range p.legs {
			curved[p.from+i-from] = false
		}
	}
	for i := 0; i < len(curved); i++ {
		n := 0
		for i+n < len(curved) && curved[i+n] {
			n++
		}
		if n >= leastLegs {
			curves = append(curves, legRun{from: from + i, legs: n})
		}
		i += n
	}
	return arcs, curves
}

// alike reports whether the legs before and after a vertex are two of a curve:
// much of a length, and turning the way in which the next ones turn.
func (w legWalk) alike(i int) bool {
	e, f := w.leg(i+w.n-1), w.leg(i)
	long, short := max(e.Chord(), f.Chord()), min(e.Chord(), f.Chord())
	if long > legsAlike*short {
		return false
	}
	side := e.Tangent(1).Cross(f.Tangent(0))
	if !w.c.Closed && i+1 >= w.n {
		return side != 0
	}
	return side*f.Tangent(1).Cross(w.leg(i+1).Tangent(0)) > 0
}

// pieces parts legs into runs that pass within Joint of a circle, greedily.
func (w legWalk) pieces(from, to int) (all []legRun) {
	for i := from; to-i >= leastLegs; {
		n := w.longest(i, to, Joint)
		if n < leastLegs {
			i++
			continue
		}
		l, _ := w.fit(i, n, Joint)
		if l.radius*(1-math.Cos(l.sweep/2)) > Joint { // else it is straight
			all = append(all, l)
		}
		i += n
	}
	return all
}

// longest is the number of legs, from a first one, that pass within tol of one
// circle; 0 if they are fewer than leastLegs.
func (w legWalk) longest(from, to int, tol float64) int {
	fits := func(n int) bool { _, ok := w.fit(from, n, tol); return ok }
	if from+leastLegs > to || !fits(leastLegs) {
		return 0
	}
	good, bad := leastLegs, to-from+1
	for n := 2 * leastLegs; n < bad; n *= 2 {
		if !fits(n) {
			bad = n
			break
		}
		good = n
	}
	for bad-good > 1 {
		if n := (good + bad) / 2; fits(n) {
			good = n
		} else {
			bad = n
		}
	}
	return good
}

// fit is the arc that passes n legs' vertices within tol, in order.
func (w legWalk) fit(from, n int, tol float64) (legRun, bool) {
	l := legRun{from: from, legs: n}
	vertices := n + 1
	if w.c.Closed && n == w.n {
		vertices = n
	}
	var ok bool
	if l.center, l.radius, ok = circleOf(vertices, func(i int) geom.Point { return w.vertex(from + i) }); !ok {
		return l, false
	}
	for i := range vertices {
		p := w.vertex(from + i)
		if l.off = max(l.off, math.Abs(p.Dist(l.center)-l.radius)); l.off > tol {
			return l, false
		}
	}
	side := 0.0
	for i := range n {
		a, b := w.vertex(from+i).Sub(l.center), w.vertex(from+i+1).Sub(l.center)
		step := math.Atan2(a.Cross(b), a.Dot(b))
		l.sweep += step
		if math.Abs(step) > 2*legTurn {
			return l, false
		}
		side += math.Abs(step)
		half := w.vertex(from+i).Dist(w.vertex(from+i+1)) / 2
		l.inside = max(l.inside, half*half/(l.radius+math.Sqrt(max(0, l.radius*l.radius-half*half))))
	}
	// Legs that go back and forth, by more than noise turns them, are no arc.
	return l, math.Abs(l.sweep) > 0.9*side && math.Abs(l.sweep) < 2*math.Pi+legTurn
}

// circleOf is the circle nearest to some points; not ok where they are in line.
func circleOf(n int, point func(i int) geom.Point) (center geom.Point, radius float64, ok bool) {
	var mid geom.Point
	for i := range n {
		mid = mid.Add(point(i))
	}
	mid = mid.Scale(1 / float64(n))
	// x^2 + y^2 = 2 a x + 2 b y + c about the middle, where c stands alone.
	var xx, xy, yy, xq, yq, q float64
	for i := range n {
		p := point(i).Sub(mid)
		s := p.Dot(p)
		xx, xy, yy = xx+p.X*p.X, xy+p.X*p.Y, yy+p.Y*p.Y
		xq, yq, q = xq+p.X*s, yq+p.Y*s, q+s
	}
	det := xx*yy - xy*xy
	const inLine = 1e-18 // of the squares: what is left of them by rounding
	if det <= inLine*q*q {
		return mid, 0, false
	}
	off := geom.Pt((xq*yy-yq*xy)/(2*det), (yq*xx-xq*xy)/(2*det))
	return mid.Add(off), math.Sqrt(off.Dot(off) + q/float64(n)), true
}

package ngc

// Arcs in rounded numbers. With the centre and both ends on a grid of step g the
// two radii can differ by 2.8 g: more than the rule allows with three decimals.
// So every arc is checked as a reader will see it. If it breaks the rule, the
// grid points round its centre are tried, nearest first, then the other grid
// points round its end: near a half circle, where the difference is greatest,
// one step of the centre changes it by up to two steps. If that doesn't help,
// or an arc gets so short that its rounded ends would turn it into something
// else (equal ends are a full circle!), it is halved, and in the end drawn with
// lines.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
)

const (
	// arcRuleWritten is by how much the radii of a written arc may differ, in
	// mm: what RS-274/NGC allows in mm, in inches too.
	arcRuleWritten = arcRuleMM

	// arcShift is how many steps of the grid the middle of a written arc may lie
	// from that of the wanted one: the centre moves by two steps at most, the
	// ends by one, each in both axes.
	arcShift = 4

	// centerSteps is how far from the nearest grid point others are tried.
	centerSteps = 2

	// maxRadius, in mm, is the greatest radius that is written as an arc. Over a
	// board of 3 m it leaves a straight line by 1 mm; beyond it, lines that stand
	// for an arc would become too many.
	maxRadius = 1e6

	// halvings bounds how often an arc is cut in two.
	halvings = 3

	// spareChord is the chord error, in mm, of lines that stand for an arc that
	// can't be written as one: what the arc rule leaves open anyway.
	spareChord = arcRuleMM
)

// An arcWish is the arc that is wanted, in mm.
type arcWish struct {
	to     Place
	center geom.Point
	sweep  float64
	feed   int64
}

// closes reports whether a is a full circle that ends where the bit is: nearer
// than any other point of the grid could be.
func (w *Writer) closes(a arcWish) bool {
	return math.Abs(a.sweep) >= 2*math.Pi-ruleSlack && a.to.Point().Near(w.Place().Point(), (roundOff+1)/2*w.grid.step)
}

// Arc moves along a circular arc about center to a place at feed mm/min:
// sweep is the angle, counter-clockwise positive, up to a full circle. A z in
// to makes it a helix, or lines where the options are Flat.
//
// The written arc ends within one step of the last decimal of to, its middle
// lies within four steps of the true arc's, and its two radii differ by 0.002 mm
// at most. Where rounding allows no such arc, two arcs or lines are written.
func (w *Writer) Arc(to Place, center geom.Point, sweep, feed float64) {
	n, ok := w.feedSteps(feed)
	if !ok || !w.ready() || !w.canArc(to, center, sweep) {
		return
	}
	a := arcWish{to: to, center: center, sweep: sweep, feed: n}
	if w.o.Chord > 0 {
		w.chords(a, w.o.Chord)
		return
	}
	if rise, _ := w.grid.steps(to.Z); w.o.Flat && to.Has(AxisZ) && rise != w.at[2] {
		w.chords(a, spareChord)
		return
	}
	w.arc(a, halvings)
}

func (w *Writer) canArc(to Place, center geom.Point, sweep float64) bool {
	switch {
	case !to.Has(AxesXY):
		w.fail(ErrUnknown, "the end of an arc")
	case !center.Finite() || !(math.Abs(sweep) <= 2*math.Pi+ruleSlack) || sweep == 0:
		w.fail(ErrValue, "an arc about %v by %v", center, sweep)
	case center.Dist(to.Point()) > maxRadius:
		w.fail(ErrValue, "an arc of radius %v mm: write a line", center.Dist(to.Point()))
	case to.Has(AxisZ) && w.known&AxisZ == 0:
		w.fail(ErrUnknown, "the height where a helix begins")
	default:
		if _, ok := w.round(to); !ok {
			return false
		}
		return w.joins(center.Add(to.Point().Sub(center).Turn(-sweep)))
	}
	return false
}

// arc writes one arc, or its halves.
func (w *Writer) arc(a arcWish, left int) {
	if end, i, j, ok := w.fit(a); ok {
		w.putArc(a, end, i, j)
		return
	}
	short := a.to.Point().Dist(a.center)*math.Abs(a.sweep) < 2*arcShift*w.grid.step
	if left == 0 || short && !w.closes(a) {
		w.chords(a, spareChord)
		return
	}
	half := a
	half.sweep /= 2
	half.to.X, half.to.Y = w.onWish(a, 0.5)
	if a.to.Has(AxisZ) {
		half.to.Z = (w.grid.mm(w.at[2]) + a.to.Z) / 2
	}
	w.arc(half, left-1)
	half.to = a.to
	w.arc(half, left-1)
}

// onWish is the point at the fraction t of a wish.
func (w *Writer) onWish(a arcWish, t float64) (x, y float64) {
	p := a.center.Add(a.to.Point().Sub(a.center).Turn(a.sweep * (t - 1)))
	return p.X, p.Y
}

func (w *Writer) putArc(a arcWish, end [2]int64, i, j int64) {
	motion := g2
	if a.sweep > 0 {
		motion = g3
	}
	p := [3]int64{end[0], end[1], w.at[2]}
	set := AxesXY
	if a.to.Has(AxisZ) {
		p[2], _ = w.grid.steps(a.to.Z) // round has checked it
		if w.o.Repeat && !w.o.Flat || p[2] != w.at[2] {
			set = AxesXYZ
		}
	}
	w.begin(motion)
	w.axes(set, p)
	w.word('I', i)
	w.word('J', j)
	w.finish(a.feed)
}

// shifts are steps away from a grid point, nearest first.
var shifts = func() (list [][2]int64) {
	for i := int64(-centerSteps); i <= centerSteps; i++ {
		for j := int64(-centerSteps); j <= centerSteps; j++ {
			list = append(list, [2]int64{i, j})
		}
	}
	slices.SortStableFunc(list, func(a, b [2]int64) int {
		return cmp.Compare(a[0]*a[0]+a[1]*a[1], b[0]*b[0]+b[1]*b[1])
	})
	return list
}()

// fit finds numbers on the grid for an arc from where the bit is: its end, and
// its centre as seen from the start.
func (w *Writer) fit(a arcWish) (end [2]int64, i, j int64, ok bool) {
	from := w.Place().Point()
	ci, okI := w.grid.steps(a.center.X - from.X)
	cj, okJ := w.grid.steps(a.center.Y - from.Y)
	if !okI || !okJ {
		return end, 0, 0, false
	}
	for _, end := range w.ends(a) {
		for _, s := range shifts {
			i, j := ci+s[0], cj+s[1]
			if w.sound(a, from, end, i, j) {
				return end, i, j, true
			}
		}
	}
	return end, 0, 0, false
}

// ends are the grid points for the end of an arc: the nearest, then the other
// three round it. A full circle ends where it starts.
func (w *Writer) ends(a arcWish) [][2]int64 {
	if w.closes(a) {
		return [][2]int64{{w.at[0], w.at[1]}}
	}
	x, dx := around(a.to.X / w.grid.step)
	y, dy := around(a.to.Y / w.grid.step)
	return [][2]int64{{x, y}, {x + dx, y}, {x, y + dy}, {x + dx, y + dy}}
}

// around is the whole number nearest to v and the step to the one on v's other
// side.
func around(v float64) (n, other int64) {
	r := math.Round(v)
	if v < r {
		return int64(r), -1
	}
	return int64(r), 1
}

// sound reports whether an arc in rounded numbers is, to a reader, the wanted
// one and within the rule.
func (w *Writer) sound(a arcWish, from geom.Point, end [2]int64, i, j int64) bool {
	to := geom.Pt(w.grid.mm(end[0]), w.grid.mm(end[1]))
	c := from.Add(geom.Pt(w.grid.mm(i), w.grid.mm(j)))
	r := from.Dist(c)
	if r <= samePlace || math.Abs(to.Dist(c)-r) > arcRuleWritten || from.Near(to, samePlace) != w.closes(a) {
		return false
	}
	sweep := sweepOf(from, to, c, a.sweep > 0)
	x, y := w.onWish(a, 0.5)
	return onArc(from, to, c, sweep, 0.5).Near(geom.Pt(x, y), arcShift*w.grid.step)
}

// chords writes an arc as lines of equal length that leave it by no more than
// chord. Rounding moves their ends too, which is taken off as long as half of
// chord is left.
func (w *Writer) chords(a arcWish, chord float64) {
	r := a.to.Point().Dist(a.center)
	deep := max(chord/2, chord-roundOff*w.grid.step)
	if deep < r {
		w.chordLines(a, math.Ceil(math.Abs(a.sweep)/(2*math.Acos(1-deep/r))))
		return
	}
	w.chordLines(a, math.Ceil(math.Abs(a.sweep)/(math.Pi/2)))
}

func (w *Writer) chordLines(a arcWish, n float64) {
	z := w.grid.mm(w.at[2])
	for k := 1.0; k <= n && w.err == nil; k++ {
		to := a.to
		if k < n {
			to.X, to.Y = w.onWish(a, k/n)
			to.Z = z + (a.to.Z-z)*k/n
		}
		w.straight(g1, to, a.feed)
	}
}

// Package family draws the pattern families of strapwork from their measures: panels,
// borders, plaits, guilloches, rings, stars and their kin, in lines and arcs, each arc
// tangent to its neighbours where the family has no corner.
//
// Lengths are mm, angles radians; a pattern lies about the origin with y up. A family
// knows no job file and no router: what it draws is judged as if it were drawn by hand.
package family

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A Pattern is one family with its measures. Each family has one size, a length that a
// maker would change to have the whole larger or smaller: the cell of a panel, the
// radius of a star. Other lengths that are 0 are in proportion to it.
type Pattern interface {
	// Draw is the pattern's centre lines. The error is a *Fault.
	Draw() ([]geom.Contour, error)
	// Sized is the pattern with another size, mm.
	Sized(size float64) Pattern
}

// A Tracked pattern has lines that run beside one another all over. Their distance, and
// not its curves or crossings, says how large it is best.
type Tracked interface {
	Pattern
	// Tracks is the distance of neighbouring lines, mm.
	Tracks() float64
}

// Wary is a Pattern that can be drawn and yet may be hard to make.
type Wary interface {
	// Wary says what is, and what would do; nil where nothing is.
	Wary() *Fault
}

// A Fault says which measure can't be, why, and what would do.
type Fault struct {
	Key  string // the measure, as the job file has it: "round"; of a list its item: "breaks.2"
	Text unit.Text
	Hint unit.Text
}

// Error is the fault with its lengths in mm.
func (f *Fault) Error() string { return f.Key + ": " + f.Text.In(unit.MM) }

// fault makes a fault of a measure without a hint; its format is Say's.
func fault(key, format string, args ...any) *Fault {
	return &Fault{Key: key, Text: unit.Say(format, args...)}
}

// hint adds what would do.
func (f *Fault) hint(format string, args ...any) *Fault {
	f.Hint = unit.Say(format, args...)
	return f
}

// within is how far, as a share, what a hint names keeps from a bound that itself won't do.
const within = 1e-4

// under and over are lengths to type on the right side of such a bound.
func under(mm float64) unit.Quantity { return unit.AtMost(mm * (1 - within)).Typed() }
func over(mm float64) unit.Quantity  { return unit.AtLeast(mm * (1 + within)).Typed() }

// Tightest is the smallest radius in mm of the arcs in contours; infinite where there
// are only lines. A rider follows what is no tighter than its own radius and half of what
// the groove is wider than the bit.
func Tightest(contours []geom.Contour) float64 {
	least := math.Inf(1)
	for _, c := range contours {
		for _, e := range c.Edges() {
			if !e.IsLine() {
				least = min(least, 1/math.Abs(e.Curvature()))
			}
		}
	}
	return least
}

// bounds is the box of all contours.
func bounds(contours []geom.Contour) geom.Box {
	b := geom.EmptyBox()
	for _, c := range contours {
		b = b.Join(c.Bounds())
	}
	return b
}

const (
	// leastSize and mostSize in mm are beyond any work; between them the steps are of a
	// twelfth.
	leastSize, mostSize, step = 0.1, 100_000, 13.0 / 12
	// halvings narrow a step down to less than a nanometre.
	halvings = 50
	// exact is by how much, as a share, rounding may take a size over its bound.
	exact = 1e-12
)

// Least is the smallest size at which the pattern can be drawn and no curve of it is
// tighter than radius, mm. There is none where no size does.
func Least(p Pattern, radius float64) (size float64, ok bool) {
	holds := func(size float64) bool {
		drawn, err := p.Sized(size).Draw()
		return err == nil && Tightest(drawn) >= radius*(1-exact)
	}
	for size = leastSize; size < mostSize; size *= step {
		if holds(size) {
			return narrow(size/step, size, holds), true
		}
	}
	return 0, false
}

// Fit is the largest size at which the pattern can be drawn and is no wider than box.X
// and no higher than box.Y, mm. There is none where no size does.
func Fit(p Pattern, box geom.Point) (size float64, ok bool) {
	holds := func(size float64) bool {
		drawn, err := p.Sized(size).Draw()
		if err != nil {
			return false
		}
		by := bounds(drawn).Size()
		return by.X <= box.X*(1+exact) && by.Y <= box.Y*(1+exact)
	}
	for size = mostSize; size > leastSize; size /= step {
		if holds(size) {
			return narrow(size*step, size, holds), true
		}
	}
	return 0, false
}

// SmallestBox is how wide and how high the pattern is at the smallest size at which it can
// be drawn, mm. There is none where no size does.
func SmallestBox(p Pattern) (box geom.Point, ok bool) {
	size, ok := Least(p, 0)
	if !ok {
		return geom.Point{}, false
	}
	drawn, err := p.Sized(size).Draw()
	if err != nil {
		return geom.Point{}, false
	}
	return bounds(drawn).Size(), true
}

// narrow is the size next to one that doesn't hold, where another does.
func narrow(not, does float64, holds func(float64) bool) float64 {
	for range halvings {
		if mid := (not + does) / 2; holds(mid) {
			does = mid
		} else {
			not = mid
		}
	}
	return does
}

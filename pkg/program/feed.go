package program

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

const (
	// usualDecimals stand for what ngc.Options leave to the Writer: as many as
	// it writes in mm, fewer than in inches, which errs to the slow side.
	usualDecimals = 4
	// stepSlack, in steps, takes a feed that is a whole number of steps but for
	// its last binary digit as that number.
	stepSlack = 1e-6
	// leastSagitta in mm: an arc that ngc.Writer can't write in rounded numbers
	// becomes lines that leave it by 0.002 mm, or by half of that where rounding
	// takes the other half.
	leastSagitta = 0.001
	// halves is in how many parts ngc.Writer may cut an arc.
	halves = 8
)

// A grid is the numbers that a program can state.
type grid struct {
	step float64 // mm
	sag  float64 // least by which lines that stand for arcs leave them, mm
}

func newGrid(o ngc.Options) grid {
	g := grid{step: 1, sag: leastSagitta}
	if o.Units == ngc.Inches {
		g.step = mmPerInch
	}
	d := o.Decimals
	if d == 0 {
		d = usualDecimals
	}
	g.step /= math.Pow10(d)
	if o.Chord > 0 {
		g.sag = min(g.sag, o.Chord/2)
	}
	return g
}

// mmPerInch is exact by definition (1959 agreement).
const mmPerInch = 25.4

// floor is the greatest feed on the grid that isn't beyond v, so that a limit
// stays one when it is written.
func (g grid) floor(v float64) float64 {
	return math.Floor(v/g.step+stepSlack) * g.step
}

// ceil is the least height on the grid that isn't under v.
func (g grid) ceil(v float64) float64 {
	return math.Ceil(v/g.step-stepSlack) * g.step
}

// steepest is the greatest fall in mm for each mm across that any block of a
// written move can have, which falls by fall along e. The Writer may cut an arc
// in pieces, and rounds both ends of each by half a step an axis: in a short
// piece that counts. It is infinite where the piece may vanish.
func (g grid) steepest(e geom.Edge, fall float64) float64 {
	length := e.Length()
	piece := length
	if r := e.Radius(); !e.IsLine() {
		// Pieces are of equal length, so at least half as long as the chord of
		// the sagitta, which is 2 sqrt(2 r s - s^2).
		piece = min(length/halves, math.Sqrt(max(0, 2*r*g.sag-g.sag*g.sag)))
	}
	across := piece - math.Sqrt2*g.step
	if across <= 0 {
		return math.Inf(1)
	}
	return (fall*piece/length + g.step) / across
}

// along is the feed of a move along e whose height changes by fall: the wanted
// one, but never so fast that its vertical part is beyond the plunge feed. With
// the slope t, that part is feed t / sqrt(1 + t^2).
func (p *writer) along(e geom.Edge, fall float64) float64 {
	feed := p.s.Feed
	if fall > 0 {
		t := p.grid.steepest(e, fall)
		feed = min(feed, p.s.Plunge*math.Sqrt(1+1/(t*t)))
	}
	return p.grid.floor(feed)
}

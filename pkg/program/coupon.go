package program

import (
	"fmt"
	"io"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Perimeter writes a program that goes round a box of the motif once, at the
// safe height and with the spindle off: whoever watches it sees whether the work
// lies where the program believes, and whether anything is in the way.
func Perimeter(w io.Writer, box geom.Box, s Params) error {
	if box.Empty() || !box.Min.Finite() || !box.Max.Finite() {
		return fmt.Errorf("program: %w: the box has no size", ErrNothing)
	}
	p, err := newWriter(w, s)
	if err != nil {
		return err
	}
	p.head("perimeter", slices.Concat(
		[]string{
			"traces the extents once at the safe height with the spindle off",
			"extents: " + s.span(box),
			fmt.Sprintf("safe height: z %s", s.length(s.Safe)),
		},
		s.zeroLines(), s.boardLines())...)
	p.Preamble()
	p.SpindleOff()
	p.lift()
	corners := geom.Rect(s.Shift.Box(box)).Vertices
	p.Rapid(ngc.XY(corners[0].Point))
	for i := range corners {
		p.Line(ngc.XY(corners[(i+1)%len(corners)].Point), p.grid.floor(s.Feed))
	}
	return p.finish()
}

// The measures of a coupon, in mm (common practice).
const (
	couponLength = 60 // of each groove: long enough to push a stack of strips in
	couponEdge   = 15 // from the scrap's edges to the grooves
	couponGap    = 10 // of wood between two grooves, which must not give
	// couponReach and couponStep: the wanted width and two steps of a twentieth
	// of a millimetre, or of two thousandths of an inch, to either side, which is
	// what a push fit is felt by.
	couponReach  = 2
	couponStep   = 0.05
	couponStepIn = 0.002
	// toNanometre rounds widths to what was meant: 5.13, not 5.130000000000001.
	toNanometre = 1e6
)

// A CouponPlan is a row of short straight grooves in scrap, side by side from
// its lower edge up, in which the strips are tried.
type CouponPlan struct {
	Widths  []float64       // of the grooves, mm, none narrower than the slot of the bit
	Wanted  float64         // the groove's width in the job
	Length  float64         // of each groove
	Bit     float64         // the slot that the bit cuts
	Options toolpath.Params // depth, steps, entry and direction as for the work; Order and Widen don't matter
}

// NewCoupon is the coupon for a groove of some width: five grooves whose widths
// differ by 0.05 mm, or by 0.002 in where units are inches, the middle one as
// wanted. Those that the bit is too wide for are left out.
func NewCoupon(width, bit float64, units unit.System, o toolpath.Params) CouponPlan {
	step := couponStep
	if units == unit.Inch {
		step = couponStepIn * unit.MMPerInch
	}
	c := CouponPlan{Wanted: width, Length: max(couponLength, 4*bit), Bit: bit, Options: o}
	for i := -couponReach; i <= couponReach; i++ {
		w := math.Round((width+float64(i)*step)*toNanometre) / toNanometre
		if w >= bit {
			c.Widths = append(c.Widths, w)
		}
	}
	return c
}

// Size is the least size of the scrap.
func (c CouponPlan) Size() geom.Point {
	all := geom.EmptyBox()
	for _, box := range c.Grooves() {
		all = all.Join(box)
	}
	return all.Max.Add(geom.Pt(couponEdge, couponEdge))
}

// plan lays the grooves out from the scrap's lower left corner.
func (c CouponPlan) plan() (toolpath.Plan, error) {
	plan := toolpath.Plan{Bit: c.Bit, Width: c.Wanted}
	for i, box := range c.Grooves() {
		y, w := box.Center().Y, c.Widths[i]
		if !(w >= c.Bit) {
			return plan, unit.Errorf("program: %v: a groove of %s for a bit of %s", ErrSetting, unit.Len(w), unit.Len(c.Bit))
		}
		r := toolpath.Straight(geom.Pt(box.Min.X, y), geom.Pt(box.Max.X, y), w, c.Bit, c.Options)
		if len(r.Passes) == 0 {
			return plan, unit.Errorf("program: %v: grooves of %s are too short for the bit", ErrNothing, unit.Len(c.Length))
		}
		plan.Runs = append(plan.Runs, r)
	}
	if len(plan.Runs) == 0 {
		return plan, fmt.Errorf("program: %w: the coupon has no grooves", ErrNothing)
	}
	return plan, nil
}

// Coupon writes the program of a coupon. Its zero is the lower left corner of
// the scrap; s.Shift, s.Zero and the board don't matter.
func Coupon(w io.Writer, c CouponPlan, s Params) error {
	plan, err := c.plan()
	if err != nil {
		return err
	}
	s.Shift, s.Zero = work.Shift{}, "the lower left corner of a piece of scrap"
	p, err := newWriter(w, s)
	if err != nil {
		return err
	}
	size := c.Size()
	_, lowest := Extents(plan)
	facts := slices.Concat(
		[]string{
			"cuts short grooves in scrap of the same wood: try the strips,",
			"and write the width that fits into the job",
			fmt.Sprintf("scrap: at least %s by %s, and more than %s thick", unit.AtLeast(size.X).In(s.Units()), unit.AtLeast(size.Y).In(s.Units()), s.Size(-lowest)),
			s.bitLine(c.Bit),
		},
		s.zeroLines(), s.feedLines())
	for i, width := range c.Widths {
		plan.Runs[i].Name = fmt.Sprintf("groove %d", i+1)
		facts = append(facts, fmt.Sprintf("groove %d from the lower edge: %s wide, %s", i+1, s.length(width), s.beside(width-c.Wanted)))
	}
	p.head("coupon", facts...)
	p.runs(plan)
	return p.finish()
}

// beside says by how much a width differs from the wanted one.
func (s Params) beside(mm float64) string {
	switch n := s.number(math.Abs(mm)); {
	case n == "0":
		return "as in the job"
	case mm < 0:
		return s.length(-mm) + " less"
	default:
		return s.length(mm) + " more"
	}
}

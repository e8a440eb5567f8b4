package program_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/program"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/unit"
)

// The grooves of a coupon, read back: their number and places, their widths (the
// bit's slot and twice the way of its centre off the middle line) and depth.
func TestCoupon(t *testing.T) {
	const bit = 3.175
	o := toolpath.Params{Depth: 3, Ramp: 3 * math.Pi / 180, Rough: 0.15}
	for _, c := range []struct {
		width float64
		want  []float64
	}{
		{5.08, []float64{4.98, 5.03, 5.08, 5.13, 5.18}},
		{3.2, []float64{3.2, 3.25, 3.3}}, // narrower ones are for a narrower bit
		{bit, []float64{bit, 3.225, 3.275}},
		{3.176, []float64{3.176, 3.226, 3.276}},     // a thousandth of play
		{9.6, []float64{9.5, 9.55, 9.6, 9.65, 9.7}}, // with passes between
	} {
		plan := program.NewCoupon(c.width, bit, unit.MM, o)
		if fmt.Sprint(plan.Widths) != fmt.Sprint(c.want) {
			t.Errorf("%v: widths %v, want %v", c.width, plan.Widths, c.want)
		}
		for name, d := range dialects {
			t.Run(fmt.Sprintf("%v %s", c.width, name), func(t *testing.T) { checkCoupon(t, plan, setting(d)) })
		}
	}
}

func checkCoupon(t *testing.T, plan program.CouponPlan, s program.Params) {
	t.Helper()
	var b bytes.Buffer
	if err := program.Coupon(&b, plan, s); err != nil {
		t.Fatal(err)
	}
	checkText(t, b.String(), s.NGC)
	moves := readBack(t, b.String(), s.NGC)
	checkMoves(t, moves, s)
	boxes := cutBoxes(moves)
	if len(boxes) != len(plan.Widths) {
		t.Fatalf("%d grooves, want %d", len(boxes), len(plan.Widths))
	}
	size := plan.Size()
	for i, box := range boxes {
		if got := box.Max.Y - box.Min.Y + plan.Bit; math.Abs(got-plan.Widths[i]) > 2*slack(s) {
			t.Errorf("groove %d is %v wide, want %v", i+1, got, plan.Widths[i])
		}
		if got := box.Max.X - box.Min.X + plan.Bit; math.Abs(got-plan.Length) > 2*slack(s) {
			t.Errorf("groove %d is %v long, want %v", i+1, got, plan.Length)
		}
		if i > 0 && box.Min.Y-boxes[i-1].Max.Y-plan.Bit < 9.9 { // 10 mm of wood
			t.Errorf("grooves %d and %d leave %v of wood", i, i+1, box.Min.Y-boxes[i-1].Max.Y-plan.Bit)
		}
		if in := box.Expand(plan.Bit / 2); in.Min.X < 14.9 || in.Min.Y < 14.9 || in.Max.X > size.X-14.9 || in.Max.Y > size.Y-14.9 {
			t.Errorf("groove %d at %v is too close to the edge of a scrap of %v", i+1, in, size)
		}
	}
	text := strings.ReplaceAll(b.String(), ")\n(", " ")
	wants := []string{"x0 y0 is the lower left corner of a piece of scrap", "groove 1 from the lower edge: ", "scrap: at least "}
	if slices.Contains(plan.Widths, plan.Wanted) {
		wants = append(wants, "as in the job")
	}
	for _, want := range wants {
		if !s.NGC.Bare && !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// cutBoxes are the boxes of the bit's centre for each setting down.
func cutBoxes(moves []ngc.Move) (boxes []geom.Box) {
	down := false
	for _, m := range moves {
		cutting := m.Kind != ngc.Rapid && m.Kind.Travels() && m.To.Z < -0.03
		if cutting && !down {
			boxes = append(boxes, geom.EmptyBox())
		}
		down = cutting || down && !(m.Kind == ngc.Rapid && m.Named == ngc.AxisZ)
		if cutting {
			last := &boxes[len(boxes)-1]
			for _, e := range m.Edges() {
				*last = last.Join(e.Bounds())
			}
		}
	}
	return boxes
}

func TestCouponReports(t *testing.T) {
	s := setting(ngc.Options{Units: ngc.Inches})
	c := program.NewCoupon(0.2*25.4, 0.125*25.4, unit.Inch, toolpath.Params{Depth: 3})
	var b bytes.Buffer
	if err := program.Coupon(&b, c, s); err != nil {
		t.Fatal(err)
	}
	text := strings.ReplaceAll(b.String(), ")\n(", " ")
	for _, want := range []string{ // steps of 0.002 in
		"groove 1 from the lower edge: 0.196 in wide, 0.004 in less", "groove 3 from the lower edge: 0.2 in wide, as in the job",
		"groove 4 from the lower edge: 0.202 in wide, 0.002 in more", "more than 0.1181 in thick",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	for name, c := range map[string]program.CouponPlan{
		"too narrow": {Widths: []float64{3}, Length: 60, Bit: 3.175, Options: toolpath.Params{Depth: 3}},
		"NaN":        {Widths: []float64{math.NaN()}, Length: 60, Bit: 3.175, Options: toolpath.Params{Depth: 3}},
		"too short":  {Widths: []float64{5}, Length: 3, Bit: 3.175, Options: toolpath.Params{Depth: 3}},
		"none":       {Length: 60, Bit: 3.175, Options: toolpath.Params{Depth: 3}},
	} {
		b.Reset()
		err := program.Coupon(&b, c, s)
		if !errors.Is(err, program.ErrSetting) && !errors.Is(err, program.ErrNothing) || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
	}
}

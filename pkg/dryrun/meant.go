package dryrun

// Was the program written in other units, or for another zero? Where what it cuts
// is the groove but for that, the hint says so, and not only that all is wrong.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// meant is a hint, and behind it what the program may be meant to be.
func (j *judge) meant(format string, args ...any) unit.Text {
	hint := unit.Say(format, args...)
	if guess := j.otherwise(); guess.String() != "" {
		return unit.Say("%s; %s", hint, guess)
	}
	return hint
}

// otherwise says what the program may be meant to be; nothing, where it fits as it
// is or not at all.
func (j *judge) otherwise() unit.Text {
	if !j.guessed {
		j.guess, j.guessed = j.scaleHint(), true
		if j.guess.String() == "" {
			j.guess = j.shiftHint()
		}
	}
	return j.guess
}

// scaleHint says where the cuts' size is that of the groove in other units.
func (j *judge) scaleHint() unit.Text {
	if j.report.Cut.Empty() || j.w.Groove.Area.Empty() {
		return unit.Text{}
	}
	const (
		inch   = 25.4
		likely = 0.05 // of the size
	)
	bit := geom.Pt(j.w.Bit.Slot, j.w.Bit.Slot)
	cut := j.report.Cut.Size()
	want := j.w.Groove.Area.Bounds().Size()
	alike := func(scale float64) bool {
		s := cut.Scale(scale).Add(bit)
		return math.Abs(s.X-want.X) <= likely*want.X && math.Abs(s.Y-want.Y) <= likely*want.Y
	}
	for _, c := range [2]struct {
		scale       float64
		read, meant string
		word        string
	}{{inch, "mm", "inches", "G20"}, {1 / inch, "inches", "mm", "G21"}} {
		if alike(c.scale) {
			return unit.Say("numbers meant as %s seem to be read as %s: check whether the program needs %s", c.meant, c.read, c.word)
		}
	}
	return unit.Text{}
}

const (
	// sameShift is how far in mm two shifts may be from one another and still be
	// one: what whoever sets a zero by eye is out by.
	sameShift = 1.0

	// fits is the part of what a program cuts that must lie in the groove, once it
	// is shifted, for the shift to be what was meant. A fault of another kind may
	// spoil the rest.
	fits = 0.95

	// fitSlack is how far in mm it may then be from where it belongs: a program
	// whose ends are written a little short is shifted by as little.
	fitSlack = 0.25

	// mostFitted bounds the strokes that are looked at, and the places of each.
	mostFitted    = 2000
	placesOfFit   = 5
	sameSizeSlack = 2.0 // mm, by which the cuts may be smaller or larger than the groove
)

// shiftHint says by how much all cuts lie beside the groove, where shifting them
// by that puts them into it.
func (j *judge) shiftHint() unit.Text {
	if j.report.Cut.Empty() || j.w.Groove.Area.Empty() {
		return unit.Text{}
	}
	zero := j.w.OtherZero
	want := j.w.Groove.Area.Bounds()
	bit := geom.Pt(j.w.Bit.Slot, j.w.Bit.Slot)
	off := j.report.Cut.Size().Add(bit).Sub(want.Size())
	by := j.report.Cut.Center().Sub(want.Center())
	alike := math.Abs(off.X) <= sameSizeSlack && math.Abs(off.Y) <= sameSizeSlack
	at, meant := by, alike && by.Near(zero.By, sameShift)
	if !alike {
		at, meant = zero.By, true
	}
	switch meant = meant && zero.Word != ""; {
	case !alike && !meant || at.Norm() <= sameShift || !j.fitsAt(at):
		return unit.Text{}
	case meant:
		return unit.Say("everything is off by %s in x and %s in y: is zero = %q meant?", unit.Len(zero.By.X), unit.Len(zero.By.Y), zero.Word)
	}
	return unit.Say("everything is off by about %s in x and %s in y: check the zero", unit.Len(math.Round(by.X*10)/10), unit.Len(math.Round(by.Y*10)/10))
}

// fitsAt reports whether nearly all that is cut would lie in the groove if that
// lay farther on by a shift.
func (j *judge) fitsAt(by geom.Point) bool {
	t, w := &j.gouger.table, j.gouger.wall
	keep := w.bit - gougeOver - fitSlack
	all, good := 0, 0
	for i := 0; i < t.n; i += 1 + t.n/mostFitted {
		for k := range placesOfFit {
			p := t.at(i).At(float64(k) / (placesOfFit - 1)).Sub(by)
			all++
			if d, _ := w.nearest(p); d >= keep && w.area.Contains(p) {
				good++
			}
		}
	}
	return all > 0 && float64(good) >= fits*float64(all)
}

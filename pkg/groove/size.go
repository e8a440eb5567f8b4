// Package groove says where wood has to go: the ideal groove of a motif, and
// the stretches of it, the cuts, that a router can make one at a time, with
// the area in which the bit's centre may move in each.
//
// Lengths are mm, angles radians, and everything is in the motif's own
// coordinates. The groove is flat here: depth is another stage's matter.
package groove

import "strapwork/pkg/work"

// Size holds the measures that decide the plane geometry of grooving.
type Size struct {
	Width       float64 // w: of the groove
	Bit         float64 // b: the slot that the bit cuts; b <= w
	RiderRadius float64 // r: half of the diameter of what touches the template; r >= b/2
	Web         float64 // least wood between two openings of a template
}

// SizeOf takes the measures from a job.
func SizeOf(in work.Inlay, r work.Router, t work.Template) Size {
	return Size{Width: in.Width, Bit: r.Bit, RiderRadius: r.RiderDiameter / 2, Web: t.Web}
}

// Offset is k, the distance that the bit's centre may move to either side of the
// centre line: half of what the groove is wider than the bit.
func (s Size) Offset() float64 { return (s.Width - s.Bit) / 2 }

// Reach is H, the distance of a template's wall from the centre line.
func (s Size) Reach() float64 { return s.RiderRadius + s.Offset() }

// Thin reports whether the bit fills the groove so nearly that the flat at an
// opening's end, 2k wide, would be a speck: then an end is one arc of radius H.
func (s Size) Thin() bool { return 2*s.Offset() < thinFlat }

// thinFlat is the width in mm under which a flat is not drawn: the width of
// a laser's finest line, which would burn it away.
const thinFlat = 0.05

// Overcut is the depth in mm beyond the groove that a cut may have: a tenth of
// what makers work to.
const Overcut = 0.001

// PastSplit is how far in mm a cut runs on past a smooth split. The bit's
// centre at the split would leave exactly nothing; the rest is for the play
// of the panels in their place.
const PastSplit = 0.5

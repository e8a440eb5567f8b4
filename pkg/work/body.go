package work

import "cmp"

// Body is what turns above the bit, in mm; what is 0 is not known.
type Body struct {
	Stickout     float64 // from the collet nut's face down to the bit's tip
	NutDiameter  float64 // of the collet nut
	NutLength    float64 // how far it reaches up from its face
	NoseDiameter float64 // of the spindle above the nut
}

// Known reports whether all of the body is known that can meet a clamp. The
// nut's length need not be: the nose is then taken to begin where the nut does.
func (b Body) Known() bool { return b.Stickout > 0 && b.NutDiameter > 0 && b.NoseDiameter > 0 }

// Or is b with what isn't known of it taken from another.
func (b Body) Or(other Body) Body {
	return Body{
		Stickout:     cmp.Or(b.Stickout, other.Stickout),
		NutDiameter:  cmp.Or(b.NutDiameter, other.NutDiameter),
		NutLength:    cmp.Or(b.NutLength, other.NutLength),
		NoseDiameter: cmp.Or(b.NoseDiameter, other.NoseDiameter),
	}
}

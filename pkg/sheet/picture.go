package sheet

import "strapwork/pkg/geom"

// A Picture is a filled illustration, drawn in the order of Fills and then
// Texts, so that later ones cover earlier ones.
type Picture struct {
	Title  string
	Bounds geom.Box // what is shown, mm
	Fills  []Fill
	Texts  []Text
}

// A Fill is an area, or a line when Color is empty. Outer loops run
// counter-clockwise and holes clockwise, so that the even-odd and the nonzero
// rule fill the same area. Open loops are stroked only.
type Fill struct {
	Loops       []geom.Contour
	Color       string    // #rrggbb, or empty for no fill
	Stroke      string    // #rrggbb, or empty for no stroke
	StrokeWidth float64   // mm
	Dash        []float64 // lengths in mm of stroke and gap in turn; none for an unbroken stroke
	Label       string    // what it is, for people and screen readers; may be empty
}

// A Text is one line of lettering in a picture. At is the left end of its
// base line, or the middle of it, Height the height of its capitals in mm. It
// runs to the right, turned about At by Turn radians counter-clockwise.
type Text struct {
	At     geom.Point
	Height float64
	String string
	Middle bool
	Turn   float64
}

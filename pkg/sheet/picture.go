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
	Hair        bool      // the stroke is a line of the drawing, not as wide as a thing: a screen may show it as wide at any size
	Dash        []float64 // lengths in mm of stroke and gap in turn; none for an unbroken stroke
	Label       string    // what it is, for people and screen readers; may be empty
	Flat        bool      // open lines end square and turn sharp, as bands do; else round
	Clip        *geom.Box // shows what lies within it alone; nil shows all
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
	Color  string // #rrggbb, or empty for nearly black
}

// letterWidth is how wide a letter is on average in heights of capitals: 0.62 of the
// size of type in the widest of common faces (from memory). Letters of the far East
// are as wide as the size of type.
const letterWidth, wideLetter = 0.86, 1.4

// Width is the room in mm that the text takes up along its line, on the safe side:
// with which face it will be shown isn't known.
func (t Text) Width() float64 {
	const firstWide = 0x1100 // of Unicode's scripts in a square each
	w := 0.0
	for _, r := range t.String {
		if r < firstWide {
			w += letterWidth
		} else {
			w += wideLetter
		}
	}
	return w * t.Height
}

package work

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A Tracing says what of a drawing is traced, and how large.
type Tracing struct {
	Size      TraceSize
	Layer     string  // "" takes all
	Color     string  // "#rrggbb"; "" takes all
	Tolerance float64 // how far the trace may lie from the drawing, mm
	Edges     bool    // the drawing shows the edges of bands: follow their middle
	Kinks     bool    // turns of some degrees are taken as smooth
	Round     float64 // radius of the fillets that corners get; 0 leaves them sharp
	Snap      bool    // values that are nearly equal, or nearly round, become so
	Inches    bool    // radii become sixteenths of an inch, not halves of a mm: whoever reads them measures in inches
	Weave     bool    // over and under are taken from the drawing where it shows them
	Words     TraceWords
}

// A TraceSize is how large a drawing becomes, and where it goes: the middle of what is
// drawn goes to Center, and is turned about there.
type TraceSize struct {
	Width, Height float64 // of what is drawn, over all; 0: not given
	Unit          float64 // length in mm of one unit of the drawing; 0: what the file says
	Center        geom.Point
	Turn          float64 // radians
}

// TraceWords are how findings speak of a tracing.
type TraceWords struct {
	Key   diag.Key // of the table that asks; "" where none does
	File  string   // name of the drawing
	Flags bool     // parameters are flags of a command line
	Name  string   // of the elements: the second is NAME-2
}

// drawingUnits are what a bare number of a drawing may be, in mm. A point is 1/72 in, a pixel
// 1/96 in (CSS Values and Units, 5.2).
var drawingUnits = []struct {
	word string
	mm   float64
}{
	{"mm", 1},
	{"cm", 10},
	{"m", 1000},
	{"in", unit.MMPerInch},
	{"ft", 12 * unit.MMPerInch},
	{"pt", unit.MMPerInch / 72},
	{"px", unit.MMPerInch / 96},
}

// DrawingUnits are the words for units of a drawing.
func DrawingUnits() []string {
	var words []string
	for _, u := range drawingUnits {
		words = append(words, u.word)
	}
	return words
}

// DrawingUnit is the length in mm of the i-th of DrawingUnits, 0 of none.
func DrawingUnit(i int) float64 {
	if i < 0 || i >= len(drawingUnits) {
		return 0
	}
	return drawingUnits[i].mm
}

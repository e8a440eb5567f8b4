package ngc_test

import (
	"fmt"
	"os"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// A groove of 1.5 mm depth: 20 mm straight and a quarter of a circle. The writer
// states every mode that it uses first, and leaves out words that repeat.
func ExampleWriter() {
	w := ngc.NewWriter(os.Stdout, ngc.Options{})
	w.Comment("box lid, holly")
	w.Preamble()
	w.Rapid(ngc.Z(5))
	w.SpindleOn(ngc.Clockwise, 16000, 2)
	w.Rapid(ngc.XY(geom.Pt(0, 10)))
	w.Line(ngc.Z(-1.5), 250)
	w.Line(ngc.XYZ(geom.Pt(20, 10), -1.5), 900)
	w.Arc(ngc.XY(geom.Pt(30, 20)), geom.Pt(20, 20), 1.5707963267948966, 900)
	w.Rapid(ngc.Z(5))
	w.SpindleOff()
	w.End()
	if err := w.Close(); err != nil {
		fmt.Println(err)
	}
	// Output:
	// (box lid, holly)
	// G21 G17 G90 G94
	// G40 G49 G80 G54
	// G0 Z5.0
	// S16000 M3
	// G4 P2.0
	// G0 X0.0 Y10.0
	// G1 Z-1.5 F250.0
	// X20.0 F900.0
	// G3 X30.0 Y20.0 I0.0 J10.0
	// G0 Z5.0
	// M5
	// M2
}

// A program in inches is read as moves in millimetres.
func ExampleReadAll() {
	moves, err := ngc.ReadAll(strings.NewReader("G20 G17 G90 G94\nG0 X0 Y0 Z0.25\nG1 Z-0.125 F20\nX4\nM2\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range moves {
		if m.Kind.Travels() {
			fmt.Printf("line %d: %v to x %.1f, z %.3f\n", m.Line, m.Kind, m.To.X, m.To.Z)
		}
	}
	// Output:
	// line 2: rapid to x 0.0, z 6.350
	// line 3: line to x 0.0, z -3.175
	// line 4: line to x 101.6, z -3.175
}

// What the reader doesn't know it doesn't pass over: it might be cut.
func ExampleRead() {
	err := ngc.Read(strings.NewReader("G21 G17 G90 G94\nG0 Z5\nG5 X10 Y10\n"), func(ngc.Move) error { return nil })
	fmt.Println(err)
	// Output:
	// 3:1: error: G5 is a curve other than an arc, which is not read
	// 3:1: error: the program doesn't end: it may be cut off
}

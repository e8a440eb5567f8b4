package geom_test

import (
	"fmt"
	"math"

	"strapwork/pkg/geom"
)

// A strip 5 mm wide runs 100 mm straight and then round a quarter of a circle of
// 50 mm radius to the left. Its walls are parallels of its centre line, exact: the
// inner one is shorter by a quarter of 2 pi times half the width.
func ExampleContour_Parallel() {
	line := geom.Chain(false, append(
		[]geom.Edge{geom.Line(geom.Pt(0, 0), geom.Pt(100, 0))},
		geom.Arc(geom.Pt(100, 50), 50, -math.Pi/2, math.Pi/2)...)...)
	inner, outer := line.Parallel(2.5, geom.Mitre), line.Parallel(-2.5, geom.Mitre)
	fmt.Printf("centre line %.2f mm, inner wall %.2f mm, outer wall %.2f mm\n", line.Length(), inner.Length(), outer.Length())
	fmt.Printf("the bend's inner radius is %.1f mm\n", inner.Edge(1).Radius())
	// Output:
	// centre line 178.54 mm, inner wall 174.61 mm, outer wall 182.47 mm
	// the bend's inner radius is 47.5 mm
}

// A motif's elements are written as paths: here a side with half a loop at its end.
func ExampleParsePath() {
	paths, err := geom.ParsePath("M -80 0 H 40 A 30 30 0 0 1 40 60")
	if err != nil {
		fmt.Println(err)
		return
	}
	side := paths[0]
	fmt.Printf("%d edges, %.2f mm, from (%.0f, %.0f) to (%.0f, %.0f)\n",
		side.Len(), side.Length(), side.Start().X, side.Start().Y, side.End().X, side.End().Y)
	// Output:
	// 2 edges, 214.25 mm, from (-80, 0) to (40, 60)
}

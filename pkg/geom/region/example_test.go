package region_test

import (
	"fmt"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// A groove 100 mm long and 6 mm wide is cut with a bit of 4 mm. Where the bit's centre
// may go is the groove shrunk by the bit's radius; grown again it is what the bit cuts,
// and the rest is left in the four corners for the chisel: (4 - pi) times the radius
// squared.
func ExampleRegion_Shrink() {
	groove := region.New(geom.Polygon(geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 6), geom.Pt(0, 6)))
	centre := groove.Shrink(2)
	left := region.Subtract(groove, centre.Grow(2))
	fmt.Printf("centre: %.0f mm2\n", centre.Area())
	fmt.Printf("left for the chisel: %.3f mm2 in %d corners\n", left.Area(), len(left.Pieces()))
	// Output:
	// centre: 192 mm2
	// left for the chisel: 3.434 mm2 in 4 corners
}

// A template's opening is where the bit's centre may go, grown by the rider's radius.
// Rolled round inside it the rider brings the bit back to all of that, or, where a
// corner is too sharp for it, to more.
func ExampleRegion_Close() {
	straight := region.New(geom.Polygon(geom.Pt(0, -1), geom.Pt(100, -1), geom.Pt(100, 1), geom.Pt(0, 1)))
	corner := region.Union(straight, region.New(geom.Polygon(geom.Pt(98, -1), geom.Pt(100, -1), geom.Pt(100, 80), geom.Pt(98, 80))))
	const rider = 15.0
	for _, centre := range []region.Region{straight, corner} {
		reached := centre.Grow(rider).Shrink(rider) // the same as Close(rider)
		fmt.Printf("too much: %.2f mm2\n", region.Subtract(reached, centre).Area())
	}
	// Output:
	// too much: 0.00 mm2
	// too much: 48.29 mm2
}

// Two strands cross; what both grooves share is a rhombus, and the two together have
// four pockets of wood round them but no hole.
func ExampleIntersect() {
	a := region.New(geom.Polygon(geom.Pt(-50, -3), geom.Pt(50, -3), geom.Pt(50, 3), geom.Pt(-50, 3)))
	b := a.Transform(geom.TurningFraction(1, 6))
	shared := region.Intersect(a, b)
	all := region.Union(a, b)
	fmt.Printf("shared %.2f mm2, together %.2f mm2 in %d loop\n", shared.Area(), all.Area(), len(all.Loops()))
	fmt.Println("the crossing is in the groove:", all.Contains(geom.Pt(0, 0)))
	// Output:
	// shared 41.57 mm2, together 1158.43 mm2 in 1 loop
	// the crossing is in the groove: true
}

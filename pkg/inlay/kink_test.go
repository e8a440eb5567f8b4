package inlay

import (
	"math"
	"testing"

	"strapwork/pkg/geom"
)

// TestKinks: strips of straights that turn by 0.4 degrees a joint, forty times,
// are as long as their sides are: each joint takes 2 d tan(turn / 2) from a
// strip's side at the offset d to the left (elementary), 1.2 mm in all at the
// groove's left wall, 1.75 mm off.
func TestKinks(t *testing.T) {
	const turn, leg, joints = 0.4 * math.Pi / 180, 3.0, 40
	c := geom.Contour{Vertices: []geom.Vertex{{}}}
	for i := range joints + 1 {
		last := c.Vertices[len(c.Vertices)-1].Point
		c.Vertices = append(c.Vertices, geom.Vertex{Point: last.Add(geom.Polar(leg, float64(i)*turn))})
	}
	in, _ := quiet(t, jobOf(tableStrips(), 1, c))
	for _, s := range in.Strips {
		p := s.Pieces[0]
		at := func(d float64) float64 { return leg*(joints+1) - joints*2*d*math.Tan(turn/2) }
		middle := (s.Left + s.Right) / 2
		near(t, "length", p.Length, at(middle), exact)
		near(t, "left side", p.Left, at(s.Left), exact)
		near(t, "right side", p.Right, at(s.Right), exact)
		near(t, "area", p.Area.Area(), at(middle)*s.Thickness, exact)
	}
	disjoint(t, in)
}

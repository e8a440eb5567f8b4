package region

import (
	"math"
	"math/rand/v2"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"strapwork/pkg/geom"
)

// flatStep is the angle of the chords that stand for arcs: 1 - sin(a)/a of a
// sector's area is lost, 4e-7 at this step.
const flatStep = 2 * math.Pi / 4000

// flattened is r as polygons for the other library.
func flattened(t *testing.T, r Region) sf.Geometry {
	t.Helper()
	var polygons []sf.Polygon
	for _, p := range r.Pieces() {
		var rings []sf.LineString
		for _, c := range p.Loops() {
			rings = append(rings, flatRing(c))
		}
		polygons = append(polygons, sf.NewPolygon(rings))
	}
	m := sf.NewMultiPolygon(polygons)
	if err := m.Validate(); err != nil {
		t.Fatalf("the pieces are no valid polygons: %v", err)
	}
	return m.AsGeometry()
}

func flatRing(c geom.Contour) sf.LineString {
	var xy []float64
	for _, e := range c.Edges() {
		n := int(math.Abs(e.Sweep())/flatStep) + 1
		for i := range n {
			p := e.At(float64(i) / float64(n))
			xy = append(xy, p.X, p.Y)
		}
	}
	xy = append(xy, xy[0], xy[1])
	return sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
}

// Areas against the overlay of an independent library (peterstace's
// simplefeatures, a port of the OverlayNG of JTS) on finely flattened copies.
func TestAgainstOverlay(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	rng := rand.New(rand.NewPCG(31, 32))
	for i := range 14 {
		a, b := randomRegion(rng), randomRegion(rng)
		if i%2 == 0 {
			a, b = New(gridShape(rng), gridShape(rng)), New(gridShape(rng), gridShape(rng))
		}
		f, g := flattened(t, a), flattened(t, b)
		for _, op := range []struct {
			name string
			ours Region
			do   func(x, y sf.Geometry) (sf.Geometry, error)
		}{
			{"union", Union(a, b), func(x, y sf.Geometry) (sf.Geometry, error) { return sf.Union(x, y) }},
			{"intersection", Intersect(a, b), sf.Intersection},
			{"difference", Subtract(a, b), sf.Difference},
		} {
			theirs, err := op.do(f, g)
			if err != nil {
				t.Errorf("%d: %s: %v", i, op.name, err)
				continue
			}
			// Relative to what went in: the flattening is that of the operands.
			near(t, op.name, op.ours.Area(), theirs.Area(), 1e-6*(a.Area()+b.Area()))
		}
	}
}

package geom

import "math"

// leastSide is the length in mm under which what two fillets leave of the side between
// them is nothing, and no line: a hundredth of the finest that is cut to.
const leastSide = 0.001

// Filleted is a chain of lines with its corners rounded, the i-th by an arc of radius
// radii[i], tangent to both sides; 0 leaves it sharp, and the ends of an open chain stay
// as they are. The arcs are trusted to fit: each takes radius tan(turn / 2) of both its
// sides. A closed chain then begins where the first corner's arc ends.
func (c Contour) Filleted(radii []float64) Contour {
	n := len(c.Vertices)
	type corner struct {
		from, to Point // where the arc begins and ends
		bulge    float64
	}
	corners := make([]corner, n)
	for i, v := range c.Vertices {
		corners[i] = corner{from: v.Point, to: v.Point}
		if radii[i] == 0 || !c.Closed && (i == 0 || i == n-1) {
			continue
		}
		in := v.Sub(c.Vertices[(i+n-1)%n].Point).Unit()
		on := c.Vertices[(i+1)%n].Sub(v.Point).Unit()
		turn := math.Atan2(in.Cross(on), in.Dot(on))
		takes := radii[i] * math.Abs(math.Tan(turn/2))
		corners[i] = corner{v.Sub(in.Scale(takes)), v.Add(on.Scale(takes)), math.Tan(turn / 4)}
	}
	var edges []Edge
	for i := range c.Len() {
		a, b := corners[i], corners[(i+1)%n]
		if a.to.Dist(b.from) > leastSide {
			edges = append(edges, Line(a.to, b.from))
		}
		if b.bulge != 0 {
			edges = append(edges, Edge{b.from, b.to, b.bulge})
		}
	}
	return Chain(c.Closed, edges...)
}

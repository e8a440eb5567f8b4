package aids

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/bend"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
	"strapwork/pkg/work"
)

var formParams = Params{Template: work.Template{Wall: 9}}

// bronzeAndHolly is a plan with a bend of bronze to R 40, one of holly to R 100 that turns
// by 60 degrees, and one of holly to R 200; holly's pieces end at 120 and at 45 degrees.
func bronzeAndHolly(t *testing.T) bend.Plan {
	t.Helper()
	stuff := make([]bend.Stuff, 2)
	for i, name := range []string{"bronze", "holly"} {
		m, err := profile.OpenMaterial(name, nil)
		if err != nil {
			t.Fatal(err)
		}
		temper, _ := m.Temper("")
		stuff[i] = bend.Stuff{{Strips: []int{i + 1}, Material: name, Thickness: []float64{1.2, 4}[i], Of: m, Temper: temper, Known: true}}
	}
	plan, found := bend.New(bend.Params{Stuff: stuff, Pieces: []bend.Piece{
		{Number: 1, Stuff: 0, Arcs: []bend.Arc{{Radius: 40, Sweep: 1}}},
		{Number: 2, Stuff: 1, Arcs: []bend.Arc{{Radius: 100, Sweep: math.Pi / 3}}, Ends: [2]bend.End{{Radius: 100, Cut: 2 * math.Pi / 3}, {Radius: 100, Cut: math.Pi / 4}}},
		{Number: 3, Stuff: 1, Arcs: []bend.Arc{{Radius: 200, Sweep: 3}}},
	}})
	if len(found) > 0 {
		t.Fatal(found)
	}
	return plan
}

// TestForms: bronze has three discs, of its inner face's radii for 250, 350 and 450 MPa
// (32.3, 30.1 and 28.1 of the middle, see package bend); the two bends of holly are above
// and below on one block.
func TestForms(t *testing.T) {
	parts := byName(t, DrawForms(formParams, bronzeAndHolly(t), 0))
	if got, want := names(parts), "form-1 form-2 form-3 form-4 holder-1 holder-2"; got != want {
		t.Fatalf("%s, not %s", got, want)
	}
	for name, want := range map[string]float64{"form-1": 31.7, "form-2": 29.5, "form-3": 27.5} {
		e := edgeOf(t, parts[name]).Edge(0)
		if math.Abs(e.Radius()-want) > 0.051 {
			t.Errorf("%s has the radius %g", name, e.Radius())
		}
	}
	var radii []float64
	c := edgeOf(t, parts["form-4"])
	for i, e := range c.Edges() {
		if e.IsLine() {
			continue
		}
		radii = append(radii, e.Radius())
		before, after := c.Edge((i+c.Len()-1)%c.Len()), c.Edge((i+1)%c.Len())
		for _, d := range []float64{before.Tangent(1).Cross(e.Tangent(0)), e.Tangent(1).Cross(after.Tangent(0))} {
			if math.Abs(d) > 1e-9 {
				t.Errorf("the arc of R %g has a corner at its end", e.Radius())
			}
		}
		if after.IsLine() && math.Abs(after.Length()-lead) > 1e-9 {
			t.Errorf("it runs out by %g", after.Length())
		}
	}
	if len(radii) != 2 || math.Abs(radii[0]-98) > 1e-9 || math.Abs(radii[1]-198) > 1e-9 {
		t.Errorf("the block's radii are %v", radii)
	}
}

// TestHolders: whatever its radius and tips, a holder's edge has the radius and its ends
// the angles, it can be cut with a laser and a router, and no tip is sharp.
func TestHolders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius := rapid.Float64Range(leastHolder, 3000).Draw(t, "r")
		hollow := rapid.Bool().Draw(t, "hollow")
		tips := [2]float64{rapid.Float64Range(75, 165).Draw(t, "left") * math.Pi / 180, rapid.Float64Range(75, 165).Draw(t, "right") * math.Pi / 180}
		if hollow {
			tips[0], tips[1] = max(tips[0], 105*math.Pi/180), max(tips[1], 105*math.Pi/180) // blunter than the other side
		}
		c := holderOutline(radius, tips, hollow)
		i := slices.IndexFunc(c.Edges(), func(e geom.Edge) bool { return !e.IsLine() })
		arc := c.Edge(i)
		if math.Abs(arc.Radius()-radius) > 1e-6*radius || (arc.Bulge < 0) != hollow {
			t.Fatalf("R %g, bulge %g", arc.Radius(), arc.Bulge)
		}
		// Outlines run counter-clockwise, so the arc from right to left: the angle inside is
		// pi less what the outline turns by.
		before, after := c.Edge((i+c.Len()-1)%c.Len()), c.Edge((i+1)%c.Len())
		inside := func(from, to geom.Point) float64 { return math.Pi - math.Atan2(from.Cross(to), from.Dot(to)) }
		if left, right := inside(arc.Tangent(1), after.Tangent(0)), inside(before.Tangent(1), arc.Tangent(0)); math.Abs(left-tips[0]) > 1e-6 || math.Abs(right-tips[1]) > 1e-6 {
			t.Errorf("tips of %g and %g, not %v", left, right, tips)
		}
		for _, kerf := range []float64{0, 0.2, 3} {
			part := sheet.Part{Sheet: sheet.Sheet{Name: "holder", Lines: []sheet.Line{{Role: sheet.Edge, Contour: c}}}}
			if err := sheet.Check(sheet.Compensated([]sheet.Part{part}, kerf)[0].Sheet).Err(); err != nil {
				t.Errorf("kerf %g: %v", kerf, err)
			}
		}
		if region.New(c).Area() < 200 {
			t.Errorf("nothing is left of it: %g mm2", region.New(c).Area())
		}
	})
}

// TestFormsAreFew: of many bends those of most pieces have forms, and rods none.
func TestFormsAreFew(t *testing.T) {
	plan := bronzeAndHolly(t)
	var pieces []bend.Piece
	for n := range 60 {
		pieces = append(pieces, bend.Piece{Number: n + 1, Stuff: 1, Arcs: []bend.Arc{{Radius: 42 * math.Pow(1.1, float64(n%20)), Sweep: 2}, {Radius: 1000, Sweep: 0.1}}})
	}
	pieces = append(pieces, bend.Piece{Number: 61, Stuff: 0, Arcs: []bend.Arc{{Radius: 5.5, Sweep: 2}}})
	many, _ := bend.New(bend.Params{Stuff: plan.Stuff, Pieces: pieces})
	edges := 0
	for _, f := range Forms(many) {
		for _, e := range f.Edges {
			edges++
			if Rod(many.Edges[e]) || e >= mostEdges {
				t.Errorf("%s has edge %d of R %g", f.Name, e, many.Edges[e].Radius)
			}
		}
	}
	if edges == 0 || edges > mostEdges || len(many.Edges) <= mostEdges {
		t.Errorf("%d of %d edges are drawn", edges, len(many.Edges))
	}
	byName(t, DrawForms(formParams, many, 0.2))
}

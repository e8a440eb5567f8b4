package plan_test

import (
	"fmt"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// crossed are the grooves of four bars, copies of one a quarter turn apart, each of
// which crosses its neighbours; for a bit of 3 mm and a collar of 24.
func crossed() groove.Groove {
	bar := geom.Chain(false, geom.Line(geom.Pt(-120, 70), geom.Pt(120, 70)))
	m, _ := motif.Build(work.Drawing{Copies: 4, Elements: []work.Element{{Name: "bar", Contour: bar}}})
	w, _ := weave.Build(m, work.Weaving{FirstOver: true})
	g, _ := groove.Build(groove.Size{Width: 6, Bit: 3, RiderRadius: 12, Web: 6}, m, w)
	return g
}

// Each bar can be cut in one go.
func ExampleSplit() {
	g := crossed()
	cuts, found := plan.Split(&g)
	for _, c := range cuts {
		fmt.Printf("%s: from a %v to a %v, %.0f mm of the bit's way\n", c.Name, c.From.Kind, c.To.Kind, c.Length())
	}
	fmt.Println("errors:", found.HasErrors())
	// Output:
	// bar.1: from a free end to a free end, 237 mm of the bit's way
	// bar.2: from a free end to a free end, 237 mm of the bit's way
	// bar.3: from a free end to a free end, 237 mm of the bit's way
	// bar.4: from a free end to a free end, 237 mm of the bit's way
	// errors: false
}

// Bars that cross can't share a panel: where their openings cross, the collar would
// lose its wall. Two that face one another can, and laid again a quarter turn on the
// same panel makes the other two.
func ExampleMake() {
	g := crossed()
	cuts, _ := plan.Split(&g)
	p := plan.Make(plan.Params{Turn: true}, &g, cuts)
	fmt.Println(p)
	for _, panel := range p.Panels {
		fmt.Printf("%d openings, laid at %v\n", len(panel.Cuts), panel.Positions)
	}
	still := plan.Make(plan.Params{}, &g, cuts)
	fmt.Println("never turned:", still)
	// Output:
	// 1 panel, 2 set-ups; nothing fewer possible
	// 2 openings, laid at [0 degrees 90 degrees]
	// never turned: 2 panels, 2 set-ups; nothing fewer possible
}

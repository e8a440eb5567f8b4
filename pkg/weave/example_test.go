package weave_test

import (
	"fmt"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// bars are two bars each way across one another.
func bars() motif.Motif {
	var d work.Drawing
	d.Copies = 1
	for i, e := range []geom.Edge{
		geom.Line(geom.Pt(-60, 20), geom.Pt(60, 20)), geom.Line(geom.Pt(-60, -20), geom.Pt(60, -20)),
		geom.Line(geom.Pt(20, -60), geom.Pt(20, 60)), geom.Line(geom.Pt(-20, -60), geom.Pt(-20, 60)),
	} {
		d.Elements = append(d.Elements, work.Element{Name: fmt.Sprintf("bar%d", i+1), Contour: geom.Chain(false, e)})
	}
	m, _ := motif.Build(d)
	return m
}

// Along every strand over and under take turns.
func ExampleBuild() {
	m := bars()
	w, _ := weave.Build(m, work.Weaving{FirstOver: true})
	for i, visits := range w.Visits {
		fmt.Print(m.Strands[i].ID, ":")
		for k, v := range visits {
			if k > 0 {
				fmt.Print(",")
			}
			way := "under"
			if v.Over {
				way = "over"
			}
			fmt.Printf(" %s at %.0f mm", way, v.S)
		}
		fmt.Println()
	}
	// Output:
	// s1: over at 40 mm, under at 80 mm
	// s2: under at 40 mm, over at 80 mm
	// s3: under at 40 mm, over at 80 mm
	// s4: over at 40 mm, under at 80 mm
}

// One crossing may be exchanged: the strand on top there goes under.
func ExampleBuild_flip() {
	m := bars()
	want := work.Weaving{FirstOver: true, Flips: []work.Flip{{At: geom.Pt(20, 20)}}}
	w, found := weave.Build(m, want)
	for _, c := range w.Crossings {
		fmt.Printf("(%.0f, %.0f): %s over %s\n", c.At.X, c.At.Y, m.Strands[c.Upper().Strand].ID, m.Strands[c.Lower().Strand].ID)
	}
	fmt.Println("errors:", found.HasErrors())
	// Output:
	// (-20, 20): s1 over s4
	// (20, 20): s1 over s3
	// (-20, -20): s4 over s2
	// (20, -20): s2 over s3
	// errors: false
}

package build

import (
	"fmt"
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/paper"
	"strapwork/pkg/proof"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
)

// Sizes in mm of what is written on the groove's pattern.
const (
	chiselRing = 2.0 // about a place for the chisel, beyond the groove
)

type grooveSheetIn struct {
	Groove    made[groove.Groove]
	Leftovers []proof.Leftover
	Depth     float64
	Units     unit.System
	On        paper.Options
}

// printGroove prints the groove itself at full size: its edges, centre lines,
// crossings with who goes over, and what is left for the chisel.
func printGroove(in grooveSheetIn) (pattern, diag.Findings) {
	g := in.Groove.Value
	d := paper.Drawing{Title: "the groove", Pieces: []paper.Piece{{Name: "groove", Drawn: 1}}}
	for _, c := range g.Area().Loops() {
		d.Lines = append(d.Lines, paper.Drawn{Use: paper.GrooveEdge, Contour: c})
	}
	var centres []geom.Contour
	for _, s := range g.Motif.Strands {
		d.Lines = append(d.Lines, paper.Drawn{Use: paper.Centre, Contour: s.Contour})
		centres = append(centres, s.Contour)
	}
	for i, x := range g.Weave.Crossings {
		drawCrossing(&d, g, i+1, x)
	}
	for _, l := range in.Leftovers {
		ring := geom.Circle(l.At, g.Size.Width/2+chiselRing)
		d.Lines = append(d.Lines, paper.Drawn{Use: paper.Chisel, Contour: ring})
	}
	d.Tables = append(d.Tables, crossingTable(g, in.Units), chiselTable(in.Leftovers, in.Units))
	d.Measure("the groove, centre lines", centres, in.Units)
	d.Notes = append(d.Notes, fmt.Sprintf("**The groove** is %s wide and %s deep. Radii are of its centre line.",
		both(g.Size.Width, in.Units), both(in.Depth, in.Units)))
	return printOn(in.On, d)
}

// drawCrossing draws the upper strand's sides through a crossing, as far as the
// lower one is wide there, and its number.
func drawCrossing(d *paper.Drawing, g groove.Groove, number int, x weave.Crossing) {
	upper := g.Motif.Strands[x.Upper().Strand]
	half := g.Size.Width / 2
	reach := half * (1 + math.Abs(math.Cos(x.Angle))) / math.Sin(x.Angle)
	s := x.Upper().S
	if s-reach < 0 && !upper.Contour.Closed || s+reach > upper.Length() && !upper.Contour.Closed {
		reach = math.Min(s, upper.Length()-s)
	}
	if reach > 0 {
		along := upper.Contour.Sub(s-reach, s+reach)
		for _, side := range []float64{half, -half} {
			if c := along.Parallel(side, geom.Mitre); c.Len() > 0 {
				d.Lines = append(d.Lines, paper.Drawn{Use: paper.Upper, Contour: c})
			}
		}
	}
	over, under := elementName(g.Motif, x.Upper()), elementName(g.Motif, x.Lower())
	d.Label(x.At, true, fmt.Sprintf("%d: %s over %s", number, over, under), fmt.Sprintf("%d: %s over", number, over), fmt.Sprint(number))
}

// elementName is the element that a visit runs along.
func elementName(m motif.Motif, v weave.Visit) string {
	return m.Sources[m.Strands[v.Strand].Source(v.S)].Name
}

func crossingTable(g groove.Groove, units unit.System) paper.Table {
	t := paper.Table{Title: "the groove: crossings", Head: []string{"crossing", "(x, y)", "over", "under"}}
	for i, x := range g.Weave.Crossings {
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(i + 1), paper.Place(x.At, units),
			elementName(g.Motif, x.Upper()), elementName(g.Motif, x.Lower()),
		})
	}
	return t
}

func chiselTable(left []proof.Leftover, units unit.System) paper.Table {
	t := paper.Table{Title: "the groove: left for the chisel", Head: []string{"place", "(x, y)", "what ends there"}}
	for i, l := range left {
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), paper.Place(l.At, units), l.Where})
	}
	return t
}

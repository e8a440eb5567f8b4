package build

import (
	"fmt"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/paper"
	"strapwork/pkg/weave"
)

// Sizes in mm of what is written on the groove's pattern.
const (
	patternLetters = 2.6
	chiselRing     = 2.0 // about a place for the chisel, beyond the groove
)

// groovePattern is the groove itself at full size: its edges, centre lines,
// crossings with who goes over, and what is left for the chisel.
func (r *Result) groovePattern() paper.Drawing {
	d := paper.Drawing{Title: "the groove"}
	for _, c := range r.Groove.Area().Loops() {
		d.Lines = append(d.Lines, paper.Drawn{Use: paper.GrooveEdge, Contour: c})
	}
	var centres []geom.Contour
	for _, s := range r.Motif.Strands {
		d.Lines = append(d.Lines, paper.Drawn{Use: paper.Centre, Contour: s.Contour})
		centres = append(centres, s.Contour)
	}
	for i, x := range r.Weave.Crossings {
		r.crossing(&d, i+1, x)
	}
	for _, l := range r.Proof.Leftovers {
		ring := geom.Circle(l.At, r.Groove.Size.Width/2+chiselRing)
		d.Lines = append(d.Lines, paper.Drawn{Use: paper.Chisel, Contour: ring})
	}
	d.Tables = append(d.Tables, r.crossingTable(), r.chiselTable())
	d.Measure(centres, r.Job.Units)
	d.Notes = append(d.Notes, fmt.Sprintf("The groove is %s wide and %s deep. Radii are of its centre line.",
		both(r.Job.Inlay.Width, r.Job.Units), both(r.Job.Inlay.Depth, r.Job.Units)))
	return d
}

// crossing draws the upper strand's sides through a crossing, as far as the
// lower one is wide there, and its number.
func (r *Result) crossing(d *paper.Drawing, number int, x weave.Crossing) {
	upper := r.Motif.Strands[x.Upper().Strand]
	half := r.Groove.Size.Width / 2
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
	at := x.At.Add(geom.Pt(half+1, half+1))
	d.Texts = append(d.Texts, paper.Text{
		At: at, Size: patternLetters, Bold: true,
		String: fmt.Sprintf("crossing %d: %s over", number, strandName(r.Motif, x.Upper())),
	})
}

// strandName is the element that a visit runs along.
func strandName(m motif.Motif, v weave.Visit) string {
	return m.Sources[m.Strands[v.Strand].Source(v.S)].Name
}

func (r *Result) crossingTable() paper.Table {
	t := paper.Table{Title: "Crossings", Head: []string{"crossing", "(x, y) in " + r.Job.Units.Name(), "over", "under"}}
	for i, x := range r.Weave.Crossings {
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(i + 1), paper.Place(x.At, r.Job.Units),
			strandName(r.Motif, x.Upper()), strandName(r.Motif, x.Lower()),
		})
	}
	return t
}

func (r *Result) chiselTable() paper.Table {
	t := paper.Table{Title: "Left for the chisel", Head: []string{"place", "(x, y) in " + r.Job.Units.Name(), "what ends there"}}
	for i, l := range r.Proof.Leftovers {
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), paper.Place(l.At, r.Job.Units), l.Where})
	}
	return t
}

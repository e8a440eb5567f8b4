package shop

import (
	"math"

	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/program"
	"strapwork/pkg/toolpath"
)

// sections tells which lines of a program that may be anybody's cut which
// strand, from where the moves are: what runs along a strand's centre line,
// within the groove's width, is cutting it. Moves below the top of the work that
// follow one another on one strand at one depth are one section.
func (r *Result) sections(steps []dryrun.Step) []program.Section {
	var list []program.Section
	open := false
	for i := range steps {
		m := &steps[i].Move
		if !m.Kind.Travels() || !m.From.Has(ngc.AxesXYZ) || !m.To.Has(ngc.AxesXYZ) || m.Kind == ngc.Rapid || m.To.Z >= 0 {
			open = open && !m.Kind.Travels()
			continue
		}
		strand, line := r.strandAt(m), int(m.Line)
		n := len(list)
		if open && (strand < 0 || list[n-1].Strand == strand) && list[n-1].Depth == -m.To.Z {
			list[n-1].Last = line
			continue
		}
		if strand < 0 || n > 0 && list[n-1].Last == line {
			open = false
			continue
		}
		list = append(list, program.Section{
			Line: line, Last: line, Strand: strand, Name: r.strandName(strand), Depth: -m.To.Z, Role: toolpath.Between,
		})
		open = true
	}
	return list
}

// strandAt is the strand that a move runs along, by its ends and its middle; -1
// if it is none.
func (r *Result) strandAt(m *ngc.Move) int {
	back := r.Grooving.Shift.Scale(-1)
	best, nearest := -1, math.Inf(1)
	for i, s := range r.Motif.Strands {
		far := 0.0
		for _, e := range m.Edges() {
			for _, p := range [3]geom.Point{e.A, e.Mid(), e.B} {
				q, _ := s.Contour.Nearest(p.Add(back))
				far = math.Max(far, q.Dist(p.Add(back)))
			}
		}
		if len(m.Edges()) > 0 && far <= r.Groove.Size.Width/2 && far < nearest {
			best, nearest = i, far
		}
	}
	return best
}

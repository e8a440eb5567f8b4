package build

import (
	"math"

	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/program"
	"strapwork/pkg/toolpath"
)

// sections says which lines of a program that may be anybody's cut which
// strand, from where the moves are: what runs along a strand's centre line,
// within the groove's width, is cutting it. Moves below the top of the work that
// follow one another on one strand at one depth are one section, with what
// slopes down to that depth.
func (r Result) sections(steps []dryrun.Step) []program.Section {
	c := sectioner{r: r, strand: -1}
	for i := range steps {
		m := &steps[i].Move
		switch {
		case !m.Kind.Travels():
		case m.Kind == ngc.Rapid || !m.From.Has(ngc.AxesXYZ) || !m.To.Has(ngc.AxesXYZ) || m.To.Z >= 0:
			c.strand = -1
		default:
			c.add(m)
		}
	}
	return c.list
}

// A sectioner gathers sections.
type sectioner struct {
	r      Result
	list   []program.Section
	strand int  // of the last section while it is open, else -1
	level  bool // it has a move at its depth
}

// add takes a cut into the open section, or begins another.
func (c *sectioner) add(m *ngc.Move) {
	strand, line := c.r.strandAt(m, c.strand), int(m.Line)
	depth, slopes, n := -m.To.Z, m.From.Z != m.To.Z, len(c.list)
	switch {
	case c.strand >= 0 && strand == c.strand && (depth == c.list[n-1].Depth || slopes && !c.level):
		c.list[n-1].Last, c.list[n-1].Depth = line, depth
		c.level = c.level || !slopes
		return
	case strand < 0 || n > 0 && c.list[n-1].Last == line:
		c.strand = -1
		return
	}
	c.list = append(c.list, program.Section{
		Line: line, Last: line, Strand: strand, Name: c.r.strandName(strand), Depth: depth, Role: toolpath.Between,
	})
	c.strand, c.level = strand, !slopes
}

// strandAt is the strand that a move runs along, by its ends and its middle: the
// one before, if it still does, else the nearest, else the one before round one
// of its mitres; -1 if it is none. What stands still in plan stays with the one
// before.
func (r Result) strandAt(m *ngc.Move, before int) int {
	const mitre = 4 // widths of the groove: no corner's tip is further off
	edges, width := m.Edges(), r.Groove.Size.Width
	off := math.Inf(1)
	if before >= 0 {
		off = r.offStrand(edges, before)
	}
	best, nearest := -1, width/2
	switch {
	case off <= nearest:
		return before
	case len(edges) == 0:
		return best
	}
	for i := range r.Motif.Strands {
		if far := r.offStrand(edges, i); far <= nearest {
			best, nearest = i, far
		}
	}
	if best < 0 && off <= mitre*width {
		return before
	}
	return best
}

// offStrand is how far edges of a program get from a strand's centre line, by
// their ends and their middles.
func (r Result) offStrand(edges []geom.Edge, strand int) float64 {
	line, far := r.Motif.Strands[strand].Contour, 0.0
	for _, e := range edges {
		for _, p := range [3]geom.Point{e.A, e.Mid(), e.B} {
			p = r.Grooving.Shift.Back(p)
			q, _ := line.Nearest(p)
			far = math.Max(far, q.Dist(p))
		}
	}
	return far
}

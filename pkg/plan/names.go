package plan

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
)

// nameCuts names cuts: by the element where a cut is one whole element, else by
// the strand and the cut's place among the strand's cuts.
func nameCuts(g *groove.Groove, cuts []*groove.Cut) {
	sorted := slices.Clone(cuts)
	slices.SortStableFunc(sorted, func(a, b *groove.Cut) int {
		return cmp.Or(a.Strand-b.Strand, cmp.Compare(a.From.S, b.From.S))
	})
	nth, strand := 0, -1
	for _, c := range sorted {
		if c.Strand != strand {
			nth, strand = 0, c.Strand
		}
		nth++
		if name, ok := wholeElement(g, *c); ok {
			c.Name = name
		} else {
			c.Name = g.Motif.Strands[strand].ID + "." + strconv.Itoa(nth)
		}
	}
}

// wholeElement is the name of the element that a cut is all of, and of no other.
func wholeElement(g *groove.Groove, c groove.Cut) (name string, ok bool) {
	if c.From.Kind == groove.StopSplit || c.To.Kind == groove.StopSplit {
		return "", false
	}
	s := g.Motif.Strands[c.Strand]
	first, offs := s.Source(c.From.S+motif.Same), s.Offsets()
	var length float64 // of the element's edges
	for i, src := range s.Sources {
		if src == first {
			length += offs[i+1] - offs[i]
			continue
		}
		for lap := 0.0; lap <= s.Length(); lap += s.Length() {
			if offs[i]+lap < c.To.S-motif.Same && offs[i+1]+lap > c.From.S+motif.Same {
				return "", false // the cut has some of another's too
			}
		}
	}
	return g.Motif.Sources[first].Name, math.Abs(c.To.S-c.From.S-length) < motif.Same
}

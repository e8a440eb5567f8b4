package plan

// The cuts that each chain takes by itself: what is planned with where no
// better is found, and what says whether the rider can follow the motif at all.
//
// A chain is split at candidates: where it passes under another strand, at
// joints of its edges, half-way between crossings.

import (
	"cmp"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/groove"
)

// Split splits the motif into cuts that the rider can follow, by strand and
// distance along it, each chain by itself: with the fewest splits in sight, then
// the fewest, then those furthest from crossings, where the openings of other
// strands are, and cuts of like length. An error says where it can't, for what
// reason, and which rider could.
func Split(g *groove.Groove) ([]groove.Cut, diag.Findings) {
	var cuts []groove.Cut
	var found diag.Findings
	reported := map[int]bool{}
	for i := range g.Motif.Strands {
		if g.ReportTightArcs(i, reported, &found) {
			continue
		}
		var own []groove.Cut
		for _, ch := range g.Chains(i) {
			own = append(own, splitChain(g, ch, &found)...)
		}
		slices.SortStableFunc(own, func(a, b groove.Cut) int { return cmp.Compare(a.From.S, b.From.S) })
		cuts = append(cuts, own...)
	}
	named := make([]*groove.Cut, len(cuts))
	for i := range cuts {
		named[i] = &cuts[i]
	}
	nameCuts(g, named)
	return cuts, found
}

// How many parts the gaps between crossings are divided into for candidates: few
// are tried first, more if those won't do.
const (
	coarseParts = 2
	fineParts   = 8
)

// splitChain returns the cuts of a chain.
func splitChain(g *groove.Groove, ch groove.Chain, found *diag.Findings) []groove.Cut {
	if !ch.Ring {
		if c := g.Stretch(ch.Strand, ch.From, ch.To); g.Follows(c) {
			return []groove.Cut{c}
		}
	}
	for _, parts := range [2]int{coarseParts, fineParts} {
		l := newLink(ch, candidates(g, ch, parts))
		if l.atoms == 0 {
			continue
		}
		l.walk(g, 0, nil)
		l.measure(g)
		if seams, _ := l.cheapest(l.atoms, l.dear(l.byLength)); seams != nil {
			return l.cuts(g, seams)
		}
	}
	g.ReportUnfollowed(ch, slices.Concat([]groove.Stop{ch.From}, candidates(g, ch, fineParts), []groove.Stop{ch.To}), found)
	return nil
}

// cuts are the cuts of a link that is split at seams.
func (l *link) cuts(g *groove.Groove, seams []int) []groove.Cut {
	ends := slices.Clone(seams)
	if l.Ring {
		ends = append(ends, seams[0]+l.atoms)
	} else {
		ends = slices.Concat([]int{0}, seams, []int{l.atoms})
	}
	var cuts []groove.Cut
	for i := 1; i < len(ends); i++ {
		cuts = append(cuts, g.Stretch(l.Strand, l.stopAt(ends[i-1], 0), l.stopAt(ends[i], 0)))
	}
	return cuts
}

// candidates returns the places at which a chain may be split, in order:
// passages under another strand, joints, and the places that divide each gap
// between crossings into equal parts.
func candidates(g *groove.Groove, ch groove.Chain, parts int) []groove.Stop {
	st := g.Motif.Strands[ch.Strand]
	length := st.Length()
	marks := []float64{ch.From.S}
	var stops []groove.Stop
	add := func(s float64, hidden bool) {
		stops = append(stops, g.SplitAt(ch.Strand, s, hidden))
	}
	for lap := 0.0; lap <= length; lap += length { // a chain of a closed strand may run past its start
		for _, v := range g.Weave.Visits[ch.Strand] {
			if s := v.S + lap; s > ch.From.S && s < ch.To.S {
				marks = append(marks, s)
				if v.Hides() {
					add(s, true)
				}
			}
		}
		for _, s := range st.Offsets()[1:] {
			if s += lap; s > ch.From.S && s < ch.To.S-groove.PastSplit {
				add(s, false)
			}
		}
		if !st.Contour.Closed {
			break
		}
	}
	marks = append(marks, ch.To.S)
	if len(marks) == 2 {
		parts = fineParts // a ring without crossings may be opened anywhere
	}
	if ch.Ring && len(marks) > 2 { // the gap that holds the strand's start is one gap
		marks = append(marks[1:len(marks)-1], marks[1]+length)
	}
	for i := 1; i < len(marks); i++ {
		for k := 1; k < parts; k++ {
			s := marks[i-1] + (marks[i]-marks[i-1])*float64(k)/float64(parts)
			if ch.Ring && s >= ch.To.S {
				s -= length
			}
			add(s, false)
		}
	}
	return tidy(stops)
}

// tidy sorts candidates and leaves out those that stand nearly where another
// does; a hidden one is kept in preference, then one at a kink.
func tidy(stops []groove.Stop) []groove.Stop {
	slices.SortStableFunc(stops, func(a, b groove.Stop) int { return cmp.Compare(a.S, b.S) })
	var kept []groove.Stop
	for _, s := range stops {
		if n := len(kept); n > 0 && s.S-kept[n-1].S < groove.PastSplit {
			if s.Hidden || (s.AtKink() && !kept[n-1].Hidden) {
				kept[n-1] = s
			}
			continue
		}
		kept = append(kept, s)
	}
	return kept
}

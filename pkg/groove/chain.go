package groove

// Chains: what of a strand could be cut in one go if the rider could follow it,
// and whether it can.

// A Chain is a smooth stretch of a strand, as long as the corners allow.
type Chain struct {
	Strand   int
	From, To Stop
	Ring     bool // From and To are one place of a smooth closed strand
}

// Chains returns the chains of a strand, in order.
func (g *Groove) Chains(strand int) []Chain {
	s := g.Motif.Strands[strand]
	length := s.Length()
	var stops []Stop
	for i, c := range g.corners[strand] {
		if g.Size.mustSplit(c) {
			stops = append(stops, Stop{Kind: StopCorner, S: c.S, At: c.P, corner: i})
		}
	}
	if s.Contour.Closed {
		if len(stops) == 0 {
			return []Chain{{Strand: strand, From: Stop{Kind: StopSplit}, To: Stop{Kind: StopSplit, S: length}, Ring: true}}
		}
		again := stops[0]
		again.S += length
		stops = append(stops, again)
	} else {
		first, last := g.ends(strand)
		stops = append(append([]Stop{first}, stops...), last)
	}
	var chains []Chain
	for i := 1; i < len(stops); i++ {
		chains = append(chains, Chain{Strand: strand, From: stops[i-1], To: stops[i]})
	}
	return chains
}

// ends returns the two ends of an open strand.
func (g *Groove) ends(strand int) (first, last Stop) {
	s := g.Motif.Strands[strand]
	first = Stop{Kind: StopFree, At: s.Contour.Start()}
	last = Stop{Kind: StopFree, S: s.Length(), At: s.Contour.End()}
	for _, t := range g.Weave.Tees {
		switch {
		case t.Strand != strand:
		case t.AtEnd:
			last.Kind = StopTee
		default:
			first.Kind = StopTee
		}
	}
	return first, last
}

// Reaches reports whether the rider can follow a chain from one stop to another
// in one cut.
func (g *Groove) Reaches(ch Chain, a, b Stop) bool {
	if b.S-a.S > ch.To.S-ch.From.S || g.crossesItself(ch.Strand, a.S, b.S) {
		return false
	}
	if reported := g.followsRing(Cut{From: a, To: b, Line: g.centreLine(ch.Strand, a, b)}); reported != unknown {
		return reported == yes
	}
	return g.follows(g.Stretch(ch.Strand, a, b))
}

// crossesItself reports whether a stretch of a strand passes a crossing twice:
// where its openings cross, the rider would lose its wall.
func (g *Groove) crossesItself(strand int, a, b float64) bool {
	seen := map[int]bool{}
	length := g.Motif.Strands[strand].Length()
	for lap := 0.0; lap <= 2*length; lap += length {
		for _, v := range g.Weave.Visits[strand] {
			if s := v.S + lap; s >= a && s <= b {
				if seen[v.Crossing] {
					return true
				}
				seen[v.Crossing] = true
			}
		}
	}
	return false
}

// SharpCorners is the number of corners that no cut turns at the sizes of g.
func (g *Groove) SharpCorners() int {
	n := 0
	for _, corners := range g.corners {
		for _, c := range corners {
			if g.Size.mustSplit(c) {
				n++
			}
		}
	}
	return n
}

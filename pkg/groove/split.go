package groove

// Where the chains are split into cuts.
//
// A chain runs from a sharp corner, free end or tee to the next, or is a ring.
// It is split at candidates: where it passes under another strand, at joints
// of its edges, half-way between crossings. A stretch of a stretch that the
// rider can follow can be followed too, so the furthest candidate reached from
// each is found in one walk, and the splits with the least total cost by
// dynamic programming over the candidates; on a ring, once for each candidate
// within the first stretch. Cost: fewest visible splits, then fewest splits,
// then the furthest from crossings, where the openings of other strands are,
// and stretches of like length.

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"strapwork/pkg/diag"
)

// A Chain is a smooth stretch of a strand, as long as the corners allow.
type Chain struct {
	Strand   int
	From, To Stop
	Ring     bool // From and To are one place of a smooth closed strand
}

// Cuts splits the motif into cuts that the rider can follow, by strand and
// distance along it. An error says where it can't, for what reason, and which
// rider could.
func (g *Groove) Cuts() ([]Cut, diag.Findings) {
	var cuts []Cut
	var found diag.Findings
	told := map[int]bool{}
	for i := range g.Motif.Strands {
		if g.reportTightArcs(i, told, &found) {
			continue
		}
		var own []Cut
		for _, ch := range g.Chains(i) {
			own = append(own, g.splitChain(ch, &found)...)
		}
		slices.SortStableFunc(own, func(a, b Cut) int { return cmp.Compare(a.From.S, b.From.S) })
		cuts = append(cuts, own...)
	}
	named := make([]*Cut, len(cuts))
	for i := range cuts {
		named[i] = &cuts[i]
	}
	g.Name(named)
	return cuts, found
}

// Name names cuts: by the element where a cut is one whole element, else by
// the strand and the cut's place among the strand's cuts.
func (g *Groove) Name(cuts []*Cut) {
	sorted := slices.Clone(cuts)
	slices.SortStableFunc(sorted, func(a, b *Cut) int {
		return cmp.Or(a.Strand-b.Strand, cmp.Compare(a.From.S, b.From.S))
	})
	nth, strand := 0, -1
	for _, c := range sorted {
		if c.Strand != strand {
			nth, strand = 0, c.Strand
		}
		c.Name = g.name(*c, nth)
		nth++
	}
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

// splitChain returns the cuts of a chain.
func (g *Groove) splitChain(ch Chain, found *diag.Findings) []Cut {
	if !ch.Ring {
		if c := g.Stretch(ch.Strand, ch.From, ch.To); g.follows(c) {
			return []Cut{c}
		}
	}
	stops, ok := g.bestSplits(ch)
	if !ok {
		g.reportUnfollowed(ch, found)
		return nil
	}
	var cuts []Cut
	for i := 1; i < len(stops); i++ {
		cuts = append(cuts, g.Stretch(ch.Strand, stops[i-1], stops[i]))
	}
	return cuts
}

// bestSplits returns the stops of the cheapest splitting, ends included. Few
// candidates are tried first, more if those won't do.
func (g *Groove) bestSplits(ch Chain) ([]Stop, bool) {
	for _, parts := range [2]int{2, 8} {
		sp := splitter{g: g, ch: ch}
		between := g.candidates(ch, parts)
		if !ch.Ring {
			sp.stops = append(append([]Stop{ch.From}, between...), ch.To)
			sp.far = g.Furthest(ch, sp.stops)
			if best, _, ok := sp.cheapest(0, len(sp.stops)-1); ok {
				return best, true
			}
		} else if best, ok := sp.ring(between); ok {
			return best, true
		}
	}
	return nil, false
}

// A splitter chooses among stops along a chain.
type splitter struct {
	g     *Groove
	ch    Chain
	stops []Stop
	far   []int // for each stop, the last one that the rider reaches from it in one cut
}

// Furthest returns, for each of a chain's stops in order, the last one that
// the rider reaches from it in one cut. What is reached from a stop is reached
// from the next as well, so one walk along the chain finds them all. The stops
// of a ring may run into a second lap.
func (g *Groove) Furthest(ch Chain, stops []Stop) []int {
	far := make([]int, len(stops))
	j := 0
	for i := range stops {
		j = max(i, j)
		for j+1 < len(stops) && g.Reaches(ch, stops[i], stops[j+1]) {
			j++
		}
		far[i] = j
	}
	return far
}

// Reaches reports whether the rider can follow a chain from one stop to another
// in one cut.
func (g *Groove) Reaches(ch Chain, a, b Stop) bool {
	if b.S-a.S > ch.To.S-ch.From.S || g.crossesItself(ch.Strand, a.S, b.S) {
		return false
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

// ring splits a ring: it is opened at each candidate in turn, and closed at
// the same one a lap later.
func (sp *splitter) ring(between []Stop) ([]Stop, bool) {
	n := len(between)
	sp.stops = slices.Clone(between)
	for _, s := range between {
		s.S += sp.ch.To.S - sp.ch.From.S
		sp.stops = append(sp.stops, s)
	}
	sp.far = sp.g.Furthest(sp.ch, sp.stops)
	var best []Stop
	least := math.Inf(1)
	// Every splitting has a split within the reach of the first candidate, so
	// no other beginning need be tried.
	for first := 0; first < n && first <= sp.far[0]; first++ {
		if found, cost, ok := sp.cheapest(first, first+n); ok && cost < least-sameCost {
			best, least = found, cost
		}
	}
	return best, best != nil
}

// Costs of a split: a visible one outweighs any number of others, and a split
// any choice of its place.
const (
	costVisible = 1e6
	costSplit   = 1.0
	costUneven  = 0.1
	sameCost    = 1e-9 // differences under this are rounding
)

// cheapest returns the cheapest choice among the stops from first to last,
// these two included, such that each stretch between can be followed.
func (sp *splitter) cheapest(first, last int) ([]Stop, float64, bool) {
	cost := make([]float64, last+1)
	back := make([]int, last+1)
	for i := first + 1; i <= last; i++ {
		cost[i] = math.Inf(1)
	}
	for i := first; i < last; i++ {
		for j := i + 1; j <= min(last, sp.far[i]); j++ {
			if c := cost[i] + sp.g.splitCost(sp.ch.Strand, sp.stops[j]) + sp.lengthCost(i, j); c < cost[j]-sameCost {
				cost[j], back[j] = c, i
			}
		}
	}
	if math.IsInf(cost[last], 1) {
		return nil, 0, false
	}
	chosen := []Stop{sp.stops[last]}
	for i := last; i > first; i = back[i] {
		chosen = append(chosen, sp.stops[back[i]])
	}
	slices.Reverse(chosen)
	return chosen, cost[last], true
}

func (g *Groove) splitCost(strand int, s Stop) float64 {
	switch {
	case s.Kind != StopSplit:
		return 0
	case s.Hidden:
		return costSplit
	}
	return costVisible + costSplit + 1/(1+g.FromCrossings(strand, s.S))
}

// FromCrossings is the distance along the strand to the nearest crossing.
func (g *Groove) FromCrossings(strand int, s float64) float64 {
	st := g.Motif.Strands[strand]
	best := st.Length()
	for _, v := range g.Weave.Visits[strand] {
		d := math.Abs(v.S - s)
		if st.Contour.Closed {
			d = math.Abs(math.Mod(d, st.Length()))
			d = math.Min(d, st.Length()-d)
		}
		best = math.Min(best, d)
	}
	return best
}

// lengthCost is the cost of a stretch for its share of the chain: the sum is
// least when all are equally long.
func (sp *splitter) lengthCost(i, j int) float64 {
	share := (sp.stops[j].S - sp.stops[i].S) / (sp.ch.To.S - sp.ch.From.S)
	return costUneven * share * share
}

// candidates returns the places at which a chain may be split, in order:
// passages under another strand, joints, and the places that divide each gap
// between crossings into equal parts.
func (g *Groove) candidates(ch Chain, parts int) []Stop {
	st := g.Motif.Strands[ch.Strand]
	length := st.Length()
	marks := []float64{ch.From.S}
	var stops []Stop
	add := func(s float64, hidden bool) {
		stops = append(stops, g.SplitAt(ch.Strand, s, hidden))
	}
	for lap := 0.0; lap <= length; lap += length { // a chain of a closed strand may run past its start
		for _, v := range g.Weave.Visits[ch.Strand] {
			if s := v.S + lap; s > ch.From.S && s < ch.To.S {
				marks = append(marks, s)
				if !v.Over {
					add(s, true)
				}
			}
		}
		for _, s := range st.Offsets()[1:] {
			if s += lap; s > ch.From.S && s < ch.To.S-pastSplit {
				add(s, false)
			}
		}
		if !st.Contour.Closed {
			break
		}
	}
	marks = append(marks, ch.To.S)
	if len(marks) == 2 {
		parts = 8 // a ring without crossings may be opened anywhere
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
func tidy(stops []Stop) []Stop {
	slices.SortStableFunc(stops, func(a, b Stop) int { return cmp.Compare(a.S, b.S) })
	var kept []Stop
	for _, s := range stops {
		if n := len(kept); n > 0 && s.S-kept[n-1].S < pastSplit {
			if s.Hidden || (s.kink && !kept[n-1].Hidden) {
				kept[n-1] = s
			}
			continue
		}
		kept = append(kept, s)
	}
	return kept
}

// name is the cut's name: the element's if the cut is one whole element and
// nothing else, else the strand's and the cut's number on it.
func (g *Groove) name(c Cut, nth int) string {
	s := g.Motif.Strands[c.Strand]
	first := s.Sources[s.Edge(c.From.S+aHair)]
	whole := c.From.Kind != StopSplit && c.To.Kind != StopSplit
	elements := map[int]bool{}
	offs := s.Offsets()
	for lap := 0.0; lap <= s.Length(); lap += s.Length() {
		for i, src := range s.Sources {
			if offs[i]+lap < c.To.S-aHair && offs[i+1]+lap > c.From.S+aHair {
				elements[src] = true
			}
		}
	}
	if whole && len(elements) == 1 && g.coversElement(c, first) {
		return g.Motif.Sources[first].Name
	}
	return s.ID + "." + strconv.Itoa(nth+1)
}

// aHair is a distance along a strand in mm that is nothing: the motif's
// tolerance for a joint.
const aHair = 0.001

// coversElement reports whether the cut is as long as all edges of the element.
func (g *Groove) coversElement(c Cut, source int) bool {
	s := g.Motif.Strands[c.Strand]
	var length float64
	for i, src := range s.Sources {
		if src == source {
			length += s.Offsets()[i+1] - s.Offsets()[i]
		}
	}
	return math.Abs(c.To.S-c.From.S-length) < aHair
}

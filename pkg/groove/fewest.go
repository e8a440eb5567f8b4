package groove

// Few counts the cuts that it takes at the sizes of g, without choosing the places
// of the splits: each chain is walked from stop to stop as far as the rider
// reaches. On a ring that is begun at one place only, so that the fewest may be
// one less. It is false where the rider can't follow some stretch.
func (g *Groove) Few() (n int, ok bool) {
	for i := range g.Motif.Strands {
		for _, ch := range g.Chains(i) {
			k, ok := g.fewOf(ch)
			if !ok {
				return 0, false
			}
			n += k
		}
	}
	return n, true
}

// Stops is the number of corners that no cut turns at the sizes of g.
func (g *Groove) Stops() int {
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

// fewOf counts the cuts of a chain.
func (g *Groove) fewOf(ch Chain) (n int, ok bool) {
	stops := g.candidates(ch, 2)
	if ch.Ring {
		if len(stops) == 0 {
			return 0, false
		}
		again := stops[0]
		again.S += ch.To.S - ch.From.S
		stops = append(stops, again)
	} else {
		stops = append(append([]Stop{ch.From}, stops...), ch.To)
	}
	last := len(stops) - 1
	for i := 0; i < last; n++ {
		// What is reached from a stop, all before it is reached too.
		lo, hi := i, last+1
		for step := last - i; hi-lo > 1; step = (hi - lo) / 2 {
			if j := lo + step; g.Reaches(ch, stops[i], stops[j]) {
				lo = j
			} else {
				hi = j
			}
		}
		if lo == i {
			return 0, false
		}
		i = lo
	}
	return n, true
}

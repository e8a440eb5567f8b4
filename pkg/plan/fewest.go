package plan

import "strapwork/pkg/groove"

// Few counts the cuts that it takes at the sizes of g, without choosing the places
// of the splits: each chain is walked from stop to stop as far as the rider
// reaches. On a ring that is begun at one place only, so that the fewest may be
// one less. It is false where the rider can't follow some stretch.
func Few(g *groove.Groove) (n int, ok bool) {
	for i := range g.Motif.Strands {
		for _, ch := range g.Chains(i) {
			k, ok := few(g, ch)
			if !ok {
				return 0, false
			}
			n += k
		}
	}
	return n, true
}

// few counts the cuts of a chain.
func few(g *groove.Groove, ch groove.Chain) (n int, ok bool) {
	l := newLink(ch, candidates(g, ch, coarseParts))
	for i := 0; i < l.atoms; n++ {
		// What is reached from a stop, all before it is reached too.
		lo, hi := i, l.atoms+1
		for step := l.atoms - i; hi-lo > 1; step = (hi - lo) / 2 {
			if j := lo + step; g.Reaches(ch, l.stopAt(i, 0), l.stopAt(j, 0)) {
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
	return n, l.atoms > 0
}

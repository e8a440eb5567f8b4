package plan

// Where a chain is split most cheaply: dynamic programming over its stops.
//
// A stretch of a stretch that the rider can follow can be followed too, so the
// furthest stop reached from each is found in one walk (walk), and the best
// way to each stop is the best of those to the stops that reach it and one
// stretch more. A ring is opened at each stop within the first stretch in turn:
// every splitting has a split there.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
)

// A price is what a way of splitting a chain costs: fewest splits in sight
// first, then fewest of any kind, then what looks best.
type price struct {
	visible, splits int
	looks           float64
}

// unpayable is more than any price.
var unpayable = price{visible: math.MaxInt}

func (p price) and(q price) price {
	return price{p.visible + q.visible, p.splits + q.splits, p.looks + q.looks}
}

// sameLooks is a difference in looks that is rounding.
const sameLooks = 1e-9

// below reports whether p is less than q, and not by rounding alone.
func (p price) below(q price) bool {
	if c := cmp.Or(cmp.Compare(p.visible, q.visible), cmp.Compare(p.splits, q.splits)); c != 0 {
		return c < 0
	}
	return p.looks < q.looks-sameLooks
}

// A pricing is the price of a stretch of a link from one stop to another, and of
// a split at the first unless that is the link's end; unpayable where such a
// stretch must not be.
type pricing func(from, to int, split bool) price

// bare counts splits alone.
func (l *link) bare(from, _ int, split bool) price {
	if !split {
		return price{}
	}
	if l.stops[from%l.atoms].Hidden {
		return price{splits: 1}
	}
	return price{visible: 1, splits: 1}
}

// dear is bare and looks: a split in sight should be far from crossings, where
// the openings of other strands are, and stretches should have like shares.
func (l *link) dear(share func(from, to int) float64) pricing {
	return func(from, to int, split bool) price {
		p := l.bare(from, to, split)
		if p.visible > 0 {
			p.looks = 1 / (1 + l.clear[from%l.atoms])
		}
		p.looks += uneven * share(from, to) * share(from, to)
		return p
	}
}

// byLength is the share of a link's length that a stretch has.
func (l *link) byLength(from, to int) float64 {
	return (l.stopAt(to, 0).S - l.stopAt(from, 0).S) / (l.To.S - l.From.S)
}

// uneven weighs the unevenness of stretches, the sum of the squares of their
// shares, against a split's nearness to a crossing.
const uneven = 0.1

// cheapest returns the stops at which a link is split most cheaply, the ends of
// a chain not among them, and the price; nil if there is no way. Of a ring it is
// those of one period, which the others are to be the images of.
func (l *link) cheapest(period int, of pricing) ([]int, price) {
	if !l.Ring {
		return l.between(0, l.atoms, of)
	}
	var best []int
	least := unpayable
	for first := 0; first < period && first <= l.far[0]; first++ {
		if inner, p := l.between(first, first+period, of); inner != nil && p.below(least) {
			best, least = append([]int{first}, inner...), p
		}
	}
	return best, least
}

// between returns the stops strictly between two, counted on past a ring's
// start, at which it is split most cheaply, and the price, on a ring with that
// of the split at the first; nil if every way leaves a stretch too long.
func (l *link) between(first, last int, of pricing) ([]int, price) {
	n := last - first
	best := slices.Repeat([]price{unpayable}, n+1)
	best[0] = price{}
	back := make([]int, n+1)
	for i := range n {
		if best[i] == unpayable {
			continue
		}
		reach := l.far[(first+i)%l.atoms]
		if l.Ring {
			reach = min(reach, l.atoms-1) // a ring's cut can't end where it begins
		}
		for j := i + 1; j <= min(n, i+reach); j++ {
			p := of(first+i, first+j, l.Ring || i > 0)
			if p == unpayable {
				continue
			}
			if p = best[i].and(p); p.below(best[j]) {
				best[j], back[j] = p, i
			}
		}
	}
	if best[n] == unpayable {
		return nil, unpayable
	}
	seams := []int{}
	for j := back[n]; j > 0; j = back[j] {
		seams = append(seams, first+j)
	}
	slices.Reverse(seams)
	return seams, best[n]
}

// newLink makes a link of a chain that may be split at stops, in order.
func newLink(ch groove.Chain, stops []groove.Stop) link {
	if ch.Ring {
		return link{Chain: ch, stops: stops, atoms: len(stops)}
	}
	return link{Chain: ch, stops: slices.Concat([]groove.Stop{ch.From}, stops, []groove.Stop{ch.To}), atoms: len(stops) + 1}
}

// walk finds how many atoms the rider reaches from each stop in one cut, taken to
// be no less than least. What is reached from a stop is reached from the next as
// well; but by a sharp corner an arm may be followed to its end and not to a place just
// short of that, where the other arm's walls are in the way. known, if any, is what is known of a stop beforehand, or 0.
func (l *link) walk(g *groove.Groove, least int, known func(i int) int) {
	l.far = make([]int, l.atoms)
	for i := range l.far {
		if known != nil {
			if l.far[i] = known(i); l.far[i] > 0 {
				continue
			}
		}
		n := least
		if i > 0 {
			n = max(n, l.far[i-1]-1)
		}
		for n < l.atoms && (l.Ring || i+n < l.atoms) && g.Reaches(l.Chain, l.stopAt(i, 0), l.stopAt(i+n+1, 0)) {
			n++
		}
		if l.To.Kind == groove.StopCorner && i+n < l.atoms && g.Reaches(l.Chain, l.stopAt(i, 0), l.To) {
			n = l.atoms - i
		}
		l.far[i] = n
	}
}

// measure finds how far each of a link's stops is from a crossing.
func (l *link) measure(g *groove.Groove) {
	l.clear = make([]float64, len(l.stops))
	for i, s := range l.stops {
		l.clear[i] = fromCrossings(g, l.Strand, s.S)
	}
}

// fromCrossings is the distance along a strand to the nearest crossing.
func fromCrossings(g *groove.Groove, strand int, s float64) float64 {
	st := g.Motif.Strands[strand]
	best := st.Length()
	for _, v := range g.Weave.Visits[strand] {
		best = math.Min(best, along(st, v.S, s))
	}
	return best
}

// along is the way along a strand from one place to another, the shorter way round
// where it is closed.
func along(st motif.Strand, a, b float64) float64 {
	d := math.Abs(a - b)
	if st.Contour.Closed {
		d = math.Mod(d, st.Length())
		d = math.Min(d, st.Length()-d)
	}
	return d
}

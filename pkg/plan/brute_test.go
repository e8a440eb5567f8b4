package plan

// An exhaustive search for the best plan, by another method than the
// planner's: backtracking over pieces of chains, one of those not yet cut
// after the other, each on every panel in every position that could cut it,
// for every choice of positions and of visible splits. It shares nothing with
// the planner but the groove's own tests of whether a cut can be followed and
// whether two conflict.

import (
	"math"
	"math/bits"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/work"
)

// mostPieces is what a set holds.
const mostPieces = 256

type set [mostPieces / 64]uint64

func (s *set) add(i int)     { s[i/64] |= 1 << (i % 64) }
func (s set) has(i int) bool { return s[i/64]&(1<<(i%64)) != 0 }

func (s set) or(t set) set {
	for i := range s {
		s[i] |= t[i]
	}
	return s
}

func (s set) meets(t set) bool {
	for i := range s {
		if s[i]&t[i] != 0 {
			return true
		}
	}
	return false
}

func (s set) each(visit func(int)) {
	for w, x := range s {
		for ; x != 0; x &= x - 1 {
			visit(64*w + bits.TrailingZeros64(x))
		}
	}
}

// A piece is a stretch of an open chain between two of its places.
type piece struct {
	chain groove.Chain
	link  int // the chain's number
	nth   int // along the chain
	line  geom.Contour
	cut   groove.Cut
}

// A place where a chain may be split.
type place struct {
	left, right int // pieces
	hidden      bool
}

type brute struct {
	t         testing.TB
	g         *groove.Groove
	pieces    []piece
	places    []place
	positions []Orientation
	image     [][]int // of pieces, by position
	moved     [][]int // of places, by position
	clash     []set   // pieces that no panel holds with each
	tied      []set   // pieces of the same chain that it holds only with all between
	reached   map[[2]int]bool
	steps     int
}

// reaches reports whether the rider can follow from the start of a piece to the
// end of another of the same chain, and remembers.
func (b *brute) reaches(from, to int) bool {
	ok, known := b.reached[[2]int{from, to}]
	if !known {
		ok = b.g.Reaches(b.pieces[from].chain, b.pieces[from].cut.From, b.pieces[to].cut.To)
		b.reached[[2]int{from, to}] = ok
	}
	return ok
}

// newBrute cuts the chains at their crossings, and each stretch between into
// parts. The motif's symmetry is given: nobody's finding.
func newBrute(t testing.TB, g *groove.Groove, positions []Orientation, parts int) *brute {
	b := &brute{t: t, g: g, positions: positions, reached: map[[2]int]bool{}}
	for i := range g.Motif.Strands {
		for _, ch := range g.Chains(i) {
			b.addChain(ch, parts)
		}
	}
	if len(b.pieces) > mostPieces {
		t.Fatalf("%d pieces are too many", len(b.pieces))
	}
	for _, pos := range positions {
		b.image = append(b.image, b.imageOf(laid(pos)))
	}
	b.movePlaces()
	b.relate()
	return b
}

func (b *brute) addChain(ch groove.Chain, parts int) {
	if ch.Ring || ch.From.S < 0 || ch.To.S > b.g.Motif.Strands[ch.Strand].Length()+1e-9 {
		b.t.Fatal("the exhaustive search takes open chains only")
	}
	at := []float64{ch.From.S}
	for _, v := range b.g.Weave.Visits[ch.Strand] {
		if v.S > ch.From.S && v.S < ch.To.S {
			at = append(at, v.S)
		}
	}
	at = append(at, ch.To.S)
	contour := b.g.Motif.Strands[ch.Strand].Contour
	stops := []groove.Stop{ch.From}
	for i := 1; i < len(at); i++ {
		for k := 1; k <= parts; k++ {
			s := at[i-1] + (at[i]-at[i-1])*float64(k)/float64(parts)
			p, _ := contour.At(s)
			stops = append(stops, groove.Stop{Kind: groove.StopSplit, S: s, At: p, Hidden: k == parts && isHidden(b.g, ch.Strand, p)})
		}
	}
	stops[len(stops)-1] = ch.To
	link := 0
	if n := len(b.pieces); n > 0 {
		link = b.pieces[n-1].link + 1
	}
	for i := 1; i < len(stops); i++ {
		if i > 1 {
			b.places = append(b.places, place{len(b.pieces) - 1, len(b.pieces), stops[i-1].Hidden})
		}
		b.pieces = append(b.pieces, piece{
			chain: ch, link: link, nth: i - 1,
			line: contour.Sub(stops[i-1].S, stops[i].S), cut: b.g.Stretch(ch.Strand, stops[i-1], stops[i]),
		})
	}
}

func (b *brute) imageOf(move func(geom.Point) geom.Point) []int {
	image := make([]int, len(b.pieces))
	for i, p := range b.pieces {
		mid, _ := p.line.At(p.line.Length() / 2)
		image[i] = slices.IndexFunc(b.pieces, func(q piece) bool {
			m, _ := q.line.At(q.line.Length() / 2)
			return m.Near(move(mid), 0.01)
		})
		if image[i] < 0 {
			b.t.Fatalf("piece %d has no image: the motif has not the symmetry that it was made with", i)
		}
	}
	return image
}

func (b *brute) movePlaces() {
	for _, image := range b.image {
		var row []int
		for _, p := range b.places {
			l, r := image[p.left], image[p.right]
			row = append(row, slices.IndexFunc(b.places, func(q place) bool {
				return q.left == min(l, r) && q.right == max(l, r)
			}))
		}
		b.moved = append(b.moved, row)
	}
}

// relate finds what pieces mean to each other on one panel.
func (b *brute) relate() {
	n := len(b.pieces)
	b.clash, b.tied = make([]set, n), make([]set, n)
	for i, p := range b.pieces {
		for k, q := range b.pieces[:i] {
			switch {
			case !b.g.Conflict(p.cut, q.cut):
			case p.link != q.link || !b.reaches(k, i):
				b.clash[i].add(k)
				b.clash[k].add(i)
			default:
				b.tied[i].add(k)
				b.tied[k].add(i)
			}
		}
	}
}

// A state is what the panels hold so far.
type state struct {
	held []set
	cut  set
}

// A trial is one question: panels laid in given positions, and where they
// can't be split.
type trial struct {
	*brute
	sets   [][]int
	blocks [][]set // for each panel and piece, what can't be split from it
}

// possible reports whether panels laid in the given positions can cut the
// motif, with visible splits at some of the given places only.
func (b *brute) possible(sets [][]int, visible []int) bool {
	q := trial{brute: b, sets: sets}
	for _, laid := range sets {
		q.blocks = append(q.blocks, b.blocksOf(laid, visible))
	}
	b.steps = 0
	return q.search(state{held: make([]set, len(sets))})
}

// blocksOf joins pieces that a panel laid in the given positions can't split.
func (b *brute) blocksOf(positions, visible []int) []set {
	blocks := make([]set, len(b.pieces))
	for i := range blocks {
		blocks[i].add(i)
	}
	for k, p := range b.places {
		free := true
		for _, g := range positions {
			m := b.moved[g][k]
			free = free && (b.places[m].hidden || slices.Contains(visible, m))
		}
		if !free {
			joined := blocks[p.left].or(blocks[p.right])
			joined.each(func(i int) { blocks[i] = joined })
		}
	}
	return blocks
}

// mostSteps guards against a search without end.
const mostSteps = 3_000_000

// search cuts the piece that can be cut in the fewest ways, in each of them.
func (q *trial) search(s state) bool {
	if q.steps++; q.steps > mostSteps {
		q.t.Fatal("the exhaustive search takes too long")
	}
	var best []state
	for i := range q.pieces {
		if s.cut.has(i) {
			continue
		}
		ways := q.ways(s, i)
		if len(ways) == 0 {
			return false
		}
		if best == nil || len(ways) < len(best) {
			best = ways
		}
		if len(ways) == 1 {
			break // it has to be cut so anyway
		}
	}
	if best == nil {
		return true
	}
	return slices.ContainsFunc(best, q.search)
}

// ways are the states in which piece i is cut as well. Of empty panels laid
// alike only the first is tried.
func (q *trial) ways(s state, i int) []state {
	var ways []state
	for p, laid := range q.sets {
		if s.held[p] == (set{}) && p > 0 && s.held[p-1] == (set{}) && slices.Equal(laid, q.sets[p-1]) {
			continue
		}
		for _, g := range laid {
			k := slices.Index(q.image[g], i)
			if held, ok := q.with(s.held[p], p, k); ok {
				next := state{held: slices.Clone(s.held), cut: s.cut}
				next.held[p] = held
				for _, h := range laid {
					held.each(func(a int) { next.cut.add(q.image[h][a]) })
				}
				ways = append(ways, next)
			}
		}
	}
	return ways
}

// with adds a piece to what panel p holds, and what follows from that.
func (q *trial) with(held set, p, piece int) (set, bool) {
	held = held.or(q.blocks[p][piece])
	for {
		more := held
		held.each(func(i int) {
			q.tied[i].each(func(k int) {
				for m := k; k < i && held.has(k) && m < i; m++ {
					more = more.or(q.blocks[p][m])
				}
			})
		})
		if more == held {
			break
		}
		held = more
	}
	ok := true
	held.each(func(i int) { ok = ok && !held.meets(q.clash[i]) })
	return held, ok && q.followed(held)
}

// followed checks the runs that are held.
func (q *trial) followed(held set) bool {
	first := -1
	for i, p := range q.pieces {
		if !held.has(i) {
			continue
		}
		if i == 0 || !held.has(i-1) || q.pieces[i-1].link != p.link {
			first = i
		}
		last := i+1 == len(q.pieces) || !held.has(i+1) || q.pieces[i+1].link != p.link
		if last && i > first && !q.reaches(first, i) {
			return false
		}
	}
	return true
}

// best is the fewest visible splits, set-ups and panels, in the order of
// preference.
func (b *brute) best(prefer work.Prefer) count {
	switch prefer {
	case work.PreferSetups:
		k := b.from(1, func(k int) bool { return b.possible(laidOnce(k), b.visiblePlaces()) })
		v := b.from(0, func(v int) bool { return b.split(v, func(at []int) bool { return b.possible(laidOnce(k), at) }) })
		return count{visible: v, setUps: k, panels: b.fewestPanels(k, v)}
	case work.PreferPanels:
		all := make([]int, len(b.positions))
		for i := range all {
			all[i] = i
		}
		m := b.from(1, func(m int) bool { return b.possible(slices.Repeat([][]int{all}, m), b.visiblePlaces()) })
		v := b.from(0, func(v int) bool {
			return b.split(v, func(at []int) bool { return b.possible(slices.Repeat([][]int{all}, m), at) })
		})
		k := b.from(m, func(k int) bool { return b.shared(m, k, v) })
		return count{visible: v, setUps: k, panels: m}
	case work.PreferClean:
	}
	v := b.from(0, func(v int) bool {
		return b.split(v, func(at []int) bool { return b.possible(laidOnce(len(b.pieces)), at) })
	})
	k := b.from(1, func(k int) bool { return b.split(v, func(at []int) bool { return b.possible(laidOnce(k), at) }) })
	return count{visible: v, setUps: k, panels: b.fewestPanels(k, v)}
}

func (b *brute) fewestPanels(k, v int) int {
	return b.from(1, func(m int) bool { return b.shared(m, k, v) })
}

// from is the first number that will do.
func (b *brute) from(n int, will func(int) bool) int {
	for ; !will(n); n++ {
		if n > len(b.pieces) {
			b.t.Fatal("the exhaustive search finds nothing")
		}
	}
	return n
}

func laidOnce(k int) [][]int {
	return slices.Repeat([][]int{{0}}, k)
}

func (b *brute) visiblePlaces() []int {
	var list []int
	for i, p := range b.places {
		if !p.hidden {
			list = append(list, i)
		}
	}
	return list
}

// split tries every choice of v visible places.
func (b *brute) split(v int, try func([]int) bool) bool {
	return subsets(b.visiblePlaces(), v, nil, try)
}

// subsets tries every choice of n of a list, each after some chosen before.
func subsets(list []int, n int, before []int, try func([]int) bool) bool {
	if n == 0 {
		return try(before)
	}
	for i := range list {
		if len(list)-i < n {
			return false
		}
		if subsets(list[i+1:], n-1, append(slices.Clone(before), list[i]), try) {
			return true
		}
	}
	return false
}

// shared reports whether m panels do in k set-ups with v visible splits.
func (b *brute) shared(m, k, v int) bool {
	rest := make([]int, len(b.positions)-1)
	for i := range rest {
		rest[i] = i + 1
	}
	var choose func(sets [][]int, left, most int) bool
	choose = func(sets [][]int, left, most int) bool {
		if len(sets) == m {
			return left == 0 && b.split(v, func(at []int) bool { return b.possible(sets, at) })
		}
		for size := min(most, left-(m-len(sets)-1), len(b.positions)); size >= 1; size-- {
			if size*(m-len(sets)) < left {
				break
			}
			if subsets(rest, size-1, nil, func(others []int) bool {
				return choose(append(slices.Clone(sets), append([]int{0}, others...)), left-size, size)
			}) {
				return true
			}
		}
		return false
	}
	return choose(nil, k, math.MaxInt)
}

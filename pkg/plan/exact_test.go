package plan

// The best plan there is, by another way of putting it than the planner's. It
// takes the places where chains may be split from the planner, and the
// groove's own tests of what can be followed and what conflicts; what it makes
// of them is its own:
//   - a panel's positions are unknowns like what it holds, and each opening is
//     used in a position or left alone, so one question says whether any so
//     many panels will do in so many set-ups;
//   - bounds come from above, from a plan down to where nothing is left;
//   - its questions are answered by a solver of its own.

import (
	"math"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/work"
)

type exact struct {
	t       testing.TB
	g       *groove.Groove
	links   []link // for their places only
	of      []int  // by atom: its link
	laid    []Orientation
	image   [][]int // by position and atom
	inverse []int
	seams   []brink
	moved   [][]int   // by position and seam
	never   [][2]int  // atoms that no panel holds together
	joined  [][][]int // for atoms that one holds in one run only: what is between, one way or the other
	pairs   [][2]int  // these atoms
	reach   [][]int   // by link and atom: where the longest cut from there ends
	clique  []int     // atoms that all need set-ups of their own
	blocked []blocked
	shows   [][]int // by link and place: 1 if a split there is seen
	least   int     // visible splits, chain by chain
	useAll  bool    // every opening is used in all positions of its panel: as the planner counts splits
	most    int     // failures that a question may cost
	spent   int
}

// What is blocked are atoms that no panel holds all of, after all, unless it
// holds one of others too.
type blocked struct{ all, unless []int }

// A brink is where one atom ends and the next begins.
type brink struct {
	before, after int
	hidden        bool
}

// newExact takes the places from at, and no more.
func newExact(t testing.TB, at *atoms, positions []Orientation, most int) *exact {
	x := &exact{t: t, g: at.g, links: at.links, of: at.of, laid: positions, most: most}
	for k, l := range x.links {
		for i := range l.atoms {
			if l.Ring || i > 0 {
				s := l.stopAt(i, 0)
				x.seams = append(x.seams, brink{x.atom(k, i-1), x.atom(k, i), isHidden(x.g, l.Strand, s.S)})
			}
		}
		x.reach = append(x.reach, x.reachOf(k))
		x.shows = append(x.shows, x.showsOf(k))
	}
	x.least = x.leastVisible()
	x.mapAtoms()
	x.mapSeams()
	x.relate()
	x.findClique()
	return x
}

// atom is the i-th atom of a link, on a ring counted round.
func (x *exact) atom(k, i int) int {
	l := x.links[k]
	return l.first + (i+l.atoms)%l.atoms
}

// reachOf finds from the end of a link back to its start where the longest cut
// from each place ends; of a ring never all. What ends short of the link's ends
// reaches no further than from the next place. What doesn't may: by a sharp
// corner a whole arm can be followed where a part of it can't.
func (x *exact) reachOf(k int) []int {
	l := x.links[k]
	reach := make([]int, l.atoms)
	ends := func(i, j int) bool { return x.g.Reaches(l.Chain, l.stopAt(i, 0), l.stopAt(j, 0)) }
	end := l.atoms - 1
	if l.Ring {
		end = 2*l.atoms - 2
	}
	for i := l.atoms - 1; i >= 0; i-- {
		if !l.Ring && ends(i, l.atoms) {
			reach[i] = l.atoms
			continue
		}
		if l.Ring {
			end = min(end, i+l.atoms-1)
		} else if i == 0 {
			end = l.atoms - 1
		}
		for end > i+1 && !ends(i, end) {
			end--
		}
		reach[i] = end
	}
	return reach
}

// mapAtoms finds the images of atoms, by their middles and ends.
func (x *exact) mapAtoms() {
	mids, ends := make([]geom.Point, len(x.of)), make([][2]geom.Point, len(x.of))
	for a, k := range x.of {
		l, i := x.links[k], a-x.links[k].first
		c := x.g.Motif.Strands[l.Strand].Contour.Sub(l.stopAt(i, 0).S, l.stopAt(i+1, 0).S)
		mids[a], _ = c.At(c.Length() / 2)
		ends[a] = [2]geom.Point{c.Start(), c.End()}
	}
	x.inverse = make([]int, len(x.laid))
	for g, pos := range x.laid {
		image := make([]int, len(mids))
		for a := range mids {
			image[a] = nearest(laid(pos), a, mids, ends)
		}
		if n := len(slices.Compact(slices.Sorted(slices.Values(image)))); n != len(mids) {
			x.t.Fatalf("laid at %v, %d atoms are laid on %d", pos, len(mids), n)
		}
		x.image = append(x.image, image)
		for h, back := range x.image {
			undone := true
			for a := range mids {
				undone = undone && image[back[a]] == a
			}
			if undone {
				x.inverse[g], x.inverse[h] = h, g
			}
		}
	}
}

// mapSeams finds the images of seams: they are between those of their atoms.
func (x *exact) mapSeams() {
	between := map[[2]int]int{}
	for k, s := range x.seams {
		between[[2]int{s.before, s.after}], between[[2]int{s.after, s.before}] = k, k
	}
	for g, image := range x.image {
		var row []int
		for _, s := range x.seams {
			k, ok := between[[2]int{image[s.before], image[s.after]}]
			if !ok {
				x.t.Fatalf("laid at %v, a seam has no image", x.laid[g])
			}
			row = append(row, k)
		}
		x.moved = append(x.moved, row)
	}
}

// nearest is the atom on which a moved one lies.
func nearest(move func(geom.Point) geom.Point, a int, mids []geom.Point, ends [][2]geom.Point) int {
	m, p, q := move(mids[a]), move(ends[a][0]), move(ends[a][1])
	best, least := 0, math.Inf(1)
	for b := range mids {
		off := m.Dist(mids[b])
		if off < least {
			off += min(p.Dist(ends[b][0])+q.Dist(ends[b][1]), p.Dist(ends[b][1])+q.Dist(ends[b][0]))
		}
		if off < least {
			best, least = b, off
		}
	}
	return best
}

// relate finds what atoms mean to one another on a panel.
func (x *exact) relate() {
	cuts, boxes := make([]groove.Cut, len(x.of)), make([]geom.Box, len(x.of))
	for a := range x.of {
		l := x.links[x.of[a]]
		cuts[a] = x.g.Stretch(l.Strand, l.stopAt(a-l.first, 0), l.stopAt(a-l.first+1, 0))
		boxes[a] = cuts[a].Line.Bounds().Expand(x.g.Size.Width + x.g.Apart()/2)
	}
	for a := range cuts {
		for b := range a {
			if !boxes[a].Meets(boxes[b]) || !x.g.Conflict(cuts[a], cuts[b]) {
				continue
			}
			if ways, ok := x.between(b, a); !ok {
				x.never = append(x.never, [2]int{b, a})
			} else if len(ways) > 0 {
				x.pairs, x.joined = append(x.pairs, [2]int{b, a}), append(x.joined, ways)
			}
		}
	}
}

// between returns what is between two atoms in the one or two runs that hold
// them; no ways if they are neighbours, and false if there is no such run.
func (x *exact) between(a, b int) (ways [][]int, ok bool) {
	k := x.of[a]
	if x.of[b] != k {
		return nil, false
	}
	l := x.links[k]
	for _, run := range [2][2]int{{a - l.first, b - l.first}, {b - l.first, a - l.first + l.atoms}} {
		if run[1] > run[0]+l.atoms || (!l.Ring && run[1] >= l.atoms) || run[1] >= x.mostReach(k, run[0]) {
			continue
		}
		var inner []int
		for i := run[0] + 1; i < run[1]; i++ {
			inner = append(inner, x.atom(k, i))
		}
		if inner == nil {
			return nil, true
		}
		ways = append(ways, inner)
	}
	return ways, len(ways) > 0
}

// mostReach is where the longest cut of an atom ends: it may begin before it.
func (x *exact) mostReach(k, i int) int {
	if x.links[k].Ring {
		return x.reach[k][i]
	}
	return slices.Max(x.reach[k][:i+1])
}

// findClique finds atoms that are never together, the one with most such
// others that are left first.
func (x *exact) findClique() {
	near := make([]map[int]bool, len(x.of))
	left := make([]int, len(x.of))
	for a := range near {
		near[a], left[a] = map[int]bool{}, a
	}
	for _, p := range x.never {
		near[p[0]][p[1]], near[p[1]][p[0]] = true, true
	}
	for len(left) > 0 {
		others := func(a int) (n int) {
			for _, b := range left {
				if near[a][b] {
					n++
				}
			}
			return n
		}
		best := slices.MaxFunc(left, func(a, b int) int { return others(a) - others(b) })
		x.clique = append(x.clique, best)
		left = slices.DeleteFunc(left, func(b int) bool { return !near[best][b] })
	}
}

// leastVisible is a number of visible splits that no plan beats: those of the
// chains, each by itself, were stretches too short allowed.
func (x *exact) leastVisible() int {
	sum := 0
	for k, l := range x.links {
		if !l.Ring {
			sum += x.leastFrom(k, 0, l.atoms)
			continue
		}
		best := math.MaxInt
		for i := range l.atoms {
			best = min(best, x.leastFrom(k, i, i+l.atoms)+x.shows[k][i])
		}
		sum += best
	}
	return sum
}

// leastFrom is the least number of visible splits strictly between two places.
func (x *exact) leastFrom(k, from, to int) int {
	l := x.links[k]
	cost := slices.Repeat([]int{math.MaxInt / 2}, to+1)
	cost[to] = 0
	for i := to - 1; i >= from; i-- {
		end := x.reach[k][i%l.atoms] + i/l.atoms*l.atoms
		for j := i + 1; j <= min(end, to); j++ {
			c := cost[j]
			if j < to {
				c += x.shows[k][j%l.atoms]
			}
			cost[i] = min(cost[i], c)
		}
	}
	return cost[from]
}

func (x *exact) showsOf(k int) []int {
	l := x.links[k]
	shows := make([]int, l.atoms)
	for i := range shows {
		if !isHidden(x.g, l.Strand, l.stopAt(i, 0).S) {
			shows[i] = 1
		}
	}
	return shows
}

// best improves on a known plan until nothing is better; false if some
// question was not answered.
func (x *exact) best(prefer work.Prefer, known count) (count, bool) {
	b := bettering{exact: x, count: known, ended: true}
	all := len(x.laid)
	switch prefer {
	case work.PreferSetups:
		b.lower(&b.setUps, max(1, len(x.clique)), func(n int) wanted { return wanted{n, n, anyNumber} })
		b.lower(&b.visible, x.least, func(n int) wanted { return wanted{b.setUps, b.setUps, n} })
		b.fewerPanels()
	case work.PreferPanels:
		b.lower(&b.panels, 1, func(n int) wanted { return wanted{n, n * all, anyNumber} })
		b.lower(&b.visible, x.least, func(n int) wanted { return wanted{b.panels, b.panels * all, n} })
		b.lower(&b.setUps, max(b.panels, len(x.clique)), func(n int) wanted { return wanted{b.panels, n, b.visible} })
	case work.PreferClean:
		// With a panel for every stretch the chains have nothing to do with one another.
		if b.visible != x.least {
			return b.count, false
		}
		b.lower(&b.setUps, max(1, len(x.clique)), func(n int) wanted { return wanted{n, n, b.visible} })
		b.fewerPanels()
	}
	return b.count, b.ended
}

type bettering struct {
	*exact
	count
	ended bool
}

func (b *bettering) fewerPanels() {
	n := len(b.laid)
	b.lower(&b.panels, (b.setUps+n-1)/n, func(m int) wanted { return wanted{m, b.setUps, b.visible} })
}

// lower lowers a number as far as can be, to least at most.
func (b *bettering) lower(n *int, least int, less func(n int) wanted) {
	for b.ended && *n > least {
		found, ended := b.ask(less(*n - 1))
		b.ended = ended
		if found == nil {
			return
		}
		b.count = *found
	}
}

// wanted is a question: so many panels, all positions in which they are laid, and
// visible splits at most.
type wanted struct{ panels, setUps, visible int }

const anyNumber = -1

// ask looks for such a plan, and counts it.
func (x *exact) ask(q wanted) (found *count, known bool) {
	if q.setUps < len(x.clique) {
		return nil, true
	}
	for {
		e := exactly{exact: x, wanted: q}
		e.put()
		is, known := e.solve(x.most)
		x.spent += e.conflict
		if !known || !is {
			return nil, known
		}
		a := e.read()
		if bad := x.faults(a); bad != nil {
			x.blocked = append(x.blocked, bad...)
			continue
		}
		c := x.counted(a)
		return &c, true
	}
}

package plan

// A small solver of clauses for the tests, so that the planner's is not asked
// about itself: a search that learns from what failed. Method: Marques-Silva and
// Sakallah, "GRASP" (1999), learning to the first unique implication point;
// watched literals, decisions by activity and restarts after Moskewicz et al.,
// "Chaff" (2001), and Luby et al. (1993).

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// A lit is a variable v, from 0, as 2v, or its negation as 2v+1.
type lit int

func (l lit) not() lit { return l ^ 1 }

const (
	unknown int8 = iota
	yes
	no
)

type decider struct {
	clauses  [][]lit
	watching [][]int // by literal: the clauses that watch it
	value    []int8  // by literal
	level    []int   // by variable
	because  []int   // by variable: the clause that set it, or none
	phase    []bool  // by variable: whether it was last false
	trail    []lit
	marks    []int // where each level begins on the trail
	read     int   // how much of the trail has been followed up
	queue    byActivity
	grow     float64
	refuted  bool
	conflict int // counted
	seen     []bool
}

const missing = -1

func (d *decider) variable() lit {
	v := len(d.level)
	d.watching = append(d.watching, nil, nil)
	d.value = append(d.value, unknown, unknown)
	d.level, d.because, d.phase = append(d.level, 0), append(d.because, missing), append(d.phase, true)
	d.queue.add(v)
	return lit(2 * v)
}

// add adds a clause; only before anything is decided.
func (d *decider) add(lits ...lit) {
	kept := make([]lit, 0, len(lits))
	for _, l := range lits {
		switch {
		case d.value[l] == yes || slices.Contains(kept, l.not()):
			return
		case d.value[l] == unknown && !slices.Contains(kept, l):
			kept = append(kept, l)
		}
	}
	switch len(kept) {
	case 0:
		d.refuted = true
	case 1:
		d.set(kept[0], missing)
		d.refuted = d.refuted || d.follow() != missing
	default:
		d.watch(kept)
	}
}

func (d *decider) watch(c []lit) int {
	d.clauses = append(d.clauses, c)
	for _, l := range c[:2] {
		d.watching[l] = append(d.watching[l], len(d.clauses)-1)
	}
	return len(d.clauses) - 1
}

func (d *decider) set(l lit, because int) {
	d.value[l], d.value[l.not()] = yes, no
	v := l / 2
	d.level[v], d.because[v] = len(d.marks), because
	d.trail = append(d.trail, l)
}

// follow sets what follows, and returns a clause that fails, or none.
func (d *decider) follow() int {
	for d.read < len(d.trail) {
		gone := d.trail[d.read].not()
		d.read++
		list, kept := d.watching[gone], d.watching[gone][:0]
		for i, k := range list {
			if d.rewatch(k, gone) {
				continue
			}
			kept = append(kept, k)
			first := d.clauses[k][0]
			if d.value[first] == no {
				d.watching[gone] = append(kept, list[i+1:]...)
				return k
			}
			if d.value[first] == unknown {
				d.set(first, k)
			}
		}
		d.watching[gone] = kept
	}
	return missing
}

// rewatch brings the watched literal that is gone to the second place, and
// finds another to watch in its stead, if it can.
func (d *decider) rewatch(k int, gone lit) bool {
	c := d.clauses[k]
	if c[0] == gone {
		c[0], c[1] = c[1], c[0]
	}
	if d.value[c[0]] == yes {
		return false
	}
	for i := 2; i < len(c); i++ {
		if d.value[c[i]] != no {
			c[1], c[i] = c[i], c[1]
			d.watching[c[1]] = append(d.watching[c[1]], k)
			return true
		}
	}
	return false
}

// learn returns the clause that a failure teaches, the literal to set first, and
// the level to go back to.
func (d *decider) learn(k int) (c []lit, back int) {
	c = []lit{0}
	seen := d.seen[:0]
	seen = append(seen, make([]bool, len(d.level))...)
	d.seen = seen
	open, at := 0, len(d.trail)
	for through := lit(missing); ; {
		for _, l := range d.clauses[k] {
			if v := l / 2; l != through && !seen[v] && d.level[v] > 0 {
				seen[v] = true
				d.raise(int(v))
				if d.level[v] == len(d.marks) {
					open++
				} else {
					c = append(c, l)
				}
			}
		}
		for at--; !seen[d.trail[at]/2]; at-- {
		}
		through = d.trail[at]
		if open--; open == 0 {
			c[0] = through.not()
			break
		}
		k = d.because[through/2]
	}
	for i := 1; i < len(c); i++ {
		if l := d.level[c[i]/2]; l > back {
			back = l
			c[1], c[i] = c[i], c[1]
		}
	}
	return c, back
}

// raise makes a variable more likely to be decided next.
func (d *decider) raise(v int) {
	const most, slower = 1e100, 0.95
	d.queue.raise(v, d.grow)
	if d.queue.of[v] > most {
		for i := range d.queue.of {
			d.queue.of[i] /= most
		}
		d.grow /= most
	}
}

func (d *decider) backTo(level int) {
	for len(d.trail) > d.marks[level] {
		l := d.trail[len(d.trail)-1]
		d.trail = d.trail[:len(d.trail)-1]
		d.value[l], d.value[l.not()] = unknown, unknown
		d.phase[l/2] = l%2 == 1
		d.queue.add(int(l / 2))
	}
	d.marks, d.read = d.marks[:level], len(d.trail)
}

// solve says whether there is a model, which value then holds; known is false
// if that took more failures than most.
func (d *decider) solve(most int) (is, known bool) {
	d.grow = 1
	for restart := 1; !d.refuted; restart++ {
		for left := 100 * luby(restart); left > 0; left-- {
			k := d.follow()
			if k == missing {
				left++ // nothing failed
				if !d.decide() {
					return true, true
				}
				continue
			}
			if len(d.marks) == 0 {
				return false, true
			}
			if d.conflict++; d.conflict > most {
				return false, false
			}
			d.turnBack(k)
		}
		if len(d.marks) > 0 {
			d.backTo(0)
		}
	}
	return false, true
}

func (d *decider) turnBack(k int) {
	c, back := d.learn(k)
	d.backTo(back)
	because := missing
	if len(c) > 1 {
		because = d.watch(c)
	}
	d.set(c[0], because)
	d.grow /= 0.95
}

// decide sets the most active variable; false if all are set.
func (d *decider) decide() bool {
	for v, ok := d.queue.take(); ok; v, ok = d.queue.take() {
		if d.value[2*v] != unknown {
			continue
		}
		l := lit(2 * v)
		if d.phase[v] {
			l = l.not()
		}
		d.marks = append(d.marks, len(d.trail))
		d.set(l, missing)
		return true
	}
	return false
}

// luby is the sequence 1 1 2 1 1 2 4 1 1 2 ...
func luby(i int) int {
	for k := 1; ; k++ {
		switch {
		case i == 1<<k-1:
			return 1 << (k - 1)
		case i < 1<<k-1:
			return luby(i - (1<<(k-1) - 1))
		}
	}
}

// byActivity is a heap of variables, the most active first.
type byActivity struct {
	heap []int
	at   []int // by variable: its place in the heap, or none
	of   []float64
}

func (q *byActivity) add(v int) {
	if v == len(q.at) {
		q.at, q.of = append(q.at, missing), append(q.of, 0)
	}
	if q.at[v] == missing {
		q.at[v] = len(q.heap)
		q.heap = append(q.heap, v)
		q.up(q.at[v])
	}
}

func (q *byActivity) raise(v int, by float64) {
	q.of[v] += by
	if q.at[v] != missing {
		q.up(q.at[v])
	}
}

func (q *byActivity) swap(i, j int) {
	q.heap[i], q.heap[j] = q.heap[j], q.heap[i]
	q.at[q.heap[i]], q.at[q.heap[j]] = i, j
}

func (q *byActivity) up(i int) {
	for ; i > 0 && q.of[q.heap[i]] > q.of[q.heap[(i-1)/2]]; i = (i - 1) / 2 {
		q.swap(i, (i-1)/2)
	}
}

func (q *byActivity) take() (v int, ok bool) {
	if len(q.heap) == 0 {
		return 0, false
	}
	v = q.heap[0]
	last := len(q.heap) - 1
	q.swap(0, last)
	q.heap, q.at[v] = q.heap[:last], missing
	for i := 0; ; {
		best := i
		for k := 2*i + 1; k <= 2*i+2 && k < last; k++ {
			if q.of[q.heap[k]] > q.of[q.heap[best]] {
				best = k
			}
		}
		if best == i {
			return v, true
		}
		q.swap(i, best)
		i = best
	}
}

// atMost lets no more than n of lits hold: a tree of merged counts in unary
// (Bailleux and Boufkhad, 2003).
func (d *decider) atMost(lits []lit, n int) {
	if n < len(lits) {
		if sum := d.counted(lits, n+1); n < len(sum) {
			d.add(sum[n].not())
		}
	}
}

// counted returns literals of which as many hold, at least, as of lits, up to
// most.
func (d *decider) counted(lits []lit, most int) []lit {
	if len(lits) < 2 {
		return lits
	}
	a, b := d.counted(lits[:len(lits)/2], most), d.counted(lits[len(lits)/2:], most)
	sum := make([]lit, min(len(a)+len(b), most))
	for i := range sum {
		sum[i] = d.variable()
	}
	for i := 0; i <= len(a); i++ {
		for k := 0; k <= len(b); k++ {
			if i+k == 0 {
				continue
			}
			c := []lit{sum[min(i+k, most)-1]}
			if i > 0 {
				c = append(c, a[i-1].not())
			}
			if k > 0 {
				c = append(c, b[k-1].not())
			}
			d.add(c...)
		}
	}
	return sum
}

// Pigeons and holes are refuted, their fitting numbers aren't, and random
// clauses are decided as by trying all values.
func TestDecider(t *testing.T) {
	for holes := 2; holes <= 6; holes++ {
		for _, pigeons := range []int{holes, holes + 1} {
			if is, known := pigeonholes(pigeons, holes).solve(100_000); !known || is != (pigeons == holes) {
				t.Errorf("%d in %d: %t, known %t", pigeons, holes, is, known)
			}
		}
	}
	rng := rand.New(rand.NewPCG(7, 7))
	for range 2000 {
		d := &decider{}
		const n = 8
		for range n {
			d.variable()
		}
		var all [][]lit
		for range 20 + rng.IntN(25) {
			c := []lit{lit(rng.IntN(2 * n)), lit(rng.IntN(2 * n)), lit(rng.IntN(2 * n))}
			all = append(all, c)
			d.add(slices.Clone(c)...)
		}
		few := rng.IntN(n)
		var lits []lit
		for v := range n {
			lits = append(lits, lit(2*v))
		}
		d.atMost(lits, few)
		is, known := d.solve(100_000)
		if want := byTrying(n, few, all); !known || is != want {
			t.Fatalf("%v, at most %d: %t, want %t", all, few, is, want)
		}
	}
}

func pigeonholes(pigeons, holes int) *decider {
	d := &decider{}
	in := make([][]lit, pigeons)
	for p := range in {
		for range holes {
			in[p] = append(in[p], d.variable())
		}
		d.add(in[p]...)
	}
	for h := range holes {
		for p := range in {
			for q := range p {
				d.add(in[p][h].not(), in[q][h].not())
			}
		}
	}
	return d
}

// byTrying reports whether some values of n variables, few of them true at
// most, meet every clause.
func byTrying(n, few int, all [][]lit) bool {
	for x := range 1 << n {
		holds := func(l lit) bool { return x>>(l/2)&1 == 1 != (l%2 == 1) }
		count := 0
		for v := range n {
			if holds(lit(2 * v)) {
				count++
			}
		}
		if count <= few && !slices.ContainsFunc(all, func(c []lit) bool { return !slices.ContainsFunc(c, holds) }) {
			return true
		}
	}
	return false
}

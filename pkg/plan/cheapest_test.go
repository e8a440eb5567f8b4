package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
)

// randomLink is a chain of so many atoms, each of some length, some of whose stops
// are hidden, on which the rider reaches as far as a random walk says: never less far
// from a stop than from the one before.
func randomLink(rng *rand.Rand, n int, ring bool) link {
	l := link{atoms: n, short: 0}
	l.Ring = ring
	s := 0.0
	for i := range n {
		l.stops = append(l.stops, groove.Stop{Kind: groove.StopSplit, S: s, Hidden: rng.IntN(3) == 0})
		l.clear = append(l.clear, 20*rng.Float64())
		s += 5 + 20*rng.Float64()
		reach := 1 + rng.IntN(4)
		if i > 0 {
			reach = max(reach, l.far[i-1]-1)
		}
		if !ring {
			reach = min(reach, n-i)
		}
		l.far = append(l.far, reach)
	}
	if ring { // the last reach past the start as far as the first do, at least
		for i := n - 1; i > 0 && l.far[i] > l.far[0]+n-i; i-- {
			l.far[0] = l.far[i] - (n - i)
		}
		for i := 1; i < n; i++ {
			l.far[i] = max(l.far[i], l.far[i-1]-1)
		}
	} else {
		l.stops = append(l.stops, groove.Stop{S: s})
		l.clear = append(l.clear, 0)
	}
	l.To.S = s
	return l
}

// everyWay tries all sets of stops, of a ring those of at least so many: the cheapest
// that leaves no stretch too long, and its price.
func everyWay(l *link, few int, of pricing) (best []int, least price) {
	least = unpayable
	first := 1
	if l.Ring {
		first = 0
	}
	for set := range 1 << (l.atoms - first) {
		var at []int
		for i := range l.atoms - first {
			if set>>i&1 == 1 {
				at = append(at, first+i)
			}
		}
		if l.Ring && len(at) < few {
			continue
		}
		ends := slices.Concat([]int{0}, at, []int{l.atoms})
		if l.Ring {
			ends = append(slices.Clone(at), at[0]+l.atoms)
		}
		sum, ok := price{}, true
		for k := 1; k < len(ends); k++ {
			from, to := ends[k-1], ends[k]
			ok = ok && to-from <= l.far[from%l.atoms]
			sum = sum.and(of(from, to, l.Ring || k > 1))
		}
		if ok && sum.below(least) {
			best, least = at, sum
		}
	}
	return best, least
}

// The cheapest splitting of random chains and rings is that of all sets of stops.
func TestCheapestOfAllWays(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	for n := range 400 {
		l := randomLink(rng, 2+rng.IntN(9), n%2 == 0)
		for name, of := range map[string]pricing{"splits": l.bare, "looks": l.dear(l.byLength)} {
			want, least := everyWay(&l, 2, of)
			got, p := l.cheapest(l.atoms, of)
			if p.visible != least.visible || p.splits != least.splits || math.Abs(p.looks-least.looks) > 1e-6 || (got == nil) != (want == nil && least == unpayable) {
				t.Errorf("%d, %s: %v at %+v, want %v at %+v\nring %t, reach %v, %+v", n, name, got, p, want, least, l.Ring, l.far, l.stops)
			}
		}
		if _, least := everyWay(&l, 2, l.bare); l.leastVisible() != least.visible {
			t.Errorf("%d: at least %d splits in sight, all ways have %d", n, l.leastVisible(), least.visible)
		}
		stretches := math.MaxInt
		every := func(_, _ int, split bool) price { return map[bool]price{true: {splits: 1}}[split] }
		if _, least := everyWay(&l, 2, every); l.Ring {
			stretches = least.splits
		} else {
			stretches = least.splits + 1
		}
		if got := l.leastStretches(); got != stretches {
			t.Errorf("%d: at least %d stretches, all ways have %d", n, got, stretches)
		}
	}
}

// Of a ring of four like quarters one is split most cheaply such that the others may
// be split alike; one split in each will do.
func TestCheapestPeriod(t *testing.T) {
	rng := rand.New(rand.NewPCG(63, 64))
	for n := range 50 {
		quarter := randomLink(rng, 2+rng.IntN(3), true)
		l := link{atoms: 4 * quarter.atoms}
		l.Ring = true
		l.To.S = 4 * quarter.To.S
		for i := range l.atoms {
			stop := quarter.stops[i%quarter.atoms]
			stop.S += float64(i/quarter.atoms) * quarter.To.S
			l.stops, l.clear, l.far = append(l.stops, stop), append(l.clear, quarter.clear[i%quarter.atoms]), append(l.far, quarter.far[i%quarter.atoms])
		}
		share := func(from, to int) float64 { return float64(to-from) / float64(quarter.atoms) }
		seams, p := l.cheapest(quarter.atoms, l.dear(share))
		want, least := everyWay(&quarter, 1, quarter.dear(share))
		if len(seams) != len(want) || p.visible != least.visible || p.splits != least.splits || math.Abs(p.looks-least.looks) > 1e-6 {
			t.Errorf("%d: %v at %+v, want %v at %+v", n, seams, p, want, least)
		}
	}
}

// Prices are compared part by part; looks that differ by rounding are alike.
func TestPrices(t *testing.T) {
	for _, c := range []struct {
		p, q price
		want bool
	}{
		{price{0, 9, 9}, price{1, 0, 0}, true},
		{price{1, 0, 0}, price{0, 9, 9}, false},
		{price{1, 2, 9}, price{1, 3, 0}, true},
		{price{1, 2, 0.5}, price{1, 2, 0.6}, true},
		{price{1, 2, 0.6}, price{1, 2, 0.5}, false},
		{price{1, 2, 0.5}, price{1, 2, 0.5 + 1e-12}, false},
		{price{5, 5, 5}, unpayable, true},
		{unpayable, unpayable, false},
	} {
		if got := c.p.below(c.q); got != c.want {
			t.Errorf("%+v below %+v: %t", c.p, c.q, got)
		}
	}
}

// What a rider reaches from a stop: atoms i to j are one run if from i it reaches
// j - i + 1 atoms, on a ring past its start too (by hand).
func TestRuns(t *testing.T) {
	at := &atoms{of: []int{0, 0, 0, 0, 0}, links: []link{{atoms: 5, far: []int{2, 1, 2, 2, 1}}}}
	for _, c := range []struct {
		i, j int
		ring bool
		want string
	}{
		{0, 1, false, "[[1 0]]"},
		{0, 2, false, "[]"},
		{1, 2, false, "[]"},
		{2, 3, false, "[[3 2]]"},
		{0, 4, false, "[]"},
		{0, 4, true, "[]"},
		{0, 3, true, "[]"},
	} {
		at.links[0].Ring = c.ring
		if got := fmt.Sprint(at.ways(c.i, c.j)); got != c.want {
			t.Errorf("atoms %d and %d, ring %t: %s, want %s", c.i, c.j, c.ring, got, c.want)
		}
	}
	at.links[0].far[4] = 2
	if got := fmt.Sprint(at.ways(0, 4)); got != "[[0 4]]" {
		t.Errorf("past a ring's start: %s, want [[0 4]]", got)
	}
	// All five can be followed from each: but a ring is never cut in one go.
	at.links[0].far = []int{5, 5, 5, 5, 5}
	for pair, want := range map[[2]int]string{{0, 2}: "[[1 1] [3 4]]", {0, 4}: "[[0 4]]"} {
		if got := fmt.Sprint(at.ways(pair[0], pair[1])); got != want {
			t.Errorf("%v of a ring: %s, want %s", pair, got, want)
		}
	}
}

// From a place between two seams the rider may reach an atom more than from the
// second of them: three atoms of which two are reached from each seam may be cut in
// one split that is under another strand wherever that is (the bound's definition).
func TestSureBounds(t *testing.T) {
	stop := func(hidden bool) groove.Stop { return groove.Stop{Kind: groove.StopSplit, Hidden: hidden} }
	open := link{atoms: 5, far: []int{2, 2, 2, 2, 1}, stops: []groove.Stop{{}, stop(false), stop(true), stop(false), stop(false), {}}}
	// Loosened to 3, 3, 3, 2, 1: one split, hidden, before atom 2, and from there to the end.
	if got, want := surelyVisible(&atoms{links: []link{open}}), 0; got != want {
		t.Errorf("%d splits in sight, want %d", got, want)
	}
	if got := open.leastVisible(); got != 1 {
		t.Errorf("%d splits in sight from seam to seam, want 1", got)
	}
	ring := link{atoms: 6, far: []int{2, 2, 2, 2, 2, 2}, stops: slices.Repeat([]groove.Stop{stop(false)}, 6)}
	ring.Ring = true
	if got := surelyVisible(&atoms{links: []link{ring}}); got != 2 {
		t.Errorf("a ring of six, three in reach at best: %d splits, want 2", got)
	}
	whole := link{atoms: 2, far: []int{2, 1}, stops: []groove.Stop{{}, stop(false), {}}}
	if got := surelyVisible(&atoms{links: []link{whole}}); got != 0 {
		t.Errorf("a chain that is cut whole: %d splits", got)
	}
}

// Cuts are named by their element where they are all of it and nothing else (by hand).
func TestNamesOfCuts(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"[[motif.path]]\nname = \"a\"\nd = \"M 0 0 H 200\"\n", []string{"a.1"}},
		{"[[motif.path]]\nname = \"a\"\nd = \"M 0 0 H 200 V 90\"\n", []string{"s1.1", "s1.2"}},
		{"[[motif.path]]\nname = \"a\"\nd = \"M 0 0 H 200\"\n[[motif.path]]\nname = \"b\"\nd = \"M 200 0 V 90\"\n", []string{"a.1", "b.1"}},
		{"[[motif.path]]\nname = \"a\"\nd = \"M 0 0 H 100\"\n[[motif.path]]\nname = \"b\"\nd = \"M 100 0 H 200\"\n", []string{"s1.1"}},
		{"[[motif.path]]\nname = \"a\"\nd = \"M 0 0 H 200\"\n[[motif.path]]\nname = \"b\"\nd = \"M 200 0 V 90\"\n[[motif.path]]\nname = \"c\"\nd = \"M 200 90 H 400\"\n[[motif.path]]\nname = \"d\"\nd = \"M 400 90 H 500\"\n", []string{"a.1", "b.1", "s1.3"}},
		{"[[motif.path]]\nname = \"a\"\nd = \"M 0 0 H 200\"\n[[motif.path]]\nname = \"b\"\nd = \"M 200 0 V 90 H 0 V 0\"\n", []string{"a.1", "s1.2", "s1.3", "s1.4"}},
	} {
		r := mustPrepare(t, "[motif]\n"+c.text+inlay+base)
		var got []string
		for _, cut := range r.cuts {
			got = append(got, cut.Name)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q, want %q of\n%s", got, c.want, c.text)
		}
	}
}

// Few counts what the cheapest splitting of all ways has at least, on a ring that is
// begun at one place perhaps one more.
func TestFew(t *testing.T) {
	for _, c := range []struct {
		path, router string
		want         int
	}{
		{"M 0 0 H 200", base, 1},
		{"M 0 0 H 200 V 100", base, 2},
		{"M 0 0 H 200 V 100 H 0 Z", base, 4},
		{"M 0 0 H 200 V 100", bushing, 2},
	} {
		r := mustPrepare(t, fmt.Sprintf("[motif]\n[[motif.path]]\nd = %q\n", c.path)+inlay+c.router)
		if got, ok := Few(&r.groove); got != c.want || !ok {
			t.Errorf("%s: %d cuts (%t), want %d", c.path, got, ok, c.want)
		}
	}
	rng := rand.New(rand.NewPCG(65, 66))
	for range 12 {
		_, r := randomCurved(t, rng, 1+rng.IntN(2), false, bushing)
		g := &r.groove
		got, ok := Few(g)
		least, rings := 0, 0
		for i := range g.Motif.Strands {
			for _, ch := range g.Chains(i) {
				l := newLink(ch, candidates(g, ch, coarseParts))
				l.walk(g, 0, nil)
				least += l.leastStretches()
				if ch.Ring {
					rings++
				}
			}
		}
		if !ok || got < least || got > least+rings {
			t.Errorf("%d cuts (%t), at least %d with %d rings", got, ok, least, rings)
		}
	}
	// A rider that is too wide for a bend follows nothing of it.
	r := mustPrepare(t, "[motif]\n[[motif.path]]\nd = \"M 0 0 H 100 A 30 30 0 0 1 100 60 H 0\"\n"+inlay+bushing)
	r.groove.Size.RiderRadius = 45
	if n, ok := Few(&r.groove); ok {
		t.Errorf("%d cuts with a rider of 90 mm round a bend of 30", n)
	}
}

// What a cut takes from stretches of a closed strand of 400 mm, laps on too (by hand).
func TestWithout(t *testing.T) {
	r := mustPrepare(t, "[motif]\n[[motif.path]]\nd = \"M -50 -50 H 50 V 50 H -50 Z\"\n"+inlay+base)
	stop := func(s float64) groove.Stop { return groove.Stop{S: s} }
	for _, c := range []struct {
		from, to float64
		list     []span
		want     []span
	}{
		{100, 200, []span{{0, 400}}, []span{{0, 100}, {200, 400}}},
		{350, 450, []span{{0, 100}}, []span{{50, 100}}},
		{350, 450, []span{{300, 400}}, []span{{300, 350}}},
		{350, 450, []span{{0, 400}}, []span{{50, 350}}},
		{0, 50, []span{{350, 450}}, []span{{350, 400}}},
		{0, 400, []span{{350, 450}}, nil},
		{100, 100.01, []span{{0, 400}}, []span{{0, 400}}},
	} {
		p := Plan{SetUps: []SetUp{{Tracks: []Track{{Cut: groove.Cut{From: stop(c.from), To: stop(c.to)}}}}}}
		o := onces{p: &p, g: &r.groove}
		if got := o.without(c.list, use{0, 0}); !slices.Equal(got, c.want) {
			t.Errorf("%v without %g to %g: %v, want %v", c.list, c.from, c.to, got, c.want)
		}
	}
}

// A chain is split under another strand rather than in sight, and in sight far from
// crossings: a loop that crosses itself, with a bar across its far side (by hand: the
// cuts of a rider that can't go round all of it).
func TestSplitInPreference(t *testing.T) {
	f := figure{paths: []geom.Contour{geom.Circle(geom.Pt(0, 0), 60)}}
	r := mustPrepare(t, f.text(9)+inlay+bushing)
	if len(r.cuts) != 2 || r.cuts[0].From.Hidden {
		t.Fatalf("a ring takes %d cuts", len(r.cuts))
	}
	if d := math.Abs(r.cuts[0].To.S-r.cuts[0].From.S) - math.Pi*60; math.Abs(d) > 1e-6 {
		t.Errorf("halves of a ring differ by %g mm", 2*d)
	}
	f.paths = append(f.paths, bar(geom.Pt(-100, 10), geom.Pt(100, 10)))
	r = mustPrepare(t, f.text(9)+inlay+bushing)
	hidden := 0
	for _, c := range r.cuts {
		for _, s := range [2]groove.Stop{c.From, c.To} {
			if s.Kind == groove.StopSplit && s.Hidden {
				hidden++
			} else if s.Kind == groove.StopSplit {
				if d := fromCrossings(&r.groove, c.Strand, s.S); d < 60 {
					t.Errorf("a split in sight %g mm from a crossing", d)
				}
			}
		}
	}
	if hidden != 2 { // the one place where the ring passes under, of two cuts
		t.Errorf("%d cuts end under the bar, want 2", hidden)
	}
}

// A chain that can be cut whole is reached whole, also between the places of a
// fine cutting-up, some of which are too near a sharp corner to be reached: the
// angles of this triangle are 36, 36 and 108 degrees (worked out from its corners).
func TestReachPastASharpCorner(t *testing.T) {
	r := mustPrepare(t, `[motif]
mirror = true
[[motif.path]]
name = "triangle"
d = "M 125.997645 -0.206065 L 34.594669 119.194365 L -107.206961 69.161731 Z"
`+inlay+bushing)
	at := finePlaces(&r.groove, []Orientation{{}})
	at.reach()
	for _, l := range at.links {
		if whole := r.groove.Reaches(l.Chain, l.From, l.To); !whole || l.far[0] < l.atoms {
			t.Errorf("whole: %t; %d of %d atoms are reached", whole, l.far[0], l.atoms)
		}
	}
}

package toolpath

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"strapwork/pkg/geom"
)

// laid is a planner of n rings and straights that don't meet, in the cells of a
// grid of 40 mm, each out by up to noise. Without noise many are as near as others.
func laid(t testing.TB, rng *rand.Rand, n int, rings, noise float64) *planner {
	t.Helper()
	p := &planner{o: usual(), courses: make([]course, n)}
	wide := int(math.Ceil(math.Sqrt(float64(n))))
	for i, cell := range rng.Perm(n) {
		at := geom.Pt(40*float64(cell%wide), 40*float64(cell/wide)).Add(geom.Pt(rng.Float64(), rng.Float64()).Scale(noise))
		c := course{strand: i, name: fmt.Sprint(i), play: 1, bit: 3, line: geom.Circle(at, 12)}
		switch {
		case rng.Float64() < rings/2:
			c.line = geom.Rect(geom.Box{Min: at, Max: at}.Expand(10))
		case rng.Float64() > rings:
			c.line = geom.Chain(false, geom.Line(at, at.Add(geom.Polar(12, math.Pi/4*float64(rng.IntN(8))))))
		}
		p.courses[i] = c.prepare()
	}
	if err := p.prepare(); err != nil {
		t.Fatal(err)
	}
	return p
}

// plainNext is nearestNext by looking at every strand that is left.
func (p *planner) plainNext(group []int, from *geom.Point) []stop {
	var stops []stop
	for left := slices.Clone(group); len(left) > 0; {
		best, bestStop, least := 0, stop{}, math.Inf(1)
		for k, strand := range left {
			if s, d := p.stopFrom(strand, from); d < least {
				best, bestStop, least = k, s, d
			}
			if from == nil {
				break
			}
		}
		stops = append(stops, bestStop)
		left = slices.Delete(left, best, best+1)
		out := bestStop.gate().out
		from = &out
	}
	return stops
}

// plainImprove is improve by trying every change within the window.
func (t *tour) plainImprove() {
	for range sweeps {
		better := t.enterOtherEnds()
		for i := range t.stops {
			for j := i + 1; j < min(len(t.stops), i+window); j++ {
				better = t.try(i, j, turnAll) || better
			}
		}
		for i := range t.stops {
			for n := 1; n <= longest && i+n <= len(t.stops); n++ {
				better = t.plainMove(i, n) || better
			}
		}
		if !better {
			return
		}
	}
}

func (t *tour) plainMove(i, n int) bool {
	asIs := slices.Clone(t.stops[i : i+n])
	turned := slices.Clone(asIs)
	slices.Reverse(turned)
	flip(turned)
	most, to, moved := worthIt, -1, asIs
	saved := t.through(t.at(i-1), asIs, t.at(i+n)) - t.hop(t.at(i-1), t.at(i+n))
	for j := max(0, i-window); j <= min(len(t.stops), i+n+window); j++ {
		for _, s := range [2][]stop{asIs, turned} {
			if gain := saved + t.hop(t.at(j-1), t.at(j)) - t.through(t.at(j-1), s, t.at(j)); (j < i || j > i+n) && gain > most {
				most, to, moved = gain, j, s
			}
		}
	}
	if to < 0 {
		return false
	}
	if to > i {
		to -= n
	}
	t.stops = slices.Insert(slices.Delete(t.stops, i, i+n), to, moved...)
	return true
}

// The order is the one that looking at all strands, and trying all changes, gives:
// from nowhere and from a place, with ties and with noise of any size.
func TestOrderIsThePlainOne(t *testing.T) {
	rng := rand.New(rand.NewPCG(63, 64))
	moved := 0
	for n, noise := range []float64{0, 0, 1e-12, 1e-9, 1e-7, 1e-6, 1e-4, 0.1, 5} {
		for _, rings := range []float64{0, 0.5, 1} {
			p := laid(t, rng, 30+rng.IntN(70), rings, noise)
			group := slices.Sorted(slices.Values(rng.Perm(len(p.courses))[:len(p.courses)-n]))
			var from *geom.Point
			if rng.IntN(2) == 0 {
				from = &geom.Point{X: 400 * rng.Float64(), Y: 20 * float64(rng.IntN(20))}
			}
			got, want := p.nearestNext(group, from), p.plainNext(group, from)
			if !slices.Equal(got, want) {
				t.Fatalf("noise %g, rings %g: not the nearest next", noise, rings)
			}
			a, b := tour{slices.Clone(got), from}, tour{want, from}
			a.improve()
			b.plainImprove()
			if !slices.Equal(a.stops, b.stops) {
				t.Fatalf("noise %g, rings %g: not improved as by trying all", noise, rings)
			}
			if !slices.Equal(a.stops, got) {
				moved++
			}
		}
	}
	if moved < 20 {
		t.Errorf("only %d tours could be improved", moved)
	}
}

// BenchmarkOrder puts rings, and rings and straights, in order: n log n is a
// little over twice the time for twice as many.
func BenchmarkOrder(b *testing.B) {
	for _, rings := range []float64{1, 0.5} {
		for _, n := range []int{1000, 2000, 4000, 8000} {
			b.Run(fmt.Sprintf("rings=%g/n=%d", rings, n), func(b *testing.B) {
				p := laid(b, rand.New(rand.NewPCG(65, 66)), n, rings, 3)
				for b.Loop() {
					t := tour{stops: p.nearestNext(all(n), nil)}
					t.improve()
				}
			})
		}
	}
}

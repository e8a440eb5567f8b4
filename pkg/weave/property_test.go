package weave

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/plait"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
)

func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

// scatter is a random motif of straights, arcs, rings and zigzags.
func scatter(r *rand.Rand, n int) []geom.Contour {
	at := func() float64 { return math.Round(r.Float64()*200000)/1000 - 100 }
	var cs []geom.Contour
	for range n {
		switch r.IntN(4) {
		case 0:
			cs = append(cs, polyline(at(), at(), at(), at()))
		case 1:
			cs = append(cs, arc(at(), at(), 10+30*r.Float64(), 360*r.Float64(), 40+300*r.Float64()))
		case 2:
			cs = append(cs, circle(at(), at(), 15+40*r.Float64()))
		default:
			cs = append(cs, polyline(at(), at(), at(), at(), at(), at()))
		}
	}
	return cs
}

// TestFewestBreaks compares the breaks made with the fewest of all
// assignments, tried one by one.
func TestFewestBreaks(t *testing.T) {
	compared, broken := 0, 0
	for seed := range uint64(400) {
		r := seeded(seed)
		m, w, found := mustWeave(t, jobOf(1, scatter(r, 3+r.IntN(5))...))
		if found.HasErrors() || len(w.Crossings) == 0 || len(w.Crossings) > 12 {
			continue
		}
		least := math.MaxInt
		for set := range 1 << len(w.Crossings) {
			least = min(least, breaks(m, w.with(set)))
		}
		if got := breaks(m, w); got != least {
			t.Errorf("seed %d: %d breaks, the fewest are %d", seed, got, least)
		}
		reported := 0
		for _, f := range found {
			if f.Rule == "weave-break" {
				reported++
			}
		}
		if reported != least {
			t.Errorf("seed %d: %d breaks reported, %d made", seed, reported, least)
		}
		compared++
		if least > 0 {
			broken++
		}
	}
	if compared < 200 || broken < 50 {
		t.Errorf("only %d motifs compared, %d with breaks", compared, broken)
	}
}

// TestOnAGrid weaves motifs on a coarse grid, where ends, vertices, tangencies
// and overlaps coincide all the time. What is not an error must be woven with
// the fewest breaks.
func TestOnAGrid(t *testing.T) {
	sound, vertices := 0, 0
	for seed := range uint64(3000) {
		r := seeded(5000 + seed)
		at := func() float64 { return float64(10 * (r.IntN(9) - 4)) }
		var cs []geom.Contour
		for range 2 + r.IntN(3) {
			switch r.IntN(4) {
			case 0:
				cs = append(cs, circle(at(), at(), float64(10*(1+r.IntN(3)))))
			case 1:
				cs = append(cs, arc(at(), at(), float64(10*(1+r.IntN(3))), float64(90*r.IntN(4)), float64(90*(1+r.IntN(3)))))
			default:
				cs = append(cs, polyline(at(), at(), at(), at(), at(), at()))
			}
		}
		j := jobOf(1+r.IntN(2), cs...)
		m, found := motif.Build(j.Motif)
		w, more := Build(m, j.Weave)
		if found.HasErrors() || more.HasErrors() || len(w.Crossings) > 10 {
			continue
		}
		sound++
		// Two closed curves cross an even number of times (Jordan).
		for pair, n := range closedPairs(m, w) {
			if n%2 != 0 {
				t.Errorf("seed %d: closed strands %v cross %d times", seed, pair, n)
			}
		}
		least := math.MaxInt
		for set := range 1 << len(w.Crossings) {
			least = min(least, breaks(m, w.with(set)))
		}
		if got := breaks(m, w); got != least {
			t.Errorf("seed %d: %d breaks, the fewest are %d", seed, got, least)
		}
		for _, c := range w.Crossings {
			for _, v := range c.Visits {
				if v.S == m.Strands[v.Strand].Offsets()[v.Edge] {
					vertices++
					break
				}
			}
		}
	}
	if sound < 500 || vertices < 100 {
		t.Errorf("only %d motifs without errors, %d crossings at vertices", sound, vertices)
	}
}

// closedPairs counts the crossings of each two different closed strands.
func closedPairs(m motif.Motif, w Weave) map[[2]int]int {
	n := map[[2]int]int{}
	for _, c := range w.Crossings {
		a, b := c.Visits[0].Strand, c.Visits[1].Strand
		if a != b && m.Strands[a].Contour.Closed && m.Strands[b].Contour.Closed {
			n[[2]int{a, b}]++
		}
	}
	return n
}

// TestLoopWithFreeEndInside is the smallest contradiction.
func TestLoopWithFreeEndInside(t *testing.T) {
	for _, c := range []struct {
		name     string
		contours []geom.Contour
		breaks   int
	}{
		{"end inside a ring", []geom.Contour{circle(0, 0, 30), polyline(0, 0, 60, 0)}, 1},
		{"both ends inside", []geom.Contour{circle(0, 0, 30), arc(30, 0, 20, 150, -300)}, 0},
		{"end inside its own loop", []geom.Contour{polyline(-60, 0, 40, 0, 40, 40, 0, 40, 0, -20, 20, -20, 20, 20)}, 1},
		{"right through", []geom.Contour{circle(0, 0, 30), polyline(-60, 0, 60, 0)}, 0},
	} {
		m, w, found := mustWeave(t, jobOf(1, c.contours...))
		if n := breaks(m, w); n != c.breaks || len(found) != c.breaks {
			t.Errorf("%s: %d breaks among %d crossings, want %d: %v", c.name, n, len(w.Crossings), c.breaks, found)
		}
		marked := slices.ContainsFunc(w.Crossings, func(c Crossing) bool { return c.Broken })
		if marked != (c.breaks > 0) {
			t.Errorf("%s: crossings marked as broken: %v", c.name, marked)
		}
	}
}

// TestMovedMotif turns, shifts and stretches random motifs: the crossings move
// along and the weave stays. A mirror image and a reversed strand keep it too,
// for over and under are seen from above.
func TestMovedMotif(t *testing.T) {
	for seed := range uint64(60) {
		r := seeded(1000 + seed)
		cs := scatter(r, 3+r.IntN(8))
		move := geom.Turning(2 * math.Pi * r.Float64()).
			Then(geom.Scaling(1 + r.Float64())).
			Then(geom.Shifting(geom.Pt(100*r.Float64(), -50*r.Float64())))
		if seed%3 == 0 {
			move = geom.MirrorX().Then(move)
		}
		moved := make([]geom.Contour, len(cs))
		for i, c := range cs {
			moved[i] = move.Contour(c)
		}
		m, w, found := mustWeave(t, jobOf(1, cs...))
		mm, u, _ := mustWeave(t, jobOf(1, moved...))
		if len(w.Crossings) != len(u.Crossings) || len(m.Strands) != len(mm.Strands) {
			t.Errorf("seed %d: %d crossings became %d", seed, len(w.Crossings), len(u.Crossings))
			continue
		}
		for i, c := range w.Crossings {
			d := u.Crossings[i]
			if !move.Apply(c.At).Near(d.At, 1e-6) || math.Abs(c.Angle-d.Angle) > 1e-6 {
				t.Errorf("seed %d: crossing %d moved to %v", seed, i, d.At)
			}
			// Among several weaves with the fewest breaks either may be taken.
			if len(found) == 0 && c.Visits[0].Over != d.Visits[0].Over {
				t.Errorf("seed %d: crossing %d changed over and under", seed, i)
			}
		}
	}
}

// TestReversed runs all strands the other way: places, angles and the number
// of breaks stay.
func TestReversed(t *testing.T) {
	for seed := range uint64(60) {
		r := seeded(2000 + seed)
		cs := scatter(r, 3+r.IntN(8))
		back := make([]geom.Contour, len(cs))
		for i, c := range cs {
			back[i] = c.Reverse()
		}
		m, w, _ := mustWeave(t, jobOf(1, cs...))
		mb, u, _ := mustWeave(t, jobOf(1, back...))
		if breaks(m, w) != breaks(mb, u) {
			t.Errorf("seed %d: %d breaks, reversed %d", seed, breaks(m, w), breaks(mb, u))
		}
		places := func(w Weave) (ps []geom.Point) {
			for _, c := range w.Crossings {
				ps = append(ps, geom.Pt(math.Round(c.At.X*1e6), math.Round(c.At.Y*1e6)))
			}
			slices.SortFunc(ps, func(p, q geom.Point) int {
				if p.X != q.X {
					return int(math.Copysign(1, p.X-q.X))
				}
				return int(math.Copysign(1, p.Y-q.Y))
			})
			return ps
		}
		if !slices.Equal(places(w), places(u)) {
			t.Errorf("seed %d: crossings differ: %v, reversed %v", seed, places(w), places(u))
		}
	}
}

// TestSymmetry turns a motif of copies by one step: over and under alternate
// there just as well, so the weave turns with it or is exchanged throughout.
func TestSymmetry(t *testing.T) {
	for _, j := range []*job.Job{loopedTriangle(), jobOf(5, circle(30, 0, 25)), jobOf(6, circle(40, 0, 45))} {
		_, w, _ := mustWeave(t, j)
		turn := geom.TurningFraction(1, j.Motif.Copies)
		for _, c := range w.Crossings {
			if i, d := w.nearest(turn.Apply(c.At)); d > 1e-6 || math.Abs(w.Crossings[i].Angle-c.Angle) > 1e-6 {
				t.Errorf("%d copies: the crossing at %v has no copy", j.Motif.Copies, c.At)
			}
		}
	}
}

func TestPairUp(t *testing.T) {
	for seed := range uint64(600) {
		r := seeded(3000 + seed)
		n := 2 * (1 + r.IntN(6))
		dist := randomDistances(r, n, 1+r.IntN(12))
		mate := pairUp(dist)
		sum := 0
		for i, j := range mate {
			if j < 0 || j == i || mate[j] != i {
				t.Fatalf("seed %d: no pairing: %v", seed, mate)
			}
			sum += dist[i][j]
		}
		if best := leastSum(dist); sum/2 != best {
			t.Errorf("seed %d: sum %d, least %d", seed, sum/2, best)
		}
	}
}

// TestPairUpProof checks pairings too large to try by the proof of the duality
// theorem: labels that no edge exceeds, and whose sum the pairing attains.
func TestPairUpProof(t *testing.T) {
	for seed := range uint64(40) {
		r := seeded(4000 + seed)
		m := newMatcher(randomDistances(r, 2*(10+r.IntN(40)), 2+r.IntN(30)))
		for range m.n / 2 {
			m.augmentOnce()
		}
		sum, bound := 0, 0
		holds := map[int]int{} // of each blossom: its vertices
		for u := 1; u <= m.n; u++ {
			bound += m.label[u]
			sum += m.bonds[u][m.mate[u]].value
			for b := m.n + 1; b <= m.nodes; b++ {
				if m.top[b] != 0 && m.petalOf[b][u] != 0 {
					holds[b]++
				}
			}
			for v := 1; v < u; v++ {
				if gap := m.gap(m.bonds[u][v]) + m.shared(u, v); gap < 0 {
					t.Fatalf("seed %d: the labels of %d and %d fall short by %d", seed, u, v, -gap)
				}
			}
		}
		for b, n := range holds {
			if m.label[b] < 0 || n%2 == 0 {
				t.Fatalf("seed %d: blossom %d of %d has label %d", seed, b, n, m.label[b])
			}
			bound += m.label[b] * (n - 1) / 2
		}
		if sum != bound {
			t.Errorf("seed %d: the pairing's sum is %d, its bound %d", seed, sum, bound)
		}
	}
}

// shared adds up the labels of the blossoms that hold both vertices.
func (m *matcher) shared(u, v int) int {
	sum := 0
	for b := m.n + 1; b <= m.nodes; b++ {
		if m.top[b] != 0 && m.petalOf[b][u] != 0 && m.petalOf[b][v] != 0 {
			sum += m.label[b]
		}
	}
	return sum
}

func randomDistances(r *rand.Rand, n, longest int) [][]int {
	dist := make([][]int, n)
	for i := range dist {
		dist[i] = make([]int, n)
		for j := range i {
			dist[i][j] = 1 + r.IntN(longest)
			dist[j][i] = dist[i][j]
		}
	}
	return dist
}

// leastSum is the length of the shortest pairing, by dynamic programming over
// the sets of what is paired: slow, and plainly right.
func leastSum(dist [][]int) int {
	least := make([]int, 1<<len(dist)) // of each set: to pair its members
	for set := 1; set < len(least); set++ {
		least[set] = math.MaxInt32
		for i := range dist {
			for j := range i {
				if both := 1<<i | 1<<j; set&both == both {
					least[set] = min(least[set], dist[i][j]+least[set&^both])
				}
			}
		}
	}
	return least[len(least)-1]
}

func benchmarkPlait(b *testing.B, squares int) {
	j := jobOf(1, plait.Lines(squares, squares+1, 20)...)
	m, _ := motif.Build(j.Motif)
	for b.Loop() {
		w, _ := Build(m, j.Weave)
		if len(w.Crossings) != 2*squares*(squares+1)-2*squares-1 {
			b.Fatal(len(w.Crossings))
		}
	}
}

func BenchmarkThousandCrossings(b *testing.B)    { benchmarkPlait(b, 23) }
func BenchmarkTenThousandCrossings(b *testing.B) { benchmarkPlait(b, 71) }

package laying

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// listOf lists the pieces of lines, woven in turn but where a crossing is flipped.
func listOf(t *testing.T, flips []work.Flip, lines ...geom.Contour) (l cutlist.List, m motif.Motif, ok bool) {
	t.Helper()
	return listIn(t, nil, flips, lines...)
}

// listIn is listOf for a table of sections.
func listIn(t *testing.T, sections []cutlist.Section, flips []work.Flip, lines ...geom.Contour) (l cutlist.List, m motif.Motif, ok bool) {
	t.Helper()
	d := work.Drawing{Copies: 1}
	for i, c := range lines {
		d.Elements = append(d.Elements, work.Element{Name: string(rune('a' + i)), Contour: c})
	}
	m, found := motif.Build(d)
	w, more := weave.Build(m, work.Weaving{FirstOver: true, Flips: flips})
	found.Add(more...)
	layup := []work.Strip{{Material: "maple", Thickness: 0.8}, {Material: "pear", Thickness: 0.9}, {Material: "maple", Thickness: 0.8}}
	in, more := inlay.Build(inlay.Params{Strips: layup, Width: 2.5}, m, w)
	found.Add(more...)
	return cutlist.New(cutlist.Params{Inlay: work.Inlay{Depth: 3, Width: 2.5, Strips: layup}, Sections: sections}, in, m), m, !found.HasErrors()
}

// A butt is a stretch that is cut against others at a place.
type butt struct {
	at            geom.Point
	lower, uppers int // a bit for each stretch
}

// butts finds what lies on what by the pieces' areas: the upper ones are those that hold the
// middle of the crossing, none where a third strand covers it.
func butts(t *testing.T, l cutlist.List, m motif.Motif) (list []butt, units int) {
	t.Helper()
	unit := map[[2]int]int{}
	for _, p := range l.Pieces {
		key := [2]int{p.Strand, p.Stretch}
		if _, met := unit[key]; !met {
			unit[key] = len(unit)
		}
	}
	for _, p := range l.Pieces {
		for _, e := range p.Ends {
			for _, on := range e.On {
				b := butt{lower: 1 << unit[[2]int{p.Strand, p.Stretch}]}
				b.at, _ = m.Strands[on.Strand].Contour.At(on.S)
				for _, u := range l.Pieces {
					if u.Strand == on.Strand && u.Area.Contains(b.at) {
						b.uppers |= 1 << unit[[2]int{u.Strand, u.Stretch}]
					}
				}
				list = append(list, b)
			}
		}
	}
	return list, len(unit)
}

// fewest is the least number of dummies of any order, by trying all: of every set of
// stretches that may lie already, the fewest places at which one had to stand (dynamic
// programming over sets, Held and Karp's way).
func fewest(list []butt, units int) int {
	places := map[geom.Point]*[2]int{} // lowers and uppers
	for _, b := range list {
		if places[b.at] == nil {
			places[b.at] = new([2]int)
		}
		places[b.at][0] |= b.lower
		places[b.at][1] |= b.uppers
	}
	best := make([]int, 1<<units)
	for set := 1; set < len(best); set++ {
		best[set] = math.MaxInt
		for rest := set; rest != 0; rest &= rest - 1 {
			next := 1 << bits.TrailingZeros(uint(rest))
			before := set &^ next
			cost := best[before]
			for _, p := range places {
				if p[0]&next != 0 && p[1]&^before != 0 && p[0]&before == 0 {
					cost++
				}
			}
			best[set] = min(best[set], cost)
		}
	}
	return best[len(best)-1]
}

// holds checks that every piece is fitted against what lies or against a dummy, and that
// every piece is laid once; it returns how many dummies there are.
func holds(t *testing.T, o Order, l cutlist.List, m motif.Motif) int {
	t.Helper()
	step := map[int]int{}
	count := 0
	var dummies []Dummy
	for i, s := range o.Steps {
		for _, u := range s.Stretches {
			for n := u.First; n <= u.Last; n++ {
				if step[n] != 0 {
					t.Errorf("piece %d is laid twice", n)
				}
				step[n] = i + 1
			}
		}
		for _, d := range s.Dummies {
			if d.In != i+1 || d.Out < d.In {
				t.Errorf("in step %d a dummy is put in for %d to %d", i+1, d.In, d.Out)
			}
		}
		count += len(s.Dummies)
		dummies = append(dummies, s.Dummies...)
	}
	if len(step) != len(l.Pieces) || count != o.Dummies {
		t.Errorf("%d of %d pieces are laid, %d dummies listed of %d", len(step), len(l.Pieces), count, o.Dummies)
	}
	for _, p := range l.Pieces {
		for _, e := range p.Ends {
			for _, on := range e.On {
				at, _ := m.Strands[on.Strand].Contour.At(on.S)
				stands := false
				for _, d := range dummies {
					stands = stands || d.At.Near(at, 1e-6) && d.In <= step[p.Number]
				}
				for _, u := range l.Pieces {
					if u.Strand == on.Strand && u.Area.Contains(at) && step[u.Number] >= step[p.Number] && !stands {
						t.Errorf("piece %d is laid in step %d against piece %d of step %d, and no dummy stands at %v", p.Number, step[p.Number], u.Number, step[u.Number], at)
					}
				}
			}
		}
	}
	return count
}

// scatter is a random motif of straights, arcs and rings.
func scatter(r *rand.Rand, n int) (cs []geom.Contour) {
	at := func() geom.Point { return geom.Pt(math.Round(r.Float64()*200)-100, math.Round(r.Float64()*200)-100) }
	for range n {
		if r.IntN(2) == 0 {
			cs = append(cs, geom.Circle(at(), 25+50*r.Float64()))
			continue
		}
		cs = append(cs, geom.Chain(false, geom.Edge{A: at(), B: at(), Bulge: r.Float64() - 0.5}))
	}
	return cs
}

func TestFewestDummies(t *testing.T) {
	compared, needed := 0, 0
	for seed := range uint64(250) {
		r := rand.New(rand.NewPCG(seed, 15))
		l, m, ok := listOf(t, nil, scatter(r, 3+r.IntN(4))...)
		if !ok {
			continue
		}
		o := New(l, m, false)
		got := holds(t, o, l, m)
		list, units := butts(t, l, m)
		if units > 13 || slices.ContainsFunc(list, func(b butt) bool { return b.uppers == 0 }) {
			continue
		}
		want := fewest(list, units)
		if got != want || !o.Least {
			t.Errorf("seed %d: %d dummies, the fewest are %d; said to be the least: %t", seed, got, want, o.Least)
		}
		compared++
		needed += want
	}
	t.Logf("%d motifs compared, %d dummies needed", compared, needed)
	if compared < 40 || needed < 40 {
		t.Errorf("only %d motifs with %d dummies were compared", compared, needed)
	}
}

// A ring that lies over another at both crossings is laid first, and nothing stands in for
// anything; over and under in turn each butts on the other.
func TestRings(t *testing.T) {
	a, b := geom.Circle(geom.Pt(0, 0), 50), geom.Circle(geom.Pt(60, 0), 50)
	l, m, _ := listOf(t, nil, a, b)
	if n := holds(t, New(l, m, false), l, m); n != 1 {
		t.Errorf("rings over and under in turn take %d dummies", n)
	}
	l, m, _ = listOf(t, []work.Flip{{At: geom.Pt(30, 40)}}, a, b)
	o := New(l, m, false)
	if n := holds(t, o, l, m); n != 0 || len(o.Steps) != 2 {
		t.Errorf("a ring over a ring takes %d dummies and %d steps", n, len(o.Steps))
	}
}

// A strand that crosses itself once is one piece that butts on its own middle.
func TestLoop(t *testing.T) {
	l, m, ok := listOf(t, nil, geom.Chain(false, geom.Line(geom.Pt(-80, 0), geom.Pt(0, 0)), geom.Edge{A: geom.Pt(0, 0), B: geom.Pt(-30, 30), Bulge: math.Tan(math.Pi * 3 / 8)}, geom.Line(geom.Pt(-30, 30), geom.Pt(-30, -60))))
	if !ok {
		t.Fatal("the loop has errors")
	}
	o := New(l, m, false)
	if n := holds(t, o, l, m); n != 1 || !o.Least {
		t.Errorf("%d dummies", n)
	}
}

// Mitred stretches come first in a step, and a tee comes after its host.
func TestMitresAndTees(t *testing.T) {
	l, m, ok := listOf(t, nil,
		geom.Chain(false, geom.Line(geom.Pt(0, -50), geom.Pt(0, 0))),
		geom.Chain(false, geom.Line(geom.Pt(-80, 0), geom.Pt(80, 0))),
		geom.Polygon(geom.Pt(-100, 40), geom.Pt(100, 40), geom.Pt(0, 120)))
	if !ok {
		t.Fatal("errors")
	}
	o := New(l, m, false)
	holds(t, o, l, m)
	if len(o.Steps) != 2 || o.Dummies != 0 || len(o.Steps[0].Stretches) != 4 || o.Steps[0].Stretches[0].Mitred != 2 || o.Steps[0].Stretches[3].Mitred != 0 || o.Steps[1].Stretches[0].First != 1 {
		t.Errorf("%+v", o)
	}
}

// Of graphs drawn at random the fewest breaks are found, against all sets of places.
func TestBreaks(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 400 {
		n := 2 + r.IntN(11)
		next := make([][]int, n)
		for i := range next {
			for range 1 + r.IntN(3) {
				next[i] = with(next[i], r.IntN(n))
			}
		}
		want := n
		for set := range 1 << n {
			broken := make([]bool, n)
			for i := range broken {
				broken[i] = set>>i&1 == 1
			}
			rings := false
			for v := range n {
				rings = rings || !broken[v] && reaches(next, broken, v)
			}
			if !rings {
				want = min(want, bits.OnesCount(uint(set)))
			}
		}
		broken, least := breaks(next)
		got := 0
		for v, b := range broken {
			if b {
				got++
			} else if reaches(next, broken, v) {
				t.Errorf("%v: a ring is left", next)
			}
		}
		if got != want || !least {
			t.Errorf("%v: %d breaks, want %d", next, got, want)
		}
	}
}

// A grid of straights over and under in turn, larger than can be searched to the end, is
// ordered all the same, within seconds.
func TestGrid(t *testing.T) {
	var lines []geom.Contour
	for i := range 20 {
		x := float64(12 * i)
		lines = append(lines, geom.Chain(false, geom.Line(geom.Pt(x, -10), geom.Pt(x, 240))), geom.Chain(false, geom.Line(geom.Pt(-10, x+2), geom.Pt(240, x+2))))
	}
	l, m, ok := listOf(t, nil, lines...)
	if !ok {
		t.Fatal("errors")
	}
	o := New(l, m, false)
	n := holds(t, o, l, m)
	t.Logf("%d stretches, %d dummies, %d steps", len(l.Pieces)/3, n, len(o.Steps))
	if n == 0 || n > 200 {
		t.Errorf("%d dummies at 400 crossings", n)
	}
}

// Sections are laid one after another, or together: on one two rings over and under in turn, on
// the other a ring over a ring.
func TestSections(t *testing.T) {
	rings := []geom.Contour{
		geom.Circle(geom.Pt(300, 0), 50), geom.Circle(geom.Pt(360, 0), 50), // on the right one
		geom.Circle(geom.Pt(0, 0), 50), geom.Circle(geom.Pt(60, 0), 50),
	}
	sections := []cutlist.Section{{Name: "left", From: -100, To: 150}, {Name: "right", From: 200, To: 450}}
	l, m, ok := listIn(t, sections, []work.Flip{{At: geom.Pt(30, 40)}}, rings...)
	if !ok {
		t.Fatal("errors")
	}
	o := New(l, m, false)
	holds(t, o, l, m)
	var names []string
	for _, s := range o.Steps {
		names = append(names, s.Section)
		for _, u := range s.Stretches {
			if l.Pieces[u.First-1].Section != s.Section {
				t.Errorf("%+v in %s", u, s.Section)
			}
		}
	}
	if !slices.Equal(names, []string{"left", "left", "right", "right"}) || o.Dummies != 1 || !o.Least {
		t.Errorf("steps in %v, %d dummies", names, o.Dummies)
	}
	for i, s := range o.Steps {
		for _, d := range s.Dummies {
			if d.In != i+1 || d.Out <= d.In || o.Steps[d.Out-1].Section != s.Section {
				t.Errorf("step %d: %+v", i+1, d)
			}
		}
	}
	o = New(l, m, true)
	if n := holds(t, o, l, m); n != 1 || len(o.Steps) != 2 || o.Steps[0].Section != "" {
		t.Errorf("together: %d dummies, %+v", n, o.Steps)
	}
}

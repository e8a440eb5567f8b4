package toolpath

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/internal/plait"
)

// scattered are short straights and rings that don't meet, in the cells of a grid.
func scattered(t *testing.T, rng *rand.Rand, n int) groove.Groove {
	cells := rng.Perm(n * n)
	var paths []string
	for _, cell := range cells[:n] {
		at := geom.Pt(60*float64(cell%n), 60*float64(cell/n))
		if rng.IntN(3) == 0 {
			r := 6 + float64(rng.IntN(100))/10
			paths = append(paths, fmt.Sprintf("M %.6f %.6f a %.6f %.6f 0 0 1 %.6f 0 a %.6f %.6f 0 0 1 %.6f 0 Z", at.X-r, at.Y, r, r, 2*r, r, r, -2*r))
			continue
		}
		d := geom.Polar(8+14*rng.Float64(), 2*math.Pi*rng.Float64())
		paths = append(paths, fmt.Sprintf("M %.6f %.6f L %.6f %.6f", at.X-d.X, at.Y-d.Y, at.X+d.X, at.Y+d.Y))
	}
	return drawn(t, 5, 3, paths...)
}

// The short order's way is never longer than the drawn one's, and mostly shorter.
func TestShortIsNoLongerThanDrawn(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	shorter := 0
	for n := range 40 {
		g := scattered(t, rng, 2+rng.IntN(12))
		o := usual()
		o.Rough = float64(rng.IntN(2)) * 0.15
		short := plan(t, g, o)
		o.Order.Rule = Drawn
		drawn := plan(t, g, o)
		if short.Rapids() > drawn.Rapids() {
			t.Errorf("%d: short is %g mm, drawn %g", n, short.Rapids(), drawn.Rapids())
		}
		if short.Rapids() < 0.8*drawn.Rapids() {
			shorter++
		}
		if got := strands(drawn); !slices.IsSorted(got) {
			t.Errorf("%d: drawn order is %v", n, got)
		}
		got := strands(short)
		slices.Sort(got)
		if !slices.Equal(got, strands(drawn)) {
			t.Errorf("%d: strands %v", n, got)
		}
	}
	if shorter < 30 {
		t.Errorf("only %d of 40 are clearly shorter", shorter)
	}
}

// On few straights the short order comes within a tenth of the best of all
// orders and directions.
func TestShortIsNearlyBest(t *testing.T) {
	rng := rand.New(rand.NewPCG(53, 54))
	for n := range 25 {
		var paths []string
		for i := range 5 {
			at, d := geom.Pt(60*float64(i), 200*rng.Float64()), geom.Polar(20, 2*math.Pi*rng.Float64())
			paths = append(paths, fmt.Sprintf("M %.6f %.6f L %.6f %.6f", at.X-d.X, at.Y-d.Y, at.X+d.X, at.Y+d.Y))
		}
		rng.Shuffle(len(paths), func(i, j int) { paths[i], paths[j] = paths[j], paths[i] })
		g := drawn(t, 5, 3, paths...)
		p := plan(t, g, usual())
		if best := bestOrder(g, usual()); p.Rapids() > 1.1*best {
			t.Errorf("%d: %g mm, the best is %g", n, p.Rapids(), best)
		}
	}
}

// bestOrder is the shortest way over all orders and directions of open strands.
func bestOrder(g groove.Groove, o Params) float64 {
	var runs [][2]Run
	for i := range g.Motif.Strands {
		c := newCourse(&g, i, o)
		a, _ := c.run(o, 0)
		b, _ := c.reverse().run(o, 0)
		runs = append(runs, [2]Run{a, b})
	}
	best := math.Inf(1)
	var visit func(left []int, last *Run, sum float64)
	visit = func(left []int, last *Run, sum float64) {
		if len(left) == 0 {
			best = min(best, sum)
		}
		for k, i := range left {
			rest := slices.Delete(slices.Clone(left), k, k+1)
			for d := range runs[i] {
				way := 0.0
				if last != nil {
					way = last.End().Dist(runs[i][d].Start)
				}
				visit(rest, &runs[i][d], sum+way)
			}
		}
	}
	all := make([]int, len(runs))
	for i := range all {
		all[i] = i
	}
	visit(all, nil, 0)
	return best
}

func strands(p Plan) []int {
	var list []int
	for _, r := range p.Runs {
		list = append(list, r.Strand)
	}
	return list
}

const namedText = `title = "test"
units = "mm"
[motif]
copies = 2
[[motif.line]]
name = "bar"
from = [10, 0]
to = [60, 0]
[[motif.line]]
name = "post"
from = [10, 20]
to = [10, 60]
[[motif.circle]]
name = "ring"
center = [0, 0]
radius = 120
[inlay]
depth = 3
width = 5
[router]
guide = "bearing"
bit = 3
`

// Named strands come first, in the order of their names; a name of an element
// means all its copies.
func TestNamedFirst(t *testing.T) {
	g, ok := build(t, namedText)
	if !ok {
		t.Fatal("no groove")
	}
	for _, c := range []struct {
		first []string
		rule  OrderRule
		want  []string
	}{
		{nil, Drawn, []string{"bar.1", "bar.2", "post.1", "post.2", "ring.1"}},
		{[]string{"ring", "post.2"}, Drawn, []string{"ring.1", "post.2", "bar.1", "bar.2", "post.1"}},
		{[]string{"s3", "bar"}, Drawn, []string{"post.1", "bar.1", "bar.2", "post.2", "ring.1"}},
		{[]string{"post", "post.1"}, Drawn, []string{"post.1", "post.2", "bar.1", "bar.2", "ring.1"}},
	} {
		o := usual()
		o.Order = Order{Rule: c.rule, First: c.first}
		var got []string
		for _, r := range plan(t, g, o).Runs {
			got = append(got, r.Name)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("first %v: %v, want %v", c.first, got, c.want)
		}
		o.Order.Rule = Short
		var names []string
		for _, r := range plan(t, g, o).Runs {
			names = append(names, r.Name)
		}
		if len(c.first) > 0 && c.first[0] == "ring" && !slices.Equal(names[:2], []string{"ring.1", "post.2"}) {
			t.Errorf("first %v, short: %v", c.first, names)
		}
	}
	o := usual()
	o.Order.First = []string{"bra"}
	_, err := Make(&g, o)
	var name *NameError
	if !errors.As(err, &name) || name.Name != "bra" || !slices.Contains(name.Known, "bar") || !slices.Contains(name.Known, "s5") {
		t.Errorf("an unknown name gives %v", err)
	}
}

// Two plans of one motif are the same to the last digit.
func TestDeterministic(t *testing.T) {
	g := scattered(t, rand.New(rand.NewPCG(55, 56)), 9)
	a, b := plan(t, g, usual()), plan(t, g, usual())
	if !reflect.DeepEqual(a, b) {
		t.Error("two plans differ")
	}
}

// BenchmarkPlait plans plaitwork of 2,025 crossings: 2ab - a - b.
func BenchmarkPlait(b *testing.B) {
	var paths []string
	for _, l := range plait.Lines(30, 35, 20) {
		s := ""
		for i, v := range l.Vertices {
			cmd := "L"
			if i == 0 {
				cmd = "M"
			}
			s += fmt.Sprintf("%s %g %g ", cmd, v.X, v.Y)
		}
		paths = append(paths, s+"Z")
	}
	g := drawn(b, 4, 2.5, paths...)
	if n := len(g.Weave.Crossings); n < 2000 {
		b.Fatalf("%d crossings", n)
	}
	o := usual()
	o.Rough = 0.15
	for b.Loop() {
		plan(b, g, o)
	}
}

// BenchmarkGrid plans 90 straights with 2,025 crossings, whose order is to be found.
func BenchmarkGrid(b *testing.B) {
	var paths []string
	for i := range 45 {
		paths = append(paths, fmt.Sprintf("M %d -20 L %d 920", 20*i, 20*i), fmt.Sprintf("M -20 %d L 900 %d", 20*i, 20*i))
	}
	g := drawn(b, 4, 2.5, paths...)
	o := usual()
	o.Rough = 0.15
	for b.Loop() {
		plan(b, g, o)
	}
}

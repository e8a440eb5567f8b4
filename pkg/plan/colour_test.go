package plan

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/graph/coloring"
	"gonum.org/v1/gonum/graph/simple"
)

func randomGraph(rng *rand.Rand, n int, density float64) [][]int {
	near := make([][]int, n)
	for i := range n {
		for j := range i {
			if rng.Float64() < density {
				near[i] = append(near[i], j)
				near[j] = append(near[j], i)
			}
		}
	}
	return near
}

// The exact colouring of an independent library (gonum) needs as many colours.
func TestColouringAgainstLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	for n := range 150 {
		near := randomGraph(rng, 1+rng.IntN(24), 0.1+0.7*rng.Float64())
		c := colour(near)
		g := simple.NewUndirectedGraph()
		for i := range near {
			g.AddNode(simple.Node(i))
		}
		for i, js := range near {
			for _, j := range js {
				if c.of[i] == c.of[j] {
					t.Fatalf("graph %d: neighbours %d and %d share colour %d", n, i, j, c.of[i])
				}
				if i < j {
					g.SetEdge(simple.Edge{F: simple.Node(i), T: simple.Node(j)})
				}
			}
		}
		want, _, err := coloring.DsaturExact(nil, g)
		if err != nil {
			t.Fatal(err)
		}
		if !c.proved || c.count != want {
			t.Errorf("graph %d of %d: %d colours (proved: %t), the library needs %d", n, len(near), c.count, c.proved, want)
		}
	}
}

// Past the bound the colouring is still one, and says what it is worth.
func TestColouringPastTheBound(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	near := randomGraph(rng, 150, 0.5)
	c := colour(near)
	for i, js := range near {
		for _, j := range js {
			if c.of[i] == c.of[j] {
				t.Fatalf("neighbours %d and %d share a colour", i, j)
			}
		}
	}
	if c.proved || c.atLeast >= c.count || c.atLeast < 5 {
		t.Errorf("%d colours, at least %d, proved: %t: such a graph is not settled in the steps allowed", c.count, c.atLeast, c.proved)
	}
	again := colour(near)
	for i := range near {
		if c.of[i] != again.of[i] {
			t.Fatal("two runs differ")
		}
	}
}

// The next node is the one that looking at all of them finds, while nodes are
// painted and given up again.
func TestMostConstrained(t *testing.T) {
	rng := rand.New(rand.NewPCG(25, 26))
	for n := range 40 {
		near := randomGraph(rng, 1+n, 0.3*rng.Float64())
		for _, nodes := range components(near) {
			p := newPainter(near, nodes)
			painted := 0
			for range 200 {
				i := rng.IntN(len(nodes))
				if c := p.of[i]; c != unpainted {
					p.unset(i, c)
					painted--
				} else if painted+1 < len(nodes) {
					p.set(i, rng.IntN(len(p.around[i])))
					painted++
				}
				best := -1
				for k, c := range p.of {
					switch {
					case c != unpainted:
					case best < 0, p.variety[k] > p.variety[best]:
						best = k
					case p.variety[k] == p.variety[best] && len(p.near[k]) > len(p.near[best]):
						best = k
					}
				}
				if got := p.mostConstrained(); got != best {
					t.Fatalf("graph of %d: node %d, want %d", len(nodes), got, best)
				}
			}
		}
	}
}

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

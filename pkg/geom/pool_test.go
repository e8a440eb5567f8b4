package geom

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"
)

// A pool finds what looking at every box finds, while boxes come and go; many of
// them are on one another.
func TestPool(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	var x Pool
	var boxes []Box
	there := map[int]bool{}
	corner := func() Point { return Pt(float64(rng.IntN(30)), float64(rng.IntN(30))) }
	for range 2000 {
		if rng.IntN(3) > 0 {
			b := Box{Min: corner()}
			b.Max = b.Min.Add(Pt(float64(rng.IntN(4)), float64(rng.IntN(4))))
			there[len(boxes)] = true
			boxes = append(boxes, b)
			x.Add(b)
		} else if i := rng.IntN(len(boxes) + 1); there[i] {
			x.Remove(i)
			delete(there, i)
		}
		p, window := corner(), Box{}
		window.Min = corner()
		window.Max = window.Min.Add(Pt(5, 3))
		var dists, got []float64
		var inside, found []int
		for i := range there {
			dists = append(dists, boxes[i].Dist(p))
			if boxes[i].Meets(window) {
				inside = append(inside, i)
			}
		}
		x.Nearby(p, func(i int, d float64) bool {
			if !there[i] || d != boxes[i].Dist(p) {
				t.Fatalf("box %d at %g", i, d)
			}
			got = append(got, d)
			return true
		})
		x.Search(window, func(i int) bool {
			found = append(found, i)
			return true
		})
		slices.Sort(dists)
		slices.SortFunc(inside, cmp.Compare)
		slices.SortFunc(found, cmp.Compare)
		if !slices.Equal(got, dists) || !slices.Equal(found, inside) {
			t.Fatalf("nearby %v, want %v; found %v, want %v", got, dists, found, inside)
		}
	}
}

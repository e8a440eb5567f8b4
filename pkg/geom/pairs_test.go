package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// thrownBoxes are n boxes of all sizes, some of them points, some alike, some of which hold nothing.
func thrownBoxes(rng *rand.Rand, n int) []Box {
	boxes := make([]Box, n)
	for i := range boxes {
		p := Pt(200*rng.Float64()-100, 50*rng.Float64())
		d := Pt(rng.ExpFloat64()*3, rng.ExpFloat64()*3)
		switch rng.IntN(20) {
		case 0:
			d = Point{}
		case 1:
			d = d.Scale(30)
		case 2:
			boxes[i] = boxes[rng.IntN(i+1)]
			continue
		case 3:
			boxes[i] = EmptyBox()
			continue
		}
		boxes[i] = Box{p, p.Add(d)}
	}
	return boxes
}

// TestIndexFindsWhatLookingAtAllFinds holds the tree's answers to those of a look at every box.
func TestIndexFindsWhatLookingAtAllFinds(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 17))
	for _, n := range []int{0, 1, fewBoxes, fewBoxes + 1, 64, 65, 511, 513, 1500} {
		boxes := thrownBoxes(rng, n)
		if n == 64 { // all in one place
			for i := range boxes {
				boxes[i] = Box{Pt(3, 4), Pt(3, 4)}
			}
		}
		x := NewIndex(boxes)
		for _, b := range thrownBoxes(rng, 40) {
			var want, got []int
			for i := range boxes {
				if b.Meets(boxes[i]) {
					want = append(want, i)
				}
			}
			x.Search(b, func(i int) bool { got = append(got, i); return true })
			if slices.Sort(got); !slices.Equal(got, want) {
				t.Fatalf("%d boxes: found %v, want %v", n, got, want)
			}
			p := Pt(300*rng.Float64()-150, 90*rng.Float64()-20)
			far := math.Inf(1)
			for i := range boxes {
				far = min(far, boxes[i].Dist(p)*1.5)
			}
			if d := x.Nearest(p, func(i int) float64 { return boxes[i].Dist(p) * 1.5 }); d != far {
				t.Fatalf("%d boxes: the nearest is %v away, want %v", n, d, far)
			}
		}
		for _, gap := range []float64{0, 0.5} {
			var want, got []string
			for i := range boxes {
				for j := i + 1; j < n; j++ {
					if boxes[i].Expand(gap).Meets(boxes[j]) {
						want = append(want, fmt.Sprint(i, j))
					}
				}
			}
			x.Pairs(gap, func(i, j int) bool { got = append(got, fmt.Sprint(i, j)); return true })
			slices.Sort(want)
			if slices.Sort(got); !slices.Equal(got, want) {
				t.Fatalf("%d boxes, gap %v: %d pairs, want %d", n, gap, len(got), len(want))
			}
			count := 0
			x.Pairs(gap, func(_, _ int) bool { count++; return count < 3 })
			if count != min(3, len(want)) {
				t.Fatalf("%d boxes: stopped after %d pairs of %d, want 3", n, count, len(want))
			}
		}
	}
}

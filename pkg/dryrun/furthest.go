package dryrun

// The point of an area that is furthest from something, in two steps: along the
// area's outline, where it mostly is and where it is found to a ten-millionth;
// then inside by quartering squares, always the one that promises most, and
// leaving out those whose middle is so near that no point of them can be further
// (a distance changes by no more than one moves).

import (
	"cmp"
	"container/heap"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// mostSquares bounds the search inside. An island of wood takes some hundred
// squares; long wood of even thickness has no better place inside than on its
// outline, and would take very many to be sure of it.
const mostSquares = 500

// furthest returns the greatest value of dist over r, and where. Inside r it may
// be short of it by searched.
func furthest(r region.Region, dist func(geom.Point) float64) (float64, geom.Point) {
	s := alongOutline(r, dist)
	if s.best >= 0 {
		s.inside()
	}
	return math.Max(0, s.best), s.at
}

// furthestOut returns the greatest value of dist over the outline of r.
func furthestOut(r region.Region, dist func(geom.Point) float64) (float64, geom.Point) {
	s := alongOutline(r, dist)
	return math.Max(0, s.best), s.at
}

func alongOutline(r region.Region, dist func(geom.Point) float64) search {
	s := search{r: r, dist: dist, best: -1}
	for _, c := range r.Loops() {
		for i := range c.Len() {
			s.along(c.Edge(i))
		}
	}
	return s
}

type search struct {
	r    region.Region
	dist func(geom.Point) float64
	best float64
	at   geom.Point
	heap squares
}

func (s *search) try(p geom.Point) float64 {
	d := s.dist(p)
	if d > s.best {
		s.best, s.at = d, p
	}
	return d
}

// along searches an edge of the outline: at equal steps, then closer and closer
// about the best of them, as long as that may lead anywhere.
func (s *search) along(e geom.Edge) {
	const steps = 8
	length := e.Length()
	if s.try(e.At(0.5))+length/2 <= s.best {
		return
	}
	bestT, best := 0.0, -1.0
	look := func(t float64) {
		if d := s.try(e.At(t)); d > best {
			bestT, best = t, d
		}
	}
	for i := range steps + 1 {
		look(float64(i) / steps)
	}
	for step := 1.0 / steps; step*length > geom.Coincident && best+2*step*length > s.best; {
		step /= 2
		for _, t := range [2]float64{math.Max(0, bestT-step), math.Min(1, bestT+step)} {
			look(t)
		}
	}
}

// square is one of side 2 half about its middle, which promises a distance.
type square struct {
	middle  geom.Point
	half    float64
	promise float64
}

// squares is a heap, the most promising first; equal ones from the lower left.
type squares []square

func (s squares) Len() int      { return len(s) }
func (s squares) Swap(i, j int) { s[i], s[j] = s[j], s[i] }
func (s squares) Less(i, j int) bool {
	a, b := s[i], s[j]
	return cmp.Or(cmp.Compare(b.promise, a.promise), cmp.Compare(a.middle.Y, b.middle.Y), cmp.Compare(a.middle.X, b.middle.X)) < 0
}
func (s *squares) Push(x any) { *s = append(*s, x.(square)) }

func (s *squares) Pop() any {
	n := len(*s) - 1
	x := (*s)[n]
	*s = (*s)[:n]
	return x
}

// inside covers r with squares and searches them.
func (s *search) inside() {
	box := s.r.Bounds()
	size := box.Size()
	const most = 32 // squares along the longer side to begin with
	side := math.Max(math.Min(size.X, size.Y), math.Max(size.X, size.Y)/most)
	if !(side > geom.Coincident) {
		return
	}
	nx, ny := int(math.Ceil(size.X/side)), int(math.Ceil(size.Y/side))
	for y := range ny {
		for x := range nx {
			s.look(box.Min.Add(geom.Pt(float64(x)+0.5, float64(y)+0.5).Scale(side)), side/2)
		}
	}
	for n := 0; n < mostSquares && len(s.heap) > 0; n++ {
		q := heap.Pop(&s.heap).(square)
		if q.promise <= s.best+searched {
			return
		}
		h := q.half / 2
		for _, k := range [4]geom.Point{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: 1}} {
			s.look(q.middle.Add(k.Scale(h)), h)
		}
	}
}

// look takes a square into the search, if it promises anything.
func (s *search) look(c geom.Point, half float64) {
	d, diagonal := s.dist(c), half*math.Sqrt2
	if d+diagonal <= s.best+searched {
		return
	}
	away := s.r.Dist(c)
	if away > diagonal {
		return
	}
	if away == 0 && d > s.best {
		s.best, s.at = d, c
	}
	heap.Push(&s.heap, square{c, half, d + diagonal})
}

// thickness is the diameter of the largest disc in r, to a hundredth of it or
// to a ten-thousandth of a millimetre. It is found by halving: a disc of a radius
// fits in where r shrunk by it is not empty. The radii are tried from small ones
// up, since shrinking by much more than an area is wide is slow.
func thickness(r region.Region) float64 {
	const part, finest, first, step = 0.01, 1e-4, 0.005, 1.3
	size := r.Bounds().Size()
	most := math.Min(size.X, size.Y) / 2
	lo, hi := 0.0, math.Min(first, most)
	for hi < most && !r.Shrink(hi).Empty() {
		lo, hi = hi, math.Min(hi*step, most)
	}
	for hi-lo > math.Max(part*lo, finest) {
		mid := (lo + hi) / 2
		if r.Shrink(mid).Empty() {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo + hi
}

package dryrun

// The point of an area that is furthest from something, in two steps: along the
// area's outline, where it mostly is and where it is found to a ten-millionth;
// then inside by halving squares, leaving out those whose middle is so near that
// no point of them can be further (a distance changes by no more than one
// moves).

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// mostSquares bounds the search inside. Wood 5 mm wide and 200 mm long takes
// some hundred squares.
const mostSquares = 20_000

// furthest returns the greatest value of dist over r, and where. Inside r it may
// be short of it by slack.
func furthest(r region.Region, dist func(geom.Point) float64, slack float64) (float64, geom.Point) {
	s := search{r: r, dist: dist, slack: slack, best: -1, left: mostSquares}
	for _, c := range r.Loops() {
		for i := range c.Len() {
			s.along(c.Edge(i))
		}
	}
	if s.best >= 0 {
		s.inside()
	}
	return math.Max(0, s.best), s.at
}

type search struct {
	r     region.Region
	dist  func(geom.Point) float64
	slack float64
	best  float64
	at    geom.Point
	left  int
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

// inside covers r with squares and searches each.
func (s *search) inside() {
	box := s.r.Bounds()
	size := box.Size()
	const most = 64 // squares along the longer side to begin with
	side := math.Max(math.Min(size.X, size.Y), math.Max(size.X, size.Y)/most)
	if !(side > 0) {
		return
	}
	for y := box.Min.Y + side/2; y-side/2 < box.Max.Y; y += side {
		for x := box.Min.X + side/2; x-side/2 < box.Max.X; x += side {
			s.square(geom.Pt(x, y), side/2)
		}
	}
}

// square searches the square of side 2 half about c.
func (s *search) square(c geom.Point, half float64) {
	if s.left <= 0 {
		return
	}
	s.left--
	diagonal := half * math.Sqrt2
	d := s.dist(c)
	if d+diagonal <= s.best+s.slack {
		return
	}
	away := s.r.Dist(c)
	if away > diagonal {
		return
	}
	if away == 0 && d > s.best {
		s.best, s.at = d, c
	}
	half /= 2
	for _, k := range [4]geom.Point{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: 1}} {
		s.square(c.Add(k.Scale(half)), half)
	}
}

// thickness is the diameter of the largest disc in r, to a few percent.
func thickness(r region.Region) float64 {
	const part = 0.05 // of the half width of a square to begin with
	size := r.Bounds().Size()
	slack := math.Max(searched/2, part*math.Min(size.X, size.Y)/2)
	deep := func(p geom.Point) float64 {
		if !r.Contains(p) {
			return -r.BoundaryDist(p)
		}
		return r.BoundaryDist(p)
	}
	s := search{r: r, dist: deep, slack: slack, left: mostSquares}
	s.inside()
	return 2 * s.best
}

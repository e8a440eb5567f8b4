package toolpath

// Where the bit's centre may be near a cramped end: all places b/2 or more from
// everything outside the whole motif's groove.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// A safe area is where the bit's centre may be.
type safeArea struct{ region.Region }

// onBorder is the distance in mm by which a safe area is larger than it is: lanes
// run along its border, and rounding must not put them outside. It is a few
// times what areas are exact to. A safe area is a narrow band where the bit fills the
// groove, which else were a line and no area.
const onBorder = 5 * geom.Coincident

// safe area is the area round the course's start in which the bit may move; nil in
// scrap, where nothing is known.
func (c course) safeArea() *safeArea {
	p := c.line.Start()
	return c.safeAreaIn(geom.Box{Min: p, Max: p})
}

// safeAreaIn is the area round a box in which the bit may move; nil in scrap.
func (c course) safeAreaIn(box geom.Box) *safeArea {
	if c.g == nil {
		return nil
	}
	box = box.Expand(2 * c.nearEnd())
	return &safeArea{c.g.Around(box).Shrink(c.bit/2 - onBorder).Grow(c.slack)}
}

// enter is the distance along a lane from which on it stays in h, as far as the
// stretch near its start is concerned, half the lane at most: the other half is
// the other end's. It is false if that stretch ends outside.
func (h safeArea) enter(lane geom.Contour, near float64) (float64, bool) {
	stretch := lane.Sub(0, min(near, lane.Length()/2))
	inside, stops := h.spans(stretch)
	last := len(inside) - 1
	if last < 0 || !inside[last] {
		return 0, false
	}
	for last > 0 && inside[last-1] {
		last--
	}
	return stops[last], true
}

// spans cuts a contour up where it crosses the border of h, and says which of
// the pieces are in h. stops has the distance along c at which each begins.
func (h safeArea) spans(c geom.Contour) (inside []bool, stops []float64) {
	run := 0.0
	for i := range c.Len() {
		e := c.Edge(i)
		l := e.Length()
		stops = append(stops, run)
		for _, loop := range h.Loops() {
			for j := range loop.Len() {
				for _, m := range geom.Crossings(e, loop.Edge(j), geom.Coincident) {
					stops = append(stops, run+m.E*l)
				}
			}
		}
		run += l
	}
	slices.Sort(stops)
	stops = slices.CompactFunc(stops, func(a, b float64) bool { return math.Abs(b-a) < geom.Coincident })
	for i, s := range stops {
		next := run
		if i+1 < len(stops) {
			next = stops[i+1]
		}
		p, _ := c.At((s + next) / 2)
		inside = append(inside, h.Contains(p))
	}
	return inside, stops
}

// route is a way from p to q in h, both in it: straight, or along its border.
func (h safeArea) route(p, q geom.Point) []geom.Edge {
	direct := geom.Chain(false, geom.Line(p, q))
	if inside, _ := h.spans(direct); !slices.Contains(inside, false) {
		return direct.Edges()
	}
	best := geom.Contour{}
	length := math.Inf(1)
	for _, loop := range h.Loops() {
		a, s := loop.Nearest(p)
		b, t := loop.Nearest(q)
		for _, border := range [2]geom.Contour{between(loop, s, t), between(loop, t, s).Reverse()} {
			if l := p.Dist(a) + border.Length() + b.Dist(q); l < length && border.Len() > 0 {
				best, length = border, l
			}
		}
	}
	if best.Len() == 0 {
		return direct.Edges()
	}
	edges := append(straight(p, best.Start()), best.Edges()...)
	return append(edges, geom.Line(best.End(), q))
}

// between is the stretch of a loop from one distance along it on to another.
func between(loop geom.Contour, from, to float64) geom.Contour {
	if to < from {
		to += loop.Length()
	}
	return loop.Sub(from, to)
}

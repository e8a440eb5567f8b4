package family

import (
	"math"

	"strapwork/pkg/geom"
)

// onePoint in mm is the distance within which two meetings are one crossing: it is met on
// both sides of a joint.
const onePoint = 1e-3

// Nearest is the distance in mm between the two crossings of contours that are nearest to
// one another; infinite where there are fewer than two.
func Nearest(contours []geom.Contour) float64 {
	at := crossings(contours)
	boxes := make([]geom.Box, len(at))
	size := 0.0
	for i, p := range at {
		boxes[i] = geom.Box{Min: p, Max: p}
		size = max(size, p.Dist(at[0]))
	}
	least := math.Inf(1)
	index := geom.NewIndex(boxes)
	// Crossings spread evenly are about size / sqrt(n) apart, and two of them are nearer.
	for gap := size/math.Sqrt(float64(len(at))+1) + onePoint; math.IsInf(least, 1) && gap <= 4*size; gap *= 2 {
		index.Pairs(gap, func(i, j int) bool {
			if d := at[i].Dist(at[j]); d > onePoint && d < least {
				least = d
			}
			return true
		})
	}
	return least
}

// crossings are where contours cross themselves and one another, some of them twice.
func crossings(contours []geom.Contour) []geom.Point {
	type edge struct {
		geom.Edge
		of, next int // the contour, and the number of the edge that follows
	}
	var edges []edge
	var boxes []geom.Box
	for k, c := range contours {
		first := len(edges)
		for i, e := range c.Edges() {
			edges = append(edges, edge{e, k, first + i + 1})
			boxes = append(boxes, e.Bounds())
		}
		if c.Closed {
			edges[len(edges)-1].next = first
		}
	}
	var at []geom.Point
	geom.NewIndex(boxes).Pairs(0, func(i, j int) bool {
		e, f := edges[i], edges[j]
		for _, m := range geom.Crossings(e.Edge, f.Edge, geom.Coincident) {
			joint := e.of == f.of && (e.next == j && m.At.Near(e.B, onePoint) || f.next == i && m.At.Near(f.B, onePoint))
			if m.Kind == geom.Cross && !joint {
				at = append(at, m.At)
			}
		}
		return true
	})
	return at
}

// Straight reports whether a pattern has lines only: then nothing in it is too tight for any
// rider.
func Straight(p Pattern) bool {
	drawn, err := p.Draw()
	return err == nil && math.IsInf(Tightest(drawn), 1)
}

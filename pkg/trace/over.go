package trace

// Over and under, as a drawing shows them: a strand that is interrupted goes under, and one
// that is painted once more on top, alone or over a halo, goes over.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// A shower answers what strokes show at a place.
type shower struct {
	t       *tracer
	strokes []painted
	seen    *polyline // middles of bands, where their edges show them; nil where lines are drawn
}

// A painted is a stroke where it lies.
type painted struct {
	stroke
	lines  *polyline
	starts []float64 // distance along it of each of its points
	part   bool      // it lies on a stroke that is longer
}

func (t *tracer) shower() shower {
	s := shower{t: t}
	add := func(st stroke, part bool) {
		points := moved(st.points, t.lay)
		p := painted{stroke: st, lines: newPolyline(points), starts: []float64{0}, part: part}
		for i := 1; i < len(points); i++ {
			p.starts = append(p.starts, p.starts[i-1]+points[i].Dist(points[i-1]))
		}
		s.strokes = append(s.strokes, p)
	}
	if t.p.Edges {
		var lines [][]geom.Point
		for _, line := range t.seen {
			lines = append(lines, moved(line, t.lay))
		}
		s.seen = newPolyline(lines...)
	}
	for _, st := range t.strokes {
		add(st, false)
	}
	for _, st := range t.again {
		add(st, st.part)
	}
	return s
}

// shows is what the drawing shows at the crossings of a motif.
func (t *tracer) shows(m motif.Motif, w weave.Weave) (all []work.Over) {
	if !t.p.Weave {
		return nil
	}
	s := t.shower()
	for _, c := range w.Crossings {
		var ways [2]geom.Point
		for k, v := range c.Visits {
			_, ways[k] = m.Strands[v.Strand].Contour.At(v.S)
		}
		over := s.over(c.At, ways)
		if over >= 0 {
			all = append(all, work.Over{At: c.At, Along: ways[over], Key: t.p.Words.Key})
		}
	}
	return all
}

// over is which of two strands that cross the drawing shows on top, -1 where it doesn't.
func (s shower) over(at geom.Point, ways [2]geom.Point) int {
	cut := [2]bool{s.cut(at, ways[0]), s.cut(at, ways[1])}
	switch {
	case cut[0] == cut[1] && (cut[0] || s.t.p.Edges):
		return -1
	case cut[0] != cut[1]:
		k := 0
		if cut[0] {
			k = 1
		}
		if s.seen != nil && s.seen.distAlong(at, ways[k]) > s.near() {
			return -1 // its edges don't run through either
		}
		return k
	}
	on := [2][]painted{s.along(at, ways[0]), s.along(at, ways[1])}
	for k := range on {
		if above(on[k], on[1-k]) {
			return k
		}
	}
	return -1
}

// cut reports whether a strand that runs through a place is interrupted there.
func (s shower) cut(at, way geom.Point) bool {
	for _, g := range s.t.gaps {
		e := geom.Line(s.t.lay.Apply(g.a), s.t.lay.Apply(g.b))
		u := e.Param(at)
		if u > 0 && u < 1 && e.Dist(at) <= max(e.Length()/4, 4*s.t.p.Tolerance) && math.Abs(e.Tangent(0).Cross(way)) < sideways*2 {
			return true
		}
	}
	shown, dashed := false, false
	for _, p := range s.strokes {
		if len(p.Dashes) == 0 || !p.runs(at, way, s.near()) {
			shown = shown || !p.Dashed && p.runs(at, way, s.near())
			continue
		}
		dashed = true
		shown = shown || p.drawn(at)
	}
	return dashed && !shown
}

// near is how far in mm a stroke may lie from the strand that was made of it.
func (s shower) near() float64 { return 4 * s.t.p.Tolerance }

// runs reports whether a stroke runs through a place in a direction or against it.
func (p painted) runs(at, way geom.Point, near float64) bool {
	return p.lines.box.Expand(near).Holds(at) && p.lines.distAlong(at, way) <= near
}

// drawn reports whether a dash of a stroke is at a place.
func (p painted) drawn(at geom.Point) bool {
	best, s := math.Inf(1), 0.0
	for i, e := range p.lines.edges {
		if d := e.Dist(at); d < best {
			_, u := e.Nearest(at)
			best, s = d, p.starts[i]+u*e.Length()
		}
	}
	var whole float64
	for _, d := range p.Dashes {
		whole += d
	}
	if !(whole > 0) {
		return true
	}
	n := len(p.Dashes)
	if n%2 == 1 { // an odd pattern is gone through twice, the second time the other way
		whole *= 2
	}
	s = math.Mod(s+p.DashStart, whole)
	for i := 0; ; i++ {
		if d := p.Dashes[i%n]; s < d || i > 2*n {
			return i%2 == 0
		} else {
			s -= d
		}
	}
}

// along are the strokes that run through a place in a direction, in the order in which
// they are painted; what is dashed or hidden in parts says nothing.
func (s shower) along(at, way geom.Point) (all []painted) {
	for _, p := range s.strokes {
		if p.Stroked && !p.Dashed && !p.Masked && p.runs(at, way, s.near()) {
			all = append(all, p)
		}
	}
	return all
}

// above reports whether the strokes of one strand are painted over those of another: a
// part of it once more, or a halo and its line.
func above(a, b []painted) bool {
	top := -1
	for _, p := range b {
		top = max(top, p.order)
	}
	after, widest, last := 0, 0.0, painted{}
	last.order = -1
	for _, p := range a {
		if p.order <= top {
			continue
		}
		if p.part {
			return true
		}
		after++
		widest = max(widest, p.Width)
		if p.order > last.order {
			last = p
		}
	}
	return after > 1 && widest > last.Width
}

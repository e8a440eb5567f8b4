// Package label finds room for lettering: on paper, on wood, in a picture, on a page.
// It is given what labels keep off, what a label takes up at each of its candidate
// places, best first, and returns the first place where nothing is in its way.
//
// A label takes up frames: open lines, such as the strokes of an arrow, and closed
// convex polygons, counter-clockwise, such as the box of a word, which keep others
// out of their inside too. All tests are exact for lines and arcs. Lengths are in
// any unit, the same for all that is in a room.
package label

import (
	"iter"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// A Room is where labels may stand. The zero Room is the whole plane with nothing
// in it.
type Room struct {
	wood   *region.Region // labels lie on it; nil for the whole plane
	border float64        // what they keep from its border
	spots  []Spot         // all over it; nil until they are asked for
	lines  []line         // that labels keep off
	index  geom.Index     // of boxes round the lines or parts of them, each with its distance
	parts  []int32        // by box: the line that it is of
	seen   []int32        // by line: the last search that came upon it
	search int32          // counts searches
	sorted int            // so many lines are in the index
	labels []frame        // of the labels placed so far
}

// A line is an edge that labels keep off.
type line struct {
	edge   geom.Edge
	clear  float64
	weight int
}

// A frame is what a label takes up, or a part of it.
type frame struct {
	geom.Contour
	box   geom.Box
	clear float64
}

// On is the room on a piece of wood, whose every border labels are to keep so far
// from.
func On(wood region.Region, clear float64) *Room {
	r := &Room{wood: &wood, border: clear}
	r.KeepOff(clear, 1, wood.Loops()...)
	return r
}

// KeepOff adds lines from which labels keep at least a distance. A leader that
// crosses one of them crosses so many lines.
func (r *Room) KeepOff(clear float64, weight int, lines ...geom.Contour) {
	for _, c := range lines {
		for _, e := range c.Edges() {
			if e.Length() > 0 {
				r.lines = append(r.lines, line{e, clear, weight})
			}
		}
	}
}

// Take adds what a label takes up, from which later ones keep at least a distance.
func (r *Room) Take(clear float64, frames ...geom.Contour) {
	for _, f := range frames {
		r.labels = append(r.labels, frame{f, f.Bounds(), clear})
	}
}

// Forget clears the room of all labels.
func (r *Room) Forget() { r.labels = nil }

// Free reports whether a label of these frames would lie on the wood, off all lines
// and off all labels before it.
func (r *Room) Free(frames ...geom.Contour) bool {
	for _, f := range frames {
		if !r.offLines(f) {
			return false
		}
	}
	return r.Apart(frames...)
}

// Apart reports whether a label of these frames would lie off all labels before it,
// whatever else it covers.
func (r *Room) Apart(frames ...geom.Contour) bool {
	for _, f := range frames {
		if !r.offLabels(f) {
			return false
		}
	}
	return true
}

// First returns the first of some candidates whose frames are free, if there is one,
// and takes them.
func First[T any](r *Room, clear float64, candidates iter.Seq[T], frames func(T) []geom.Contour) (T, bool) {
	for c := range candidates {
		if f := frames(c); r.Free(f...) {
			r.Take(clear, f...)
			return c, true
		}
	}
	var none T
	return none, false
}

// Leads reports whether a leader, a line from a place to its label, runs clear of
// all labels and leaders, and how many lines it crosses.
func (r *Room) Leads(e geom.Edge) (crossed int, ok bool) {
	box := e.Bounds()
	for _, f := range r.labels {
		if f.box.Meets(box) && (holds(f.Contour, e.A) || gap(f.Contour, e) == 0) {
			return 0, false
		}
	}
	r.near(box, func(l *line) bool {
		if l.edge.Bounds().Meets(box) && len(geom.Crossings(e, l.edge, geom.Coincident)) > 0 {
			crossed += l.weight
		}
		return true
	})
	return crossed, true
}

// Copy is a room of its own with the same lines and labels.
func (r *Room) Copy() *Room {
	r.sort() // once for all copies
	c := *r
	c.labels, c.seen = slices.Clip(r.labels), slices.Clone(r.seen)
	return &c
}

// widest is the smaller side from which the box of a line is made of those of its halves: a long
// slanting line's box holds much that is far from the line.
const widest = 10

// sort makes the index of the lines.
func (r *Room) sort() {
	if r.sorted == len(r.lines) {
		return
	}
	r.sorted, r.parts, r.seen = len(r.lines), nil, make([]int32, len(r.lines))
	var boxes []geom.Box
	var add func(e geom.Edge, i int)
	add = func(e geom.Edge, i int) {
		box := e.Bounds()
		if s := box.Size(); e.Bulge == 0 && min(s.X, s.Y) > widest {
			add(e.Part(0, 0.5), i)
			add(e.Part(0.5, 1), i)
			return
		}
		boxes = append(boxes, box.Expand(r.lines[i].clear))
		r.parts = append(r.parts, int32(i))
	}
	for i, l := range r.lines {
		add(l.edge, i)
	}
	r.index = geom.NewIndex(boxes)
}

// near visits the lines whose distance reaches into a box, each once, until visit is false.
func (r *Room) near(box geom.Box, visit func(*line) bool) {
	r.sort()
	r.search++
	r.index.Search(box, func(k int) bool {
		i := r.parts[k]
		if r.seen[i] == r.search {
			return true
		}
		r.seen[i] = r.search
		return visit(&r.lines[i])
	})
}

// offLines reports whether a frame and what it holds is on the wood and clear of
// every line.
func (r *Room) offLines(f geom.Contour) bool {
	if r.wood != nil && !r.wood.Contains(f.Start()) {
		return false
	}
	clear := true
	box := f.Bounds()
	middle, outer, inner := box.Center(), box.Size().Norm()/2, 0.0
	if holds(f, middle) {
		inner = math.Inf(1)
		for _, e := range f.Edges() {
			inner = min(inner, e.Dist(middle))
		}
	}
	r.near(box, func(l *line) bool {
		// Most lines are well off the frame, or run through its middle.
		switch d := l.edge.Dist(middle); {
		case d >= outer+l.clear:
			return true
		case d < inner && l.clear > 0:
			clear = false
			return false
		}
		clear = !holds(f, l.edge.A)
		for k := 0; clear && k < f.Len(); k++ {
			clear = geom.Gap(f.Edge(k), l.edge) >= l.clear
		}
		return clear
	})
	return clear
}

// offLabels reports whether a frame keeps its distance from all labels, and neither
// holds the other.
func (r *Room) offLabels(f geom.Contour) bool {
	box := f.Bounds()
	for _, g := range r.labels {
		if !box.Expand(g.clear).Meets(g.box) {
			continue
		}
		if holds(f, g.Start()) || holds(g.Contour, f.Start()) {
			return false
		}
		for _, e := range f.Edges() {
			if d := gap(g.Contour, e); d < g.clear || d == 0 { // frames that cross hold no corner of one another's, it may be
				return false
			}
		}
	}
	return true
}

// gap is the distance between a frame's line and an edge.
func gap(f geom.Contour, e geom.Edge) float64 {
	best := geom.Gap(f.Edge(0), e)
	for k := 1; k < f.Len(); k++ {
		best = min(best, geom.Gap(f.Edge(k), e))
	}
	return best
}

// holds reports whether a point lies in a frame: never in an open line.
func holds(f geom.Contour, p geom.Point) bool {
	if !f.Closed {
		return false
	}
	for _, e := range f.Edges() {
		if e.B.Sub(e.A).Cross(p.Sub(e.A)) < 0 {
			return false
		}
	}
	return true
}

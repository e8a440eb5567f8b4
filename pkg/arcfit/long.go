package arcfit

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// Sections of many pieces are fitted a stretch at a time, since the work grows with the cube of the
// pieces that move at once. A stretch ends in the middle of a long run that one circle follows, in that
// circle's direction; the two pieces that meet there are then made one, with their
// neighbours moving; and numbers are pulled stretch by stretch, between joints that stay.

const (
	// atOnce is how many pieces are fitted at once at most.
	atOnce = 40
	// stretch is about how many runs a stretch has.
	stretch = 24
	// beside is how many pieces on each side move when two are made one.
	beside = 3
)

// A long is a chain that is put together, and which points lie at which piece.
type long struct {
	f      *fitter
	chain  Chain
	joints []int // the point at or before which each piece begins; the last one's end
}

// layLong fits stretch by stretch.
func (f *fitter) layLong(runs []int, asked bool, s Snap) (Chain, bool) {
	l := long{f: f}
	cuts, frames := f.cut(runs)
	for i := range cuts[1:] {
		part, ok := f.part(cuts[i], cuts[i+1], frames[i], frames[i+1])
		if !ok {
			return Chain{}, false
		}
		v, ok := part.search()
		if !ok {
			return Chain{}, false
		}
		l.add(v, cuts[i])
	}
	l.chain.Closed = f.s.closed
	if f.s.closed {
		l.rotate(len(l.chain.Pieces) / 2)
	}
	l.stitch(cuts)
	if asked {
		l.snap(s)
	}
	return l.chain, f.near(l.chain)
}

func (f *fitter) near(c Chain) bool { return Measure(f.section, c).Deviation <= f.tolerance }

// cut divides a section at the longest of every so many runs. It returns points, counted on round a closed
// section, and the places and directions there; those of open ends are the section's own.
func (f *fitter) cut(runs []int) ([]int, []frame) {
	n := len(f.s.points)
	var cuts []int
	var frames []frame
	for at := stretch; at+stretch/2 < len(runs)-1 || f.s.closed && len(cuts) < 2; at += stretch {
		best := at
		for i := at - stretch/4; i < min(at+stretch/4, len(runs)-1); i++ {
			if f.s.along(min(runs[i+1], n-1))-f.s.at[runs[i]] > f.s.along(min(runs[best+1], n-1))-f.s.at[runs[best]] {
				best = i
			}
		}
		from, to := runs[best], runs[best+1]
		m := moments{origin: f.s.points[from]}
		for i := from; i < to; i++ {
			m.add(f.s.points[i], f.s.weight[i])
		}
		c := m.fit(f.s.points[to-1].Sub(f.s.points[from]))
		mid := (from + to) / 2
		cuts = append(cuts, mid)
		frames = append(frames, c.beside(f.s.points[mid]))
	}
	if f.s.closed {
		return append(cuts, cuts[0]+n), append(frames, frames[0])
	}
	ends := [2]frame{{at: f.s.points[0]}, {at: f.s.points[n-1]}}
	return append(append([]int{0}, cuts...), n-1), append(append([]frame{ends[0]}, frames...), ends[1])
}

// beside is the frame of a carrier nearest to p.
func (c carrier) beside(p geom.Point) frame {
	f := Piece{Curvature: c.curvature}.project(c.frame, p, 0)
	return Piece{Curvature: c.curvature, Length: f.along}.from(c.frame)
}

// part is a fitter for the stretch between two points, with these places and directions at its ends; where
// there is no direction the end is the section's own.
func (f *fitter) part(from, to int, a, b frame) (*fitter, bool) {
	n := len(f.s.points)
	out := &fitter{tolerance: f.tolerance}
	s := sampled{}
	var section Section
	for i := from; i <= to; i++ {
		p := f.s.points[i%n]
		switch i {
		case from:
			p = a.at
		case to:
			p = b.at
		}
		s.points = append(s.points, p)
		s.weight = append(s.weight, f.s.weight[i%n])
		s.at = append(s.at, float64(float64(i/n)*f.s.length)+f.s.at[i%n])
	}
	if len(s.points) < 3 {
		return nil, false
	}
	var sum float64
	for _, w := range s.weight {
		sum += w
	}
	first := s.at[0]
	for i := range s.points {
		s.weight[i] /= sum
		s.at[i] -= first
	}
	s.length = s.at[len(s.at)-1]
	section.Points = append(append([]geom.Point{a.at}, f.s.drawnBetween(from, to)...), b.at)
	section.Leave, section.Arrive = a.way, b.way
	if a.way == (geom.Point{}) {
		section.Leave = f.section.Leave
	}
	if b.way == (geom.Point{}) {
		section.Arrive = f.section.Arrive
	}
	out.s, out.section = s, section
	out.least = len(longest(s.points, f.tolerance)) - 1
	return out, true
}

// drawnBetween is the section's own points between two of those that are fitted.
func (s sampled) drawnBetween(from, to int) []geom.Point {
	n, m := len(s.points), len(s.drawn)
	first := from/n*m + s.before[from%n]
	if s.points[from%n] == s.drawn[first%m] { // that point itself
		first++
	}
	var out []geom.Point
	for i := first; i < to/n*m+s.before[to%n]; i++ {
		out = append(out, s.drawn[i%m])
	}
	return out
}

// add puts a stretch's pieces behind those there are.
func (l *long) add(v solution, from int) {
	if len(l.chain.Pieces) == 0 {
		l.chain.Start, l.chain.Heading = v.chain.Start, v.chain.Heading
		l.joints = []int{from}
	}
	l.chain.Pieces = append(l.chain.Pieces, v.chain.Pieces...)
	for _, j := range v.begins()[1:] {
		l.joints = append(l.joints, from+j)
	}
}

// begins is, for each piece, the first point that lies on it or beyond, and the last point.
func (v *solution) begins() []int {
	out := make([]int, 0, len(v.chain.Pieces)+1)
	for i, at := range v.spots {
		for len(out) <= at.piece {
			out = append(out, i)
		}
	}
	for len(out) < len(v.chain.Pieces)+1 {
		out = append(out, v.end())
	}
	return out
}

// window fits pieces from one to another anew, between the joints at its ends.
func (l *long) window(from, to int, change func(*fitter, solution) (solution, bool)) bool {
	frames := l.chain.frames()
	a, b := frames[from], frames[to]
	if !l.chain.Closed && from == 0 {
		a.way = l.f.section.Leave
	}
	if !l.chain.Closed && to == len(l.chain.Pieces) {
		b.way = l.f.section.Arrive
	}
	part, ok := l.f.part(l.joints[from], l.joints[to], a, b)
	if !ok {
		return false
	}
	v := solution{s: part.s, spots: make([]spot, len(part.s.points))}
	v.chain = Chain{Start: a.at, Heading: frames[from].heading, Pieces: slices.Clone(l.chain.Pieces[from:to])}
	v.ties = free(v.chain)
	for i := range v.spots {
		at := l.joints[from] + i
		piece := 0
		for piece+1 < to-from && l.joints[from+piece+1] <= at {
			piece++
		}
		v.spots[i] = spot{piece, v.chain.Pieces[piece].Length / 2}
	}
	part.hold(&v)
	w, ok := change(part, v)
	if !ok {
		return false
	}
	whole := *l
	whole.chain.Pieces = slices.Concat(l.chain.Pieces[:from], w.chain.Pieces, l.chain.Pieces[to:])
	whole.joints = slices.Clone(l.joints[:from])
	for _, j := range w.begins() {
		whole.joints = append(whole.joints, l.joints[from]+j)
	}
	whole.joints[from] = l.joints[from]
	whole.joints = append(whole.joints, l.joints[to+1:]...)
	if from == 0 {
		whole.chain.Heading = w.chain.Heading
	}
	*l = whole
	return true
}

// rotate begins a closed chain at another piece.
func (l *long) rotate(i int) {
	n := len(l.chain.Pieces)
	at := l.chain.frames()[i]
	l.chain.Start, l.chain.Heading = at.at, at.heading
	l.chain.Pieces = slices.Concat(l.chain.Pieces[i:], l.chain.Pieces[:i])
	joints := slices.Clone(l.joints[i:n])
	for _, j := range l.joints[:i+1] {
		joints = append(joints, j+len(l.f.s.points))
	}
	l.joints = joints
}

// stitch makes one of the two pieces at each cut.
func (l *long) stitch(cuts []int) {
	n := len(l.f.s.points)
	for i := 1; i < len(l.chain.Pieces); {
		if !slices.ContainsFunc(cuts, func(c int) bool { return c%n == l.joints[i]%n }) {
			i++
			continue
		}
		from, to := max(0, i-1-beside), min(len(l.chain.Pieces), i+1+beside)
		merged := l.window(from, to, func(part *fitter, v solution) (solution, bool) {
			at := i - from
			return part.attempt(layout{part.s, slices.Delete(v.begins(), at, at+1)})
		})
		if !merged {
			i++
		}
	}
}

// snap pulls numbers stretch by stretch; radii that were taken before are preferred.
func (l *long) snap(s Snap) {
	s.Radii = slices.Clone(s.Radii)
	for from := 0; from < len(l.chain.Pieces); {
		to := min(from+stretch, len(l.chain.Pieces))
		l.window(from, to, func(part *fitter, v solution) (solution, bool) {
			v, ok := part.refit(v)
			if !ok {
				return v, false
			}
			v = part.snap(v, s)
			for g, held := range v.ties.held {
				if k := math.Abs(v.ties.value[g]); held && k > 0 && !slices.Contains(s.Radii, 1/k) {
					s.Radii = append(s.Radii, 1/k)
				}
			}
			return v, true
		})
		from = to
	}
}

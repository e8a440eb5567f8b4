package arcfit

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// Bounds of the search. All are counts, so that every machine does the same work.
const (
	// extra is how many pieces more than the least are tried, besides half as many again: theory
	// asks 15 % more for tangency.
	extra = 6
	// hopeless is by how many tolerances the best fit in the mean may be off somewhere and still be
	// brought within it.
	hopeless = 6
)

// margin is the share of the tolerance that is aimed at: points lie between the points looked at.
const margin = 0.995

// ladder are the multiples of a tolerance that are tried when it can't be met; what is found is then brought
// nearer.
var ladder = []float64{1, 1.6, 2.5, 4, 6.4, 10, 25, 100}

// Fit lays the fewest tangent arcs and lines along a section that lie within the
// tolerance, and pulls their numbers as Params.Snap says. Where the section shakes by more than the
// tolerance, so that no reasonable number of pieces follows it, Result.Met is false, and chain and
// deviation are those of the least tolerance that would do.
func Fit(s Section, p Params) (Chain, Result, error) {
	if !(p.Tolerance > 0) || math.IsInf(p.Tolerance, 1) {
		return Chain{}, Result{}, ErrTolerance
	}
	points, middle, err := sample(s, 1)
	if err != nil {
		return Chain{}, Result{}, err
	}
	f := fitter{s: points, section: centered(s, middle), tolerance: p.Tolerance}
	f.look()
	if times := (f.least + atOnce - 1) / atOnce; times > 1 {
		f.s, _, _ = sample(s, times)
	}
	var least int
	for _, times := range ladder {
		f.tolerance = p.Tolerance * times
		runs := f.look()
		if times == 1 {
			least = f.least
		}
		best, ok := f.lay(runs, times == 1, p.Snap)
		if !ok {
			continue
		}
		result := Measure(f.section, best)
		result.Met, result.Least = times == 1, least
		best.Start = best.Start.Add(middle)
		result.At = result.At.Add(middle)
		return best, result, nil
	}
	return Chain{}, Result{Least: least}, ErrNone
}

// look finds the runs of points that circles follow, and so the least number of pieces.
func (f *fitter) look() []int {
	f.bests = nil
	runs := longest(f.s.points, f.tolerance)
	f.least = len(runs) - 1
	if f.s.closed && f.least > 1 { // it may begin within a run
		f.least--
	}
	return runs
}

// lay finds a chain; one within the tolerance asked for is pulled, another brought as near as it comes.
func (f *fitter) lay(runs []int, asked bool, s Snap) (Chain, bool) {
	if f.least > atOnce {
		return f.layLong(runs, asked, s)
	}
	best, ok := f.search()
	switch {
	case !ok:
		return Chain{}, false
	case asked:
		best = f.snap(f.polish(best), s)
	default:
		best = f.tighten(best)
	}
	return best.chain, true
}

// centered is a section shifted so that middle is its origin.
func centered(s Section, middle geom.Point) Section {
	out := s
	out.Points = make([]geom.Point, len(s.Points))
	for i, p := range s.Points {
		out.Points[i] = p.Sub(middle)
	}
	if s.Between != nil {
		out.Between = func(i int, u float64) geom.Point { return s.Between(i, u).Sub(middle) }
	}
	return out
}

// A fitter looks for the chain with the fewest pieces.
type fitter struct {
	section   Section
	s         sampled
	bests     *bests
	tolerance float64
	least     int
	tried     int // chains
}

// search goes up from the least number of pieces until some chain lies within the tolerance, and
// then down again as long as one can be left out.
func (f *fitter) search() (solution, bool) {
	most := f.least + f.least/2 + extra
	for n := f.least; n <= most; n++ {
		nearest := math.Inf(1)
		for _, first := range f.starts(n, most) {
			v, ok := f.attempt(first)
			if ok {
				return f.fewer(v), true
			}
			nearest = min(nearest, v.mean)
		}
		n += f.hopeless(n, nearest)
	}
	return solution{}, false
}

// hopeless is how many numbers of pieces after n need not be tried, since distances fall with the cube of the
// number and are still too large in the mean. That is so on smooth curves; of arcs as drawn there are about
// as many as circles follow, and one fewer is far off.
func (f *fitter) hopeless(n int, square float64) int {
	const few, drawn = 12, 2
	if n < few || n < f.least+drawn || math.IsInf(square, 1) {
		return 0
	}
	times := math.Cbrt(math.Sqrt(square) / f.tolerance)
	return max(0, int(float64(n)*(times-1))-1)
}

// A layout is a section and the points of it at which pieces begin, from its first to its last.
type layout struct {
	s      sampled
	joints []int
}

// starts are layouts with n pieces to begin with. A closed section is begun at a joint: with one piece
// more than n, all joints but the section's first are where they should be.
func (f *fitter) starts(n, most int) []layout {
	if f.bests == nil {
		f.bests = tabulate(f.s, f.least).bests(most + 1)
	}
	b := f.bests
	if f.s.closed && n > 1 {
		if n+1 >= len(b.sum) {
			return nil
		}
		first := b.sum[n+1][(n+1)/2]
		s := f.s.rotate(first)
		b = tabulate(s, n).bests(n)
	}
	if n >= len(b.sum) {
		return nil
	}
	return []layout{{b.s, b.sum[n]}, {b.s, b.greatest[n]}}
}

// fewer leaves out joints as long as a chain without one lies within the tolerance; of those between pieces that
// are most like one.
func (f *fitter) fewer(v solution) solution {
	const tries = 8
	for len(v.chain.Pieces) > f.least {
		found := false
		now := v.layout()
		for _, joint := range now.likely(tries) {
			without := slices.Delete(slices.Clone(now.joints), joint, joint+1)
			var w solution
			if w, found = f.attempt(layout{now.s, without}); found {
				v = w
				break
			}
		}
		if !found {
			return v
		}
	}
	return v
}

// likely is the joints, all but the ends, that can best be left out: between pieces that one circle fits
// best.
func (l layout) likely(most int) []int {
	var joints []int
	square := make([]float64, len(l.joints))
	for i := 1; i+1 < len(l.joints); i++ {
		m := moments{origin: l.s.point(l.joints[i-1])}
		for j := l.joints[i-1]; j <= l.joints[i+1]; j++ {
			m.add(l.s.point(j), l.s.weight[j%len(l.s.points)])
		}
		square[i] = m.fit(geom.Point{X: 1}).square
		joints = append(joints, i)
	}
	slices.SortStableFunc(joints, func(a, b int) int { return cmp.Compare(coarse(square[a]), coarse(square[b])) })
	return joints[:min(most, len(joints))]
}

// layout is the points at which the pieces of a solution begin.
func (v *solution) layout() layout {
	n := len(v.s.points)
	first := 0
	if v.s.closed { // at the first point of some piece
		for first = 0; first < n && v.spots[(first+n-1)%n].piece == v.spots[first].piece; first++ {
		}
		first %= n
	}
	out := layout{s: v.s.rotate(first), joints: []int{0}}
	pieces := len(v.chain.Pieces)
	last := v.spots[first].piece
	for i := 1; i < n; i++ {
		at := v.spots[(first+i)%n].piece
		// On to the next piece, or over some on which no point lies; points that shake go back, too.
		if step := (at - last + pieces) % pieces; step > 0 && step <= pieces/2 {
			out.joints = append(out.joints, i)
			last = at
		}
	}
	out.joints = append(out.joints, v.end())
	return out
}

// end is the index of the last point, after which a closed section goes on with the first.
func (v *solution) end() int {
	if v.s.closed {
		return len(v.s.points)
	}
	return len(v.s.points) - 1
}

// attempt lays a chain with joints first at these points, and reports whether it comes to lie within the
// tolerance.
func (f *fitter) attempt(first layout) (solution, bool) {
	f.tried++
	v, ok := start(first.s, first.joints)
	if !ok {
		return v, false
	}
	f.hold(&v)
	tol := f.tolerance
	v.descend(norm{power: 2, scale: 1, demand: lax, pinned: true}, 6, 0)
	v.descend(norm{power: 2, scale: 1, demand: lax}, 8, 0)
	v.descend(norm{power: 2, scale: 1, demand: strict}, 12, 0)
	if v.mean > tol*tol || v.most > hopeless*tol {
		return v, false
	}
	return f.within(v)
}

// tighten brings a chain as near as it comes with its number of pieces.
func (f *fitter) tighten(v solution) solution {
	best, off := v, Measure(f.section, v.chain).Deviation
	for _, power := range powers {
		v.descend(norm{power: power, scale: v.most * 0.7, demand: strict}, 10, 0)
		w := v
		if !w.settle() {
			continue
		}
		if d := Measure(f.section, w.chain).Deviation; d < off {
			best, off = w, d
		}
	}
	return best
}

// powers are those of the norms on the way to the least greatest distance.
var powers = []int{4, 8, 16, 32, 64}

// within brings a chain that is nearest in the mean within the tolerance.
func (f *fitter) within(v solution) (solution, bool) {
	goal := margin * f.tolerance
	for _, power := range powers {
		if v.most <= goal {
			break
		}
		v.descend(norm{power: power, scale: max(v.most, f.tolerance) * 0.7, demand: strict}, 6, goal)
		// Higher powers take little more away from the greatest distance.
		if power == 8 && v.most > 1.5*goal {
			return v, false
		}
	}
	if v.most > goal {
		return v, false
	}
	return v, f.good(&v)
}

// polish takes the ends of an open chain for points like others, so that curvatures are those of the
// whole section and not bent by what two points are out by, and then brings the ends to
// their places by heading and lengths alone. It is left undone where it doesn't hold.
func (f *fitter) polish(v solution) solution {
	if !v.ties.exact {
		return v
	}
	w := v
	w.ties = v.ties.clone()
	w.ties.exact = false
	w.descend(norm{power: 2, scale: 1, demand: strict}, 20, 0)
	w.ties.exact = true
	for g := range w.ties.held {
		w.ties.held[g] = true
	}
	w.chain.Start = w.s.points[0]
	w, ok := f.refit(w)
	if !ok {
		return v
	}
	for g := range w.ties.held {
		w.ties.held[g] = false
	}
	return w
}

// good settles a solution and holds it against the section itself.
func (f *fitter) good(v *solution) bool {
	return v.settle() && Measure(f.section, v.chain).Deviation <= f.tolerance
}

// hold sets the ties that the section asks for.
func (f *fitter) hold(v *solution) {
	s, t := f.section, &v.ties
	if v.chain.Closed {
		t.turns = 2 * math.Pi * math.Round((v.chain.Turned()-v.chain.Heading)/(2*math.Pi))
		return
	}
	t.exact = !s.Loose
	if t.leave = s.Leave != (geom.Point{}); t.leave {
		v.chain.Heading = near(s.Leave.Angle(), v.chain.Heading)
	}
	t.arrive = s.Arrive != geom.Point{}
	t.arrival = near(s.Arrive.Angle(), v.chain.Turned())
}

// near is an angle plus the whole turns that bring it nearest to another.
func near(angle, other float64) float64 {
	return angle + float64(2*math.Pi*math.Round((other-angle)/(2*math.Pi)))
}

// start is a first chain with joints at these points: the directions there are those of the
// circles that lie best to the points before and after, and the curvatures what leads from one to the
// next, so that errors don't add up.
func start(s sampled, joints []int) (solution, bool) {
	n := len(joints) - 1
	v := solution{s: s, spots: make([]spot, len(s.points))}
	carriers := make([]carrier, n)
	for i := range n {
		from, to := joints[i], joints[i+1]
		if to <= from {
			return v, false
		}
		m := moments{origin: s.point(from)}
		for j := from; j <= to; j++ {
			m.add(s.point(j), s.weight[j%len(s.points)])
		}
		carriers[i] = m.fit(s.point(to).Sub(s.point(from)))
	}
	v.chain = Chain{Start: s.points[0], Closed: s.closed}
	lengths := make([]float64, n)
	leave, arrive := make([]float64, n), make([]float64, n)
	for i, c := range carriers {
		lengths[i] = s.along(joints[i+1]) - s.along(joints[i])
		leave[i] = c.headingAt(s.point(joints[i]))
		arrive[i] = near(c.headingAt(s.point(joints[i+1])), leave[i]+float64(c.curvature*lengths[i]))
	}
	// The headings at the joints: half-way between the pieces'.
	headings := make([]float64, n+1)
	headings[0] = leave[0]
	for i := range n {
		turn := arrive[i] - leave[i]
		next := headings[i] + turn
		if i+1 < n {
			mean := (arrive[i] + near(leave[i+1], arrive[i])) / 2
			next = near(mean, next)
		} else if s.closed {
			next = near(headings[0], next)
		}
		headings[i+1] = next
	}
	v.chain.Heading = headings[0]
	for i := range n {
		v.chain.Pieces = append(v.chain.Pieces, Piece{(headings[i+1] - headings[i]) / lengths[i], lengths[i]})
		for j := joints[i]; j < joints[i+1] || j == joints[i+1] && j < len(s.points); j++ {
			v.spots[j] = spot{i, s.at[j] - s.along(joints[i])}
		}
	}
	v.ties = free(v.chain)
	return v, v.chain.sound()
}

// along is the length to the i-th point; after the last of a closed section comes the first again.
func (s sampled) along(i int) float64 {
	if i == len(s.points) {
		return s.length
	}
	return s.at[i]
}

// headingAt is the direction of a carrier beside p.
func (c carrier) headingAt(p geom.Point) float64 {
	f := Piece{Curvature: c.curvature}.project(c.frame, p, 0)
	return c.frame.heading + float64(f.along*c.curvature)
}

package arcfit

import (
	"cmp"
	"math"
	"slices"
)

// A Snap says to what values a chain's numbers are pulled, each as far as the tolerance
// lets it. The zero value pulls none.
type Snap struct {
	Lines   bool      // nearly straight pieces become lines
	Equal   bool      // radii become equal
	Centers bool      // arcs come to have common centres
	Radii   []float64 // radii to take where they fit, those of other chains for one; mm
	Steps   []float64 // radii become multiples of the first of these that fits; mm
	Sweep   float64   // sweeps become multiples of it; radians, 0 for none
}

// Usual is what drawings are pulled to: lines, equal radii, radii of half and tenths of a
// millimetre, sweeps of 15 degrees, common centres.
func Usual() Snap {
	return Snap{Lines: true, Equal: true, Centers: true, Steps: []float64{0.5, 0.1}, Sweep: math.Pi / 12}
}

// How far a number may be pulled, before it is tried whether the chain still lies within the
// tolerance; what is farther off was drawn so.
const (
	bow     = 2.0          // tolerances that an arc's rise may change by
	alike   = 0.03         // of a curvature, between two that become one
	aside   = 25.0         // tolerances that an arc's end may shift along
	turned  = math.Pi / 90 // that a sweep may change by
	apart   = 4.0          // tolerances between two centres that become one
	perEach = 2            // changes that are tried for each piece
	atLeast = 40           // and more
	tooFar  = 2.5          // tolerances that a chain nearest in the mean may be off after a change
)

// snap pulls a solution's numbers, one change after another, each kept if the chain, fitted again,
// still lies within the tolerance.
func (f *fitter) snap(v solution, s Snap) solution {
	p := puller{f: f, v: v, left: perEach*len(v.chain.Pieces) + atLeast}
	if s.Lines {
		p.lines()
	}
	if s.Equal {
		p.equal()
	}
	for _, g := range p.groups() {
		p.round(g, s)
	}
	if s.Sweep > 0 {
		p.sweeps(s.Sweep)
	}
	if s.Centers {
		p.centers()
	}
	return p.v
}

// A puller changes a solution step by step.
type puller struct {
	f    *fitter
	v    solution
	left int // changes that may still be tried
}

// try makes a change and keeps it if it holds.
func (p *puller) try(change func(*solution)) bool {
	if p.left <= 0 {
		return false
	}
	p.left--
	w := p.v
	w.ties = w.ties.clone()
	w.chain.Pieces = slices.Clone(w.chain.Pieces)
	change(&w)
	w, ok := p.f.refit(w)
	if ok {
		p.v = w
	}
	return ok
}

// refit lays a chain whose ties were changed.
func (f *fitter) refit(v solution) (solution, bool) {
	f.tried++
	v.descend(norm{power: 2, scale: 1, demand: lax}, 6, 0)
	v.descend(norm{power: 2, scale: 1, demand: strict}, 10, 0)
	if v.mean > f.tolerance*f.tolerance || v.most > tooFar*f.tolerance {
		return v, false
	}
	return f.within(v)
}

// set gives a group a curvature.
func (v *solution) set(group int, curvature float64) {
	v.ties.value[group] = curvature
	for i, g := range v.ties.group {
		if g != group {
			continue
		}
		v.chain.Pieces[i].Curvature = v.ties.sign[i] * curvature
	}
}

// rise is by how much the middle of a piece moves against its ends when its curvature changes.
func rise(p Piece, change float64) float64 {
	// Beyond a quarter turn the arc's width is what counts, and not its length.
	length := min(p.Length, math.Pi/2/max(math.Abs(p.Curvature), math.SmallestNonzeroFloat64))
	return math.Abs(change) * length * length / 8
}

// lines makes nearly straight pieces straight, the straightest first.
func (p *puller) lines() {
	order := p.order(func(i int) float64 { return rise(p.v.chain.Pieces[i], p.v.chain.Pieces[i].Curvature) })
	for _, i := range order {
		piece := p.v.chain.Pieces[i]
		if piece.Curvature == 0 || rise(piece, piece.Curvature) > bow*p.f.tolerance {
			continue
		}
		p.try(func(v *solution) {
			v.set(v.ties.group[i], 0)
			v.ties.held[v.ties.group[i]] = true
		})
	}
}

// order is the pieces from the least to the greatest of a measure.
func (p *puller) order(of func(i int) float64) []int {
	order := make([]int, len(p.v.chain.Pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(coarse(of(i)), coarse(of(j))) })
	return order
}

// equal makes radii equal that are nearly so: all that are like that of the longest piece at once, or if
// that fails one after the other, then those that are left.
func (p *puller) equal() {
	done := make([]bool, len(p.v.chain.Pieces))
	for _, i := range p.order(func(i int) float64 { return -p.v.chain.Pieces[i].Length }) {
		if done[i] || p.v.ties.held[p.v.ties.group[i]] {
			continue
		}
		var like []int
		for _, j := range p.order(func(j int) float64 { return p.unlike(i, j) }) {
			if j != i && !done[j] && p.unlike(i, j) <= 1 {
				like = append(like, j)
			}
		}
		if len(like) == 0 {
			continue
		}
		if p.try(func(v *solution) { v.join(append([]int{i}, like...)) }) {
			for _, j := range like {
				done[j] = true
			}
			continue
		}
		members := []int{i}
		for _, j := range like {
			if p.try(func(v *solution) { v.join([]int{i, j}) }) {
				members, done[j] = append(members, j), true
			}
		}
	}
}

// unlike is how far two pieces are from having one radius; beyond 1 they are left alone.
func (p *puller) unlike(i, j int) float64 {
	if p.v.ties.held[p.v.ties.group[j]] {
		return math.Inf(1)
	}
	a, b := p.v.chain.Pieces[i], p.v.chain.Pieces[j]
	change := math.Abs(a.Curvature) - math.Abs(b.Curvature)
	shorter := a
	if b.Length < a.Length {
		shorter = b
	}
	return max(rise(shorter, change)/(bow*p.f.tolerance), math.Abs(change/a.Curvature)/alike)
}

// join puts pieces into the group of the first of them.
func (v *solution) join(pieces []int) {
	group := v.ties.group[pieces[0]]
	for _, i := range pieces {
		v.ties.group[i] = group
		v.ties.sign[i] = math.Copysign(1, v.chain.Pieces[i].Curvature)
	}
	v.set(group, math.Abs(v.chain.Pieces[pieces[0]].Curvature))
}

// coarse is a number to six digits: what is alike by symmetry is alike, and keeps its order.
func coarse(x float64) float64 {
	frac, exp := math.Frexp(x)
	return math.Ldexp(math.Round(frac*(1<<20)), exp-20)
}

// groups are those that may be rounded, that with the longest piece first.
func (p *puller) groups() []int {
	var out []int
	for _, i := range p.order(func(i int) float64 { return -p.v.chain.Pieces[i].Length }) {
		g := p.v.ties.group[i]
		if !p.v.ties.held[g] && !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	return out
}

// round gives a group one of the radii asked for, or a multiple of a step.
func (p *puller) round(group int, s Snap) {
	curvature := p.v.ties.value[group]
	if curvature == 0 {
		return
	}
	radius := 1 / math.Abs(curvature)
	tries := slices.Clone(s.Radii)
	slices.SortStableFunc(tries, func(a, b float64) int { return cmp.Compare(math.Abs(a-radius), math.Abs(b-radius)) })
	for _, step := range s.Steps {
		tries = append(tries, step*math.Round(radius/step))
	}
	for _, r := range tries {
		if !(r > 0) || !p.nearby(group, 1/r-1/radius) {
			continue
		}
		if p.try(func(v *solution) {
			v.set(group, math.Copysign(1/r, curvature))
			v.ties.held[group] = true
		}) {
			return
		}
	}
}

// nearby reports whether a change of a group's curvature is worth a try.
func (p *puller) nearby(group int, change float64) bool {
	for i, g := range p.v.ties.group {
		if g == group && rise(p.v.chain.Pieces[i], change) > bow*p.f.tolerance {
			return false
		}
	}
	return true
}

// sweeps makes sweeps multiples of a step, those that need the least change first.
func (p *puller) sweeps(step float64) {
	change := func(i int) float64 {
		turn := p.v.chain.Pieces[i].Sweep()
		return math.Abs(turn - float64(step*math.Round(turn/step)))
	}
	for _, i := range p.order(change) {
		piece := p.v.chain.Pieces[i]
		to := step * math.Round(piece.Sweep()/step)
		if piece.Curvature == 0 || to == 0 || change(i) > turned || change(i) > aside*p.f.tolerance*math.Abs(piece.Curvature) {
			continue
		}
		p.try(func(v *solution) {
			v.ties.sweep[i] = to
			v.chain.Pieces[i].Length = to / v.chain.Pieces[i].Curvature
		})
	}
}

// centers lets arcs have common centres.
func (p *puller) centers() {
	n := len(p.v.chain.Pieces)
	for i := range n {
		for j := i + 1; j < n; j++ {
			a, b := p.v.chain.Pieces[i], p.v.chain.Pieces[j]
			if a.Curvature == 0 || b.Curvature == 0 {
				continue
			}
			frames := p.v.chain.frames()
			if p.v.chain.center(frames, i).Dist(p.v.chain.center(frames, j)) > apart*p.f.tolerance {
				continue
			}
			if p.try(func(v *solution) { v.ties.centers = append(v.ties.centers, [2]int{i, j}) }) {
				break // what else lies about this centre is tied through j
			}
		}
	}
}

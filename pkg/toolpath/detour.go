package toolpath

// Ways from a lane to what the lanes leave, and back.
//
// To cut a point u the bit's centre has to come within b/2 of it. Go from any such
// place in the safe area straight towards u: either the way ends on the safe area's
// border, or at u. So running along the stretches of the border that are within
// b/2 of what is left cuts all of it, but for what is that far inside: to that the
// bit is led straight. The ways are taken one by one, always the one that cuts
// most.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// mostDetours bounds the ways that lead to one piece of what is left: each cuts
// the most of it, and a piece has few sides.
const mostDetours = 12

// fetch leads the bit to a piece that the lanes leave.
func (r *reacher) fetch(piece region.Region, h safeArea) {
	reach := r.g.Size.Bit / 2
	border := h.within(safeArea{piece.Grow(reach)}, piece.Bounds().Expand(reach))
	left := []region.Region{r.along(border, piece, h)}
	for n := 0; n < mostDetours && len(left) > 0; n++ { // by b/2 further in each time
		var next []region.Region
		for _, piece := range left {
			for _, inner := range region.Intersect(piece, h.Region).Pieces() {
				next = append(next, r.along(round(inner), inner, h))
			}
		}
		left = next
	}
}

// round are the ways round an area's borders.
func round(area region.Region) (list []geom.Contour) {
	for _, loop := range area.Loops() {
		list = append(list, geom.Chain(false, loop.Edges()...))
	}
	return list
}

// along leads the bit along those of some ways that cut something of a piece, and
// returns what is left of it.
func (r *reacher) along(ways []geom.Contour, piece region.Region, h safeArea) region.Region {
	radius := r.g.Size.Bit/2 + fine
	for n := 0; n < mostDetours && !piece.Empty(); n++ {
		best, least := -1, piece
		for i, way := range ways {
			if left := region.Subtract(piece, region.Stroke(way, radius)); left.Area() < least.Area()-nothing {
				best, least = i, left
			}
		}
		if best < 0 {
			break
		}
		if r.lead(ways[best], h) {
			piece = least
		}
		ways = slices.Delete(ways, best, best+1)
	}
	return piece
}

// nothing is an area in mm2 that isn't worth a way: what areas are exact to times
// a millimetre.
const nothing = geom.Coincident

// within returns the stretches of the safe area's border that lie in another area,
// which is in the box.
func (h safeArea) within(near safeArea, box geom.Box) []geom.Contour {
	var list []geom.Contour
	for _, loop := range h.Loops() {
		if !loop.Bounds().Meets(box) {
			continue
		}
		inside, stops := near.spans(loop)
		n := len(inside)
		first := slices.Index(inside, false)
		if first < 0 {
			list = append(list, geom.Chain(false, loop.Edges()...)) // all round
			continue
		}
		for i := 0; i < n; i++ { // from an end of a stretch on, once round
			if at := (first + i) % n; inside[at] {
				to := at
				for inside[to] {
					to = (to + 1) % n
					i++
				}
				if way := between(loop, stops[at], stops[to]); way.Length() > onBorder {
					list = append(list, way)
				}
			}
		}
	}
	return list
}

// A level is a move at one height, by its place in the run.
type level struct {
	geom.Edge
	pass, move int
}

// levels are the moves of a run that are wholly at height z and lead across.
func (r Run) levels(z float64) []level {
	var list []level
	at := r.Z
	for i, p := range r.Passes {
		for k, m := range p.Moves {
			if m.Z == z && at == z && m.Edge.A != m.Edge.B && p.Depth == -z {
				list = append(list, level{m.Edge, i, k})
			}
			at = m.Z
		}
	}
	return list
}

// lead adds the way along a stretch, and to it from the nearest run and back, to
// that run at each depth. It reports whether there is one.
func (r *reacher) lead(way geom.Contour, h safeArea) bool {
	for _, i := range r.runsNear(way, h) {
		run := &r.plan.Runs[i]
		done := false
		for k, depth := range r.plan.Depths {
			edges, ok := run.detour(way, h, -depth)
			if ok && k == len(r.plan.Depths)-1 {
				done = true
				for _, e := range edges {
					r.add(cutEdge{e, i})
				}
			}
		}
		if done {
			return true
		}
	}
	return false
}

// runsNear are the runs with cuts near a way in h, the nearest first.
func (r *reacher) runsNear(way geom.Contour, h safeArea) []int {
	dist := map[int]float64{}
	note := func(i int) bool {
		c := r.cuts[i]
		d := min(c.Dist(way.Start()), c.Dist(way.End()))
		if was, ok := dist[c.run]; !ok || d < was {
			dist[c.run] = d
		}
		return true
	}
	r.index.Search(way.Bounds().Expand(2*r.g.Size.Width), note)
	for _, i := range r.addedIn(h.Bounds()) {
		note(i)
	}
	var runs []int
	for i := range dist {
		runs = append(runs, i)
	}
	slices.SortFunc(runs, func(a, b int) int { return cmp.Or(cmp.Compare(dist[a], dist[b]), a-b) })
	return runs
}

// tries is from how many moves of a run a way there is looked for, the nearest
// first.
const tries = 8

// A branch is a way aside from a move, and back to where it began.
type branch struct {
	level
	t      float64      // where it begins, as a fraction of the move
	far    float64      // from there to the stretch, mm
	way    geom.Contour // the stretch
	edges  []geom.Edge  // all of it
	length float64
}

// detour puts a way along a stretch into the run at a height, where that is
// shortest. It returns its edges; false if no way leads there.
func (r *Run) detour(way geom.Contour, h safeArea, z float64) ([]geom.Edge, bool) {
	var list []branch
	for _, l := range r.levels(z) {
		for _, w := range [2]geom.Contour{way, way.Reverse()} {
			q, t := l.Nearest(w.Start())
			list = append(list, branch{level: l, t: t, far: q.Dist(w.Start()), way: w})
		}
	}
	slices.SortStableFunc(list, func(a, b branch) int { return cmp.Compare(a.far, b.far) })
	best := branch{length: math.Inf(1)}
	for _, b := range list[:min(tries, len(list))] {
		if b.far+way.Length() < best.length && b.lead(h) && b.length < best.length-geom.Coincident {
			best = b
		}
	}
	if len(best.edges) > 0 {
		r.insert(best.level, best.t, z, best.edges)
	}
	return best.edges, !math.IsInf(best.length, 1)
}

// lead finds the whole way of b; false if there is none in h. Back it goes as it
// came, unless another way is shorter.
func (b *branch) lead(h safeArea) bool {
	q := b.At(b.t)
	there, ok := h.lead(q, b.way.Start())
	if !ok {
		return false
	}
	out := joined(q, b.way.End(), there, b.way.Edges())
	back := geom.Chain(false, out...).Reverse().Edges()
	if home, ok := h.lead(b.way.End(), q); ok && lengthOf(home) < lengthOf(back) {
		back = home
	}
	b.edges = joined(q, q, out, back)
	b.length = lengthOf(b.edges)
	return true
}

func lengthOf(edges []geom.Edge) (sum float64) {
	for _, e := range edges {
		sum += e.Length()
	}
	return sum
}

// lead is a way from p to q that stays in h.
func (h safeArea) lead(p, q geom.Point) ([]geom.Edge, bool) {
	if p.Near(q, 2*onBorder) {
		return nil, true
	}
	edges := h.route(p, q)
	inside, _ := h.spans(geom.Chain(false, edges...))
	return edges, !slices.Contains(inside, false)
}

// joined is one way from p through all parts to q exactly. What is shorter than
// two borders' slack is left out: lanes and borders differ by that.
func joined(p, q geom.Point, parts ...[]geom.Edge) []geom.Edge {
	var list []geom.Edge
	for _, e := range slices.Concat(parts...) {
		if p.Near(e.B, 2*onBorder) {
			continue
		}
		e.A = p
		list = append(list, e)
		p = e.B
	}
	if n := len(list); n > 0 {
		list[n-1].B = q
	}
	return list
}

// insert adds edges after the fraction t of a move; they begin and end there.
func (r *Run) insert(at level, t, z float64, edges []geom.Edge) {
	pass := &r.Passes[at.pass]
	old := pass.Moves[at.move]
	q := edges[0].A
	var moves []Move
	add := func(e geom.Edge, role Role) {
		if e.A != e.B {
			moves = append(moves, Move{e, z, role})
		}
	}
	first, last := old.Edge.Part(0, t), old.Edge.Part(t, 1)
	first.A, first.B, last.A, last.B = old.Edge.A, q, q, old.Edge.B
	add(first, old.Role)
	for _, e := range edges {
		add(e, Between)
	}
	add(last, old.Role)
	all := slices.Concat(pass.Moves[:at.move], moves, pass.Moves[at.move+1:])
	r.Passes = slices.Clone(r.Passes)
	r.Passes[at.pass].Moves = all
}

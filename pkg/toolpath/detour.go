package toolpath

// Ways from a lane to what the lanes leave, and back.
//
// To cut a point u the bit's centre has to come within b/2 of it. Go from any such
// place in the haven straight towards u: either the way ends on the haven's
// border, or at u. So running along the stretches of the border that are within
// b/2 of what is left cuts all of it, but for what is that far inside. They are
// taken one by one, always the one that cuts most.

import (
	"cmp"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// mostDetours bounds the ways that lead to one piece of what is left: each cuts
// the most of it, and a piece has few sides.
const mostDetours = 12

// fetch leads the bit to a piece that the lanes leave.
func (r *reacher) fetch(piece region.Region, h haven) {
	bit := r.g.Size.Bit
	ways := h.within(haven{piece.Grow(bit / 2)}, piece.Bounds().Expand(bit/2))
	for range mostDetours {
		best, least := -1, piece
		for i, way := range ways {
			if left := region.Subtract(piece, region.Stroke(way, bit/2+fine)); left.Area() < least.Area()-nothing {
				best, least = i, left
			}
		}
		if best < 0 {
			return
		}
		if r.lead(ways[best], h) {
			piece = least
		}
		ways = slices.Delete(ways, best, best+1)
		if piece.Empty() {
			return
		}
	}
}

// nothing is an area in mm2 that isn't worth a way: what areas are exact to times
// a millimetre.
const nothing = geom.Coincident

// within returns the stretches of the haven's border that lie in another area,
// which is in the box.
func (h haven) within(near haven, box geom.Box) []geom.Contour {
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
func (r *reacher) lead(way geom.Contour, h haven) bool {
	for _, i := range r.runsNear(way) {
		run := &r.plan.Runs[i]
		done := false
		for k, depth := range r.plan.Depths {
			edges, ok := run.detour(way, h, -depth)
			if ok && k == len(r.plan.Depths)-1 {
				done = true
				for _, e := range edges {
					r.cuts = append(r.cuts, cutEdge{e, i})
				}
			}
		}
		if done {
			return true
		}
	}
	return false
}

// runsNear are the runs with cuts near a way, the nearest first.
func (r *reacher) runsNear(way geom.Contour) []int {
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
	for i := r.known; i < len(r.cuts); i++ {
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

// detour puts a way along a stretch into the run at a height, from where the way
// there is shortest. It returns its edges; false if no way leads there.
func (r *Run) detour(way geom.Contour, h haven, z float64) ([]geom.Edge, bool) {
	type from struct {
		level
		t, d float64
		way  geom.Contour
	}
	var list []from
	for _, l := range r.levels(z) {
		for _, w := range [2]geom.Contour{way, way.Reverse()} {
			q, t := l.Nearest(w.Start())
			list = append(list, from{l, t, q.Dist(w.Start()), w})
		}
	}
	slices.SortStableFunc(list, func(a, b from) int { return cmp.Compare(a.d, b.d) })
	for _, f := range list[:min(tries, len(list))] {
		q := f.At(f.t)
		there, ok := h.lead(q, f.way.Start())
		if !ok {
			continue
		}
		back, ok := h.lead(f.way.End(), q)
		if !ok {
			continue
		}
		edges := joined(q, there, f.way.Edges(), back)
		if len(edges) == 0 {
			return nil, true // the lane comes there
		}
		r.insert(f.level, f.t, z, edges)
		return edges, true
	}
	return nil, false
}

// lead is a way from p to q that stays in h.
func (h haven) lead(p, q geom.Point) ([]geom.Edge, bool) {
	if p.Near(q, 2*onBorder) {
		return nil, true
	}
	edges := h.route(p, q)
	inside, _ := h.spans(geom.Chain(false, edges...))
	return edges, !slices.Contains(inside, false)
}

// joined is one way from q through all parts and back to q exactly. What is
// shorter than two borders' slack is left out: lanes and borders differ by that.
func joined(q geom.Point, parts ...[]geom.Edge) []geom.Edge {
	var list []geom.Edge
	at := q
	for _, e := range slices.Concat(parts...) {
		if at.Near(e.B, 2*onBorder) {
			continue
		}
		e.A = at
		list = append(list, e)
		at = e.B
	}
	if n := len(list); n > 0 && at != q {
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

package weave

// Alternation is a two-colouring: of two visits that follow one another along
// a strand one is over and one under. The crossings and the stretches between
// them are a plane graph, and the colouring exists exactly when no face of it
// asks for an odd number of changes. Closed curves have no odd face (P. G.
// Tait, "On Knots", Trans. R. Soc. Edinburgh 28, 1877); a free end within a
// face makes it odd. Then stretches must be broken so that every odd face
// borders on an odd number of breaks, every other face on an even one: the
// fewest are a shortest pairing of the odd faces along paths from face to face
// (F. Hadlock, "Finding a maximum cut of a planar graph in polynomial time",
// SIAM J. Comput. 4, 1975; for signed graphs F. Barahona, J. Phys. A 15, 1982).

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/motif"
)

// A stretch is the part of a strand between two visits that follow one
// another; on a closed strand with a single visit, from that visit round to
// itself.
type stretch struct{ from, to Visit }

// graph is the plane graph of crossings and stretches. Stretch k has two
// darts, 2k leaving its first visit and 2k+1 its last, so d^1 is the other
// end of d.
type graph struct {
	stretches []stretch
	odd       []bool   // of each stretch: whether Visits[0].Over differs between its two crossings
	slots     [][4]int // of each crossing: the darts that leave it, counter-clockwise; none where an arm runs to a free end
	face      []int    // of each dart: the face on its left
	faces     int
}

const none = -1

// alternate sets Over of the crossings' visits and reports the breaks.
func (w *Weave) alternate(m motif.Motif, lefts []bool, firstOver bool, found *diag.Findings) {
	g := w.graph(m, lefts)
	w.colour(&g, g.breaks(), firstOver)
	for _, s := range g.stretches {
		from, to := w.Crossings[s.from.Crossing], w.Crossings[s.to.Crossing]
		over := from.Visits[w.passage(s.from)].Over
		if over != to.Visits[w.passage(s.to)].Over {
			continue
		}
		w.Crossings[s.from.Crossing].Broken = true
		w.Crossings[s.to.Crossing].Broken = true
		w.report(m, s, over, found)
	}
}

// report warns of one break.
func (w *Weave) report(m motif.Motif, s stretch, over bool, found *diag.Findings) {
	word := "under"
	if over {
		word = "over"
	}
	p, q := w.Crossings[s.from.Crossing].At, w.Crossings[s.to.Crossing].At
	source := m.Sources[m.Strands[s.from.Strand].Sources[s.from.Edge]]
	if s.from == s.to {
		found.Warnf(source.Key, "weave-break", "%s cannot alternate: its strand passes %s at %s, round and round",
			source.Name, word, motif.Place(p)).SetAt(p.X, p.Y).
			Hintf("a strand ends inside a loop: lead its end out of the loop, or accept it")
		return
	}
	found.Warnf(source.Key, "weave-break", "%s cannot alternate: its strand passes %s at %s and again at %s",
		source.Name, word, motif.Place(p), motif.Place(q)).SetAt(p.X, p.Y).
		Hintf("a strand ends inside a loop: lead its end out of the loop, or accept it")
}

// graph lists the stretches and finds the faces.
func (w *Weave) graph(m motif.Motif, lefts []bool) graph {
	g := graph{slots: make([][4]int, len(w.Crossings))}
	for i := range g.slots {
		g.slots[i] = [4]int{none, none, none, none}
	}
	for i, vs := range w.Visits {
		for k, v := range vs {
			next := k + 1
			if next == len(vs) {
				if !m.Strands[i].Contour.Closed {
					continue
				}
				next = 0
			}
			g.add(stretch{v, vs[next]}, w.passage(v), w.passage(vs[next]), lefts)
		}
	}
	g.trace()
	return g
}

// add adds a stretch that leaves and enters by the given passages.
func (g *graph) add(s stretch, leaves, enters int, lefts []bool) {
	d := 2 * len(g.stretches)
	g.stretches = append(g.stretches, s)
	// over(visit) is Visits[0].Over for passage 0, its opposite for passage 1.
	g.odd = append(g.odd, leaves == enters)
	g.slots[s.from.Crossing][slot(leaves, true, lefts[s.from.Crossing])] = d
	g.slots[s.to.Crossing][slot(enters, false, lefts[s.to.Crossing])] = d + 1
}

// slot numbers the arms of a crossing counter-clockwise, from where its first
// passage leaves; left says that its second passage leaves to the left of that.
func slot(passage int, leaves, left bool) int {
	switch {
	case passage == 0 && leaves:
		return 0
	case passage == 0:
		return 2
	case leaves == left:
		return 1
	}
	return 3
}

// trace numbers the faces: keeping a face on the left, one goes on by the next
// arm clockwise from the one by which one came.
func (g *graph) trace() {
	g.face = make([]int, 2*len(g.stretches))
	for i := range g.face {
		g.face[i] = none
	}
	for d := range g.face {
		if g.face[d] != none {
			continue
		}
		for e := d; g.face[e] == none; e = g.after(e) {
			g.face[e] = g.faces
		}
		g.faces++
	}
}

// after is the dart that follows d round the face on its left.
func (g *graph) after(d int) int {
	back := d ^ 1
	arms := g.slots[g.crossing(back)]
	k := 0
	for arms[k] != back {
		k++
	}
	for {
		k = (k + 3) % 4
		if arms[k] != none {
			return arms[k]
		}
	}
}

// crossing is where the dart d leaves from.
func (g *graph) crossing(d int) int {
	if d%2 == 0 {
		return g.stretches[d/2].from.Crossing
	}
	return g.stretches[d/2].to.Crossing
}

// breaks returns the stretches to break, the fewest possible.
func (g *graph) breaks() []bool {
	broken := make([]bool, len(g.stretches))
	odd := make([]bool, g.faces)
	around := make([][]int, g.faces) // the darts round each face
	for d, f := range g.face {
		around[f] = append(around[f], d)
		if g.odd[d/2] {
			odd[f] = !odd[f]
		}
	}
	for _, piece := range g.oddFaces(odd, around) {
		ways := make([]way, len(piece))
		dist := make([][]int, len(piece))
		for i, f := range piece {
			ways[i] = g.walk(f, around)
			for _, to := range piece {
				dist[i] = append(dist[i], ways[i].dist[to])
			}
		}
		for i, j := range pairUp(dist) {
			for f := piece[j]; i < j && f != piece[i]; f = g.face[ways[i].into[f]] {
				k := ways[i].into[f] / 2
				broken[k] = !broken[k]
			}
		}
	}
	return broken
}

// oddFaces lists the odd faces of each connected piece that has any.
func (g *graph) oddFaces(odd []bool, around [][]int) [][]int {
	var pieces [][]int
	seen := make([]bool, g.faces)
	for f := range g.faces {
		if !odd[f] || seen[f] {
			continue
		}
		var piece []int
		for to, d := range g.walk(f, around).dist {
			if d >= 0 && odd[to] {
				piece = append(piece, to)
				seen[to] = true
			}
		}
		pieces = append(pieces, piece)
	}
	return pieces
}

// A way is the shortest paths from one face to all others.
type way struct {
	dist []int // stretches to be crossed; negative for faces of other pieces
	into []int // of each face that was reached: the dart, of the face before it, that is crossed last
}

// walk finds the shortest paths from a face, breadth first.
func (g *graph) walk(from int, around [][]int) way {
	w := way{make([]int, g.faces), make([]int, g.faces)}
	for i := range w.dist {
		w.dist[i] = none
	}
	w.dist[from] = 0
	for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
		f := queue[0]
		for _, d := range around[f] {
			if to := g.face[d^1]; w.dist[to] < 0 {
				w.dist[to], w.into[to] = w.dist[f]+1, d
				queue = append(queue, to)
			}
		}
	}
	return w
}

// colour spreads over and under along the stretches, in each piece from the
// first visit of its first strand.
func (w *Weave) colour(g *graph, broken []bool, firstOver bool) {
	done := make([]bool, len(w.Crossings))
	for _, vs := range w.Visits {
		if len(vs) == 0 || done[vs[0].Crossing] {
			continue
		}
		start := vs[0].Crossing
		top := w.passage(vs[0])
		if !firstOver {
			top = 1 - top
		}
		w.setOver(start, top)
		done[start] = true
		for queue := []int{start}; len(queue) > 0; queue = queue[1:] {
			c := queue[0]
			for _, d := range g.slots[c] {
				if d == none {
					continue
				}
				to := g.crossing(d ^ 1)
				if done[to] {
					continue
				}
				first := w.Crossings[c].Visits[0].Over != (g.odd[d/2] != broken[d/2])
				if first {
					w.setOver(to, 0)
				} else {
					w.setOver(to, 1)
				}
				done[to] = true
				queue = append(queue, to)
			}
		}
	}
}

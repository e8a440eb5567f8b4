package region

// The order of pieces round a vertex, and the winding numbers that follow
// from it.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// A spoke is what the ordering needs of a half: the direction in which it
// leaves its vertex, its curvature and the distance to its other end.
type spoke struct {
	h            half
	angle        float64
	curvature    float64
	chord        float64
	atCommonRing float64
}

// at is the direction, from the vertex, of the point where the spoke crosses
// the circle of the given radius about the vertex; radius <= chord.
func (s spoke) at(radius float64) float64 {
	return s.angle + math.Asin(math.Max(-1, math.Min(1, s.curvature*radius/2)))
}

func (ar *arrangement) spoke(h half) spoke {
	s := newSpoke(ar.edge(h))
	s.h = h
	return s
}

func newSpoke(e geom.Edge) spoke {
	return spoke{angle: e.Tangent(0).Angle(), curvature: e.Curvature(), chord: e.Chord()}
}

// sortRounds files every half at its vertex in counter-clockwise order.
func (ar *arrangement) sortRounds() {
	ar.out = make([][]half, len(ar.verts.pts))
	ar.pos = make([]int, 2*len(ar.pieces))
	degree := make([]int, len(ar.verts.pts))
	for _, p := range ar.pieces {
		degree[p.a]++
		degree[p.b]++
	}
	all := make([]half, 2*len(ar.pieces))
	for v, n := range degree {
		ar.out[v], all = all[:0:n], all[n:]
	}
	for p := range ar.pieces {
		for h := half(2 * p); h < half(2*p+2); h++ {
			v := ar.from(h)
			ar.out[v] = append(ar.out[v], h)
		}
	}
	var spokes []spoke // used again at each vertex
	for _, hs := range ar.out {
		if len(hs) > 2 { // two halves have only one cyclic order
			spokes = ar.sortRound(hs, spokes[:0])
		}
		for i, h := range hs {
			ar.pos[h] = i
		}
	}
}

// sortRound puts the halves round one vertex in order; it returns the room that spokes took.
func (ar *arrangement) sortRound(hs []half, spokes []spoke) []spoke {
	ring := math.Inf(1)
	for i, h := range hs {
		spokes = append(spokes, ar.spoke(h))
		ring = min(ring, spokes[i].chord/2)
	}
	for i := range spokes {
		spokes[i].atCommonRing = normalAngle(spokes[i].at(ring))
	}
	slices.SortStableFunc(spokes, func(a, b spoke) int {
		switch {
		case a.atCommonRing < b.atCommonRing:
			return -1
		case a.atCommonRing > b.atCommonRing:
			return 1
		}
		return 0
	})
	settleTies(spokes)
	for i, s := range spokes {
		hs[i] = s.h
	}
	return spokes
}

// settleTies puts neighbours right that leave in nearly one direction: each
// pair is compared again near the end of the shorter one.
func settleTies(spokes []spoke) {
	n := len(spokes)
	for range n {
		swapped := false
		for i := range n {
			j := (i + 1) % n
			if tied(spokes[i], spokes[j]) && wrongWay(spokes[i], spokes[j]) {
				// The ring's angles stay with the places, so that a pair is not
				// distinguished by a value that has just been overruled.
				spokes[i], spokes[j] = spokes[j], spokes[i]
				spokes[i].atCommonRing, spokes[j].atCommonRing = spokes[j].atCommonRing, spokes[i].atCommonRing
				swapped = true
			}
		}
		if !swapped {
			return
		}
	}
}

// nearlyTangent is the angle up to which two curves may cross, part by less
// than Coincident, and meet again: 4.5e-4 for curvatures that differ by 1 per
// millimetre, and in proportion to the difference's root.
const nearlyTangent = 2e-3

// tied reports whether the directions of a and b say too little about which
// of them is on the left. Ends that are out by Coincident turn short pieces
// by more than nearlyTangent.
func tied(a, b spoke) bool {
	slack := max(nearlyTangent, 8*geom.Coincident/min(a.chord, b.chord))
	return math.Abs(normalAngle(b.atCommonRing-a.atCommonRing)) < min(slack, math.Pi/4)
}

// wrongWay reports whether b is clockwise of a where the shorter ends: there
// they are more than Coincident apart, since otherwise the longer would be
// split. Before that they may wander across each other within Coincident. (Not
// quite at the end: two half circles may be half a turn apart there.)
func wrongWay(a, b spoke) bool {
	far := 0.9 * min(a.chord, b.chord)
	return normalAngle(b.at(far)-a.at(far)) < 0
}

// normalAngle brings a into (-pi, pi].
func normalAngle(a float64) float64 {
	a = math.Mod(a, 2*math.Pi)
	if a > math.Pi {
		a -= 2 * math.Pi
	} else if a <= -math.Pi {
		a += 2 * math.Pi
	}
	return a
}

// leftOf is the winding number on the left of h.
func (ar *arrangement) leftOf(h half) winding {
	p := &ar.pieces[h.piece()]
	if h&1 == 1 {
		return p.right
	}
	return p.left
}

// setLeft says what lies on the left of h. It reports false if something else
// was known already.
func (ar *arrangement) setLeft(h half, w winding) bool {
	p := &ar.pieces[h.piece()]
	l, r := w, w.minus(p.delta)
	if h&1 == 1 {
		l, r = w.plus(p.delta), w
	}
	if p.known {
		return p.left == l
	}
	p.left, p.right, p.known = l, r, true
	return true
}

// wind finds the winding numbers on both sides of every piece.
func (ar *arrangement) wind() {
	ar.shapes = make([]geom.Prepared, len(ar.pieces))
	for p := range ar.pieces {
		ar.shapes[p] = geom.Prepare(ar.edge(half(2 * p)))
	}
	seen := make([]bool, len(ar.pieces))
	var component []int
	for p := range ar.pieces {
		if seen[p] {
			continue
		}
		component = ar.connected(p, seen, component[:0])
		if !ar.windFrom(ar.sampleOf(component)) {
			// Two faces claim one side: the order round some vertex is not what
			// the pieces do, because they come nearer than Coincident without
			// meeting. Each piece then asks for itself.
			ar.doubtful += len(component)
			for _, q := range component {
				ar.windByRay(ar.steepest(q))
			}
		}
	}
}

// connected appends to list the pieces that hang together with p.
func (ar *arrangement) connected(p int, seen []bool, list []int) []int {
	seen[p] = true
	list = append(list, p)
	for i := len(list) - 1; i < len(list); i++ {
		q := ar.pieces[list[i]]
		for _, v := range [2]int{q.a, q.b} {
			for _, h := range ar.out[v] {
				if k := h.piece(); !seen[k] {
					seen[k] = true
					list = append(list, k)
				}
			}
		}
	}
	return list
}

// windFrom finds the winding numbers beside a sample by a ray and hands them
// on through its component. It reports false on a contradiction.
func (ar *arrangement) windFrom(s sample) bool {
	ar.windByRay(s)
	todo := []int{s.piece}
	ok := true
	for len(todo) > 0 {
		q := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for h := half(2 * q); h < half(2*q+2); h++ {
			round := ar.out[ar.from(h)]
			n, i := len(round), ar.pos[h]
			// What is left of h is right of the next half counter-clockwise,
			// which is left of its twin; and the same on the other side.
			next, prev := round[(i+1)%n], round[(i+n-1)%n]
			for _, s := range [2]struct {
				h half
				w winding
			}{{next.twin(), ar.leftOf(h)}, {prev, ar.leftOf(h.twin())}} {
				if !ar.pieces[s.h.piece()].known {
					todo = append(todo, s.h.piece())
				}
				ok = ar.setLeft(s.h, s.w) && ok
			}
		}
	}
	return ok
}

// windByRay finds the winding numbers beside the piece of s alone.
func (ar *arrangement) windByRay(s sample) {
	w := ar.beside(s.piece, s.t)
	q := &ar.pieces[s.piece]
	if ar.shapes[s.piece].Tangent(s.t).Y > 0 { // the far left is on the left of p
		q.left, q.right = w, w.minus(q.delta)
	} else {
		q.left, q.right = w.plus(q.delta), w
	}
	q.known = true
}

package trace

import (
	"math"

	"strapwork/pkg/geom"
)

const ruleRound = "drawing-round"

// filleted gives the corners of tracks fillets of the radius that was asked for. A fillet's
// centre is where the curves that run beside the two edges, as far as the radius, meet.
func (t *tracer) filleted(tracks []track) {
	r := t.p.Round
	if r <= 0 {
		return
	}
	for i := range tracks {
		tr := &tracks[i]
		for k := 0; k < len(tr.edges); k++ {
			j := (k + 1) % len(tr.edges)
			if j == 0 && !tr.closed || len(tr.edges) == 1 {
				continue
			}
			e, f := tr.edges[k], tr.edges[j]
			turn := turnOf(e.Tangent(1), f.Tangent(0))
			if math.Abs(turn) <= smoothTurn {
				continue
			}
			cut, arc, rest, ok := fillet(e, f, math.Copysign(r, turn))
			if !ok {
				t.tight = append(t.tight, e.B)
				continue
			}
			tr.edges[k], tr.edges[j] = cut, rest
			at := k + 1
			tr.edges = append(tr.edges[:at:at], append([]geom.Edge{arc}, tr.edges[at:]...)...)
			k++
		}
	}
}

// fillet is the arc of a radius between two edges, positive to the left, and what it
// leaves of them.
func fillet(e, f geom.Edge, r float64) (cut, arc, rest geom.Edge, ok bool) {
	best := math.Inf(1)
	for _, m := range geom.Crossings(e.Shift(r), f.Shift(r), geom.Coincident) {
		a, s := e.Nearest(m.At)
		b, u := f.Nearest(m.At)
		if d := m.At.Dist(e.B); d < best && s > 0 && u < 1 && math.Abs(a.Dist(m.At)-math.Abs(r)) < geom.Coincident && math.Abs(b.Dist(m.At)-math.Abs(r)) < geom.Coincident {
			best, ok = d, true
			cut, arc, rest = e.Part(0, s), geom.ArcThrough(a, b, m.At, r > 0), f.Part(u, 1)
			cut.B, rest.A = a, b
		}
	}
	return cut, arc, rest, ok
}

package arcfit

import (
	"math"

	"strapwork/pkg/geom"
)

// A solution is a chain laid along a sampled section, and what holds it.
type solution struct {
	s     sampled
	ties  ties
	chain Chain
	spots []spot // where each point's foot is
	// At the last look:
	most float64 // the greatest distance of a point
	mean float64 // the weighted mean square of the distances
}

// A spot is a piece and a length along it.
type spot struct {
	piece int
	along float64
}

// A norm is what is made least: the sum of weight * (|distance|/scale)^power, where power is 2, 4, 8, ...
// The higher it is, the nearer is its least to the least greatest distance.
type norm struct {
	power int
	scale float64
	// demand is the weight of the square of what must be 0, where the points' weights are 1
	// together. The heavier, the nearer it is met, and the narrower is the valley to descend in.
	demand float64
	// pinned takes the distance, in both directions, from the place at which the spot is instead of
	// the nearest place: points stay at their share of their piece.
	pinned bool
}

// anchoring is the weight of how far along its line a loose end lies from the section's.
const anchoring = 0.02

// Weights of what must be 0.
const (
	lax    = 3.0
	strict = 1000.0 // it is then met to about a thousandth of the distances
)

// trial is what a chain costs, and where the feet of the points are on it.
type trial struct {
	chain   Chain
	frames  []frame
	spots   []spot
	demands []demand
	blocks  []block
	cost    float64 // of the points
	asked   float64 // of what is demanded
	most    float64
	mean    float64
}

// look works out what a chain costs; with blocks if it is to be improved on.
func (v *solution) look(c Chain, n norm) trial {
	t := trial{chain: c, frames: c.frames(), spots: make([]spot, len(v.s.points)), blocks: make([]block, len(c.Pieces)+1)}
	for i, p := range v.s.points {
		w := v.s.weight[i]
		var off float64
		if n.pinned {
			off = t.pin(v, i, w)
		} else {
			off = t.drop(v.spots[i], i, p, w, n)
		}
		t.mean += float64(w * float64(off*off))
		t.most = max(t.most, math.Abs(off))
	}
	if !c.Closed && !v.ties.exact {
		t.anchor(v.s)
	}
	t.demands = v.ties.demands(c, t.frames, v.s.points[len(v.s.points)-1])
	for _, d := range t.demands {
		t.asked += float64(n.demand / 2 * float64(d.off*d.off))
	}
	return t
}

// drop adds the distance of a point from the nearest place on the chain.
func (t *trial) drop(from spot, i int, p geom.Point, w float64, n norm) float64 {
	f := t.chain.walk(t.frames, p, from.piece, from.along)
	t.spots[i] = spot{f.piece, f.along}
	k := t.chain.Pieces[f.piece].Curvature
	way := t.frames[f.piece].way
	// The normal at the foot: the piece's own, turned.
	normal := geom.Point{
		X: -float64(way.X*f.sin) - float64(way.Y*f.cos),
		Y: float64(way.X*f.cos) - float64(way.Y*f.sin),
	}
	at := p.Sub(normal.Scale(f.off))
	r := moved(at, normal)
	// By the curvature the foot moves across, by (1 - cos(turn))/k^2.
	turn := k * f.along
	r[byCurvature] = f.along * f.along / 2 * (1 - float64(turn*turn)/12)
	if math.Abs(turn) > 0.05 {
		r[byCurvature] = (1 - f.cos) / float64(k*k)
	}
	for j := range r {
		r[j] = -r[j] // the point lies less far left where the chain moves left
	}
	x := f.off / n.scale
	lift := power(float64(x*x), n.power/2-1)
	pull := float64(w * lift)
	const least = 0.01 // stiffness is kept where points are near, so that all is held
	stiff := w * max(least, float64(n.power-1)*lift)
	t.blocks[f.piece].add(r, f.off, pull, stiff)
	t.cost += float64(pull*float64(f.off*f.off)) / float64(n.power)
	return f.off
}

// power is x to the n, n = 2^m - 1.
func power(x float64, n int) float64 {
	out := 1.0
	for ; n > 0; n /= 2 {
		out *= x
		x *= x
	}
	return out
}

// pin adds both parts of the distance of a point from the place at its share of its piece.
func (t *trial) pin(v *solution, i int, w float64) float64 {
	at := v.spots[i]
	old, p := v.chain.Pieces[at.piece], t.chain.Pieces[at.piece]
	share := at.along / old.Length
	t.spots[i] = spot{at.piece, share * p.Length}
	part := Piece{p.Curvature, share * p.Length}
	f := part.from(t.frames[at.piece])
	bend := part.bends(f)
	gap := f.at.Sub(v.s.points[i])
	for _, d := range [2]geom.Point{f.way, f.way.Left()} {
		r := moved(f.at, d)
		r[byCurvature] = dot(bend, d)
		r[byLength] = share * dot(f.way, d)
		off := dot(gap, d)
		t.blocks[at.piece].add(r, off, w, w)
		t.cost += float64(w * float64(off*off) / 2)
	}
	return gap.Norm()
}

// anchor holds the ends of a loose chain beside those of the section.
func (t *trial) anchor(s sampled) {
	n := len(t.chain.Pieces)
	for _, end := range []struct {
		f    frame
		p    geom.Point
		into int
	}{{t.frames[0], s.points[0], 0}, {t.frames[n], s.points[len(s.points)-1], n}} {
		gap := end.f.at.Sub(end.p)
		off := dot(gap, end.f.way)
		r := moved(end.f.at, end.f.way)
		r[byTurn] += dot(gap, end.f.way.Left())
		t.blocks[end.into].add(r, off, anchoring, anchoring)
		t.cost += float64(anchoring / 2 * float64(off*off))
	}
}

// take makes a trial the solution's state.
func (v *solution) take(t trial, value []float64) {
	v.chain, v.spots, v.most, v.mean = t.chain, t.spots, t.most, t.mean
	if value != nil {
		v.ties.value = value
	}
}

// descend makes the norm less, by Levenberg's and Marquardt's method, in at most so many steps, and
// stops when the greatest distance is goal or less.
func (v *solution) descend(n norm, most int, goal float64) {
	now := v.look(v.chain, n)
	v.take(now, nil)
	damp := 1e-6
	for range most {
		if now.most <= goal && now.met() {
			return
		}
		r := v.ties.reduce(v.chain)
		m, g := now.normal(r, n.demand)
		gained := 0.0
		for range 6 {
			by, ok := step(m, g, damp)
			if ok {
				c, value := v.ties.move(v.chain, r, by)
				if t := v.look(c, n); c.sound() && t.total() < now.total() {
					gained = 1 - t.total()/now.total()
					v.take(t, value)
					now = t
					damp = max(damp/10, 1e-12)
					break
				}
			}
			damp = max(damp*8, 1e-9)
		}
		const still = 1e-6 // of the cost, gained in a step: it is at its least
		if gained < still {
			return
		}
	}
}

func (t *trial) total() float64 { return t.cost + t.asked }

// met reports whether what is demanded all but holds.
func (t *trial) met() bool {
	for _, d := range t.demands {
		if math.Abs(d.off) > 0.1*t.most+geom.Coincident {
			return false
		}
	}
	return true
}

// sound reports whether all pieces have a length and none runs round more than once.
func (c Chain) sound() bool {
	for _, p := range c.Pieces {
		if !(p.Length > geom.Coincident) || math.Abs(p.Sweep()) > 2*math.Pi*(1+1e-9) {
			return false
		}
	}
	return true
}

// normal is the system of a trial in its free numbers, demands as heavy squares.
func (t *trial) normal(r reduction, demand float64) (dense, []float64) {
	sys := assemble(t.chain, t.frames, t.blocks)
	m, g := newDense(r.n), make([]float64, r.n)
	for i, ci := range r.col {
		if ci < 0 {
			continue
		}
		g[ci] += float64(r.times[i] * sys.g[i])
		for j := range i + 1 {
			cj := r.col[j]
			if cj < 0 {
				continue
			}
			h := float64(r.times[i] * r.times[j] * sys.h.a[i*sys.h.n+j])
			hi, lo := max(ci, cj), min(ci, cj)
			m.a[hi*m.n+lo] += h
			if i != j && ci == cj {
				m.a[hi*m.n+lo] += h
			}
		}
	}
	for _, d := range t.demands {
		by := r.reduced(d.by)
		for i, v := range by {
			g[i] += float64(demand * float64(d.off*v))
			for j, w := range by[:i+1] {
				m.a[i*m.n+j] += float64(demand * float64(v*w))
			}
		}
	}
	return m, g
}

// reduced is a derivative by the free numbers.
func (r reduction) reduced(by []float64) []float64 {
	out := make([]float64, r.n)
	for i, c := range r.col {
		if c >= 0 {
			out[c] += float64(r.times[i] * by[i])
		}
	}
	return out
}

// step solves for the move that a damped system asks for.
func step(m dense, g []float64, damp float64) ([]float64, bool) {
	l := newDense(m.n)
	copy(l.a, m.a)
	for i := range m.n {
		d := &l.a[i*m.n+i]
		*d += float64(damp**d) + 1e-18
	}
	if !l.factor() {
		return nil, false
	}
	by := make([]float64, m.n)
	for i, v := range g {
		by[i] = -v
	}
	l.solve(by)
	return by, true
}

// settle makes what is demanded hold exactly, by Newton's method with the move that
// shifts the chain least from where it lies; it reports whether it could.
func (v *solution) settle() bool {
	square := norm{power: 2, scale: 1}
	for range 12 {
		now := v.look(v.chain, square)
		v.take(now, nil)
		var gap float64
		for _, d := range now.demands {
			gap = max(gap, math.Abs(d.off))
		}
		if gap <= roundOff*(1+v.s.length) {
			return true
		}
		r := v.ties.reduce(v.chain)
		by, ok := nearest(now, r)
		if !ok {
			return false
		}
		c, value := v.ties.move(v.chain, r, by)
		if !c.sound() {
			return false
		}
		v.chain, v.ties.value = c, value
	}
	return false
}

// nearest is the least move, as the points see it, that meets the demands.
func nearest(t trial, r reduction) ([]float64, bool) {
	demands := t.demands
	t.demands = nil
	m, _ := t.normal(r, 0)
	for i := range m.n {
		d := &m.a[i*m.n+i]
		*d += float64(1e-9**d) + 1e-18
	}
	// No point sees where the last piece ends, and hardly any where a joint between like curvatures
	// is; so that the matrix keeps its digits, a length's move counts for a hundredth of it sideways.
	const sideways = 1e-4
	for i := firstPiece + 1; i < len(r.col); i += 2 {
		if c := r.col[i]; c >= 0 {
			m.a[c*m.n+c] += sideways
		}
	}
	if !m.factor() {
		return nil, false
	}
	n := len(demands)
	rows, solved := make([][]float64, n), make([][]float64, n)
	small := newDense(n)
	pull := make([]float64, n)
	for i, d := range demands {
		rows[i] = r.reduced(d.by)
		solved[i] = append([]float64(nil), rows[i]...)
		m.solve(solved[i])
		for j := range i + 1 {
			for k, w := range rows[i] {
				small.a[i*n+j] += float64(w * solved[j][k])
			}
		}
		// Demands may say the same twice, as round a circle.
		small.a[i*n+i] += float64(1e-13 * small.a[i*n+i])
		pull[i] = -d.off
	}
	if !small.factor() {
		return nil, false
	}
	small.solve(pull)
	by := make([]float64, r.n)
	for i, w := range pull {
		for k, s := range solved[i] {
			by[k] += float64(w * s)
		}
	}
	return by, true
}

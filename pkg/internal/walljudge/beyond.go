package walljudge

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// readMoves takes what is cut to depth and looks at each move as it comes.
func (j *judge) readMoves(moves []ngc.Move) {
	j.cut = newGrid((j.r + 1) * 1.5)
	for i := range moves {
		m := &moves[i]
		if !m.Kind.Travels() || !m.From.Has(ngc.AxesXYZ) || !m.To.Has(ngc.AxesXYZ) {
			continue
		}
		c := lineFrom(m.From.Point(), m.To.Point())
		if m.Kind == ngc.Arc {
			c = arcFrom(m.From.Point(), m.Center, m.Sweep)
		}
		if low, ok := below(c, m.From.Z, m.To.Z, -j.Depth+DeepOver); ok {
			j.cut.putAlong(low, 0.75*j.cut.side, len(j.cuts))
			j.cuts = append(j.cuts, low)
		}
		if z := math.Min(m.From.Z, m.To.Z); z < -j.Depth-DeepOver {
			j.add(Fault{Kind: TooDeep, At: m.To.Point(), Amount: -z - j.Depth, Strand: -1, Line: m.Line})
		}
		up := m.Kind != ngc.Arc && c.length == 0 && m.To.Z >= m.From.Z
		if low, ok := below(c, m.From.Z, m.To.Z, -1e-6); ok && !up {
			along(low.length, Step, func(s float64) { j.hold(low.at(s, 0), m.Line) })
		}
	}
}

// below is the part of a move that is lower than z.
func below(c curve, z0, z1, z float64) (curve, bool) {
	switch {
	case z0 > z && z1 > z:
		return c, false
	case z0 <= z && z1 <= z || c.length == 0:
		return c, true
	}
	s := c.length * (z - z0) / (z1 - z0)
	if z0 <= z {
		return c.part(0, s), true
	}
	return c.part(s, c.length), true
}

// hold asks whether all of the bit is in the groove when its middle is at p.
func (j *judge) hold(p geom.Point, line int32) {
	for _, i := range j.bands.near(p) {
		c := j.pieces[i]
		s, off := c.foot(p)
		if clear := 1.5 * j.r; math.Abs(off) <= j.k+Over && s >= clear && s <= c.length-clear && (c.radius == 0 || c.radius > j.h) {
			return
		}
	}
	const around = 48
	for i := range around {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / around)
		for _, r := range [3]float64{j.r, j.r * 2 / 3, j.r / 3} {
			q := geom.Pt(p.X+r*cos, p.Y+r*sin)
			if d := j.outside(q); d > Over {
				j.add(Fault{Kind: Beyond, At: q, Amount: d, Strand: -1, Line: line})
			}
		}
	}
}

// outside is how far a place is from the groove, 0 within it.
func (j *judge) outside(p geom.Point) float64 {
	// kink is what two flats gape at the outer wall where a strand turns by sharp.
	kink := j.h * math.Sin(sharp)
	best := j.h + j.r
	for _, i := range j.bands.near(p) {
		c := j.pieces[i]
		s, off := c.foot(p)
		side := math.Max(0, math.Abs(off)-j.h)
		past := math.Max(0, math.Max(-s, s-c.length))
		if past <= kink && j.goesOn(c, s) {
			past = 0
		}
		if d := math.Hypot(side, past); d < best {
			best = d
		}
	}
	for _, i := range j.kites.near(p) {
		k := &j.corners[i]
		if !k.ok {
			continue
		}
		a, offA := k.in.foot(p)
		b, offB := k.out.foot(p)
		if a >= k.in.length-kink && b <= kink && apart(p, k.at) <= apart(k.tip, k.at)+Over {
			best = math.Min(best, math.Max(0, math.Max(offA*k.outer, offB*k.outer)-j.h))
		}
	}
	return best
}

// goesOn reports whether the strand goes on past the end of a curve that s is
// beyond.
func (j *judge) goesOn(c curve, s float64) bool {
	p := c.at(0, 0)
	if s > 0 {
		p = c.at(c.length, 0)
	}
	const joined = 1e-6
	for _, i := range j.bands.near(p) {
		if d := j.pieces[i]; d != c && (apart(p, d.at(0, 0)) < joined || apart(p, d.at(d.length, 0)) < joined) {
			return true
		}
	}
	return false
}

package inlay

// Mitres. Each side of each strip meets its mate where the two parallels meet;
// a strip is cut straight between the meetings of its two sides. For two
// straights with the included angle t all the cuts lie on one line at t/2; for
// an arc they follow the slightly curved line of equal offsets, to within
// t^2/8R for a strip of thickness t (common practice; derived).

import (
	"math"

	"strapwork/pkg/geom"
)

// mitre trims or extends the lines of two arms to their meetings at the
// corner between them.
func (b *builder) mitre(t *track, in, out *arm) {
	in.ends[1], out.ends[0] = EndMitre, EndMitre
	corner := corner{in, out, in.edges[len(in.edges)-1].B}
	for k, d := range b.lines.at {
		back, on, ok := corner.meet(d)
		if !ok {
			b.noMitre(t, corner)
			in.ends[1], out.ends[0] = EndFree, EndFree
			for k := range b.lines.at {
				in.finish[k], out.start[k] = in.end(), out.begin()
			}
			return
		}
		in.finish[k], out.start[k] = in.end()+back, out.begin()+on
	}
}

func (b *builder) noMitre(t *track, c corner) {
	st := b.motif.Strands[t.strand]
	s := c.out.begin()
	if t.closed {
		s = math.Mod(s, t.length)
	}
	src := b.motif.Sources[st.Source(s)]
	place(b.found.Errorf(src.Key, "strip-mitre", "the strips can't be mitred at the corner of %.1f degrees where %s begins: their sides don't meet",
		degrees(math.Pi-math.Abs(c.turn())), src.Name), b.tops, c.at).
		Hintf("open the corner, or end one strand on the other's side")
}

// A corner is where one arm ends and the next begins.
type corner struct {
	in, out *arm
	at      geom.Point
}

// turn is the angle that the strand turns by, positive to the left.
func (c corner) turn() float64 {
	u, v := c.in.edges[len(c.in.edges)-1].Tangent(1), c.out.edges[0].Tangent(0)
	return math.Atan2(u.Cross(v), u.Dot(v))
}

// meet returns where the parallels at offset d meet, as the stations past the
// end of the one arm and past the beginning of the other: negative where they
// end or begin before.
func (c corner) meet(d float64) (in, out float64, ok bool) {
	switch {
	case d == 0:
		return 0, 0, true
	case d*c.turn() < 0:
		return c.outside(d)
	}
	return c.inside(d)
}

// outside is meet on the side where both arms run on past the corner.
func (c corner) outside(d float64) (in, out float64, ok bool) {
	limit := geom.MitreLimit * math.Abs(d)
	last := len(c.in.edges) - 1
	e, f := c.in.edges[last].Shift(d), c.out.edges[0].Shift(d)
	e, te := onward(e, limit)
	f, tf := onward(f.Reverse(), limit)
	best := math.Inf(1)
	for _, m := range geom.Crossings(e, f, geom.Coincident) {
		if r := m.At.Dist(c.at); r < best && r <= limit {
			best, ok = r, true
			in, out = m.E*te*c.in.length(last), -m.F*tf*c.out.length(0)
		}
	}
	return in, out, ok
}

// onward is the continuation of e past its end for the given length, less
// than a half circle, and the fraction of e's own length that it has.
func onward(e geom.Edge, length float64) (on geom.Edge, t float64) {
	// A mitre that turns nearly a half circle is no mitre.
	const mostTurn = 0.95 * math.Pi
	t = length / e.Length()
	if !e.IsLine() {
		t = math.Min(t, mostTurn/math.Abs(e.Sweep()))
	}
	return e.Part(1, 1+t), t
}

// inside is meet on the side where the arms cut each other short. An arm too
// short for that is continued past its far end: its side then ends before it
// begins.
func (c corner) inside(d float64) (in, out float64, ok bool) {
	limit := geom.MitreLimit * math.Abs(d)
	best := math.Inf(1)
	for i := len(c.in.edges) - 1; i >= 0 && c.in.end()-c.in.at[i+1] < limit; i-- {
		e, before := c.in.edges[i].Shift(d), 0.0
		if i == 0 {
			e, before = backward(e, limit)
		}
		for k := 0; k < len(c.out.edges) && c.out.at[k]-c.out.begin() < limit; k++ {
			f, after := c.out.edges[k].Shift(d), 0.0
			if k == len(c.out.edges)-1 {
				f, after = backward(f.Reverse(), limit)
				f = f.Reverse()
			}
			for _, m := range geom.Crossings(e, f, geom.Coincident) {
				back := c.in.at[i] + (m.E*(1+before)-before)*c.in.length(i) - c.in.end()
				on := c.out.at[k] + m.F*(1+after)*c.out.length(k) - c.out.begin()
				if on-back < best {
					best, in, out, ok = on-back, back, on, true
				}
			}
		}
	}
	return in, out, ok
}

// backward is e begun earlier by the given length, as far as it stays within a
// half circle, and the fraction of e's own length by which it is.
func backward(e geom.Edge, length float64) (longer geom.Edge, t float64) {
	t = length / e.Length()
	if !e.IsLine() {
		t = math.Max(0, math.Min(t, math.Pi/math.Abs(e.Sweep())-1))
	}
	return e.Part(-t, 1), t
}

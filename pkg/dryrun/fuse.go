package dryrun

// Small moves that follow one another on a line or a circle are one edge, as
// far as the wood is concerned. Programs of lines only, or of very many short
// moves, become a few hundred edges that way.

import (
	"math"

	"strapwork/pkg/geom"
)

const (
	// small is the length in mm of the moves that are fused.
	small = 2.0

	// mostFusedTurn bounds what one fused arc turns at its middle point, in
	// radians: a quarter circle of two times 45 degrees.
	mostFusedTurn = math.Pi / 4
)

// hardly is the length in mm of what counts as no step and no gap: a quarter of
// fused, so that together with what fusing itself leaves it stays below that.
const hardly = fused / 4

// mostRun bounds how many moves are held back for fusing.
const mostRun = 1 << 12

// fuser takes edges one after another and puts out ones that leave them by at
// most fused. Edges that don't begin where the last one ended, and long ones,
// stay as they are.
type fuser struct {
	run []geom.Edge
	out []geom.Edge
	end geom.Point // of the last edge that was taken, if any was
	any bool
}

// add takes the next edge. One that hardly leaves the end of the last one is left
// out, and a line that begins hardly beside it begins there: steps as small as
// that, whose strokes lie on one another, would make areas very dear.
func (f *fuser) add(e geom.Edge) {
	if gap := f.end.Dist(e.A); f.any && gap <= hardly {
		if gap+e.Length() <= hardly {
			return
		}
		if e.Bulge == 0 {
			e.A = f.end
		}
	}
	f.end, f.any = e.B, true
	if n := len(f.run); n == mostRun || n > 0 && (f.run[n-1].B != e.A || !isSmall(e) || !isSmall(f.run[n-1])) {
		f.flush()
	}
	f.run = append(f.run, e)
}

func (f *fuser) flush() {
	f.out = fuseRun(f.run, f.out)
	f.run = f.run[:0]
}

func isSmall(e geom.Edge) bool { return e.A != e.B && e.Chord() <= small }

// fuseRun takes as many edges from the front of a run as fit, doubling their
// number as long as they do.
func fuseRun(run []geom.Edge, out []geom.Edge) []geom.Edge {
	for len(run) > 0 {
		best, n := run[0], 1
		for k := 2; k <= len(run); k *= 2 {
			e, ok := fit(run[:k])
			if !ok {
				break
			}
			best, n = e, k
		}
		out = append(out, best)
		run = run[n:]
	}
	return out
}

// fit is the line or arc through the ends and the middle of a run, if the run
// keeps to it and goes along it without turning back.
func fit(run []geom.Edge) (geom.Edge, bool) {
	e, ok := through(run[0].A, run[len(run)/2].A, run[len(run)-1].B)
	if !ok {
		return e, false
	}
	p := geom.Prepare(e)
	last := 0.0
	for i := range run {
		q := run[i].B
		t := p.Param(q)
		if t <= last || t > 1+geom.Coincident || p.Dist(q) > fused/2 || p.Dist(run[i].Mid()) > fused/2 {
			return e, false
		}
		last = t
	}
	return e, true
}

// through is the arc from a to b by m. The angle by which its two chords turn
// at m is half of what the arc turns.
func through(a, m, b geom.Point) (geom.Edge, bool) {
	u, v := m.Sub(a), b.Sub(m)
	turn := math.Atan2(u.Cross(v), u.Dot(v))
	if math.Abs(turn) > mostFusedTurn {
		return geom.Edge{}, false
	}
	e := geom.Edge{A: a, B: b, Bulge: math.Tan(turn / 2)}
	if math.Abs(e.Bulge)*e.Chord() < geom.Coincident {
		e.Bulge = 0
	}
	return e, true
}

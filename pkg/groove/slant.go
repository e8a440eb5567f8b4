package groove

// Crossings longer than they are wide. Where two grooves cross aslant they share
// a rhombus whose sides are the groove's width over the sine of the angle. All
// along it one strip runs on top of the other, with no wood to lean a router on
// or to hold a sliver of veneer. What a strand shares is measured along its own
// centre line, as far as that lies in the other's groove; so it holds for curved
// strands too. Nothing else may happen to either strand there: an end, a corner
// or a second crossing would have to be made in a groove that isn't its own.

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
)

// slanting is the angle in radians under which a crossing is reported: at 10
// degrees it is 5.8 times as long as it is wide.
const slanting = 10 * math.Pi / 180

// A slant is a crossing at a small angle.
type slant struct {
	weave.Crossing
	length float64 // mm along the strand that shares more, as far as it is clear
	stop   *hold   // what the crossing reaches; nil: nothing
}

// A hold is a place along a strand that a crossing must not reach.
type hold struct {
	away float64 // mm along the strand, from the crossing
	what string
	at   geom.Point
}

// findSlanting reports crossings longer than they are wide, once for each two
// of the job's elements.
func (g *Groove) findSlanting(found *diag.Findings) {
	type kind struct {
		elements [2]int
		refused  bool
	}
	all := map[kind][]slant{}
	var order []kind
	for _, c := range g.Weave.Crossings {
		if c.Angle >= slanting {
			continue
		}
		s := g.slant(c)
		a, b := g.sourceAt(c.Visits[0]).Element, g.sourceAt(c.Visits[1]).Element
		k := kind{[2]int{min(a, b), max(a, b)}, s.stop != nil}
		if all[k] = append(all[k], s); len(all[k]) == 1 {
			order = append(order, k)
		}
	}
	for _, k := range order {
		g.reportSlant(all[k], found)
	}
}

func (g *Groove) sourceAt(v weave.Visit) motif.Source {
	return g.Motif.Sources[g.Motif.Strands[v.Strand].Sources[v.Edge]]
}

// slant measures a crossing along both its strands.
func (g *Groove) slant(c weave.Crossing) slant {
	result := slant{Crossing: c}
	var ways [2][2][]geom.Edge // by passage: forward, back
	var holds [2][2]hold
	for i, v := range c.Visits {
		line := g.Motif.Strands[v.Strand].Contour
		fore, back := g.hold(v, 1), g.hold(v, -1)
		holds[i] = [2]hold{fore, back}
		ways[i] = [2][]geom.Edge{
			line.Sub(v.S, v.S+fore.away).Edges(),
			line.Sub(v.S-back.away, v.S).Reverse().Edges(),
		}
	}
	for i := range ways {
		other := slices.Concat(ways[1-i][0], ways[1-i][1])
		length := 0.0
		for k, way := range ways[i] {
			d, clear := covered(way, other, g.Size.Width/2)
			length += d
			if !clear && (result.stop == nil || holds[i][k].away < result.stop.away) {
				result.stop = &holds[i][k]
			}
		}
		result.length = max(result.length, length)
	}
	return result
}

// hold finds the nearest place along a strand, onwards from a crossing for dir
// 1 and back from it for -1, that the crossing must not reach. On a strand that
// crosses itself the way to the same crossing is shared by both passages, so
// each has half of it.
func (g *Groove) hold(v weave.Visit, dir float64) hold {
	st := g.Motif.Strands[v.Strand]
	best := hold{away: math.Inf(1)}
	try := func(s, share float64, what string, at geom.Point) {
		away := dir * (s - v.S)
		if away <= motif.Same {
			if !st.Contour.Closed {
				return
			}
			away += st.Length()
		}
		if away *= share; away < best.away {
			best = hold{away, what, at}
		}
	}
	for _, w := range g.Weave.Visits[v.Strand] {
		share := 1.0
		if w.Crossing == v.Crossing && w.S != v.S {
			share = 0.5
		}
		try(w.S, share, "the next crossing", g.Weave.Crossings[w.Crossing].At)
	}
	for _, t := range g.Weave.Tees {
		if t.Host == v.Strand {
			try(t.HostS, 1, "the end of another strand", t.At)
		}
	}
	for _, c := range g.corners[v.Strand] {
		try(c.S, 1, "a corner", c.P)
	}
	if !st.Contour.Closed {
		first, last := g.ends(v.Strand)
		try(0, 1, endWords(first.Kind), first.At)
		try(st.Length(), 1, endWords(last.Kind), last.At)
	}
	return best
}

func endWords(k StopKind) string {
	if k == StopTee {
		return "the strand's end on another"
	}
	return "a free end"
}

// covered is how far along way, from its start, its points are within h of
// other; clear is false where that is all the way.
func covered(way, other []geom.Edge, h float64) (length float64, clear bool) {
	boxes := make([]geom.Box, len(other))
	for i, f := range other {
		boxes[i] = f.Bounds().Expand(h + geom.Coincident)
	}
	index := geom.NewIndex(boxes)
	for _, e := range way {
		ts := []float64{0, 1}
		var near []geom.Edge
		index.Search(e.Bounds(), func(i int) bool {
			near = append(near, other[i])
			ts = append(ts, passes(e, other[i], h)...)
			return true
		})
		slices.Sort(ts)
		for i := 1; i < len(ts); i++ {
			p := e.At((ts[i-1] + ts[i]) / 2)
			within := func(f geom.Edge) bool { return f.Dist(p) <= h }
			if ts[i] > ts[i-1] && !slices.ContainsFunc(near, within) {
				return length + ts[i-1]*e.Length(), true
			}
		}
		length += e.Length()
	}
	return length, false
}

// passes returns the fractions of e at which it passes the line all round f at
// distance h: two parallels and a circle about each end.
func passes(e, f geom.Edge, h float64) []float64 {
	round := []geom.Edge{f.Shift(h), f.Shift(-h)}
	for _, end := range []geom.Point{f.A, f.B} {
		round = append(round, geom.Arc(end, h, 0, 2*math.Pi)...)
	}
	var ts []float64
	for _, r := range round {
		for _, m := range geom.Crossings(e, r, geom.Coincident) {
			ts = append(ts, m.E)
		}
	}
	return ts
}

// reportSlant reports the crossings of two elements and their copies, at the first.
func (g *Groove) reportSlant(alike []slant, found *diag.Findings) {
	s := alike[0]
	a, b := g.sourceAt(s.Visits[0]), g.sourceAt(s.Visits[1])
	degrees := s.Angle * 180 / math.Pi
	more := ""
	if n := len(alike); n > 1 {
		more = fmt.Sprintf("; %d such places", n)
	}
	var f *diag.Finding
	if s.stop == nil {
		f = found.Warnf(a.Key, "crossing-slant", "%s and %s cross at %.1f degrees near %s: the crossing is %s long where the groove is %s wide%s",
			a, b, degrees, motif.Place(s.At), unit.Len(s.length).Rough(), unit.Len(g.Size.Width), more)
	} else {
		f = found.Errorf(a.Key, "crossing-slant", "%s and %s cross at %.3g degrees near %s: the crossing is so long that it reaches %s at %s, %s away%s",
			a, b, degrees, motif.Place(s.At), s.stop.what, motif.Place(s.stop.at), unit.Len(s.stop.away).Rough(), more)
	}
	for _, o := range alike[1:] {
		f.AlsoAt(o.At.X, o.At.Y)
	}
	f.SetAt(s.At.X, s.At.Y).Hintf("let the two cross at %.0f degrees or more, or keep them a groove's width apart", slanting*180/math.Pi)
}

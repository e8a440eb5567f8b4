package inlay

// Where a strand goes under another, and where it ends on one, its strips are
// cut against the sides of the upper strand's stack: each side of each strip is
// followed from the crossing until it leaves the stack. Only the stretch of
// the upper strand around the crossing counts, never another part of it that
// comes near.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/weave"
)

// An under is a place where a strand is cut by another one's stack.
type under struct {
	order int  // of all unders, as they are found
	tee   bool // the strand ends on the upper one
	upper *track
	s, u  float64 // stations on the lower and on the upper strand
	at    geom.Point

	half   float64        // of the stretch of the upper strand that counts
	walls  [2][]geom.Edge // the left and right sides of the upper stack there
	behind []exit         // for each line of a strip, where it comes in
	ahead  []exit         // and where it leaves
	odd    bool           // some line doesn't leave plainly: behind and ahead are not known
	area   region.Region  // what the upper stack covers, where it is odd; the walls are its outline
	reach  [2]float64     // how far behind and ahead of s the upper stack covers something
	split  bool           // stretches end here
	next   int            // the stretch that begins here, or that holds s
}

// on is where it lies on the upper strand.
func (c *under) on() On { return On{c.upper.strand, c.u} }

// An exit is where a line of the lower strand leaves the upper stack.
type exit struct {
	ds   float64 // station, from the crossing's
	wall int     // of the upper stack
	edge int     // of the wall
	t    float64 // fraction of the edge
}

// findUnders finds the unders of every strand, in order along it.
func (b *builder) findUnders() {
	for i, c := range b.weave.Crossings {
		lo, up := c.Lower(), c.Upper()
		b.addUnder(lo.Strand, up.Strand, &under{s: lo.S, u: up.S, at: c.At}, i)
	}
	for _, tee := range b.weave.Tees {
		s := 0.0
		if tee.AtEnd {
			s = b.motif.Strands[tee.Strand].Length()
		}
		b.addUnder(tee.Strand, tee.Host, &under{tee: true, s: s, u: tee.HostS, at: tee.At}, -1)
	}
	for _, t := range b.tracks {
		slices.SortFunc(t.unders, func(a, b *under) int { return cmp.Compare(a.s, b.s) })
	}
}

func (b *builder) addUnder(lower, upper int, c *under, crossing int) {
	t, up := b.tracks[lower], b.tracks[upper]
	if len(t.arms) == 0 || len(up.arms) == 0 {
		return
	}
	c.upper, c.order = up, b.count
	b.count++
	t.unders = append(t.unders, c)
	b.cutOut(t, c, crossing)
}

// cutOut follows the lines of t out of the upper stack. The stretch of the
// upper strand is lengthened until all of them leave through its sides: how
// far that is along two curves has no simple formula.
func (b *builder) cutOut(t *track, c *under, crossing int) {
	h := b.lines.half()
	i, shift := t.find(c.s)
	a := &t.arms[i]
	k, upShift := c.upper.find(c.u)
	sine := math.Abs(a.tangent(c.s + shift).Cross(c.upper.arms[k].tangent(c.u + upShift)))
	// Two straight stacks share a rhombus that ends (h + h cos)/sin from its
	// middle, less than 2h/sin.
	first := 2 * h / math.Max(sine, leastSine)
	for half := first; ; half *= 2 {
		most, mostLower := b.most(t, c, crossing, half)
		c.half = math.Min(half, most)
		b.wall(c)
		if b.follow(a, c, c.s+shift, math.Min(2*c.half, mostLower)) {
			return
		}
		if c.half < half || half > longest*first {
			break
		}
	}
	// Somewhere a line meets a corner or an end before it leaves.
	c.odd = true
	b.overlap(t, c, crossing, first)
	c.walls = [2][]geom.Edge{}
	for _, loop := range c.area.Loops() {
		c.walls[0] = append(c.walls[0], loop.Edges()...)
	}
}

// wall sets c's walls for the stretch of the upper strand that counts.
func (b *builder) wall(c *under) {
	for side, k := range [2]int{b.lines.left(), b.lines.right()} {
		c.walls[side] = c.upper.between(k, b.lines.at[k], c.u-c.half, c.u+c.half)
	}
}

// leastSine is the sine of the smallest angle between two strands that are
// taken as straight at first: 3 degrees. Shallower ones are found by doubling.
const leastSine = 0.05

// longest is how many times the stretch for two straights is tried before a
// crossing is taken as odd: an arc that leaves later runs beside the other.
const longest = 16

// over is the side, 0 behind or 1 ahead, on which a tee's strand has ended.
func (c *under) over() int {
	if c.s == 0 {
		return 0
	}
	return 1
}

// most is how far along the upper and the lower strand a crossing may reach:
// half-way to the crossing's other passage on the same strand, or to the next
// crossing of the same two strands if that is near on both.
func (b *builder) most(t *track, c *under, crossing int, near float64) (upper, lower float64) {
	upper, lower = c.upper.length, t.length
	if c.upper.closed {
		upper /= 2
	}
	if t.closed {
		lower /= 2
	}
	if c.upper == t {
		d := t.apart(c.s, c.u) / 2
		upper, lower = math.Min(upper, d), math.Min(lower, d)
	}
	if crossing < 0 {
		return upper, lower
	}
	for _, v := range b.neighbours(c, crossing) {
		for _, w := range b.weave.Crossings[v.Crossing].Visits {
			if w.Strand != t.strand || (w.Strand == v.Strand && w.S == v.S) {
				continue
			}
			du, ds := c.upper.apart(v.S, c.u), t.apart(w.S, c.s)
			if du < 2*near && ds < 2*near {
				upper, lower = math.Min(upper, du/2), math.Min(lower, ds/2)
			}
		}
	}
	return upper, lower
}

// neighbours returns the visits of the upper strand before and after c's.
func (b *builder) neighbours(c *under, crossing int) []weave.Visit {
	vs := b.weave.Visits[c.upper.strand]
	i, _ := slices.BinarySearchFunc(vs, c.u, func(v weave.Visit, u float64) int { return cmp.Compare(v.S, u) })
	var near []weave.Visit
	for _, k := range [2]int{i - 1, i + 1} {
		if c.upper.closed {
			k = (k + len(vs)) % len(vs)
		}
		if k >= 0 && k < len(vs) && vs[k].Crossing != crossing {
			near = append(near, vs[k])
		}
	}
	return near
}

// follow finds the exits of every line of a strip within limit of station s of
// the arm; it reports whether all were found, each side's through one wall.
func (b *builder) follow(a *arm, c *under, s, limit float64) bool {
	n := b.lines.strips()
	c.behind, c.ahead, c.reach = nil, nil, [2]float64{}
	all := true
	for dir := range 2 {
		if c.tee && ((dir == 0) == (s == a.begin())) {
			continue // the strand has ended on this side
		}
		exits := make([]exit, n)
		for k := range n {
			x, ok := c.leave(a, k, b.lines.at[k], s, limit, dir == 1)
			if !ok || (k > 0 && x.wall != exits[0].wall) {
				all = false
				continue
			}
			exits[k] = x
			c.reach[dir] = math.Max(c.reach[dir], math.Abs(x.ds))
		}
		if dir == 0 {
			c.behind = exits
		} else {
			c.ahead = exits
		}
		all = all && !c.entersAgain(a, b.lines, exits, s, dir)
	}
	return all
}

// entersAgain reports whether a line that has left the upper stack comes back to it before
// the last one has left: no one cut then ends the strips.
func (c *under) entersAgain(a *arm, ls lines, exits []exit, s float64, dir int) bool {
	const clear = 1e-4 // mm past an exit: out of reach of the wall it was through
	sign := float64(2*dir - 1)
	for k, x := range exits {
		rest := c.reach[dir] - math.Abs(x.ds) - clear
		if rest <= 0 {
			continue
		}
		if _, again := c.leave(a, k, ls.at[k], s+x.ds+sign*clear, rest, dir == 1); again {
			return true
		}
	}
	return false
}

// leave follows line k of the arm, at offset d, from station s, ahead or back,
// to where it first meets a wall, at most limit away.
func (c *under) leave(a *arm, k int, d, s, limit float64, ahead bool) (exit, bool) {
	step, from := 1, s
	if !ahead {
		step = -1
		if a.ring && s-limit < 0 {
			from += a.lap() // a ring's edges are there twice
		}
	}
	i, t := a.locate(from)
	for ; i >= 0 && i < len(a.edges); i += step {
		far := float64((1 + step) / 2)
		if run := a.parallel(i, d).Part(t, far); run.A != run.B {
			if x, f, ok := c.firstWall(run); ok {
				at := a.at[i] + (t+f*(far-t))*a.length(i)
				x.ds = at - from
				return x, math.Abs(x.ds) <= limit && at >= a.start[k] && at <= a.finish[k]
			}
		}
		if t = 1 - far; math.Abs(a.at[i+(1+step)/2]-from) > limit {
			break
		}
	}
	return exit{}, false
}

// firstWall is the first place on run where it meets a wall, and the fraction
// of run's length there.
func (c *under) firstWall(run geom.Edge) (x exit, t float64, ok bool) {
	t = math.Inf(1)
	for w, wall := range c.walls {
		for i, e := range wall {
			for _, m := range geom.Crossings(run, e, geom.Coincident) {
				if m.E < t {
					x, t, ok = exit{wall: w, edge: i, t: m.F}, m.E, true
				}
			}
		}
	}
	return x, t, ok
}

// cut returns the cut along the upper stack's side from one exit to another
// of the same wall.
func (c *under) cut(from, to exit) []geom.Edge {
	wall := c.walls[from.wall]
	switch {
	case from.edge > to.edge:
		return reversed(c.cut(to, from))
	case from.edge == to.edge:
		return []geom.Edge{wall[from.edge].Part(from.t, to.t)}
	}
	edges := []geom.Edge{wall[from.edge].Part(from.t, 1)}
	edges = append(edges, wall[from.edge+1:to.edge]...)
	return append(edges, wall[to.edge].Part(0, to.t))
}

func reversed(edges []geom.Edge) []geom.Edge {
	back := make([]geom.Edge, len(edges))
	for i, e := range edges {
		back[len(edges)-1-i] = e.Reverse()
	}
	return back
}

// stack is the part of the upper strand's stack that cuts here.
func (c *under) stack() region.Region {
	if c.odd {
		return c.area
	}
	return enclosed(append(slices.Clone(c.walls[1]), reversed(c.walls[0])...))
}

// enclosed is the area within edges that follow one another, gaps between them
// closed by straights.
func enclosed(edges []geom.Edge) region.Region {
	if len(edges) == 0 {
		return region.Region{}
	}
	return region.New(chained(edges))
}

// chained joins edges to a closed contour; where one does not begin at the
// last one's end, a straight leads there.
func chained(edges []geom.Edge) geom.Contour {
	c := geom.Contour{Closed: true}
	for i, e := range edges {
		c.Vertices = append(c.Vertices, geom.Vertex{Point: e.A, Bulge: e.Bulge})
		if next := edges[(i+1)%len(edges)]; !e.B.Near(next.A, geom.Coincident) {
			c.Vertices = append(c.Vertices, geom.Vertex{Point: e.B})
		}
	}
	return c
}

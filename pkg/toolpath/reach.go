package toolpath

// What the lanes don't cut, though the bit reaches it.
//
// A strand's lanes cut its whole band, but for what lies at its ends and corners
// beyond the bit's reach. Where another groove takes away the wood beside an end
// or a corner the bit may reach further: round a flat end's corner, into a
// mitre's tip. And where there is no wood between two arms no lane leads along
// it. So round such places, and only there, what the finished plan cuts is held
// against all that the bit reaches within the groove, and the bit is led to what
// is left (see detour.go).

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
)

// fine is half the thickness in mm of wood that counts as left: what is less
// than 0.004 mm thick is lost in the roughness of a cut.
const fine = 0.002

// A reacher makes a plan reach all that the bit can reach.
type reacher struct {
	g     *groove.Groove
	plan  *Plan
	slack float64 // by which the bit may be nearer to the walls: that of a recut
	ends  []end
	lines []lineEdge
	near  geom.Index // of the lines
	cuts  []cutEdge  // at the groove's depth, level
	index geom.Index // of the first ones
	known int        // how many are in the index
	added geom.Pool  // of the others
}

// A lineEdge is an edge of a strand's centre line.
type lineEdge struct {
	geom.Edge
	strand, edge int
}

// A cutEdge is a level move at the groove's depth.
type cutEdge struct {
	geom.Edge
	run int // index into the plan's
}

// reachAll leads the bit to what the runs don't cut of what it reaches.
func (p *planner) reachAll(g *groove.Groove, plan *Plan) {
	r := newReacher(g, plan)
	r.slack, r.ends = p.o.Widen/2, freeEnds(p.courses)
	for i, c := range p.courses {
		for _, box := range r.suspects(i, c, p.o) {
			r.reach(box)
		}
	}
}

func newReacher(g *groove.Groove, plan *Plan) *reacher {
	r := &reacher{g: g, plan: plan}
	var boxes []geom.Box
	for i, s := range g.Motif.Strands {
		for k := range s.Contour.Len() {
			e := s.Contour.Edge(k)
			r.lines = append(r.lines, lineEdge{e, i, k})
			boxes = append(boxes, e.Bounds())
		}
	}
	r.near = geom.NewIndex(boxes)
	deep := -plan.Depths[len(plan.Depths)-1]
	var around []geom.Box
	for i, run := range plan.Runs {
		for _, s := range run.levels(deep) {
			r.cuts = append(r.cuts, cutEdge{s.Edge, i})
			around = append(around, s.Edge.Bounds())
		}
	}
	r.index, r.known = geom.NewIndex(around), len(r.cuts)
	return r
}

// suspects are the boxes about a course's places where its lanes may not cut all
// that the bit reaches.
func (r *reacher) suspects(strand int, c course, o Params) []geom.Box {
	var list []geom.Box
	width := r.g.Size.Width
	if c.bare {
		for k := range c.line.Len() {
			list = append(list, c.line.Edge(k).Bounds().Expand(width))
		}
	}
	if !c.line.Closed {
		for end, p := range [2]geom.Point{c.line.Start(), c.line.End()} {
			own := []int{end * (c.line.Len() - 1)}
			switch {
			case c.bare || !c.plain[end]:
				list = append(list, geom.Box{Min: p, Max: p}.Expand(c.nearEnd()))
			case c.tee[end] || !r.alone(p, strand, own):
				list = append(list, geom.Box{Min: p, Max: p}.Expand(2*width))
			}
		}
	}
	for _, corner := range r.g.Corners(strand) {
		tip := corner.P
		if m, ok := r.g.Mitre(corner); ok {
			tip = m.Tip
		}
		own := r.arms(corner)
		if c.bare || !r.openCorner(corner) || !c.sureTips(o, corner.In, corner.Out) || !r.alone(corner.P, strand, own) || !r.alone(tip, strand, own) {
			list = append(list, geom.Box{Min: corner.P, Max: corner.P}.Include(tip).Expand(2*width))
		}
	}
	return list
}

// arms are the indices of a corner's two edges in its strand.
func (r *reacher) arms(c groove.Corner) []int {
	var list []int
	line := r.g.Motif.Strands[c.Strand].Contour
	for k := range line.Len() {
		if e := line.Edge(k); e == c.In || e == c.Out {
			list = append(list, k)
		}
	}
	return list
}

// openCorner reports whether a corner's lanes meet on its arms for certain: on
// the inside they do k cot(t/2) from it between straights, and the groove's walls
// w/2 cot(t/2). Twice that is room for arcs.
func (r *reacher) openCorner(c groove.Corner) bool {
	need := r.g.Size.Width / math.Tan(c.Included()/2)
	for _, e := range [2]geom.Edge{c.In, c.Out} {
		if e.Length() < need || math.Abs(e.Curvature())*need > 1 {
			return false
		}
	}
	return true
}

// alone reports whether no groove but that of some edges of a strand comes so
// near to p, an end of them or the tip of their mitre, that it could take wood
// away there: the wood's end is within w/2 times root 2 of a free end, the other
// groove within w/2 of its line, and the bit has to come in between.
func (r *reacher) alone(p geom.Point, strand int, own []int) bool {
	near := 2 * r.g.Size.Width
	alone := true
	r.near.Search(geom.Box{Min: p, Max: p}.Expand(near), func(i int) bool {
		e := r.lines[i]
		if e.strand == strand {
			for _, k := range own {
				if k == e.edge {
					return true
				}
			}
		}
		alone = e.Dist(p) > near
		return alone
	})
	return alone
}

// reach makes the plan cut all that the bit reaches in a box.
func (r *reacher) reach(box geom.Box) {
	bit := r.g.Size.Bit
	// As much more that the bit's way there can lead round a mitre.
	whole := box.Expand(bit + 2*r.g.Size.Width)
	local := region.Intersect(r.g.Around(whole), region.New(geom.Rect(whole)))
	done := region.Region{}
	if r.slack > 0 {
		done = local.Open(bit / 2)
		local = r.wider(local, whole)
	}
	h := safeArea{local.Shrink(bit/2 - onBorder)}
	all := region.Intersect(h.Grow(bit/2), region.New(geom.Rect(box)))
	missed := r.uncut(region.Subtract(all, done).Shrink(fine), box)
	for _, piece := range missed.Pieces() {
		r.fetch(piece, h)
	}
}

// wider is a part of the groove, all within a box, as a recut makes it: its walls
// are the slack further out, but the flats of free ends keep their place. The
// groove grown is right but beyond the flats; there, other strands' bands are
// added as they become. (What a mitre gains beyond another strand's flat is not.)
func (r *reacher) wider(part region.Region, box geom.Box) region.Region {
	half := r.g.Size.Width/2 + r.slack
	var beyond []region.Region
	for _, end := range r.ends {
		if box.Expand(2 * half).Holds(end.at) {
			out, side := end.out.Scale(r.slack+onBorder), end.out.Left().Scale(half+onBorder)
			beyond = append(beyond, region.New(geom.Polygon(end.at.Sub(side), end.at.Sub(side).Add(out), end.at.Add(side).Add(out), end.at.Add(side))))
		}
	}
	all := []region.Region{part, region.Subtract(part.Grow(r.slack), region.Union(beyond...))}
	r.near.Search(box.Expand(half), func(i int) bool {
		e := r.lines[i].Edge
		if e.IsLine() || e.Radius() > half {
			right, left := e.Shift(-half), e.Shift(half).Reverse()
			all = append(all, region.New(geom.Chain(true, right, geom.Line(right.B, left.A), left, geom.Line(left.B, right.A))))
		}
		return true
	})
	return region.Intersect(region.Union(all...), region.New(geom.Rect(box)))
}

// An end is a strand's free end: its place and the direction out of the strand.
type end struct{ at, out geom.Point }

// freeEnds are the free ends of courses.
func freeEnds(courses []course) []end {
	var list []end
	for _, c := range courses {
		if c.line.Closed {
			continue
		}
		if !c.tee[0] {
			list = append(list, end{c.line.Start(), c.line.Edge(0).Tangent(0).Scale(-1)})
		}
		if !c.tee[1] {
			list = append(list, end{c.line.End(), c.line.Edge(c.line.Len() - 1).Tangent(1)})
		}
	}
	return list
}

// uncut is what the cuts, made wider by fine all round, leave of an area in a
// box. One after the other is taken from what is left: that is soon little.
func (r *reacher) uncut(left region.Region, box geom.Box) region.Region {
	radius := r.g.Size.Bit/2 + fine
	take := func(i int) bool {
		if e := r.cuts[i].Edge; e.Bounds().Expand(radius).Meets(left.Bounds()) {
			left = region.Subtract(left, region.Stroke(geom.Chain(false, e), radius))
		}
		return !left.Empty()
	}
	r.index.Search(box.Expand(radius), take)
	for _, i := range r.addedIn(box.Expand(radius + geom.Coincident)) {
		if !take(i) {
			break
		}
	}
	return left
}

// add adds a cut that was not there at first.
func (r *reacher) add(c cutEdge) {
	r.cuts = append(r.cuts, c)
	r.added.Add(c.Bounds())
}

// addedIn are those of the added cuts that may come into a box, in their order.
func (r *reacher) addedIn(box geom.Box) []int {
	var list []int
	r.added.Search(box, func(i int) bool {
		list = append(list, r.known+i)
		return true
	})
	slices.Sort(list)
	return list
}

package groove

// Grooves may cross and meet, but not touch or run into each other along their
// sides: a connected piece of two strands' overlap that holds no crossing,
// corner or tee is an error.

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
)

// leastWood is the thickness in mm of wood between two grooves under which
// they count as touching: thinner than a shaving, it breaks out.
const leastWood = 0.01

// An overlap is a connected piece of what the bands of two edges share.
type overlap struct {
	region.Region
	strands [2]int
	edges   [2]int
	meets   bool // it holds a crossing, a corner or a tee
}

type strandEdge struct {
	geom.Edge
	strand, edge int
}

func (g *Groove) findTouching(found *diag.Findings) {
	edges := g.edges()
	boxes := make([]geom.Box, len(edges))
	for i, e := range edges {
		boxes[i] = e.Bounds()
	}
	points := g.meetingPoints()
	apart := g.Size.Width + leastWood
	var overlaps []overlap
	geom.NewIndex(boxes).Pairs(apart, func(i, j int) bool {
		e, f := edges[i], edges[j]
		if !straightCrossing(e.Edge, f.Edge) && geom.Gap(e.Edge, f.Edge) < apart {
			overlaps = append(overlaps, g.overlaps(e, f, points)...)
		}
		return true
	})
	reportTouching(g.Motif, overlaps, found)
}

// straightCrossing reports whether two straight edges cross inside: then their
// bands share one piece, and it holds the crossing.
func straightCrossing(e, f geom.Edge) bool {
	if e.Bulge != 0 || f.Bulge != 0 {
		return false
	}
	ms := geom.Crossings(e, f, geom.Coincident)
	return len(ms) == 1 && ms[0].Kind == geom.Cross && ms[0].E > 0 && ms[0].E < 1 && ms[0].F > 0 && ms[0].F < 1
}

func (g *Groove) edges() []strandEdge {
	var edges []strandEdge
	for i, s := range g.Motif.Strands {
		for k := range s.Contour.Len() {
			edges = append(edges, strandEdge{s.Contour.Edge(k), i, k})
		}
	}
	return edges
}

// places are points with an index.
type places struct {
	pts   []geom.Point
	index geom.Index
}

func newPlaces(pts []geom.Point) places {
	boxes := make([]geom.Box, len(pts))
	for i, p := range pts {
		boxes[i] = geom.Box{Min: p, Max: p}
	}
	return places{pts, geom.NewIndex(boxes)}
}

// someIn reports whether r holds one of the points. A tee at a joint of its host
// lies on the very edge of what it shares with either side of the joint, and is
// only known to motif.Same.
func (ps places) someIn(r region.Region) bool {
	ok := false
	ps.index.Search(r.Bounds().Expand(motif.Same), func(i int) bool {
		ok = r.Dist(ps.pts[i]) <= motif.Same
		return !ok
	})
	return ok
}

// meetingPoints returns all crossings, corners and tees.
func (g *Groove) meetingPoints() places {
	var pts []geom.Point
	for _, c := range g.Weave.Crossings {
		pts = append(pts, c.At)
	}
	for _, t := range g.Weave.Tees {
		pts = append(pts, t.At)
	}
	for _, cs := range g.corners {
		for _, c := range cs {
			pts = append(pts, c.P)
		}
	}
	return newPlaces(pts)
}

// overlaps returns what the bands of e and f share, each half of leastWood
// wider than the groove.
func (g *Groove) overlaps(e, f strandEdge, points places) []overlap {
	h := (g.Size.Width + leastWood) / 2
	shared := region.Intersect(band(geom.Chain(false, e.Edge), h), band(geom.Chain(false, f.Edge), h))
	var list []overlap
	for _, p := range shared.Pieces() {
		if p.Area() < negligible {
			continue // smooth neighbours share the line between them
		}
		meets := points.someIn(p)
		if joint, ok := joint(e, f); ok {
			// Inside a kink two bands share a wedge, whose tip is too thin for
			// an area to reach up to the joint.
			meets = meets || p.Dist(joint) < h
		}
		list = append(list, overlap{p, [2]int{e.strand, f.strand}, [2]int{e.edge, f.edge}, meets})
	}
	return list
}

// joint is the point at which two edges of one strand follow each other.
func joint(e, f strandEdge) (geom.Point, bool) {
	switch {
	case e.strand != f.strand:
		return geom.Point{}, false
	case e.B == f.A:
		return e.B, true
	default:
		return e.A, e.A == f.B
	}
}

// negligible is an area in mm2 that is nothing but rounding where two bands
// abut: a groove's width times Coincident.
const negligible = 1e-6

// reportTouching spreads "meets" from piece to piece of the same two strands
// and reports, once for each connected group, what is left without.
func reportTouching(m motif.Motif, overlaps []overlap, found *diag.Findings) {
	boxes := make([]geom.Box, len(overlaps))
	for i, o := range overlaps {
		boxes[i] = o.Bounds()
	}
	next := make([][]int, len(overlaps))
	geom.NewIndex(boxes).Pairs(geom.Coincident, func(i, j int) bool {
		if overlaps[i].strands == overlaps[j].strands && overlaps[i].Gap(overlaps[j].Region) <= 2*geom.Coincident {
			next[i] = append(next[i], j)
			next[j] = append(next[j], i)
		}
		return true
	})
	seen := make([]bool, len(overlaps))
	reported := map[[2]int]bool{}
	for i := range overlaps {
		if seen[i] {
			continue
		}
		seen[i] = true
		group, meets := []int{i}, false
		for k := 0; k < len(group); k++ {
			meets = meets || overlaps[group[k]].meets
			for _, j := range next[group[k]] {
				if !seen[j] {
					seen[j] = true
					group = append(group, j)
				}
			}
		}
		if !meets {
			reportTouch(m, overlaps[i], reported, found)
		}
	}
}

// reportTouch reports one place; reported remembers, for each pair of the job's
// elements, that one of their copies' places has been reported.
func reportTouch(m motif.Motif, o overlap, reported map[[2]int]bool, found *diag.Findings) {
	a := m.Sources[m.Strands[o.strands[0]].Sources[o.edges[0]]]
	b := m.Sources[m.Strands[o.strands[1]].Sources[o.edges[1]]]
	pair := [2]int{min(a.Element, b.Element), max(a.Element, b.Element)}
	if reported[pair] {
		return
	}
	reported[pair] = true
	at := o.Bounds().Center()
	found.Errorf(a.Key, "grooves-touch", "the grooves of %s and %s overlap along their sides near %s, without crossing",
		a, b, motif.Place(at)).SetAt(at.X, at.Y).
		Hintf("move the two at least a groove's width and some wood apart, or let them cross")
}

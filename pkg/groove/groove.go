package groove

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
)

// A Groove is the ideal groove G of a motif: the union of its elements' bands,
// corners mitred, free ends flat.
type Groove struct {
	Size  Size
	Motif motif.Motif
	Weave weave.Weave

	corners [][]Corner // by strand, by distance along it
	kinks   [][]Corner // by strand: slight turns that a cut may have to be split at
	parts   []part
	index   geom.Index
}

// A part is the band of one edge of a strand, or what closes the groove at a
// joint of two.
type part struct {
	region.Region
	strand int
	edge   int // of the strand; -1 for a mitre or a kink's kite
}

// Build makes the ideal groove. Errors are corners that have no mitre, arcs
// tighter than half the groove, grooves that run into each other along their
// sides, and crossings so aslant that they reach the next one, a corner or an
// end.
func Build(size Size, m motif.Motif, w weave.Weave) (Groove, diag.Findings) {
	g := Groove{Size: size, Motif: m, Weave: w, corners: make([][]Corner, len(m.Strands)), kinks: make([][]Corner, len(m.Strands))}
	var found diag.Findings
	for i, s := range m.Strands {
		for k := range s.Contour.Len() {
			g.addBand(i, k, &found)
		}
		for k := range s.Corner {
			g.addJoint(i, k, &found)
		}
	}
	boxes := make([]geom.Box, len(g.parts))
	for i, p := range g.parts {
		boxes[i] = p.Bounds()
	}
	g.index = geom.NewIndex(boxes)
	if !found.HasErrors() {
		g.findTouching(&found)
		g.findSlanting(&found)
	}
	return g, found
}

func (g *Groove) addBand(strand, k int, found *diag.Findings) {
	s := g.Motif.Strands[strand]
	e := s.Contour.Edge(k)
	h := g.Size.Width / 2
	if e.Bulge != 0 && e.Radius() < h {
		src := g.Motif.Sources[s.Sources[k]]
		mid := e.Mid()
		f := found.Errorf(src.Key, "arc-tight", "%s has a radius of %s, less than half the groove's width of %s: its inner side would be gone",
			src.Name, unit.Len(e.Radius()), unit.Len(g.Size.Width)).SetAt(mid.X, mid.Y)
		g.widen(f, src, "make the radius at least %s, or the groove narrower", math.Max(h, g.Size.Reach()+drawableNose))
		return
	}
	g.parts = append(g.parts, part{band(geom.Chain(false, e), h), strand, k})
}

// addJoint closes the groove at a vertex of a strand: with a mitre at a corner,
// else with a kink's kite.
func (g *Groove) addJoint(strand, vertex int, found *diag.Findings) {
	s := g.Motif.Strands[strand]
	n := s.Contour.Len()
	if !s.Contour.Closed && (vertex == 0 || vertex == n) {
		return
	}
	c := Corner{
		Strand: strand, S: s.Offsets()[vertex], P: s.Contour.Vertices[vertex].Point,
		In: s.Contour.Edge((vertex + n - 1) % n), Out: s.Contour.Edge(vertex),
	}
	if s.Corner[vertex] {
		g.addCorner(c, vertex, found)
		return
	}
	if g.Size.kinkOvercut(c) > planned/slightShare {
		g.kinks[strand] = append(g.kinks[strand], c)
	}
	if kite := kinkKite(c.In, c.Out, g.Size.Width/2); !kite.Empty() {
		g.parts = append(g.parts, part{kite, strand, -1})
	}
}

func (g *Groove) addCorner(c Corner, vertex int, found *diag.Findings) {
	strand := c.Strand
	s := g.Motif.Strands[strand]
	n := s.Contour.Len()
	g.corners[strand] = append(g.corners[strand], c)
	kite, ok := c.kite(g.Size.Width / 2)
	if t := c.Included(); !ok || t < sharpest {
		src := g.Motif.Sources[s.Sources[vertex]]
		found.Errorf(src.Key, "no-mitre", "the corner of %.1f degrees between %s and %s can't be mitred: the outer sides don't meet within %d groove widths",
			t*180/math.Pi, g.Motif.Sources[s.Sources[(vertex+n-1)%n]], src, mitreLimit).SetAt(c.P.X, c.P.Y).
			Hintf("open the corner to at least %.0f degrees, or end one strand on the other's side", sharpest*180/math.Pi)
		return
	}
	if !kite.Empty() {
		g.parts = append(g.parts, part{kite, strand, -1})
	}
}

// Around returns the part of the groove that is made of the bands and mitres
// that come near box.
func (g Groove) Around(box geom.Box) region.Region {
	var near []region.Region
	g.index.Search(box, func(i int) bool {
		near = append(near, g.parts[i].Region)
		return true
	})
	return region.Union(near...)
}

// Area returns the whole ideal groove.
func (g Groove) Area() region.Region {
	all := make([]region.Region, len(g.parts))
	for i, p := range g.parts {
		all[i] = p.Region
	}
	return region.Union(all...)
}

// Corners returns the corners of a strand in order.
func (g Groove) Corners(strand int) []Corner { return g.corners[strand] }

// A PartBox says where the groove of one element lies.
type PartBox struct {
	Source motif.Source
	Bounds geom.Box
}

// Parts returns the boxes of the elements' bands, by strand and edge.
func (g Groove) Parts() []PartBox {
	var list []PartBox
	for _, p := range g.parts {
		if p.edge >= 0 {
			list = append(list, PartBox{g.Motif.Sources[g.Motif.Strands[p.strand].Sources[p.edge]], p.Bounds()})
		}
	}
	return list
}

// Package proof compares what panels, as read back from their files, let a router
// cut with the ideal groove.
//
// Nothing of the plan is used but the sizes and where each panel is laid. Every
// opening is rolled out on its own: shrunk by the rider's radius and grown by
// half the bit, which is everything that the bit reaches when the rider stays
// within the walls, set down anywhere. All of it together, over all panels and
// positions, is compared with the groove as the strands' own walls make it, which
// owes nothing to how the cuts were made. The package knows no template: what drew a
// panel has no say in what the panel lets through.
//
// Lengths are mm.
package proof

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/walls"
)

// A Placed is a panel as read back: its openings and where it is laid.
type Placed struct {
	ID        string
	Openings  []geom.Contour
	Positions []plan.Orientation
}

// A Leftover is a place that is left for the chisel. Most of it no bit of that
// size reaches. What the bit could reach and these templates leave all the same
// is missed.
type Leftover struct {
	At    geom.Point // the point furthest from what the bit reaches
	Depth float64    // its distance from there, mm
	Area  float64    // mm2

	MissedDepth float64 // greatest distance, mm, of what is missed of it from what is cut; 0: nothing is
	MissedArea  float64 // mm2
	Where       string  // what ends there: "corner of bar.1 and bar.2", ...
	Strand      int     // whose end or corner that is; -1: the groove has none
	S           float64 // the place along the strand
}

// A Proof compares what the panels let a router cut with the ideal groove.
type Proof struct {
	OvercutMax  float64 // greatest distance beyond the groove, mm
	OvercutAt   geom.Point
	OvercutArea float64 // mm2
	UncutMax    float64 // greatest distance of the groove's points from what is cut, mm
	UncutArea   float64 // mm2
	Off         float64 // how far the motif is off itself in the positions that panels are laid in, mm
	MissedMax   float64 // and of those that the bit could reach within the groove, mm
	MissedAt    geom.Point
	MissedArea  float64 // mm2
	Leftovers   []Leftover
}

// Holds reports whether the router can cut nothing but the groove, as nearly as
// the motif's copies are alike.
func (p Proof) Holds() bool { return p.OvercutMax <= groove.Overcut+p.Off }

// fineRider is how much smaller in mm the rider's radius is taken to find what
// is left where the bit fills the groove and the rider has no play at all.
const fineRider = 0.0005

// Prove rolls the rider through every opening. undoKerf is what the file's
// openings are smaller than their true size, on each side.
func Prove(g groove.Groove, panels []Placed, undoKerf float64) Proof {
	var reached, surely []region.Region
	for _, p := range panels {
		for _, c := range p.Openings {
			opening := region.New(c).Grow(undoKerf)
			all := g.Size.Swept(opening, 0)
			sure := all
			if g.Size.Thin() {
				sure = opening.Shrink(g.Size.RiderRadius - fineRider).Grow(g.Size.Bit / 2)
			}
			for _, pos := range p.Positions {
				t := pos.Similarity()
				reached = append(reached, all.Transform(t))
				surely = append(surely, sure.Transform(t))
			}
		}
	}
	cut := region.Union(reached...)
	sure := cut
	if g.Size.Thin() {
		sure = region.Union(surely...)
	}
	return Compare(g, cut, sure, off(g.Motif, panels))
}

// off is how far the motif is off itself at most in the positions of panels.
func off(m motif.Motif, panels []Placed) float64 {
	most := 0.0
	seen := map[plan.Orientation]bool{}
	for _, p := range panels {
		for _, pos := range p.Positions {
			if pos != (plan.Orientation{}) && !seen[pos] {
				seen[pos] = true
				most = math.Max(most, plan.Off(m, pos))
			}
		}
	}
	return most
}

// Compare holds what the bit can reach against the ideal groove. surely is what
// it reaches though the rider is a trifle small, off how far the motif is off
// itself where it was turned.
func Compare(g groove.Groove, reached, surely region.Region, off float64) Proof {
	judged := walls.Of(wallStrands(g)...)
	ideal, tips := judged.Area, region.Union(judged.Tips(g.Size.Bit)...)
	over := region.Subtract(reached, ideal)
	proof := Proof{OvercutArea: over.Area(), Off: off}
	proof.OvercutMax, proof.OvercutAt = furthest(over, ideal)
	left := region.Subtract(ideal, surely)
	proof.UncutArea = left.Area()
	for _, piece := range left.Pieces() {
		d, at := furthest(piece, surely)
		proof.UncutMax = math.Max(proof.UncutMax, d)
		if d < leastChip {
			continue
		}
		l := Leftover{At: at, Depth: d, Area: piece.Area()}
		l.name(g)
		proof.missed(&l, region.Subtract(piece, tips), surely)
		proof.Leftovers = append(proof.Leftovers, l)
	}
	sortLeftovers(proof.Leftovers)
	return proof
}

// Of is a proof that was found otherwise than by rolling a rider: what is cut
// beyond the groove at most and where, in all, and what is left of it. Left pieces
// get the name of what ends there.
func Of(g groove.Groove, overcut float64, at geom.Point, area float64, left []Leftover) Proof {
	p := Proof{OvercutMax: overcut, OvercutAt: at, OvercutArea: area}
	for _, l := range left {
		l.name(g)
		p.UncutMax = math.Max(p.UncutMax, l.Depth)
		p.UncutArea += l.Area
		if l.MissedDepth > p.MissedMax {
			p.MissedMax, p.MissedAt = l.MissedDepth, l.At
		}
		p.MissedArea += l.MissedArea
		p.Leftovers = append(p.Leftovers, l)
	}
	sortLeftovers(p.Leftovers)
	return p
}

// missed adds up what is left though the bit could reach it, of one place.
func (p *Proof) missed(l *Leftover, area, surely region.Region) {
	for _, piece := range area.Pieces() {
		d, at := furthest(piece, surely)
		if d < leastMissed+p.Off {
			continue
		}
		l.MissedDepth = math.Max(l.MissedDepth, d)
		l.MissedArea += piece.Area()
		if d > p.MissedMax {
			p.MissedMax, p.MissedAt = d, at
		}
	}
	p.MissedArea += l.MissedArea
}

// leastMissed is the distance in mm from what is cut from which wood that the bit
// could reach counts as missed. It is what no maker finds, and more than a rider
// that is a trifle small moves the border of a bit's reach in a sharp corner.
const leastMissed = 0.01

// wallStrands are the centre lines and the width, which is all that the groove is
// judged by.
func wallStrands(g groove.Groove) []walls.Strand {
	list := make([]walls.Strand, len(g.Motif.Strands))
	for i, s := range g.Motif.Strands {
		list[i] = walls.Strand{Line: s.Contour, Width: g.Size.Width}
	}
	return list
}

// leastChip is the depth in mm of wood left standing that is worth a chisel's
// while: a tenth of what makers work to.
const leastChip = 0.001

func sortLeftovers(ls []Leftover) {
	slices.SortStableFunc(ls, func(a, b Leftover) int {
		return cmp.Or(cmp.Compare(a.Where, b.Where), cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.At.Y, b.At.Y))
	})
}

// furthest returns the greatest distance of a point of r from the boundary of
// an area that r lies outside, and the point. It is attained on the boundary of
// r, except where r lies round a point that is the same distance from several
// sides of it; for what is left between two round cuts the boundary
// says.
func furthest(r region.Region, s region.Region) (float64, geom.Point) {
	var far geom.Point
	best := 0.0
	for _, c := range r.Loops() {
		for i := range c.Len() {
			if d, p := furthestOn(c.Edge(i), s); d > best {
				best, far = d, p
			}
		}
	}
	return best, far
}

// furthestOn searches one edge: at equal steps, then closer and closer about
// the best of them.
func furthestOn(e geom.Edge, s region.Region) (float64, geom.Point) {
	const steps = 8
	dist := func(t float64) float64 { return s.BoundaryDist(e.At(t)) }
	bestT, best := 0.0, -1.0
	for i := 0; i <= steps; i++ {
		if d := dist(float64(i) / steps); d > best {
			bestT, best = float64(i)/steps, d
		}
	}
	for step := 1.0 / steps; step*e.Length() > geom.Coincident*10; {
		step /= 2
		for _, t := range [2]float64{math.Max(0, bestT-step), math.Min(1, bestT+step)} {
			if d := dist(t); d > best {
				bestT, best = t, d
			}
		}
	}
	return best, e.At(bestT)
}

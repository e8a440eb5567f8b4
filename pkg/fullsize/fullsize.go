// Package fullsize draws the pieces of the strips at their true size: each kind once,
// straight to cut against, and where it is bent as it is laid, to check it against; for
// paper, and as a drawing for a machine. It writes the labels of the pieces too.
//
// A piece lies along x as it is seen from the top, its strand running to the right, so
// that its left side is the upper one. Lengths are mm.
package fullsize

import (
	"math"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
)

// A Figure is one kind of piece.
type Figure struct {
	cutlist.Kind                // the first of it is drawn
	Flat         []geom.Contour // its outline before it is bent, finished at its ends, from 0 along x
	Blank        geom.Contour   // of a bent piece: what it is cut to at first; else of no vertices
	Laid         []geom.Contour // of a bent piece: its outline as it is laid
	Middle       []geom.Edge    // and its middle line there
	Joints       []geom.Contour // and its ends, where they touch the piece itself and no outline shows them
	Cut          float64        // what it is cut to at first, from long point to long point
}

// Figures draws every kind of piece of a list, in the order of their first numbers.
func Figures(l cutlist.List, m motif.Motif) []Figure {
	var all []Figure
	for _, k := range l.Kinds() {
		p := k.Piece
		f := Figure{Kind: k, Cut: l.Cut(p)}
		laid, middle := lying(p, m)
		if p.Bend > 0 {
			f.Flat = []geom.Contour{developed(p)}
			if p.Formed {
				f.Blank = blank(f.Flat[0], p.Thickness, f.Cut)
			}
			f.Laid, f.Middle = laid, middle
			f.Joints = joints(p, laid, middle)
		} else {
			f.Flat = laid
		}
		all = append(all, f)
	}
	return all
}

// lying is a piece's own outline and its middle line, turned so that it runs to the right, its
// lower left corner at the origin.
func lying(p cutlist.Piece, m motif.Motif) (outline []geom.Contour, middle []geom.Edge) {
	middle = middleOf(p, m.Strands[p.Strand].Contour)
	a, b := middle[0].A, middle[len(middle)-1].B
	way := b.Sub(a)
	if way.Norm() < p.Thickness { // a ring
		way = middle[0].Tangent(0)
	}
	turn := geom.Turning(-way.Angle())
	area := p.Area.Transform(turn)
	shift := geom.Shifting(area.Bounds().Min.Scale(-1))
	to := turn.Then(shift)
	for i := range middle {
		middle[i] = to.Edge(middle[i])
	}
	return area.Transform(shift).Loops(), middle
}

// joints are the ends of a piece that closes on itself: a ring's, and of a loop that butts on
// its own side.
func joints(p cutlist.Piece, laid []geom.Contour, middle []geom.Edge) (all []geom.Contour) {
	if len(laid) < 2 {
		return nil
	}
	last := middle[len(middle)-1]
	at, way := [2]geom.Point{middle[0].A, last.B}, [2]geom.Point{middle[0].Tangent(0), last.Tangent(1)}
	for i, e := range p.Ends {
		sin := math.Sin(e.Angle)
		if i == 1 && e.Kind == inlay.EndSquare || math.Abs(sin) < 1e-9 {
			continue // a ring has one
		}
		half := way[i].Unit().Turn(e.Angle).Scale(p.Thickness / 2 / sin)
		all = append(all, geom.Chain(false, geom.Line(at[i].Sub(half), at[i].Add(half))))
	}
	return all
}

// middleOf is a piece's middle line, of its straights and bends one after another. It is
// placed by its middle: at its ends the strand may have a corner.
func middleOf(p cutlist.Piece, strand geom.Contour) []geom.Edge {
	from := (p.From + p.To) / 2
	if p.Ends[0].Kind == inlay.EndSquare { // a ring's place is where it is joined
		from = p.From
	}
	s := from
	if n := strand.Length(); strand.Closed {
		s = math.Mod(s+n, n)
	}
	at, way := strand.At(s)
	off := p.At.Sub(at).Dot(way.Left())
	own := path(p)
	here, heading := alongTo(p, own, off, from-p.From)
	to := geom.Shifting(here.Scale(-1)).Then(geom.Turning(way.Angle() - heading.Angle())).Then(geom.Shifting(at.Add(way.Left().Scale(off))))
	for i := range own {
		own[i] = to.Edge(own[i])
	}
	return own
}

// path is a piece's middle line, from the origin to the right.
func path(p cutlist.Piece) (all []geom.Edge) {
	at, way := geom.Point{}, geom.Pt(1, 0)
	for _, s := range p.Segments {
		if s.Radius == 0 {
			all = append(all, geom.Line(at, at.Add(way.Scale(s.Length))))
		} else {
			all = append(all, geom.Arc(at.Add(way.Left().Scale(s.Radius)), math.Abs(s.Radius), way.Angle()-math.Copysign(math.Pi/2, s.Radius), s.Length/s.Radius)...)
		}
		last := all[len(all)-1]
		at, way = last.B, last.Tangent(1)
	}
	if len(all) == 0 { // nothing of its middle is in it
		all = append(all, geom.Line(at, at.Add(way.Scale(math.Max(p.Left, p.Right)))))
	}
	return all
}

// alongTo is the place on a piece's middle line, which lies so far to the left of its strand's,
// where the strand has run so far from the piece's beginning, and the direction there.
func alongTo(p cutlist.Piece, own []geom.Edge, off, run float64) (at, way geom.Point) {
	x := 0.0
	for _, s := range p.Segments {
		k := 1.0 // of the strip's length over the strand's
		if s.Radius != 0 {
			k = s.Radius / (s.Radius + off)
		}
		if part := s.Length / k; run > part {
			x, run = x+s.Length, run-part
			continue
		}
		x += run * k
		break
	}
	return geom.Chain(false, own...).At(x)
}

// developed is a bent piece's outline before it is bent: as long along its middle as it is
// then, with the same angles at its ends. What two close cuts leave may be a triangle.
func developed(p cutlist.Piece) geom.Contour {
	half := p.Thickness / 2
	slant := func(e inlay.End) float64 { // how far the cut goes along the strip from its middle to its left side
		if s := math.Sin(e.Angle); math.Abs(s) > 1e-9 {
			return half * math.Cos(e.Angle) / s
		}
		return 0
	}
	a, b := slant(p.Ends[0]), slant(p.Ends[1])
	low, high := -half, half
	if left, right := p.Middle+b-a, p.Middle+a-b; left < 0 || right < 0 {
		y := half * p.Middle / (a - b) // where the two cuts meet
		if left < 0 {
			high = y
		} else {
			low = y
		}
	}
	at := func(x, slant, y float64) geom.Point { return geom.Pt(x+slant*y/half, y) }
	c := geom.Polygon(at(0, a, low), at(p.Middle, b, low), at(p.Middle, b, high), at(0, a, high))
	c = geom.Shifting(c.Bounds().Min.Scale(-1)).Contour(c)
	return c.Welded(geom.Coincident)
}

// blank is the straight strip that a bent piece is cut to, longer by as much at one end as at
// the other.
func blank(flat geom.Contour, thickness, long float64) geom.Contour {
	mid := flat.Bounds().Center().X
	return geom.Rect(geom.Box{Min: geom.Pt(mid-long/2, 0), Max: geom.Pt(mid+long/2, thickness)})
}

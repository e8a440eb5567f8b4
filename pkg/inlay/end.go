package inlay

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
)

// EndKind says how a piece ends.
type EndKind int

const (
	// EndSquare is a ring's joint to itself, cut square wherever it is hidden best.
	EndSquare EndKind = iota
	// EndFree is the strand's own free end, cut square.
	EndFree
	// EndMitre meets its mate round a corner.
	EndMitre
	// EndButt is cut straight against the side of a strand that crosses over it, or
	// that its own strand ends on.
	EndButt
	// EndCope is cut to a curve, or to more sides than one: a straight cut would leave
	// a gap of more than Straight.
	EndCope
	// EndJoint lies in the joint of two sections, the neighbour's piece against it.
	EndJoint
)

var endKindWords = [...]string{
	EndSquare: "square",
	EndFree:   "free",
	EndMitre:  "mitre",
	EndButt:   "butt",
	EndCope:   "cope",
	EndJoint:  "joint",
}

// String is the kind's word in a cutting list.
func (k EndKind) String() string { return unit.Word(endKindWords[:], k, "end") }

// Straight is the gap in mm up to which a straight cut will do: what the eye doesn't find
// in a finished surface (common practice).
const Straight = 0.05

// An End is the cut at one end of a piece. Angle is turned counter-clockwise
// from the direction of travel along the strip's centre line to the cut, seen
// from its right side to its left one: pi/2 is square, and at a corner of two
// straights with the included angle t it is t/2 or pi - t/2. A cut that isn't
// straight has its chord's.
type End struct {
	Kind   EndKind
	Angle  float64
	Radius float64 // of the one arc that it is cut against; 0 for a straight, or more sides than one
	Hollow bool    // with a radius: the end is hollow, round what is round itself
	Gap    float64 // that a straight cut would leave, mm
	Tee    bool    // it is cut against the strand that its own one ends on
	Joint  bool    // it lies in a joint of two sections, or a part of it does
	On     []On    // what it is cut against, none at corners and the strand's own ends
}

// On is a place on a strand that lies over a piece's end.
type On struct {
	Strand int
	S      float64 // distance along its centre line of the middle of the crossing
}

// endOf describes a cut from the right side of a piece to its left one, where
// its centre line runs in the direction of along. The cut's edges run from the
// right to the left; none is a straight cut. ahead says that the piece comes before it.
func endOf(kind EndKind, along, right, left geom.Point, cut []geom.Edge, ahead bool) End {
	v := left.Sub(right)
	e := End{Kind: kind, Angle: math.Atan2(along.Cross(v), along.Dot(v))}
	n := v.Unit().Left() // back along the strip, for a cut that runs to the left
	low, high := 0.0, 0.0
	for _, c := range cut {
		for _, p := range furthest(c, n) {
			d := p.Sub(right).Dot(n)
			low, high = math.Min(low, d), math.Max(high, d)
		}
	}
	e.Gap = high - low
	if bends := segments(cut); len(bends) == 1 && bends[0].Radius != 0 {
		e.Radius = math.Abs(bends[0].Radius)
		e.Hollow = (bends[0].Radius > 0) != ahead
	}
	if e.Gap > Straight {
		e.Kind = EndCope
	}
	return e
}

// furthest are the points of an edge that may be the furthest in the direction n or
// against it: its ends, and of an arc where it runs square to n.
func furthest(e geom.Edge, n geom.Point) []geom.Point {
	all := []geom.Point{e.A, e.B}
	if e.IsLine() {
		return all
	}
	for _, s := range [2]float64{-1, 1} {
		p := e.Center().Add(n.Scale(s * e.Radius()))
		if t := e.Param(p); t > 0 && t < 1 {
			all = append(all, p)
		}
	}
	return all
}

// sharpest is the angle between a strip and the cut at its end below which the end is
// hard to make: its point breaks out (common practice).
const sharpest = 20 * math.Pi / 180

// sharpEnds reports ends below that, together, at the sharpest of them.
func (in Inlay) sharpEnds(m motif.Motif) (found diag.Findings) {
	least, count := sharpest, 0
	var strand int
	var s float64
	for _, l := range in.Laid {
		for _, p := range l.Pieces {
			for i, e := range p.Ends {
				a := math.Min(e.Angle, math.Pi-e.Angle)
				if a > sharpest-angleTie {
					continue
				}
				count++
				if a < least-angleTie {
					least, strand, s = a, l.Strand, [2]float64{p.From, p.To}[i]
				}
			}
		}
	}
	if count == 0 {
		return nil
	}
	st := m.Strands[strand]
	if st.Contour.Closed {
		s = math.Mod(s+st.Length(), st.Length())
	}
	at, _ := st.Contour.At(math.Max(0, math.Min(s, st.Length())))
	src := m.Sources[st.Source(s)]
	are := "is"
	if count > 1 {
		are = "are"
	}
	place(found.Notef(src.Key, "strip-sharp", "%s of the strips %s sharper than 20 degrees, the sharpest %.1f degrees on %s near %s: such points break out",
		unit.Count(count, "end"), are, degrees(least), src.Name, said(in.tops, at)), in.tops, at).
		Hintf("draw the strands so that they meet at 20 degrees or more; or cut these ends over-long and pare them on a shooting board, glued to a backing")
	return found
}

// angleTie in radians is below what any protractor shows, far above rounding: mirror images
// are counted alike.
const angleTie = 1e-9

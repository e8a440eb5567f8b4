// Package cutlist is the list of the pieces that the strips of an inlay are cut to:
// each with its number, its lengths and its ends, in the order of their numbers.
//
// Lengths are mm, angles radians, as package inlay has them.
package cutlist

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
	"strapwork/pkg/work"
)

// A List is all pieces of a job.
type List struct {
	Pieces    []Piece // by number
	Laid      work.Laid
	Layup     []work.Strip // left to right along the strand; none where the job gives the groove's width alone
	Height    float64      // of every strip, before it is levelled
	Allowance float64      // what every piece is cut longer, to be trimmed to fit; no length has it in it
	Sections  []Section    // of a table, from left to right
}

// A Piece is one piece to be cut and laid.
type Piece struct {
	Number  int    // from 1 through the job: section by section, along each strand, and where strips lie side by side from left to right
	Section string // of a table; of a piece that lies across joints all of its sections: "left/leaf 1"

	Strand  int    // of the motif
	Name    string // the strand's
	Stretch int    // of the strand, from 0: pieces of one stretch lie side by side
	Strip   int    // from 1 at the left, looking along the strand; 0: the sandwich of all

	Material  string // of a sandwich all of them: "holly/bronze/holly"; empty where the job names none
	Thickness float64

	Left, Middle, Right float64         // lengths of its sides and its middle line, without allowance
	Segments            []inlay.Segment // straights and bends of its middle line
	Bend                float64         // radius of the tightest of them; 0: straight
	Formed              bool            // it is bent to shape before it is laid: it doesn't spring into its groove
	Ends                [2]inlay.End    // in the strand's direction

	From, To float64 // distances along the strand's centre line; To may be beyond a closed strand's length
	Area     region.Region
	At       geom.Point // the middle of its middle line
}

// Params are what of a job the list takes besides the inlay.
type Params struct {
	Inlay   work.Inlay
	Springs []float64 // for each strip of the lay-up, the strain t / 2R up to which it is sprung into its groove; 0 or none: not known

	Sections []Section // of a table, from left to right, where the inlay has them
}

// springs is the strain up to which anything is sprung into its groove: woods and hard metals
// come back from it whole, and an annealed metal, which begins to yield at about half of it,
// keeps so little of the bend that the groove holds it (common practice, from memory).
const springs = 1e-3

// slack is the part of a limit by which a strain may pass it: drawings are rounded, and no
// limit is known to a thousandth.
const slack = 1e-3

// formed reports whether a piece of a strip, 0 for a sandwich, is bent before it is laid.
func (p Params) formed(strip int, thickness, radius float64) bool {
	limit := springs
	switch {
	case strip > 0 && strip <= len(p.Springs):
		limit = max(limit, p.Springs[strip-1])
	case strip == 0 && len(p.Springs) > 0:
		limit = max(limit, slices.Min(p.Springs))
	}
	return radius > 0 && thickness/(2*radius) > limit*(1+slack)
}

// New numbers the pieces of an inlay.
func New(p Params, in inlay.Inlay, m motif.Motif) List {
	l := List{Laid: p.Inlay.Laid, Layup: p.Inlay.Strips, Height: p.Inlay.Depth + p.Inlay.Proud, Allowance: p.Inlay.Allowance, Sections: p.Sections}
	whole := l.Laid == work.LaidSandwich && len(l.Layup) > 1
	for _, s := range in.Laid {
		strip := s.Layer + 1
		if whole {
			strip = 0
		}
		for _, q := range s.Pieces {
			bend := q.Bend()
			l.Pieces = append(l.Pieces, Piece{
				Formed: p.formed(strip, s.Thickness, bend),
				Strand: s.Strand, Name: m.Strands[s.Strand].ID, Stretch: q.Stretch, Strip: strip,
				Material: s.Material, Thickness: s.Thickness,
				Left: q.Left, Middle: q.Length, Right: q.Right, Segments: q.Segments, Bend: bend, Ends: q.Ends,
				From: q.From, To: q.To, Area: q.Area, At: q.At,
			})
		}
	}
	first := l.sectioned()
	slices.SortStableFunc(l.Pieces, func(a, b Piece) int {
		return cmp.Or(cmp.Compare(first[a.stretch()], first[b.stretch()]), cmp.Compare(a.Strand, b.Strand), cmp.Compare(a.Stretch, b.Stretch), cmp.Compare(a.Strip, b.Strip))
	})
	for i := range l.Pieces {
		l.Pieces[i].Number = i + 1
	}
	return l
}

// Long is the piece's length from long point to long point, as it is cut from a straight
// strip: along its middle line, and on to the far tip at each end. A bent piece has it before
// it is bent.
func (p Piece) Long() float64 {
	sum := p.Middle
	for _, e := range p.Ends {
		if s := math.Abs(math.Sin(e.Angle)); s > 0 {
			sum += p.Thickness / 2 * math.Abs(math.Cos(e.Angle)) / s
		}
	}
	if p.Bend > 0 {
		return sum
	}
	return math.Max(sum, math.Max(p.Left, p.Right))
}

// Bent is what in mm a formed piece is cut longer in all, to be held while it is bent and
// trimmed in the holder afterwards (common practice: an inch, half of it at each end).
const Bent = 25

// Cut is the length that the piece is cut to at first: from long point to long point, with
// the allowance, and for one that is bent before it is laid with what it is held by.
func (l List) Cut(p Piece) float64 {
	if p.Formed {
		return p.Long() + l.Allowance + Bent
	}
	return p.Long() + l.Allowance
}

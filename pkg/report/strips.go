package report

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
	"strapwork/pkg/work"
)

// stackFacts is the filling of the groove.
type stackFacts struct {
	Height    num // of a strip, before it is levelled
	Together  num // of the strips' thicknesses
	Clearance num
}

func newStack(in work.Inlay) stackFacts {
	total := 0.0
	for _, s := range in.Strips {
		total += s.Thickness
	}
	return stackFacts{num(in.Depth + in.Proud), num(total), num(in.Width - total)}
}

func newStrands(m motif.Motif) []strandJSON {
	return each(m.Strands, func(s motif.Strand) strandJSON {
		return strandJSON{
			ID: s.ID, Length: num(s.Length()), Closed: s.Contour.Closed,
			Start: toXY(s.Contour.Start()), Heading: heads(s.Contour), First: m.Sources[s.Sources[0]].Name,
		}
	})
}

// heads says which way a strand runs at its start.
func heads(c geom.Contour) string {
	p, t := c.At(0)
	switch d := compass(p, p.Add(t)); d {
	case "upper":
		return "up"
	case "lower":
		return "down"
	default:
		return d
	}
}

// pieceFacts is a number of pieces of one strip that are alike.
type pieceFacts struct {
	Strip               int // from 1
	Material            string
	Count               int
	Left, Middle, Right num // lengths
	Ends                [2]pieceEnd
	Bend                num // the tightest radius; 0 for a straight piece
}

// pieceEnd is the cut at a piece's end.
type pieceEnd struct {
	Kind     string // "none", "flat", "mitre", "butt", "tee", "fitted"
	AngleDeg num
	Curved   bool
}

// alike is by how much in mm the lengths of two pieces may differ for one
// entry in the list: what a strip is cut to before it is fitted.
const alike = 0.05

// stockFacts is the length of all pieces of a strip.
type stockFacts struct {
	Strip    int
	Material string
	Length   num
}

// newPieces sorts the pieces by strip and puts together what is alike, in the
// order in which each is first met; and adds their lengths up, as long as the longer
// side is.
func newPieces(in inlay.Inlay) (all []pieceFacts, stock []stockFacts) {
	layers := 0
	for _, s := range in.Strips {
		layers = max(layers, s.Layer+1)
	}
	for l := range layers {
		var own []pieceFacts
		for _, s := range in.Strips {
			if s.Layer != l {
				continue
			}
			for _, p := range s.Pieces {
				own = addPiece(own, newPiece(s, p))
			}
		}
		if len(own) == 0 {
			continue
		}
		total := stockFacts{Strip: l + 1, Material: own[0].Material}
		for _, p := range own {
			total.Length += num(p.Count) * max(p.Left, p.Right)
		}
		all, stock = append(all, own...), append(stock, total)
	}
	return all, stock
}

func newPiece(s inlay.Strip, p inlay.Piece) pieceFacts {
	out := pieceFacts{Strip: s.Layer + 1, Material: s.Material, Count: 1, Left: num(p.Left), Middle: num(p.Length), Right: num(p.Right)}
	for i, e := range p.Ends {
		out.Ends[i] = newPieceEnd(e)
	}
	for _, g := range p.Segments {
		if r := num(math.Abs(g.Radius)); r > 0 && (out.Bend == 0 || r < out.Bend) {
			out.Bend = r
		}
	}
	return out
}

// newPieceEnd is an end as it is told: an angle to the tenth of a degree, and none
// where the kind says it.
func newPieceEnd(e inlay.End) pieceEnd {
	out := pieceEnd{Kind: e.Kind.String()}
	switch e.Kind {
	case inlay.EndMitre, inlay.EndButt, inlay.EndTee:
		out.AngleDeg, out.Curved = num(math.Round(e.Angle*180/math.Pi*10)/10), e.Radius != 0
	case inlay.EndNone, inlay.EndFlat, inlay.EndFitted:
	}
	return out
}

func addPiece(list []pieceFacts, p pieceFacts) []pieceFacts {
	for i, o := range list {
		if o.sameAs(p) || o.sameAs(p.reversed()) {
			list[i].Count++
			return list
		}
	}
	return append(list, p)
}

// sameAs reports whether two pieces are cut alike.
func (p pieceFacts) sameAs(o pieceFacts) bool {
	near := func(a, b num) bool { return math.Abs(float64(a-b)) <= alike }
	return o.Material == p.Material && o.Ends == p.Ends &&
		near(o.Left, p.Left) && near(o.Middle, p.Middle) && near(o.Right, p.Right) && near(o.Bend, p.Bend)
}

// reversed is the same piece, turned round end for end: its sides and its ends
// change places, and the cuts' angles stay what they are.
func (p pieceFacts) reversed() pieceFacts {
	p.Left, p.Right = p.Right, p.Left
	p.Ends[0], p.Ends[1] = p.Ends[1], p.Ends[0]
	return p
}

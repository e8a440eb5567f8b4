package report

import (
	"math"
	"slices"

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

// pieceFacts is a number of pieces that are alike: of all strips side by side, or of one.
type pieceFacts struct {
	Strip    int // from 1; of all strips the first
	Material string
	Count    int
	Sides    []num // lengths along the strips' sides, from the left
	Ends     [2]pieceEnd
	Bend     num // the tightest radius; 0 for a straight piece
}

// pieceEnd is the cut at a piece's end.
type pieceEnd struct {
	Kind   string // "square", "free", "mitre", "butt", "cope"
	Angles []num  // degrees, strip by strip; one where all are the same, none where the kind says it
}

// alike is by how much in mm the lengths of two pieces may differ for one
// entry in the list: what a strip is cut to before it is fitted.
const alike = 0.05

// stockFacts is the length of all pieces of strips of one material and thickness.
type stockFacts struct {
	Strips   []int
	Material string
	Length   num
}

// newPieces is the cutting list, alike pieces together in the order in which each is
// first met, and the lengths of strip, as long as its longer side is. Where all strips of
// a strand end in the same way the entries are of all side by side, since neighbours share
// a side: stacked. Else they are strip by strip.
func newPieces(lay []work.Strip, in inlay.Inlay) (list []pieceFacts, stock []stockFacts, stacked bool) {
	var layers [][]pieceFacts // of each strip, in the order of the strands
	for _, s := range in.Strips {
		for len(layers) <= s.Layer {
			layers = append(layers, nil)
		}
		for _, p := range s.Pieces {
			layers[s.Layer] = append(layers[s.Layer], newPiece(s, p))
		}
	}
	stock = newStock(lay, layers)
	mirrored := slices.EqualFunc(lay, backwards(lay), equal) // the lay-up is the same from the right
	if all, ok := sideBySide(layers); ok {
		for _, p := range all {
			list = addPiece(list, p, mirrored)
		}
		return list, stock, true
	}
	for _, own := range layers {
		var alone []pieceFacts
		for _, p := range own {
			alone = addPiece(alone, p, true)
		}
		list = append(list, alone...)
	}
	return list, stock, false
}

func equal(a, b work.Strip) bool { return a.Material == b.Material && a.Thickness == b.Thickness }

func backwards(lay []work.Strip) []work.Strip {
	lay = slices.Clone(lay)
	slices.Reverse(lay)
	return lay
}

// newStock adds up the pieces of each strip, those of equal strips together.
func newStock(lay []work.Strip, layers [][]pieceFacts) (stock []stockFacts) {
	first := map[int]int{} // of a strip's entry, by the first strip that is equal to it
	for n, own := range layers {
		if len(own) == 0 {
			continue
		}
		kind := n
		if n < len(lay) {
			kind = slices.IndexFunc(lay, func(s work.Strip) bool { return equal(s, lay[n]) })
		}
		i, ok := first[kind]
		if !ok {
			i, first[kind] = len(stock), len(stock)
			stock = append(stock, stockFacts{Material: own[0].Material})
		}
		stock[i].Strips = append(stock[i].Strips, n+1)
		for _, p := range own {
			stock[i].Length += max(p.Sides[0], p.Sides[1])
		}
	}
	return stock
}

// layerFacts are strips of one material and thickness.
type layerFacts struct {
	Strips    []int
	Material  string
	Thickness num
}

func newLayers(lay []work.Strip) (list []layerFacts) {
	for n, s := range lay {
		i := slices.IndexFunc(lay, func(o work.Strip) bool { return equal(o, s) })
		at := slices.IndexFunc(list, func(l layerFacts) bool { return l.Strips[0] == i+1 })
		if at < 0 {
			at = len(list)
			list = append(list, layerFacts{Material: s.Material, Thickness: num(s.Thickness)})
		}
		list[at].Strips = append(list[at].Strips, n+1)
	}
	return list
}

// sideBySide puts the pieces of all strips together that lie side by side; false where
// some don't end in the same way.
func sideBySide(layers [][]pieceFacts) (all []pieceFacts, ok bool) {
	for n, own := range layers {
		if n == 0 {
			all = slices.Clone(own)
			continue
		}
		if len(own) != len(all) {
			return nil, false
		}
		for i, p := range own {
			if all[i], ok = all[i].beside(p); !ok {
				return nil, false
			}
		}
	}
	for i := range all {
		for k, e := range all[i].Ends {
			if len(slices.Compact(slices.Clone(e.Angles))) == 1 {
				all[i].Ends[k].Angles = e.Angles[:1]
			}
		}
	}
	return all, true
}

// beside adds a piece at the right.
func (p pieceFacts) beside(o pieceFacts) (pieceFacts, bool) {
	last := len(p.Sides) - 1
	if math.Abs(float64(p.Sides[last]-o.Sides[0])) > alike {
		return p, false
	}
	p.Sides = append(slices.Clone(p.Sides), o.Sides[1])
	for k := range p.Ends {
		a, b := p.Ends[k], o.Ends[k]
		if a.Kind != b.Kind {
			return p, false
		}
		p.Ends[k].Angles = slices.Concat(a.Angles, b.Angles)
	}
	if o.Bend > 0 && (p.Bend == 0 || o.Bend < p.Bend) {
		p.Bend = o.Bend
	}
	return p, true
}

func newPiece(s inlay.Strip, p inlay.Piece) pieceFacts {
	out := pieceFacts{Strip: s.Layer + 1, Material: s.Material, Count: 1, Sides: []num{num(p.Left), num(p.Right)}, Bend: num(p.Bend())}
	for i, e := range p.Ends {
		out.Ends[i] = newPieceEnd(e)
	}
	return out
}

// newPieceEnd is an end as it is listed: an angle to the tenth of a degree, and none
// where the kind says it.
func newPieceEnd(e inlay.End) pieceEnd {
	out := pieceEnd{Kind: e.Kind.String()}
	switch e.Kind {
	case inlay.EndMitre, inlay.EndButt, inlay.EndCope:
		out.Angles = []num{num(math.Round(e.Angle*180/math.Pi*10) / 10)}
	case inlay.EndSquare, inlay.EndFree:
	}
	return out
}

// addPiece counts a piece with those that are cut alike, turned round end for end too if
// that is the same.
func addPiece(list []pieceFacts, p pieceFacts, turned bool) []pieceFacts {
	for i, o := range list {
		if o.sameAs(p) || turned && o.sameAs(p.reversed()) {
			list[i].Count++
			return list
		}
	}
	return append(list, p)
}

// sameAs reports whether two pieces are cut alike.
func (p pieceFacts) sameAs(o pieceFacts) bool {
	near := func(a, b num) bool { return math.Abs(float64(a-b)) <= alike }
	return o.Material == p.Material && slices.EqualFunc(o.Sides, p.Sides, near) && near(o.Bend, p.Bend) &&
		o.Ends[0].sameAs(p.Ends[0]) && o.Ends[1].sameAs(p.Ends[1])
}

func (e pieceEnd) sameAs(o pieceEnd) bool {
	return e.Kind == o.Kind && slices.Equal(e.Angles, o.Angles)
}

// reversed is the same piece, turned round end for end: its sides and its ends
// change places, and the cuts' angles stay what they are.
func (p pieceFacts) reversed() pieceFacts {
	p.Sides = slices.Clone(p.Sides)
	slices.Reverse(p.Sides)
	p.Ends = [2]pieceEnd{p.Ends[1], p.Ends[0]}
	for i, e := range p.Ends {
		p.Ends[i].Angles = slices.Clone(e.Angles)
		slices.Reverse(p.Ends[i].Angles)
	}
	return p
}

package preview

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// headStrips is what pieces share; what each has of its own is in the pack.
type headStrips struct {
	Sandwich  bool        `json:"sandwich"`
	Allowance string      `json:"allowance"` // in words; empty: none
	Layers    []headLayer `json:"layers"`    // what pieces are cut from, in the order in which they are met
	Ends      [][2]string `json:"ends"`      // how ends are cut, short and whole
}

type headLayer struct {
	Strip     int    `json:"strip"`
	Material  string `json:"material"`
	Thickness num    `json:"thickness"`
	Thick     string `json:"thick"` // the same in words
}

// A layer is what pieces are cut from.
type layer struct {
	strip     int
	material  string
	thickness float64
}

func layerOf(p Piece) layer { return layer{p.Strip, p.Material, p.Thickness} }

func stripsOf(s Strips, units unit.System) headStrips {
	h := headStrips{Sandwich: s.Sandwich, Layers: []headLayer{}, Ends: [][2]string{}}
	if s.Allowance > 0 {
		h.Allowance = unit.Len(s.Allowance).In(units)
	}
	layers, ends := s.shared()
	for _, l := range layers {
		h.Layers = append(h.Layers, headLayer{l.strip, l.material, num(l.thickness), unit.Len(l.thickness).In(units)})
	}
	for _, e := range ends {
		h.Ends = append(h.Ends, [2]string{e.Short, e.Whole})
	}
	return h
}

// shared are the layers and the ends that pieces have, each once.
func (s Strips) shared() (layers []layer, ends []PieceEnd) {
	met, end := map[layer]bool{}, map[PieceEnd]bool{}
	for _, p := range s.Pieces {
		if l := layerOf(p); !met[l] {
			met[l], layers = true, append(layers, l)
		}
		for _, e := range p.Ends {
			if !end[e] {
				end[e], ends = true, append(ends, e)
			}
		}
	}
	return layers, ends
}

// How finely a page has the pieces: lengths and places as the moves, directions to what no
// eye sees of an arrow, bulges so that an arc of a metre's chord is right to a thousandth
// of a millimetre.
const (
	perTurnOfArrow = 1000
	perBulge       = 1_000_000
)

// packed packs all columns of a page: its moves, and the pieces of its strips.
func packed(p Page) *pack {
	all := moves(p.Program)
	all.pieces(p.Strips)
	return all
}

// pieces packs pieces, of which a large table has thousands, and their outlines.
func (p *pack) pieces(s Strips) {
	layers, ends := s.shared()
	whole := func(name string, per float64, of func(q Piece) float64) {
		p.whole("piece."+name, per, each(s.Pieces, func(q Piece) int64 { return units(of(q), per) }))
	}
	rise := func(name string, per float64, of func(q Piece) float64) {
		p.rise("piece."+name, per, each(s.Pieces, func(q Piece) int64 { return units(of(q), per) }))
	}
	rise("strand", 1, func(q Piece) float64 { return float64(q.Strand) })
	rise("stretch", 1, func(q Piece) float64 { return float64(q.Stretch) })
	whole("layer", 1, func(q Piece) float64 { return float64(slices.Index(layers, layerOf(q))) })
	rise("left", perMM, func(q Piece) float64 { return q.Left })
	rise("middle", perMM, func(q Piece) float64 { return q.Middle })
	rise("right", perMM, func(q Piece) float64 { return q.Right })
	rise("cut", perMM, func(q Piece) float64 { return q.Cut })
	rise("bend", perMM, func(q Piece) float64 { return q.Bend })
	whole("formed", 1, func(q Piece) float64 {
		if q.Formed {
			return 1
		}
		return 0
	})
	whole("from", 1, func(q Piece) float64 { return float64(slices.Index(ends, q.Ends[0])) })
	whole("to", 1, func(q Piece) float64 { return float64(slices.Index(ends, q.Ends[1])) })
	rise("kind", 1, func(q Piece) float64 { return float64(q.Kind) })
	rise("start", perMM, func(q Piece) float64 { return q.From })
	rise("stop", perMM, func(q Piece) float64 { return q.To })
	rise("x", perMM, func(q Piece) float64 { return q.At.X })
	rise("y", perMM, func(q Piece) float64 { return q.At.Y })
	whole("along", perTurnOfArrow, func(q Piece) float64 { return math.Atan2(q.Along.Y, q.Along.X) })
	whole("loops", 1, func(q Piece) float64 { return float64(len(q.Outline)) })
	p.loops(slices.Concat(each(s.Pieces, func(q Piece) []geom.Contour { return q.Outline })...))
}

// loops packs closed contours one behind the other.
func (p *pack) loops(list []geom.Contour) {
	corners := slices.Concat(each(list, func(c geom.Contour) []geom.Vertex { return c.Vertices })...)
	column := func(per float64, of func(v geom.Vertex) float64) []int64 {
		return each(corners, func(v geom.Vertex) int64 { return units(of(v), per) })
	}
	p.whole("loop.corners", 1, each(list, func(c geom.Contour) int64 { return int64(len(c.Vertices)) }))
	p.rise("loop.x", perMM, column(perMM, func(v geom.Vertex) float64 { return v.X }))
	p.rise("loop.y", perMM, column(perMM, func(v geom.Vertex) float64 { return v.Y }))
	p.whole("loop.bulge", perBulge, column(perBulge, func(v geom.Vertex) float64 { return v.Bulge }))
}

package stock

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Way is how a board is ripped.
type Way int

const (
	// OffEdge rips slices as thick as a strip off the board's edge; each is then slit to
	// strips across the board's thickness.
	OffEdge Way = iota
	// OffFace resaws slices as thick as a strip off the board's face, or takes a board that is
	// as thick as it is; each is then slit across the board's width.
	OffFace
)

var wayWords = [...]string{
	OffEdge: "edge",
	OffFace: "face",
}

// String is "edge" or "face".
func (w Way) String() string { return unit.Word(wayWords[:], w, "way") }

// same is by how much in mm a board may be thinner than a strip and still give it: less than
// a gauge shows.
const same = 0.005

// fits is how many lie side by side in a room, with a gap between each two.
func fits(room, each, gap float64) int {
	return max(0, int(math.Floor((room+gap+same)/(each+gap))))
}

// A Yield is what a board gives ripped in one way: Slices times Each strips of its length.
type Yield struct {
	Way    Way
	Slices int // as thick as a strip, with the kerf and what is sanded off between each two
	Each   int // strips that a slice is slit to, with the kerf between each two
}

// Strips is how many strips the board gives.
func (y Yield) Strips() int { return y.Slices * y.Each }

// A saw is what gets strips off boards.
type saw struct {
	kerf, sanding float64
	height        float64 // of all strips
}

// gap is what two slices lose between them: the kerf, and what is sanded off both sawn faces.
// The board's own faces, and a strip's upper and lower edges, aren't sanded.
func (s saw) gap() float64 { return s.kerf + 2*s.sanding }

// room is what of a board its slices lie across, and what they are slit across.
func room(b work.StockBoard, w Way) (slices, slits float64) {
	if w == OffEdge {
		return b.Width, b.Thickness
	}
	return b.Thickness, b.Width
}

// yield is what a board gives of strips of a thickness, ripped in one way.
func (s saw) yield(b work.StockBoard, thickness float64, w Way) Yield {
	slices, slits := room(b, w)
	return Yield{w, fits(slices, thickness, s.gap()), fits(slits, s.height, s.kerf)}
}

// share is the part of a board at least that one strip takes, whatever else is ripped from
// it, or where it is alone; 0 where the board gives none.
func (s saw) share(b work.StockBoard, thickness float64, alone bool) float64 {
	least := 0.0
	for _, w := range []Way{OffEdge, OffFace} {
		y := s.yield(b, thickness, w)
		if y.Strips() == 0 {
			continue
		}
		across, _ := room(b, w)
		part := (thickness + s.gap()) / (across + s.gap() + same) / float64(y.Each)
		if alone {
			part = 1 / float64(y.Strips())
		}
		if least == 0 || part < least {
			least = part
		}
	}
	return least
}

// A Slice is several slices of a board that are ripped alike.
type Slice struct {
	Strip  int // of the material's
	Count  int
	Each   int // strips that each is slit to
	Strips int // of them that are cut to pieces
}

// ripped are boards of one kind and what is ripped off each, all in one way.
type ripped struct {
	boards []Board
	used   float64 // of the boards, across their slices
	bound  int     // no fewer do, ripped in either way: proved
}

// rip finds the way that takes the fewest boards for so many of each strip; of equals that which leaves more
// of them whole.
func (s saw) rip(b work.StockBoard, thickness []float64, wanted []int, goOn func(Progress)) (best ripped, ok bool) {
	for _, w := range []Way{OffEdge, OffFace} {
		r, can := s.ripWay(b, thickness, wanted, w, goOn)
		if !can {
			continue
		}
		bound := r.bound
		if ok {
			bound = min(bound, best.bound)
		}
		if !ok || cmp.Or(cmp.Compare(len(r.boards), len(best.boards)), cmp.Compare(r.used, best.used)) < 0 {
			best = r
		}
		best.bound, ok = bound, true
	}
	return best, ok
}

// ripWay packs slices side by side into boards, as pieces into bars.
func (s saw) ripWay(b work.StockBoard, thickness []float64, wanted []int, w Way, goOn func(Progress)) (r ripped, ok bool) {
	across, _ := room(b, w)
	o := Order{Kerf: up(s.gap(), micrometre), Bars: []Bar{{Length: down(across, micrometre)}}}
	each := make([]int, len(wanted))
	for i, n := range wanted {
		y := s.yield(b, thickness[i], w)
		if each[i] = y.Each; n > 0 && y.Strips() == 0 {
			return r, false
		}
		it := Item{Length: max(1, min(up(thickness[i], micrometre), o.Bars[0].Length))}
		if n > 0 {
			it.Count = (n + y.Each - 1) / y.Each
		}
		o.Items = append(o.Items, it)
	}
	c, err := Solve(o, goOn)
	if err != nil {
		return r, false
	}
	r.bound = c.Bound
	left := slices.Clone(wanted)
	for _, p := range c.Patterns {
		for range p.Times {
			board := Board{Way: w}
			for i, n := range p.Cuts {
				if n > 0 {
					got := min(left[i], n*each[i])
					left[i] -= got
					r.used += float64(n) * (thickness[i] + s.gap()) / (across + s.gap())
					board.Slices = append(board.Slices, Slice{Strip: i, Count: n, Each: each[i], Strips: got})
				}
			}
			r.boards = append(r.boards, board)
		}
	}
	return r, true
}

// Parts of a millimetre in which lengths are whole numbers: slices by the micrometre, pieces by the
// tenth, to which stops are set.
const (
	micrometre = 1000
	tenth      = 10
	noise      = 1e-6 // of a part; what sums of lengths are out by
)

func up(mm float64, parts int) int   { return int(math.Ceil(mm*float64(parts) - noise)) }
func down(mm float64, parts int) int { return int(math.Floor(mm*float64(parts) + noise)) }

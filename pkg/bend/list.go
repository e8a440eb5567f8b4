package bend

import (
	"cmp"
	"math"
	"slices"
)

// A Piece is a piece of a strip, or of a lay-up, as far as it is bent.
type Piece struct {
	Number int
	Stuff  int // of the list's
	Arcs   []Arc
	Ends   [2]End
}

// An Arc is one of a piece's bends, by its middle line.
type Arc struct {
	Radius, Sweep float64
}

// An End is one of a piece's ends, looking into the piece.
type End struct {
	Radius float64 // of the middle line there; 0: it is straight
	Right  bool    // it turns to the right
	// Cut is the angle from the way into the piece to the cut, counter-clockwise, more
	// than 0 and less than pi.
	Cut float64
}

// A Bend is bends that are alike: of one stuff and nearly one radius.
type Bend struct {
	Stuff          int
	Radius, Widest float64 // the least and the greatest
	Pieces         []int   // their numbers
	Length         float64 // of the longest
	Verdict        Verdict
	// Rounds are the radii of the middle round which a metal is bent (Layer.Rounds); 0 of
	// what isn't bent cold.
	Rounds [3]float64
}

const (
	// Alike is the part by which radii differ that are bent alike: how far a bend opens
	// is never known to a hundredth, and the groove holds a strip that is out by so much.
	Alike = 0.01
	// flat in mm is the rise of a bend that any strip takes from its groove: half of the
	// gap that the eye sees.
	flat = 0.05
	// sameRadius in mm is the same radius, however it was come by.
	sameRadius = 1e-6
)

// rise is how far an arc stands off its chord.
func (a Arc) rise() float64 { return a.Radius * (1 - math.Cos(min(a.Sweep, math.Pi)/2)) }

// Length is the arc's, along its middle line.
func (a Arc) Length() float64 { return a.Radius * a.Sweep }

// Group says which bends there are, by stuff and radius, the tightest first.
func Group(stuff []Stuff, pieces []Piece) []Bend {
	type bent struct {
		Arc
		stuff, number int
	}
	var all []bent
	for _, p := range pieces {
		for _, a := range p.Arcs {
			if a.rise() > flat {
				all = append(all, bent{a, p.Stuff, p.Number})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b bent) int {
		return cmp.Or(cmp.Compare(a.stuff, b.stuff), cmp.Compare(math.Round(a.Radius/sameRadius), math.Round(b.Radius/sameRadius)), cmp.Compare(a.number, b.number))
	})
	var list []Bend
	for _, a := range all {
		n := len(list) - 1
		if n < 0 || list[n].Stuff != a.stuff || a.Radius > list[n].Radius*(1+Alike) {
			list = append(list, Bend{Stuff: a.stuff, Radius: a.Radius})
			n++
		}
		b := &list[n]
		b.Widest, b.Length = max(b.Widest, a.Radius), max(b.Length, a.Length())
		if !slices.Contains(b.Pieces, a.number) {
			b.Pieces = append(b.Pieces, a.number)
		}
	}
	for i := range list {
		b := &list[i]
		s := stuff[b.Stuff]
		b.Verdict = s.Judge(b.Radius)
		if b.Verdict.Way == Cold && len(s) == 1 {
			b.Rounds = s[0].Rounds(b.Radius)
		}
		slices.Sort(b.Pieces)
	}
	return list
}

// Of is the group that a bend of a radius belongs to, or -1.
func Of(list []Bend, stuff int, radius float64) int {
	return slices.IndexFunc(list, func(b Bend) bool {
		return b.Stuff == stuff && b.Radius-sameRadius <= radius && radius <= b.Widest+sameRadius
	})
}

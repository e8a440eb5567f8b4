// Package walljudge is a second judge of programs, for tests: it says what the
// moves of a program leave of a groove and where they cut beyond it, and it knows
// no areas. It walks along the strands' centre lines and walls in small steps and
// asks of each place how far the nearest move at full depth is; and it walks along
// the moves and asks of each place of the bit's rim whether some strand's walls,
// ends or mitres hold it. It works with lines and arcs by school arithmetic of its
// own, and shares no code with those who plan, write or judge programs, but the
// types that carry points and moves.
//
// Use it so:
//
//	faults := walljudge.Judge(walljudge.Work{Strands: lines, Width: w, Depth: d, Bit: b}, moves)
//
// with the strands' centre lines in the program's coordinates (the motif's,
// shifted) and the moves as ngc.ReadAll reads them. No fault is what a good program
// has. Where it cannot judge it says nothing: within reach of a free end whose
// strand turns sharply before the bit is clear of the flat.
//
// What it finds is sampled: a post thinner than Step may stand between its places.
// A strip along a wall can't, and one between passes, of some mm or more, hardly.
package walljudge

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

const (
	// Step is how far apart in mm the places are that are looked at, along the
	// strands and along the moves: a fifteenth of the narrowest usual bit.
	Step = 0.1

	// across is the same for places across a groove. Each row begins elsewhere, by
	// golden of a step, so that a strip between passes is met though it is thinner.
	across = 0.2
	golden = 0.6180339887498949 // (root of 5 - 1)/2, which spreads most evenly

	// Over is by how much in mm the wood may be from what is cut, or the bit
	// beyond the groove, before that is a fault: what makers work to, and half as
	// much for what is written rounded.
	Over = 0.015

	// DeepOver is by how much in mm a cut may be too deep or too shallow: what a
	// maker who touches a bit off on paper can see.
	DeepOver = 0.02

	// sharp is the turn in radians beyond which a joint is a corner: half a
	// degree, the job file's promise.
	sharp = 0.5 * math.Pi / 180

	// together in mm is how near places are that make one fault.
	together = 2.0
)

// Work is a groove, in mm, in the program's coordinates.
type Work struct {
	Strands []geom.Contour // centre lines; ends of open ones are flat, unless they lie on a strand
	Width   float64
	Depth   float64 // positive
	Bit     float64 // the slot that the bit cuts
	Partial bool    // the program need not cut all: what it leaves isn't looked at
}

// Kind is what is wrong at a place.
type Kind int

const (
	// Left is wood that the bit could reach and that isn't cut to depth.
	Left Kind = iota
	// Beyond is a cut outside the groove.
	Beyond
	// TooDeep is a cut below the groove's floor.
	TooDeep
)

// String is the kind's word.
func (k Kind) String() string {
	switch k {
	case Left:
		return "left"
	case Beyond:
		return "beyond"
	case TooDeep:
		return "too deep"
	}
	return fmt.Sprintf("kind(%d)", int(k))
}

// A Fault is one place that is wrong, the worst of those within 2 mm.
type Fault struct {
	Kind   Kind
	At     geom.Point
	Amount float64 // mm: how far the wood is from what is cut at least, or how far the cut is beyond
	Strand int     // whose wood it is, by its index; -1 for a cut
	Line   int32   // of the program, of a cut; else 0
}

// String is the fault in words.
func (f Fault) String() string {
	return fmt.Sprintf("%v %.4f mm at (%.3f, %.3f), strand %d, line %d", f.Kind, f.Amount, f.At.X, f.At.Y, f.Strand, f.Line)
}

// Judge holds moves against a groove and returns what is wrong, the worst first.
func Judge(w Work, moves []ngc.Move) []Fault {
	j := judge{Work: w, h: w.Width / 2, r: w.Bit / 2, k: math.Max(0, (w.Width-w.Bit)/2), faults: map[place]Fault{}}
	j.readStrands()
	j.readMoves(moves)
	if !w.Partial {
		for i := range j.chains {
			j.leftOf(i)
		}
	}
	list := slices.Collect(maps.Values(j.faults))
	slices.SortFunc(list, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(b.Amount, a.Amount), cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.At.Y, b.At.Y), cmp.Compare(a.Kind, b.Kind))
	})
	return list
}

type judge struct {
	Work
	h, r, k float64 // half the groove, half the bit, what that leaves to each side
	chains  [][]curve
	bands   grid // of curves of strands, by the places of their bands
	pieces  []curve
	corners []corner
	kites   grid
	cuts    []curve // at full depth
	cut     grid
	faults  map[place]Fault
}

// place is where faults are one.
type place struct {
	kind Kind
	x, y int
}

func (j *judge) add(f Fault) {
	p := place{f.Kind, int(math.Floor(f.At.X / together)), int(math.Floor(f.At.Y / together))}
	if f.Amount > j.faults[p].Amount {
		j.faults[p] = f
	}
}

// Package stick draws story sticks: straight battens that bear every place along an edge at
// full size, to mark by and to check by. One is as long as the joints of a table and has
// the grooves' and the strips' edges; one is laid along a work on which a panel is
// stepped.
//
// A stick's x runs along it from the end that is laid flush, its y across it. Marks run to
// both of its long sides, so that it can be laid on either side of a joint with its face
// up. Lengths are mm, angles radians.
package stick

import (
	"cmp"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/paper"
	"strapwork/pkg/unit"
)

// Params are what all sticks of a job have in common.
type Params struct {
	Title     string // the job's, with its revision; may be empty
	Units     unit.System
	Thickness float64    // of the sheet that they are cut from
	Bed       geom.Point // of the machine that cuts them, less what parts keep apart; zero where it isn't known
	Kerf      float64    // that outlines allow for
}

// A Kind says what a mark is of.
type Kind int

const (
	// Wall is an edge of the groove.
	Wall Kind = iota
	// Strip is a side of a strip.
	Strip
	// Centre is the middle of the groove.
	Centre
	// Axis is that of the frame: the motif's origin.
	Axis
)

// reach is how far in mm a mark runs in from a long side; the axis runs across the stick.
func (k Kind) reach() float64 {
	switch k {
	case Wall:
		return 10
	case Strip:
		return 6
	case Centre:
		return 15
	case Axis:
	}
	return Width / 2
}

// A Mark is a place along a stick.
type Mark struct {
	At   float64
	Kind Kind
}

// A Label is what is written beside a place: its lines, and fewer of them where there is
// less room.
type Label struct {
	At    float64
	Lines []string
}

// A Stick is what one bears.
type Stick struct {
	Name   string // "story-stick"
	Title  string
	Length float64
	Ends   [2]string // what is written at its ends, the first at x = 0
	Marks  []Mark
	Labels []Label
	Paper  bool        // it is printed and not cut
	Rows   []Row       // what a joint's bears
	Table  paper.Table // and in numbers, to be printed beside it
	Says   []string    // what it is for
}

// A Row is a passing in words.
type Row struct {
	Number int
	Edges  []string // the edges that it is on
	Middle float64
	Wall   [2]float64
	Strips []float64
	Angle  float64
}

// Measures of a stick in mm, common practice.
const (
	Width   = 60.0 // wide enough to lie still, narrow enough for offcuts
	off     = 0.4  // of marks from the edge: what is burnt there is a mark's own width
	nearest = 0.25 // marks as near to one another are one in the wood: the later begins behind the earlier
	behind  = 0.8  // and so far behind
	least   = 2.0  // of a mark's length
)

// A tick is a mark as it is drawn, by how far from the long sides.
type tick struct {
	Mark
	from, to float64
}

// ticks are the marks as they are drawn: of two at nearly one place the later begins
// behind the earlier.
func (s Stick) ticks() (list []tick) {
	marks := slices.Clone(s.Marks)
	slices.SortStableFunc(marks, func(a, b Mark) int { return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.At, b.At)) })
	for _, m := range marks {
		t := tick{m, off, m.Kind.reach()}
		twice := false
		for _, o := range list {
			if d := o.At - m.At; d > nearest || d < -nearest {
				continue
			}
			twice = twice || o.Kind == m.Kind && geom.Coincident > o.At-m.At && o.At-m.At > -geom.Coincident
			if o.to+behind > t.from {
				t.from = o.to + behind
			}
		}
		if twice {
			continue
		}
		t.to = max(t.to, t.from+least)
		list = append(list, t)
	}
	return list
}

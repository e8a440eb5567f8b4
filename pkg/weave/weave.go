// Package weave finds where the strands of a motif cross and meet, and decides
// which is on top at each crossing: over and under alternate along every
// strand.
//
// Lengths are mm and angles radians.
package weave

import "strapwork/pkg/geom"

// A Visit is one passage of a strand through a crossing.
type Visit struct {
	Strand   int
	S        float64 // distance along the strand
	Edge     int     // index of the strand's edge; at a joint, of the edge that begins there
	Crossing int     // index into Weave.Crossings
	Over     bool
	Shown    bool // at some station of the work it is not as Over says: a split under it would be seen there
}

// Hides reports whether a split of the strand here lies under another's strips,
// at every station of the work.
func (v Visit) Hides() bool { return !v.Over && !v.Shown }

// A Crossing is a place where two strands, or two passages of one strand,
// pass through one another.
type Crossing struct {
	At     geom.Point
	Visits [2]Visit // the two passages, by strand, then by distance along it; one of them is over
	Angle  float64  // acute angle between the passages
	Broken bool     // over and under fail to alternate between here and a neighbour
}

// Upper is the passage that is on top.
func (c Crossing) Upper() Visit {
	if c.Visits[0].Over {
		return c.Visits[0]
	}
	return c.Visits[1]
}

// Lower is the passage that goes underneath.
func (c Crossing) Lower() Visit {
	if c.Visits[0].Over {
		return c.Visits[1]
	}
	return c.Visits[0]
}

// A Tee is the end of a strand on the middle of another, or of itself. The
// host lies on top.
type Tee struct {
	Strand int
	AtEnd  bool // the strand's end; false: its start
	Host   int  // the strand that is met
	HostS  float64
	At     geom.Point
}

// A Weave is all meetings of a motif's strands.
type Weave struct {
	Crossings []Crossing // by their first passage: strand, then distance along it
	Visits    [][]Visit  // for each strand, by distance along it
	Tees      []Tee      // by strand, its start before its end
}

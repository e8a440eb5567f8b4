// Package table lays a motif at the stations of a table top that comes apart, cuts it into
// the sections' own stretches of strand, and says whether it meets at every joint in every
// arrangement of the sections.
//
// All stations' motifs with all leaves in are the top, in the table's coordinates: x along
// the table, y across, the origin at its front left corner. A section has x from its own
// left edge. Joints are parallel to y. Lengths are mm, angles radians.
package table

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// Params are what a table is worked out from.
type Params struct {
	Table   work.Table
	Groove  float64      // its width
	Bit     float64      // the slot that it cuts
	Strips  []work.Strip // across the groove, left to right along the strand; may be none
	Weaving work.Weaving
}

// A Table is a top that comes apart with the motif on it. It isn't changed after New.
type Table struct {
	Params
	Sections []Section // from left to right, all leaves in
	Kinds    []Kind    // those of one name are one kind, in the order of the file
	Joints   []float64 // x of the joint right of section i, all leaves in
	Stations []Station // in the order of work, from the left
	Top      motif.Motif
	Weave    weave.Weave // of the top
	Passings []Passing   // by kind, left edge first, then from the front

	Arrangements []Arrangement // by the number of loose sections, from none; at most mostArranged
	Arranged     float64       // how many there are

	moved bool // ends of different stations were joined that lay apart
}

// A Section is one end or leaf.
type Section struct {
	Kind      int
	Nth       int        // which of its kind it is, from 1
	X         float64    // of its left edge, all leaves in
	Crossings []Crossing // those of its kind, in the same order
	Stretches []Stretch  // those of its kind, in the same order
}

// Ends are the x of a section's two edges, all leaves in.
func (t Table) Ends(section int) (left, right float64) {
	s := t.Sections[section]
	return s.X, s.X + t.Kinds[s.Kind].Length
}

// A Kind is the sections of one name, which are alike. Its stretches and crossings are
// those of its first section.
type Kind struct {
	Name    string
	Key     diag.Key
	Length  float64
	Loose   bool
	Round   [2]bool // by side: that end is a half round
	First   int     // the first section of the kind
	Count   int
	Outline geom.Contour // in its own coordinates, counter-clockwise
}

// A Stretch is a part of one of the top's strands within a section.
type Stretch struct {
	Strand   int
	From, To float64 // along it; To may be past a closed strand's length
	Reversed bool    // the kind's own runs the other way: never of a kind's first section
	At       [2]int  // the passings at From and at To, as indices into Table.Passings; -1 for a strand's own end, and a ring
}

// A Crossing is one of the top's crossings within a section.
type Crossing struct {
	Top   int        // index into Table.Weave.Crossings
	At    geom.Point // in the section's coordinates
	Joint int        // index of the joint that its overlap lies across, all leaves in; -1 for none
}

// A Passing is a strand's crossing of an edge of a kind.
type Passing struct {
	Kind      int
	Side      work.Side
	Y         float64
	Angle     float64      // from the edge's normal, positive where y grows with x: on its own side of the edge
	Curvature float64      // as one goes with x; positive to the left
	Stretch   int          // index into the kind's stretches
	AtEnd     bool         // it is that stretch's end, and not its start
	Strips    []work.Strip // from the front to the back
	Over      bool         // its phase: the next crossing beyond the edge is over
	Asks      bool         // its phase is decided by what is within the section
}

// A Station is one placing of the motif's origin on the work.
type Station struct {
	Number   int        // from 1
	At       geom.Point // of the motif's origin, all leaves in
	Sections []int      // those that are grooved there
	Side     work.Side  // of the only section's edge that the origin lies on, where each is grooved by itself
	Edge     bool       // it does
}

// An Arrangement is a sequence of sections put together.
type Arrangement struct {
	Sections []Placed
	Leaves   int // loose sections
}

// A Placed is a section in an arrangement.
type Placed struct {
	Kind   int
	X      float64 // of its left edge
	Turned bool    // end for end
}

// KindOf is the kind of a section.
func (t Table) KindOf(section int) Kind { return t.Kinds[t.Sections[section].Kind] }

// StretchesOf are the stretches of a kind, in its first section.
func (t Table) StretchesOf(kind int) []Stretch { return t.Sections[t.Kinds[kind].First].Stretches }

// CrossingsOf are the crossings of a kind, in its first section.
func (t Table) CrossingsOf(kind int) []Crossing { return t.Sections[t.Kinds[kind].First].Crossings }

// Of is whether a kind has passings on an edge.
func (t Table) Of(kind int, side work.Side) (list []Passing) {
	for _, p := range t.Passings {
		if p.Kind == kind && p.Side == side {
			list = append(list, p)
		}
	}
	return list
}

// New lays out a table. m is the motif, whose own crossings have been found without an
// error. The table is usable whatever was found, but for what was; a motif that is larger than its
// sections is not cut.
func New(p Params, m motif.Motif) (Table, diag.Findings) {
	t := Table{Params: p}
	var found diag.Findings
	t.layOut()
	if t.station(m, &found); found.HasErrors() {
		return t, found // strands beyond their sections are everywhere
	}
	t.Top, t.moved = t.top(m)
	var places diag.Findings
	t.Weave, places = weave.Find(t.Top)
	found.Add(places...)
	var after diag.Findings // what may follow from strands that lie on one another
	t.alike(t.cut(), &after)
	t.pass()
	differ := after.HasErrors()
	if !differ {
		t.meet(&after)
	}
	apart := after.HasErrors()
	t.near(&after)
	t.arrange()
	var woven diag.Findings // what may follow from strands that don't meet
	if !differ {
		t.weave(&woven)
	}
	if !apart {
		after.Add(woven...)
	}
	if !places.HasErrors() {
		found.Add(after...)
	}
	return t, found
}

// layOut says where the sections lie.
func (t *Table) layOut() {
	kinds := map[string]int{}
	x := 0.0
	for i, s := range t.Table.Sections {
		k, known := kinds[s.Name]
		if !known {
			k = len(t.Kinds)
			kinds[s.Name] = k
			own := Kind{Name: s.Name, Key: s.Key, Length: s.Length, Loose: s.Loose, First: len(t.Sections)}
			own.Round[work.Left] = s.Round && i == 0
			own.Round[work.Right] = s.Round && i == len(t.Table.Sections)-1
			own.Outline = outline(s.Length, t.Table.Width, own.Round)
			t.Kinds = append(t.Kinds, own)
		}
		for range s.Count {
			t.Kinds[k].Count++
			t.Sections = append(t.Sections, Section{Kind: k, Nth: t.Kinds[k].Count, X: x})
			x += t.Kinds[k].Length
		}
	}
	for i := 1; i < len(t.Sections); i++ {
		t.Joints = append(t.Joints, t.Sections[i].X)
	}
}

// outline is a section's own, counter-clockwise from its front left corner.
func outline(length, width float64, round [2]bool) geom.Contour {
	r := width / 2
	left, right := 0.0, length
	if round[work.Left] {
		left = r
	}
	if round[work.Right] {
		right = length - r
	}
	edges := []geom.Edge{geom.Line(geom.Pt(left, 0), geom.Pt(right, 0))}
	half := func(x float64, from geom.Point, to geom.Point) {
		edges = append(edges, geom.ArcThrough(from, to, geom.Pt(x, r), true))
	}
	if round[work.Right] {
		half(right, geom.Pt(right, 0), geom.Pt(right, width))
	} else {
		edges = append(edges, geom.Line(geom.Pt(right, 0), geom.Pt(right, width)))
	}
	if right > left {
		edges = append(edges, geom.Line(geom.Pt(right, width), geom.Pt(left, width)))
	}
	if round[work.Left] {
		half(left, geom.Pt(left, width), geom.Pt(left, 0))
	} else {
		edges = append(edges, geom.Line(geom.Pt(left, width), geom.Pt(left, 0)))
	}
	if right <= left {
		edges = edges[1:]
	}
	return geom.Chain(true, edges...)
}

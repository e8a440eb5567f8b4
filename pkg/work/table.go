package work

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A Table is a top that comes apart: sections side by side along x, that meet at joints
// parallel to y. Its coordinates have their origin at the front left corner of the top with
// all leaves in. Lengths are mm.
type Table struct {
	Width     float64 // across, along every joint
	Thickness float64
	Grain     float64 // radians from +x
	Stable    bool    // veneer on a sheet that doesn't move
	Sections  []Section
	Stations  []geom.Point // where the motif's origin lies; none: on every joint, Across from the front
	Across    float64      // where on the joints, from the front
	Groove    JointGroove  // how sections lie while they are grooved
	Gap       float64      // between them then, for GrooveGap
	Saw       float64      // for GrooveClosed: lost where an inlay across a joint is sawn through

	ByStation      bool // inlaid station by station, and not all grooves first
	TurnLeaves     bool // leaves may be put in end for end
	JointCrossings bool // crossings may lie on joints

	Play    float64 // of what aligns the sections with one another
	Dowels  []Dowel
	Tongue  *Tongue // nil for none
	HasPlay bool    // it was given, or there is something to align by
}

// A Section is an end or a leaf of a table, of Count alike ones side by side.
type Section struct {
	Name   string
	Length float64 // along x
	Count  int     // at least 1
	Loose  bool    // a leaf that can be left out
	Round  bool    // its free end is a half round of the table's width
	Key    diag.Key
}

// A Dowel is a pin or an aligner that every joint has.
type Dowel struct {
	At       []float64 // from the front edge
	Diameter float64
	Below    float64 // its middle, under the top
	Length   float64
	In       Side // the edges that it stands in; those that they meet have holes
	Key      diag.Key
}

// A Tongue runs along every joint.
type Tongue struct {
	Thickness float64
	Below     float64 // its middle, under the top
	Length    float64 // across the joint: how far both sections take it up together
	Key       diag.Key
}

// A Side is one of a section's two edges that meet others, seen from above.
type Side int

const (
	// Left is the edge at x = 0 of the section.
	Left Side = iota
	// Right is the edge at its other end.
	Right
)

var sideWords = [...]string{Left: "left", Right: "right"}

// String is the side's word in the job file and the manifest.
func (s Side) String() string { return unit.Word(sideWords[:], s, "side") }

// Other is the side that a side meets.
func (s Side) Other() Side { return 1 - s }

// A JointGroove says how the sections at a joint lie while they are grooved.
type JointGroove int

const (
	// GrooveClosed clamps them tight together.
	GrooveClosed JointGroove = iota
	// GrooveApart grooves each by itself, against scrap.
	GrooveApart
	// GrooveGap leaves a gap between them.
	GrooveGap
)

var jointGrooveWords = [...]string{GrooveClosed: "closed", GrooveApart: "apart", GrooveGap: "gap"}

// String is the word in the job file.
func (g JointGroove) String() string { return unit.Word(jointGrooveWords[:], g, "groove") }

// Length is how long the top is with all leaves in.
func (t Table) Length() (x float64) {
	for _, s := range t.Sections {
		x += s.Length * float64(s.Count)
	}
	return x
}

// Board is the work at the first station, in the motif's coordinates: at joints the two
// sections that meet there, else the whole top.
func (t Table) Board() Board {
	b := Board{Size: geom.Pt(t.Length(), t.Width), Thickness: t.Thickness, Grain: t.Grain}
	switch {
	case len(t.Stations) > 0:
		b.Origin = t.Stations[0]
	case len(t.Sections) == 0:
	default:
		lengths := []float64{}
		for _, s := range t.Sections {
			for range min(s.Count, 2) {
				lengths = append(lengths, s.Length)
			}
		}
		if len(lengths) > 1 {
			b.Size.X = lengths[0] + lengths[1]
		}
		b.Origin = geom.Pt(lengths[0], t.Across)
	}
	return b
}

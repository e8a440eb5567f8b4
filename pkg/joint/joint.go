// Package joint works out what it costs that a table comes apart: by how much strands are out
// at a joint where wood or a gap is lost between its sections, how they move apart where a
// leaf is stored in other air than the table, and what pins and tongues in the joint's edges
// leave of the wood under a groove.
//
// Sections meet at joints that run along y, from the front edge at y = 0 to the back; x runs
// along the table, from one section to the next. Lengths are mm, angles radians.
package joint

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/season"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A Passing is where a strand passes an edge, followed toward +x whichever way it is drawn.
type Passing struct {
	Edge      string  // which of a kind of sections has, as in "leaf.left"
	Strand    string  // its name
	Y         float64 // from the front edge
	Angle     float64 // from the edge's normal within the section, positive where y grows with x
	Curvature float64 // there, 1/mm, positive where it bends toward +y; 0 of a straight strand
}

// An Edge is one that meets others, of a kind of sections.
type Edge struct {
	Name     string         // "leaf.left"
	Side     work.Side      // of its section
	Length   float64        // of its section, along x
	Passings []Passing      // from the front
	Strands  []geom.Contour // the middles of the section's grooves, x from its left edge
	Names    []string       // of these
}

// Params are what the joints depend on.
type Params struct {
	Table  work.Table
	Width  float64        // of the groove
	Depth  float64        // of it
	Change *season.Change // of the wood; nil where nothing is known of it
	Edges  []Edge         // of all kinds of sections
	Drawn  bool           // every section is grooved from its own edge, by a program: a gap between sections loses nothing
}

// Joints are what is known of a table's joints.
type Joints struct {
	Loss  Loss
	Moves Moves
}

// New works out what the joints cost, and reports it.
func New(p Params) (Joints, diag.Findings) {
	var found diag.Findings
	j := Joints{Loss: newLoss(p), Moves: newMoves(p)}
	j.Loss.report(p, &found)
	j.Moves.report(p, &found)
	p.checkDowels(&found)
	p.checkTongue(&found)
	return j, found
}

// setAt gives a finding its place, where the motif's origin lies on the joints.
func (p Params) setAt(f *diag.Finding, y float64) *diag.Finding {
	if len(p.Table.Stations) > 0 {
		return f
	}
	return f.SetAt(0, y-p.Table.Across)
}

// fromFront says where along a joint something is.
func fromFront(y float64) unit.Text { return unit.Say("%s from the front", unit.Len(y).Rough()) }

// toward is the way along a joint in which something is off: positive toward the back.
func toward(off float64) string {
	if off < 0 {
		return "toward the front"
	}
	return "toward the back"
}

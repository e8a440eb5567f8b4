// Package template turns cuts into template panels: the openings that a rider
// runs in, the slots of the floor under them, which openings share a panel,
// and the sheets to cut. It also proves panels that were read back from a file
// against the ideal groove.
//
// Lengths are mm, angles radians unless a name says degrees; coordinates are
// the motif's, whose origin is the point that panels turn about.
package template

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
)

// A Position is one way of laying a panel.
type Position = plan.Position

// An Opening is what one cut needs of a panel.
type Opening struct {
	Cut  groove.Cut
	Area region.Region // where the rider's edge may be: C grown by the rider's radius
	Slot region.Region // the floor's slot for the bit; empty without a floor
}

// A Panel is one template, used in one or more positions.
type Panel struct {
	ID        string // "A", "B", ...
	Openings  []Opening
	Positions []Position
	Outline   geom.Contour // counter-clockwise
}

// A Set is all panels that a motif is cut with, and the plan behind them.
type Set struct {
	Panels []Panel
	Plan   plan.Plan
}

// Cuts returns the cuts of all set-ups.
func (s Set) Cuts() []groove.Cut { return s.Plan.Cuts() }

// SetUps is the number of times that a panel is laid.
func (s Set) SetUps() int { return len(s.Plan.SetUps) }

// chipRoom is the clearance in mm at either side of the bit in a floor's slot,
// for chips to leave by (common practice).
const chipRoom = 1.0

// SlotWidth is the width in mm of the floor's slots along a cut.
func SlotWidth(s groove.Size) float64 { return s.Width + 2*chipRoom }

// Draw draws the openings of a plan's panels.
func Draw(j *job.Job, g groove.Groove, p plan.Plan) Set {
	set := Set{Plan: p}
	box := geom.EmptyBox()
	for i, q := range p.Panels {
		panel := Panel{ID: letter(i), Positions: q.Positions}
		for _, c := range q.Cuts {
			o := Opening{Cut: c, Area: g.Opening(c)}
			if j.Router.Guide == job.GuideBase && j.Template.Floor > 0 {
				o.Slot = slot(g.Size, c)
			}
			box = box.Join(o.Area.Bounds())
			panel.Openings = append(panel.Openings, o)
		}
		set.Panels = append(set.Panels, panel)
	}
	outline := geom.Rect(box.Expand(j.Template.Margin))
	for i := range set.Panels {
		set.Panels[i].Outline = outline
	}
	return set
}

func slot(s groove.Size, c groove.Cut) region.Region {
	if s.Thin() {
		return region.Stroke(c.Line, SlotWidth(s)/2)
	}
	return c.Centre.Grow(s.Bit/2 + chipRoom)
}

// letter names the i-th panel: A to Z, then AA, AB and so on.
func letter(i int) string {
	name := ""
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}

// Covers tells which element a place of a cut belongs to, for reports.
func Covers(m motif.Motif, c groove.Cut) string {
	s := m.Strands[c.Strand]
	mid := math.Mod((c.From.S+c.To.S)/2, s.Length())
	return m.NameAt(c.Strand, mid)
}

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

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
)

// A Position is one way of laying a panel: turned over in the y axis (x to -x)
// or not, then turned counter-clockwise about the origin.
type Position struct {
	TurnDeg float64
	Flip    bool
}

// Similarity takes the panel as drawn to the panel as laid.
func (p Position) Similarity() geom.Similarity {
	t := geom.Turning(p.TurnDeg * math.Pi / 180)
	if q := p.TurnDeg / 90; q == math.Round(q) {
		t = geom.TurningFraction(int(q), 4) // exact
	}
	if p.Flip {
		t = geom.MirrorY().Then(t)
	}
	return t
}

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

// A Set is all panels that a motif is cut with.
type Set struct {
	Panels []Panel
	// Fewest reports whether no plan without turning has fewer panels for
	// these cuts; else the search was cut short at AtLeast.
	Fewest  bool
	AtLeast int
}

// Cuts returns the cuts of all panels, panel by panel.
func (s Set) Cuts() []groove.Cut {
	var cuts []groove.Cut
	for _, p := range s.Panels {
		for _, o := range p.Openings {
			cuts = append(cuts, o.Cut)
		}
	}
	return cuts
}

// SetUps is the number of times that a panel is laid.
func (s Set) SetUps() int {
	n := 0
	for _, p := range s.Panels {
		n += len(p.Positions)
	}
	return n
}

// chipRoom is the clearance in mm at either side of the bit in a floor's slot,
// for chips to leave by (common practice).
const chipRoom = 1.0

// SlotWidth is the width in mm of the floor's slots along a cut.
func SlotWidth(s groove.Size) float64 { return s.Width + 2*chipRoom }

// Plan shares the cuts out over as few panels as it can find without turning
// any, and draws the openings.
func Plan(j *job.Job, g groove.Groove, cuts []groove.Cut) (Set, diag.Findings) {
	var found diag.Findings
	colours := colour(conflicts(g.Size, cuts))
	if !colours.proved {
		found.Notef(j.Pos("template"), "panels-bound", "%d panels are the fewest found; at least %d are needed", colours.count, colours.atLeast).
			Hintf("the search for fewer was stopped after %d steps", searchSteps)
	}
	set := Set{Panels: make([]Panel, colours.count), Fewest: colours.proved, AtLeast: colours.atLeast}
	for i := range set.Panels {
		set.Panels[i] = Panel{ID: letter(i), Positions: []Position{{}}}
	}
	box := geom.EmptyBox()
	for i, c := range cuts {
		o := Opening{Cut: c, Area: g.Opening(c)}
		if j.Router.Guide == job.GuideBase && j.Template.Floor > 0 {
			o.Slot = slot(g.Size, c)
		}
		box = box.Join(o.Area.Bounds())
		p := &set.Panels[colours.of[i]]
		p.Openings = append(p.Openings, o)
	}
	outline := geom.Rect(box.Expand(j.Template.Margin))
	for i := range set.Panels {
		set.Panels[i].Outline = outline
	}
	return set, found
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

// conflicts returns, for each cut, the cuts that can't share a panel with it:
// those whose openings would come nearer to its own than the web.
func conflicts(s groove.Size, cuts []groove.Cut) [][]int {
	reach := 2*s.Rider + s.Web // between the areas of the bit's centres
	shape := func(c groove.Cut) []geom.Edge { return c.Line.Edges() }
	if s.Thin() {
		reach = 2*s.Reach() + s.Web
	} else {
		shape = func(c groove.Cut) []geom.Edge {
			var edges []geom.Edge
			for _, l := range c.Centre.Loops() {
				edges = append(edges, l.Edges()...)
			}
			return edges
		}
	}
	shapes := make([][]geom.Edge, len(cuts))
	boxes := make([]geom.Box, len(cuts))
	for i, c := range cuts {
		shapes[i] = shape(c)
		boxes[i] = geom.EmptyBox()
		for _, e := range shapes[i] {
			boxes[i] = boxes[i].Join(e.Bounds())
		}
	}
	near := make([][]int, len(cuts))
	geom.NewIndex(boxes).Pairs(reach, func(i, j int) bool {
		if nearer(shapes[i], shapes[j], reach) {
			near[i] = append(near[i], j)
			near[j] = append(near[j], i)
		}
		return true
	})
	return near
}

// nearer reports whether some edge of a is nearer than d to some edge of b.
// The areas of two cuts never hold one another, so their boundaries tell.
func nearer(a, b []geom.Edge, d float64) bool {
	for _, e := range a {
		for _, f := range b {
			if geom.Gap(e, f) < d-geom.Coincident {
				return true
			}
		}
	}
	return false
}

// Covers tells which element a place of a cut belongs to, for reports.
func Covers(m motif.Motif, c groove.Cut) string {
	s := m.Strands[c.Strand]
	mid := math.Mod((c.From.S+c.To.S)/2, s.Length())
	return m.NameAt(c.Strand, mid)
}

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
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// An Opening is what one cut needs of a panel.
type Opening struct {
	ID   string // the panel's letter and a number from 1: "A1"
	Cut  groove.Cut
	Area region.Region // where the rider's edge may be: C grown by the rider's radius
	Slot region.Region // the floor's slot for the bit; empty without a floor
}

// A Panel is one template, used in one or more positions.
type Panel struct {
	ID        string // "A", "B", ...
	Openings  []Opening
	Positions []plan.Orientation
	Outline   geom.Contour    // counter-clockwise, with the notches for the frame's key
	Dowels    []geom.Point    // holes of dowels through wall and floor; none without a floor
	Shape     fixture.Shape   // the outline without notches
	Plates    []fixture.Plate // by which it is pinned to a rail; none where it isn't stepped
	Division  *Division       // the parts that it is made in; nil when the bed takes it whole

	Marks      []geom.Contour // what is engraved on the wall, open; see Set.Marked
	FloorMarks []geom.Contour // and on the floor
}

// A Set is all panels that a motif is cut with, and the plan behind them.
type Set struct {
	Panels []Panel
	Plan   plan.Plan
	Shape  fixture.Shape  // the outline that all panels share, without notches; that of the first where they are stepped
	Frame  *fixture.Frame // nil when the job wants none, and where panels are stepped
	Rail   *fixture.Rail  // that stepped panels slide along; nil when the job wants none
	Found  diag.Findings  // about outlines, frame and keys
}

// Cuts returns the cuts of all set-ups.
func (s Set) Cuts() []groove.Cut { return s.Plan.Cuts() }

// SetUps is the number of times that a panel is laid.
func (s Set) SetUps() int { return len(s.Plan.SetUps) }

// ChipRoom is the clearance in mm at either side of the bit in a floor's slot,
// for chips to leave by (common practice).
const ChipRoom = 1.0

// SlotWidth is the width in mm of the floor's slots along a cut.
func SlotWidth(s groove.Size) float64 { return s.Width + 2*ChipRoom }

// Draw draws the panels of a plan, and their frame, for no particular shop: of
// any size, and with reliefs that suit every cutter.
func Draw(want fixture.Params, g groove.Groove, p plan.Plan) Set {
	return NewSet(want, g, p, profile.Plain())
}

// NewSet draws the panels of a plan and their frame as a shop can cut them:
// what is larger than its bed in parts that key together. What doesn't fit even
// so, and what panels and frame lack, is in Found.
func NewSet(want fixture.Params, g groove.Groove, p plan.Plan, shop profile.Shop) Set {
	set := Set{Plan: p}
	var areas []region.Region
	var positions []plan.Orientation
	for _, q := range p.Panels {
		panel := Panel{ID: q.ID, Positions: q.Positions}
		positions = append(positions, q.Positions...)
		for k, c := range q.Cuts {
			o := Opening{ID: q.TrackID(k), Cut: c, Area: g.Opening(c)}
			if want.Router.Guide.Stands(want.Template.Floor) == work.OnFloor {
				o.Slot = slot(g.Size, c)
			}
			areas = append(areas, o.Area)
			panel.Openings = append(panel.Openings, o)
		}
		set.Panels = append(set.Panels, panel)
	}
	if len(areas) == 0 {
		return set
	}
	set.reportAgain()
	if p.Step.Repeats > 0 {
		set.alongRail(want, g.Size.Offset(), shop)
		return set
	}
	at := func(margin float64) fixture.Shape { return fixture.NewShape(positions, areas, margin) }
	set.Shape = at(set.margin(want.Template))
	panels := fixture.Panels{Outline: set.Shape, At: at, Offset: g.Size.Offset()}
	for _, c := range p.Cuts() {
		panels.Lines = append(panels.Lines, c.Line)
	}
	frame, found := fixture.New(want, panels, shop)
	set.Found.Add(found...)
	key := fixture.Key{}
	if set.Frame = frame; frame != nil {
		key = frame.Key
	}
	for i := range set.Panels {
		set.Panels[i].Shape = set.Shape
		set.finish(want.Template, &set.Panels[i], key, shop)
	}
	return set
}

// margin is the drawn one; where that is not the one asked for it is noted.
func (s *Set) margin(t work.Template) float64 {
	drawn := fixture.Margin(t)
	if drawn > t.Margin+geom.Coincident {
		wide, asked := unit.Apart(drawn, t.Margin)
		s.Found.Notef("template.margin", "margin-keys", "the margin is drawn %s wide and not %s, so that the key's notches keep a web from the openings", wide, asked)
	}
	return drawn
}

// finish gives a panel its outline, its joints and its dowels.
func (s *Set) finish(t work.Template, p *Panel, key fixture.Key, shop profile.Shop) {
	p.Outline = key.Notched(p.Shape, p.Positions)
	if !fixture.FitsBed(p.Outline, shop.Bed) {
		p.Division = p.divide(p.Shape, shop.Bed, t.Web, panelKey(shop))
		if d := p.Division; d != nil {
			s.Found.Notef("cutting.profile", "panel-split", "panel %s is larger than the bed of %s x %s and is drawn in %d parts with %d keys to join them", p.ID, unit.Len(shop.Bed[0]), unit.Len(shop.Bed[1]), len(d.Parts), d.Keys())
		}
	}
	if !p.HasFloor() {
		return
	}
	if p.Dowels = p.placeDowels(p.Shape, t.Web); p.Dowels == nil {
		s.Found.Warnf("template.margin", "dowel-none", "panel %s has no room for three dowels that hold its floor the right way round", p.ID).
			Hintf("make margin a little larger; or mark both layers before they are glued")
	}
}

func slot(s groove.Size, c groove.Cut) region.Region {
	if s.Thin() {
		return region.Stroke(c.Line, SlotWidth(s)/2)
	}
	return c.Centre.Grow(s.Bit/2 + ChipRoom)
}

// reportAgain warns, once, of stretches that two set-ups cut.
func (s *Set) reportAgain() {
	n, first := 0, unit.Text{}
	for _, u := range s.Plan.SetUps {
		for _, t := range u.Made() {
			if len(t.Elsewhere) == 0 {
				continue
			}
			n++
			if o := t.Elsewhere[0]; n == 1 {
				first = unit.Say("%s in set-up %d runs along %s of %s of set-up %d", t.Cut.Name, u.Number, unit.Len(o.Length), o.Cut, o.SetUp)
			}
		}
	}
	if n > 0 {
		s.Found.Warnf("template", "cut-again", "%s over groove that an earlier set-up has made, and may widen it by as much as the panel is off the first one's place: %s", unit.Count(n, "cut goes", "cuts go"), first).
			Hintf("lay the panels with care there; or set template.turn = false, for panels of their own")
	}
}

// Covers says which element a place of a cut belongs to, for reports.
func Covers(m motif.Motif, c groove.Cut) string {
	s := m.Strands[c.Strand]
	mid := math.Mod((c.From.S+c.To.S)/2, s.Length())
	return m.NameAt(c.Strand, mid)
}

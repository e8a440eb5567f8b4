package budget

// What each term is taken to be. The figures are common practice unless their
// comment names a source; a maker who has measured better ones works better.

import (
	"math"

	"strapwork/pkg/groove"
	"strapwork/pkg/profile"
	"strapwork/pkg/season"
	"strapwork/pkg/template"
	"strapwork/pkg/work"
)

const (
	// SeatRepeat is by how much in mm a panel that is wedged into the same
	// corner comes to lie elsewhere the next time: dust, and edges that give.
	SeatRepeat = 0.05
	// KerfSlack is by how much in mm a measured kerf varies over a sheet and from
	// one to the next: focus, flatness, wear.
	KerfSlack = 0.05
	// UsualOffCenter is how far in mm a base is off its spindle where nobody has
	// measured it: the middle of the usual 0.1 to 0.5.
	UsualOffCenter = 0.3
	// FacingHeld is the angle in radians within which a hand keeps a mark facing
	// the same way: 10 degrees.
	FacingHeld = 10 * math.Pi / 180
	// MoistureChange is the change in per cent of moisture between the shop and
	// the bench.
	MoistureChange = 2
	// Measured is by how much in mm a diameter is out that is measured with good
	// calipers: what makers work to.
	Measured = 0.02
	// SheetSlack is by how much in mm sheet is thicker or thinner than its name:
	// EN 622-1 (from memory) allows MDF of up to 19 mm 0.2 mm.
	SheetSlack = 0.2
	// PinSlack is the play in mm of a pin in its hole.
	PinSlack = 0.05
)

// Params are what of a job its budget depends on.
type Params struct {
	Router   work.Router
	Floor    float64        // thickness of the floors that the base rides on, mm; 0: none
	KerfBy   work.KerfBy    // unknown where nothing is said of the shop
	Elements []work.Element // of the motif
}

// Of returns the budget of a job's grooves. A shop that says no tolerance, or
// none at all, is taken for the plain one. For a pivot only the terms of its
// bar apply.
func Of(p Params, size groove.Size, set template.Set, shop profile.Shop) Budget {
	m := maker{Params: p, size: size, set: set, holds: shop.Tolerance, plain: shop.Name == ""}
	if m.holds <= 0 {
		m.holds, m.plain = profile.Plain().Tolerance, true
	}
	switch g := p.Router.Guide; {
	case g == work.GuidePivot:
		m.pivot()
	case g.HasPanels(): // else a machine's own errors are its maker's to state
		m.panels()
		m.rider()
	}
	return Budget{Terms: m.terms}
}

type maker struct {
	Params
	size  groove.Size
	set   template.Set
	holds float64 // what the shop holds
	plain bool    // which was not given
	terms []Term
}

func (m *maker) add(t Term) {
	t.Times = max(1, t.Times)
	m.terms = append(m.terms, t)
}

// panels adds what comes of the panels and their places.
func (m *maker) panels() {
	switch {
	case m.set.Rail != nil:
		m.alongRail()
	case m.set.SetUps() > 1:
		// The play of the frame is at the sides where the wedges go, and moves
		// nothing; what counts is how well the panel finds its corner again.
		m.add(Term{Source: Seat, From: SeatRepeat, Assumed: true, Wander: SeatRepeat})
		// Two edges, at right angles, each out by what the shop holds. A groove at
		// 45 degrees to both has the worst of it: each moves it by 1/sqrt(2) of that.
		// The squares add up alike for every direction.
		m.add(Term{Source: Outline, From: m.holds, Assumed: m.plain, Times: 2, Wander: m.holds / math.Sqrt2})
	}
	// One wall that is out by t moves that side of the groove: the middle by t/2,
	// the width by t.
	m.add(Term{Source: Walls, From: m.holds, Assumed: m.plain, Times: 2, Wander: m.holds / 2, Widen: m.holds})
	if m.KerfBy != work.KerfByShop {
		// Half of it at either wall, both outwards or both inwards.
		m.add(Term{Source: Kerf, From: KerfSlack, Assumed: true, Widen: KerfSlack})
	}
}

// rider adds what comes of the router and of the sheet under it.
func (m *maker) rider() {
	if !m.Router.Guide.RunsTrue() {
		m.offCenter()
	}
	m.add(Term{Source: Moisture, From: MoistureChange, Assumed: true, Wander: swell(m.halfSize()), Widen: swell(2 * m.size.Reach())})
	m.add(Term{Source: Rider, From: Measured, Assumed: true, Widen: Measured})
	m.add(Term{Source: Bit, From: Measured, Assumed: true, Widen: Measured})
	if m.Router.Guide.Stands(m.Floor) != work.OnWork {
		m.add(Term{Source: Sheet, From: SheetSlack, Assumed: true, Deepen: SheetSlack})
	}
}

// offCenter adds one way along either wall, each with the mark a little off. A
// job that says that the base runs true is believed.
func (m *maker) offCenter() {
	e, reported := m.Router.OffCenter, m.Router.OffCenterGiven
	if !reported {
		e = UsualOffCenter
	}
	if x := Turned(e, FacingHeld); x > 0 {
		m.add(Term{Source: OffCenter, From: e, Assumed: !reported, Times: 2, Wander: x / 2, Widen: x})
	}
}

// swell is how much a length of sheet moves between the shop and the bench.
func swell(mm float64) float64 { return season.Movement(mm, season.MDF, MoistureChange) }

// halfSize is half of the longest side of the panels.
func (m *maker) halfSize() float64 {
	half := 0.0
	for _, p := range m.set.Panels {
		s := p.Outline.Bounds().Size()
		half = math.Max(half, math.Max(s.X, s.Y)/2)
	}
	return half
}

// pivot adds what comes of a bar on a pin: each side of a ring is cut from a
// hole of its own.
func (m *maker) pivot() {
	m.add(Term{Source: Moisture, From: MoistureChange, Assumed: true, Wander: swell(m.longest())})
	m.add(Term{Source: Bit, From: Measured, Assumed: true, Widen: Measured})
	m.add(Term{Source: Holes, From: m.holds, Assumed: m.plain, Times: 2, Wander: m.holds / 2, Widen: m.holds})
	m.add(Term{Source: Pin, From: PinSlack, Assumed: true, Times: 2, Wander: PinSlack / 2, Widen: PinSlack})
}

// longest is the radius of the largest ring.
func (m *maker) longest() float64 {
	radius := 0.0
	for _, e := range m.Elements {
		for i := range e.Contour.Len() {
			if edge := e.Contour.Edge(i); edge.Bulge != 0 {
				radius = math.Max(radius, edge.Radius())
			}
		}
	}
	return radius
}

// Package plan decides where the strands are split into cuts, which cuts share
// a panel, and in which positions each panel is laid, so that the motif is cut
// with the fewest visible splits, set-ups, panels and openings.
//
// A set-up is one panel in one position. Panels turn about the motif's origin,
// and are turned over in the y axis where that is allowed. Lengths are mm.
package plan

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
)

// A Position is one way of laying a panel: turned over in the y axis (x to -x)
// or not, then turned counter-clockwise about the origin.
type Position struct {
	TurnDeg float64
	Flip    bool
}

// Similarity takes the panel as drawn to the panel as laid. Quarter turns are
// exact.
func (p Position) Similarity() geom.Similarity {
	t := geom.Turning(p.TurnDeg * math.Pi / 180)
	if q := p.TurnDeg / 90; q == math.Round(q) {
		t = geom.TurningFraction(int(q), 4)
	}
	if p.Flip {
		t = geom.MirrorY().Then(t)
	}
	return t
}

// A Panel holds cuts, as they lie when it is not turned, and the positions in
// which it is laid. The first position is always the unturned one.
type Panel struct {
	Cuts      []groove.Cut
	Positions []Position
}

// A SetUp is a panel laid in a position, and the cuts that it makes there: the
// panel's own, turned, in the same order.
type SetUp struct {
	Panel    int
	Position Position
	Cuts     []groove.Cut
}

// A Plan is all panels, and what is known of there being no better plan.
type Plan struct {
	Panels  []Panel
	SetUps  []SetUp // by panel, then in the order of its positions
	Visible int     // splits that will show, in the finished work
	Hidden  int     // splits under another strand

	// Bounds: no plan has fewer, given what is preferred before each.
	LeastVisible int
	LeastSetUps  int
	LeastPanels  int
}

// Proved reports whether no plan has fewer visible splits, set-ups or panels,
// in the order of preference.
func (p Plan) Proved() bool {
	return p.Visible == p.LeastVisible && len(p.SetUps) == p.LeastSetUps && len(p.Panels) == p.LeastPanels
}

// Openings is the number of openings on all panels.
func (p Plan) Openings() int {
	n := 0
	for _, q := range p.Panels {
		n += len(q.Cuts)
	}
	return n
}

// Cuts returns the cuts of all set-ups.
func (p Plan) Cuts() []groove.Cut {
	var cuts []groove.Cut
	for _, s := range p.SetUps {
		cuts = append(cuts, s.Cuts...)
	}
	return cuts
}

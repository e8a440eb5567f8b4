// Package plan decides where the strands are split into cuts, which cuts share
// a panel, and in which positions each panel is laid, so that the motif is cut
// with the fewest visible splits, set-ups, panels and openings.
//
// A set-up is one panel in one position. Panels turn about the motif's origin,
// and are turned over in the y axis where that is allowed. Lengths are mm.
package plan

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/groove"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A Panel holds cuts, as they lie when it is not turned, and the positions in
// which it is laid. The first position is always the unturned one.
type Panel struct {
	ID        string // "A", "B", ...
	Cuts      []groove.Cut
	Positions []Orientation
}

// A Plan is all panels, and what is known of there being no better plan.
type Plan struct {
	Panels  []Panel
	SetUps  []SetUp // in the order of work: by panel, then in the order of its positions
	Visible int     // splits that will show, in the finished work
	Hidden  int     // splits under another strand

	// Bounds: no plan has fewer, given what is preferred before each. Where
	// chains have to be split in sight, or the preference is not for clean
	// work, that is so for splits at crossings, joints, half-way between, and
	// places some 10 mm apart (more in large motifs); finer than that nobody
	// looked, except for the weaker bounds given for motifs too large to search.
	LeastVisible int
	LeastSetUps  int
	LeastPanels  int

	// Price is what was found for other preferences.
	Price []Price

	// Step is how panels are stepped along the motif; of no repeats where they aren't. The
	// bounds are then for plans with steps of so many repeats.
	Step Step

	// InParts: the cuts leave room for joints of panels (Params.Clear). The bounds
	// are for such plans.
	InParts bool

	// Crowded: so many cuts are near so many others that no plan was made.
	Crowded bool
}

// A Price is what a plan would take with another preference, one that gets less
// at its own aim than the plan that was asked for.
type Price struct {
	Prefer                  work.Prefer
	Visible, SetUps, Panels int
}

// same reports whether another preference would take as much.
func (o Price) same(q Price) bool {
	return q.Visible == o.Visible && q.SetUps == o.SetUps && q.Panels == o.Panels
}

// Prices says what the plan would take with other preferences, a line each: "with
// prefer = setups: 3 set-ups, 4 visible splits". Preferences that get the same share one.
func (p Plan) Prices() []string {
	var lines []string
	for i, o := range p.Price {
		if slices.ContainsFunc(p.Price[:i], o.same) {
			continue
		}
		prefer := strconv.Quote(o.Prefer.String())
		for _, q := range p.Price[i+1:] {
			if o.same(q) {
				prefer += " or " + strconv.Quote(q.Prefer.String())
			}
		}
		visible, setUps, panels := unit.Count(o.Visible, "visible split"), unit.Count(o.SetUps, "set-up"), unit.Count(o.Panels, "panel")
		if o.Visible == 0 {
			visible = "no visible splits"
		}
		all := []string{visible, setUps, panels}
		differs := [3]bool{o.Visible != p.Visible, o.SetUps != len(p.SetUps), o.Panels != len(p.Panels)}
		switch first := all[0]; o.Prefer {
		case work.PreferSetups:
			all[0], all[1], differs[0], differs[1] = all[1], first, differs[1], differs[0]
		case work.PreferPanels:
			all[0], all[1], all[2] = all[2], first, all[1]
			differs[0], differs[1], differs[2] = differs[2], differs[0], differs[1]
		case work.PreferClean:
		}
		var said []string
		for i, text := range all {
			if differs[i] {
				said = append(said, text)
			}
		}
		lines = append(lines, fmt.Sprintf("with prefer = %s: %s", prefer, strings.Join(said, ", ")))
	}
	return lines
}

// Proved reports whether no plan has fewer visible splits, set-ups or panels,
// in the order of preference.
func (p Plan) Proved() bool {
	return p.Visible == p.LeastVisible && len(p.SetUps) == p.LeastSetUps && len(p.Panels) == p.LeastPanels
}

// String says what a plan takes and whether there could be a better one: "2
// panels, 5 set-ups; no fewer set-ups possible".
func (p Plan) String() string {
	s := unit.Count(len(p.Panels), "panel") + ", " + unit.Count(len(p.SetUps), "set-up")
	if p.Visible > 0 {
		s += ", " + unit.Count(p.Visible, "visible split")
	}
	return s + p.known()
}

// known says whether there could be a better plan.
func (p Plan) known() string {
	var s, among string
	if p.InParts {
		among = " with the joints that were tried"
	}
	switch {
	case p.Visible > p.LeastVisible:
		s = unit.Count(p.LeastVisible, "visible split")
	case len(p.SetUps) > p.LeastSetUps:
		s = unit.Count(p.LeastSetUps, "set-up")
	case len(p.Panels) > p.LeastPanels:
		return "; no fewer set-ups possible" + among
	default:
		return "; nothing fewer possible" + among
	}
	return "; at least " + s + " needed" + among
}

// Openings is the number of openings on all panels.
func (p Plan) Openings() int {
	n := 0
	for _, q := range p.Panels {
		n += len(q.Cuts)
	}
	return n
}

// Cuts returns the cuts that are made, by set-up. Spare ones are not.
func (p Plan) Cuts() []groove.Cut {
	var cuts []groove.Cut
	for _, s := range p.SetUps {
		for _, t := range s.Made() {
			cuts = append(cuts, t.Cut)
		}
	}
	return cuts
}

// count is what a plan is compared by.
func (p Plan) count() count {
	return count{p.Visible, len(p.SetUps), len(p.Panels), p.Openings()}
}

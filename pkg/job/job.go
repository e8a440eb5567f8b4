// Package job reads a job file and checks it: every length in millimetres,
// every angle in radians, every mistake found in one go and told at its line.
package job

import (
	"fmt"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A Job is a job file as read: lengths in mm, angles in radians, defaults
// filled in. It is not changed after Read.
type Job struct {
	File     string // as given to Read
	Title    string
	Units    unit.System // what a bare number means in the file
	Motif    Motif
	Weave    Weave
	Inlay    Inlay
	Router   Router
	Template Template
	Board    *Board        // nil when the file says nothing of the board
	Cutting  *Cutting      // nil when the file says nothing of the shop
	Paper    *Paper        // nil when the file says nothing of paper
	Program  *Program      // nil when the file says nothing of a program
	Stock    *Stock        // nil when the file says nothing of clamps
	Notes    diag.Findings // what was assumed, and what has no effect

	source *source
}

// Motif is the drawing that the grooves follow.
type Motif struct {
	Copies   int  // each element is repeated by turns of 360/Copies degrees about the origin; at least 1
	Mirror   bool // and first reflected in the x axis (y to -y)
	Elements []Element
}

// ElementKind says how an element was drawn.
type ElementKind int

// The four kinds of element.
const (
	KindLine ElementKind = iota
	KindArc
	KindCircle
	KindPath
)

// String is the kind's word in the job file.
func (k ElementKind) String() string {
	switch k {
	case KindLine:
		return "line"
	case KindArc:
		return "arc"
	case KindCircle:
		return "circle"
	case KindPath:
		return "path"
	}
	return fmt.Sprintf("kind(%d)", int(k))
}

// An Element is one centre line as drawn. A path with several subpaths gives
// several elements.
type Element struct {
	Name    string // unique in the job; made from the kind where none is given
	Kind    ElementKind
	Contour geom.Contour // mm, |bulge| <= 1; closed for circles and full turns
	Pos     diag.Position
	Open    bool   // its ends are meant to lie near others without meeting them
	Smooth  Smooth // where it meets others smoothly although it was drawn a little out
	Fit     bool   // many short lines that stand for an arc become it
}

// Key is the key of the table in which an element is drawn: "motif.circle.2".
func (m Motif) Key(element int) string {
	e, n := m.Elements[element], 1
	var last diag.Position
	for _, o := range m.Elements[:element] {
		if o.Kind == e.Kind && o.Pos != e.Pos && o.Pos != last { // a path's subpaths share a table
			n++
			last = o.Pos
		}
	}
	return fmt.Sprintf("motif.%s.%d", e.Kind, n)
}

// Smooth says at which of its ends an element is to be taken as smooth, though
// it is drawn up to 3 degrees out; with any of them, so are the places where
// the parts of a path meet.
type Smooth int

const (
	// SmoothAsDrawn takes no place as smooth that is not.
	SmoothAsDrawn Smooth = iota
	// SmoothStart is at the element's start.
	SmoothStart
	// SmoothEnd is at its end.
	SmoothEnd
	// SmoothBoth is at both.
	SmoothBoth
)

// String is the word in the job file; for SmoothAsDrawn it has none.
func (s Smooth) String() string {
	switch s {
	case SmoothAsDrawn:
		return ""
	case SmoothStart:
		return "start"
	case SmoothEnd:
		return "end"
	case SmoothBoth:
		return "both"
	}
	return fmt.Sprintf("smooth(%d)", int(s))
}

// Weave says who goes over whom.
type Weave struct {
	FirstOver bool   // at the first crossing of the first strand of each connected piece
	Flips     []Flip // crossings to exchange
}

// A Flip exchanges over and under at the crossing within 1 mm of At.
type Flip struct {
	At  geom.Point
	Pos diag.Position
}

// Inlay is what the groove is filled with.
type Inlay struct {
	Depth     float64 // of the groove
	Proud     float64 // how far the strips stand above the wood until levelled
	Clearance float64 // the groove's width beyond the strips' total
	Width     float64 // of the groove: the strips and the clearance, or as given
	Strips    []Strip // across the groove, left to right along the strand; none when Width was given
}

// A Strip is one layer of the stack that stands in the groove.
type Strip struct {
	Material  string
	Thickness float64
}

// Guide is what steers the router.
type Guide int

const (
	// GuideBase rides the rim of the router's own base along the wall.
	GuideBase Guide = iota
	// GuideBushing rides a collar round the bit.
	GuideBushing
	// GuideBearing rides a ball bearing on the bit.
	GuideBearing
	// GuidePivot swings the router on a bar about a pin; rings only.
	GuidePivot
	// GuideNone is no guide: no templates are made, and the job is for a machine.
	GuideNone
)

// HasTemplates reports whether anything is made that guides a router by hand.
func (g Guide) HasTemplates() bool { return g != GuideNone }

// String is the guide's word in the job file.
func (g Guide) String() string {
	switch g {
	case GuideBase:
		return "base"
	case GuideBushing:
		return "bushing"
	case GuideBearing:
		return "bearing"
	case GuidePivot:
		return "pivot"
	case GuideNone:
		return "none"
	}
	return fmt.Sprintf("guide(%d)", int(g))
}

// Router holds the router's measures: diameters, except for the lengths Flute
// and Collar. Flute, Shank, Base, Collar and what turns above the bit (Stickout to
// Nose) are 0 when they were not given.
type Router struct {
	Guide     Guide
	Rider     float64 // diameter of what touches the template; 0 for a pivot, and where there is none
	Bit       float64 // width of the slot that the bit cuts
	Flute     float64 // cutting length
	Shank     float64 // diameter of the shank above it
	Base      float64 // diameter of the router's base
	Collar    float64 // length of a bushing below the base
	OffCenter float64 // how far the bit is from the base's centre
	Stickout  float64 // from the collet nut's face down to the bit's tip
	Nut       float64 // diameter of the collet nut
	NutLength float64 // how far it reaches up from its face
	Nose      float64 // diameter of the spindle above the nut
	Plunge    bool    // false: a pilot hole is wanted at each start
}

// Prefer says which count a panel plan makes smallest first.
type Prefer int

const (
	// PreferClean puts the fewest visible splits first.
	PreferClean Prefer = iota
	// PreferSetups puts the fewest set-ups first.
	PreferSetups
	// PreferPanels puts the fewest panels first.
	PreferPanels
)

// String is the preference's word in the job file.
func (p Prefer) String() string {
	switch p {
	case PreferClean:
		return "clean"
	case PreferSetups:
		return "setups"
	case PreferPanels:
		return "panels"
	}
	return fmt.Sprintf("prefer(%d)", int(p))
}

// Template says how the panels are made.
type Template struct {
	Web    float64 // least wood between openings
	Margin float64 // from the outermost opening to the edge
	Wall   float64 // sheet thickness of the wall layer
	Floor  float64 // and of the floor layer; 0: none, and always 0 unless the base rides
	Turn   bool    // panels may be turned in the frame
	Flip   bool    // and turned over
	Prefer Prefer
	Frame  float64 // width of the locating frame's sides; 0 for none
	Play   float64 // frame opening larger than the panel, per side
}

// Board is the work.
type Board struct {
	Size      geom.Point // width and height
	Thickness float64
	Grain     float64    // radians from +x
	Origin    geom.Point // where the motif's origin lies, from the board's lower left corner
}

// KerfBy says who allows for the width of the burnt line.
type KerfBy int

const (
	// KerfByUnknown is never the outcome of a job that was read without errors.
	KerfByUnknown KerfBy = iota
	// KerfByMe draws the outlines compensated.
	KerfByMe
	// KerfByShop draws them at true size.
	KerfByShop
)

// String is the word in the job file: me or shop.
func (k KerfBy) String() string {
	switch k {
	case KerfByUnknown:
		return "unknown"
	case KerfByMe:
		return "me"
	case KerfByShop:
		return "shop"
	}
	return fmt.Sprintf("kerfby(%d)", int(k))
}

// Cutting is the shop that cuts the templates.
type Cutting struct {
	Profile   string  // name or path; may be empty
	Kerf      float64 // full width of the cut: of a laser's burnt line, of the slot that a router's cutter makes
	KerfGiven bool
	KerfBy    KerfBy
	Pos       diag.Position // of the table
}

// Package sheet is a neutral drawing: what one part of a template consists of,
// before anyone has said in which file format it is wanted. A Sheet is for a
// machine to cut along; a Picture is for people to look at.
//
// Lengths are millimetres. The plane is right-handed, x to the right and y up,
// and the origin is the motif's origin, the point that panels turn about.
package sheet

import (
	"cmp"
	"slices"

	"strapwork/pkg/geom"
)

// A Role says what a line or hole of a template is for, which decides when it
// is cut and how it is drawn.
type Role int

const (
	// Opening is a closed contour that the rider runs in; cut first.
	Opening Role = iota
	// Pin is a hole for a pin or a screw.
	Pin
	// Edge is the part's closed outline; cut last.
	Edge
	// Mark is a line that is engraved or scored: marks and lettering.
	Mark
	// Note is for the reader of the drawing and not for the machine.
	Note
)

// Roles lists every role in its defined order.
func Roles() []Role { return []Role{Opening, Pin, Edge, Mark, Note} }

// String is the role's word on the template and in drawing files.
func (r Role) String() string {
	switch r {
	case Opening:
		return "OPENING"
	case Pin:
		return "PIN"
	case Edge:
		return "EDGE"
	case Mark:
		return "MARK"
	case Note:
		return "NOTE"
	}
	return "UNKNOWN"
}

// Valid reports whether r is one of the defined roles.
func (r Role) Valid() bool { return r >= Opening && r <= Note }

// CutOrder is the order in which the roles are cut: openings first, while the
// sheet still holds the part in place, then pins and marks, the edge that sets
// the part free last, and notes, which are not cut, after everything.
func CutOrder() []Role { return []Role{Opening, Pin, Mark, Edge, Note} }

// A Line is one contour of a sheet, open or closed, and what it is for.
type Line struct {
	Role    Role
	Contour geom.Contour
}

// A Hole is a round hole of a sheet: its centre and radius.
type Hole struct {
	Role   Role
	Center geom.Point
	Radius float64
}

// Bounds is the smallest box that holds h.
func (h Hole) Bounds() geom.Box {
	return geom.Box{Min: h.Center, Max: h.Center}.Expand(h.Radius)
}

// A Sheet is the drawing of one part. Lettering on it is lines, never text.
type Sheet struct {
	Name  string // short, fit for a file name: "A-wall"
	Title string // for people
	Lines []Line
	Holes []Hole
}

// Bounds is the smallest box that holds every line and hole of s, exact for
// arcs; it is empty when s is.
func (s Sheet) Bounds() geom.Box { return s.BoundsOf(Roles()...) }

// BoundsOf is the smallest box that holds every line and hole of s that has
// one of the given roles; it is empty when there is none.
func (s Sheet) BoundsOf(roles ...Role) geom.Box {
	b := geom.EmptyBox()
	for _, l := range s.Lines {
		if slices.Contains(roles, l.Role) {
			b = b.Join(l.Contour.Bounds())
		}
	}
	for _, h := range s.Holes {
		if slices.Contains(roles, h.Role) {
			b = b.Join(h.Bounds())
		}
	}
	return b
}

// Without returns s less everything that has the given role.
func (s Sheet) Without(r Role) Sheet {
	t := Sheet{Name: s.Name, Title: s.Title}
	for _, l := range s.Lines {
		if l.Role != r {
			t.Lines = append(t.Lines, l)
		}
	}
	for _, h := range s.Holes {
		if h.Role != r {
			t.Holes = append(t.Holes, h)
		}
	}
	return t
}

// InCutOrder returns s with its lines and its holes sorted by CutOrder; those
// of one role keep their order. s itself is left alone.
func (s Sheet) InCutOrder() Sheet {
	order := CutOrder()
	rank := func(r Role) int { return slices.Index(order, r) }
	s.Lines = slices.Clone(s.Lines)
	slices.SortStableFunc(s.Lines, func(a, b Line) int { return cmp.Compare(rank(a.Role), rank(b.Role)) })
	s.Holes = slices.Clone(s.Holes)
	slices.SortStableFunc(s.Holes, func(a, b Hole) int { return cmp.Compare(rank(a.Role), rank(b.Role)) })
	return s
}

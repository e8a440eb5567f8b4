// Package dxf writes one part of a template as a DXF file and reads such
// files back. It writes release 2000 (AC1015), or release 12 (AC1009) for
// older machines, as straight lines and arcs with bulges and as circles;
// never a spline, an ellipse, a block reference or text.
//
// Group codes and variables are those of the DXF Reference (public, by the
// format's owner). A file's numbers have nine decimals, so a coordinate is
// within 5e-10 of a unit of what was asked for.
package dxf

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// A Version is the release of the format.
type Version int

const (
	// R2000 has LWPOLYLINE; $ACADVER is AC1015.
	R2000 Version = iota
	// R12 has POLYLINE with VERTEX; $ACADVER is AC1009.
	R12
)

// String is the value of $ACADVER.
func (v Version) String() string {
	switch v {
	case R2000:
		return "AC1015"
	case R12:
		return "AC1009"
	}
	return "unknown"
}

// Units says what a number in a file means.
type Units int

const (
	// Millimetres: one unit is one millimetre.
	Millimetres Units = iota
	// Inches: one unit is 25.4 mm.
	Inches
)

// String is the unit's symbol.
func (u Units) String() string {
	switch u {
	case Millimetres:
		return "mm"
	case Inches:
		return "in"
	}
	return "unknown"
}

// MM is the length of one unit in millimetres. An inch is 25.4 mm exactly
// (international yard and pound agreement of 1959).
func (u Units) MM() float64 {
	if u == Inches {
		return 25.4
	}
	return 1
}

// insunits and measurement are the values of $INSUNITS (1 inches, 4
// millimetres) and $MEASUREMENT (0 English, 1 metric) in the DXF Reference.
func (u Units) insunits() int {
	if u == Inches {
		return 1
	}
	return 4
}

func (u Units) measurement() int {
	if u == Inches {
		return 0
	}
	return 1
}

// A Layer is a layer's name and its colour number, 1 to 255. In a Drawing
// that was read, a negative colour says that the layer is switched off (DXF
// Reference, LAYER, group 62).
type Layer struct {
	Name  string
	Color int
}

// Options say how a sheet is written. The zero value is R2000 in millimetres
// with the roles' own words as layer names, and with notes.
type Options struct {
	Version Version
	Units   Units
	Layers  map[sheet.Role]Layer // names and colours where the shop wants its own
	Bare    bool                 // leave out what has the role Note
}

// defaultColor distinguishes the roles. Shops that go by colour name their own;
// those that don't often engrave what is blue or green, so nothing that is cut
// is: what is cut inside the part is red (1), its outline magenta (6), and the
// marks, which may be engraved, are green (3).
func defaultColor(r sheet.Role) int {
	switch r {
	case sheet.Opening, sheet.Pin:
		return 1
	case sheet.Edge:
		return 6
	case sheet.Mark:
		return 3
	case sheet.Note:
		return 8
	}
	return 7
}

// maxColor is the last number of the colour table (DXF Reference, group 62;
// 0 and 256 stand for "by block" and "by layer").
const maxColor = 255

// layer is the layer that o puts role r on.
func (o Options) layer(r sheet.Role) Layer {
	l := o.Layers[r]
	if l.Name == "" {
		l.Name = r.String()
	}
	if l.Color == 0 {
		l.Color = defaultColor(r)
	}
	return l
}

// check reports the first option that no file can honour.
func (o Options) check() error {
	if o.Version != R2000 && o.Version != R12 {
		return fmt.Errorf("dxf: version %d is not known, use R2000 or R12", int(o.Version))
	}
	if o.Units != Millimetres && o.Units != Inches {
		return fmt.Errorf("dxf: units %d are not known, use millimetres or inches", int(o.Units))
	}
	for r := range o.Layers {
		if !r.Valid() {
			return fmt.Errorf("dxf: a layer is given for role %d, which does not exist", int(r))
		}
	}
	for i, r := range sheet.Roles() {
		l := o.layer(r)
		if err := l.check(o.Version); err != nil {
			return fmt.Errorf("dxf: layer of %s: %w", r, err)
		}
		for _, q := range sheet.Roles()[:i] {
			if err := shared(r, l, q, o.layer(q)); err != nil {
				return fmt.Errorf("dxf: %w", err)
			}
		}
	}
	return nil
}

// shared reports whether two roles may be put on these layers. A shop may
// want several roles on one layer, but then it is one layer, and notes,
// which are switched off, keep their own.
func shared(r sheet.Role, l Layer, q sheet.Role, m Layer) error {
	switch {
	case !strings.EqualFold(l.Name, m.Name):
		return nil
	case r == sheet.Note || q == sheet.Note:
		return fmt.Errorf("%s and %s are both on layer %q, but notes are not cut: give NOTE a layer of its own", q, r, l.Name)
	case l.Name != m.Name:
		return fmt.Errorf("%s and %s are on layers %q and %q, which differ in case only: spell them alike", q, r, m.Name, l.Name)
	case l.Color != m.Color:
		return fmt.Errorf("%s and %s are both on layer %q but in colours %d and %d: give one colour", q, r, l.Name, m.Color, l.Color)
	}
	return nil
}

// Longest layer names: DXF Reference, symbol table names, before and since
// release 2000.
const (
	maxNameR12   = 31
	maxNameR2000 = 255
)

// check reports whether l can stand in a file of the given version.
func (l Layer) check(v Version) error {
	if l.Color < 1 || l.Color > maxColor {
		return fmt.Errorf("colour %d: use a number from 1 to %d", l.Color, maxColor)
	}
	limit := maxNameR2000
	if v == R12 {
		limit = maxNameR12
	}
	if len(l.Name) > limit {
		return fmt.Errorf("the name %.20q... has %d characters: use at most %d", l.Name, len(l.Name), limit)
	}
	if strings.TrimSpace(l.Name) != l.Name || l.Name == "" {
		return fmt.Errorf("the name %q is empty or has spaces around it", l.Name)
	}
	for _, c := range l.Name {
		if !nameRune(c, v) {
			return fmt.Errorf("the name %q holds %q: use letters, digits, - and _", l.Name, c)
		}
	}
	return nil
}

// nameRune reports whether c may be part of a layer's name. Release 12 knows
// letters, digits, dollar, hyphen and underscore; release 2000 bars some
// punctuation. Names outside ASCII would need an escape that not every reader
// undoes, and so are barred too.
func nameRune(c rune, v Version) bool {
	switch {
	case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '$', c == '-', c == '_':
		return true
	case v == R12:
		return false
	}
	return c >= ' ' && c <= '~' && !strings.ContainsRune("<>/\\\":;?*|,=`", c)
}

// decimals is the number of decimals in a file. An arc's bulge with nine
// decimals puts its middle within 1e-7 mm on a chord of half a metre.
const decimals = 9

// maxCoordinate bounds every coordinate and radius, in units of the file. A
// job is held within 100 m; ten times that still leaves nine decimals inside
// what a float64 holds.
const maxCoordinate = 1e6

// round returns v as it will stand in the file, never minus zero.
func round(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64)
	if err != nil || r == 0 {
		return 0
	}
	return r
}

// within reports whether v is a number that a file may hold.
func within(v float64) bool { return math.Abs(v) <= maxCoordinate }

// checkContour reports why c cannot be written, its lengths being in units of
// the file.
func checkContour(c geom.Contour) error {
	if len(c.Vertices) < 2 {
		return fmt.Errorf("a contour of %d vertices has no edge", len(c.Vertices))
	}
	for _, v := range c.Vertices {
		if !within(v.X) || !within(v.Y) {
			return fmt.Errorf("a vertex at (%g, %g) is not a number within %g", v.X, v.Y, maxCoordinate)
		}
		if !(math.Abs(v.Bulge) <= 1) {
			return fmt.Errorf("the bulge %g at (%g, %g) is not within 1: split the arc", v.Bulge, v.X, v.Y)
		}
	}
	return nil
}

// checkCircle reports why a circle cannot be written.
func checkCircle(center geom.Point, radius float64) error {
	if !within(center.X) || !within(center.Y) {
		return fmt.Errorf("a circle at (%g, %g) is not within %g", center.X, center.Y, maxCoordinate)
	}
	if !(radius > 0) || !within(radius) {
		return fmt.Errorf("the circle at (%g, %g) has the radius %g", center.X, center.Y, radius)
	}
	return nil
}

// Package ngc writes and reads programs in RS-274/NGC, the language of NISTIR
// 6556 (Kramer, Proctor and Messina, "The NIST RS274/NGC Interpreter -
// Version 3", 2000), as far as a router with three axes needs it.
//
// The reader is strict, because what it lets pass is cut: a word that it does
// not know, or that means something else on another machine, is an error with
// its line and column and is never skipped. The writer uses a small part of the
// language, and nothing that the reader refuses.
//
// Lengths are mm, angles radians, feeds mm/min and times seconds, whatever
// the program's own units.
//
// Where the reader goes beyond NISTIR 6556, as most controllers do: a semicolon
// begins a comment that runs to the end of the line; G64 may have P and Q, how far
// the path may be left; G91.1 says what arcs are like anyway; a byte-order mark
// and a program's number (O1000) before the first block are passed over, and line
// numbers may have more than five digits. Where it is stricter: the units must be
// stated before the first length (see Dialect), a feed is forgotten when the units
// or the feed mode change, G53 is taken for a move of Z alone, and G28, G30, G92
// and block delete are refused, since where they lead depends on the machine.
package ngc

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Kind says what a move does.
type Kind uint8

const (
	// Rapid is G0: a straight move at the machine's greatest speed. On many
	// machines its path is not straight.
	Rapid Kind = iota
	// Line is G1: a straight move at the feed.
	Line
	// Arc is G2 or G3: a circular arc in the XY plane, a helix if Z moves.
	Arc
	// Dwell is G4: everything stands still for a time, the spindle apart.
	Dwell
	// Turn is M3, M4, M5 or S: the spindle starts, stops or changes its speed.
	// The move's Spindle and Speed are those after it.
	Turn
	// Stop is M0: the machine waits for its operator.
	Stop
	// OptionalStop is M1: it waits if a switch on the machine says so.
	OptionalStop
	// End is M2 or M30, the last move of a program.
	End
)

var kindWords = [...]string{
	Rapid:        "rapid",
	Line:         "line",
	Arc:          "arc",
	Dwell:        "dwell",
	Turn:         "turn",
	Stop:         "stop",
	OptionalStop: "optional stop",
	End:          "end",
}

// String is the kind in the words of a maker.
func (k Kind) String() string { return unit.Word(kindWords[:], k, "kind") }

// Travels reports whether a move of this kind goes anywhere.
func (k Kind) Travels() bool { return k <= Arc }

// Axes is a set of axes.
type Axes uint8

const (
	// AxisX, AxisY and AxisZ are the three axes of a router.
	AxisX Axes = 1 << iota
	AxisY
	AxisZ

	// AxesXY are the axes of the plane that arcs lie in.
	AxesXY = AxisX | AxisY
	// AxesXYZ are all axes.
	AxesXYZ = AxesXY | AxisZ
)

// String is the letters of the set, such as "XZ"; the empty set is "".
func (a Axes) String() string {
	var b strings.Builder
	for i, letter := range "XYZ" {
		if a&(1<<i) != 0 {
			b.WriteRune(letter)
		}
	}
	return b.String()
}

// A Place is where the bit's tip is, in mm, as far as it is known: a program
// doesn't say where it starts. A coordinate that is not in Known means nothing.
// The zero Place is wholly unknown.
type Place struct {
	X, Y, Z float64
	Known   Axes
}

// XY is a place of which only x and y are given.
func XY(p geom.Point) Place { return Place{X: p.X, Y: p.Y, Known: AxesXY} }

// Z is a place of which only the height is given.
func Z(z float64) Place { return Place{Z: z, Known: AxisZ} }

// XYZ is a place that is known altogether.
func XYZ(p geom.Point, z float64) Place { return Place{X: p.X, Y: p.Y, Z: z, Known: AxesXYZ} }

// Has reports whether all of the given axes are known.
func (p Place) Has(a Axes) bool { return p.Known&a == a }

// Point is the place seen from above; it means something if Has(AxesXY).
func (p Place) Point() geom.Point { return geom.Pt(p.X, p.Y) }

// Spindle is which way the spindle turns, seen from above the work.
type Spindle uint8

const (
	// SpindleOff is standing still, or coming to it.
	SpindleOff Spindle = iota
	// Clockwise is M3, the way that nearly all router bits are made for.
	Clockwise
	// CounterClockwise is M4.
	CounterClockwise
)

var spindleWords = [...]string{
	SpindleOff:       "off",
	Clockwise:        "clockwise",
	CounterClockwise: "counter-clockwise",
}

// String is off, clockwise or counter-clockwise.
func (s Spindle) String() string { return unit.Word(spindleWords[:], s, "spindle") }

// Origin is the coordinate system that places are in. How the systems lie to
// one another is set at the machine and isn't known here, so a change of origin
// makes the place unknown.
type Origin uint8

const (
	// OriginUnknown is whichever system the machine was left in.
	OriginUnknown Origin = iota
	// OriginG54 to OriginG593 are the nine systems of NISTIR 6556, G54 to
	// G59.3; strapwork's programs use the first.
	OriginG54
	OriginG55
	OriginG56
	OriginG57
	OriginG58
	OriginG59
	OriginG591
	OriginG592
	OriginG593
)

// String is the word that selects the origin, such as "G54".
func (o Origin) String() string {
	switch {
	case o == OriginUnknown:
		return "origin not stated"
	case o <= OriginG59:
		return fmt.Sprintf("G%d", 53+o)
	case o <= OriginG593:
		return fmt.Sprintf("G59.%d", o-OriginG59)
	}
	return fmt.Sprintf("origin(%d)", uint8(o))
}

// Units are a program's units of length.
type Units uint8

const (
	// UnitsUnstated means that neither G20 nor G21 was met: the machine's own
	// setting holds, and nobody can know from the program which that is.
	UnitsUnstated Units = iota
	// Millimetres is G21.
	Millimetres
	// Inches is G20.
	Inches
)

// mmPerInch is exact by definition (1959 agreement).
const mmPerInch = 25.4

// mm is one unit in millimetres.
func (u Units) mm() float64 {
	if u == Inches {
		return mmPerInch
	}
	return 1
}

var unitsWords = [...]string{
	UnitsUnstated: "units not stated",
	Millimetres:   "mm",
	Inches:        "in",
}

// String is the word for the units.
func (u Units) String() string { return unit.Word(unitsWords[:], u, "units") }

// A Move is one thing that a program makes the machine do. The spindle's state
// is that during the move.
type Move struct {
	From, To Place      // in mm; equal unless Kind.Travels
	Center   geom.Point // of an Arc, in mm
	Sweep    float64    // of an Arc: the angle travelled, counter-clockwise positive; a full circle is +-2 pi
	Feed     float64    // of a Line or Arc, mm/min along the path; 0 if in inverse time from an unknown place
	Seconds  float64    // of a Dwell; of a Line or Arc in inverse time how long it shall take; else 0
	Speed    float64    // the S word in force, rpm, also while the spindle is off
	Line     int32      // in the file, from 1
	Col      int32      // of the word that the move comes from, in characters from 1
	N        int32      // the block's own number, its N word; -1 if it has none
	Kind     Kind
	Named    Axes // the axes that the block names; To may still be unknown in them
	Spindle  Spindle
	Origin   Origin

	// Units are those in force, UnitsUnstated before the first G20 or G21. Those of
	// the first move that travels are what the program speaks.
	Units Units
	// Unstated is what the move depends on and the program hasn't stated before
	// it: a machine that was left in another mode makes another move of it.
	Unstated Modes
	// Machine is set where the block has G53: Z leads to MachineZ in the machine's
	// own coordinates, mm, and in the program's it isn't known after that.
	Machine  bool
	MachineZ float64
	// Blend is how far, in mm, the machine may leave the path here to keep its
	// speed: 0 in G61 and G61.1 and where no path mode is stated (see Unstated),
	// P and Q together in G64, infinite in G64 without P.
	Blend float64
}

// Radius is an Arc's radius, in mm: the mean of the distances of its ends from
// its centre, which may differ by the 0.002 mm that the language allows. It is
// 0 for any other move.
func (m Move) Radius() float64 {
	if m.Kind != Arc {
		return 0
	}
	return (m.From.Point().Dist(m.Center) + m.To.Point().Dist(m.Center)) / 2
}

// Length is how far the bit's tip travels, in mm, and whether that is known.
// Axes that the move doesn't name stand still, known or not.
func (m Move) Length() (mm float64, known bool) {
	if !m.Kind.Travels() {
		return 0, true
	}
	if !m.From.Has(m.Named) || !m.To.Has(m.Named) {
		return 0, false
	}
	var d [3]float64
	for i, axis := range [3]Axes{AxisX, AxisY, AxisZ} {
		if m.Named&axis != 0 {
			d[i] = m.To.coord(i) - m.From.coord(i)
		}
	}
	plan := math.Hypot(d[0], d[1])
	if m.Kind == Arc {
		plan = m.Radius() * math.Abs(m.Sweep)
	}
	return math.Hypot(plan, d[2]), true
}

// Edges is the move seen from above, as lines and arcs that begin and end
// exactly where the move does. It is nil where the move stands still in plan
// and where its plan isn't known.
func (m Move) Edges() []geom.Edge {
	if !m.Kind.Travels() || !m.From.Has(AxesXY) || !m.To.Has(AxesXY) {
		return nil
	}
	a, b := m.From.Point(), m.To.Point()
	if m.Kind != Arc {
		if a == b {
			return nil
		}
		return []geom.Edge{geom.Line(a, b)}
	}
	return arcEdges(a, b, m.Center, m.Sweep)
}

func (p Place) coord(i int) float64 { return [3]float64{p.X, p.Y, p.Z}[i] }

func (p *Place) set(i int, v float64) {
	switch i {
	case 0:
		p.X = v
	case 1:
		p.Y = v
	case 2:
		p.Z = v
	}
	p.Known |= 1 << i
}

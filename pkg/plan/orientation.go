package plan

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// An Orientation is one way of laying a panel: turned over in the y axis (x to -x)
// or not, then turned counter-clockwise about the origin, and then shifted.
type Orientation struct {
	TurnDeg float64
	Flip    bool
	Shift   geom.Point // mm, of the work
}

// Shifted reports whether the panel lies elsewhere than turning alone leaves it.
func (p Orientation) Shifted() bool { return p.Shift != geom.Point{} }

// Similarity takes the panel as drawn to the panel as laid. Quarter turns are
// exact.
func (p Orientation) Similarity() geom.Similarity {
	if p.Shifted() {
		return p.turning().Then(geom.Shifting(p.Shift))
	}
	return p.turning()
}

// then is the position of a panel that is laid in p, and then moved with all that it lies on.
func (p Orientation) then(q Orientation) Orientation {
	turn := p.TurnDeg
	if q.Flip {
		turn = -turn
	}
	return Orientation{normalDegrees(q.TurnDeg + turn), p.Flip != q.Flip, q.Similarity().Apply(p.Shift)}
}

// turning is what an orientation does before it shifts.
func (p Orientation) turning() geom.Similarity {
	t := geom.Turning(p.TurnDeg * math.Pi / 180)
	if q := p.TurnDeg / 90; q == math.Round(q) {
		t = geom.TurningFraction(int(q), 4)
	}
	if p.Flip {
		t = geom.MirrorY().Then(t)
	}
	return t
}

// Inverse takes the panel as laid to the panel as drawn.
func (p Orientation) Inverse() geom.Similarity {
	back := p.turning() // a reflection undoes itself
	if !p.Flip {
		back = Orientation{TurnDeg: -p.TurnDeg}.turning()
	}
	if p.Shifted() {
		return geom.Shifting(p.Shift.Scale(-1)).Then(back)
	}
	return back
}

// String is the position in words, lengths in mm: "90 degrees, turned over, shifted 120 mm
// to the right".
func (p Orientation) String() string {
	s := unit.Decimal(p.TurnDeg, 4) + " degrees"
	if p.Flip {
		s += ", turned over"
	}
	if p.Shifted() {
		s += ", " + p.ShiftInWords(unit.MM)
	}
	return s
}

// Up is the direction in a panel as drawn that points to the work's upper edge,
// away from the maker, when the panel is laid.
func (p Orientation) Up() geom.Point {
	// The matrix of turning and mirroring is orthogonal: its inverse is its
	// transpose, whose second column is the second row.
	t := p.turning()
	return geom.Pt(t.Apply(geom.Pt(1, 0)).Y, t.Apply(geom.Pt(0, 1)).Y)
}

// EdgeUp names the edge of the panel as drawn that is up when it is laid:
// "upper", "right", "lower" or "left"; "" where it is turned by no quarter.
func (p Orientation) EdgeUp() string {
	up := p.Up()
	names := [4]string{"right", "upper", "left", "lower"}
	for i, name := range names {
		if up.Near(geom.TurningFraction(i, len(names)).Apply(geom.Pt(1, 0)), geom.Coincident) {
			return name
		}
	}
	return ""
}

// InWords says how the panel lies, lengths in the units of s: "its right edge up", "turned
// over, its upper edge up", "its upper edge up, shifted 360 mm to the right". Edges are those
// of the panel as drawn.
func (p Orientation) InWords(s unit.System) string {
	if p.Shifted() {
		return p.turnInWords() + ", " + p.ShiftInWords(s)
	}
	return p.turnInWords()
}

// ShiftInWords says by how much the panel is shifted, and which way on the work with y up:
// "shifted 360 mm to the right"; "" where it isn't.
func (p Orientation) ShiftInWords(s unit.System) string {
	if !p.Shifted() {
		return ""
	}
	var parts []string
	for _, d := range [2]struct {
		by          float64
		forth, back string
	}{{p.Shift.X, "to the right", "to the left"}, {p.Shift.Y, "up", "down"}} {
		switch {
		case d.by > 0:
			parts = append(parts, unit.Len(d.by).In(s)+" "+d.forth)
		case d.by < 0:
			parts = append(parts, unit.Len(-d.by).In(s)+" "+d.back)
		}
	}
	return "shifted " + strings.Join(parts, " and ")
}

// turnInWords says how the panel is turned.
func (p Orientation) turnInWords() string {
	over := ""
	if p.Flip {
		over = "turned over, "
	}
	if edge := p.EdgeUp(); edge != "" {
		return over + "its " + edge + " edge up"
	}
	if p.Flip {
		over += "then "
	}
	turn := math.Mod(math.Mod(p.TurnDeg, 360)+360, 360)
	return fmt.Sprintf("%sturned %g degrees counter-clockwise", over, math.Round(turn*100)/100)
}

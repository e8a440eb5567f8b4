package plan

import (
	"fmt"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// An Orientation is one way of laying a panel: turned over in the y axis (x to -x)
// or not, then turned counter-clockwise about the origin.
type Orientation struct {
	TurnDeg float64
	Flip    bool
}

// Similarity takes the panel as drawn to the panel as laid. Quarter turns are
// exact.
func (p Orientation) Similarity() geom.Similarity {
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
	if p.Flip {
		return p.Similarity() // a reflection undoes itself
	}
	return Orientation{TurnDeg: -p.TurnDeg}.Similarity()
}

// String is the position in words: "90 degrees, turned over".
func (p Orientation) String() string {
	s := unit.Decimal(p.TurnDeg, 4) + " degrees"
	if p.Flip {
		s += ", turned over"
	}
	return s
}

// Up is the direction in a panel as drawn that points to the work's upper edge,
// away from the maker, when the panel is laid.
func (p Orientation) Up() geom.Point {
	// The matrix of turning and mirroring is orthogonal: its inverse is its
	// transpose, whose second column is the second row.
	t := p.Similarity()
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

// InWords says how the panel lies: "its right edge up", "turned over, its upper
// edge up". Edges are those of the panel as drawn.
func (p Orientation) InWords() string {
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

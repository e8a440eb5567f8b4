package family

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A Panel is a knot panel of Across x Up square cells. Strands run at 45 degrees and cross
// squarely in the middle of each side that two cells share: 2 Across Up - Across - Up
// crossings less the breaks, and gcd(Across, Up) strands if there is none.
type Panel struct {
	Across, Up int
	Cell       float64 // mm; the size
	Round      float64 // mm, the radius where a strand turns back; 0: the most that fits
	Breaks     []Break
}

// Sized is the panel of other cells.
func (p Panel) Sized(size float64) Pattern {
	p.Cell = size
	return p
}

// Draw is a contour for each strand.
func (p Panel) Draw() ([]geom.Contour, error) {
	return drawKnot(p.knot(), p.Cell, p.Round, p.Breaks)
}

func (p Panel) knot() *knot { return newKnot(2*p.Across, 2*p.Up, 0) }

// A Border is a panel less a block in its middle: a frame that is Wide cells wide, and
// turns its corners by itself. It has 2 gcd(Wide, Across - Up) strands if none is broken.
type Border struct {
	Across, Up int
	Wide       int
	Cell       float64 // mm; the size
	Round      float64 // mm, the radius where a strand turns back; 0: the most that fits
	Breaks     []Break
}

// Sized is the border of other cells.
func (p Border) Sized(size float64) Pattern {
	p.Cell = size
	return p
}

// Draw is a contour for each strand.
func (p Border) Draw() ([]geom.Contour, error) {
	if least := min(p.Across, p.Up); least <= 2*p.Wide {
		most := (least - 1) / 2
		why := fault("wide", "a border %s wide leaves no middle of %s", unit.Count(p.Wide, "cell"), unit.Count(least, "cell"))
		if most == 0 {
			return nil, why.hint("across and up must be 3 or more; without a middle it is a panel")
		}
		return nil, why.hint("at most %d; without a middle it is a panel", most)
	}
	return drawKnot(p.knot(), p.Cell, p.Round, p.Breaks)
}

func (p Border) knot() *knot { return newKnot(2*p.Across, 2*p.Up, 2*p.Wide) }

// drawKnot breaks a knot and draws it.
func drawKnot(k *knot, cell, round float64, breaks []Break) ([]geom.Contour, error) {
	for i, b := range breaks {
		if err := k.breakAt(i, b); err != nil {
			return nil, err
		}
	}
	round, err := rounded(cell, round)
	if err != nil {
		return nil, err
	}
	return k.draw(cell, round), nil
}

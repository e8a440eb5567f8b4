package fullsize

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/inlay"
	"strapwork/pkg/unit"
)

// length is a length as strips are cut to: to 0.1 mm, or a thousandth of an inch.
func length(mm float64, u unit.System) string {
	if u == unit.MM {
		mm = math.Round(mm*10) / 10
	}
	return unit.Len(mm).In(u)
}

// bare is length without the unit.
func bare(mm float64, u unit.System) string {
	return strings.TrimSuffix(length(mm, u), " "+u.String())
}

// radius is that of a bend: of a large one to a whole millimetre.
func radius(mm float64, u unit.System) string {
	const large = 100
	if u == unit.MM && mm >= large {
		mm = math.Round(mm)
	}
	return length(mm, u)
}

// material is what a piece is of.
func material(p cutlist.Piece) string {
	if p.Material == "" {
		return "filling"
	}
	return p.Material
}

// isSquare reports whether an end is cut square, as far as a tenth of a degree shows.
func isSquare(e inlay.End) bool {
	return e.Kind != inlay.EndCope && tenths(e.Angle) == 90
}

func tenths(angle float64) float64 { return math.Round(angle*1800/math.Pi) / 10 }

// endWords say how an end is cut.
func endWords(e inlay.End, u unit.System) string {
	fromStrip := math.Min(tenths(e.Angle), 180-tenths(e.Angle))
	angle := unit.Decimal(90-fromStrip, 1) + "\u00b0 off square (" + unit.Decimal(fromStrip, 1) + "\u00b0 to the strip)"
	switch {
	case isSquare(e):
		return "square"
	case e.Kind != inlay.EndCope:
		return e.Kind.String() + " " + angle
	case e.Radius == 0:
		return "cope as drawn"
	case e.Hollow:
		return "cope, hollow to R " + radius(e.Radius, u)
	}
	return "cope, round to R " + radius(e.Radius, u)
}

// facts say what a kind of piece is, how long it is and how its ends are cut.
func (f Figure) facts(height float64, u unit.System) []string {
	p := f.Piece
	count := unit.Count(len(f.Numbers), "piece")
	facts := []string{fmt.Sprintf("**%s**, %s %s x %s", count, material(p), bare(p.Thickness, u), length(height, u))}
	square := isSquare(p.Ends[0]) && isSquare(p.Ends[1])
	switch {
	case p.Bend > 0 && !p.Formed:
		facts = append(facts, fmt.Sprintf("**%s** long point to long point, %s at mid-thickness; cut it straight, ends and all: it springs to R %s", length(p.Long(), u), bare(p.Middle, u), radius(p.Bend, u)))
	case p.Bend > 0:
		facts = append(facts, fmt.Sprintf("cut straight to **%s**, bend to R %s, then trim to the ends: %s at mid-thickness", length(f.Cut, u), radius(p.Bend, u), length(p.Middle, u)))
	case square:
		facts = append(facts, "**"+length(p.Middle, u)+"** long")
	default:
		facts = append(facts, fmt.Sprintf("**%s** long point to long point; left side %s, middle %s, right %s", length(p.Long(), u), bare(p.Left, u), bare(p.Middle, u), length(p.Right, u)))
	}
	left, right := endWords(p.Ends[0], u), endWords(p.Ends[1], u)
	if left == right {
		return append(facts, "both ends "+left)
	}
	return append(facts, "left end "+left+"; right end "+right)
}

// Said is what is said of all figures, over the first.
func Said(figures []Figure, l cutlist.List, u unit.System) []string {
	said := []string{"**Measure the scale proof first.** Pieces are seen from the top, their strand running to the right, so that a piece's left side is the upper one. Numbers are the pieces' own, as in strips.csv and on the labels; pieces of one drawing are cut alike, and lie as it does, end for end or upside down."}
	allowance := "No length here has an allowance for fitting."
	if l.Allowance > 0 {
		allowance = "**Cut every piece " + length(l.Allowance, u) + " longer** than it is drawn and trim it to fit; the outlines are finished ones."
	}
	for _, f := range figures {
		if f.Piece.Formed {
			return append(said, allowance+" **A bent piece** is drawn twice: straight, in dashes as it is cut at first, square at both ends, and within it where its ends are trimmed after bending; and as it is laid, to check the bend against.")
		}
	}
	return append(said, allowance)
}

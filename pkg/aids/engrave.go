package aids

// What is engraved on shop aids and on the pivot bar: few words, in single
// strokes, where no cut comes near them.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/lettering"
	"strapwork/pkg/sheet"
)

const (
	// aidLetters is the height in mm of letters that are read at arm's length.
	aidLetters = 4.0
	// aidClear is the wood in mm kept between a mark and a cut or another mark,
	// allowance for the widths of both burnt lines included.
	aidClear = 1.5
)

// engraver puts marks on a part, each clear of its cuts and of one another.
type engraver struct {
	part *sheet.Part
	wood region.Region
}

func newEngraver(p *sheet.Part) *engraver {
	e := &engraver{part: p}
	for _, l := range p.Sheet.Lines {
		if l.Role == sheet.Edge {
			e.wood = region.New(l.Contour)
		}
	}
	for _, h := range p.Sheet.Holes {
		e.wood = region.Subtract(e.wood, region.Disc(h.Center, h.Radius))
	}
	return e
}

// text engraves s with its middle at the first of the places where there is
// room, and reports whether there was.
func (e *engraver) text(s string, places ...geom.Point) bool {
	for _, at := range places {
		strokes, box := centred(s, at)
		if e.free(geom.Rect(box.Expand(aidClear))) {
			e.add(strokes, region.New(geom.Rect(box)))
			return true
		}
	}
	return false
}

// centred draws s with its middle at a point, and the box that holds it.
func centred(s string, at geom.Point) ([]geom.Contour, geom.Box) {
	strokes := lettering.Text(s, geom.Point{}, aidLetters)
	box := geom.EmptyBox()
	for _, c := range strokes {
		box = box.Join(c.Bounds())
	}
	d := at.Sub(box.Center())
	moved := make([]geom.Contour, len(strokes))
	for i, c := range strokes {
		moved[i] = geom.Shifting(d).Contour(c)
	}
	return moved, geom.Box{Min: box.Min.Add(d), Max: box.Max.Add(d)}
}

func (e *engraver) free(c geom.Contour) bool {
	return region.Subtract(region.New(c), e.wood).Empty()
}

func (e *engraver) add(strokes []geom.Contour, taken region.Region) {
	for _, c := range strokes {
		e.part.Sheet.Lines = append(e.part.Sheet.Lines, sheet.Line{Role: sheet.Mark, Contour: c})
	}
	e.wood = region.Subtract(e.wood, taken)
}

// label engraves a hole's number beside it, or further off at the end of a line
// that leads to the hole.
func (e *engraver) label(s string, h sheet.Hole) {
	const (
		directions = 16
		step, most = 2.0, 40.0 // mm
	)
	for away := h.Radius + aidClear; away < most; away += step {
		for i := range directions {
			// Away from the bar's middle line first, where no holes are.
			way := geom.Polar(1, math.Copysign(math.Pi/2, h.Center.Y-tinyAside)+2*math.Pi*float64(i)/directions)
			_, size := centred(s, geom.Point{})
			half := size.Size().Scale(0.5)
			at := h.Center.Add(way.Scale(away + math.Abs(way.X)*half.X + math.Abs(way.Y)*half.Y))
			strokes, box := centred(s, at)
			taken := geom.Rect(box.Expand(numberApart))
			if !e.free(geom.Rect(box.Expand(aidClear))) {
				continue
			}
			if away <= h.Radius+aidClear {
				e.add(strokes, region.New(taken))
				return
			}
			lead := geom.Chain(false, geom.Line(h.Center.Add(way.Scale(h.Radius+aidClear)), h.Center.Add(way.Scale(away-aidClear))))
			if lead.Length() < aidClear || !region.Subtract(region.Stroke(lead, aidClear*leadShare), e.wood).Empty() {
				continue
			}
			e.add(append(strokes, lead), region.Union(region.New(taken), region.Stroke(lead, aidClear/2)))
			return
		}
	}
}

const (
	// tinyAside in mm counts a hole on the bar's middle line as below it.
	tinyAside = 1e-6
	// numberApart in mm, beyond aidClear, keeps two numbers from reading as one.
	numberApart = 1.0
	// leadShare keeps the wood beside a leading line a trifle less than that
	// before its ends.
	leadShare = 0.99
)

// underneath are places at growing distances below and above the origin.
func underneath(most float64) []geom.Point {
	const step = 1.0
	var places []geom.Point
	for y := 0.0; y <= most; y += step {
		places = append(places, geom.Pt(0, -y), geom.Pt(0, y))
	}
	return places
}

package aids

// What is engraved on shop aids and on the pivot bar: few words, in single
// strokes, where no cut comes near them.

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/label"
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
	room *label.Room
}

func newEngraver(p *sheet.Part) *engraver {
	var wood region.Region
	for _, l := range p.Sheet.Lines {
		if l.Role == sheet.Edge {
			wood = region.New(l.Contour)
		}
	}
	for _, h := range p.Sheet.Holes {
		wood = region.Subtract(wood, region.Disc(h.Center, h.Radius))
	}
	return &engraver{part: p, room: label.On(wood, aidClear)}
}

// text engraves s with its middle at the first of the places where there is
// room, and reports whether there was.
func (e *engraver) text(s string, places ...geom.Point) bool {
	at, ok := label.First(e.room, aidClear, slices.Values(places), func(p geom.Point) []geom.Contour {
		_, box := centred(s, p)
		return []geom.Contour{geom.Rect(box)}
	})
	if ok {
		strokes, _ := centred(s, at)
		e.add(strokes)
	}
	return ok
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

func (e *engraver) add(strokes []geom.Contour) {
	for _, c := range strokes {
		e.part.Sheet.Lines = append(e.part.Sheet.Lines, sheet.Line{Role: sheet.Mark, Contour: c})
	}
}

// A numbering is a place for a hole's number, and the line that leads to it from the
// hole; none beside the hole.
type numbering struct {
	at   geom.Point
	lead []geom.Contour
}

// number engraves a hole's number beside it, or further off at the end of a line
// that leads to the hole.
func (e *engraver) number(s string, h sheet.Hole) {
	n, ok := label.First(e.room, aidClear+numberApart, numberings(s, h), func(n numbering) []geom.Contour {
		_, box := centred(s, n.at)
		return append(n.lead, geom.Rect(box))
	})
	if ok {
		strokes, _ := centred(s, n.at)
		e.add(append(strokes, n.lead...))
	}
}

// numberings are the places for a hole's number, from beside it to further off.
func numberings(s string, h sheet.Hole) iter.Seq[numbering] {
	const (
		directions = 16
		step, most = 2.0, 40.0 // mm
	)
	_, size := centred(s, geom.Point{})
	half := size.Size().Scale(0.5)
	first := h.Radius + aidClear + aTrifle
	return func(yield func(numbering) bool) {
		for away := first; away < most; away += step {
			for i := range directions {
				// Away from the bar's middle line first, where no holes are.
				way := geom.Polar(1, math.Copysign(math.Pi/2, h.Center.Y-tinyAside)+2*math.Pi*float64(i)/directions)
				n := numbering{at: h.Center.Add(way.Scale(away + math.Abs(way.X)*half.X + math.Abs(way.Y)*half.Y))}
				if away > first {
					to := away - aidClear
					if to-first < aidClear {
						continue
					}
					n.lead = []geom.Contour{geom.Chain(false, geom.Line(h.Center.Add(way.Scale(first)), h.Center.Add(way.Scale(to))))}
				}
				if !yield(n) {
					return
				}
			}
		}
	}
}

const (
	// tinyAside in mm counts a hole on the bar's middle line as below it.
	tinyAside = 1e-6
	// numberApart in mm, beyond aidClear, keeps two numbers from reading as one.
	numberApart = 1.0
	// aTrifle in mm, beyond aidClear, keeps a line that begins there clear of its hole.
	aTrifle = 1e-6
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

// apart engraves s like text, so far from other marks that it isn't read with them.
func (e *engraver) apart(s string, places []geom.Point) {
	at, ok := label.First(e.room, aidClear+numberApart, slices.Values(places), func(p geom.Point) []geom.Contour {
		_, box := centred(s, p)
		return []geom.Contour{geom.Rect(box)}
	})
	if ok {
		strokes, _ := centred(s, at)
		e.add(strokes)
	}
}

// around are places in a box, those nearest to a point first.
func around(p geom.Point, box geom.Box) []geom.Point {
	const step = 2.0
	var places []geom.Point
	for x := box.Min.X; x <= box.Max.X; x += step {
		for y := box.Min.Y; y <= box.Max.Y; y += step {
			places = append(places, geom.Pt(x, y))
		}
	}
	places = append(places, p)
	slices.SortStableFunc(places, func(a, b geom.Point) int { return cmp.Compare(a.Dist(p), b.Dist(p)) })
	return places
}

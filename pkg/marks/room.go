package marks

// Where there is room for a mark: the wood of one layer, less its cuts and the marks
// that are there.

import (
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/label"
	"strapwork/pkg/lettering"
	"strapwork/pkg/sheet"
)

const (
	// markClear is the least distance in mm of a mark from any cut. One
	// millimetre is asked for; the rest is for the width of the two burnt lines.
	markClear = 1.4
	// markEdge is the least distance in mm of a mark from a part's edge, and the one
	// from cuts where there is room for it: edges are eased with sandpaper or a
	// chamfer, riders and wedges rub along them, and what chips there takes lettering
	// with it (common practice: the width of a pencil line and of a hand's sanding).
	markEdge = 5.0
	// markGap is the least distance in mm between two marks, so that they read
	// as two (a choice: under half a letter).
	markGap = 1.6
)

// A mark is one thing to engrave: strokes, and the shapes that hold them and
// keep others away. A closed frame is a convex polygon with an inside.
type mark struct {
	strokes []geom.Contour
	frames  []geom.Contour
}

// arrowMark is an arrow, kept clear of along its strokes.
func arrowMark(strokes []geom.Contour) mark { return mark{strokes, strokes} }

// textMark is a text whose drawn letters' middle is at the given point, turned
// by angle.
func textMark(s string, middle geom.Point, height, angle float64) mark {
	return spacedMark(s, middle, height, angle, 0)
}

// spacedMark is textMark with so much space before and after the text, so that two on one
// line don't read as one.
func spacedMark(s string, middle geom.Point, height, angle, space float64) mark {
	m := mark{strokes: lettering.Text(s, geom.Point{}, height)}
	box := m.bounds()
	if box.Empty() {
		return mark{}
	}
	aside := geom.Pt(space, 0)
	m.frames = []geom.Contour{geom.Rect(geom.Box{Min: box.Min.Sub(aside), Max: box.Max.Add(aside)})}
	return m.moved(geom.Shifting(box.Center().Scale(-1)).Then(geom.Turning(angle)).Then(geom.Shifting(middle)))
}

// bounds holds the strokes.
func (m mark) bounds() geom.Box {
	box := geom.EmptyBox()
	for _, c := range m.strokes {
		box = box.Join(c.Bounds())
	}
	return box
}

func (m mark) moved(t geom.Similarity) mark {
	var n mark
	for _, c := range m.strokes {
		n.strokes = append(n.strokes, t.Contour(c))
	}
	for _, c := range m.frames {
		n.frames = append(n.frames, t.Contour(c))
	}
	return n
}

// with is two marks that are placed as one.
func (m mark) with(n mark) mark {
	return mark{slices.Concat(m.strokes, n.strokes), slices.Concat(m.frames, n.frames)}
}

// boxed is a mark that keeps others out of all of its box, and of some space
// round it.
func (m mark) boxed(space float64) mark {
	m.frames = []geom.Contour{geom.Rect(m.bounds().Expand(space))}
	return m
}

// room is the wood of one layer, and the marks placed on it so far.
type room struct {
	*label.Room
	roomy label.Room // keeps markEdge from cuts
	apart bool       // marks are to lie in that too
	marks []mark
}

// newRoom is the room on a part. cut is what is cut from it, and kept free.
func newRoom(outline geom.Contour, cut []region.Region) *room {
	return roomOn(region.New(outline), cut)
}

// roomOn is the room on a piece of wood, less what is cut from it.
func roomOn(wood region.Region, cut []region.Region) *room {
	all := region.Union(cut...)
	r := &room{Room: label.On(region.Subtract(wood, all), markClear)}
	r.KeepOff(markEdge, 1, wood.Loops()...)
	r.roomy.KeepOff(markEdge, 1, all.Loops()...)
	return r
}

// best tries to place something further from cuts, and else nearer.
func (r *room) best(try func() bool) bool {
	r.apart = true
	ok := try()
	r.apart = false
	return ok || try()
}

// free reports whether frames keep their distances.
func (r *room) free(frames []geom.Contour) bool {
	return (!r.apart || r.roomy.Free(frames...)) && r.Free(frames...)
}

// lines are the strokes of all marks, in the order in which they were placed.
func (r *room) lines() []geom.Contour {
	var all []geom.Contour
	for _, m := range r.marks {
		all = append(all, m.strokes...)
	}
	return all
}

// place places the first of some marks that fits, and reports whether one did.
func (r *room) place(choices ...mark) bool {
	for _, m := range choices {
		if m, ok := m.drawn(); ok && r.free(m.frames) {
			r.Take(markGap, m.frames...)
			r.marks = append(r.marks, m)
			return true
		}
	}
	return false
}

// drawn is m as a machine can draw it, without specks, and whether it can.
func (m mark) drawn() (mark, bool) {
	strokes := make([]geom.Contour, len(m.strokes))
	for i, c := range m.strokes {
		var ok bool
		if strokes[i], ok = sheet.Drawn(c); !ok {
			return m, false
		}
	}
	return mark{strokes, m.frames}, len(strokes) > 0
}

// placeAnywhere places the first of some marks, drawn about the origin, that
// fits somewhere, upright or else, if none does, a quarter turned.
func (r *room) placeAnywhere(choices []mark) bool {
	return r.placeWhere(choices, func(geom.Point) bool { return true })
}

// placeWhere is placeAnywhere where the mark's middle is to lie in a part of the
// panel.
func (r *room) placeWhere(choices []mark, in func(geom.Point) bool) bool {
	return r.best(func() bool { return r.placeFirst(choices, in) })
}

func (r *room) placeFirst(choices []mark, in func(geom.Point) bool) bool {
	for _, turn := range []int{0, 1} {
		for _, m := range choices {
			turned := m.moved(geom.TurningFraction(turn, 4))
			for _, p := range r.Anywhere(leastLetter) {
				if !p.Takes(turned.frames...) {
					break // nor do those that follow, with less clear room
				}
				// The frames alone first: strokes are many, and few places fit.
				to := geom.Shifting(p.At)
				if in(p.At) && r.free(mark{frames: turned.frames}.moved(to).frames) {
					return r.place(turned.moved(to))
				}
			}
		}
	}
	return false
}

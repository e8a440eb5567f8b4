package marks

// Where there is room for a mark: the wood of one layer, less its cuts and the marks
// that are there.

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/lettering"
	"strapwork/pkg/sheet"
)

const (
	// markClear is the least distance in mm of a mark from any cut. One
	// millimetre is asked for; the rest is for the width of the two burnt lines.
	markClear = 1.4
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
	m := mark{strokes: lettering.Text(s, geom.Point{}, height)}
	box := m.bounds()
	if box.Empty() {
		return mark{}
	}
	m.frames = []geom.Contour{geom.Rect(box)}
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
	wood   region.Region // outline less everything cut
	cuts   []geom.Edge
	index  geom.Index
	places []place // where marks that may be anywhere are tried, best first
	marks  []mark
}

// newRoom is the room on a part. cut is what is cut from it, and kept free.
func newRoom(outline geom.Contour, cut []region.Region) *room {
	return roomOn(region.Subtract(region.New(outline), region.Union(cut...)))
}

// roomOn is the room on a piece of wood.
func roomOn(wood region.Region) *room {
	r := &room{wood: wood}
	var boxes []geom.Box
	for _, c := range r.wood.Loops() {
		for _, e := range c.Edges() {
			r.cuts, boxes = append(r.cuts, e), append(boxes, e.Bounds())
		}
	}
	r.index = geom.NewIndex(boxes)
	return r
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
		if m, ok := m.drawn(); ok && r.framesFit(m) {
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

// framesFit reports whether a mark lies on wood, clear of every cut and of all
// other marks, by its frames alone.
func (r *room) framesFit(m mark) bool {
	for _, f := range m.frames {
		if !r.onWood(f) {
			return false
		}
		for _, n := range r.marks {
			for _, g := range n.frames {
				if tooNear(f, g) {
					return false
				}
			}
		}
	}
	return true
}

// onWood reports whether a frame and what it holds is clear of every cut.
func (r *room) onWood(f geom.Contour) bool {
	if !r.wood.Contains(f.Start()) {
		return false
	}
	box, clear := f.Bounds(), true
	r.index.Search(box.Expand(markClear), func(i int) bool {
		e := r.cuts[i]
		clear = !(f.Closed && inConvex(f, e.A))
		for k := 0; clear && k < f.Len(); k++ {
			clear = geom.Gap(f.Edge(k), e) >= markClear
		}
		return clear
	})
	return clear
}

// tooNear reports whether two frames come within a mark's gap of one another
// or one holds the other.
func tooNear(f, g geom.Contour) bool {
	if !f.Bounds().Expand(markGap).Meets(g.Bounds()) {
		return false
	}
	if f.Closed && inConvex(f, g.Start()) || g.Closed && inConvex(g, f.Start()) {
		return true
	}
	for _, e := range f.Edges() {
		for _, h := range g.Edges() {
			if geom.Gap(e, h) < markGap {
				return true
			}
		}
	}
	return false
}

// inConvex reports whether p lies in a counter-clockwise convex polygon.
func inConvex(f geom.Contour, p geom.Point) bool {
	for _, e := range f.Edges() {
		if e.B.Sub(e.A).Cross(p.Sub(e.A)) < 0 {
			return false
		}
	}
	return true
}

// The places that are tried for marks that may be anywhere: a grid of at most
// about placesMost points (enough to find every gap that a short line of text
// fits in, on a panel of a metre), no finer than placesLeast mm.
const (
	placesMost  = 6000
	placesLeast = 2.0
)

// clearStep is how much more clear room in mm makes a place a better one;
// within a step the higher and then the left one is better, so that rounding
// doesn't choose.
const clearStep = 1.0

// A place is a point of the wood, and how far it is from any cut, in steps.
type place struct {
	at    geom.Point
	clear float64
}

// takes reports whether a mark that is drawn about the origin, in one box, can
// have its middle there at all: half its smaller side must be clear.
func (p place) takes(m mark) bool {
	if len(m.frames) == 0 {
		return false
	}
	size := m.frames[0].Bounds().Size()
	return p.clear+clearStep/2 >= min(size.X, size.Y)/2+markClear
}

// anywhere lists places on the wood, those with the most clear room first.
func (r *room) anywhere() []place {
	if r.places != nil {
		return r.places
	}
	r.places = []place{} // known, if there are none
	if r.wood.Empty() {
		return r.places
	}
	box := r.wood.Bounds()
	size := box.Size()
	step := max(placesLeast, math.Sqrt(size.X*size.Y/placesMost))
	nx, ny := int(size.X/step), int(size.Y/step)
	for iy := range ny {
		for ix := range nx {
			p := box.Center().Add(geom.Pt((float64(ix)-float64(nx-1)/2)*step, (float64(iy)-float64(ny-1)/2)*step))
			d := r.wood.BoundaryDist(p)
			if d > markClear+LeastLetter/2 && r.wood.Contains(p) {
				r.places = append(r.places, place{p, math.Round(d/clearStep) * clearStep})
			}
		}
	}
	// The grid runs from the lower left; a stable sort keeps rows together.
	slices.SortStableFunc(r.places, func(a, b place) int {
		return cmp.Or(cmp.Compare(b.clear, a.clear), cmp.Compare(b.at.Y, a.at.Y))
	})
	return r.places
}

// placeAnywhere places the first of some marks, drawn about the origin, that
// fits somewhere, upright or else, if none does, a quarter turned.
func (r *room) placeAnywhere(choices []mark) bool {
	return r.placeWhere(choices, func(geom.Point) bool { return true })
}

// placeWhere is placeAnywhere where the mark's middle is to lie in a part of the
// panel.
func (r *room) placeWhere(choices []mark, in func(geom.Point) bool) bool {
	for _, turn := range []int{0, 1} {
		for _, m := range choices {
			turned := m.moved(geom.TurningFraction(turn, 4))
			for _, p := range r.anywhere() {
				if !p.takes(turned) {
					break // nor do those that follow, with less clear room
				}
				// The frames alone first: strokes are many, and few places fit.
				to := geom.Shifting(p.at)
				if in(p.at) && r.framesFit(mark{frames: turned.frames}.moved(to)) {
					return r.place(turned.moved(to))
				}
			}
		}
	}
	return false
}

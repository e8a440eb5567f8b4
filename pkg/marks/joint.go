package marks

// Marks on the panels of a table that comes apart: where the joint lies under a panel, and
// where a track has run on far enough past it.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/lettering"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
)

// Measures of the marks of a joint, mm (choices: a stroke as long as a number is high, that
// starts where the edge of an opening is no longer eased).
const (
	jointTick  = 14.0 // at a panel's rim
	jointShort = 7.0  // at an opening
	jointOff   = 2.0  // from it
	jointSpace = 2.5  // between a stroke and its word
	stopTick   = 5.0
	pastEnd    = 1.0 // that a groove runs on past its bit's slot
)

// jointWord stands beside the line.
const jointWord = "joint"

// Joint says what panels of a table bear of its joints. The zero Joint is that of a board.
type Joint struct {
	On    bool // the motif's origin lies on joints: the work's y axis is one
	Stops bool // each section is grooved against scrap, by a rider that shows where it is: tracks have marks where to stop
}

// markJoint marks the joint's line on a panel, for each way in which it is laid: at both
// rims, and beside the openings between them. It reports what found no room.
func (r *room) markJoint(p template.Panel, ups []plan.SetUp, j Joint, size groove.Size) []string {
	if !j.On {
		return nil
	}
	var missing []string
	edges := upperEdges(ups)
	for _, e := range edges {
		word := jointWord
		if len(edges) > 1 {
			word += " " + e.label
		}
		if !r.markRim(p.Outline, e.up, word) {
			missing = append(missing, "the "+word+"'s line")
		}
		down := e.up.Scale(-1)
		if !slices.ContainsFunc(edges, func(o setUpsAt) bool { return o.up.Near(down, sameUp) }) && !r.markRim(p.Outline, down, "") {
			missing = append(missing, "the lower end of the "+word+"'s line")
		}
		if !j.Stops {
			r.markBetween(p, e.up)
			continue
		}
		number := ""
		if len(edges) > 1 {
			number = e.label
		}
		missing = append(missing, r.markStops(p, e.up, number, size)...)
	}
	return missing
}

// markRim draws the joint's line at the rim that it leaves in a direction, with a word
// beside it.
func (r *room) markRim(outline geom.Contour, way geom.Point, word string) bool {
	at, ok := rim(outline, geom.Point{}, way)
	if !ok {
		return false
	}
	tip := at.Sub(way.Scale(markEdge + tipClear))
	for _, long := range []float64{jointTick, jointShort} {
		stroke := strokeMark(tip, tip.Sub(way.Scale(long)))
		if word == "" {
			if r.place(stroke) {
				return true
			}
			continue
		}
		for _, h := range []float64{6, 5, leastLetter} {
			half := lettering.Width(word, h)/2 + jointSpace
			for _, side := range []float64{-1, 1} {
				middle := tip.Sub(way.Scale(long / 2)).Add(way.Left().Scale(side * half))
				if r.place(stroke.with(textMark(word, middle, h, way.Angle()-math.Pi/2))) {
					return true
				}
			}
		}
	}
	return false
}

// strokeMark is one straight stroke.
func strokeMark(a, b geom.Point) mark {
	return arrowMark([]geom.Contour{geom.Chain(false, geom.Line(a, b))})
}

// markBetween draws the line where it leaves the panel's openings, as far as there is room:
// the rims alone do.
func (r *room) markBetween(p template.Panel, up geom.Point) {
	low, _ := rim(p.Outline, geom.Point{}, up.Scale(-1))
	high, _ := rim(p.Outline, geom.Point{}, up)
	line := geom.Line(low, high)
	for _, o := range p.Openings {
		for _, c := range o.Area.Loops() {
			for _, e := range c.Edges() {
				for _, m := range geom.Crossings(line, e, geom.Coincident) {
					for _, way := range []geom.Point{up, up.Scale(-1)} {
						from := m.At.Add(way.Scale(jointOff))
						if inOpening(p, m.At.Add(way.Scale(wallOff))) {
							continue
						}
						r.place(strokeMark(from, from.Add(way.Scale(jointShort))), strokeMark(from, from.Add(way.Scale(jointShort/2))))
					}
				}
			}
		}
	}
}

// inOpening reports whether a place lies in one of a panel's openings.
func inOpening(p template.Panel, at geom.Point) bool {
	return slices.ContainsFunc(p.Openings, func(o template.Opening) bool { return o.Area.Contains(at) })
}

// markStops marks, on both sides of the joint, the place along each track at which its groove
// has left the edge with its whole width: (w/2) tan(angle) + b/2 and a little past it. The
// mark lies beside the track, where the rider touches the wall when the bit is there, with the
// number of the set-up if there are several.
func (r *room) markStops(p template.Panel, up geom.Point, number string, size groove.Size) (missing []string) {
	for i, o := range p.Openings {
		for _, s := range passes(o.Cut.Line, up) {
			_, way := o.Cut.Line.At(s)
			along, across := math.Abs(way.Dot(up)), math.Abs(way.Cross(up))
			if across < leastAcross {
				continue
			}
			run := size.Width/2*along/across + size.Bit/2 + pastEnd
			for _, at := range []float64{s - run, s + run} {
				if at < 0 || at > o.Cut.Length() {
					continue // the track ends before that
				}
				if !r.best(func() bool { return r.markStop(o, at, number) }) {
					missing = append(missing, "a stop mark at "+trackID(p, i))
				}
			}
		}
	}
	return missing
}

// leastAcross is the sine of the angle to the joint below which a track runs along it: 75
// degrees from its normal are the most that a job may have.
const leastAcross = 0.2

// markStop draws one across the wood beside the track.
func (r *room) markStop(o template.Opening, at float64, number string) bool {
	for _, side := range []float64{1, -1} {
		w, ok := wallBeside(o, side, at)
		if !ok {
			continue
		}
		from := w.at.Add(w.out.Scale(jointOff))
		stroke := strokeMark(from, from.Add(w.out.Scale(stopTick)))
		if number != "" {
			half := lettering.Width(number, leastLetter)/2 + jointSpace
			stroke = stroke.with(textMark(number, from.Add(w.out.Scale(stopTick+half)), leastLetter, readable(w.out)))
		}
		if r.place(stroke) {
			return true
		}
	}
	return false
}

// passes are the distances along a line at which it passes the axis through the origin.
func passes(line geom.Contour, axis geom.Point) (at []float64) {
	box := line.Bounds()
	long := box.Size().X + box.Size().Y + box.Center().Norm() + 1
	level := geom.Line(axis.Scale(-long), axis.Scale(long))
	for _, e := range line.Edges() {
		for _, m := range geom.Crossings(e, level, geom.Coincident) {
			_, s := line.Nearest(m.At)
			if len(at) == 0 || math.Abs(at[len(at)-1]-s) > geom.Coincident {
				at = append(at, s)
			}
		}
	}
	return at
}

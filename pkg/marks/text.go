package marks

// Lettering: numbers at the edges, letters, titles and the names of cuts.

import (
	"fmt"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/lettering"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
)

// Heights of capitals in mm, the ones to be preferred first (choices; see
// leastLetter for the last).
var (
	letterHeights = []float64{15, 12, 10, 8, 6, 5, leastLetter}
	textHeights   = []float64{6, 5, leastLetter}
	trackHeights  = []float64{8, 6, 5, leastLetter}
)

// lineSpace is the distance of base lines, in heights of capitals: room for
// tails and a gap (common practice).
const lineSpace = 1.8

// titleWidths are the numbers of letters at which a title is broken, tried in
// turn.
var titleWidths = []int{30, 20, 12}

// lettersOf is a panel's letter in all heights, about the origin.
func lettersOf(id string) []mark {
	var list []mark
	for _, h := range letterHeights {
		list = append(list, textMark(id, geom.Point{}, h, 0))
	}
	return list
}

// textBlock is lines of text flush left, one under the other: the first one's
// capitals reach up to the origin, from where they run to the right.
func textBlock(lines []string, height float64) mark {
	var m mark
	for i, s := range lines {
		at := geom.Pt(0, -height-float64(i)*lineSpace*height)
		m.strokes = append(m.strokes, lettering.Text(s, at, height)...)
	}
	return m.boxed(0)
}

// centred is m about the origin.
func (m mark) centred() mark {
	return m.moved(geom.Shifting(m.bounds().Center().Scale(-1)))
}

// titleSpaces is the room in mm round a title, the most first where there is
// enough (a choice).
var titleSpaces = []float64{10, 4, 0}

// titles are the layouts of a panel's letter with its lines of text: beside
// it, or under it; with space around rather than tight, and with all of the
// title rather than high.
func titles(id string, words labels) []mark {
	var list []mark
	for _, space := range titleSpaces {
		for _, wide := range titleWidths {
			lines := append(wrapped(words.title, wide), words.short()...)
			for _, h := range textHeights {
				text := textBlock(lines, h)
				letter := textBlock([]string{id}, 2.5*h)
				beside := text.moved(geom.Shifting(geom.Pt(letter.bounds().Max.X+h, 0)))
				under := text.moved(geom.Shifting(geom.Pt(0, letter.bounds().Min.Y-h)))
				list = append(list, letter.with(beside).boxed(space).centred(), letter.with(under).boxed(space).centred())
			}
		}
	}
	return list
}

// markTitle places a panel's letter, the job and what the panel was made for:
// together where they fit, else each for itself. It reports what found no room.
func (r *room) markTitle(id string, words labels) []string {
	if r.placeAnywhere(titles(id, words)) {
		return nil
	}
	var missing []string
	if !r.placeAnywhere(lettersOf(id)) {
		missing = append(missing, "its letter")
	}
	if words.title != "" && !r.placeAnywhere(titleAlone(words.title)) {
		missing = append(missing, "the title")
	}
	for _, s := range words.short() {
		var choices []mark
		for _, h := range textHeights {
			choices = append(choices, textMark(s, geom.Point{}, h, 0))
		}
		if !r.placeAnywhere(choices) {
			missing = append(missing, "\""+s+"\"")
		}
	}
	return missing
}

// markParts names the parts of a panel that is made in some. It reports what found no
// room.
func (r *room) markParts(p template.Panel) []string {
	if p.Division == nil {
		return nil
	}
	var missing []string
	for i := range p.Division.Parts {
		name := fmt.Sprintf("%s-%d", p.ID, i+1)
		if !r.placeWhere(lettersOf(name)[1:], func(at geom.Point) bool { return p.Division.Part(at) == i }) {
			missing = append(missing, "the name "+name+" of a part")
		}
	}
	return missing
}

// titleAlone is a title by itself in all widths and heights.
func titleAlone(title string) []mark {
	var list []mark
	for _, wide := range titleWidths {
		for _, h := range textHeights {
			list = append(list, textBlock(wrapped(title, wide), h).centred())
		}
	}
	return list
}

// Measures of the marks at the edges, in heights of their numbers.
const (
	edgeArrow = 1.4 // the arrow's length
	edgeHead  = 0.6 // its head's
	edgeSpace = 0.5 // between arrow and number
)

// tipClear in mm is what the tip of an arrow keeps from a curved edge besides markEdge.
const tipClear = 0.2

// edgeHeights are the heights in mm of the numbers at the edges.
var edgeHeights = []float64{8, 6, 5, leastLetter}

// How far from the middle of an edge its mark may be, in parts of the panel's
// extent, how finely it is moved, mm, and by how much the edge may lie lower
// there, mm: an edge that falls off is not the one that is up.
const (
	edgeReach = 0.35
	edgeStep  = 3.0
	edgeFall  = 6.0
)

// markEdges marks for each position which edge is up: an arrow that points out
// over the edge, and the set-up's number, which stands upright for the maker
// when the panel lies right. It reports what found no room.
func (r *room) markEdges(p template.Panel, ups []plan.SetUp) []string {
	// Panels that turn do so about the origin; a pentagon's box has its middle
	// elsewhere. Those that are stepped may be drawn far from it.
	middle := geom.Point{}
	if len(p.Positions) == 1 || len(p.Plates) > 0 {
		middle = p.Outline.Bounds().Center()
	}
	var missing []string
	for _, e := range upperEdges(ups) {
		if len(p.Plates) == 1 {
			e.label = ranges(p.Plates[0].SetUps) // of steps there may be dozens
		}
		if !r.best(func() bool { return r.markEdge(p.Outline, middle, e) }) {
			missing = append(missing, "the number of set-up "+e.label+" at its upper edge")
		}
	}
	for _, q := range p.Plates {
		e := setUpsAt{q.Into.Scale(-1), "rail"}
		if len(p.Plates) > 1 {
			e.label += " " + ranges(q.SetUps)
		}
		if !r.best(func() bool { return r.markEdge(p.Outline, p.Outline.Bounds().Center(), e) }) {
			missing = append(missing, "the word rail at the edge that bears on it")
		}
	}
	return missing
}

// markEdge marks one edge of an outline, as near as can be to where it lies from
// the panel's middle.
func (r *room) markEdge(outline geom.Contour, middle geom.Point, e setUpsAt) bool {
	size := outline.Bounds().Size()
	across := math.Abs(e.up.X)*size.Y + math.Abs(e.up.Y)*size.X
	top, ok := rim(outline, middle, e.up)
	if !ok {
		return false
	}
	for _, h := range edgeHeights {
		for aside := 0.0; aside <= across*edgeReach; aside += edgeStep {
			for _, side := range []float64{1, -1} {
				at, ok := rim(outline, middle.Sub(e.up.Left().Scale(side*aside)), e.up)
				if !ok || top.Sub(at).Dot(e.up) > edgeFall {
					continue
				}
				if r.place(edgeMarks(at, e, h)...) {
					return true
				}
			}
		}
	}
	return false
}

// rim is where an outline is last met going from a point in a direction.
func rim(outline geom.Contour, from, way geom.Point) (geom.Point, bool) {
	size := outline.Bounds().Size()
	ray := geom.Line(from, from.Add(way.Scale(size.X+size.Y)))
	furthest, found := 0.0, false
	for _, e := range outline.Edges() {
		for _, m := range geom.Crossings(ray, e, geom.Coincident) {
			furthest, found = max(furthest, m.At.Sub(from).Dot(way)), true
		}
	}
	return from.Add(way.Scale(furthest)), found
}

// edgeMarks are the layouts of a mark at a place of an edge: the number under
// the arrow, or beside it where the rim is narrow.
func edgeMarks(rim geom.Point, e setUpsAt, h float64) []mark {
	tip := rim.Sub(e.up.Scale(markEdge + tipClear))
	angle := e.up.Angle() - math.Pi/2
	tail := tip.Sub(e.up.Scale(edgeArrow * h))
	arrow := arrowMark(lettering.Arrow(tail, tip, edgeHead*h))
	under := textMark(e.label, tail.Sub(e.up.Scale((edgeSpace+0.5)*h)), h, angle)
	half := lettering.Width(e.label, h) / 2
	beside := textMark(e.label, tail.Lerp(tip, 0.5).Sub(e.up.Left().Scale(half+edgeSpace*h)), h, angle)
	return []mark{arrow.with(under), arrow.with(beside)}
}

// nameAways are how far in mm from the opening's edge a track's name may be, the better
// ones first: along the edge, beyond a feed arrow too, and at the first of each running
// away from it. The first ones alone are as far from cuts as marks are to be.
var nameAways = [][]float64{{markEdge, 7, 10}, {2, 3}, {14, 20}}

// trackID names the i-th opening of a panel: "A1".
func trackID(p template.Panel, i int) string { return plan.Panel{ID: p.ID}.TrackID(i) }

// markTracks writes each track's name beside it: a cut's own name differs from position
// to position, the track's doesn't. It reports what found no room.
func (r *room) markTracks(p template.Panel) []string {
	var missing []string
	for i := range p.Openings {
		if !r.best(func() bool { return r.markTrack(p, i) }) {
			missing = append(missing, "the name "+trackID(p, i))
		}
	}
	return missing
}

// markTrack writes the name where it is nearer to its own opening than to any
// other: along the opening's edge, or if need be running away from it.
func (r *room) markTrack(p template.Panel, i int) bool {
	name := trackID(p, i)
	spots := besides(p.Openings[i])
	try := func(h, off float64, s wallPlace, way geom.Point) bool {
		at := s.at.Add(s.out.Scale(off))
		return nearest(p, at) == i && r.place(spacedMark(name, at, h, readable(way), h/2))
	}
	// Close by comes before large: far off, a name seems another's.
	for _, far := range nameAways {
		for _, h := range trackHeights {
			half := lettering.Width(name, h) / 2
			for _, away := range far {
				for _, s := range spots {
					if try(h, away+h/2, s, s.way) {
						return true
					}
				}
			}
			for _, s := range spots {
				if try(h, far[0]+half, s, s.out) {
					return true
				}
			}
		}
		if r.apart {
			break // rather nearer to a cut than further from its own
		}
	}
	return false
}

// readable is the angle of a text that runs along a direction, one way or the
// other, so that it isn't upside down.
func readable(way geom.Point) float64 {
	if way.X < -upright || math.Abs(way.X) <= upright && way.Y < 0 {
		way = way.Scale(-1)
	}
	return way.Angle()
}

// upright is the x of a unit vector that counts as running up and down: such
// text reads upwards whatever its last digit of rounding.
const upright = 1e-6

// nearest is the opening that a point is nearest to.
func nearest(p template.Panel, at geom.Point) int {
	best, least := 0, math.Inf(1)
	for i, o := range p.Openings {
		if d := o.Area.Dist(at); d < least-geom.Coincident {
			best, least = i, d
		}
	}
	return best
}

package setup

// How a cut is made, drawn in its track: where it starts, which way round, and
// how far. The router goes out with the wall on the left of its travel and comes
// back along the other wall, which is on the left again: clockwise round the
// track, seen from above.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/plan"
)

// Measures of the marks of travel, in heights of capitals.
const (
	startRadius = 0.5  // of the disc where the bit goes down
	markShare   = 0.25 // of a cut's length, which that is at most
	shortCut    = 7.0  // under which the number stands behind the start
	arrowLong   = 4.0
	arrowEvery  = 16.0 // along a cut
	headLong    = 1.0
	headWide    = 0.42 // half of it
	headShare   = 0.4  // of the strip that an arrow runs in
	crossEvery  = 8.0  // along a track that is left alone
	crossHalf   = 0.7  // half of a cross, across and up
	leastStrip  = 0.55 // under which no arrow fits between the groove and the wall
)

// mostArrows is how many arrows there are along one wall at most.
const mostArrows = 5

// leastArrow is the length in mm of the shortest arrow that can be seen.
const leastArrow = 1.0

// travel draws a track's cut as it is made: the arrows, its start and its far end.
func (d *drawing) travel(track plan.Track) {
	line := track.Line
	if line.Len() == 0 {
		return
	}
	length := line.Length()
	strip := d.g.Size.Reach() - d.g.Size.Width/2 // between the groove and the wall
	if arrows := d.arrows(length); strip < leastStrip*d.h {
		d.onward(line, arrows)
	} else {
		for i := range arrows {
			room := length / float64(arrows)
			s := offCorners(line, room*(float64(i)+0.5), arrowLong*d.h+d.g.Size.Reach())
			at, along := line.At(s)
			bend := bendAt(line, s)
			d.arrow(at, along, bend, room, strip)
			d.arrow(at, along.Scale(-1), bend, room, strip)
		}
	}
	r := d.markRadius(track)
	end, way := line.At(length)
	d.mark(pageShade, lineShade, 1.4, "finish", d.bar(end, way, r))
	d.mark(lineShade, pageShade, 1.2, "start", geom.Circle(line.Start(), r))
}

// arrows is how many arrows there are along one wall.
func (d *drawing) arrows(length float64) int {
	return int(math.Min(mostArrows, math.Max(1, length/(arrowEvery*d.h))))
}

// markRadius is that of the marks at a cut's ends, which leave some of a short one to be
// seen.
func (d *drawing) markRadius(t plan.Track) float64 {
	return math.Min(startRadius*d.h, markShare*t.Line.Length())
}

// bar is the mark at a far end, a bar across the cut, unlike the disc at its start.
func (d *drawing) bar(at, way geom.Point, r float64) geom.Contour {
	along, across := way.Scale(0.65*r), way.Left().Scale(1.35*r)
	return geom.Polygon(at.Sub(along).Sub(across), at.Add(along).Sub(across), at.Add(along).Add(across), at.Sub(along).Add(across))
}

// onward draws heads of arrows in a cut towards its far end: all that there is room for
// beside a narrow one.
func (d *drawing) onward(line geom.Contour, arrows int) {
	length := line.Length()
	for i := range arrows {
		s := offCorners(line, length*(float64(i)+0.5)/float64(arrows), headLong*d.h)
		if math.Min(s, length-s) < (startRadius+headLong)*d.h {
			continue
		}
		at, along := line.At(s)
		tip, tail := at.Add(along.Scale(headLong/2*d.h)), at.Sub(along.Scale(headLong/2*d.h))
		side := along.Left().Scale(headWide * d.h)
		d.labels = append(d.labels, geom.Chain(false, geom.Line(tail, tip)))
		d.mark(pageShade, lineShade, 0.6, "way to the finish", geom.Polygon(tip, tail.Add(side), tail.Sub(side)))
	}
}

// crossOut draws crosses along a track that is left alone.
func (d *drawing) crossOut(line geom.Contour) {
	length := line.Length()
	n := math.Max(2, math.Round(length/(crossEvery*d.h)))
	for i := range int(n) {
		at, _ := line.At(length * (float64(i) + 0.5) / n)
		d.cross(at)
	}
}

// cross draws one cross.
func (d *drawing) cross(at geom.Point) {
	var arms []geom.Contour
	for _, arm := range []geom.Point{geom.Pt(1, 1), geom.Pt(1, -1)} {
		arm = arm.Scale(crossHalf * d.h)
		arms = append(arms, geom.Chain(false, geom.Line(at.Sub(arm), at.Add(arm))))
	}
	d.mark("", lineShade, 2, "left alone", arms...)
}

// offCorners moves a place on a line, given by its distance along it, until it is
// as far from the next corners and ends as wanted, or in the middle of them.
func offCorners(line geom.Contour, s, want float64) float64 {
	stops := []float64{0}
	at := 0.0
	for i := range line.Len() {
		e := line.Edge(i)
		at += e.Length()
		if i < line.Len()-1 && e.Tangent(1).Dot(line.Edge(i+1).Tangent(0)) > smooth {
			continue
		}
		stops = append(stops, at)
	}
	for i := range len(stops) - 1 {
		from, to := stops[i], stops[i+1]
		if s > to && i < len(stops)-2 {
			continue
		}
		mid, room := (from+to)/2, math.Max(0, (to-from)/2-want)
		return math.Max(mid-room, math.Min(mid+room, s))
	}
	return s
}

// smooth is the cosine of the greatest turn between two edges that an arrow
// may lie beside: some eight degrees.
const smooth = 0.99

// bendAt is the curvature of a line at a distance along it, without its sign.
func bendAt(line geom.Contour, s float64) float64 {
	for i := range line.Len() {
		e := line.Edge(i)
		if s -= e.Length(); s <= 0 || i == line.Len()-1 {
			return math.Abs(e.Curvature())
		}
	}
	return 0
}

// arrow draws an arrow beside a place on the cut's middle line, half-way between
// the cut and the wall on the left of travel.
func (d *drawing) arrow(at, along geom.Point, bend, room, strip float64) {
	off := (d.g.Size.Width + strip) / 2
	wide := math.Min(headWide*d.h, headShare*strip)
	scale := wide / (headWide * d.h)
	long := math.Min(arrowLong*d.h*math.Max(scale, 0.5), room*0.6)
	if bend*off < 1 && bend > 0 {
		// The sagitta of a chord, L^2 / 8R, is within a quarter of the strip, and
		// the chord turns by less than a radian.
		radius := 1/bend - off
		long = math.Min(long, math.Min(radius, math.Sqrt(2*radius*strip)))
	}
	if long < leastArrow {
		return
	}
	mid := at.Add(along.Left().Scale(off))
	tip, tail := mid.Add(along.Scale(long/2)), mid.Sub(along.Scale(long/2))
	d.labels = append(d.labels, geom.Chain(false, geom.Line(tail, tip)))
	d.pointer("way of travel", tail, tip, wide, math.Min(headLong*d.h*scale, 0.6*long))
}

// pointer draws a straight arrow with a filled head.
func (d *drawing) pointer(label string, tail, tip geom.Point, wide, long float64) {
	along := tip.Sub(tail).Unit()
	neck := tip.Sub(along.Scale(long))
	d.mark("", lineShade, 1, "", geom.Chain(false, geom.Line(tail, neck)))
	d.mark(lineShade, "", 0, label,
		geom.Polygon(tip, neck.Add(along.Left().Scale(wide)), neck.Sub(along.Left().Scale(wide))))
}

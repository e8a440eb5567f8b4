package setup

// Where cuts' numbers and the names of their tracks stand.

import (
	"math"
	"slices"
	"strconv"

	"strapwork/pkg/geom"
	"strapwork/pkg/label"
	"strapwork/pkg/plan"
)

// Measures of badges, in heights of capitals.
const (
	labelsApart = 0.2  // between labels and arrows, and between them and what they keep off
	discRadius  = 0.95 // of the disc that holds a cut's number
	wideBadge   = 1.3  // half the width of one that holds more than two digits
	farthest    = 24.0 // between a cut's start and its number
)

// fewCuts of a set-up leave so much to be seen that names may hide some of it.
const fewCuts = 4

// number draws the cuts' numbers, and beside them what their tracks are called, as far as
// there is room for that.
func (d *drawing) number(made []plan.Track) {
	places := make([]geom.Point, len(made))
	for i, t := range made {
		if t.Line.Len() > 0 {
			places[i] = d.numberAt(t)
			d.badge(places[i], t.Number)
		}
	}
	d.name(made, places)
}

// badge draws a cut's number.
func (d *drawing) badge(at geom.Point, n int) {
	frame := geom.Circle(at, discRadius*d.h)
	h := 0.95 * d.h
	if n > 9 {
		h = leastShare * d.h
	}
	if n > 99 {
		frame = geom.Rect(badgeBox(at, d.h))
	}
	d.mark(pageShade, lineShade, 1.2, "cut number "+strconv.Itoa(n), frame)
	d.text(at.Sub(geom.Pt(0, h/2)), h, true, strconv.Itoa(n))
}

func badgeBox(at geom.Point, h float64) geom.Box {
	half := geom.Pt(wideBadge*h, discRadius*h)
	return geom.Box{Min: at.Sub(half), Max: at.Add(half)}
}

// around is what a number takes up: its box, or a polygon round its disc.
func (d *drawing) around(at geom.Point, n int) geom.Contour {
	if n > 99 {
		return geom.Rect(badgeBox(at, d.h))
	}
	const corners = 12
	out := geom.Pt(discRadius*d.h/math.Cos(math.Pi/corners), 0)
	list := make([]geom.Point, corners)
	for i := range list {
		list[i] = at.Add(geom.TurningFraction(i, corners).Apply(out))
	}
	return geom.Polygon(list...)
}

// A tag is what a track is called, beside its number.
type tag struct {
	box   geom.Box
	plate bool // it hides some of a groove or an edge
}

// name writes what the tracks are called beside their numbers; none of them unless all
// find room, as on pictures with dozens of cuts: a name seems the nearest cut's.
func (d *drawing) name(made []plan.Track, places []geom.Point) {
	if d.card && len(made) > manyCuts {
		return
	}
	h, clear := leastShare*d.h, labelsApart*d.h
	// What may be hidden, the best first: nothing, grooves, tracks' edges, the panel's too.
	none := plan.Track{}
	rooms := []*label.Room{d.cleared(none), d.free(none), d.free(none), d.free(none)}
	for _, r := range rooms[:3] {
		r.KeepOff(clear, 1, d.laid.Contour(d.panel.Outline))
	}
	for _, r := range rooms[:2] {
		for _, o := range d.panel.Openings {
			r.KeepOff(clear, 1, o.Area.Transform(d.laid).Loops()...)
		}
	}
	if len(made) > fewCuts {
		rooms = rooms[:1]
	}
	tags := make([]tag, len(made))
	for i, t := range made {
		boxes, found := d.tagPlaces(places[i], t), false
		for k, r := range rooms {
			at := slices.IndexFunc(boxes, func(b geom.Box) bool { return r.Free(geom.Rect(b)) })
			if found = at >= 0; found {
				tags[i] = tag{boxes[at], k > 0}
				break
			}
		}
		if !found {
			return
		}
		for _, r := range rooms {
			r.Take(clear, geom.Rect(tags[i].box))
		}
	}
	for i, t := range tags {
		if t.plate {
			d.fill(panelShade, "", 0, "", geom.Rect(t.box.Expand(labelsApart/2*d.h)))
		}
		d.labels = append(d.labels, geom.Rect(t.box))
		d.text(geom.Pt(t.box.Center().X, t.box.Min.Y), h, true, made[i].ID)
	}
}

// tagPlaces are the boxes round a number in which its track's name may stand: beside it,
// under and over it, and between those.
func (d *drawing) tagPlaces(number geom.Point, t plan.Track) []geom.Box {
	h := leastShare * d.h
	size := geom.Pt(d.width(t.ID, h), h)
	side, up := (discRadius+1.5*labelsApart)*d.h+size.X/2, (discRadius+1.5*labelsApart)*d.h+h/2
	if t.Number > 99 {
		side += (wideBadge - discRadius) * d.h
	}
	var list []geom.Box
	for _, off := range []geom.Point{
		{X: side},
		{X: -side},
		{Y: -up},
		{Y: up},
		{X: side * 0.9, Y: up / 2},
		{X: side * 0.9, Y: -up / 2},
		{X: -side * 0.9, Y: up / 2},
		{X: -side * 0.9, Y: -up / 2},
		{X: side * 0.7, Y: up * 0.8},
		{X: side * 0.7, Y: -up * 0.8},
		{X: -side * 0.7, Y: up * 0.8},
		{X: -side * 0.7, Y: -up * 0.8},
	} {
		low := number.Add(off).Sub(size.Scale(0.5))
		list = append(list, geom.Box{Min: low, Max: low.Add(size)})
	}
	return list
}

// cleared is room off all that is seen: grooves, cuts but one track's own, the panel's
// edges, arrows and labels.
func (d *drawing) cleared(own plan.Track) *label.Room {
	room, clear := d.free(own), labelsApart*d.h
	for i, s := range d.g.Motif.Strands {
		if own.ID == "" || i != own.Cut.Strand {
			room.KeepOff(d.g.Size.Width/2+clear, 1, s.Contour)
		}
	}
	room.KeepOff(clear, 1, d.laid.Contour(d.panel.Outline))
	return room
}

// free is room off other cuts, their ends, arrows and labels.
func (d *drawing) free(own plan.Track) *label.Room {
	room, clear := &label.Room{}, labelsApart*d.h
	for _, t := range d.u.Tracks {
		if t.ID != own.ID {
			room.KeepOff(d.g.Size.Width/2+clear, 1, t.Line)
			room.KeepOff(clear, 1, geom.Circle(t.Start(), d.markRadius(t)), geom.Circle(t.End(), d.markRadius(t)))
		}
	}
	room.Take(clear, d.labels...)
	return room
}

// numberAt is where a track's number stands: near its start where it hides nothing, or
// else no other cut, start, end, arrow or label; or else further off, with a leader.
func (d *drawing) numberAt(track plan.Track) geom.Point {
	all, some := d.cleared(track), d.free(track)
	places := d.numberPlaces(track.Line)
	frames := func(p geom.Point) []geom.Contour { return []geom.Contour{d.around(p, track.Number)} }
	for _, r := range []*label.Room{all, some} {
		if p, ok := label.First(r, 0, slices.Values(places), frames); ok {
			d.labels = append(d.labels, frames(p)...)
			return p
		}
	}
	at, ok := d.further(all, track, frames)
	if !ok {
		at = places[0]
	}
	d.labels = append(d.labels, frames(at)...)
	return at
}

// further is the nearest place off everything whose leader runs clear of all labels, and
// draws the leader.
func (d *drawing) further(room *label.Room, track plan.Track, frames func(geom.Point) []geom.Contour) (geom.Point, bool) {
	const directions = 24
	start := track.Start()
	for r := 2.5; r <= farthest; r += 0.75 {
		least, best := math.MaxInt, geom.Edge{}
		for i := range directions {
			way := geom.TurningFraction(i, directions).Apply(geom.Pt(0, 1))
			at := start.Add(way.Scale(r * d.h))
			if !room.Free(frames(at)...) {
				continue
			}
			leader := geom.Line(start.Add(way.Scale(d.markRadius(track))), at.Sub(way.Scale(discRadius*d.h)))
			if crossed, ok := room.Leads(leader); ok && crossed < least {
				least, best = crossed, geom.Line(leader.A, at)
			}
		}
		if least < math.MaxInt {
			line := geom.Chain(false, best)
			d.mark("", lineShade, 0.8, "leader", line)
			d.labels = append(d.labels, line)
			return best.B, true
		}
	}
	return geom.Point{}, false
}

// numberPlaces are where a number may stand: in the cut, or outside of it behind its
// start, where it would hide much of a short one, or beside that.
func (d *drawing) numberPlaces(line geom.Contour) []geom.Point {
	const most = 4 // steps along the cut: further from its start a number may seem another's
	step, length := (discRadius+startRadius)*d.h, line.Length()
	start, ahead := line.At(0)
	var list []geom.Point
	if length >= shortCut*d.h {
		for s := step; s <= math.Min(most*step, length-step); s += step / 2 {
			at, _ := line.At(s)
			list = append(list, at)
		}
	}
	for _, turn := range []float64{1, 0.75, -0.75, 0.5, -0.5} {
		list = append(list, start.Add(ahead.Turn(turn*math.Pi).Scale(step)))
	}
	return list
}

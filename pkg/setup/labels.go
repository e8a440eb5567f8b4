package setup

// Where a cut's number and the panel's letter stand.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/label"
	"strapwork/pkg/plan"
)

// labelsApart is kept between labels and arrows, and between them and the grooves that they
// have to keep off, in heights of capitals.
const labelsApart = 0.2

// numberAt is where a track's number stands: the first place that hides no groove of
// another strand; or else one that hides no other cut, start, end, arrow or label; or
// else the first of all.
func (d *drawing) numberAt(track plan.Track) geom.Point {
	var room label.Room
	clear := labelsApart * d.h
	for _, t := range d.u.Made() {
		if t.ID != track.ID {
			room.KeepOff(d.g.Size.Width/2+clear, 1, t.Line)
			room.KeepOff(clear, 1, geom.Circle(t.Start(), startRadius*d.h), geom.Circle(t.End(), endRadius*d.h))
		}
	}
	grooves := room
	for i, s := range d.g.Motif.Strands {
		if i != track.Cut.Strand {
			grooves.KeepOff(d.g.Size.Width/2+clear, 1, s.Contour)
		}
	}
	places := d.numberPlaces(track.Line)
	at := places[0]
	for _, r := range []*label.Room{&grooves, &room} {
		r.Take(clear, d.labels...)
		if p, ok := label.First(r, clear, slices.Values(places), func(p geom.Point) []geom.Contour { return []geom.Contour{d.disc(p)} }); ok {
			at = p
			break
		}
	}
	d.labels = append(d.labels, d.disc(at))
	return at
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

// disc is what a number takes up: a polygon round its disc.
func (d *drawing) disc(at geom.Point) geom.Contour {
	const corners = 12
	out := geom.Pt(discRadius*d.h/math.Cos(math.Pi/corners), 0)
	list := make([]geom.Point, corners)
	for i := range list {
		list[i] = at.Add(geom.TurningFraction(i, corners).Apply(out))
	}
	return geom.Polygon(list...)
}

// letterBox is a box of a size just under the laid panel's top for what it is called,
// as near its middle as leaves the panel's own outline, with its notches, and what is
// drawn on it to be seen; if nowhere, in the middle.
func (d *drawing) letterBox(size geom.Point, down float64) geom.Box {
	outline := d.laid.Contour(d.panel.Outline)
	var room label.Room
	room.KeepOff(labelsApart*d.h, 1, outline)
	for _, t := range d.u.Made() {
		room.KeepOff(d.g.Size.Width/2, 1, t.Line)
	}
	room.Take(labelsApart*d.h, d.labels...)
	panel := outline.Bounds()
	at := func(shift float64) geom.Box {
		low := geom.Pt(panel.Center().X+shift*panel.Size().X-size.X/2, panel.Max.Y-down-size.Y)
		return geom.Box{Min: low, Max: low.Add(size)}
	}
	shifts := []float64{0, -0.1, 0.1, -0.2, 0.2, -0.3, 0.3}
	shift, _ := label.First(&room, 0, slices.Values(shifts), func(shift float64) []geom.Contour {
		return []geom.Contour{geom.Rect(at(shift))}
	})
	return at(shift)
}

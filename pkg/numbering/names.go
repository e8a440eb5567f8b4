package numbering

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/label"
	"strapwork/pkg/sheet"
)

// A Name is what something is called that runs along a band.
type Name struct {
	Text  string
	Spots []Spot // where it may stand, the best first; an arrow stands at that
}

// A Spot is a place on a band's middle, and the unit direction that it runs in.
type Spot struct{ At, Along geom.Point }

// legible is a share of the largest height: down to it names stand beside their bands rather
// than be larger, below it they may as well stand upon them.
const legible = 0.4

// Names letters bands: each name beside its own, with a leader to it, at the largest height
// at which nearly all find room there; where they are so crowded that they would be hard to read,
// as many as need be stand on their bands. No name lies across another: one that finds no
// room at the smallest height is left out.
func (s Style) Names(list []Name, room *label.Room) (l Lettering) {
	arrows := s.arrows(list)
	least := legible * s.Heights[0]
	for _, upon := range [...]float64{fewLeft, 1} {
		for i, h := range s.Heights {
			if upon < 1 && h < least || upon == 1 && h > least {
				continue
			}
			tried := room.Copy()
			made, left := s.names(list, h, upon, tried)
			if left == 0 || upon == 1 && i == len(s.Heights)-1 {
				*room = *tried
				return Lettering{append(arrows, made.Fills...), made.Texts}
			}
		}
	}
	return l
}

// names writes names at a height, a share of them at most upon their bands, and returns how
// many are left that find no room, as far as it came: it gives up once there are more than
// that share.
func (s Style) names(list []Name, height, share float64, room *label.Room) (l Lettering, out int) {
	var left []Name
	var leaders []geom.Contour
	for _, n := range list {
		t := s.lettered(n, height)
		box, leader, free := s.along(n, t, room)
		if !free {
			// Too many are too many, however the rest would fare: where bands are crowded most
			// heights fail, each at the cost of every place of every name.
			if left = append(left, n); float64(len(left)) > share*float64(len(list)) {
				return l, len(left)
			}
			continue
		}
		room.Take(s.Apart, geom.Rect(box))
		room.Take(0, leader)
		leaders = append(leaders, leader)
		l.write(t, box, s.Plate)
	}
	l.Fills = append([]sheet.Fill{
		{Loops: leaders, Stroke: s.Ink, StrokeWidth: 3 * s.Line},
		{Loops: leaders, Stroke: onLines, StrokeWidth: 1.5 * s.Line, Label: "leaders"},
	}, l.Fills...)
	for _, n := range left {
		t := s.lettered(n, height)
		box, free := s.upon(n, t, room)
		if !free {
			out++
			continue
		}
		room.Take(s.Apart/2, geom.Rect(box))
		l.write(t, box, onLines)
	}
	return l, out
}

func (s Style) lettered(n Name, height float64) sheet.Text {
	return sheet.Text{Height: height, String: n.Text, Middle: true, Color: s.Color}
}

// far is how far beside its band a name is tried, in heights.
var far = [...]float64{0, 0.4, 0.9, 1.5, 2.2, 3}

// along looks for room beside a band, from where a leader runs clear to its middle.
func (s Style) along(n Name, t sheet.Text, room *label.Room) (box geom.Box, leader geom.Contour, ok bool) {
	size := boxOf(t)
	for _, f := range far {
		for _, spot := range n.Spots {
			at := s.To.Apply(spot.At)
			side := spot.Along.Left()
			for _, d := range [2]geom.Point{side, side.Scale(-1)} {
				reach := math.Abs(d.X)*size.X/2 + math.Abs(d.Y)*size.Y/2
				foot := at.Add(d.Scale(s.Half + s.Apart + f*t.Height))
				box = centred(foot.Add(d.Scale(reach)), size)
				if !room.Free(geom.Rect(box)) {
					continue
				}
				line := geom.Line(at, foot)
				if crossed, clear := room.Leads(line); clear && crossed <= 1 { // the band's own side
					return box, geom.Chain(false, geom.Line(at, box.Center())), true
				}
			}
		}
	}
	return box, leader, false
}

// upon looks for room on the band itself.
func (s Style) upon(n Name, t sheet.Text, room *label.Room) (box geom.Box, ok bool) {
	for _, spot := range n.Spots {
		box = centred(s.To.Apply(spot.At), boxOf(t))
		if room.Apart(geom.Rect(box)) {
			return box, true
		}
	}
	return box, false
}

// arrows say which way the bands run.
func (s Style) arrows(list []Name) []sheet.Fill {
	const long, wide, least = 1.8, 1.2, 0.3 // halves of a band, and of the largest capitals
	half := math.Max(s.Half, least*s.Heights[0])
	var all []geom.Contour
	for _, n := range list {
		at, d := s.To.Apply(n.Spots[0].At), n.Spots[0].Along.Scale(half)
		back := at.Sub(d.Scale(long / 2))
		all = append(all, geom.Polygon(at.Add(d.Scale(long/2)), back.Add(d.Left().Scale(wide/2)), back.Add(d.Left().Scale(-wide/2))))
	}
	return []sheet.Fill{{Loops: all, Color: onLines, Stroke: s.Ink, StrokeWidth: s.Line / 2, Label: "which way strands run"}}
}

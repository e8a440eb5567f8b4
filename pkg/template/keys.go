package template

// Keying: what forbids a panel to be laid as the plan doesn't want it.
//
// One round key stands in the frame's side 0, off that side's middle, and
// juts out over the panel's place. A panel has a round notch wherever the key
// comes to lie in one of its own positions, as seen from the panel. The
// polygon's turns and turnings over take the key's place to as many different
// places as there are of them, all further apart than a key's width, so that
// one key is enough: a panel laid otherwise has whole wood there. The key juts
// out by more than a panel can give way, so that such a panel doesn't just fit
// badly but stays lying on the key.
//
// Why a disc in the frame's edge and not a pin through wall, floor and frame:
// the joint between panel and frame, where such a hole would be, is where it
// can't be drilled and where it would have to locate as exactly as the frame
// does. The disc sits in the frame by more than half, so that it can't come
// out sideways; both recesses are single arcs, with no inside corner, which
// any cutter can follow; and it has a millimetre of room all round in the
// notch: the frame locates, the key only forbids.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// Measures of keys, mm.
const (
	keyBehind = 3.0 // of the key's centre behind the frame's edge: it is caught
	keyRoom   = 1.0 // round the key in a panel's notch
	keyFit    = 0.1 // round the key in the frame's recess: pushed in by hand (common practice)
	keyOver   = 1.0 // by which a key juts out beyond what a panel can give way
)

// giveWay is how much further than the frame's gap a panel can move away from
// a side: opposite the middle of a pentagon's side is a corner, whose two sides
// stop it later by 1/cos 36 degrees (derived; polygons of more sides or of an
// even number give less).
var giveWay = 1 / math.Cos(math.Pi/5)

// A FrameKey is the key's place in the frame. The zero FrameKey is none.
type FrameKey struct {
	At     geom.Point // its centre
	Radius float64    // of the key, mm
	Notch  float64    // radius of the notches in panels, mm
}

// newKey is a key for panels of a shape in a frame with a gap, or none where
// the shape's sides are too short to put it off their middle and keep web mm
// of wood between a notch and the next.
func newKey(s Shape, gap, web float64) FrameKey {
	k := keyFor(gap)
	if s.Length(0) < keySide(k, web) {
		return FrameKey{}
	}
	k.At = s.Middle(0).Lerp(s.Corner(1), 0.5).Add(s.Sides[0].Out.Scale(keyBehind))
	return k
}

// keySide is the length in mm of a side that has room for a key's notches at its
// quarters, and web between them and in its corners.
func keySide(k FrameKey, web float64) float64 { return 4 * (k.Notch + web) }

// keyFor is a key that is long enough for a gap, not yet placed.
func keyFor(gap float64) FrameKey {
	r := math.Ceil(gap*giveWay+keyOver) + keyBehind
	return FrameKey{Radius: r, Notch: r + keyRoom}
}

// depth is how far a notch goes into a panel.
func (k FrameKey) depth() float64 { return k.Notch - keyBehind }

// notched is a panel's outline with a notch for each of its positions.
func (k FrameKey) notched(s Shape, positions []Orientation) geom.Contour {
	outline := s.Polygon()
	if k.Radius == 0 {
		return outline
	}
	var notches []region.Region
	for _, p := range positions {
		notches = append(notches, region.Disc(inverse(p).Apply(k.At), k.Notch))
	}
	loops := region.Subtract(region.New(outline), region.Union(notches...)).Loops()
	if len(loops) != 1 {
		return outline // can't be: notches are in the sides
	}
	return loops[0]
}

// Measures of dowels, mm (common practice for sheet of 3 to 12 mm).
const (
	dowelRadius = 2.0
	dowelStep   = 5.0 // of the grid of places that are tried
	dowelApart  = 3 * dowelRadius
	dowels      = 3
)

// placeDowels finds three places for the dowels that hold wall and floor
// together, web mm clear of everything else, and so that no turn and no
// turning over of the floor lays all its holes on the wall's. There are fewer
// where no such places are.
func (p Panel) placeDowels(s Shape, web float64) []geom.Point {
	free := p.dowelPlaces(web + dowelRadius)
	if len(free) < dowels {
		return nil
	}
	turns := s.Placements(dowelRadius)
	found := []geom.Point{furthestFrom(free, []geom.Point{s.Centre()})}
	found = append(found, furthestFrom(free, found))
	slices.SortStableFunc(free, func(a, b geom.Point) int {
		return -compareDist(a, b, found)
	})
	for _, c := range free {
		three := append(slices.Clone(found), c)
		if nearestOf(c, found) >= dowelApart && oneWay(three, turns) {
			return three
		}
	}
	return nil
}

// dowelPlaces are the points of a grid that are at least clear mm from the
// panel's edge and openings.
func (p Panel) dowelPlaces(clear float64) []geom.Point {
	panel := region.New(p.Outline)
	box := panel.Bounds().Expand(-clear)
	step := math.Max(dowelStep, math.Max(box.Size().X, box.Size().Y)/60) // 3600 places are choice enough
	var free []geom.Point
	for y := box.Min.Y; y <= box.Max.Y; y += step {
		for x := box.Min.X; x <= box.Max.X; x += step {
			at := geom.Pt(x, y)
			if panel.Contains(at) && panel.BoundaryDist(at) >= clear && p.clearOf(at, clear) {
				free = append(free, at)
			}
		}
	}
	return free
}

// clearOf reports whether all the panel's openings are at least d from a point.
func (p Panel) clearOf(at geom.Point, d float64) bool {
	for _, o := range p.Openings {
		if o.Area.Bounds().Dist(at) < d && o.Area.Dist(at) < d {
			return false
		}
	}
	return true
}

// oneWay reports whether only the first of some placements, which changes
// nothing, lays every hole on a hole.
func oneWay(holes []geom.Point, turns []geom.Similarity) bool {
	for _, t := range turns[1:] {
		worst := 0.0
		for _, h := range holes {
			worst = math.Max(worst, nearestOf(t.Apply(h), holes))
		}
		if worst < 2*dowelRadius {
			return false
		}
	}
	return true
}

func nearestOf(p geom.Point, others []geom.Point) float64 {
	best := math.Inf(1)
	for _, q := range others {
		best = math.Min(best, p.Dist(q))
	}
	return best
}

func furthestFrom(places, from []geom.Point) geom.Point {
	return slices.MaxFunc(places, func(a, b geom.Point) int { return compareDist(a, b, from) })
}

// compareDist orders points by their distance from the nearest of others; those
// that differ by rounding only keep their order.
func compareDist(a, b geom.Point, others []geom.Point) int {
	switch d := nearestOf(a, others) - nearestOf(b, others); {
	case d > geom.Coincident:
		return 1
	case d < -geom.Coincident:
		return -1
	}
	return 0
}

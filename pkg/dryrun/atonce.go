package dryrun

// Does the bit take more depth at once than a step? What counts is the wood under
// the middle of its path: as the bit comes near a place of that, its rim reaches
// the place when its middle is a radius away, and cuts it in one go from how deep
// it was to how deep the bit then is. So a finishing pass along a slot that is
// there already takes nothing at once, as long as it takes less than half of the
// bit's width; and neither does a ramp or a helix, in which the bit goes deeper
// while it is over the place already.
//
// Most paths need no looking: they are no deeper than a step, or were cut to within
// a step before, along the very same line.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

const (
	// recalled is how many of the last paths are kept, for how the bit came to a
	// place; where more of them lie within its radius, nothing is said.
	recalled = 1 << 12

	// mostLooks bounds how many paths are held against places in all: some seconds.
	// No program that is cut in steps needs more.
	mostLooks = 1 << 27

	// mostPlaces bounds the places of one path that are looked at.
	mostPlaces = 1 << 10

	// mostPatchesOf is how many patches of the board a path may lie across and still
	// be listed with each.
	mostPatchesOf = 1 << 12
)

// spaced is how far apart the places are that are looked at along a path, in radii:
// a little more than one, so that the first one is beyond a plunge.
const spaced = 1.01

// back is how far from a place the bit's middle was when its rim was about to reach
// it.
func (a *atOnce) back() float64 { return a.radius + 2*geom.Coincident }

// atOnce looks for paths that take too much at once.
type atOnce struct {
	limit  float64       // 0: nothing is looked at
	radius float64       // of the bit, and gougeOver more: what it touches so nearly is cut
	most   float64       // deeper cuts are a fault of another kind
	done   region.Region // cut before the program
	table  *table

	log    []recent
	carry  float64 // since the last place that was looked at
	biting float64 // how much was taken at once there, if that was too much
	listed int     // strokes that are in byPatch or wide
	near   map[[2]int32][]int32
	wide   []int32
	looks  int
	came   map[int32]float64 // scratch: how deep the strokes of the last approach were before it
}

// recent is a path in the wood.
type recent struct {
	leg
	number int32
	before float64 // how deep the stroke was cut until then
	joined bool    // the bit came from the end of the one before, through the wood
}

func newAtOnce(w *Work) atOnce {
	a := atOnce{radius: w.Bit.Slot/2 + gougeOver, most: w.Depth + deepOver, done: w.Done, near: map[[2]int32][]int32{}, came: map[int32]float64{}}
	if w.Step > 0 && !w.Partial {
		a.limit = w.Step + deepOver
	}
	return a
}

// take takes a path in the wood. It returns how much is taken at once, if that is
// too much, and where.
func (a *atOnce) take(l leg, number int, before float64, t *table) (depth float64, at geom.Point, tooMuch bool) {
	deepest := -l.lowest()
	if deepest <= a.limit {
		// Nor does the bit come from here to another place by more than a step.
		a.log, a.carry, a.biting = a.log[:0], 0, 0
		return 0, geom.Point{}, false
	}
	n := len(a.log)
	joined := n > 0 && a.log[n-1].B == l.A && a.log[n-1].z1 < -surface && l.z0 < -surface
	if n == 2*recalled {
		a.log = a.log[:copy(a.log, a.log[recalled:])]
	}
	a.log = append(a.log, recent{l, int32(number), before, joined})
	if !joined {
		a.carry, a.biting = 0, 0
	}
	if l.point() || l.z0 == l.z1 && before > 0 && deepest-before <= a.limit {
		a.carry, a.biting = 0, 0
		return 0, geom.Point{}, false
	}
	a.table = t
	length := l.Length()
	step := math.Max(a.radius*spaced, length/mostPlaces)
	depth, at = a.biting, l.Mid() // of a path too short for a place of its own
	for s := step - a.carry; s <= length; s += step {
		a.biting = 0
		if depth, at = a.at(l, s/length); depth > a.limit {
			a.biting = depth
			break
		}
	}
	a.carry = math.Mod(a.carry+length, step)
	return depth, at, depth > a.limit
}

// at is how much depth the bit takes at once at a fraction of the last path.
func (a *atOnce) at(l leg, f float64) (depth float64, at geom.Point) {
	p := l.At(f)
	deep, ok := a.approach(p, l, f)
	if !ok || deep <= a.limit || a.looks > mostLooks || a.done.Contains(p) {
		return 0, p
	}
	return deep - a.cutBefore(p, deep-a.limit), p
}

// approach goes back from a place on the last path to where the bit's middle was a
// radius away. It returns how deep the bit was there, and notes in came how deep
// the strokes since then had been. It is not ok where the bit came down to
// there within that radius, or by too many paths.
func (a *atOnce) approach(p geom.Point, l leg, f float64) (deep float64, ok bool) {
	clear(a.came)
	last := len(a.log) - 1
	a.came[a.log[last].number] = a.log[last].before
	if length := l.Length(); f*length >= a.back() {
		return -lerp(l.z0, l.z1, math.Max(0, f-a.back()/length)), true
	}
	for i := last; i > 0 && a.log[i].joined; {
		i--
		q := &a.log[i]
		a.came[q.number] = q.before
		from, to := p.Dist(q.A), p.Dist(q.B)
		if from < a.back() {
			continue
		}
		back := 1.0
		if from > to {
			back = (a.back() - to) / (from - to)
		}
		return -lerp(q.z1, q.z0, math.Max(0, math.Min(1, back))), true
	}
	return 0, false
}

func lerp(a, b, f float64) float64 { return a + (b-a)*f }

// cutBefore is how deep a place was cut before the bit's last approach to it; as
// deep as is enough, if that.
func (a *atOnce) cutBefore(p geom.Point, enough float64) float64 {
	a.list()
	deepest := 0.0
	look := func(numbers []int32) bool {
		for k := len(numbers) - 1; k >= 0; k-- { // the last ones are the likeliest
			a.looks++
			n := numbers[k]
			s := a.table.at(int(n))
			before, came := a.came[n]
			if came && before <= deepest || !came && -s.lowest() <= deepest {
				continue
			}
			d, f := s.Nearest(p)
			if d.Dist(p) > a.radius {
				continue
			}
			if !came {
				before = -lerp(s.z0, s.z1, f)
			}
			if deepest = math.Max(deepest, before); deepest >= enough {
				return true
			}
		}
		return false
	}
	if !look(a.near[[2]int32{patchOf(p.X), patchOf(p.Y)}]) {
		look(a.wide)
	}
	return deepest
}

// list lists the strokes that are new by the patches of the board that they cut.
func (a *atOnce) list() {
	for ; a.listed < a.table.n; a.listed++ {
		e := a.table.at(a.listed).Edge
		box := e.Bounds().Expand(a.radius)
		x0, y0, x1, y1 := patchOf(box.Min.X), patchOf(box.Min.Y), patchOf(box.Max.X), patchOf(box.Max.Y)
		if (float64(x1)-float64(x0)+1)*(float64(y1)-float64(y0)+1) > mostPatchesOf {
			a.wide = append(a.wide, int32(a.listed))
			continue
		}
		small := x1-x0 <= 1 && y1-y0 <= 1
		for y := y0; y <= y1; y++ {
			for x := x0; x <= x1; x++ {
				middle := geom.Pt(float64(x)+0.5, float64(y)+0.5).Scale(patch)
				if !small && e.Dist(middle) > a.radius+patch*math.Sqrt2/2 {
					continue
				}
				key := [2]int32{x, y}
				a.near[key] = append(a.near[key], int32(a.listed))
			}
		}
	}
}

package template

// A frame that is larger than the cutting machine's bed is made in bars: cut at
// its corners, and along its sides where these are too long themselves. Bars
// butt on straight joints, and a loose key of two discs, let into both and
// glued, draws and holds each joint. The reference sides then run through on
// one bar each wherever the bed allows. The last stiffness comes from the
// screws, two to a bar.

import (
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

const (
	mostBars      = 8    // of one side
	cutShift      = 0.08 // of a side's length that its cuts are shifted by where they meet something
	fewSides      = 6    // up to which every side is a bar of its own
	jointKeyPart  = 6.0  // a key's disc is this part of the frame's width across its radius
	jointKeyLeast = 5.0  // mm, least radius of a key's disc
	jointKeyMost  = 12.0 // mm
	jointKeyIn    = 0.8  // of its radius is a disc's centre from the joint
)

// A Bar is one piece of a frame.
type Bar struct {
	Wood  region.Region
	Marks []geom.Contour // what is engraved on it, open
	cells []cell
}

// A cell is the part of a bar that belongs to one side.
type cell struct {
	outline geom.Contour // four-sided, without reliefs, recesses and notches
	outward geom.Point
	side    int
}

// A Joint is where two parts butt.
type Joint struct {
	At    geom.Point // the middle of its key
	Along geom.Point // unit direction of the joint's line
}

// jointKey is the loose key of joints: two discs that overlap.
type jointKey struct {
	radius, in float64 // of a disc, and its centre's distance from the joint, mm
	relief     float64 // radius of the reliefs at its waist, mm
}

func newJointKey(width, relief float64) jointKey {
	r := min(max(width/jointKeyPart, jointKeyLeast), jointKeyMost)
	return jointKey{r, jointKeyIn * r, relief}
}

// recess is what a key at a joint takes from the two parts.
func (k jointKey) recess(j Joint) region.Region {
	across := j.Along.Left().Scale(k.in)
	return region.Union(region.Disc(j.At.Add(across), k.radius+keyFit), region.Disc(j.At.Sub(across), k.radius+keyFit))
}

// outline is the key, lying along the x axis. The inside corners of its waist
// are relieved, so that they clear the parts' corners there.
func (k jointKey) outline() geom.Contour {
	pair := region.Union(region.Disc(geom.Pt(-k.in, 0), k.radius), region.Disc(geom.Pt(k.in, 0), k.radius))
	waist := math.Sqrt(k.radius*k.radius-k.in*k.in) + 0.9*k.relief
	pair = region.Subtract(pair, region.Union(region.Disc(geom.Pt(0, waist), k.relief), region.Disc(geom.Pt(0, -waist), k.relief)))
	return pair.Loops()[0]
}

// makeBars cuts the frame into as few bars as fit the bed; a bed of no size
// takes anything. If there is no way, the frame stays whole.
func (f *LocatingFrame) makeBars(bed [2]float64) {
	n := f.Inside.Len()
	whole := make([]cuts, n) // no side is cut
	f.Bars = []Bar{{Wood: f.Wood, cells: f.allCells(whole)}}
	if fitsBed(f.Outside.Polygon(), bed) {
		return
	}
	for m := n / 2; n > fewSides && m > 1; m-- {
		if n%m == 0 && f.tryBars(bed, m, whole) {
			return
		}
	}
	list := make([]cuts, n)
	for i := range list {
		list[i] = f.cutsOf(i, bed)
	}
	f.tryBars(bed, 1, list)
}

// cuts says at which parts of its length one side of a frame is cut across.
type cuts []float64

// cutsOf are the fewest cuts of side i that leave bars that fit the bed; none
// if there is no way.
func (f *LocatingFrame) cutsOf(i int, bed [2]float64) cuts {
	for q := 1; q <= mostBars; q++ {
		for _, shift := range []float64{0, cutShift, -cutShift} {
			var list cuts
			for k := 1; k < q; k++ {
				list = append(list, float64(k)/float64(q)+shift)
			}
			if f.canCut(i, list, bed) {
				return list
			}
		}
	}
	return nil
}

// canCut reports whether cuts of side i leave bars that fit the bed, run into
// no corner, and keep clear of the key's recess and of the axes' notches, next
// to which a splinter would be left.
func (f *LocatingFrame) canCut(i int, list cuts, bed [2]float64) bool {
	side := f.Inside.Corner(i + 1).Sub(f.Inside.Corner(i))
	recess := region.Disc(f.Key.At, f.Key.Radius+f.joint.radius)
	for _, j := range f.across(i, list) {
		at := j.At.Sub(f.Inside.Corner(i)).Dot(side.Unit())
		if at < f.Width || at > side.Norm()-f.Width {
			return false
		}
		if f.Key.Radius > 0 && f.joint.recess(j).Gap(recess) == 0 {
			return false
		}
		for _, tip := range f.Axes {
			if math.Abs(tip.Sub(j.At).Cross(j.Along)) < 4*axisHalf && tip.Dot(j.Along) > 0 {
				return false
			}
		}
	}
	for _, c := range f.cells(i, list) {
		if !fitsBed(c.outline, bed) {
			return false
		}
	}
	return true
}

// tryBars cuts the frame at every m-th corner and across its sides, and reports
// whether what comes of it fits the bed. Either m is 1 or no side is cut.
func (f *LocatingFrame) tryBars(bed [2]float64, m int, list []cuts) bool {
	var joints []Joint
	var recesses []region.Region
	for i := range f.Inside.Sides {
		if i%m == 0 {
			a, b := f.Inside.Corner(i), f.Outside.Corner(i)
			joints = append(joints, Joint{a.Lerp(b, 0.5), b.Sub(a).Unit()})
		}
		joints = append(joints, f.across(i, list[i])...)
	}
	for _, j := range joints {
		recesses = append(recesses, f.joint.recess(j))
	}
	wood := region.Subtract(f.Wood, region.Union(recesses...))
	var bars []Bar
	for group := range slices.Chunk(f.allCells(list), m) {
		var areas []region.Region
		for _, c := range group {
			areas = append(areas, region.New(c.outline))
		}
		b := Bar{Wood: region.Intersect(wood, region.Union(areas...)), cells: group}
		if len(b.Wood.Loops()) != 1 || !fitsBed(b.Wood.Loops()[0], bed) {
			return false
		}
		bars = append(bars, b)
	}
	f.Bars, f.Joints = bars, joints
	return true
}

func (f *LocatingFrame) allCells(list []cuts) []cell {
	var all []cell
	for i, c := range list {
		all = append(all, f.cells(i, c)...)
	}
	return all
}

// cells are the parts of side i between its corners and cuts.
func (f *LocatingFrame) cells(i int, list cuts) []cell {
	out := f.Inside.Sides[i].Out
	var all []cell
	in, at := f.Inside.Corner(i), f.Outside.Corner(i)
	for _, j := range f.across(i, list) {
		half := out.Scale(f.Width / 2)
		all = append(all, cell{geom.Polygon(in, at, j.At.Add(half), j.At.Sub(half)), out, i})
		in, at = j.At.Sub(half), j.At.Add(half)
	}
	return append(all, cell{geom.Polygon(in, at, f.Outside.Corner(i+1), f.Inside.Corner(i+1)), out, i})
}

// across are the joints at the cuts of side i.
func (f *LocatingFrame) across(i int, list cuts) []Joint {
	out := f.Inside.Sides[i].Out
	var all []Joint
	for _, part := range list {
		at := f.Outside.Corner(i).Lerp(f.Outside.Corner(i+1), part)
		all = append(all, Joint{at.Sub(out.Scale(f.Width / 2)), out})
	}
	return all
}

// fitsBed reports whether a part fits a bed when it is laid along any of its
// straight edges; a bed of no size takes anything.
func fitsBed(c geom.Contour, bed [2]float64) bool {
	if bed[0] <= 0 || bed[1] <= 0 {
		return true
	}
	long, short := max(bed[0], bed[1]), min(bed[0], bed[1])
	for _, e := range c.Edges() {
		if !e.IsLine() {
			continue
		}
		u := e.Tangent(0)
		a := contourReach(c, u) + contourReach(c, u.Scale(-1))
		b := contourReach(c, u.Left()) + contourReach(c, u.Left().Scale(-1))
		if max(a, b) <= long+geom.Coincident && min(a, b) <= short+geom.Coincident {
			return true
		}
	}
	return false
}

func (f *LocatingFrame) judgeBed(j Params, shop profile.Shop) {
	for _, b := range f.Bars {
		for _, l := range b.Wood.Loops()[:1] {
			if fitsBed(l, shop.Bed) {
				continue
			}
			size := l.Bounds().Size()
			f.found.Errorf("cutting.profile", "bed-small", "the frame of %s x %s doesn't fit the bed of %s x %s, not even in bars", unit.Len(size.X), unit.Len(size.Y), unit.Len(shop.Bed[0]), unit.Len(shop.Bed[1])).
				Hintf("take a shop with a larger bed, or write frame = 0").Propose("template.frame", unit.Len(0))
			return
		}
	}
	if len(f.Bars) > 1 {
		f.found.Add(diag.New(diag.Note, "template.frame", "frame-bars",
			"the frame is larger than the bed of %s x %s and is drawn in %d bars with %d keys to join them", unit.Len(shop.Bed[0]), unit.Len(shop.Bed[1]), len(f.Bars), len(f.Joints)))
	}
}

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
	"strapwork/pkg/job"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
)

const (
	mostCuts      = 8    // bars of one side
	fewSides      = 6    // up to which every side is a bar of its own
	jointKeyPart  = 6.0  // a key's disc is this part of the frame's width across its radius
	jointKeyLeast = 5.0  // mm, least radius of a key's disc
	jointKeyMost  = 12.0 // mm
	jointKeyIn    = 0.8  // of its radius is a disc's centre from the joint
)

// A Bar is one piece of a frame.
type Bar struct {
	Wood  region.Region
	cells []cell
}

// A cell is the part of a bar that belongs to one side.
type cell struct {
	outline geom.Contour // four-sided, without reliefs, recesses and notches
	outward geom.Point
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
// takes anything.
func (f *LocatingFrame) makeBars(bed [2]float64) {
	whole := Bar{Wood: f.Wood}
	for i := range f.Inside.Sides {
		whole.cells = append(whole.cells, f.cells(i, 1)...)
	}
	f.Bars = []Bar{whole}
	if fitsBed(f.Outside.Polygon(), bed) {
		return
	}
	n := f.Inside.Len()
	for m := n / 2; n > fewSides && m > 1; m-- {
		if n%m == 0 && f.tryBars(bed, m, 1) {
			return
		}
	}
	for q := 1; q <= mostCuts; q++ {
		if f.tryBars(bed, 1, q) {
			return
		}
	}
}

// tryBars cuts the frame into bars of m whole sides each, or q bars to a side,
// and reports whether they fit.
func (f *LocatingFrame) tryBars(bed [2]float64, m, q int) bool {
	joints := f.joints(m, q)
	var recesses []region.Region
	for _, j := range joints {
		r := f.joint.recess(j)
		if f.Key.Radius > 0 && r.Gap(region.Disc(f.Key.At, f.Key.Radius)) < f.joint.radius {
			return false
		}
		recesses = append(recesses, r)
	}
	wood := region.Subtract(f.Wood, region.Union(recesses...))
	var cells []cell
	for i := range f.Inside.Sides {
		cells = append(cells, f.cells(i, q)...)
	}
	if len(cells) != q*f.Inside.Len() {
		return false
	}
	var bars []Bar
	for group := range slices.Chunk(cells, m) {
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

// cells cuts side i of the frame into q parts, and returns none if a cut would
// run into a corner.
func (f *LocatingFrame) cells(i, q int) []cell {
	out := f.Inside.Sides[i].Out
	var list []cell
	in, at := f.Inside.Corner(i), f.Outside.Corner(i)
	for k := 1; k <= q; k++ {
		in2, at2 := f.Inside.Corner(i+1), f.Outside.Corner(i+1)
		if k < q {
			at2 = f.Outside.Corner(i).Lerp(at2, float64(k)/float64(q))
			in2 = at2.Sub(out.Scale(f.Width))
			along := out.Left()
			if in2.Sub(in).Dot(along) < f.Width || f.Inside.Corner(i+1).Sub(in2).Dot(along) < f.Width {
				return nil
			}
		}
		list = append(list, cell{geom.Polygon(in, at, at2, in2), out})
		in, at = in2, at2
	}
	return list
}

// joints are those between bars of m sides, or q to a side.
func (f *LocatingFrame) joints(m, q int) []Joint {
	var list []Joint
	for i := range f.Inside.Sides {
		if i%m == 0 {
			a, b := f.Inside.Corner(i), f.Outside.Corner(i)
			list = append(list, Joint{a.Lerp(b, 0.5), b.Sub(a).Unit()})
		}
		out := f.Inside.Sides[i].Out
		for k := 1; k < q; k++ {
			at := f.Outside.Corner(i).Lerp(f.Outside.Corner(i+1), float64(k)/float64(q))
			list = append(list, Joint{at.Sub(out.Scale(f.Width / 2)), out})
		}
	}
	return list
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

// FitsBed reports whether a part's outline fits a machine's bed, in mm, laid
// along one of its straight edges. A bed of no size takes anything.
func (p Part) FitsBed(bed [2]float64) bool {
	for _, l := range p.Sheet.Lines {
		if l.Role == sheet.Edge && !fitsBed(l.Contour, bed) {
			return false
		}
	}
	return true
}

func (f *LocatingFrame) judgeBed(j *job.Job, shop profile.Shop) {
	for _, b := range f.Bars {
		for _, l := range b.Wood.Loops()[:1] {
			if fitsBed(l, shop.Bed) {
				continue
			}
			size := l.Bounds().Size()
			f.found.Errorf(j.Pos("cutting.profile"), "bed-small", "the frame of %.1f x %.1f mm doesn't fit the bed of %g x %g mm, not even in bars", size.X, size.Y, shop.Bed[0], shop.Bed[1]).
				Hintf("take a shop with a larger bed, or say frame = 0")
			return
		}
	}
	if len(f.Bars) > 1 {
		f.found.Add(diag.New(diag.Note, j.Pos("template.frame"), "frame-bars",
			"the frame is larger than the bed of %g x %g mm and is drawn in %d bars with %d keys to join them", shop.Bed[0], shop.Bed[1], len(f.Bars), len(f.Joints)))
	}
}

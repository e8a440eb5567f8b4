package template

// The frame that every panel is laid in.
//
// A panel is located by two neighbouring sides of the frame's opening, the
// reference sides: these stand exactly where the panel's own sides are drawn,
// with no play. All other sides stand back by a gap, in which pairs of folding
// wedges (two tapers that slide on one another, so that the outer faces stay
// parallel) press the panel into the reference corner. So the panel's origin
// comes to lie on the motif's in every position, and what play there is, is
// always at the same side and moves nothing. The gap is that of the wedges and
// the play of both sides (template.play twice).
//
// Polygons with an even number of sides are wedged at the two sides that face
// the reference sides, those with an odd number at the one that faces the
// reference corner. The frame is of the walls' sheet: with a base that rides
// in the panel it only locates; a base that stands on the panel finds the
// frame flush with it.

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

// Measures of frames, mm; common practice where no reason is given.
const (
	wedgeGap    = 6.0  // for a pair of wedges half driven
	axisDeep    = 6.0  // of the notches on the pencilled axes
	axisHalf    = 4.0  // half of their width
	clampRoom   = 25.0 // of frame that the base never passes, for a clamp's shoe
	laserRelief = 1.5  // radius in a laser-cut frame's corners: a corner's melt may not hold the panel off
	cutterUsual = 6.0  // diameter of a cutter that isn't told
	cutterRoom  = 1.02 // a round that is just the cutter's size is refused by some machines
)

// A LocatingFrame locates the panels on the work.
type LocatingFrame struct {
	Width     float64 // of its sides, mm
	Gap       float64 // between a laid panel and the sides that are not reference sides, mm
	Inside    Shape   // of its opening, without corner reliefs, recess and keys
	Outside   Shape
	Reference [2]int        // the sides that panels are pressed against
	Wedged    []int         // the sides that wedges go to
	Wedges    []WedgePair   // where they go
	Opening   region.Region // what is cut out of it
	Wood      region.Region // all of it, in one piece
	Bars      []Bar         // what it is cut in: one bar, the whole frame, if that fits the bed
	Joints    []Joint       // between its bars
	Key       FrameKey      // what forbids wrong positions; zero if there is no room for one
	Screws    []Screw       // its screw holes
	Axes      []geom.Point  // tips of the notches on the work's axes
	Clear     float64       // least width of the outer strip that the router's base never passes, mm; the frame's whole width if the base is not told
	Overhang  Overhang      // beyond the board
	Support   Support       // what of it lies on the board
	Bearing   []bool        // of each side, whether it lies on the board; none where the job has no board
	joint     jointKey      // what joins the bars
	wanted    int           // how many screws it should have
	found     diag.Findings // what it lacks
}

// frameGap is the gap of a job's frame at the sides that don't locate.
func frameGap(j Params) float64 { return wedgeGap + 2*j.Template.Play }

// reliefRadius is the radius of the reliefs in inside corners. Dog-bones suit
// every machine, so a shop that isn't told gets them too.
func reliefRadius(s profile.Shop) float64 {
	if s.Cutter == profile.Laser && s.Name != "" {
		return laserRelief
	}
	d := s.CutterDiameter
	if d <= 0 {
		d = cutterUsual
	}
	return d / 2 * cutterRoom
}

// insideFor is a frame's opening for panels of a shape: at its true size where the
// panels are pressed against it, and a gap larger elsewhere.
func insideFor(s Shape, reference [2]int, gap float64) Shape {
	return s.grown(func(i int) float64 {
		if i == reference[0] || i == reference[1] {
			return 0
		}
		return gap
	})
}

// referenceOf are the sides of a shape that panels are pressed against.
func referenceOf(s Shape) [2]int { return [2]int{s.Len() - 1, 0} }

// leastSide is the length in mm of a frame's shortest side: where a shape has
// many short ones, the gap takes all of those beside the reference sides.
const leastSide = 1.0

// frameFits reports whether a frame can be drawn round the panels, and tells of
// it if not.
func (s *Set) frameFits(j Params) bool {
	gap := frameGap(j)
	if insideFor(s.Shape, referenceOf(s.Shape), gap).shortest() >= leastSide {
		return true
	}
	s.Found.Errorf("template.frame", "frame-sides", "panels that are turned into %d places have as many sides, of %s: too short for a frame that they are wedged into with a gap of %s",
		s.Shape.Len(), unit.Len(s.Shape.shortest()), unit.Len(gap)).
		Hintf("write turn = false in [template], or frame = 0 and find another way to lay the panels true").
		Propose("template.turn", unit.Say("false")).Propose("template.frame", unit.Len(0))
	return false
}

// newFrame draws the frame for panels of a shape, whose sides are long enough for
// it.
func newFrame(j Params, size groove.Size, shape Shape, cuts []groove.Cut, shop profile.Shop) *LocatingFrame {
	n := shape.Len()
	f := &LocatingFrame{Width: j.Template.Frame, Gap: frameGap(j), Reference: referenceOf(shape)}
	f.Wedged = []int{(n - 1) / 2}
	if n%2 == 0 {
		f.Wedged = []int{n/2 - 1, n / 2}
	}
	f.Inside = insideFor(shape, f.Reference, f.Gap)
	f.Outside = f.Inside.grown(func(int) float64 { return f.Width })
	f.Key = newKey(shape, f.Gap, j.Template.Web)
	f.Opening = f.opening(reliefRadius(shop))
	f.Wood = region.Subtract(region.New(f.Outside.Polygon()), region.Union(f.Opening, f.axes()))
	f.joint = newJointKey(f.Width, reliefRadius(shop))
	f.makeBars(shop.Bed)
	f.placeWedges()
	f.lieOn(j.Board)
	sweep := baseSweep{cuts, baseRadius(j) + size.Offset()}
	f.placeScrews(sweep, j.Board)
	f.Clear = f.clear(sweep)
	f.judge(j, shape, shop)
	return f
}

// opening is the inside with a relief in every corner and the key's recess. A
// relief is a disc that reaches a tenth of its radius beyond the corner, so
// that both sides are clear of a panel's sharp corner whatever the cutter.
func (f *LocatingFrame) opening(relief float64) region.Region {
	parts := []region.Region{region.New(f.Inside.Polygon())}
	for i := range f.Inside.Sides {
		at := f.Inside.Corner(i)
		in := f.Inside.Sides[i].Out.Add(f.Inside.Sides[(i+f.Inside.Len()-1)%f.Inside.Len()].Out).Unit().Scale(-0.9 * relief)
		parts = append(parts, region.Disc(at.Add(in), relief))
	}
	if f.Key.Radius > 0 {
		parts = append(parts, region.Disc(f.Key.At, f.Key.Radius+keyFit))
	}
	return region.Union(parts...)
}

// axes are the notches in the outside where the work's axes leave the frame:
// triangles whose tips are on the axis, to be laid over its pencil line.
func (f *LocatingFrame) axes() region.Region {
	outside := f.Outside.Polygon()
	var cuts []region.Region
	for q := range 4 {
		along := geom.TurningFraction(q, 4).Apply(geom.Pt(1, 0))
		edge, ok := leaves(outside, along)
		if !ok {
			continue
		}
		tip := edge.Add(along.Scale(-axisDeep))
		// Twice as long as it is deep: the far end is beyond the side, however that slants.
		side := along.Left().Scale(2 * axisHalf)
		far := tip.Add(along.Scale(2 * axisDeep))
		cuts = append(cuts, region.New(geom.Polygon(tip, far.Sub(side), far.Add(side))))
		f.Axes = append(f.Axes, tip)
	}
	return region.Union(cuts...)
}

// leaves is the last point of a contour on the ray from the origin, if there is
// one.
func leaves(c geom.Contour, along geom.Point) (geom.Point, bool) {
	far := geom.Line(geom.Point{}, along.Scale(2*contourReach(c, along)+1))
	best, found := geom.Point{}, false
	for _, e := range c.Edges() {
		for _, m := range geom.Crossings(far, e, geom.Coincident) {
			if !found || m.At.Dot(along) > best.Dot(along) {
				best, found = m.At, true
			}
		}
	}
	return best, found
}

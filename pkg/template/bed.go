package template

import (
	"slices"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/work"
)

// Fit reports whether all panels, as they are drawn, fit the bed that they were drawn
// for.
func (s Set) Fit(bed [2]float64) bool {
	return !slices.ContainsFunc(s.Panels, func(p Panel) bool { return p.Division == nil && !fixture.FitsBed(p.Outline, bed) })
}

// Fits reports whether all panels would fit a bed, whole or in parts.
func (s Set) Fits(t work.Template, bed [2]float64) bool {
	for _, p := range s.Panels {
		if !fixture.FitsBed(p.Outline, bed) && p.divide(p.Shape, bed, t.Web, panelKey(profile.Plain())) == nil {
			return false
		}
	}
	return true
}

// panelKey is the key for the joints of panels as a shop cuts it.
func panelKey(shop profile.Shop) fixture.JointKey {
	return fixture.NewJointKey(wholeWidth, fixture.ReliefRadius(shop))
}

// mostShifts is how many joints to either side of an even division are asked for, a
// track's width apart, besides those that are as far off as the bed lets them be.
const mostShifts = 2

// Frees are the joints by which panels of the set's shape could be made in parts that
// fit a bed, if openings kept off them: those of an even division, and of others beside
// it, so that what one panel can't hold another can. The panels may be in so many parts
// more than it takes.
func (s Set) Frees(t work.Template, size groove.Size, bed [2]float64, more int) []plan.Free {
	p := Panel{Outline: s.blank()}
	v := newDivider(s.Shape, bed, t.Web, panelKey(profile.Plain()))
	pitch := 2 * (size.RiderRadius + size.Offset() + t.Web + groove.PastSplit)
	far := bed[0] + bed[1]
	shifts := []float64{0}
	for i := 1; i <= mostShifts; i++ {
		shifts = append(shifts, float64(i)*pitch, -float64(i)*pitch)
	}
	shifts = append(shifts, far, -far) // as far as the bed lets them be
	turns := s.Shape.Placements(geom.Coincident)
	var list []plan.Free
	for _, x := range shifts {
		for _, y := range shifts {
			for i := range v.shift {
				v.shift[i] = []float64{x, y}[i%2]
			}
			d := v.panel(p, s.Shape)
			if d == nil {
				return list
			}
			if len(list) == 0 && more > 0 {
				v.from, more = len(d.Parts)+more, 0
				if d = v.panel(p, s.Shape); d == nil {
					return list
				}
			}
			v.from = len(d.Parts)
			for _, turn := range turns {
				free := plan.Free{Web: t.Web}
				for _, j := range d.Joints {
					free.Lines = append(free.Lines, turn.Contour(geom.Chain(false, j.Line)).Edge(0))
				}
				list = append(list, free)
			}
		}
	}
	return slices.Clip(list)
}

// blank is the outline of a panel that may be laid in every way that its shape allows.
func (s Set) blank() geom.Contour {
	outline := s.Shape.Polygon()
	if s.Frame == nil || s.Frame.Key.Radius == 0 {
		return outline
	}
	var notches []region.Region
	for _, turn := range s.Shape.Placements(geom.Coincident) {
		notches = append(notches, region.Disc(turn.Apply(s.Frame.Key.At), s.Frame.Key.Notch))
	}
	return region.Subtract(region.New(outline), region.Union(notches...)).Loops()[0]
}

package build

// Whether what is cut from sheet fits the shop's machine, and which bed it takes.

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

// bed checks that the panels, whole or in parts, or the pivot bar fit the shop's
// machine. The frame is checked where it is drawn.
func (r Result) bed() (found diag.Findings) {
	what, size := "panels", geom.Point{}
	fits := func(bed [2]float64) bool { return r.Set.Fits(r.Job.Template, bed) }
	for _, p := range r.Set.Panels {
		if s := p.Outline.Bounds().Size(); p.Division == nil {
			size = geom.Pt(max(size.X, s.X), max(size.Y, s.Y))
		}
	}
	if len(r.Pivot.Holes) > 0 {
		what, size = "pivot bars", r.Pivot.Outline.Bounds().Size()
		fits = func(bed [2]float64) bool { return fixture.FitsBed(r.Pivot.Outline, bed) }
	}
	bed := r.Shop.Bed
	if bed[0] <= 0 || bed[1] <= 0 || fits(bed) {
		return nil
	}
	f := found.Errorf("cutting.profile", "bed-small", "%s of %s don't fit the bed of %s", what, fixture.BySize(size.X, size.Y), fixture.BySize(bed[0], bed[1]))
	wider := fixture.WiderBed(bed, fits)
	for _, s := range profile.List() {
		if s.Cutter == r.Shop.Cutter && fits(s.Bed) {
			f.Hintf("%s; profile = %q has one of %s", wider, s.Name, fixture.BySize(s.Bed[0], s.Bed[1])).
				Propose("cutting.profile", unit.Say("%q", s.Name))
			return found
		}
	}
	f.Hintf("%s; or make template.margin or the motif smaller", wider)
	return found
}

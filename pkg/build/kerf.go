package build

// The width of the cut: a laser burns a thin line, a router cuts a slot as wide
// as its cutter.

import (
	"math"

	"strapwork/pkg/aids"
	"strapwork/pkg/diag"
	"strapwork/pkg/job"
	"strapwork/pkg/profile"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

const (
	ruleKerf   = "bad-value"     // as for every other length that can't be right
	ruleCutIn  = "cutter-wide"   // the cutter doesn't go into what it is to cut
	ruleDrills = "holes-drilled" // holes that are left to a drill

	// laserKerf in mm is three times what lasers burn (0.1-0.3 mm); more is a slip
	// of the unit or of the point, or a router's.
	laserKerf = 1
	// cutterOff is the part of its diameter, and leastOff the length in mm, by which
	// a slot may differ from the cutter of the profile: wear and runout.
	cutterOff = 0.1
	leastOff  = 0.2
)

// checkKerf holds the job's kerf against the machine that cuts the templates.
func checkKerf(c *job.Cutting, shop profile.Shop) (found diag.Findings) {
	if c == nil || !c.KerfGiven {
		return nil
	}
	const key = "cutting.kerf"
	if shop.Cutter != profile.Router {
		if c.Kerf > laserKerf && (c.Profile == "" || shop.Name != "") {
			found.Errorf(key, ruleKerf, "a kerf of %s is not what a laser burns", unit.Len(c.Kerf)).
				Hintf("lasers burn %s to %s; a router's kerf is its cutter: name the router's profile, such as profile = %q", unit.Len(0.1), unit.Len(0.3), "router-1200x800")
		}
		return found
	}
	d := shop.CutterDiameter
	if math.Abs(c.Kerf-d) <= math.Max(cutterOff*d, leastOff) {
		return nil
	}
	report := found.Errorf
	if c.KerfBy == work.KerfByShop {
		report = found.Warnf
	}
	report(key, ruleKerf, "a kerf of %s, and the cutter of %s has %s: a router's kerf is the slot that its cutter makes", unit.Len(c.Kerf), shop.Name, unit.Len(d)).
		Hintf("measure the slot: kerf = %s or about that; for another cutter name a profile with its cutter_diameter", unit.Len(d).Typed()).
		Propose("cutting.kerf", unit.Len(d))
	return found
}

// milled is the width of the slot that a router cuts the templates with; 0 for a
// laser. Where the shop allows for it that is its cutter's.
func (r Result) milled() float64 {
	switch {
	case r.Shop.Cutter != profile.Router:
		return 0
	case r.Kerf() > 0:
		return r.Kerf()
	}
	return r.Shop.CutterDiameter
}

// checkCutter checks that a router's cutter goes into what it is to cut. It is
// an error where the outlines allow for it: they can't be drawn.
func (r Result) checkCutter() (found diag.Findings) {
	cut := r.milled()
	if cut == 0 {
		return nil
	}
	narrow, what := 2*r.Groove.Size.Reach(), "tracks"
	switch {
	case r.Job.Router.Guide == work.GuidePivot:
		narrow, what = math.Min(aids.PivotPin, r.Pivot.BitHole), "holes of the pivot bar"
	case r.Job.Template.Floor > 0 && template.SlotWidth(r.Groove.Size) < narrow:
		narrow, what = template.SlotWidth(r.Groove.Size), "floor's slots"
	}
	if narrow-cut < sheet.LeastPath {
		severity, key := diag.Warning, diag.Key("cutting.profile")
		if r.Kerf() > 0 {
			severity, key = diag.Error, "cutting.kerf"
		}
		wide, slot := unit.Apart(cut, narrow)
		f := diag.New(severity, key, ruleCutIn, "the cutter of %s doesn't fit into the %s of %s", wide, what, slot)
		f.Hintf("have them cut with a cutter of at most %s, or by a laser; a profile of your own says cutter_diameter", unit.AtMost(narrow-sheet.LeastPath))
		return diag.Findings{f}
	}
	if r.Kerf() > 0 && r.Job.Router.Guide.HasPanels() {
		for _, d := range r.Set.Drilled(r.Kerf()) {
			found.Notef("cutting.kerf", ruleDrills, "holes of %s are too small for the cutter and are drawn as crosses: drill them", unit.Len(d))
		}
	}
	return found
}

package build

// Whether what is cut from sheet fits the shop's machine, and which bed it takes.

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

const (
	mostReplans = 2 // plans for the bed in which panels have so many parts
	mostMore    = 2 // numbers of parts that are tried, from the least on
)

// A bedPlan is a plan whose panels can be made in parts that fit a bed.
type bedPlan struct {
	plan made[plan.Plan]
	set  made[template.Set]
}

// forBed shares the cuts out anew where panels can't be made in parts that fit the
// shop's bed, so that openings leave room for joints, and keeps what then fits.
func (a *asking) forBed(r Result, s *shared) {
	bed := r.Shop.Bed
	if a.set.Value.Fit(bed) || s.panels.Value.Step.Repeats > 0 {
		return
	}
	a.Step("sharing out the cuts for panels in parts")
	if p, ok := a.planFor(r, s, r.Shop); ok {
		a.set = p.set
		s.forBed.Notef("cutting.profile", "plan-bed", "the cuts are shared out so that panels can be made in parts for the bed of %s: %s; without that they would be: %s",
			fixture.BySize(bed[0], bed[1]), p.plan.Value, s.panels.Value)
	}
}

// planFor plans for a shop's bed; not ok where no plan's panels fit. The outline of a
// plan's panels may differ from that of the plan before it, and so do the joints: they
// are asked for again. More parts leave more room between the joints of one panel and
// of another.
func (a *asking) planFor(r Result, s *shared, shop profile.Shop) (p bedPlan, ok bool) {
	for more := range mostMore {
		set := a.set
		for range mostReplans {
			want := paramsFor(r, set.Value, shop.Bed, more)
			if len(want.Clear) == 0 {
				return p, false
			}
			if !plan.CouldClear(want, &a.groove.Value) {
				break
			}
			p.plan = a.planWith(want, s.cuts)
			if len(p.plan.Value.Panels) == 0 {
				break
			}
			set = ask(a.Graph, "openings", setIn{FixtureParams(r.Job), a.groove, p.plan, shop}, makeSet)
			if p.set = set; set.Value.Fit(shop.Bed) {
				return p, true
			}
		}
	}
	return p, false
}

// planWith plans as the job prefers, or where that finds nothing, with splits wherever
// they help: that finds a plan sooner.
func (a *asking) planWith(want plan.Params, cuts made[[]groove.Cut]) made[plan.Plan] {
	p := askUntil(a.Graph, "plan", planIn{want, a.groove, cuts}, a.goOn, makePlan)
	if len(p.Value.Panels) == 0 && want.Prefer != work.PreferSetups {
		want.Prefer = work.PreferSetups
		p = askUntil(a.Graph, "plan", planIn{want, a.groove, cuts}, a.goOn, makePlan)
	}
	return p
}

// paramsFor are what the job's panels are planned by where those of a set don't fit a
// bed, in so many parts more than it takes.
func paramsFor(r Result, set template.Set, bed [2]float64, more int) plan.Params {
	want := PlanParams(r.Job)
	want.Clear = set.Frees(r.Job.Template, GrooveSize(r.Job), bed, more)
	return want
}

// bed checks that the panels, whole or in parts, or the pivot bar fit the shop's
// machine. The frame is checked where it is drawn.
func (a *asking) bed(r Result, s *shared) (found diag.Findings) {
	bed := r.Shop.Bed
	if bed[0] <= 0 || bed[1] <= 0 {
		return nil
	}
	if len(r.Pivot.Holes) > 0 {
		size := r.Pivot.Outline.Bounds().Size()
		fits := func(bed [2]float64) bool { return fixture.FitsBed(r.Pivot.Outline, bed) }
		return r.reportBed("pivot bars", size, bedFits{fits, fits, fits})
	}
	if r.Set.Fit(bed) {
		return nil
	}
	size := geom.Point{}
	for _, p := range r.Set.Panels {
		if s := p.Outline.Bounds().Size(); p.Division == nil {
			size = geom.Pt(max(size.X, s.X), max(size.Y, s.Y))
		}
	}
	drawn := func(bed [2]float64) bool { return r.Set.Fits(r.Job.Template, bed) }
	return r.reportBed("panels", size, bedFits{
		drawn: drawn,
		could: func(bed [2]float64) bool {
			if drawn(bed) || r.Set.Plan.Step.Repeats > 0 {
				return drawn(bed)
			}
			for more := range mostMore {
				want := paramsFor(r, r.Set, bed, more)
				if len(want.Clear) == 0 {
					return false
				}
				if plan.CouldClear(want, &a.groove.Value) {
					return true
				}
			}
			return false
		},
		does: func(bed [2]float64) bool {
			if drawn(bed) || r.Set.Plan.Step.Repeats > 0 {
				return drawn(bed)
			}
			shop := r.Shop
			shop.Bed = bed
			_, ok := a.planFor(r, s, shop)
			return ok
		},
	})
}

// bedFits says which beds would do for what doesn't fit the shop's.
type bedFits struct {
	drawn func([2]float64) bool // what is drawn would fit
	could func([2]float64) bool // something might fit if it were planned for the bed
	does  func([2]float64) bool // something does: to be asked seldom
}

// closeBeds is how near in mm the bed that is named is to one that doesn't do, where only
// plans show it: each takes some seconds.
const closeBeds = 4

// least is the least bed that does, grown from one in some way; where it grows along one
// side and only a plan shows which that is, the least that takes what is drawn.
func (f bedFits) least(bed, growth [2]float64) (_ [2]float64, ok bool) {
	grown := func(by int) [2]float64 { return fixture.Grown(bed, growth, by) }
	by, ok := fixture.Wider(bed, growth, f.could)
	if !ok || f.does(grown(by)) {
		return grown(by), ok
	}
	drawn, ok := fixture.Wider(bed, growth, f.drawn)
	for ok && drawn-by > closeBeds && growth[0]*growth[1] > 0 {
		if mid := (drawn + by) / 2; f.does(grown(mid)) {
			drawn = mid
		} else {
			by = mid
		}
	}
	return grown(drawn), ok
}

// reportBed reports that something doesn't fit the shop's bed, and which would do.
func (r Result) reportBed(what string, size geom.Point, fits bedFits) (found diag.Findings) {
	bed := r.Shop.Bed
	if fits.drawn(bed) {
		return nil
	}
	f := found.Errorf("cutting.profile", "bed-small", "%s of %s don't fit the bed of %s", what, fixture.BySize(size.X, size.Y), fixture.BySize(bed[0], bed[1]))
	var wider [][2]float64
	for _, growth := range fixture.Growths(bed) {
		if w, ok := fits.least(bed, growth); ok {
			wider = append(wider, w)
		}
	}
	for _, s := range profile.List() {
		if s.Cutter == r.Shop.Cutter && fits.could(s.Bed) && fits.does(s.Bed) {
			f.Hintf("%s; profile = %q has one of %s", fixture.WouldDo(wider), s.Name, fixture.BySize(s.Bed[0], s.Bed[1])).
				Propose("cutting.profile", unit.Say("%q", s.Name))
			return found
		}
	}
	f.Hintf("%s; or make template.margin or the motif smaller", fixture.WouldDo(wider))
	return found
}

package build

// Panels that are stepped along a motif that repeats: where the job says by how much, or
// where panels of the whole motif are too long for the shop's bed.

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

const stepKey = "template.step"

// planSteps plans panels that are stepped, if whole ones are too long for the shop's bed and
// the job leaves it to us: by as many repeats as the bed takes. It reports whether it did.
func (a *asking) planSteps(r Result, s *shared) bool {
	bed, g := r.Shop.Bed, &a.groove.Value
	if r.Job.Template.Step != work.Stepped || bed[0] <= 0 || bed[1] <= 0 {
		return false
	}
	box := r.Motif.Bounds().Expand(g.Size.Reach() + r.Job.Template.Margin)
	if fixture.FitsBed(geom.Rect(box), bed) {
		return false
	}
	want := PlanParams(r.Job)
	pitch, ok := plan.PitchOf(g)
	if !ok {
		return false
	}
	a.Step("sharing out the cuts over panels that are stepped along")
	room := max(bed[0], bed[1]) - 2*(g.Size.Reach()+r.Job.Template.Margin)
	for n := min(plan.MostRepeats(want, g), int(room/pitch.Norm())); n > 0; {
		want.Step = n
		p := askUntil(a.Graph, "plan", planIn{want, a.groove, s.cuts}, a.goOn, makePlan)
		if p.Found.HasErrors() {
			n--
			continue
		}
		set := ask(a.Graph, "openings", setIn{FixtureParams(r.Job), a.groove, p, r.Shop}, makeSet)
		long := tooLong(set.Value.Panels, pitch, bed)
		if long <= 0 {
			s.panels, a.set = p, set
			s.forBed.Notef(stepKey, "plan-step", "panels of the whole pattern, %s, don't fit the bed of %s: they are stepped along it, by %s of %s",
				fixture.BySize(box.Size().X, box.Size().Y), fixture.BySize(bed[0], bed[1]), unit.Count(n, "repeat"), unit.Len(pitch.Norm()))
			return true
		}
		n -= max(1, int(math.Ceil(long/pitch.Norm())))
	}
	return false
}

// tooLong is by how many mm the longest panel that doesn't fit a bed is longer, along a pitch;
// 0 where all fit.
func tooLong(panels []template.Panel, pitch geom.Point, bed [2]float64) float64 {
	most, u := 0.0, pitch.Unit()
	for _, p := range panels {
		if !fixture.FitsBed(p.Outline, bed) {
			long := fixture.Reach(p.Outline, u) + fixture.Reach(p.Outline, u.Scale(-1))
			most = max(most, long-max(bed[0], bed[1]), 1)
		}
	}
	return most
}

// planFaults says why there is no plan.
func planFaults(want plan.Params, g *groove.Groove, p plan.Plan) (found diag.Findings) {
	switch {
	case p.Crowded:
		found.Errorf("motif", "plan-crowded", "so many cuts lie within reach of one another that they can't be shared out over panels").
			Hintf("take a smaller rider, or make the motif in parts")
	case want.Step == 0 || len(p.Panels) > 0:
	case !hasPitch(g):
		found.Errorf(stepKey, "step-pitch", "the motif doesn't repeat: no shift lays it on itself but for its ends").
			Hintf("write step = 0; a pattern repeats that is drawn with repeat in [[motif.group]], or is a plait, a straight guilloche or a fret").Propose(stepKey, unit.Say("0"))
	default:
		most := plan.MostRepeats(want, g)
		f := found.Errorf(stepKey, "step-long", "no plan was found of panels that are stepped by %s: the pattern is long enough for steps of up to %d", unit.Count(want.Step, "repeat"), most)
		if most > 0 && most < want.Step {
			f.Hintf("write step = %d, or less", most).Propose(stepKey, unit.Say("%d", most))
		} else {
			f.Hintf("write step = 0 for whole panels, or another step").Propose(stepKey, unit.Say("0"))
		}
	}
	return found
}

// hasPitch reports whether a motif has a pitch.
func hasPitch(g *groove.Groove) bool {
	_, ok := plan.PitchOf(g)
	return ok
}

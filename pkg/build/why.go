package build

// Why so many: where one change would at least halve the cuts, the set-ups or the
// panels, one note says which and by how much. The figures are those of the
// stages, run with the change; what would take long to find out isn't asked.

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// RuleWhyMany is the rule of the note that says what would make a job's cuts,
// set-ups or panels fewer by half.
const RuleWhyMany = "why-many"

// From how many on it is asked why.
const (
	manyCuts   = 20
	manySetUps = 4
	manyPanels = 2
)

type whyIn struct {
	Params plan.Params
	Router work.Router
	Groove made[groove.Groove]
	Set    made[template.Set]
}

// why is the note, if a change is found.
func why(in whyIn) (_ struct{}, found diag.Findings) {
	w := asker{params: in.Params, router: in.Router, groove: in.Groove.Value, plan: in.Set.Value.Plan, found: &found}
	_ = w.corners() || !w.plan.InParts && w.plan.Step.Repeats == 0 && (w.panels() || w.setUps())
	return struct{}{}, found
}

// An asker asks what a change would be good for.
type asker struct {
	params plan.Params
	router work.Router
	groove groove.Groove
	plan   plan.Plan
	found  *diag.Findings
}

// withRider is the groove with a rider of another diameter.
func (w asker) withRider(d float64) groove.Groove {
	g := w.groove
	g.Size.RiderRadius = d / 2
	return g
}

// corners asks what a rider as wide as the bit, which turns any corner, would
// be good for where the corners are what splits the groove.
func (w asker) corners() bool {
	n, rt := len(w.plan.Cuts()), w.router
	if n < manyCuts || rt.RiderDiameter <= rt.Bit+geom.Coincident || 2*w.groove.SharpCorners() < n {
		return false
	}
	g := w.withRider(rt.Bit)
	few, ok := plan.Few(&g)
	if !ok || 2*few > n {
		return false
	}
	f := w.found.Notef("router.rider", RuleWhyMany, "%d cuts: a rider of %s can't turn a sharp corner, and the groove is split at each of the %d; with a rider as wide as the bit it is %d cuts", n, unit.Len(rt.RiderDiameter), w.groove.SharpCorners(), few)
	f.Hintf(`guide = "bearing" with rider = %s, on a bit whose shank is thinner than that; wider riders need the corners rounded`, unit.Len(rt.Bit).Typed())
	return true
}

// panels asks what panels that are turned, or turned over, would be good for.
func (w asker) panels() bool {
	t, p := w.params, w.plan
	if len(p.Panels) < manyPanels || t.Turn && (t.Flip || !w.router.Guide.TurnsOver()) {
		return false
	}
	with, key := w.params, diag.Key("turn")
	if with.Turn {
		with.Flip, key = true, "flip"
	} else {
		with.Turn = true
	}
	if plan.Positions(with, &w.groove) <= plan.Positions(w.params, &w.groove) {
		return false
	}
	rough, ok := plan.Roughly(with, &w.groove)
	if !ok || rough.Visible > p.Visible || rough.SetUps > len(p.SetUps) || 2*rough.Panels > len(p.Panels) {
		return false
	}
	w.found.Notef("template."+key, RuleWhyMany, "%d panels: with %s = true it is %s", len(p.Panels), key, unit.Count(rough.Panels, "panel")).
		Hintf("write %s = true in [template]", key).Propose("template."+key, unit.Say("true"))
	return true
}

// setUps asks what a smaller rider would be good for: one as wide as the bit,
// than which none does better, and where that is good for something half the size.
func (w asker) setUps() bool {
	p, rt := w.plan, w.router
	if len(p.SetUps) < manySetUps || rt.RiderDiameter <= rt.Bit+geom.Coincident {
		return false
	}
	halves := func(rider float64) (plan.Rough, bool) {
		g := w.withRider(rider)
		rough, ok := plan.Roughly(w.params, &g)
		return rough, ok && rough.Visible <= p.Visible && 2*rough.SetUps <= len(p.SetUps)
	}
	rider := rt.Bit
	rough, ok := halves(rider)
	if !ok {
		return false
	}
	if half := rt.RiderDiameter / 2; half > rt.Bit {
		if larger, ok := halves(half); ok {
			rider, rough = half, larger
		}
	}
	w.found.Notef("router.rider", RuleWhyMany, "%d set-ups: with a rider of %s in place of %s it is %s", len(p.SetUps), unit.Len(rider), unit.Len(rt.RiderDiameter), unit.Count(rough.SetUps, "set-up")).
		Hintf(`a smaller base, a collar (guide = "bushing") or a bearing (guide = "bearing")`)
	return true
}

package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/work"
)

// heightsJSON says how far the bit stands out of the router at each pass, and for the
// sheet what was compared, with what outcome. A job whose heights are wrong is not
// built.
type heightsJSON struct {
	StandsOn  string `json:"stands_on"` // "floor", "work", "template", "bar"
	Above     num    `json:"above"`     // how high that is above the work
	BelowBase []num  `json:"below_base"`

	Reach   num    `json:"-"` // below the base at the last pass
	Flute   string `json:"-"` // see fluteOutcome
	Shank   string `json:"-"` // see shankOutcome
	Collar  string `json:"-"` // its length: "stated", "unstated", "" without a collar
	Bearing num    `json:"-"` // how far above the work it begins at the first pass; 0: not known, or none
	Rim     string `json:"-"` // see rimOutcome
	Held    num    `json:"-"` // radius up to which the panel holds the base
	Over    num    `json:"-"` // by how much the base reaches beyond that
}

// newHeights is nil where there are no templates.
func newHeights(r build.Result) *heightsJSON {
	j := r.Job
	if !j.Router.Guide.HasTemplates() {
		return nil
	}
	on := standOf(j)
	held := r.Groove.Size.RiderRadius + j.Template.Margin
	out := &heightsJSON{
		StandsOn: on.String(), Above: num(j.Template.Above(on)), BelowBase: each(newPasses(j), func(p passFacts) num { return p.BelowBase }),
		Reach: num(reach(j)), Flute: fluteOutcome(j), Shank: shankOutcome(j),
		Held: num(held), Over: num(j.Router.BaseDiameter/2 - held), Rim: rimOutcome(r, held),
	}
	switch by := j.Router.Guide; {
	case by == work.GuideBushing && j.Router.Collar > 0:
		out.Collar = "stated"
	case by == work.GuideBushing:
		out.Collar = "unstated"
	case by == work.GuideBearing && j.Router.Flute > 0:
		out.Bearing = num(j.Router.Flute - groove.Depths(j.Inlay.Depth, j.Router.Bit)[0])
	}
	return out
}

// standOf is what the router's base stands on while it cuts.
func standOf(j *job.Job) work.Stand { return j.Router.Guide.Stands(j.Template.Floor) }

// reach is how far the bit comes out below the base at the last pass, mm.
func reach(j *job.Job) float64 { return j.Template.Above(standOf(j)) + j.Inlay.Depth }

// fluteOutcome says why the bit's flutes are long enough, or that the job doesn't say
// how long they are. Through a floor a base wants more of them, or a shank that passes
// the floor's slot.
func fluteOutcome(j *job.Job) string {
	r, depth, floor := j.Router, j.Inlay.Depth, standOf(j) == work.OnFloor
	switch {
	case r.Flute == 0 && floor:
		return "unstated, through a floor"
	case r.Flute == 0:
		return "unstated"
	case floor && r.Flute < reach(j):
		return "shank in the slot"
	case r.Flute < depth:
		return "shank in the groove"
	case floor:
		return "long, through a floor"
	}
	return "long"
}

// shankOutcome says what the shank turns in above the work; "" for nothing.
func shankOutcome(j *job.Job) string {
	r := j.Router
	inCollar := r.Guide == work.GuideBushing && r.Flute > 0 && r.Flute < j.Template.Wall+j.Inlay.Depth
	switch {
	case r.Guide == work.GuideBearing && r.ShankDiameter == 0:
		return "unstated, in the bearing"
	case r.Guide == work.GuideBearing:
		return "in the bearing"
	case inCollar && r.ShankDiameter == 0:
		return "unstated, in the collar"
	case inCollar:
		return "in the collar"
	}
	return ""
}

// rimOutcome says what holds a base that stands on the template at the panel's rim: the
// panel itself up to a radius of held, the frame, or nothing; "" for a base that
// doesn't.
func rimOutcome(r build.Result, held float64) string {
	base, f := r.Job.Router.BaseDiameter, r.Set.Frame
	switch {
	case standOf(r.Job) != work.OnTemplate:
		return ""
	case base == 0:
		return "unstated"
	case f != nil && base/2 > held && base/2 <= held+f.Gap+f.Width:
		return "on the frame"
	case base/2 > held:
		return "over"
	}
	return "within"
}

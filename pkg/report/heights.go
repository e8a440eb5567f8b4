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
	h := heightsOf(j)
	held := r.Groove.Size.RiderRadius + j.Template.Margin
	out := &heightsJSON{
		StandsOn: h.on, Above: num(h.above), BelowBase: each(newPasses(j), func(p passFacts) num { return p.BelowBase }),
		Reach: num(h.above + j.Inlay.Depth), Flute: fluteOutcome(j, h), Shank: shankOutcome(j),
		Held: num(held), Over: num(j.Router.BaseDiameter/2 - held), Rim: rimOutcome(r, held),
	}
	switch j.Router.Guide {
	case work.GuideBushing:
		out.Collar = "unstated"
		if j.Router.Collar > 0 {
			out.Collar = "stated"
		}
	case work.GuideBearing:
		if j.Router.Flute > 0 {
			out.Bearing = num(j.Router.Flute - groove.Depths(j.Inlay.Depth, j.Router.Bit)[0])
		}
	case work.GuideBase, work.GuidePivot, work.GuideNone:
	}
	return out
}

// stand is what the router's base stands on while it cuts.
type stand struct {
	on    string
	above float64 // mm over the work's surface
}

// heightsOf tells a base that rides inside the wall, and so stands on the
// floor or on the work, from one that stands on the template.
func heightsOf(j *job.Job) stand {
	switch {
	case j.Router.Guide == work.GuidePivot:
		return stand{"bar", j.Template.Wall}
	case j.Router.Guide != work.GuideBase:
		return stand{"template", j.Template.Wall}
	case j.Template.Floor > 0:
		return stand{"floor", j.Template.Floor}
	}
	return stand{"work", 0}
}

// fluteOutcome says why the bit's flutes are long enough, or that the job doesn't tell
// how long they are. Through a floor a base wants more of them, or a shank that passes
// the floor's slot.
func fluteOutcome(j *job.Job, h stand) string {
	r, depth := j.Router, j.Inlay.Depth
	switch {
	case r.Flute == 0 && r.Guide == work.GuideBase && h.above > 0:
		return "unstated, through a floor"
	case r.Flute == 0:
		return "unstated"
	case r.Guide == work.GuideBase && r.Flute < h.above+depth:
		return "shank in the slot"
	case r.Flute < depth:
		return "shank in the groove"
	case r.Guide == work.GuideBase:
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
	case r.Job.Router.Guide != work.GuideBushing && r.Job.Router.Guide != work.GuideBearing:
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

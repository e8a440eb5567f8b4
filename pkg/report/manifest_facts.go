package report

// The manifest's plain facts: what the job file said, or what was assumed.

import (
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/profile"
	"strapwork/pkg/work"
)

type inlayJSON struct {
	Proud     num         `json:"proud"`
	Clearance num         `json:"clearance"`
	Strips    []stripJSON `json:"strips"` // left to right along the strand; empty where the job gives only a width
}

type stripJSON struct {
	Material  string `json:"material"`
	Thickness num    `json:"thickness"`
}

func newInlay(j *job.Job) inlayJSON {
	out := inlayJSON{Proud: num(j.Inlay.Proud), Clearance: num(j.Inlay.Clearance), Strips: []stripJSON{}}
	for _, s := range j.Inlay.Strips {
		out.Strips = append(out.Strips, stripJSON{s.Material, num(s.Thickness)})
	}
	return out
}

// guideJSON leaves out the measures that the job doesn't tell.
type guideJSON struct {
	By            string `json:"by"`
	RiderDiameter num    `json:"rider_diameter"`
	BitDiameter   num    `json:"bit_diameter"` // the width of the slot that it cuts
	Flute         num    `json:"flute,omitempty"`
	Shank         num    `json:"shank,omitempty"`
	Base          num    `json:"base,omitempty"`
	Collar        num    `json:"collar,omitempty"`
	OffCenter     num    `json:"off_center,omitempty"`
	Plunge        bool   `json:"plunge"`
}

func newGuide(j *job.Job) guideJSON {
	r := j.Router
	return guideJSON{
		By: r.Guide.String(), RiderDiameter: num(r.Rider), BitDiameter: num(r.Bit),
		Flute: num(r.Flute), Shank: num(r.Shank), Base: num(r.Base), Collar: num(r.Collar),
		OffCenter: num(r.OffCenter), Plunge: r.Plunge,
	}
}

type templateJSON struct {
	Web    num    `json:"web"`
	Margin num    `json:"margin"`
	Wall   num    `json:"wall"`
	Floor  num    `json:"floor"`
	Kerf   num    `json:"kerf"`    // full width of the burnt line; 0 where nothing was told
	KerfBy string `json:"kerf_by"` // "me": drawn compensated; "shop": drawn at true size
}

func newTemplate(j *job.Job) templateJSON {
	t := j.Template
	out := templateJSON{Web: num(t.Web), Margin: num(t.Margin), Wall: num(t.Wall), Floor: num(t.Floor), KerfBy: work.KerfByShop.String()}
	if c := j.Cutting; c != nil {
		out.Kerf = num(c.Kerf)
		if c.KerfBy == work.KerfByMe {
			out.KerfBy = c.KerfBy.String()
		}
	}
	return out
}

// cuttingJSON is the shop's profile; its name is empty where the job names
// none, and a path's folders are left out.
type cuttingJSON struct {
	Profile   string `json:"profile"`
	Cutter    string `json:"cutter,omitempty"`
	Tolerance num    `json:"tolerance"` // what the shop holds
	Bed       *xy    `json:"bed,omitempty"`
}

func newCutting(s profile.Shop) cuttingJSON {
	out := cuttingJSON{Profile: baseName(s.Name), Tolerance: num(s.Tolerance)}
	if s.Name != "" {
		out.Cutter = s.Cutter.String()
	}
	if s.Bed[0] > 0 && s.Bed[1] > 0 {
		out.Bed = &xy{num(s.Bed[0]), num(s.Bed[1])}
	}
	return out
}

// heightsJSON says how far the bit stands out of the router at each pass.
type heightsJSON struct {
	StandsOn  string `json:"stands_on"` // "floor", "work", "template", "bar"
	Above     num    `json:"above"`     // how high that is above the work
	BelowBase []num  `json:"below_base"`
}

func newHeights(j *job.Job) *heightsJSON {
	if !j.Router.Guide.HasTemplates() {
		return nil
	}
	h := heightsOf(j)
	out := &heightsJSON{StandsOn: h.on, Above: num(h.above)}
	for _, d := range groove.Depths(j.Inlay.Depth, j.Router.Bit) {
		out.BelowBase = append(out.BelowBase, num(h.above+d))
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

package report

// What the job file said, or what was assumed.

import (
	"strapwork/pkg/build"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/profile"
	"strapwork/pkg/work"
)

type grooveJSON struct {
	Width      num   `json:"width"`
	Depth      num   `json:"depth"`
	Play       num   `json:"play"`        // either side of the centre line, for the bit's centre
	DepthSteps []num `json:"depth_steps"` // of the passes, from the work's surface
}

func newGroove(r build.Result) grooveJSON {
	depths := groove.Depths(r.Job.Inlay.Depth, r.Job.Router.Bit)
	if !r.Job.Router.Guide.HasTemplates() {
		depths = r.Grooving.Plan.Depths
	}
	return grooveJSON{
		Width: num(r.Job.Inlay.Width), Depth: num(r.Job.Inlay.Depth), Play: num(r.Groove.Size.Offset()),
		DepthSteps: nums(depths),
	}
}

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

// guideJSON leaves out the measures that the job doesn't give.
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

	Rider    string `json:"-"` // what makers call it: "base", "collar", "bearing", "bar"
	RunsTrue bool   `json:"-"` // with its bit, whichever way the router faces
}

func newGuide(j *job.Job) guideJSON {
	r := j.Router
	return guideJSON{
		By: r.Guide.String(), RiderDiameter: num(r.RiderDiameter), BitDiameter: num(r.Bit),
		Flute: num(r.Flute), Shank: num(r.ShankDiameter), Base: num(r.BaseDiameter), Collar: num(r.Collar),
		OffCenter: num(r.OffCenter), Plunge: r.Plunge,
		Rider: r.Guide.Rider(), RunsTrue: r.Guide.RunsTrue(),
	}
}

type templateJSON struct {
	Web    num    `json:"web"`
	Margin num    `json:"margin"`
	Wall   num    `json:"wall"`
	Floor  num    `json:"floor"`
	Kerf   num    `json:"kerf"`    // full width of the burnt line; 0 where none was given
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

// passFacts is a pass: how deep it is in the work, and how far the bit then stands out
// of the router's base.
type passFacts struct {
	Number    int
	Depth     num
	BelowBase num
}

func newPasses(j *job.Job) []passFacts {
	above := j.Template.Above(standOf(j))
	var list []passFacts
	for i, d := range groove.Depths(j.Inlay.Depth, j.Router.Bit) {
		list = append(list, passFacts{i + 1, num(d), num(above + d)})
	}
	return list
}

// boardFacts is the board, and where the motif's origin lies on it from its lower left
// corner.
type boardFacts struct {
	Thickness num
	Left      num // of it under the groove
	Origin    xy
}

func newBoard(j *job.Job) *boardFacts {
	if j.Board == nil {
		return nil
	}
	return &boardFacts{num(j.Board.Thickness), num(j.Board.Thickness - j.Inlay.Depth), toXY(j.Board.Origin)}
}

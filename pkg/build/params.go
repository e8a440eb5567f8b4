package build

// Here alone the job file becomes what the stages take: none of them knows it.

import (
	"strapwork/pkg/aids"
	"strapwork/pkg/bend"
	"strapwork/pkg/budget"
	"strapwork/pkg/cutlist"
	"strapwork/pkg/fit"
	"strapwork/pkg/fixture"
	"strapwork/pkg/groove"
	"strapwork/pkg/heights"
	"strapwork/pkg/inlay"
	"strapwork/pkg/job"
	"strapwork/pkg/marks"
	"strapwork/pkg/plan"
	"strapwork/pkg/setup"
	"strapwork/pkg/stock"
	"strapwork/pkg/work"
)

// GrooveSize is how wide the job's groove is, and what cuts it.
func GrooveSize(j *job.Job) groove.Size { return groove.SizeOf(j.Inlay, j.Router, j.Template) }

// PlanParams are what the job's panels are planned by.
func PlanParams(j *job.Job) plan.Params {
	return plan.Params{Turn: j.Template.Turn, Flip: j.Template.Flip && j.Router.Guide.TurnsOver(), Prefer: j.Template.Prefer, Step: max(0, j.Template.Step)}
}

// InlayParams are what the job's strips are laid by.
func InlayParams(j *job.Job) inlay.Params {
	return inlay.Params{Strips: j.Inlay.Strips, Width: j.Inlay.Width, Board: j.Board, Wood: j.Wood, Laid: j.Inlay.Laid, Units: j.Units}
}

// ListParams are what the job's pieces are listed by. The layers are those of its lay-up.
func ListParams(j *job.Job, layers []bend.Layer) cutlist.Params {
	p := cutlist.Params{Inlay: j.Inlay}
	for _, l := range layers {
		p.Springs = append(p.Springs, l.Dry())
	}
	return p
}

// StockParams are what the job's strips are cut from, and to which pieces. Where the job names no strips
// there is nothing to buy.
func StockParams(j *job.Job, l cutlist.List) stock.Params {
	p := stock.Params{Stock: j.Stock, Height: l.Height}
	if len(l.Layup) == 0 {
		return p
	}
	for _, q := range l.Pieces {
		p.Pieces = append(p.Pieces, stock.Piece{
			Number: q.Number, Run: stock.Run{Strand: q.Strand, Strip: q.Strip},
			Material: q.Material, Thickness: q.Thickness, Length: l.Cut(q),
		})
		if q.Strip == 0 {
			p.Layup = l.Layup
		}
	}
	return p
}

// HeightsParams are what of the job has heights.
func HeightsParams(j *job.Job) heights.Params {
	return heights.Params{Router: j.Router, Template: j.Template, Depth: j.Inlay.Depth, Board: j.Board, Apart: j.Table != nil}
}

// FixtureParams are what the job's panels, and the frame that they are laid in, are
// drawn by.
func FixtureParams(j *job.Job) fixture.Params {
	return fixture.Params{Router: j.Router, Template: j.Template, Board: j.Board, Units: j.Units}
}

// MarksParams are what the job's panels and frame are engraved with. Revision says
// one state of the job from another.
func MarksParams(j *job.Job, revision string) marks.Params {
	p := marks.Params{Title: j.Title, Units: j.Units, Guide: j.Router.Guide, Size: GrooveSize(j), Revision: revision}
	if t := j.Table; t != nil && len(t.Stations) == 0 {
		p.Joint = marks.Joint{On: true, Stops: t.Groove == work.GrooveApart && j.Router.Guide.RidesBase()}
	}
	return p
}

// AidsParams are what the job's shop aids, and its pivot bar, depend on.
func AidsParams(j *job.Job) aids.Params {
	return aids.Params{Router: j.Router, Template: j.Template, Depth: j.Inlay.Depth, Units: j.Units}
}

// SetupParams are what the pictures of the job's set-ups show besides its panels.
func SetupParams(j *job.Job) setup.Params {
	return setup.Params{Title: j.Title, Units: j.Units, Router: j.Router, Margin: j.Template.Margin, Board: j.Board, Wood: j.Wood, Table: j.Table}
}

// FitParams are what the job's strips and grooves are held to, as measured.
func FitParams(j *job.Job) fit.Params { return fit.Params{Inlay: j.Inlay, Bit: j.Router.Bit} }

// BudgetParams are what of the job its error budget depends on.
func BudgetParams(j *job.Job) budget.Params {
	p := budget.Params{Router: j.Router, Floor: j.Template.Floor, Elements: j.Motif.Elements}
	if j.Cutting != nil {
		p.KerfBy = j.Cutting.KerfBy
	}
	return p
}

// GivenKerf is the kerf that the job gives, whoever allows for it; 0 where it gives
// none.
func (r Result) GivenKerf() float64 {
	if c := r.Job.Cutting; c != nil {
		return c.Kerf
	}
	return 0
}

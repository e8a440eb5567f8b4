package build

// Here alone the job file becomes what the stages take: none of them knows it.

import (
	"strapwork/pkg/budget"
	"strapwork/pkg/groove"
	"strapwork/pkg/inlay"
	"strapwork/pkg/job"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
	"strapwork/pkg/work"
)

// GrooveSize is how wide the job's groove is, and what cuts it.
func GrooveSize(j *job.Job) groove.Size { return groove.SizeOf(j.Inlay, j.Router, j.Template) }

// PlanParams are what the job's panels are planned by.
func PlanParams(j *job.Job) plan.Params {
	return plan.Params{Turn: j.Template.Turn, Flip: j.Template.Flip && j.Router.Guide != work.GuideBase, Prefer: j.Template.Prefer}
}

// InlayParams are what the job's strips are laid by.
func InlayParams(j *job.Job) inlay.Params {
	return inlay.Params{Strips: j.Inlay.Strips, Width: j.Inlay.Width, Board: j.Board, Units: j.Units}
}

// TemplateParams are what the job's templates are drawn by.
func TemplateParams(j *job.Job) template.Params {
	return template.Params{
		Title: j.Title, Units: j.Units, Copies: j.Motif.Copies,
		Router: j.Router, Inlay: j.Inlay, Template: j.Template, Board: j.Board,
	}
}

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

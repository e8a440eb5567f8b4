package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/plan"
)

func newPanels(r build.Result) []panelJSON {
	list := make([]panelJSON, 0, len(r.Set.Panels))
	for _, p := range r.Set.Panels {
		out := panelJSON{ID: p.ID, Cuts: []string{}, Size: toXY(p.Outline.Bounds().Size()), Files: partFiles(r, p.ID), Floor: floored(r, p.ID), Dowels: len(p.Dowels)}
		if p.Split != nil {
			out.Joints = len(p.Split.Joints)
		}
		for _, o := range p.Openings {
			out.Cuts = append(out.Cuts, o.Cut.Name)
		}
		for _, pos := range p.Positions {
			out.Positions = append(out.Positions, positionJSON{num(pos.TurnDeg), pos.Flip})
		}
		list = append(list, out)
	}
	return list
}

// planFacts is what is known of there being no better plan.
type planFacts struct {
	Panels, SetUps, Visible                int
	Proved                                 bool
	LeastVisible, LeastSetUps, LeastPanels int
}

func newPlan(p plan.Plan) planFacts {
	return planFacts{len(p.Panels), len(p.SetUps), p.Visible, p.Proved(), p.LeastVisible, p.LeastSetUps, p.LeastPanels}
}

package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
)

func newPanels(r build.Result) []panelJSON {
	list := make([]panelJSON, 0, len(r.Set.Panels))
	for _, p := range r.Set.Panels {
		out := panelJSON{ID: p.ID, Cuts: []string{}, Size: toXY(p.Outline.Bounds().Size()), Files: partFiles(r, p.ID), Floor: floored(r, p.ID), Dowels: len(p.Dowels)}
		if p.Division != nil {
			out.Parts, out.Joints = len(p.Division.Parts), newJoints(p)
		}
		for _, o := range p.Openings {
			out.Cuts = append(out.Cuts, o.Cut.Name)
		}
		for _, pos := range p.Positions {
			out.Positions = append(out.Positions, positionJSON{num(pos.TurnDeg), pos.Flip, shiftOf(r, pos)})
		}
		list = append(list, out)
	}
	return list
}

// shiftOf is by how much a panel is shifted; nil where none of the plan is stepped.
func shiftOf(r build.Result, pos plan.Orientation) *xy {
	if r.Set.Plan.Step.Repeats == 0 {
		return nil
	}
	shift := toXY(pos.Shift)
	return &shift
}

// jointFacts is one joint of a panel that is made in parts: the walls on either side
// of it, and how many keys join them.
type jointFacts struct {
	Walls, To []string
	Keys      int
}

// newJoints are a panel's joints in the order in which they are glued.
func newJoints(p template.Panel) []jointFacts {
	return each(p.Division.Joints, func(j template.Joint) jointFacts {
		walls := func(parts []int) []string {
			return each(parts, func(i int) string { return p.PartName(sheet.Wall, i) })
		}
		return jointFacts{walls(j.Sides[0]), walls(j.Sides[1]), len(j.Keys)}
	})
}

// planFacts is what is known of there being no better plan.
type planFacts struct {
	Panels, SetUps, Visible                int
	Proved                                 bool
	LeastVisible, LeastSetUps, LeastPanels int
	Prices                                 []string // with other preferences
	InParts                                bool     // it leaves room for joints of panels, and the bounds are for such plans
}

func newPlan(p plan.Plan) planFacts {
	return planFacts{len(p.Panels), len(p.SetUps), p.Visible, p.Proved(), p.LeastVisible, p.LeastSetUps, p.LeastPanels, p.Prices(), p.InParts}
}

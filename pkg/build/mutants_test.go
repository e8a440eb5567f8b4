package build

// Is the dry run independent of the planner? The planner is handed a groove that
// is wrong, or a plan that lacks something, and the judges, who have the job's
// own strands, must find it.

import (
	"math"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/toolpath"
)

// mutantJob has what mutants need: corners, free ends, arcs, a ring, crossings and
// a tee, and a groove so wide that lanes run between its walls.
const mutantJob = `title = "Everything"
units = "mm"
[motif]
[[motif.path]]
name = "strap"
d = "M -60 0 L 40 0 A 20 20 0 0 1 60 20 L 60 60 L 0 40"
[[motif.circle]]
name = "ring"
center = [0, 0]
radius = 22
[[motif.line]]
name = "bar"
from = [0, 0]
to = [15, -60]
[inlay]
depth = 1
width = 7
[router]
guide = "bearing"
bit = 3
[program]
rough = 0
`

// mutants are wrong grooves to plan for, by what is wrong with them.
var mutants = map[string]func(t *testing.T, r *Result){
	"play less by 0.2":       func(t *testing.T, r *Result) { r.regroove(t, -0.4, r.Motif.Strands) },
	"play more by 0.05":      func(t *testing.T, r *Result) { r.regroove(t, 0.1, r.Motif.Strands) },
	"play less by 0.03":      func(t *testing.T, r *Result) { r.regroove(t, -0.06, r.Motif.Strands) },
	"bit taken for a wider":  func(_ *testing.T, r *Result) { r.Groove.Size.Bit += 0.2 },
	"bit taken for narrower": func(_ *testing.T, r *Result) { r.Groove.Size.Bit -= 0.1 },
	"arcs flatter by 0.05": func(t *testing.T, r *Result) {
		r.regroove(t, 0, changed(r.Motif.Strands, func(c geom.Contour) geom.Contour {
			for i := range c.Len() {
				if e := c.Edge(i); e.Bulge != 0 {
					c.Vertices[i].Bulge -= math.Copysign(0.05/(e.Chord()/2), e.Bulge)
				}
			}
			return c
		}))
	},
	"free ends short by 0.3": func(t *testing.T, r *Result) {
		r.regroove(t, 0, changed(r.Motif.Strands, func(c geom.Contour) geom.Contour {
			if c.Closed {
				return c
			}
			return c.Sub(0, c.Length()-0.3)
		}))
	},
	"a strand off by 0.05": func(t *testing.T, r *Result) {
		first := true
		r.regroove(t, 0, changed(r.Motif.Strands, func(c geom.Contour) geom.Contour {
			if !first {
				return c
			}
			first = false
			return geom.Shifting(geom.Pt(0.03, 0.04)).Contour(c)
		}))
	},
}

// changed are strands with their lines changed.
func changed(strands []motif.Strand, change func(geom.Contour) geom.Contour) []motif.Strand {
	var list []motif.Strand
	for _, s := range strands {
		c := geom.Contour{Vertices: slices.Clone(s.Contour.Vertices), Closed: s.Contour.Closed}
		list = append(list, motif.NewStrand(s.ID, change(c), s.Sources, s.Corner))
	}
	return list
}

// regroove makes the groove, for the planner only, of other strands and wider by
// some mm.
func (r *Result) regroove(t *testing.T, wider float64, strands []motif.Strand) {
	t.Helper()
	size, m := GrooveSize(r.Job), r.Motif
	size.Width += wider
	m.Strands = strands
	g, found := groove.Build(size, m, r.Weave)
	if found.HasErrors() {
		t.Fatal(found)
	}
	r.Groove = g
}

// planMutants are plans that lack something, by what.
var planMutants = map[string]func(p *toolpath.Plan){
	"a strand missing": func(p *toolpath.Plan) { p.Runs = p.Runs[1:] },
	"a lane missing": func(p *toolpath.Plan) {
		deepest := &p.Runs[0].Passes
		for i := len(*deepest) - 1; i >= 0; i-- {
			if (*deepest)[i].Role == toolpath.Back {
				*deepest = slices.Delete(*deepest, i, i+1)
				return
			}
		}
	},
	"short cuts between lanes": func(p *toolpath.Plan) {
		for i := range p.Runs {
			for k, pass := range p.Runs[i].Passes {
				if last := len(pass.Moves) - 1; pass.Role == toolpath.Between && p.Runs[i].Name == "bar.1" {
					straight := pass.Moves[last]
					straight.Edge = geom.Line(pass.Moves[0].Edge.A, straight.Edge.B)
					p.Runs[i].Passes[k].Moves = []toolpath.Move{straight}
				}
			}
		}
	},
	"a corner missed by 0.3": func(p *toolpath.Plan) {
		tip := geom.Pt(60, 60) // the sharpest corner: its lanes' outer meeting is beyond it
		out := geom.Pt(60, 60).Sub(geom.Pt(55, 52)).Unit().Scale(-0.3)
		const about = 5.0
		for i := range p.Runs {
			for _, pass := range p.Runs[i].Passes {
				for k := range len(pass.Moves) - 1 {
					if m := pass.Moves[k].Edge.B; m.X > tip.X && m.Y > tip.Y && m.Dist(tip) < about {
						pass.Moves[k].Edge.B, pass.Moves[k+1].Edge.A = m.Add(out), m.Add(out)
					}
				}
			}
		}
	},
}

// TestMutants: whatever is wrong with what the planner was handed, both judges
// find it.
func TestMutants(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	check := func(name string, groove func(t *testing.T, r *Result), plan func(p *toolpath.Plan)) {
		t.Run(name, func(t *testing.T) {
			r := grooved(t, "everything.toml", []byte(mutantJob))
			if groove != nil {
				groove(t, &r)
			}
			r.passes()
			if !r.OK() {
				t.Fatal(r.Findings)
			}
			if plan != nil {
				plan(&r.Grooving.Plan)
			}
			run := r.groovesProgram(t)
			sound := groove == nil && plan == nil
			if run.report.OK() != sound {
				t.Errorf("the dry run: %v", run.report.Findings)
			}
			if second := r.secondOpinion(t, run.text); len(second) == 0 != sound {
				t.Errorf("the second judge: %v", second)
			}
		})
	}
	check("nothing wrong", nil, nil)
	for name, m := range mutants {
		check(name, m, nil)
	}
	for name, m := range planMutants {
		check(name, nil, m)
	}
}

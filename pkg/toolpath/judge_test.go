package toolpath

import (
	"strapwork/pkg/groove"
	"strapwork/pkg/internal/walljudge"
	"strapwork/pkg/ngc"
)

// secondOpinion is what the judge that knows no areas says of a plan.
func secondOpinion(g groove.Groove, p Plan) []walljudge.Fault {
	w := walljudge.Work{Width: g.Size.Width, Bit: p.Bit, Depth: p.Depths[len(p.Depths)-1]}
	for _, s := range g.Motif.Strands {
		w.Strands = append(w.Strands, s.Contour)
	}
	var list []ngc.Move
	for _, r := range p.Runs {
		z := r.Z
		for _, pass := range r.Passes {
			for _, m := range pass.Moves {
				move := ngc.Move{From: ngc.XYZ(m.Edge.A, z), To: ngc.XYZ(m.Edge.B, m.Z), Named: ngc.AxesXYZ, Kind: ngc.Line}
				if !m.Edge.IsLine() {
					move.Kind, move.Center, move.Sweep = ngc.Arc, m.Edge.Center(), m.Edge.Sweep()
				}
				list = append(list, move)
				z = m.Z
			}
		}
	}
	return walljudge.Judge(w, list)
}

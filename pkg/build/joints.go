package build

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/joint"
	"strapwork/pkg/motif"
	"strapwork/pkg/table"
	"strapwork/pkg/work"
)

// JointParams are what the joints of the job's table depend on.
func (r Result) JointParams() joint.Params {
	p := joint.Params{Table: *r.Job.Table, Width: r.Job.Inlay.Width, Depth: r.Job.Inlay.Depth}
	if r.Seasons != nil {
		p.Change = &r.Seasons.Change
	}
	for k, kind := range r.Table.Kinds {
		for _, side := range [2]work.Side{work.Left, work.Right} {
			list := r.Table.Of(k, side)
			if !r.meetsOthers(k, side) {
				continue
			}
			e := joint.Edge{Name: edgeName(kind, side), Side: side, Length: kind.Length}
			for _, q := range list {
				e.Passings = append(e.Passings, joint.Passing{Edge: e.Name, Strand: r.passingName(q), Y: q.Y, Angle: q.Angle, Curvature: q.Curvature})
			}
			e.Strands, e.Names = r.strandsOf(k)
			p.Edges = append(p.Edges, e)
		}
	}
	return p
}

// edgeName is an edge's name in the manifest.
func edgeName(k table.Kind, side work.Side) string { return k.Name + "." + side.String() }

// meetsOthers reports whether a kind's edge is at a joint, and not the end of the table.
func (r Result) meetsOthers(kind int, side work.Side) bool {
	last := len(r.Table.Sections) - 1
	for i, s := range r.Table.Sections {
		if s.Kind == kind && (side == work.Left && i > 0 || side == work.Right && i < last) {
			return true
		}
	}
	return false
}

// passingName is the element that passes an edge: "side.1".
func (r Result) passingName(q table.Passing) string {
	st := r.Table.StretchesOf(q.Kind)[q.Stretch]
	at := min(st.From+motif.Joint, st.To) // just within the section: another element may begin on the edge
	if q.AtEnd {
		at = max(st.To-motif.Joint, st.From)
	}
	s := r.Table.Top.Strands[st.Strand]
	return r.Table.Top.Sources[s.Source(around(s.Contour, at))].Name
}

// around is a distance along a strand, of a closed one as it comes round again.
func around(c geom.Contour, at float64) float64 {
	if l := c.Length(); c.Closed {
		for at >= l {
			at -= l
		}
		for at < 0 {
			at += l
		}
	}
	return at
}

// strandsOf are the middles of a kind's grooves in its own coordinates, and their names.
func (r Result) strandsOf(kind int) (lines []geom.Contour, names []string) {
	first := r.Table.Kinds[kind].First
	left, _ := r.Table.Ends(first)
	to := geom.Shifting(geom.Pt(-left, 0))
	for _, st := range r.Table.StretchesOf(kind) {
		s := r.Table.Top.Strands[st.Strand]
		lines = append(lines, to.Contour(stretch(s.Contour, st)))
		names = append(names, r.Table.Top.Sources[s.Source(around(s.Contour, (st.From+st.To)/2))].Name)
	}
	return lines, names
}

// stretch is the part of a strand that lies within a section.
func stretch(c geom.Contour, st table.Stretch) geom.Contour {
	if st.At == [2]int{-1, -1} && c.Closed {
		return c
	}
	return c.Sub(st.From, st.To)
}

// makeJoints works out what the joints cost.
func makeJoints(p joint.Params) (joint.Joints, diag.Findings) { return joint.New(p) }

// judgeJoints reports what the joints of a table cost.
func (a *asking) judgeJoints(r *Result) {
	if r.Table == nil {
		return
	}
	j := ask(a.Graph, "joints", r.JointParams(), makeJoints)
	r.Joints = &j.Value
	r.Findings.Add(j.Found...)
}

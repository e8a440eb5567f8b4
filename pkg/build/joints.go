package build

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/joint"
	"strapwork/pkg/motif"
	"strapwork/pkg/table"
	"strapwork/pkg/work"
)

// JointParams are what the joints of the job's table depend on.
func (r Result) JointParams() joint.Params {
	p := joint.Params{Table: *r.Job.Table, Width: r.Job.Inlay.Width, Depth: r.Job.Inlay.Depth, Drawn: !r.templates()}
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

// UnderFrame is what lies under the frame at a station, in the motif's coordinates: its
// sections, and scrap in place of the one that isn't there where each is grooved by itself.
func (r Result) UnderFrame(s table.Station) geom.Box {
	box := geom.EmptyBox()
	for _, n := range s.Sections {
		left, right := r.Table.Ends(n)
		box = box.Include(geom.Pt(left, 0)).Include(geom.Pt(right, r.Table.Table.Width))
	}
	box = geom.Box{Min: box.Min.Sub(s.At), Max: box.Max.Sub(s.At)}
	if r.Set.Frame == nil || !s.Edge {
		return box
	}
	frame := r.Set.Frame.Outside.Polygon().Bounds()
	if s.Side == work.Right {
		box.Max.X = max(box.Max.X, frame.Max.X)
	} else {
		box.Min.X = min(box.Min.X, frame.Min.X)
	}
	return box
}

// checkStations warns of the first station after the first where the frame goes round the
// work and not on it; the frame's own findings are about the first.
func (r Result) checkStations() (found diag.Findings) {
	if r.Table == nil || r.Set.Frame == nil || len(r.Table.Stations) == 0 {
		return nil
	}
	for _, s := range r.Table.Stations[1:] {
		if r.Set.Frame.LiesOn(r.UnderFrame(s)) != fixture.RoundBoard {
			continue
		}
		if r.Set.Frame.Support != fixture.RoundBoard {
			found.Warnf("template.frame", "station-round", "at station %d the frame goes round the sections and not on them: fewer than two of its sides bear on them", s.Number).
				Hintf("clamp packing as thick as the work to them first, flush by a straightedge, and fix the frame to both, as stations.md has it; or make the sections longer")
		}
		return found
	}
	return nil
}

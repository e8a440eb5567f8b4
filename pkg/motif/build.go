package motif

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Build copies the job's elements, merges copies that fall on one another and
// joins ends that meet. The strands are those of the first-listed elements
// first. What is moved for it is moved in the elements, which are then copied
// again: a motif keeps the symmetry that its copies give it. Errors are
// elements too short to see, places where three or more ends meet, which are
// left unjoined, and ends that nearly meet; what was moved is a note. The motif
// is usable whatever was found.
func Build(drawing work.Drawing) (Motif, diag.Findings) {
	var found diag.Findings
	d := newDrawing(drawing, &found)
	near := d.join()
	d.newPlaces()
	d.settle()
	d.reportNear(near)
	d.reportJoined()
	m := d.strands()
	if !found.HasErrors() {
		d.reportNearlySymmetric(m, drawing)
	}
	return m, found
}

// settleRounds bounds how often ends on other strands and tangency are seen to
// in turns. Strands that end on one another move each other less each time, by
// about the angle at which they meet.
const settleRounds = 4

// settle moves what has to be moved for ends that meet or lie on other strands,
// and for smooth joints to be tangent.
func (d *drawing) settle() {
	bends := d.bends()
	d.reportNearSmooth(bends)
	d.redraw()
	d.tees = d.findTees()
	d.pin(d.tees)
	for range settleRounds {
		d.reportAsked(d.makeTangent(bends))
		d.redraw()
		if d.pin(d.tees) <= asDrawn {
			break
		}
	}
	d.redraw()
}

// redraw draws the shapes from where their nodes lie now, and copies them.
func (d *drawing) redraw() {
	now := make([]geom.Contour, len(d.shapes))
	for i := range d.shapes {
		now[i] = d.now(&d.shapes[i])
	}
	for i, p := range d.pieces {
		d.pieces[i].contour = d.group.moves[p.move].Contour(now[p.shape])
	}
}

// now is a shape as it is now: as it was drawn, if nothing of it was moved.
func (d *drawing) now(s *shape) geom.Contour {
	if s.ring {
		return d.centred(s)
	}
	moved := false
	for k := range s.nodes() {
		moved = moved || d.node(s.first+k) != s.drawn(k)
	}
	for i, r := range s.runs {
		moved = moved || s.sweeps[i] != r.sweep
	}
	if !moved {
		return s.contour
	}
	var edges []geom.Edge
	for i, r := range s.runs {
		from, to := s.ends(i)
		edges = append(edges, r.edges(d.node(from), d.node(to), s.sweeps[i])...)
	}
	return geom.Chain(s.contour.Closed, edges...)
}

// centred is a full circle, moved to where the members of the group that keep
// it leave its centre.
func (d *drawing) centred(s *shape) geom.Contour {
	c := s.contour.Edge(0).Center()
	shift := d.group.mean(s.keeps, c).Sub(c)
	if shift.Norm() <= asDrawn {
		return s.contour
	}
	return geom.Shifting(shift).Contour(s.contour)
}

// reportedFrom is the move in mm from which it is reported. It is a tenth of the
// last decimal that any output has, and far above the rounding of expressions:
// whoever typed fewer decimals than the motif needs shall know.
const reportedFrom = 1e-5

// reportJoined reports the greatest move, if there is one.
func (d *drawing) reportJoined() {
	var all []arm
	for i := range d.shapes {
		for k := range d.shapes[i].runs {
			if !d.shapes[i].ring {
				all = append(all, arm{shape: i, run: k})
			}
		}
	}
	most := d.furthest(all)
	for i := range d.shapes {
		if s := &d.shapes[i]; s.ring {
			if by := d.centred(s).Start().Dist(s.contour.Start()); by > most.by {
				most = moved{by, s.contour.Start(), i}
			}
		}
	}
	if most.by < reportedFrom {
		return
	}
	s := &d.shapes[most.shape]
	d.found.Notef(s.from.Key, "joined", "joined: ends and curves were moved by up to %s so that they meet, furthest in %s at %s",
		unit.Len(most.by), s.from.Name, Place(most.at)).SetAt(most.at.X, most.at.Y)
}

// reportAsked says how far curves were moved for a job that has them smooth.
func (d *drawing) reportAsked(all []moved) {
	for _, m := range all {
		s := &d.shapes[m.shape]
		d.found.Notef(s.from.Key, "smoothed", "smooth: %s was moved by up to %s, most at %s", s.from.Name, unit.Len(m.by), Place(m.at)).
			SetAt(m.at.X, m.at.Y)
	}
}

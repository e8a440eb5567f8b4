package program

import (
	"fmt"
	"io"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/unit"
)

// Groove writes the program that cuts a plan, or a part of one: see
// toolpath.Plan.Only and AtDepth. It returns which lines cut which pass, in
// order. Errors are ErrSetting, ErrNothing, those of w and those of ngc.Writer.
func Groove(w io.Writer, plan toolpath.Plan, s Params) ([]Section, error) {
	if len(plan.Runs) == 0 {
		return nil, fmt.Errorf("program: %w: the plan has no strands", ErrNothing)
	}
	p, err := newWriter(w, s)
	if err != nil {
		return nil, err
	}
	box, lowest := Extents(plan)
	p.head("groove", slices.Concat(
		[]string{s.bitLine(plan.Bit)}, s.zeroLines(), s.boardLines(),
		[]string{
			fmt.Sprintf("groove: %s wide, to %s deep, %s", s.Size(plan.Width), s.Size(-lowest), unit.Count(len(plan.Depths), "depth")),
			"bit's centre: " + s.span(box),
			fmt.Sprintf("bit's tip: z %s to %s", s.number(lowest), s.length(s.Safe)),
		},
		s.feedLines())...)
	sections := p.runs(plan)
	return sections, p.finish()
}

// Extents is where the bit's centre goes in a plan's passes, in the motif's
// coordinates, and its lowest height. Half the slot's width further out the wood
// is cut.
func Extents(plan toolpath.Plan) (box geom.Box, lowest float64) {
	box = geom.EmptyBox()
	for _, r := range plan.Runs {
		box = box.Include(r.Start)
		for _, pass := range r.Passes {
			for _, m := range pass.Moves {
				box = box.Join(m.Edge.Bounds())
				lowest = min(lowest, m.Z)
			}
		}
	}
	return box, lowest
}

// runs writes all strands of a plan.
func (p *writer) runs(plan toolpath.Plan) []Section {
	var sections []Section
	for i, r := range plan.Runs {
		start := p.line() + 1
		wait := p.s.SpinUp
		if i > 0 {
			wait = p.s.Again
		}
		p.restart(fmt.Sprintf("%s, %d of %d: %s", r.Name, i+1, len(plan.Runs), p.s.again(wait)), wait)
		p.approach(r)
		for _, s := range p.passes(r) {
			s.Start = start
			sections = append(sections, s)
		}
		p.lift()
	}
	return sections
}

// again lists for whoever starts in the midst of a program what to see to first,
// where the wait for the spindle is shorter than it takes to come to speed.
func (s Params) again(wait float64) string {
	if wait < s.SpinUp {
		return "start again from here once the spindle is at speed"
	}
	return "the program can be started again from here"
}

// restart begins anew, whatever went before: the bit goes up before anything
// else moves or turns.
func (p *writer) restart(comment string, wait float64) {
	p.Comment(comment)
	p.Preamble()
	p.lift()
	p.SpindleOn(ngc.Clockwise, p.s.Speed, wait)
}

// lift goes straight up to the safe height, which is rounded up.
func (p *writer) lift() { p.Rapid(ngc.Z(p.grid.ceil(p.s.Safe))) }

// approach goes from the safe height to where a strand begins.
func (p *writer) approach(r toolpath.Run) {
	p.Rapid(ngc.XY(p.s.Shift.Point(r.Start)))
	p.Rapid(ngc.Z(p.grid.ceil(min(Clearance, p.s.Safe))))
	p.Line(ngc.Z(r.Z), p.grid.floor(p.s.Plunge))
}

// passes writes the passes of a strand.
func (p *writer) passes(r toolpath.Run) []Section {
	var sections []Section
	z := r.Z
	for _, pass := range r.Passes {
		p.Comment(fmt.Sprintf("%s, %s deep, %v", r.Name, p.s.Size(pass.Depth), pass.Role))
		before := p.line()
		for _, m := range pass.Moves {
			p.move(m, z)
			z = m.Z
		}
		if last := p.line(); last > before { // else rounding has left nothing of it
			sections = append(sections, Section{
				Line: before + 1, Last: last, Strand: r.Strand, Name: r.Name, Depth: pass.Depth, Role: pass.Role,
			})
		}
	}
	return sections
}

// move writes one move that begins at height z.
func (p *writer) move(m toolpath.Move, z float64) {
	if m.Edge.A == m.Edge.B {
		p.Line(ngc.Z(m.Z), p.grid.floor(p.s.Plunge))
		return
	}
	e := m.Edge
	e.A, e.B = p.s.Shift.Point(e.A), p.s.Shift.Point(e.B)
	p.Cut(e, m.Z, p.along(e, z-m.Z))
}

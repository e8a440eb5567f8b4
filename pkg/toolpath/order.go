package toolpath

// In which order the strands are cut.
//
// A tour is made by going to the nearest strand next (an open one may be run
// from either end, a ring begun anywhere) and improved by turning stretches of
// it round (2-opt: Croes, Operations Research 6, 1958) and by moving short
// stretches elsewhere (Or-opt: Or, 1976; both recalled), until neither helps.
// Where a ring begins is fixed meanwhile, and chosen again afterwards. The
// shortest of the drawn order, the first tour and the improved one is taken.

import "strapwork/pkg/geom"

// A planner puts the runs of courses in order.
type planner struct {
	courses []course
	o       Params
	open    [][2]*Run // by strand: an open one's run from its start and from its end
	rings   []lapRing // by strand
}

// A stop is a strand on a tour: one of its gates is used.
type stop struct {
	strand int
	gates  [2]gate // from the strand's start and from its end; a ring's are one
	back   bool
}

// A gate is where a run is entered and left.
type gate struct{ in, out geom.Point }

// gate is the one that is used.
func (s stop) gate() gate {
	if s.back {
		return s.gates[1]
	}
	return s.gates[0]
}

// order returns all runs: group after group, each by the order's rule.
func (p *planner) order(groups [][]int) ([]Run, error) {
	if err := p.prepare(); err != nil {
		return nil, err
	}
	drawn, err := p.drawn(groups)
	if err != nil || p.o.Order.Rule == Drawn {
		return drawn, err
	}
	best := drawn
	for _, better := range [2]bool{false, true} {
		runs, err := p.short(groups, better)
		if err != nil {
			return nil, err
		}
		if (Plan{Runs: runs}).Rapids() < (Plan{Runs: best}).Rapids() {
			best = runs
		}
	}
	return best, nil
}

// prepare makes the runs of the open strands, which don't depend on the order.
func (p *planner) prepare() error {
	p.open = make([][2]*Run, len(p.courses))
	p.rings = make([]lapRing, len(p.courses))
	for i, c := range p.courses {
		if c.line.Closed {
			p.rings[i] = newLapRing(c)
			continue
		}
		err := p.makeOpen(i)
		if err != nil && !c.single {
			p.takeSingle(i)
			err = p.makeOpen(i)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// makeOpen makes the runs of an open strand: from both ends if it matters.
func (p *planner) makeOpen(strand int) error {
	c := p.courses[strand]
	for k, d := range [2]course{c, c.reverse()} {
		r, err := d.run(p.o, 0)
		if err != nil {
			return err
		}
		p.open[strand][k] = &r
		if p.o.Order.Rule == Drawn {
			break
		}
	}
	return nil
}

// takeSingle lets a strand be run along its centre line alone: its walls can't be
// followed, and are reached from there.
func (p *planner) takeSingle(strand int) {
	p.courses[strand].single = true
	p.courses[strand].bare = true
	p.rings[strand] = newLapRing(p.courses[strand])
}

// ring is the run of a ring from a distance along it.
func (p *planner) ring(strand int, s float64) (Run, error) {
	r, err := p.courses[strand].run(p.o, s)
	if err != nil && !p.courses[strand].single {
		p.takeSingle(strand)
		r, err = p.courses[strand].run(p.o, s)
	}
	return r, err
}

// drawn is every strand from its own start, in the order of the groups.
func (p *planner) drawn(groups [][]int) ([]Run, error) {
	var runs []Run
	for _, group := range groups {
		for _, i := range group {
			if r := p.open[i][0]; r != nil {
				runs = append(runs, *r)
				continue
			}
			r, err := p.ring(i, 0)
			if err != nil {
				return nil, err
			}
			runs = append(runs, r)
		}
	}
	return runs, nil
}

// short is a tour with little way between the strands, improved or not.
func (p *planner) short(groups [][]int, improved bool) ([]Run, error) {
	var runs []Run
	var from *geom.Point
	for _, group := range groups {
		t := tour{stops: p.nearestNext(group, from), from: from}
		if improved {
			t.improve()
		}
		for _, s := range t.stops {
			r, err := p.run(s, from)
			if err != nil {
				return nil, err
			}
			runs = append(runs, r)
			end := r.End()
			from = &end
		}
	}
	return runs, nil
}

// run is the run of a stop; a ring begins as near to from as it can.
func (p *planner) run(s stop, from *geom.Point) (Run, error) {
	if p.courses[s.strand].line.Closed {
		return p.ring(s.strand, p.ringStart(s.strand, from))
	}
	if s.back {
		return *p.open[s.strand][1], nil
	}
	return *p.open[s.strand][0], nil
}

// ringStart is the distance along a ring at which a run that comes from a point
// begins: the place nearest to it, the ring's own start if it comes from nowhere.
func (p *planner) ringStart(strand int, from *geom.Point) float64 {
	if from == nil {
		return 0
	}
	return p.rings[strand].nearest(*from)
}

package toolpath

import (
	"fmt"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/unit"
)

// A NameError is a name in Order.First that nothing has.
type NameError struct {
	Name  string
	Known []string // all names that would do, in the motif's order, for a hint
}

func (e *NameError) Error() string {
	return fmt.Sprintf("no strand or element is called %q", e.Name)
}

// A StrandError is a strand that this bit can't cut.
type StrandError struct {
	Strand int
	Name   string
	At     geom.Point
	Reason string // what is wrong, as the end of a sentence
}

func (e *StrandError) Error() string { return e.In(unit.MM) }

// In is the error with its place in the units of s.
func (e *StrandError) In(s unit.System) string {
	return unit.Say("%s can't be cut near %s: %s", e.Name, unit.Place{X: e.At.X, Y: e.At.Y}, e.Reason).In(s)
}

// An OptionError is an option that makes no sense.
type OptionError struct {
	Name  string // "depth", as in the job file
	Value float64
	Want  string // what it has to be
}

func (e *OptionError) Error() string {
	return fmt.Sprintf("%s is %g, but must be %s", e.Name, e.Value, e.Want)
}

// A SizeError is a groove that takes more moves than are planned.
type SizeError struct {
	Moves float64 // that it takes at least, about
}

func (e *SizeError) Error() string {
	return fmt.Sprintf("it takes about %.3g moves of the bit, and %.3g are the most that are planned: take a wider bit or deeper steps", e.Moves, mostMoves)
}

// mostMoves is how many moves are planned at most: a hundred times those of the
// most crowded table top, and what a file of 50 MB holds.
const mostMoves = 2e6

// check reports the first option that makes no sense.
func (o Params) check() error {
	for _, v := range []struct {
		name  string
		value float64
	}{{"rough", o.Rough}, {"step", o.Step}, {"widen", o.Widen}} {
		if !(v.value >= 0) || math.IsInf(v.value, 1) {
			return &OptionError{v.name, v.value, "0 or a length"}
		}
	}
	if !(o.Depth > 0) || math.IsInf(o.Depth, 1) {
		return &OptionError{"depth", o.Depth, "greater than 0"}
	}
	if !(o.Ramp >= 0 && o.Ramp < math.Pi/2) {
		return &OptionError{"ramp", o.Ramp, "at least 0 and less than a right angle"}
	}
	return nil
}

// wholeStep is the part of a depth step by which steps may be deeper, so that
// rounding makes none too many.
const wholeStep = 1e-9

// depths are the depths of the passes.
func (o Params) depths(bit float64) []float64 {
	switch {
	case o.Widen > 0:
		return []float64{o.Depth}
	case o.Step == 0:
		return groove.Depths(o.Depth, bit)
	}
	n := max(1, int(math.Ceil(o.Depth/o.Step-wholeStep)))
	depths := make([]float64, n)
	for i := range depths {
		depths[i] = o.Depth * float64(i+1) / float64(n)
	}
	return depths
}

// leastMoves is about how many moves the groove along some edges takes at least:
// one for each of them, on each lane, at each depth.
func (o Params) leastMoves(edges int, width, bit float64) float64 {
	depths, lanes := 1.0, max(1, width/bit-1)
	switch {
	case o.Widen > 0:
		lanes = 1
	case o.Step > 0:
		depths = o.Depth / o.Step
	default:
		depths = groove.Passes(o.Depth, bit)
	}
	return float64(edges) * max(1, depths) * lanes
}

// checkSize refuses what would take too many moves.
func (o Params) checkSize(edges int, width, bit float64) error {
	if n := o.leastMoves(edges, width, bit); !(n <= mostMoves) {
		return &SizeError{n}
	}
	return nil
}

// Make plans the grooving of g. Errors: *OptionError, *NameError where
// Order.First has a name that nothing has, *SizeError where it would take too many
// moves, *StrandError where a strand can't be cut.
//
// Strands are cut one by one, straight through their crossings. An end on
// another strand runs on to that strand's centre line. Where free ends, corners
// and bends come so near to one another that one shapes the other's reach, the
// bit keeps to where it stays within the whole motif's groove. What it reaches
// there besides is cut on the way. Where no lane can follow a strand's walls, as
// between arms with no wood between them, the bit runs along its centre line and
// cuts the rest from there.
func Make(g *groove.Groove, o Params) (Plan, error) {
	if err := o.check(); err != nil {
		return Plan{}, err
	}
	edges := 0
	for _, s := range g.Motif.Strands {
		edges += s.Contour.Len()
	}
	if err := o.checkSize(edges, g.Size.Width, g.Size.Bit); err != nil {
		return Plan{}, err
	}
	p := Plan{Bit: g.Size.Bit, Width: g.Size.Width + o.Widen, Depths: o.depths(g.Size.Bit)}
	groups, err := o.Order.groups(g)
	if err != nil {
		return Plan{}, err
	}
	pl := planner{courses: make([]course, len(g.Motif.Strands)), o: o}
	for i := range pl.courses {
		pl.courses[i] = newCourse(g, i, o)
	}
	p.Runs, err = pl.order(groups)
	if err == nil {
		pl.reachAll(g, &p)
	}
	return p, err
}

// newCourse is the way along a strand of g.
func newCourse(g *groove.Groove, strand int, o Params) course {
	s := g.Motif.Strands[strand]
	c := course{
		g: g, strand: strand, name: nameOf(g, strand), line: s.Contour,
		play: g.Size.Offset() + o.Widen/2, bit: g.Size.Bit, slack: o.Widen / 2,
	}
	c.single = c.play < thinnest
	for _, t := range g.Weave.Tees {
		if t.Strand == strand {
			end := 0
			if t.AtEnd {
				end = 1
			}
			c.tee[end] = true
			c.cramped[end] = nearFreeEnd(g, t.Host, t.At)
		}
	}
	return c.prepare()
}

// nearFreeEnd reports whether a strand has an end within a groove's width of p:
// a bit that runs on to its centre line there could cut through its flat.
func nearFreeEnd(g *groove.Groove, strand int, p geom.Point) bool {
	c := g.Motif.Strands[strand].Contour
	return !c.Closed && min(p.Dist(c.Start()), p.Dist(c.End())) < g.Size.Width
}

// Straight plans a short straight groove, for trials in scrap: from and to are
// the middles of its flat ends, width and bit as in groove.Size. Order and
// Widen don't matter. A groove that is no longer than the bit is wide, or
// narrower than the bit, or of no depth, has no passes.
func Straight(from, to geom.Point, width, bit float64, o Params) Run {
	r := Run{Strand: -1, Name: "straight", Start: from}
	o.Widen = 0
	if o.check() != nil || !(bit > 0) || !(width >= bit) || !(from.Dist(to) > bit+geom.Coincident) {
		return r
	}
	if o.checkSize(1, width, bit) != nil {
		return r
	}
	size := groove.Size{Width: width, Bit: bit}
	c := course{
		strand: -1, name: r.Name, line: geom.Chain(false, geom.Line(from, to)),
		play: size.Offset(), bit: bit, single: size.Offset() < thinnest,
	}
	if run, err := c.prepare().run(o, 0); err == nil {
		return run
	}
	return r
}

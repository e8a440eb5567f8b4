package received

// What a tape says of the rail that panels are stepped along: whether the shop's
// millimetres are ours. A length that is out is no fault of one hole: a machine whose
// scale is out by a thousandth is so all over, and its panels too.

import (
	"math"

	"strapwork/pkg/budget"
	"strapwork/pkg/diag"
	"strapwork/pkg/measured"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
)

// A Rail is what is measured of a set's rail, its pieces joined: from the middle of the
// hole next to its zero end to that of the furthest one.
type Rail struct {
	Nominal     float64 // mm
	First, Last int     // the numbers of these holes
}

// RailOf is the rail of a set; nil where it has none, or one hole only.
func RailOf(set template.Set) *Rail {
	if set.Rail == nil || len(set.Rail.Holes) == 0 {
		return nil
	}
	first, last := set.Rail.Nearest(), set.Rail.Furthest()
	if last.At == first.At {
		return nil
	}
	return &Rail{last.At - first.At, first.SetUp, last.SetUp}
}

// A Scale is how long a rail came.
type Scale struct {
	Rail
	Measured float64 // between the same holes, mm
}

// Part is by how much the shop's lengths are out, as a share: positive where they are long.
func (s Scale) Part() float64 { return s.Measured/s.Nominal - 1 }

// Out is by how much the rail is out, mm.
func (s Scale) Out() float64 { return s.Measured - s.Nominal }

// Repeat is what a length is to be drawn as for it to come out right.
func (s Scale) Repeat(length float64) float64 { return length * s.Nominal / s.Measured }

// JudgeRail reports what a rail's measured length means. It is false where it isn't known.
// pitch is the distance of the pattern's repeats, mm.
func JudgeRail(c Card, rail *Rail, pitch float64) (s Scale, ok bool, found diag.Findings) {
	r := c.Rail
	switch {
	case rail == nil && len(r.Values) == 0:
		return s, false, nil
	case rail == nil:
		c.Warnf(&found, r, "no-rail", "there is no rail in this job").Hintf("leave out rail")
		return s, false, found
	case len(r.Values) == 0:
		c.Errorf(&found, r, measured.RuleUnmeasured, "the rail is not measured").
			Hintf("join its pieces, measure from the middle of hole %d to that of hole %d and write rail = ..", rail.First, rail.Last)
		return s, false, found
	case c.Asked(&found, measured.Row{Name: "the rail", Reading: r, Planned: rail.Nominal}):
		return s, false, found
	}
	s = Scale{*rail, r.Mean()}
	out := s.Out()
	if math.Abs(out) <= budget.Tape(s.Nominal)+rounding {
		return s, true, found
	}
	way := "long"
	if out < 0 {
		way = "short"
	}
	repeat, was := unit.Apart(s.Repeat(pitch), pitch)
	c.Warnf(&found, r, "rail-scale", "the rail is %s too %s in %s, %s %%: the pattern comes out so much too %s, and its grooves still meet where the panels are out alike", unit.Len(math.Abs(out)), way, unit.Len(s.Nominal), unit.Decimal(100*math.Abs(s.Part()), 2), way).
		Hintf("where the length counts, draw the repeat %s and not %s, build again and have rail and panels cut again; else check the last station by story stick and go on", repeat, was)
	return s, true, found
}

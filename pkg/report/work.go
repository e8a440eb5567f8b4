package report

// The order of work: every panel in every position, and the cuts that each
// makes there.

import (
	"math"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
)

// newSetUps lists the set-ups: panel by panel, position by position.
func newSetUps(r build.Result) []setUpJSON {
	numbers := cutNumbers(r)
	return each(r.Set.Plan.SetUps, func(s plan.SetUp) setUpJSON {
		panel := r.Set.Panels[s.Panel]
		out := setUpJSON{
			Number: s.Number, Panel: s.PanelID, TurnDeg: num(s.Position.TurnDeg), Flip: s.Position.Flip, Shift: shiftOf(r, s.Position),
			Cuts: each(s.Made(), func(t plan.Track) string { return t.Cut.Name }),
			Spare: each(s.Spare(), func(t plan.Track) spareJSON {
				return spareJSON{Track: t.ID, By: newOverlaps(numbers, t.Elsewhere), Own: t.Own}
			}),
			Along: s.Position.ShiftInWords(r.Job.Units), Edge: s.Position.EdgeUp(), Arrow: len(panel.Marks) > 0,
			Made: each(s.Made(), func(t plan.Track) cutJSON { return newCut(r, numbers, s, t) }),
		}
		if n := len(out.Made); n > 0 {
			out.First, out.Last = out.Made[0].Number, out.Made[n-1].Number
		}
		out.Laid, out.Wall = pictures(r, s)
		return out
	})
}

// cutNumbers are the cuts' numbers by their names.
func cutNumbers(r build.Result) map[string]int {
	all := map[string]int{}
	for _, s := range r.Set.Plan.SetUps {
		for _, t := range s.Made() {
			all[t.Cut.Name] = t.Number
		}
	}
	return all
}

// newCut is a cut in the motif's order, and as its opening makes it with the panel as it
// is laid.
func newCut(r build.Result, numbers map[string]int, s plan.SetUp, t plan.Track) cutJSON {
	c := t.Cut
	first, last := ends(c.Line)
	out := cutJSON{
		Number: t.Number, Name: c.Name, Strand: r.Motif.Strands[c.Strand].ID, Along: t.Along, Length: num(c.Length()),
		From: newStop(r, c.Strand, c.From, first), To: newStop(r, c.Strand, c.To, last),
		Panel: s.PanelID, SetUp: s.Number, Track: t.ID, Again: newOverlaps(numbers, t.Elsewhere),
		Start: endFacts{compass(t.End(), t.Start()), toXY(t.Start())}, Stop: endFacts{compass(t.Start(), t.End()), toXY(t.End())},
		Way: num(t.Line.Length()), Pilot: toXY(t.Pilot),
	}
	if len(out.Along) > 1 || len(out.Along) == 1 && out.Along[0] != c.Name {
		n := min(len(out.Along), alongMost)
		out.Shown, out.Unshown = out.Along[:n], len(out.Along)-n
	}
	return out
}

// alongMost is how many elements of a cut's way are named; the rest are counted.
const alongMost = 4

func newOverlaps(numbers map[string]int, all []plan.Overlap) []overlapJSON {
	return each(all, func(o plan.Overlap) overlapJSON {
		return overlapJSON{Cut: o.Cut, SetUp: o.SetUp, Length: num(o.Length), Number: numbers[o.Cut]}
	})
}

func newStop(r build.Result, strand int, s groove.Stop, bit geom.Point) stopJSON {
	return stopJSON{At: toXY(s.At), Kind: s.Kind.String(), Bit: toXY(bit), Hidden: s.Hidden, Under: hider(r, strand, s)}
}

// pictures are the paths of the pictures that a set-up is held against: of the panel as
// it is laid, and of its wall; "" where there is none.
func pictures(r build.Result, s plan.SetUp) (laid, wall string) {
	if path := build.SetUpPath(s.Number); hasFile(r, path) {
		laid = path
	}
	for _, p := range r.Parts {
		if p.Panel == s.PanelID && p.Ply == sheet.Wall && wall == "" {
			wall, _ = partFile(r, p, build.SVG)
		}
	}
	return laid, wall
}

// floored reports whether a panel has a floor layer.
func floored(r build.Result, panel string) bool {
	return slices.ContainsFunc(r.Parts, func(p sheet.Part) bool { return p.Panel == panel && p.Ply == sheet.Floor })
}

// compass says where q is, seen from p, on a drawing with y up.
func compass(p, q geom.Point) string {
	d := q.Sub(p)
	switch {
	case math.Abs(d.X) > math.Abs(d.Y) && d.X > 0:
		return "right"
	case math.Abs(d.X) > math.Abs(d.Y):
		return "left"
	case d.Y > 0:
		return "upper"
	}
	return "lower"
}

// ends are the first and last point of a line; the origin for an empty one.
func ends(c geom.Contour) (first, last geom.Point) {
	if len(c.Vertices) == 0 {
		return first, last
	}
	return c.Start(), c.End()
}

package fit

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/proof"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
)

// ruleUnproved is the rule of a plan that the rolled rider doesn't bear out.
const ruleUnproved = "fit-unproved"

// A Check is what the rider finds that is rolled in the panels' walls as they are to be,
// against grooves of the wanted width.
type Check struct {
	Width    float64 // of the grooves, mm
	Overcut  float64 // greatest distance cut beyond them
	Missed   float64 // greatest distance that the bit could reach and doesn't
	Expected float64 // what either may be at the walls by the tape that is chosen, mm
	Corners  float64 // and what may be missed at corners and ends
}

// Prove rolls the rider in the tracks with their tape on, or filed, as far out as their
// grooves were measured. Where one wall has more tape than the other, what is cut beyond
// the groove is found with the thinner on both, and what is missed with the thicker: so
// each wall is where it really is. A track's ends stay as they are drawn: where they lie was
// not measured, and they get no tape.
func Prove(g groove.Groove, set template.Set, p Plan) (c Check, found diag.Findings) {
	size := g.Size
	size.Width = p.Wanted()
	wanted, found := groove.Build(size, g.Motif, g.Weave)
	if found.HasErrors() {
		return c, found
	}
	c.Width = size.Width
	uneven, grown := false, 0.0
	for _, o := range p.Grooves {
		grown = math.Max(grown, (o.Narrow+o.changed()-g.Size.Width)/2)
		c.Expected = math.Max(c.Expected, p.Out(o))
		uneven = uneven || o.Tape.Shift() != 0
	}
	rolled := proof.Prove(wanted, placed(g.Size, set, p, false), 0)
	c.Overcut, c.Missed = rolled.OvercutMax, rolled.MissedMax
	if uneven {
		c.Missed = proof.Prove(wanted, placed(g.Size, set, p, true), 0).MissedMax
	}
	c.Corners = c.Expected + (tip(wanted)-1)*(c.Expected+grown)
	var faults diag.Findings
	if slack := groove.Overcut + rolled.Off; c.Overcut > c.Expected+slack || c.Missed > c.Corners+slack {
		faults.ErrorAt(diag.Position{}, ruleUnproved, "rolled in the walls as they are to be, the rider lets the bit cut %s beyond a groove of %s and leaves %s, where %s is expected, and %s at corners",
			unit.Len(c.Overcut), unit.Len(c.Width), unit.Len(c.Missed), unit.Len(c.Expected), unit.Len(c.Corners)).
			Hintf("don't tape by this plan: shim track after track in scrap, and measure")
	}
	return c, faults
}

// tip is how much farther than its walls the tip of a groove's sharpest corner moves: a
// right angle's at an end, or more. A track that is wider all round has round corners at its
// ends, and leaves as much less of what it is wider by.
func tip(g groove.Groove) float64 {
	most := math.Sqrt2
	for i := range g.Motif.Strands {
		for _, c := range g.Corners(i) {
			most = math.Max(most, 1/math.Sin(c.Included()/2))
		}
	}
	return most
}

// placed are the panels with their walls as they are to be; thicker: with the thicker pile
// of tape on both walls, else the thinner.
func placed(size groove.Size, set template.Set, p Plan, thicker bool) []proof.Placed {
	out := map[string]float64{} // by track, of each wall
	for _, g := range p.Grooves {
		tape := (g.Tape.Total() / 2) - math.Abs(g.Tape.Shift())
		if thicker {
			tape = (g.Tape.Total() / 2) + math.Abs(g.Tape.Shift())
		}
		out[g.ID] = (g.Narrow-size.Width+g.File)/2 - tape
	}
	var list []proof.Placed
	for _, panel := range set.Panels {
		var openings []geom.Contour
		for _, o := range panel.Openings {
			openings = append(openings, moved(o, size, out[o.ID]).Loops()...)
		}
		list = append(list, proof.Placed{ID: panel.ID, Openings: openings, Positions: panel.Positions})
	}
	return list
}

// moved is a track's opening with its walls moved out by so many mm, its free ends staying
// where they are.
func moved(o template.Opening, size groove.Size, by float64) region.Region {
	all := o.Area.Grow(by)
	line := o.Cut.Line
	if line.Len() == 0 || line.Closed {
		return all
	}
	_, first := line.At(0)
	_, last := line.At(line.Length())
	for _, end := range []struct {
		stop groove.Stop
		at   geom.Point
		out  geom.Point // away from the cut
	}{{o.Cut.From, line.Start(), first.Scale(-1)}, {o.Cut.To, line.End(), last}} {
		if end.stop.Kind == groove.StopFree {
			beyond := past(end.at, end.out, size.Reach()+math.Abs(by))
			back := all.Transform(geom.Shifting(end.out.Scale(-by)))
			all = region.Union(region.Subtract(all, beyond), region.Intersect(back, beyond))
		}
	}
	return all
}

// past is the square beyond the end of a track at p that holds all of its round end, which
// reaches no farther than the walls are from the middle.
func past(p, out geom.Point, reach float64) region.Region {
	const room = 0.5 // mm, less than any web
	ahead := out.Scale(reach + room)
	left := geom.Pt(-ahead.Y, ahead.X)
	return region.New(geom.Polygon(p.Sub(left), p.Sub(left).Add(ahead), p.Add(left).Add(ahead), p.Add(left)))
}

// Said is the check in a sentence.
func (c Check) Said() unit.Text {
	left := unit.Say("leaves nothing of them")
	if c.Missed > groove.Overcut {
		left = unit.Say("leaves at most %s of them", unit.Len(c.Missed))
	}
	return unit.Say("Checked: rolled in the walls as they are to be, the rider lets the bit cut at most %s beyond grooves of %s, each in its place, and %s.",
		unit.Len(c.Overcut), unit.Len(c.Width), left)
}

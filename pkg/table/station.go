package table

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Near is how near a band's side may come in mm to a joint that it doesn't cross: less breaks
// out (common practice). It is at least the groove's width.
const Near = 5.0

// clear is what stays between a band's side and an edge that it doesn't cross.
func (t Table) clear() float64 { return math.Max(t.Groove, Near) }

// station says where the motif is laid, and whether it stays within the sections there.
func (t *Table) station(m motif.Motif, found *diag.Findings) {
	box := m.Bounds()
	if len(t.Table.Stations) > 0 {
		t.ownStations(box, found)
		return
	}
	number := 0
	add := func(s Station) {
		number++
		s.Number = number
		t.Stations = append(t.Stations, s)
	}
	for i, x := range t.Joints {
		at := geom.Pt(x, t.Table.Across)
		if t.Table.Groove == work.GrooveApart {
			add(Station{At: at, Sections: []int{i}, Side: work.Right, Edge: true})
			add(Station{At: at, Sections: []int{i + 1}, Side: work.Left, Edge: true})
			continue
		}
		add(Station{At: at, Sections: []int{i, i + 1}})
	}
	t.reach(box, found)
}

// ownStations are those that the job gives.
func (t *Table) ownStations(box geom.Box, found *diag.Findings) {
	half := t.Groove / 2
	for n, at := range t.Table.Stations {
		s := Station{Number: n + 1, At: at}
		lies := geom.Shifting(at)
		low, high := lies.Apply(box.Min).X-half, lies.Apply(box.Max).X+half
		for i := range t.Sections {
			if left, right := t.Ends(i); low < right && high > left {
				s.Sections = append(s.Sections, i)
			}
		}
		t.Stations = append(t.Stations, s)
		t.across("table.stations", box, at, found)
		if last := t.Table.Length(); low < t.clear() || high > last-t.clear() {
			found.Errorf("table.stations", ruleReach, "at station %d the motif reaches past the end of the table", n+1).
				Hintf("move the station by %s, make the end longer, or the motif smaller", unit.AtLeast(math.Max(t.clear()-low, high-last+t.clear())).Rough())
		}
	}
}

// The rules of this package's findings.
const (
	ruleReach    = "table-reach"
	ruleAlike    = "table-alike"
	ruleNear     = "joint-near"
	ruleAngle    = "joint-angle"
	ruleCrossing = "joint-crossing"
	ruleMeet     = "joint-meet"
)

// reach reports motifs on joints that reach past a section's far edge, with the least
// length that will do, and past the front or the back of the table.
func (t *Table) reach(box geom.Box, found *diag.Findings) {
	more := t.Groove/2 + t.clear()
	left, right := -box.Min.X+more, box.Max.X+more
	for k, kind := range t.Kinds {
		need, side := 0.0, work.Left
		for i, s := range t.Sections {
			if s.Kind != k {
				continue
			}
			if i < len(t.Sections)-1 && left > need {
				need, side = left, work.Right
			}
			if i > 0 && right > need {
				need, side = right, work.Left
			}
		}
		if need > kind.Length+geom.Coincident {
			found.Errorf(kind.Key+".length", ruleReach, "the motif on the %s edge of %s reaches past its far edge: the section is %s long, and %s or more are needed",
				side, kind.Name, unit.Len(kind.Length), unit.AtLeast(need)).
				Hintf("make %s at least %s long, or the motif smaller", kind.Name, unit.AtLeast(need)).Propose(kind.Key+".length", unit.AtLeast(need))
		}
	}
	t.across("table.across", box, geom.Pt(0, t.Table.Across), found)
}

// across reports a motif that reaches past the front or the back of the table.
func (t *Table) across(key diag.Key, box geom.Box, at geom.Point, found *diag.Findings) {
	low, high := at.Y+box.Min.Y-t.Groove/2, at.Y+box.Max.Y+t.Groove/2
	if low >= t.clear() && high <= t.Table.Width-t.clear() {
		return
	}
	need := box.Size().Y + t.Groove + 2*t.clear()
	f := found.Errorf(key, ruleReach, "the motif comes to %s from the front of the table and to %s from its back: at least %s must be left",
		unit.Len(low).Rough(), unit.Len(t.Table.Width-high).Rough(), unit.AtLeast(t.clear()))
	if need > t.Table.Width {
		f.Hintf("make the table at least %s wide, or the motif smaller", unit.AtLeast(need))
		return
	}
	if low < t.clear() {
		f.Hintf("lay the motif's origin %s from the front, or further", unit.AtLeast(at.Y+t.clear()-low).Rough())
		return
	}
	f.Hintf("lay the motif's origin %s from the front, or less", unit.AtMost(at.Y+t.Table.Width-t.clear()-high).Rough())
}

// top lays the motif at all stations, and joins the ends of different stations that
// meet; moved says that some of these lay apart.
func (t Table) top(m motif.Motif) (top motif.Motif, moved bool) {
	var places []geom.Point
	for _, s := range t.Stations {
		if len(places) == 0 || places[len(places)-1] != s.At {
			places = append(places, s.At) // two stations of one joint have one motif
		}
	}
	j := joiner{sources: m.Sources}
	for n, at := range places {
		by := geom.Shifting(at)
		for _, s := range m.Strands {
			j.add(n, motif.NewStrand("", by.Contour(s.Contour), s.Sources, s.Corner))
		}
	}
	return j.join(), j.moved
}

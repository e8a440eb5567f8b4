package plan

// The order of work: the one list of what is cut where, by which opening. Set-up
// sheet, pictures, page, manifest and receiving card all read it, and work out
// nothing of it for themselves.

import (
	"math"
	"slices"
	"strconv"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
)

// A SetUp is a panel laid in one of its positions.
type SetUp struct {
	Number   int    // from 1, in the order of work
	Panel    int    // index of the panel
	PanelID  string // "A"
	Place    int    // which of the panel's positions it is, from 1
	Position Orientation
	Tracks   []Track // the panel's openings, in the order of its cuts
}

// A Track is an opening as its panel lies in a set-up.
type Track struct {
	ID string // the opening's name, the same in all set-ups: "A1"
	// Number is the cut's, 1 to N through the job in the order of work; 0 where the track
	// is spare.
	Number int
	Cut    groove.Cut   // what it cuts there; named by all cuts that make it where it is spare
	Own    string       // the name of the cut that it makes with the panel unturned
	Line   geom.Contour // the way of the bit along the middle as the panel has it, from where it goes in; Cut.Line may run the other way

	// Pilot is where the bit goes in where it can't plunge: at the start, but for
	// a square end, which a hole as wide as the groove would break out of.
	Pilot geom.Point
	Along []string // the elements that Cut follows, in its order
	Spare bool     // Elsewhere makes all of it: the track is left alone in this set-up
	// Elsewhere are the cuts of other set-ups that lie along this one. For a
	// cut that is made they are those of earlier set-ups: where they lie it is
	// cut again.
	Elsewhere []Overlap
}

// An Overlap is a stretch of a cut that the cut of another set-up makes too.
type Overlap struct {
	SetUp  int // the other's number
	Cut    string
	Number int     // of that cut, in the order of work
	Length float64 // mm along the strand
}

// Start is where a track's cut begins, and the bit goes in.
func (t Track) Start() geom.Point { return t.at(geom.Contour.Start) }

// End is the far end of a track's cut, where the bit changes over to the other wall.
func (t Track) End() geom.Point { return t.at(geom.Contour.End) }

// at is an end of the line; the origin where there is none.
func (t Track) at(end func(geom.Contour) geom.Point) geom.Point {
	if t.Line.Len() == 0 {
		return geom.Point{}
	}
	return end(t.Line)
}

// Made are the tracks that something is cut through, in order.
func (u SetUp) Made() []Track { return u.tracks(false) }

// Spare are the tracks that are left alone.
func (u SetUp) Spare() []Track { return u.tracks(true) }

func (u SetUp) tracks(spare bool) []Track {
	return slices.DeleteFunc(slices.Clone(u.Tracks), func(t Track) bool { return t.Spare != spare })
}

func (u SetUp) cuts() []groove.Cut {
	cuts := make([]groove.Cut, len(u.Tracks))
	for i, t := range u.Tracks {
		cuts[i] = t.Cut
	}
	return cuts
}

// LastAt is the number of the last set-up that cuts up to a place along a strand, or
// past it; of all set-ups where the strand is none's (-1), and 0 where nothing is cut.
func (p Plan) LastAt(m motif.Motif, strand int, s float64) int {
	last := 0
	for _, u := range p.SetUps {
		there := func(t Track) bool {
			return strand < 0 || t.Cut.Strand == strand && reaches(m.Strands[strand], t.Cut, s)
		}
		if slices.ContainsFunc(u.Made(), there) {
			last = u.Number
		}
	}
	return last
}

// reaches reports whether a cut of a strand ends at a place along it, or goes past. A
// cut may end on a closed strand's second lap.
func reaches(st motif.Strand, c groove.Cut, s float64) bool {
	laps := 0
	if st.Contour.Closed {
		laps = 2
	}
	for lap := range laps + 1 {
		if at := s + float64(lap)*st.Length(); at > c.From.S-sameStretch && at < c.To.S+sameStretch {
			return true
		}
	}
	return false
}

// LayOut names panels and tracks, numbers the set-ups, and works out how each
// track lies in them. Make has done so; it is for plans made otherwise, whose set-ups
// give panel, position and cuts.
func (p *Plan) LayOut(g *groove.Groove) {
	places := make([]int, len(p.Panels))
	cuts, numbers := 0, map[string]int{} // of cuts, by name
	for i := range p.Panels {
		p.Panels[i].ID = letter(i)
	}
	for n := range p.SetUps {
		u := &p.SetUps[n]
		panel := p.Panels[u.Panel]
		places[u.Panel]++
		u.Number, u.PanelID, u.Place = n+1, panel.ID, places[u.Panel]
		for k := range u.Tracks {
			t := &u.Tracks[k]
			t.lay(g, panel.TrackID(k), panel.Cuts[k], u.Position)
			if t.Number = 0; !t.Spare {
				cuts++
				t.Number = cuts
				numbers[t.Cut.Name] = cuts
			}
		}
	}
	for _, u := range p.SetUps {
		for _, t := range u.Tracks {
			for i := range t.Elsewhere {
				t.Elsewhere[i].Number = numbers[t.Elsewhere[i].Cut]
			}
		}
	}
}

// TrackID names the i-th opening of a panel, counted from 0: "A1".
func (p Panel) TrackID(i int) string { return p.ID + strconv.Itoa(i+1) }

// letter names the i-th panel: A to Z, then AA, AB and so on.
func letter(i int) string {
	name := ""
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}

// lay works out how the opening for the panel's own cut lies in a position.
func (t *Track) lay(g *groove.Groove, id string, own groove.Cut, pos Orientation) {
	to := pos.Similarity()
	t.ID, t.Own, t.Line, t.Along = id, own.Name, to.Contour(own.Line), elements(g.Motif, t.Cut)
	t.Pilot = t.Start()
	if own.From.Kind == groove.StopFree {
		t.Pilot, _ = t.Line.At(g.Size.Offset())
	}
}

// elements names the elements that a cut follows, in its own order. The stretch
// past the end of a closed strand is that strand's second lap.
func elements(m motif.Motif, c groove.Cut) []string {
	s := m.Strands[c.Strand]
	var names []string
	for lap := 0.0; lap < c.To.S && s.Length() > 0; lap += s.Length() {
		for i, src := range s.Sources {
			from, to := s.Offsets()[i]+lap, s.Offsets()[i+1]+lap
			if math.Min(to, c.To.S)-math.Max(from, c.From.S) <= motif.Same {
				continue
			}
			if name := m.Sources[src].Name; len(names) == 0 || names[len(names)-1] != name {
				names = append(names, name)
			}
		}
	}
	return names
}

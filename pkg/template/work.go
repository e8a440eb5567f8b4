package template

// The order of work: the one list of what is cut where, by which opening. Sheet,
// pictures, page and manifest are all made from it.

import (
	"strconv"

	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
	"strapwork/pkg/unit"
)

// A SetUp is a panel laid in one of its positions.
type SetUp struct {
	Number   int // from 1, in the order of work
	Panel    Panel
	Place    int // which of the panel's positions it is, from 1
	Position Orientation
	Tracks   []Track // the panel's openings, in their order
}

// A Track is an opening as its panel is laid in a set-up.
type Track struct {
	ID      string // "A1"
	Opening Opening
	Cut     groove.Cut // what it cuts there; its line lies where the opening's own, laid, does, but may run the other way
	Spare   bool       // Elsewhere makes all of it: the track is left alone in this set-up
	// Elsewhere are the cuts of other set-ups that lie along this one. For a
	// cut that is made they are those of earlier set-ups: where they lie it is
	// cut again.
	Elsewhere []Overlap
}

// An Overlap is what two set-ups' cuts have in common.
type Overlap struct {
	SetUp  int // the other one's number
	Cut    string
	Length float64 // mm along the strand
}

// TrackID names the i-th opening of a panel, counted from 0: "A1".
func TrackID(panel string, i int) string { return panel + strconv.Itoa(i+1) }

// Work lists the set-ups in the order of work.
func (s Set) Work() []SetUp {
	list := make([]SetUp, 0, len(s.Plan.SetUps))
	places := make([]int, len(s.Panels))
	for n, up := range s.Plan.SetUps {
		panel := s.Panels[up.Panel]
		places[up.Panel]++
		u := SetUp{Number: n + 1, Panel: panel, Place: places[up.Panel], Position: up.Position}
		for i, o := range panel.Openings {
			u.Tracks = append(u.Tracks, newTrack(TrackID(panel.ID, i), o, up.Cuts[i], up.Share(i)))
		}
		list = append(list, u)
	}
	return list
}

func newTrack(id string, o Opening, c groove.Cut, share plan.Share) Track {
	t := Track{ID: id, Opening: o, Cut: c, Spare: share.Spare}
	for _, w := range share.With {
		t.Elsewhere = append(t.Elsewhere, Overlap{SetUp: w.SetUp + 1, Cut: w.Cut, Length: w.Length})
	}
	return t
}

// tellAgain warns, once, of stretches that two set-ups cut.
func (s *Set) tellAgain(j Params) {
	n, first := 0, unit.Text{}
	for _, u := range s.Work() {
		for _, t := range u.Tracks {
			if t.Spare || len(t.Elsewhere) == 0 {
				continue
			}
			n++
			if o := t.Elsewhere[0]; n == 1 {
				first = unit.Say("%s in set-up %d runs along %s of %s of set-up %d", t.Cut.Name, u.Number, unit.Len(o.Length), o.Cut, o.SetUp)
			}
		}
	}
	if n > 0 {
		s.Found.Warnf("template", "cut-again", "%d of the cuts go over groove that an earlier set-up has made, and may widen it by as much as the panel lies off the first one's place: %s", n, first).
			Hintf("lay the panels with care there; or set template.turn = false, for panels of their own")
	}
}

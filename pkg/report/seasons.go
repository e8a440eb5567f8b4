package report

import (
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/season"
)

// seasonsJSON is how the board moves as its moisture changes, and under which pieces too far.
type seasonsJSON struct {
	Species     string  `json:"species"`
	As          string  `json:"as,omitempty"` // the row of the table that it was taken for
	Sawn        string  `json:"sawn"`
	Coefficient num     `json:"coefficient"` // change of width, as a part of it, for 1 per cent of moisture
	Source      string  `json:"source"`      // of the coefficient
	Recalled    bool    `json:"recalled"`    // it is from memory
	Moisture    [2]num  `json:"moisture"`    // per cent, when inlaid and expected
	Humidity    [2]num  `json:"humidity"`    // per cent, of rooms in which wood comes to that
	Percent     num     `json:"percent"`     // by how much the board gets wider
	Metal       spanOf  `json:"metal"`
	Wood        spanOf  `json:"wood"`
	Over        []moved `json:"pieces"` // those under which it moves by more than the limit

	Alike   []movedAlike `json:"-"`
	Joint   spanOf       `json:"-"` // of pieces that end at a joint of a table's sections; 0 where none does
	Shrinks bool         `json:"-"`
}

// spanOf is what pieces of a kind put up with.
type spanOf struct {
	Limit  num `json:"limit"`  // how far the board may move under one
	Across num `json:"across"` // how much of the grain it may cross for that; 0: any
}

// moved is a piece that can't go along.
type moved struct {
	Piece    int    `json:"piece"`
	Strand   string `json:"strand"`
	Strip    int    `json:"strip"`
	Across   num    `json:"across"`          // how much of the grain it crosses
	Movement num    `json:"movement"`        // of the board under it, positive where it grows
	Parts    int    `json:"parts"`           // in how many it stays within its limit
	Breaks   []xy   `json:"breaks"`          // where these part
	Joint    bool   `json:"joint,omitempty"` // it ends at a joint of two sections
	At       xy     `json:"at"`              // its middle
}

// movedAlike are pieces of one material that are to be broken into as many parts.
type movedAlike struct {
	Pieces   []int // the first of them
	More     int
	Material string
	Joint    bool // they end at joints
	Parts    int
	Across   num // of that which crosses most
	Moves    num // rounded up
	Shy      num // at each end; 0 where the board grows
}

// mostInARow is how many pieces a row names; the rest of them are counted.
const mostInARow = 12

func newSeasons(r build.Result) *seasonsJSON {
	if r.Seasons == nil {
		return nil
	}
	c := r.Seasons.Change
	out := &seasonsJSON{
		Species: c.Species, As: c.As, Sawn: c.Sawn.String(), Coefficient: num(c.Coefficient), Source: c.Source, Recalled: c.Recalled,
		Moisture: pair(c.Moisture), Humidity: pair(c.Humidity), Percent: num(c.Percent()), Shrinks: c.Percent() < 0,
		Metal: newSpan(c, season.MetalLimit), Wood: newSpan(c, season.WoodLimit),
		Over: each(r.Seasons.Over, func(m season.Moved) moved {
			return moved{
				Piece: m.Number, Strand: m.Strand, Strip: m.Strip, Across: num(m.Across), Movement: num(m.Movement),
				Parts: m.Parts, Breaks: each(m.Breaks, func(p geom.Point) xy { return toXY(p) }), At: toXY(m.At), Joint: m.Joint,
			}
		}),
	}
	if slices.ContainsFunc(r.List.Pieces, cutlist.Piece.AtJoint) {
		out.Joint = newSpan(c, season.JointLimit)
	}
	for _, m := range r.Seasons.Over { // those that cross most come first
		out.add(r.List.Pieces[m.Number-1].Material, m)
	}
	for i, a := range out.Alike {
		slices.Sort(a.Pieces)
		if n := len(a.Pieces); n > mostInARow {
			out.Alike[i].Pieces, out.Alike[i].More = a.Pieces[:mostInARow], n-mostInARow
		}
	}
	return out
}

func pair(v [2]float64) [2]num { return [2]num{num(v[0]), num(v[1])} }

func newSpan(c season.Change, limit float64) spanOf {
	most, _ := c.Across(limit)
	return spanOf{num(limit), num(most)}
}

// add adds a piece to those that are alike.
func (s *seasonsJSON) add(material string, m season.Moved) {
	for i, a := range s.Alike {
		if a.Material == material && a.Parts == m.Parts && a.Joint == m.Joint {
			s.Alike[i].Pieces = append(a.Pieces, m.Number)
			return
		}
	}
	s.Alike = append(s.Alike, movedAlike{
		Pieces: []int{m.Number}, Material: material, Parts: m.Parts, Joint: m.Joint,
		Across: num(m.Across), Moves: num(season.Known(m.Movement)), Shy: num(season.Known(m.Shy())),
	})
}

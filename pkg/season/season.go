// Package season works out how wood moves as its moisture changes, and which strips of an
// inlay can't go along.
//
// Wood swells and shrinks across its grain, and next to nothing along it. A strip of metal
// doesn't move with moisture at all, and one of wood lies along its own grain: so a strip that
// crosses the board's grain stays as long as it was laid while the board under it doesn't.
//
// Moisture is in per cent of the dry wood's weight. A coefficient is the change of a width, as
// a part of that width, for 1 per cent of moisture. All of it is from the Wood Handbook of the
// Forest Products Laboratory (FPL-GTR-190, 2010) where no other source is named. Lengths are mm.
package season

import (
	"math"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

const (
	// Driest and Wettest are the moistures between which the coefficients hold (table 13-5).
	Driest, Wettest = 6.0, 14.0
	// MDF is the coefficient of medium density fibreboard in its plane: 0.05 per cent for
	// 1 per cent of moisture (the European makers' guide on controlling MDF's moisture,
	// mdf-info.eu).
	MDF = 0.0005
)

// Movement is what a width of wood or sheet gains, or loses where it is negative, over a
// change of moisture: dD = D C (M2 - M1) (equation 13-2).
func Movement(width, coefficient, change float64) float64 { return width * coefficient * change }

// FromShrinkage is the coefficient that a shrinkage in per cent, from green to dry as lists of
// woods give it, comes to between 6 and 14 per cent of moisture: equation 13-3 at 10 per cent.
func FromShrinkage(percent float64) float64 {
	const saturated, middle = 30, (Driest + Wettest) / 2
	return 1 / (saturated*100/percent - saturated + middle)
}

// A Change is what the board's wood goes through.
type Change struct {
	Key         diag.Key // of the job, that gives its moisture
	Species     string   // as the job has it
	As          string   // the table's row that was taken for it; "" for coefficients of one's own
	Sawn        work.Sawn
	Coefficient float64    // across the board's width
	Source      string     // of the coefficient
	Recalled    bool       // from memory
	Moisture    [2]float64 // when inlaid, and expected
	Humidity    [2]float64 // of rooms in which wood comes to that, per cent
}

// Percent is how much wider the board gets, in per cent.
func (c Change) Percent() float64 {
	return Movement(100, c.Coefficient, c.Moisture[1]-c.Moisture[0])
}

// Across is how much of the grain a piece may cross that is to move by no more than limit
// against the wood; ok is false where nothing moves.
func (c Change) Across(limit float64) (most float64, ok bool) {
	one := math.Abs(Movement(1, c.Coefficient, c.Moisture[1]-c.Moisture[0]))
	const nothing = 1e-9 // a millimetre in a thousand kilometres
	if one < nothing {
		return 0, false
	}
	return limit / one, true
}

// Judge works out the change that a job asks for. Without a word on moisture there is none, and
// ok is false; so it is where something is wrong or missing, which is reported.
func Judge(w work.Wood, s *work.Seasons, board *work.Board) (c Change, ok bool, found diag.Findings) {
	if s == nil {
		return Change{}, false, nil
	}
	c = Change{Species: w.Species, Sawn: s.Sawn}
	named := c.name(w.Species, s, &found)
	c.moisture(s)
	if board == nil {
		found.Warnf(c.Key, "grain-unknown", "seasons are left out: without [board] the direction of the grain isn't known").
			Hintf("add [board] with size, thickness and grain, in degrees from +x")
		return Change{}, false, found
	}
	if out := slices.ContainsFunc(c.Moisture[:], func(m float64) bool { return m < Driest || m > Wettest }); out {
		f := found.Warnf(c.Key, "moisture-range", "seasons are left out: the coefficients hold from %s to %s %% of moisture, and the wood goes from %s to %s %%",
			percent(Driest), percent(Wettest), percent(c.Moisture[0]), percent(c.Moisture[1]))
		if s.ByHumidity {
			f.Hintf("write both between %.0f and %.0f: what rooms have where wood is of %s to %s %%", math.Ceil(Humidity(Driest)), math.Floor(Humidity(Wettest)), percent(Driest), percent(Wettest))
		} else {
			f.Hintf("write both between %s and %s: what the board has now, and what it comes to where it will be", percent(Driest), percent(Wettest))
		}
		return Change{}, false, found
	}
	return c, named, found
}

// percent is a number of them for people.
func percent(v float64) string { return unit.Decimal(v, 1) }

// moisture takes what the job gives, and works out the other.
func (c *Change) moisture(s *work.Seasons) {
	if s.ByHumidity {
		c.Key, c.Humidity = "wood.humidity", s.Change
		for i, h := range s.Change {
			c.Moisture[i] = Equilibrium(h, Indoors)
		}
		return
	}
	c.Key, c.Moisture = "wood.moisture", s.Change
	for i, m := range s.Change {
		c.Humidity[i] = Humidity(m)
	}
}

// name finds the coefficient, and reports whether there is one.
func (c *Change) name(species string, s *work.Seasons, found *diag.Findings) bool {
	row, ok := Find(species)
	own := s.Tangential
	c.Coefficient = row.Tangential
	if s.Sawn == work.SawnQuarter {
		own, c.Coefficient = s.Radial, row.Radial
	}
	switch {
	case own > 0:
		c.Coefficient, c.Source = own, s.Source
		return true
	case ok:
		c.As, c.Source, c.Recalled = row.Name(), Handbook, row.Recalled
		return true
	}
	f := found.Errorf("wood.species", "species-unknown", "no coefficients are known for %q, and seasons can't be worked out without", species)
	const give = `give its own: %s = 0.003, for 1 %% of moisture, with source = "where it is from"`
	across := "tangential"
	if s.Sawn == work.SawnQuarter {
		across = "radial"
	}
	switch like := Like(species); {
	case len(like) > 0:
		f.Hintf("write %s if it is of that kind, or "+give, either(like), across)
	default:
		f.Hintf(give, across)
	}
	return false
}

// either is names as they are typed: "a", "b" or "c".
func either(names []string) string {
	quoted := make([]string, len(names))
	for i, n := range names {
		quoted[i] = `"` + n + `"`
	}
	if n := len(quoted); n > 1 {
		return strings.Join(quoted[:n-1], ", ") + " or " + quoted[n-1]
	}
	return quoted[0]
}

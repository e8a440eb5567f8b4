// Package budget adds up what a groove may be out by before anything goes
// wrong: what the shop holds, a base off its spindle, a panel that doesn't seat
// twice in the same place, sheet that swells.
//
// Each term is given by its effect on a groove. To wander is to lie to one side
// of the place that the other grooves ask for; to widen is to come out wider
// or narrower than planned; to deepen is to be out in depth. What shifts the
// whole pattern alike is no error, since everything still fits: a panel wedged
// into the same corner every time, or a base off centre that never turns.
//
// All lengths are mm and stand for "plus or minus".
package budget

import (
	"math"

	"strapwork/pkg/unit"
)

// A Source is where an error comes from.
type Source int

// The sources.
const (
	// Seat is that a panel does not seat twice in quite the same place.
	Seat Source = iota
	// Outline is the panel's edges, which are pressed into the frame's corner:
	// another panel, or the same one turned, is pressed with other edges.
	Outline
	// Walls is the two walls of a track, as the shop cuts them.
	Walls
	// Kerf is the width of the cut, where the drawings allow for it.
	Kerf
	// OffCenter is a base or collar off the spindle, held only nearly with one
	// mark facing the same way.
	OffCenter
	// Moisture is sheet that swells and shrinks between its cutting and its use.
	Moisture
	// Rider is the measuring of the rider's diameter.
	Rider
	// Bit is the measuring of the slot that the bit cuts.
	Bit
	// Sheet is the thickness of the sheet that the router stands on.
	Sheet
	// Holes is the place of a pivot bar's two holes.
	Holes
	// Pin is the fit of the pivot's pin in its hole.
	Pin
	// Bearing is that a panel does not bear twice on its rail in quite the same way.
	Bearing
	// Index is the fit of the pins by which panels are held along a rail.
	Index
	// Splices is that of the pins in the rail's splices.
	Splices
)

var sourceWords = [...]string{
	Seat:      "seat",
	Outline:   "outline",
	Walls:     "walls",
	Kerf:      "kerf",
	OffCenter: "off_center",
	Moisture:  "moisture",
	Rider:     "rider",
	Bit:       "bit",
	Sheet:     "sheet",
	Holes:     "holes",
	Pin:       "pin",
	Bearing:   "bearing",
	Index:     "index",
	Splices:   "splices",
}

// String is the source's word in the manifest.
func (s Source) String() string { return unit.Word(sourceWords[:], s, "source") }

// Cure is what makes the error smaller, as a sentence without its full stop.
func (s Source) Cure() string {
	switch s {
	case Seat:
		return "brush panel and frame clean, and drive the wedges the same way each time"
	case Outline:
		return "trim the panels together, as one stack, to the same size and square"
	case Walls:
		return "have the panels cut by a shop that holds a closer tolerance"
	case Kerf:
		return "cut a test square from the same sheet on the same day, measure it, and put the kerf that it gives into the job"
	case OffCenter:
		return "put a sub-base under the router that was bored with its own spindle, and write off_center = 0 into the job"
	case Moisture:
		return "keep the parts where they will be used for a week, flat and in a bag until then, or seal them all round"
	case Rider:
		return "measure the rider with a micrometer, three ways, and take the mean"
	case Bit:
		return "measure the slot in scrap with feeler gauges, at several places"
	case Sheet:
		return "measure the sheet, and set the depth from the work's surface"
	case Holes:
		return "bore the bar's holes on a drill press, from measured marks"
	case Pin:
		return "ream the holes to the pin, and press the bar the same way all round"
	case Bearing:
		return "brush the panel's edge and the rail clean, and press the panel at both ends of that edge"
	case Index:
		return "ream the holes to the pins, and press the panel towards the rail's zero end each time"
	case Splices:
		return "ream the splices' holes to the pins, or glue the rail together on a flat floor"
	}
	return ""
}

// A Term is one source of error, or several alike that don't know of each
// other: the two walls of a track.
type Term struct {
	Source  Source
	From    float64 // the measure that it follows from: a tolerance, a distance
	Assumed bool    // From was not given; it is what is usual
	Times   int     // how many alike there are, at least 1

	// What each of them does to a groove.
	Wander float64
	Widen  float64
	Deepen float64
}

// An Effect is one of the three things that a term does to a groove.
type Effect int

// The effects.
const (
	Wander Effect = iota
	Widen
	Deepen
)

var effectWords = [...]string{
	Wander: "wander",
	Widen:  "widen",
	Deepen: "deepen",
}

// String is the effect's word in the manifest.
func (e Effect) String() string { return unit.Word(effectWords[:], e, "effect") }

// Of returns what each of the term's errors does.
func (t Term) Of(e Effect) float64 {
	switch e {
	case Wander:
		return t.Wander
	case Widen:
		return t.Widen
	case Deepen:
		return t.Deepen
	}
	return 0
}

// Worst is all of the term's errors together, the same way.
func (t Term) Worst(e Effect) float64 { return float64(t.Times) * t.Of(e) }

// square is the term's part of the sum of squares.
func (t Term) square(e Effect) float64 { return float64(t.Times) * t.Of(e) * t.Of(e) }

// A Budget is all terms that apply to a job, in the order of the sources. The
// zero Budget has none, and its sums are 0.
type Budget struct {
	Terms []Term
}

// A Sum is what the terms add up to.
type Sum struct {
	Worst float64 // every error at its largest and the same way
	RSS   float64 // root of the sum of squares: errors that don't know of each other seldom add up
	Most  Source  // what gives most of RSS; means nothing where that is 0
}

// Sum adds the terms up. Of terms that give alike the first is Most.
func (b Budget) Sum(e Effect) Sum {
	var s Sum
	var squares, most float64
	for _, t := range b.Terms {
		s.Worst += t.Worst(e)
		squares += t.square(e)
		if t.square(e) > most {
			most, s.Most = t.square(e), t.Source
		}
	}
	s.RSS = math.Sqrt(squares)
	return s
}

// Without is the budget with one source repaired altogether.
func (b Budget) Without(s Source) Budget {
	var out Budget
	for _, t := range b.Terms {
		if t.Source != s {
			out.Terms = append(out.Terms, t)
		}
	}
	return out
}

// Turned is how far in mm the bit wanders when a base that is off centre by e
// mm is turned by angle radians: 2 e sin(angle/2), the chord of its circle
// (derived).
func Turned(e, angle float64) float64 { return 2 * math.Abs(e*math.Sin(angle/2)) }

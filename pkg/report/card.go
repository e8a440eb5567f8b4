package report

import (
	"math"

	"strapwork/pkg/build"
	"strapwork/pkg/received"
)

// trackFacts is a track on the receiving card.
type trackFacts struct {
	ID       string
	Cut      string
	At       xy     // where it is measured, on the panel's drawing
	Calipers string // how they lie across it there: "upright", "level", "slanting", "radial"
	EndToEnd num
}

func newTracks(r build.Result) []trackFacts {
	return each(received.Openings(r.Set, r.Groove.Size), func(t received.Opening) trackFacts {
		return trackFacts{t.ID, t.Cut, toXY(t.At), calipers(t), num(t.EndToEnd)}
	})
}

// calipers says how they lie across a track, on the drawing.
func calipers(t received.Opening) string {
	const square = 1e-6 // far under what a hand can turn, and over rounding
	switch {
	case t.Curved:
		return "radial"
	case math.Abs(t.Across.X) < square:
		return "upright"
	case math.Abs(t.Across.Y) < square:
		return "level"
	}
	return "slanting"
}

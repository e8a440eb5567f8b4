package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/received"
)

// trackFacts is a track on the receiving card.
type trackFacts struct {
	ID       string
	Cuts     []int // the numbers of those that it makes, set-up by set-up
	At       xy    // where it is measured, on the panel's drawing
	EndToEnd num
}

func newTracks(r build.Result) []trackFacts {
	return each(received.Openings(r.Set, r.Groove.Size), func(t received.Opening) trackFacts {
		return trackFacts{t.ID, each(t.Cuts, func(c received.Made) int { return c.Number }), toXY(t.At), num(t.EndToEnd)}
	})
}

package budget

import "math"

// StationLaid is by how much in mm a frame or a jig that is laid against a stop comes to lie
// elsewhere along the joint at the next station: a stop block against an edge and a pencil
// line (common practice).
const StationLaid = 0.1

// A Joint is by how much strands may be out along a joint, where two sections meet.
type Joint struct {
	Laid     float64 // of the frame at a station
	Play     float64 // of what aligns the sections
	Station  Sum     // of the grooves of one station
	Together Sum     // of two sections that were clamped together while they were grooved
	Others   Sum     // of two that never were
}

// Joint is what the budget comes to at the joints of a table whose aligners have some play. Two
// sections that were clamped together are cut in one go, and are out by no more than what
// aligns them lets them slip; two that never were have the errors of a station each, which
// don't know of each other: root 2 of one.
func (b Budget) Joint(play float64) Joint {
	wander := b.Sum(Wander)
	one := Sum{Worst: wander.Worst + StationLaid, RSS: math.Hypot(wander.RSS, StationLaid), Most: wander.Most}
	return Joint{
		Laid: StationLaid, Play: play, Station: one,
		Together: Sum{Worst: play, RSS: play},
		Others:   Sum{Worst: 2*one.Worst + play, RSS: math.Hypot(math.Sqrt2*one.RSS, play), Most: one.Most},
	}
}

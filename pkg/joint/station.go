package joint

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// A Station is one placing of the motif, in the order of work.
type Station struct {
	Number   int
	At       geom.Point // of the motif's origin, in the table's coordinates
	Sections []int      // that are grooved there
}

// A Way is a cut that is made at every station, in the motif's coordinates.
type Way struct {
	Name   string
	Number int // in the order of work
	SetUp  int // that it is made in
	Line   geom.Contour
}

// A Pass is a place where two strands cross one another.
type Pass struct {
	At      geom.Point // in the table's coordinates
	Section int
	Along   [2]geom.Point // unit directions of the two strands there
	Over    int           // which of them is over
}

// A CutOver is a cut that passes over strips which are laid already where the table is inlaid
// station by station.
type CutOver struct {
	Station int // at which it is made
	Way     Way
	Laid    int // the station at which the strips were laid
	Pass    int // the index of the place
	Own     int // which of the two strands there is cut
	// Through: the strips that are laid run through there, over the others, and are cut in
	// two: their pieces are cut again. Else they end there, and the cut trims them.
	Through bool
}

const (
	// onWay is how far in mm a place may lie off a cut that passes it: by the ends that are
	// joined where stations meet, and far less than any two grooves are apart.
	onWay = 0.1
	// sameWay is the sine of the angle within which a cut runs along a strand: far less than
	// that of any two strands that cross.
	sameWay = 0.05
)

// CutsOver are the cuts that pass over strips laid before, in the order of work. Where the
// strands of two stations cross, whichever is grooved later runs into the other's strips.
func CutsOver(stations []Station, ways []Way, passes []Pass) (all []CutOver) {
	for i, p := range passes {
		var made [2][]CutOver // by strand: the cuts that pass there, by station
		for _, s := range stations {
			if !slices.Contains(s.Sections, p.Section) {
				continue
			}
			for _, w := range ways {
				if own, ok := w.passes(p, s.At); ok {
					made[own] = append(made[own], CutOver{Station: s.Number, Way: w, Pass: i, Own: own})
				}
			}
		}
		if len(made[0]) == 0 || len(made[1]) == 0 {
			continue
		}
		for own, list := range made {
			first := made[1-own][0].Station // of the other strand's groove: its strips follow it
			for _, r := range list {
				if r.Station > first {
					r.Laid, r.Through = first, p.Over == 1-own
					all = append(all, r)
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b CutOver) int {
		if a.Station != b.Station {
			return a.Station - b.Station
		}
		return a.Way.Number - b.Way.Number
	})
	return all
}

// passes reports along which of two strands a cut passes a place, with the motif laid at a
// station.
func (w Way) passes(p Pass, at geom.Point) (own int, ok bool) {
	here := p.At.Sub(at)
	if !w.Line.Bounds().Expand(onWay).Holds(here) {
		return 0, false
	}
	q, s := w.Line.Nearest(here)
	if !q.Near(here, onWay) {
		return 0, false
	}
	_, along := w.Line.At(s)
	for k, u := range p.Along {
		if math.Abs(along.Cross(u)) < sameWay {
			return k, true
		}
	}
	return 0, false
}

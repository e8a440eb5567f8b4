package report

import "strapwork/pkg/build"

// The sheet of a job whose motif, or whose panels, are laid at more than one place.
const (
	StationsPath = "stations.md"
	stationsRole = "stations"
)

// placesFacts are the chapters of that sheet; nil where one has nothing to say.
type placesFacts struct {
	Stations *stationsFacts
	Joints   *jointsFacts
	Steps    *stepsFacts
	Sections *sectionsFacts
	Weave    *weaveFacts
}

// hasStations reports whether a job has that sheet.
func hasStations(r build.Result) bool { return r.Table != nil || r.Set.Plan.Step.Repeats > 0 }

func newPlaces(r build.Result) placesFacts {
	if !hasStations(r) {
		return placesFacts{}
	}
	return placesFacts{newStationsFacts(r), newJointsFacts(r), newStepsFacts(r), newSectionsFacts(r), newWeaveFacts(r)}
}

// stationsFacts is what is done at each station of a table.
type stationsFacts struct {
	Count int
	Rows  []stationFacts
}

// stationFacts is one of them.
type stationFacts struct {
	Number   int
	At       xy       // of the motif's origin, all leaves in
	Sections []string // those that are grooved there
}

func newStationsFacts(r build.Result) *stationsFacts {
	if r.Table == nil {
		return nil
	}
	f := &stationsFacts{Count: len(r.Table.Stations)}
	for _, s := range r.Table.Stations {
		f.Rows = append(f.Rows, stationFacts{s.Number, toXY(s.At), each(s.Sections, func(n int) string { return r.Table.KindOf(n).Name })})
	}
	return f
}

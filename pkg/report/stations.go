package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/plan"
	"strapwork/pkg/table"
	"strapwork/pkg/work"
)

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

func newPlaces(r build.Result, found []findingJSON) placesFacts {
	if !hasStations(r) {
		return placesFacts{}
	}
	return placesFacts{newStationsFacts(r), newJointsFacts(r), newStepsFacts(r), newSectionsFacts(r), newWeaveFacts(r, found)}
}

// stationsFacts is what is done at each station of a table.
type stationsFacts struct {
	Size      xy       // of the top with all leaves in
	Sections  []string // from the left, all leaves in
	Leaves    int      // of them
	Count     int
	SetUps    int // of the plan
	Made      int // in all
	OnJoints  bool
	Across    num    // where on the joints the motif's origin lies, from the front
	Groove    string // "closed", "apart", "gap"
	Frame     bool
	ByStation bool
	Rows      []stationFacts
}

// stationFacts is one of them.
type stationFacts struct {
	Number   int
	At       xy       // of the motif's origin, all leaves in
	Sections []string // those that are grooved there
	Edge     string   // the edge of the only one; "" where it is not that alone
	SetUps   []int    // the plan's numbers of those that are made there
}

func newStationsFacts(r build.Result) *stationsFacts {
	t := r.Table
	if t == nil {
		return nil
	}
	f := &stationsFacts{
		Size: xy{num(t.Table.Length()), num(t.Table.Width)}, Count: len(t.Stations), SetUps: len(r.Set.Plan.SetUps),
		OnJoints: len(t.Table.Stations) == 0, Across: num(t.Table.Across), Groove: t.Table.Groove.String(), Frame: r.Set.Frame != nil, ByStation: t.Table.ByStation,
	}
	for i := range t.Sections {
		f.Sections = append(f.Sections, t.NameOf(i))
		if t.KindOf(i).Loose {
			f.Leaves++
		}
	}
	for _, s := range t.Stations {
		one := stationFacts{Number: s.Number, At: toXY(s.At), Sections: each(s.Sections, t.NameOf)}
		if s.Edge {
			one.Edge = s.Side.String()
		}
		for _, u := range r.Set.Plan.SetUps {
			if madeAt(r, u, s) {
				one.SetUps = append(one.SetUps, u.Number)
				f.Made++
			}
		}
		f.Rows = append(f.Rows, one)
	}
	return f
}

// madeAt reports whether a set-up is made at a station: where a section is grooved by itself,
// those of which a cut reaches its side of the joint.
func madeAt(r build.Result, u plan.SetUp, s table.Station) bool {
	if !s.Edge {
		return true
	}
	half := r.Groove.Size.Width/2 - geom.Coincident
	for _, t := range u.Made() {
		box := t.Line.Bounds()
		if s.Side == work.Right && box.Min.X < half || s.Side == work.Left && box.Max.X > -half {
			return true
		}
	}
	return false
}

// newSetUpsAt are the set-ups at all stations, one after another, numbered through; those of
// the plan where there is but one station.
func newSetUpsAt(r build.Result, setUps []setUpJSON) (all []setUpJSON) {
	if r.Table == nil {
		return setUps
	}
	for _, s := range r.Table.Stations {
		for i, u := range r.Set.Plan.SetUps {
			if !madeAt(r, u, s) {
				continue
			}
			one := setUps[i]
			one.Number, one.Station = len(all)+1, s.Number
			all = append(all, one)
		}
	}
	return all
}

// stepped gives the set-ups of a plan whose panels are stepped their stations: the places
// where panels are laid, in the order in which they are met.
func stepped(r build.Result, setUps []setUpJSON) (stations []stationJSON) {
	if r.Table != nil || r.Set.Plan.Step.Repeats == 0 {
		return nil
	}
	origin := geom.Point{}
	if b := r.Job.Board; b != nil {
		origin = b.Origin
	}
	known := map[geom.Point]int{}
	for i, u := range r.Set.Plan.SetUps {
		n, met := known[u.Position.Shift]
		if !met {
			n = len(stations) + 1
			known[u.Position.Shift] = n
			stations = append(stations, stationJSON{Number: n, At: toXY(origin.Add(u.Position.Shift))})
		}
		setUps[i].Station = n
	}
	return stations
}

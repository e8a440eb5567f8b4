package report

import (
	"math"
	"slices"
	"strconv"

	"strapwork/pkg/build"
	"strapwork/pkg/motif"
	"strapwork/pkg/table"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// tableJSON is a table that comes apart. Places are in the table's coordinates, whose origin
// is its front left corner with all leaves in, and y of passings from the front.
type tableJSON struct {
	Width        num               `json:"width"`
	Thickness    num               `json:"thickness"`
	Length       num               `json:"length"` // with all leaves in
	Sections     []sectionJSON     `json:"sections"`
	Joints       []jointJSON       `json:"joints"`
	Arrangements []arrangementJSON `json:"arrangements"`
	Passings     []passingJSON     `json:"passings"`
	Crossings    []sectionCrossing `json:"crossings"`
}

type sectionJSON struct {
	Name   string `json:"name"`
	X      num    `json:"x"` // of its left edge, all leaves in
	Length num    `json:"length"`
	Loose  bool   `json:"loose"`
	Round  string `json:"round,omitempty"` // the side of its half round
}

type jointJSON struct {
	X        num      `json:"x"` // all leaves in
	Sections []string `json:"sections"`
}

type arrangementJSON struct {
	Sections []string `json:"sections"`
	X        []num    `json:"x"` // of their left edges
	Turned   []bool   `json:"turned,omitempty"`
	File     string   `json:"file,omitempty"`
}

type passingJSON struct {
	Edge      string   `json:"edge"` // "leaf.left"
	Y         num      `json:"y"`
	Angle     num      `json:"angle_deg"` // from the edge's normal, positive where y grows with x
	Curvature num      `json:"curvature"` // 1/mm, positive to the left as one goes with x
	Strand    string   `json:"strand"`    // of the section
	Strips    []string `json:"strips"`    // from the front
	Over      bool     `json:"over"`      // the next crossing beyond the edge
}

type sectionCrossing struct {
	Section string `json:"section"`
	At      xy     `json:"at"` // in the section's coordinates
	Over    string `json:"over"`
	Under   string `json:"under"`
	OverDeg num    `json:"over_deg"` // which way the upper strand runs, 0 to 180
}

type stationJSON struct {
	Number   int      `json:"number"`
	At       xy       `json:"at"`
	Sections []string `json:"sections,omitempty"` // that are grooved there
	Edge     string   `json:"edge,omitempty"`     // where a section is grooved by itself: "right"
}

func newTable(r build.Result) *tableJSON {
	t := r.Table
	if t == nil {
		return nil
	}
	out := &tableJSON{Width: num(t.Table.Width), Thickness: num(t.Table.Thickness), Length: num(t.Table.Length()), Joints: []jointJSON{}, Passings: []passingJSON{}, Crossings: []sectionCrossing{}}
	for i, s := range t.Sections {
		k := t.Kinds[s.Kind]
		one := sectionJSON{Name: k.Name, X: num(s.X), Length: num(k.Length), Loose: k.Loose}
		for side, round := range k.Round {
			if round {
				one.Round = work.Side(side).String()
			}
		}
		out.Sections = append(out.Sections, one)
		if i > 0 {
			out.Joints = append(out.Joints, jointJSON{num(s.X), []string{t.KindOf(i - 1).Name, k.Name}})
		}
	}
	for _, a := range t.Arrangements {
		out.Arrangements = append(out.Arrangements, newArrangement(t, a))
	}
	for i, a := range t.Shown(table.MostShown) {
		n := slices.IndexFunc(t.Arrangements, func(b table.Arrangement) bool { return slices.Equal(a.Sections, b.Sections) })
		if path := build.ArrangementPath(i + 1); slices.ContainsFunc(r.Files, func(f build.File) bool { return f.Path == path }) {
			out.Arrangements[n].File = path
		}
	}
	for _, p := range t.Passings {
		one := passingJSON{Edge: t.Kinds[p.Kind].Name + "." + p.Side.String(), Y: num(p.Y), Angle: num(p.Angle * 180 / math.Pi), Curvature: num(p.Curvature), Strand: "s" + strconv.Itoa(p.Stretch+1), Strips: []string{}, Over: p.Over}
		for _, s := range p.Strips {
			one.Strips = append(one.Strips, s.Material)
		}
		out.Passings = append(out.Passings, one)
	}
	for k, s := range r.Sectioned {
		for i, c := range s.Weave.Crossings {
			if s.Index[i] < 0 {
				continue
			}
			over, under := passes(s.Motif, c)
			out.Crossings = append(out.Crossings, sectionCrossing{t.Kinds[k].Name, toXY(c.At), over, under, headingOf(s.Motif, c.Upper())})
		}
	}
	return out
}

// headingOf is which way a passage runs, either way being the same, in degrees.
func headingOf(m motif.Motif, v weave.Visit) num {
	_, along := m.Strands[v.Strand].Contour.At(v.S)
	return num(math.Mod(math.Atan2(along.Y, along.X)*180/math.Pi+360, 180))
}

func newArrangement(t *table.Table, a table.Arrangement) (out arrangementJSON) {
	turned := false
	for _, p := range a.Sections {
		out.Sections, out.X, out.Turned = append(out.Sections, t.Kinds[p.Kind].Name), append(out.X, num(p.X)), append(out.Turned, p.Turned)
		turned = turned || p.Turned
	}
	if !turned {
		out.Turned = nil
	}
	return out
}

// newStations are the places of the motif's origin, or of panels that are stepped, whose set-ups
// they are given to; none where there is but the board's.
func newStations(r build.Result, setUps []setUpJSON) (all []stationJSON) {
	if r.Table == nil {
		return stepped(r, setUps)
	}
	for _, s := range r.Table.Stations {
		one := stationJSON{Number: s.Number, At: toXY(s.At)}
		for _, n := range s.Sections {
			one.Sections = append(one.Sections, r.Table.KindOf(n).Name)
		}
		if s.Edge {
			one.Edge = s.Side.String()
		}
		all = append(all, one)
	}
	return all
}

package build

import (
	"math"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/paper"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
	"strapwork/pkg/stick"
	"strapwork/pkg/table"
	"strapwork/pkg/unit"
)

// StickPath is the path of the story sticks for printing, and StickRole their role.
const StickPath, StickRole = "paper/story-stick.pdf", "story-stick"

type sticksIn struct {
	Table    made[table.Table]
	Sections []made[Sectioned]
	Along    float64 // length of the rail that panels are stepped along; 0 for none
	Stations []stick.Station
	Params   stick.Params
}

// sticks are a job's story sticks, and their parts.
type sticks struct {
	list  []stick.Stick
	parts []sheet.Part
}

func makeSticks(in sticksIn) (out sticks, found diag.Findings) {
	if in.Along > 0 {
		out.list = []stick.Stick{stick.OfSteps(in.Along, in.Stations, in.Params)}
		return out, nil
	}
	var cuts []table.Cut
	for _, s := range in.Sections {
		cuts = append(cuts, s.Value.Cut)
	}
	var lost []string
	out.list, lost = stick.OfTable(in.Table.Value, cuts, in.Params)
	if len(lost) > 0 {
		found.Warnf("table", "stick-edge", "the groove's edges don't meet the joint on the story stick: %s", strings.Join(lost, ", ")).
			Hintf("mark these with a straightedge along the groove")
	}
	for _, s := range out.list {
		parts, left := stick.Parts(s, in.Params)
		if len(left) > 0 {
			found.Warnf("table", "stick-room", "no room on the %s for: %s", s.Name, strings.Join(left, ", ")).
				Hintf("write it on by hand, from the table that is printed with %s", StickPath)
		}
		if len(parts) == 0 {
			found.Warnf("table", "stick-bed", "the shop's bed is too small for the %s, %s long: it is on paper only", s.Name, unit.Len(s.Length)).
				Hintf("print %s and glue it to a straight batten", StickPath)
		}
		out.parts = append(out.parts, parts...)
	}
	return out, found
}

// railStations are where the panels lie along the rail.
func (r Result) railStations() (list []stick.Station) {
	rail := r.Set.Rail
	for _, h := range rail.Holes {
		i := slices.IndexFunc(r.Set.Plan.SetUps, func(u plan.SetUp) bool { return u.Number == h.SetUp })
		if i < 0 {
			continue
		}
		u := r.Set.Plan.SetUps[i]
		along := u.Position.Similarity().Then(geom.Shifting(rail.Zero.Scale(-1))).Then(geom.Turning(-rail.Along.Angle()))
		box := along.Contour(r.Set.Panels[u.Panel].Outline).Bounds()
		list = append(list, stick.Station{SetUp: h.SetUp, Panel: h.Panel, At: h.At, Sides: [2]float64{box.Min.X, box.Max.X}})
	}
	return list
}

// makeSticks draws the story sticks of a table, cut with some kerf, or of a rail.
func (w *writer) makeSticks(kerf float64) made[sticks] {
	if rail := w.Set.Rail; rail != nil && w.Table == nil {
		in := sticksIn{Along: rail.Length, Stations: w.railStations(), Params: stick.Params{Units: w.Job.Units}}
		return ask(w.a.Graph, "story sticks", in, makeSticks)
	}
	if w.Table == nil {
		return made[sticks]{}
	}
	on := w.nestOptions()
	p := stick.Params{Title: w.Job.Title, Units: w.Job.Units, Thickness: w.Job.Template.Wall, Kerf: kerf}
	if on.Bed != (geom.Point{}) {
		p.Bed = geom.Pt(math.Max(0, on.Bed.X-on.Spacing-1), math.Max(0, on.Bed.Y-on.Spacing-1))
	}
	if w.Revision != "" {
		p.Title = strings.TrimSpace(p.Title + " " + w.Revision)
	}
	return ask(w.a.Graph, "story sticks", sticksIn{Table: w.a.table, Sections: w.a.sections, Params: p}, makeSticks)
}

type stickSheetIn struct {
	Sticks made[sticks]
	Which  int
	On     paper.Options
}

// printStick prints a story stick at full size.
func printStick(in stickSheetIn) (pattern, diag.Findings) {
	p := stick.Params{Title: in.On.Block.Job, Units: in.On.Units}
	return printOn(in.On, stick.Pattern(in.Sticks.Value.list[in.Which], p))
}

// printSticks makes the printed story sticks an output.
func (w *writer) printSticks() {
	o := w.PaperOptions()
	all := w.makeSticks(0)
	var list []made[pattern]
	for i := range all.Value.list {
		list = append(list, ask(w.a.Graph, "pattern of a story stick", stickSheetIn{all, i, o}, printStick))
	}
	if len(list) > 0 {
		w.bind(File{Path: StickPath, Role: StickRole}, "story stick", list, o)
	}
}

// withoutSticks are parts that are printed as patterns: the story sticks have a file of
// their own.
func withoutSticks(parts []sheet.Part) []sheet.Part {
	return slices.DeleteFunc(slices.Clone(parts), func(p sheet.Part) bool { return p.Ply == sheet.Stick })
}

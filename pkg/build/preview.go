package build

import (
	"bytes"
	"fmt"
	"slices"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/inlay"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/preview"
	"strapwork/pkg/profile"
	"strapwork/pkg/setup"
	"strapwork/pkg/table"
	"strapwork/pkg/template"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// PreviewPath is the path of the page.
const PreviewPath = "preview.html"

// PageMark stands within the first kilobyte of every page.
const PageMark = preview.Mark

type pageIn struct {
	Job      made[*job.Job]
	Whole    made[*job.Job] // Job, or of a table's sections the job that they are of
	Revision string
	Grooving Grooving
	Groove   made[groove.Groove] // that the program cuts
	ByHand   made[groove.Groove] // that the panels are for, and
	Beside   geom.Point          // where its coordinates' origin lies in Groove's
	Set      made[template.Set]
	Run      made[judged]
	Findings diag.Findings // of the job, tidy
	Motif    made[[]byte]  // its picture
	Inlay    made[drawnPicture]
	Laid     made[inlay.Inlay]
	Along    made[motif.Motif] // that the strips are laid by
	List     cutlist.Params
	Top      made[table.Table]
	Others   []watchedIn // programs of further sections
}

// A watchedIn is a program that can be watched on the page, and what it grooves.
type watchedIn struct {
	Job      made[*job.Job]
	Grooving Grooving
	Groove   made[groove.Groove]
	Beside   geom.Point
	Run      made[judged]
}

// page is what the page shows of it.
func (in watchedIn) page(revision string, set template.Set, byHand groove.Groove) preview.Page {
	j, g := in.Job.Value, in.Groove.Value
	r := Result{File: j.File, Job: j, Revision: revision, Grooving: in.Grooving, Motif: g.Motif, Weave: g.Weave, Groove: g, Set: set}
	return r.page(in.Run.Value, byHand, in.Beside)
}

func makePage(in pageIn) (_ []byte, found diag.Findings) {
	j := in.Job.Value
	var b bytes.Buffer
	page := watchedIn{in.Job, in.Grooving, in.Groove, in.Beside, in.Run}.page(in.Revision, in.Set.Value, in.ByHand.Value)
	for i, o := range in.Others {
		if i == 0 {
			page.Of = in.Grooving.Piece.String()
		}
		page.Others = append(page.Others, o.page(in.Revision, in.Set.Value, in.ByHand.Value))
		page.Others[i].Of = o.Grooving.Piece.String()
	}
	if in.Whole.Value.Table != nil {
		in.station(&page)
	}
	page.Findings = in.Findings
	list := cutlist.New(in.List, in.Laid.Value, in.Along.Value)
	page.Strips = stripsOf(list, in.Along.Value, j.Units)
	putTogether(&page, in.Top.Value, list, in.Along.Value)
	page.Pictures = map[string]string{}
	for name, svg := range map[string][]byte{preview.MotifPicture: in.Motif.Value, preview.InlayPicture: in.Inlay.Value.svg} {
		if len(svg) > 0 {
			page.Pictures[name] = string(svg)
		}
	}
	if err := preview.Write(&b, page); err != nil {
		found.Errorf("program", "preview", "the page can't be written: %v", err).
			Hintf("build --only templates,paper,program leaves it out")
	}
	return b.Bytes(), found
}

// station gives a page, and those of its other programs, what a table's panels are laid on.
func (in pageIn) station(page *preview.Page) {
	at := work.Shift(page.Origin)
	page.Station = &preview.Station{Board: at.Board(in.Whole.Value.Board), Groove: at.Contours(in.ByHand.Value.Area().Loops())}
	for i := range page.Others {
		in.station(&page.Others[i])
	}
}

// preview writes the page on which the program and the routing by hand are
// watched. run is the program's dry run as it was judged, before what was found until then.
func (w *writer) preview(run made[judged], before diag.Findings) {
	w.previewOf([]wholeRun{{w, run}}, before)
}

// A wholeRun is the program of a piece's whole groove, as it was judged.
type wholeRun struct {
	of  *writer
	run made[judged]
}

// in is it as the page has it.
func (r wholeRun) in() watchedIn {
	g := r.of.Grooving
	g.Run, g.Sections, g.BySection = dryrun.Report{}, nil, nil // the page takes them from run
	in := watchedIn{Job: r.of.a.job, Grooving: g, Groove: r.of.a.groove, Run: r.run}
	if g.Piece != nil {
		in.Beside = g.Piece.Origin
	}
	return in
}

// previewOf is preview with the programs of pieces, the first of which is shown first.
func (w *writer) previewOf(runs []wholeRun, before diag.Findings) {
	found := w.Result
	found.Findings = slices.Clone(before)
	found.tidy()
	first := runs[0].in()
	in := pageIn{Job: first.Job, Whole: w.a.job, Revision: w.Revision, Grooving: first.Grooving, Groove: first.Groove, Beside: first.Beside, ByHand: w.a.groove, Set: w.a.set, Run: first.Run, Findings: found.Findings, List: w.a.listParams(w.Result), Top: w.a.table}
	numbers := w.a.numbers(&found) // what it finds is said with inlay.svg
	in.Motif = ask(w.a.Graph, "sketch", w.a.sketchIn(found, numbers), makeSketch)
	if len(w.a.strips.Value.Strips) > 0 {
		in.Inlay, in.Laid, in.Along = w.inlayPicture(numbers), w.a.strips, w.a.laid
	}
	in.Others = each(runs[1:], wholeRun.in)
	page := ask(w.a.Graph, "page", in, makePage)
	if w.Findings.Add(page.Found...); w.OK() {
		w.Files = append(w.Files, File{Path: PreviewPath, Kind: HTML, Role: "preview", Data: page.Value})
	}
}

func (r Result) page(run judged, byHand groove.Groove, beside geom.Point) preview.Page {
	j := r.Job
	shift := r.Grooving.Shift
	hand := work.Shift(shift.Point(beside)) // of the panels' coordinates
	p := preview.Page{
		Title: j.Title, Job: jobBase(r.File), Revision: r.Revision, Units: j.Units,
		Groove: shift.Contours(r.Groove.Area().Loops()), Width: j.Inlay.Width, Depth: j.Inlay.Depth, Bit: j.Router.Bit,
		Program: r.programPage(run), Board: shift.Board(j.Board), Wood: j.Wood,
		SetUps: setup.Rides(byHand, r.Set, hand.Similarity()), Rider: j.Router.RiderDiameter, Base: 2 * j.Router.BaseRadius(), Cautions: r.cautions(),
		Origin: geom.Point(hand),
	}
	if f := r.Set.Frame; f != nil {
		p.Frame = hand.Contours(f.Wood.Loops())
	}
	if rail := r.Set.Rail; rail != nil {
		p.Frame = hand.Contours([]geom.Contour{rail.Outline()})
	}
	for i, s := range r.Motif.Strands {
		p.Strands = append(p.Strands, preview.Strand{Name: r.strandName(i), Line: shift.Similarity().Contour(s.Contour)})
	}
	for _, c := range r.Weave.Crossings {
		p.Crossings = append(p.Crossings, preview.Crossing{At: shift.Point(c.At), Over: r.passage(c.Upper()), Under: r.passage(c.Lower())})
	}
	if j.Clamping != nil {
		p.Clamps = shift.Clamps(j.Clamping.Clamps)
	}
	return p
}

// stripsOf are the pieces to cut.
func stripsOf(l cutlist.List, m motif.Motif, units unit.System) preview.Strips {
	out := preview.Strips{Sandwich: l.Laid == work.LaidSandwich, Allowance: l.Allowance}
	kinds := map[int]int{} // by the pieces' numbers
	for i, k := range l.Kinds() {
		for _, n := range k.Numbers {
			kinds[n] = i
		}
	}
	for _, p := range l.Pieces {
		q := preview.Piece{
			Strand: p.Strand, Stretch: p.Stretch, Strip: p.Strip, Material: p.Material, Thickness: p.Thickness,
			Left: p.Left, Middle: p.Middle, Right: p.Right, Cut: l.Cut(p), Bend: p.Bend, Formed: p.Formed, Kind: kinds[p.Number],
			From: p.From, To: p.To, Outline: p.Area.Loops(), At: p.At,
		}
		for i, e := range p.Ends {
			q.Ends[i] = preview.PieceEnd{Short: cutlist.EndMark(e), Whole: cutlist.EndWords(e).In(units)}
		}
		station := (p.From + p.To) / 2
		if p.Ends[0].Kind == inlay.EndSquare { // a ring's place is its joint
			station = p.From
		}
		_, q.Along = m.Strands[p.Strand].Contour.At(station)
		out.Pieces = append(out.Pieces, q)
	}
	return out
}

func (r Result) passage(v weave.Visit) preview.Passage {
	s := r.Motif.Strands[v.Strand]
	_, along := s.Contour.At(v.S)
	return preview.Passage{Strand: r.strandName(v.Strand), Part: r.Motif.Sources[s.Source(v.S)].Name, Along: along}
}

// strandName is what a strand is called in its program, and failing that its
// number.
func (r Result) strandName(i int) string {
	for _, run := range r.Grooving.Plan.Runs {
		if run.Strand == i {
			return run.Name
		}
	}
	return r.Motif.Strands[i].ID
}

func (r Result) programPage(run judged) preview.Program {
	p := preview.Program{Path: run.path, Text: run.text, Steps: run.steps, Report: run.report, Facts: r.facts()}
	for _, s := range run.sections {
		p.Sections = append(p.Sections, preview.Section{
			Line: s.Line, Last: s.Last, Strand: s.Strand, Depth: s.Depth, Role: passWords(s.Role, r.Grooving.Wanted.Climb),
		})
	}
	return p
}

// passWords says what a pass is, as a maker does.
func passWords(role toolpath.Role, climb bool) string {
	wall := "wall on the left"
	if climb {
		wall = "wall on the right"
	}
	switch role {
	case toolpath.Rough:
		return "roughing pass"
	case toolpath.Forward:
		return "forward, " + wall
	case toolpath.Back:
		return "back, " + wall
	case toolpath.Between:
		return "between the walls"
	case toolpath.Plunge, toolpath.Ramp, toolpath.Across:
		return role.String()
	}
	return role.String()
}

// facts are what the maker sets at the machine.
func (r Result) facts() []preview.Fact {
	g := r.Grooving
	size := func(mm float64) string { return unit.Len(mm).In(r.Job.Units) }
	facts := []preview.Fact{
		{Name: "machine", Value: machineName(g.Machine)},
		{Name: "bit", Value: bitName(g.Cutter, size(r.Job.Router.Bit))},
		{Name: "feed", Value: g.FeedReason().In(r.Job.Units)},
		{Name: "plunge feed", Value: unit.Rate(g.Plunge).In(r.Job.Units)},
		{Name: "spindle", Value: fmt.Sprintf("%g rpm", g.Speed)},
		{Name: "clearance height", Value: size(g.Wanted.Safe)},
	}
	return facts
}

func machineName(m profile.Machine) string {
	if m.Name == "" {
		return "not stated in the job, so its travel and limits are not checked"
	}
	return m.Name
}

func bitName(b *profile.Bit, slot string) string {
	text := "cuts a slot of " + slot
	if b != nil {
		text += ", " + b.Name
	}
	return text
}

// cautions are printed on the page.
func (r Result) cautions() []string {
	dust, metal := "wood and MDF", wood.HasMetal(r.Job.Inlay.Strips)
	switch {
	case !r.templates() && metal:
		dust = "wood and metal"
	case !r.templates():
		dust = "wood"
	case metal:
		dust = "wood, MDF and metal"
	}
	return []string{
		"The manuals of your machines, the rules where you work and people trained on them come before this page.",
		"Routers and machines throw parts and grab sleeves: wear eye and ear protection, no gloves or loose sleeves, tie back long hair, and keep your hands away until the bit stands still.",
		"Clamp the work so that nothing can shift, and know where the emergency stop is before you start.",
		"Dust of " + dust + " harms lungs: use suction and a mask for fine dust.",
		"A dry run is geometry and arithmetic: it knows nothing of a loose clamp, a blunt bit or a wrong zero. Run the perimeter first, then the whole program in scrap, and stay at the machine.",
	}
}

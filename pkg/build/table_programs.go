package build

// The programs of a table: one for each kind of section, in the section's coordinates. What
// plans, writes and judges them is what does it for work in one piece, asked of the section.

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
	"strapwork/pkg/program"
	"strapwork/pkg/table"
	"strapwork/pkg/toolpath"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// A Piece is a kind of section that programs groove. Places are in its own coordinates.
type Piece struct {
	Kind    int // index into Table.Kinds
	Name    string
	Count   int
	Length  float64
	Outline geom.Contour
	Origin  geom.Point  // the motif's, on the station that is furthest to the left
	Open    [2]bool     // by side: it meets other sections there
	Ends    []geom.Edge // across the groove, where it ends past an edge
}

// String is what the piece is called on the page: "leaf (2 alike)".
func (p Piece) String() string {
	if p.Count == 1 {
		return p.Name
	}
	return fmt.Sprintf("%s (%d alike)", p.Name, p.Count)
}

// Past is how far in mm past each edge a plan's bit cuts, square to it; 0 where it doesn't.
func (p Piece) Past(plan toolpath.Plan) (past [2]float64) {
	if len(plan.Runs) == 0 {
		return past
	}
	box, _ := program.Extents(plan)
	past[work.Left] = math.Max(0, plan.Bit/2-box.Min.X)
	past[work.Right] = math.Max(0, box.Max.X+plan.Bit/2-p.Length)
	return past
}

// Scrap is the least width in mm of the scrap that a groove runs on into as far as past: as
// much is left behind the groove's end as holds together and can be clamped (common practice).
func Scrap(past float64, u unit.System) float64 {
	step, behind := 10.0, 20.0
	if u == unit.Inch {
		step, behind = unit.MMPerInch/2, unit.MMPerInch
	}
	return math.Ceil(past/step)*step + behind
}

type pieceIn struct {
	Table made[table.Table]
	Cut   made[Sectioned]
	Kind  int
	Width float64 // of the groove
}

func makePiece(in pieceIn) (Piece, diag.Findings) {
	t := in.Table.Value
	k := t.Kinds[in.Kind]
	p := Piece{Kind: in.Kind, Name: k.Name, Count: k.Count, Length: k.Length, Outline: k.Outline, Origin: originOf(t, in.Kind)}
	for i, s := range t.Sections {
		if s.Kind == in.Kind {
			p.Open[work.Left] = p.Open[work.Left] || i > 0
			p.Open[work.Right] = p.Open[work.Right] || i < len(t.Sections)-1
		}
	}
	cut := in.Cut.Value
	for i, s := range cut.Motif.Strands {
		for end, run := range cut.Runs[i] {
			if run > 0 {
				at, along := s.Contour.At(float64(end) * s.Length())
				off := along.Left().Scale(in.Width / 2)
				p.Ends = append(p.Ends, geom.Line(at.Add(off), at.Sub(off)))
			}
		}
	}
	return p, nil
}

// originOf is where the motif's origin lies on a kind of section: at its left joint, where
// it has one there, else at the first of its stations from the left.
func originOf(t table.Table, kind int) (at geom.Point) {
	least := math.Inf(1)
	first := t.Kinds[kind].First
	for _, s := range t.Stations {
		if p := s.At.Sub(geom.Pt(t.Sections[first].X, 0)); slices.Contains(s.Sections, first) && p.X < least {
			least, at = p.X, p
		}
	}
	return at
}

type sectionJobIn struct {
	Job   made[*job.Job]
	Piece made[Piece]
	Width float64
}

// sectionJob is the job as it is for a section: its board is the section. Clamps lie about
// the motif's origin on it, as the job has them.
func sectionJob(in sectionJobIn) (*job.Job, diag.Findings) {
	j, p := *in.Job.Value, in.Piece.Value
	j.Board = &work.Board{Size: geom.Pt(p.Length, in.Width), Thickness: j.Table.Thickness, Grain: j.Table.Grain}
	if c := j.Clamping; c != nil {
		j.Clamping = &work.Clamping{Clearance: c.Clearance, Clamps: work.Shift(p.Origin).Clamps(c.Clamps)}
	}
	return &j, nil
}

func sectionMotif(s made[Sectioned]) (motif.Motif, diag.Findings) { return s.Value.Motif, nil }

func sectionWeave(s made[Sectioned]) (weave.Weave, diag.Findings) { return s.Value.Weave, nil }

func sectionGroove(s made[Sectioned]) (groove.Groove, diag.Findings) { return s.Value.Groove, s.Found }

// section is the asking as it is about a kind of section of the table, and what is known of
// that: in its own coordinates, its board the section.
func (a *asking) section(r Result, kind int) (*asking, Result) {
	b, cut := *a, a.sections[kind]
	piece := ask(a.Graph, "piece", pieceIn{a.table, cut, kind, r.Job.Inlay.Width}, makePiece)
	b.job = ask(a.Graph, "job of a section", sectionJobIn{a.job, piece, r.Job.Table.Width}, sectionJob)
	b.motif, b.weave = ask(a.Graph, "strands of a section", cut, sectionMotif), ask(a.Graph, "weave of a section", cut, sectionWeave)
	b.groove = ask(a.Graph, "groove of a section", cut, sectionGroove)
	r.Job, r.Motif, r.Weave, r.Groove = b.job.Value, b.motif.Value, b.weave.Value, b.groove.Value
	g := r.Grooving.settings()
	if kind < len(r.Grooving.BySection) {
		g.Plan = r.Grooving.BySection[kind].Plan
	}
	if g.Piece, g.Shift = &piece.Value, work.Shift(piece.Value.Origin.Scale(-1)); g.Wanted.ZeroBoard {
		g.Shift = work.Shift{}
	}
	r.Grooving = g
	return &b, r
}

// kinds are the indices of the table's kinds of sections.
func (r Result) kinds() []int {
	list := make([]int, len(r.Table.Kinds))
	for k := range list {
		list[k] = k
	}
	return list
}

// makeSectionPasses plans a section's passes. What is to be cut first need not be on every
// section: it is on one, or the motif's own plan has said that there is no such thing.
func makeSectionPasses(in passesIn) (p passes, _ diag.Findings) {
	if len(in.Groove.Value.Motif.Strands) == 0 {
		return p, nil
	}
	for {
		p.plan, p.err = toolpath.Make(&in.Groove.Value, in.Options)
		var name *toolpath.NameError
		if !errors.As(p.err, &name) {
			return p, nil
		}
		in.Options.Order.First = slices.DeleteFunc(slices.Clone(in.Options.Order.First), func(n string) bool { return n == name.Name })
	}
}

// planSections plans the passes of every kind of section.
func (a *asking) planSections(r Result) {
	a.bySection = each(r.kinds(), func(k int) made[passes] {
		b, own := a.section(r, k)
		return ask(a.Graph, "passes of a section", passesIn{b.groove, own.Grooving.options(r.Job.Inlay.Depth, 0)}, makeSectionPasses)
	})
}

// addSections adds the sections' passes, and what speaks against them; of what is alike in
// several once.
func (a *asking) addSections(r *Result) {
	var bySection []Grooving
	seen := map[[2]string]bool{}
	for k, p := range a.bySection {
		_, own := a.section(*r, k)
		own.Grooving.Plan = p.Value.plan
		bySection = append(bySection, own.Grooving)
		if p.Value.err == nil && len(p.Value.plan.Runs) == 0 {
			continue
		}
		for _, f := range own.Grooving.judgePasses(p.Value.err, own.Job, r.Job.Program == nil && r.templates()) {
			if key := [2]string{f.Rule, string(f.Key)}; !seen[key] {
				seen[key] = true
				f.Addf(" (section %s)", own.Grooving.Piece.Name)
				r.Findings.Add(f)
			}
		}
	}
	r.Grooving.BySection = bySection
}

// path is that of a program of a kind: of a section with its name.
func (g Grooving) path(what string) string {
	switch {
	case g.Piece == nil:
		return "program/" + what + ".nc"
	case what == "groove":
		return SectionProgramPath(g.Piece.Name)
	}
	return "program/" + what + "-" + g.Piece.Name + ".nc"
}

// SectionProgramPath is the path of the program that cuts the whole groove of a section.
func SectionProgramPath(name string) string { return "program/section-" + name + ".nc" }

// role is what a program of the whole groove is in the manifest.
func (g Grooving) role() string {
	if g.Piece != nil {
		return "section"
	}
	return "groove"
}

// zero says where x 0, y 0 is.
func (g Grooving) zero(s program.Params) string {
	p := g.Piece
	switch {
	case p == nil && g.Wanted.ZeroBoard:
		return "the board's lower left corner"
	case p == nil:
		return "the motif's origin"
	case g.Wanted.ZeroBoard:
		return "the section's front left corner, x0 on the left edge's arris"
	case p.Origin.X == 0:
		return "the motif's origin, on the left edge's arris, " + s.Size(p.Origin.Y) + " from the front"
	case p.Origin.X == p.Length:
		return "the motif's origin, on the right edge's arris, " + s.Size(p.Origin.Y) + " from the front"
	}
	return "the motif's origin, " + s.Size(p.Origin.X) + " from the left edge, " + s.Size(p.Origin.Y) + " from the front"
}

// sectionWords are what a section's programs say of it.
func (g Grooving) sectionWords(s program.Params) string {
	p := g.Piece
	lines := []string{"section " + p.Name}
	if p.Count > 1 {
		lines = append(lines, "alike sections share this program: run it on each of the "+unit.Decimal(float64(p.Count), 0))
	}
	lines = append(lines, "y0: from an aligner or a trimmed front edge, the same for all sections")
	for side, past := range p.Past(g.Plan) {
		if past > 0 {
			edge := work.Side(side).String()
			lines = append(lines,
				edge+" edge: cut "+s.Size(math.Ceil(past*10)/10)+" past it",
				"clamp scrap of the work's thickness to it, "+s.Size(Scrap(past, s.Units()))+" wide or more")
		}
	}
	return strings.Join(lines, "\n")
}

// forJudge is the section as the dry run is to know it, in the program's coordinates.
func (p Piece) forJudge(shift work.Shift, width float64) *dryrun.Section {
	s := &dryrun.Section{Name: p.Name, Outline: shift.Similarity().Contour(p.Outline)}
	for _, end := range p.Ends {
		s.Ends = append(s.Ends, shift.Similarity().Edge(end))
	}
	at := func(x, y float64) geom.Point { return shift.Point(geom.Pt(x, y)) }
	if p.Open[work.Left] {
		s.Edges = append(s.Edges, dryrun.Edge{Name: work.Left.String(), From: at(0, width), To: at(0, 0)})
	}
	if p.Open[work.Right] {
		s.Edges = append(s.Edges, dryrun.Edge{Name: work.Right.String(), From: at(p.Length, 0), To: at(p.Length, width)})
	}
	return s
}

// summed is what several programs' dry runs come to, each as often as it is run: times and
// areas of all, the worst of each.
func summed(all []dryrun.Report, times []int) (sum dryrun.Report) {
	sum.Extents, sum.Cut = geom.EmptyBox(), geom.EmptyBox()
	for i, r := range all {
		n := float64(times[i])
		if i == 0 {
			sum.Units, sum.HasUnits, sum.Clamps = r.Units, r.HasUnits, r.Clamps
			sum.Lowest, sum.Highest = r.Lowest, r.Highest
		}
		sum.Findings = append(sum.Findings, r.Findings...)
		sum.Blocks += r.Blocks
		sum.Unseen = sum.Unseen || r.Unseen
		sum.Broken = sum.Broken || r.Broken
		sum.Seconds, sum.Cutting, sum.Plunging = sum.Seconds+n*r.Seconds, sum.Cutting+n*r.Cutting, sum.Plunging+n*r.Plunging
		sum.Rapids, sum.Dwells = sum.Rapids+n*r.Rapids, sum.Dwells+n*r.Dwells
		sum.Length, sum.RapidLength = sum.Length+n*r.Length, sum.RapidLength+n*r.RapidLength
		sum.Extents, sum.Cut = sum.Extents.Join(r.Extents), sum.Cut.Join(r.Cut)
		sum.Lowest, sum.Highest = math.Min(sum.Lowest, r.Lowest), math.Max(sum.Highest, r.Highest)
		sum.LeftArea, sum.MissedArea = sum.LeftArea+r.LeftArea, sum.MissedArea+r.MissedArea
		sum.Gouges, sum.Left = append(sum.Gouges, r.Gouges...), append(sum.Left, r.Left...)
		if r.GougeMax.Amount > sum.GougeMax.Amount {
			sum.GougeMax = r.GougeMax
		}
		if r.LeftMax.Amount > sum.LeftMax.Amount {
			sum.LeftMax = r.LeftMax
		}
	}
	return sum
}

package report

import (
	"fmt"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// machine writes how the board is grooved by a machine in place of the
// templates, where programs were written.
func (b *bench) machine() {
	g := b.r.Grooving
	if !b.has(build.GroovePath) || g.Run.Blocks == 0 {
		return
	}
	saved := "The same groove as a program, for who has a machine that grooves the board itself. The saved file was read back and judged line by line"
	if b.alone() {
		saved = "The saved program was read back and judged line by line"
	}
	page := ""
	if b.has(build.PreviewPath) {
		page = "; the page [preview.html](" + build.PreviewPath + ") plays it"
	}
	b.heading("With a machine in place of templates")
	b.para("%s%s.", saved, page)
	zero := "the motif's origin"
	if g.Wanted.ZeroBoard {
		zero = "the board's lower left corner"
	}
	b.item("x 0, y 0 is %s; z 0 is the top of the work. In these coordinates the tip goes from %s to %s.", zero, b.place(g.Run.Extents.Min), b.place(g.Run.Extents.Max))
	b.item("A bit that cuts a slot of %s, in %s at most %s deep, at %s turns a minute.",
		b.size(b.j.Router.Bit), passWord(len(g.Plan.Depths)), b.size(b.j.Inlay.Depth), fixed(g.Speed, 0))
	b.item("Feed %s. Straight down %s. Each pass takes at most %s.", g.FeedReason().In(b.u), unit.Rate(g.Plunge).In(b.u), b.r.StepReason().In(b.u))
	b.item("It takes about %s, the spindle's start and every strand's with it.", unit.Duration(g.Run.Seconds))
	b.item("%s", sentence(uncut(g.Run, b.words)))
	if n := g.Run.Findings.Count(diag.Warning); n > 0 {
		b.item("The dry run found no fault and has %s: they stand on the page and in manifest.json.", plural(n, "warning"))
	}
	if line := body(g.Run); line != "" {
		b.item("%s", sentence(line))
	}
	if g.Machine.Name == "" {
		b.item("No machine is named in the job, so its travel, feeds and speeds were not checked.")
	}
	b.gap()
	b.machineSteps(g)
	b.strandOrder(g)
}

// machineSteps writes the sequence at the machine.
func (b *bench) machineSteps(g build.Grooving) {
	if b.has(build.PreviewPath) {
		b.tick("Watch the program on the page to its end, and read its verdict.")
	}
	b.tick("Measure the slot that the bit cuts in scrap. If it isn't %s, put that into the job and build again.", b.size(b.j.Router.Bit))
	if b.has("program/coupon.nc") {
		b.tick("Run `program/coupon.nc` in scrap, try the strips in its grooves, and put the width that fits into the job.")
	}
	b.tick("Clamp the board, set the zero, and run `program/perimeter.nc`: the spindle stays off, and the bit goes round the groove's extents at the safe height of %s.", b.size(g.Wanted.Safe))
	b.tick("Run `%s` once in the air, with z 0 set higher than the work by more than the depth, then in scrap, then in the board. Stay at the machine.", build.GroovePath)
	b.machineParts(g)
	if g.Wanted.Widen > 0 {
		b.tick("Where the strips are tight: `program/widen.nc` recuts all grooves %s wider, from the same zero.", b.size(g.Wanted.Widen))
	}
	again := "After a stop, start again at the beginning of a strand: all modes, the spindle and the safe height are stated anew there."
	if g.Machine.DwellAgain < g.Machine.SpinUp {
		again += fmt.Sprintf(" Start the spindle by hand first: from the second strand on the program waits only %s s for it.", fixed(g.Machine.DwellAgain, 3))
	}
	b.tick("%s", again)
	b.gap()
}

// machineParts tells in which order programs that cut some of the groove are run.
func (b *bench) machineParts(g build.Grooving) {
	var list []string
	deep := false
	for _, p := range g.Parts() {
		if !b.has(p.Path) {
			continue
		}
		line := fmt.Sprintf("`%s`", p.Path)
		if p.Floor > 0 {
			deep = true
			line += fmt.Sprintf(" (starts %s deep: run %s before it)", b.size(p.Floor), p.After)
		}
		list = append(list, line)
	}
	switch {
	case len(list) == 0:
	case deep:
		b.tick("In its place, where there is something to do between two depths, one after the other and all from the same zero: %s.", strings.Join(list, ", "))
	default:
		b.tick("In its place, or where something is to be cut again, from the same zero and in any order: %s.", strings.Join(list, ", "))
	}
}

// strandOrder lists the strands as they are cut, with the lines to start from.
func (b *bench) strandOrder(g build.Grooving) {
	start := map[int]int{}
	for _, s := range g.Sections {
		start[s.Strand] = s.Start
	}
	rows := make([][]string, 0, len(g.Plan.Runs))
	for i, run := range g.Plan.Runs {
		shift := func(p geom.Point) string { return b.place(p.Add(g.Shift)) }
		rows = append(rows, []string{
			fixed(float64(i+1), 0), plain(run.Name), fmt.Sprint(start[run.Strand]), shift(run.Start), shift(run.End()), fmt.Sprint(len(run.Passes)),
		})
	}
	b.table([]string{"order", "strand", "starts at line", "bit down at", "bit up at", "passes"}, rows)
}

// sentence is words with a capital at their beginning and a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

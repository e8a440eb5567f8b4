package report

// What a dry run found: the same numbers for the manifest, the terminal and the
// set-up sheet.

import (
	"fmt"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/unit"
)

// dryRunJSON is a dry run's outcome. Places are the program's coordinates.
type dryRunJSON struct {
	OK         bool       `json:"ok"` // no fault
	Blocks     int        `json:"blocks"`
	Seconds    num        `json:"seconds"`
	Cutting    num        `json:"cutting_seconds"`
	Plunging   num        `json:"plunging_seconds"`
	Rapids     num        `json:"rapid_seconds"`
	Dwells     num        `json:"dwell_seconds"`
	Length     num        `json:"length"`       // at a feed
	RapidPath  num        `json:"rapid_length"` // in rapids
	From       *[3]num    `json:"from,omitempty"`
	To         *[3]num    `json:"to,omitempty"`
	GougeMax   num        `json:"gouge_max"`
	GougeAt    *xy        `json:"gouge_at,omitempty"`
	GougeLine  int        `json:"gouge_line,omitempty"`
	LeftMax    num        `json:"left_max"`
	LeftArea   num        `json:"left_area"`
	MissedArea num        `json:"missed_area"` // of it, what the bit could have reached
	Left       []leftJSON `json:"left"`
}

type leftJSON struct {
	At     xy   `json:"at"`
	Amount num  `json:"amount"` // how far its furthest point is from where the bit goes
	Area   num  `json:"area"`
	Chisel bool `json:"chisel"` // no bit of this size reaches it
}

func newDryRun(r dryrun.Report) dryRunJSON {
	out := dryRunJSON{
		OK: r.OK(), Blocks: r.Blocks,
		Seconds: num(r.Seconds), Cutting: num(r.Cutting), Plunging: num(r.Plunging), Rapids: num(r.Rapids), Dwells: num(r.Dwells),
		Length: num(r.Length), RapidPath: num(r.RapidLength),
		GougeMax: num(r.GougeMax.Amount), LeftMax: num(r.LeftMax.Amount), LeftArea: num(r.LeftArea), MissedArea: num(r.MissedArea),
		Left: []leftJSON{},
	}
	if r.Extents.Min.X <= r.Extents.Max.X {
		out.From = &[3]num{num(r.Extents.Min.X), num(r.Extents.Min.Y), num(r.Lowest)}
		out.To = &[3]num{num(r.Extents.Max.X), num(r.Extents.Max.Y), num(r.Highest)}
	}
	if g := r.GougeMax; g.Line > 0 {
		at := toXY(g.At)
		out.GougeAt, out.GougeLine = &at, g.Line
	}
	for _, s := range r.Left {
		out.Left = append(out.Left, leftJSON{At: toXY(s.At), Amount: num(s.Amount), Area: num(s.Area), Chisel: s.Chisel})
	}
	return out
}

// dryRunDocument is what `dryrun --json` prints.
type dryRunDocument struct {
	Schema   int           `json:"schema"`
	Command  string        `json:"command"`
	OK       bool          `json:"ok"`
	Program  string        `json:"program"`
	Job      string        `json:"job"`
	DryRun   dryRunJSON    `json:"dry_run"`
	Findings []findingJSON `json:"findings"`
}

// DryRunJSON is the outcome of judging a program against a job, with the
// findings of both. The names' folders are left out.
func DryRunJSON(program, job string, r dryrun.Report, found diag.Findings) ([]byte, error) {
	return encode(dryRunDocument{
		Schema: schema, Command: "dryrun", OK: !found.HasErrors(), Program: jobName(program), Job: jobName(job),
		DryRun: newDryRun(r), Findings: newFindings(found),
	})
}

// DryRunText is the outcome in a few lines for a person, in the units of a job.
func DryRunText(r dryrun.Report, u unit.System) string {
	w := words{u}
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s", plural(r.Blocks, "block"), unit.Duration(r.Seconds))
	if r.Length > 0 {
		fmt.Fprintf(&b, ", %s at a feed and %s in rapids", w.rough(r.Length), w.rough(r.RapidLength))
	}
	b.WriteString("\n")
	if r.Extents.Min.X <= r.Extents.Max.X {
		fmt.Fprintf(&b, "the tip goes from %s to %s %s, z from %s to %s %s\n", w.place(r.Extents.Min), w.place(r.Extents.Max), u,
			w.digits(r.Lowest, placeMM, placeIn), w.digits(r.Highest, placeMM, placeIn), u)
	}
	b.WriteString(beyond(r, w) + "\n" + left(r, w) + "\n")
	if n := r.Findings.Count(diag.Error); n > 0 {
		fmt.Fprintf(&b, "%s: do not cut it\n", plural(n, "fault"))
	} else {
		b.WriteString("no fault found: watch it, run the perimeter, and cut it in scrap first\n")
	}
	return b.String()
}

func beyond(r dryrun.Report, w words) string {
	if g := r.GougeMax; g.Line > 0 {
		how := "at most"
		if g.AtLeast {
			how = "at least" // too many gouges to measure them all
		}
		return fmt.Sprintf("it cuts %s %s beyond the groove, at %s %s, line %d", how, w.fine(g.Amount), w.place(g.At), w.u, g.Line)
	}
	return "it cuts nothing beyond the groove"
}

func left(r dryrun.Report, w words) string {
	switch {
	case r.Partial:
		return "what it leaves is for other programs"
	case len(r.Left) == 0:
		return "it leaves nothing of the groove standing"
	}
	text := fmt.Sprintf("it leaves %s of the groove standing in %s", w.area(r.LeftArea), plural(len(r.Left), "place"))
	if r.MissedArea > 0 {
		return text + ", of it " + w.area(r.MissedArea) + " that the bit could reach"
	}
	return text + " that the bit can't reach: that is for the chisel"
}

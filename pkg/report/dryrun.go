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
	OK         bool       `json:"ok"`                       // no fault
	Clamps     int        `json:"clamps"`                   // that it was held against
	BodyUnseen bool       `json:"spindle_unseen,omitempty"` // but not with all of the spindle's body above the bit
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
		OK: r.OK(), Clamps: r.Clamps, BodyUnseen: r.Unseen, Blocks: r.Blocks,
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

// DryRunText is the outcome in a few lines for a person, in the program's units,
// or in units of choice where it says none. Each
// line says one thing and how far it was looked at, so that none sounds clean
// beside a fault of another kind.
func DryRunText(r dryrun.Report, u unit.System) string {
	if r.HasUnits {
		u = r.Units
	}
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
	for _, line := range []string{overcut(r, w), uncut(r, w), body(r), verdict(r)} {
		if line != "" {
			b.WriteString(line + "\n")
		}
	}
	return b.String()
}

// overcut says how far the program cuts beyond the groove's walls.
func overcut(r dryrun.Report, w words) string {
	g := r.GougeMax
	switch {
	case g.Line > 0:
		how := "at most"
		if g.AtLeast {
			how = "at least" // too many gouges to measure them all
		}
		return fmt.Sprintf("overcut sideways: %s %s, at %s %s, line %d", how, unit.Len(g.Amount).In(w.u), w.place(g.At), w.u, g.Line)
	case r.Cut.Empty():
		return "nothing is cut"
	case r.Broken:
		return "no overcut sideways in the lines that could be read"
	}
	return "no overcut sideways"
}

// uncut says what of the groove the program leaves.
func uncut(r dryrun.Report, w words) string {
	area := func(mm2 float64) string { return unit.Area(mm2).In(w.u) }
	switch {
	case r.Partial:
		return "what it leaves uncut is for other programs, and wasn't looked at"
	case len(r.Left) == 0:
		return "nothing of the groove is left uncut"
	}
	text := fmt.Sprintf("%s of the groove is left uncut in %s", area(r.LeftArea), plural(len(r.Left), "place"))
	switch {
	case r.MissedArea <= 0:
		return text + " that the bit can't reach: that is for the chisel"
	case r.Broken:
		return text + ", perhaps because of the lines that can't be read"
	}
	return text + "; the bit could reach " + area(r.MissedArea) + " of it"
}

// body says what of the spindle was not held against the clamps.
func body(r dryrun.Report) string {
	if !r.Unseen {
		return ""
	}
	return "the clamps were held against the bit, and not against all of the spindle's body above it: give stickout, nut and nose in [router]"
}

// verdict is the answer in one line.
func verdict(r dryrun.Report) string {
	warnings := r.Findings.Count(diag.Warning)
	switch n := r.Findings.Count(diag.Error); {
	case n > 0:
		return plural(n, "fault") + ": do not cut it"
	case warnings > 0:
		return fmt.Sprintf("no fault found, and %s: look into that first, then run the perimeter, and cut it in scrap", plural(warnings, "warning"))
	}
	return "no fault found: watch it, run the perimeter, and cut it in scrap first"
}

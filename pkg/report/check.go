package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// checkJSON is what `check --json` prints.
type checkJSON struct {
	Schema   int           `json:"schema"`
	Title    string        `json:"title"`
	Job      string        `json:"job"`
	OK       bool          `json:"ok"`      // no error was found
	Reached  string        `json:"reached"` // the last stage that holds
	Summary  summaryJSON   `json:"summary"`
	Findings []findingJSON `json:"findings"`
}

// summaryJSON counts what is known; what the job didn't come to is left out.
type summaryJSON struct {
	Strands   *int `json:"strands,omitempty"`
	Crossings *int `json:"crossings,omitempty"`
	Cuts      *int `json:"cuts,omitempty"`
	Panels    *int `json:"panels,omitempty"`
	SetUps    *int `json:"set_ups,omitempty"`

	Sections     *int `json:"sections,omitempty"` // of a table, with all leaves in
	Arrangements *num `json:"arrangements,omitempty"`
	Stations     *int `json:"stations,omitempty"`

	Errors   int `json:"errors"`
	Warnings int `json:"warnings"`
	Notes    int `json:"notes"`
}

// summaryFacts is what a terminal shows of a job.
type summaryFacts struct {
	OK                                       bool
	Errors, Warnings                         int
	Strands, Crossings, Cuts, Panels, SetUps int

	Templates bool // the job has some
	Depths    int  // of the program's passes
	Sheets    int  // with parts on them
	Overcut   num  // of the proof; 0 where that is nothing to the decimals that are shown
	Uncut     num
	Missed    num // of it, what the bit could reach
	Places    int // for the chisel
	Program   *dryRunJSON
	Prices    []string // of other plans

	Sections, Stations int // of a table
	Arrangements       num
}

// seen is the least length in mm that a proof's line distinguishes from nothing: half of its
// last decimal.
const seen = 0.0005

func newSummaryFacts(r build.Result) summaryFacts {
	out := summaryFacts{
		OK: r.OK(), Errors: r.Findings.Count(diag.Error), Warnings: r.Findings.Count(diag.Warning),
		Strands: len(r.Motif.Strands), Crossings: len(r.Weave.Crossings), Cuts: len(r.Cuts), Panels: len(r.Set.Panels), SetUps: r.Set.SetUps(),
		Templates: r.Job != nil && r.Job.Router.Guide.HasTemplates(), Depths: len(r.Grooving.Plan.Depths), Sheets: len(r.Sheets),
		Uncut: num(r.Proof.UncutArea), Missed: num(r.Proof.MissedArea), Places: len(r.Proof.Leftovers),
		Prices: r.Set.Plan.Prices(),
	}
	if t := r.Table; t != nil {
		out.Sections, out.Stations, out.Arrangements = len(t.Sections), len(t.Stations), num(t.Arranged)
	}
	if d := r.Proof.OvercutMax; d >= seen {
		out.Overcut = num(d)
	}
	if r.Grooving.Run.Blocks > 0 {
		run := newDryRun(r.Grooving.Run)
		out.Program = &run
	}
	return out
}

// CheckText is one line on what a job consists of, or on what is wrong.
func CheckText(r build.Result) (string, error) {
	return printed(units(r), "check", newSummaryFacts(r))
}

// MadeText is what a build made, in a few lines: how many panels, and what the proof
// and the dry run found.
func MadeText(r build.Result) (string, error) {
	return printed(units(r), "made", newSummaryFacts(r))
}

// units are the job's; millimetres where it couldn't be read.
func units(r build.Result) unit.System {
	if r.Job == nil {
		return unit.MM
	}
	return r.Job.Units
}

// CheckJSON is the findings of a job, and counts of what it consists of as far
// as it came, for a program that asks without building. It works for jobs with
// errors, and for those that couldn't be read at all.
func CheckJSON(r build.Result) ([]byte, error) {
	out := checkJSON{
		Schema: schema, Job: jobName(r.File), OK: r.OK(), Reached: r.Reached.String(),
		Summary:  newSummary(r),
		Findings: newFindings(r.Findings),
	}
	if r.Job != nil {
		out.Title = r.Job.Title
	}
	return encode(out)
}

func newSummary(r build.Result) summaryJSON {
	f := newSummaryFacts(r)
	known := func(s build.Stage, n *int) *int {
		if r.Reached < s {
			return nil
		}
		return n
	}
	out := summaryJSON{
		Strands:   known(build.Joined, &f.Strands),
		Crossings: known(build.Woven, &f.Crossings),
		Cuts:      known(build.Stretched, &f.Cuts),
		Panels:    known(build.Planned, &f.Panels),
		SetUps:    known(build.Planned, &f.SetUps),
		Errors:    f.Errors,
		Warnings:  f.Warnings,
		Notes:     r.Findings.Count(diag.Note),
	}
	if r.Table != nil {
		out.Sections, out.Arrangements, out.Stations = &f.Sections, &f.Arrangements, &f.Stations
	}
	return out
}

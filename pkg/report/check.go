package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/diag"
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
	Errors    int  `json:"errors"`
	Warnings  int  `json:"warnings"`
	Notes     int  `json:"notes"`
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
	count := func(s build.Stage, n int) *int {
		if r.Reached < s {
			return nil
		}
		return &n
	}
	return summaryJSON{
		Strands:   count(build.Joined, len(r.Motif.Strands)),
		Crossings: count(build.Woven, len(r.Weave.Crossings)),
		Cuts:      count(build.Stretched, len(r.Cuts)),
		Panels:    count(build.Planned, len(r.Set.Panels)),
		SetUps:    count(build.Planned, r.Set.SetUps()),
		Errors:    r.Findings.Count(diag.Error),
		Warnings:  r.Findings.Count(diag.Warning),
		Notes:     r.Findings.Count(diag.Note),
	}
}

package cli

import (
	"fmt"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/report"
	"strapwork/pkg/unit"
)

var checkCommand = command{
	name: "check", args: "JOB.toml", about: "tells what is wrong with a job, or that nothing is; writes nothing",
	text: `JOB.toml may be - for standard input

flags:
  --notes  show each note; without it one line says what they are about
  --json   print findings and counts as JSON
`,
	run: runCheck,
}

func runCheck(e *env, c command, args []string) int {
	fs := e.flagSet(c)
	e.noteFlag(fs)
	if status, done := e.parse(fs, c, args, 1, 1); done {
		return status
	}
	path := fs.Arg(0)
	data, found := e.readJob(path)
	if found.HasErrors() {
		return e.fail(c.name, statusUsage, found)
	}
	r := build.Check(jobName(path), data, beside(path), e.progress())
	e.wiped()
	status := statusOf(r.Findings)
	if e.json {
		doc, err := report.CheckJSON(r)
		if err != nil {
			return e.internal(c.name, "report", err)
		}
		return e.print(string(doc), status)
	}
	if err := e.tell(r.Findings); err != nil {
		return statusUsage
	}
	return e.print(summary(r), status)
}

// summary is one line on what the job consists of, or on what is wrong.
func summary(r build.Result) string {
	if !r.OK() {
		return fmt.Sprintf("cannot be made: %s, %s\n",
			count(r.Findings.Count(diag.Error), "error"), count(r.Findings.Count(diag.Warning), "warning"))
	}
	parts := []string{count(len(r.Motif.Strands), "strand"), count(len(r.Weave.Crossings), "crossing")}
	if r.Job.Router.Guide.HasTemplates() {
		parts = append(parts, count(len(r.Cuts), "cut"), count(len(r.Set.Panels), "panel"), count(r.Set.SetUps(), "set-up"))
	} else {
		parts = append(parts, fmt.Sprintf("a program at %s", count(len(r.Grooving.Plan.Depths), "depth")), "no templates")
	}
	parts = append(parts, count(r.Findings.Count(diag.Warning), "warning"))
	return "can be made: " + strings.Join(parts, ", ") + "\n"
}

// count is a number of things, of which there may be none: "no warnings".
func count(n int, what string) string {
	if n == 0 {
		return "no " + unit.Plural(what)
	}
	return unit.Count(n, what)
}

package cli

import (
	"strapwork/pkg/build"
	"strapwork/pkg/report"
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
	text, err := report.CheckText(r)
	if err != nil {
		return e.internal(c.name, "report", err)
	}
	return e.print(text, status)
}

package cli

import (
	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/report"
)

var checkCommand = command{
	name: "check", args: "JOB.toml", about: "reports what is wrong with a job; writes nothing but what is asked for",
	text: `JOB.toml may be - for standard input
`,
	flags: []flag{
		{name: "draw", about: "draw the motif in JOB-draw.svg, with what is wrong with it in its place"},
		notesFlag,
		jsonFlag("print findings and counts as JSON"),
	},
	operand: tomlFiles(1),
	run:     runCheck,
}

func runCheck(e *env, c command, args []string) int {
	fs := e.flagSet(c)
	e.noteFlag(fs)
	draw := fs.Bool("draw", false, "")
	if status, done := e.parse(fs, c, args, 1, 1); done {
		return status
	}
	path := fs.Arg(0)
	if *draw && path == fromStdin {
		return e.usage(c.name, "a job from standard input has no name to call its picture by", "strapwork draw - --picture FILE.svg")
	}
	data, found := e.readJob(path)
	if found.HasErrors() {
		return e.fail(c.name, statusUsage, found)
	}
	g := build.NewGraph(beside(path))
	r := g.Check(jobName(path), data, e.progress())
	var s build.Sketch
	if *draw {
		s = g.Draw(jobName(path), data, true, build.Options{Step: e.progress()})
	}
	e.wiped()
	status := statusOf(r.Findings)
	if s.Picture != nil {
		if err := putPicture(drawingName(path), s.Picture); err != nil {
			return e.fail(c.name, statusUsage, append(r.Findings, unwritable(drawingName(path), err, "strapwork draw "+diag.Typed(path)+" --picture FILE.svg")...))
		}
	}
	if e.json {
		doc, err := report.CheckJSON(r)
		if err != nil {
			return e.internal(c.name, "report", err)
		}
		return e.print(string(doc), status)
	}
	if err := e.show(r.Findings); err != nil {
		return statusUsage
	}
	if s.Picture == nil {
		e.showWhere(path, r.Findings)
	}
	text, err := report.CheckText(r)
	if err != nil {
		return e.internal(c.name, "report", err)
	}
	if s.Picture != nil {
		text += drew(drawingName(path), s)
	}
	return e.print(text, status)
}

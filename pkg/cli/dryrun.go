package cli

import (
	"fmt"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/report"
)

var dryRunCommand = command{
	name: "dryrun", args: "PROGRAM --job JOB.toml", about: "reads a program back and judges it against a job, line by line",
	text: `PROGRAM is any program for a router with three axes, in plain RS-274/NGC. Its
zero is where the job's [program] says, its z 0 the top of the work. One of the
two files may be - for standard input

exit status: 0 no fault; 1 the program has a fault, or the job can't be made;
2 a file that cannot be read
`,
	flags: []flag{
		{name: "job", takes: "JOB.toml", about: "the job that the program is for"},
		{name: "as", takes: "WHAT", about: "what the program is for: groove, the whole of it, if not given; part, some of it or a perimeter run; widen, the recut; coupon, the trial in scrap", words: purposeWords},
		{name: "section", takes: "NAME", about: "the section of a table that comes apart that the program is for; if not given, the one that it names in its head or by its file's name, else the one that it fits best"},
		{name: "page", takes: "FILE", about: "write a page on which to watch the program, as build does for its own; FILE must be new or such a page"},
		notesFlag,
		jsonFlag("print one JSON document"),
	},
	operand: first(fixed(anyFile)),
	run:     runDryRun,
}

// maxProgram is the size in bytes beyond which a program is not read: two
// million blocks of usual length.
const maxProgram = 64 << 20

func purposeWords() (words []string) {
	for _, p := range build.Purposes() {
		words = append(words, p.String())
	}
	return words
}

func runDryRun(e *env, c command, args []string) int {
	fs := e.flagSet(c)
	e.noteFlag(fs)
	jobPath := fs.String("job", "", "")
	page := fs.String("page", "", "")
	section := fs.String("section", "", "")
	as := fs.String("as", build.WholeGroove.String(), "")
	if status, done := e.parse(fs, c, args, 1, 1); done {
		return status
	}
	purpose, known := purposes()[*as]
	path := fs.Arg(0)
	switch {
	case *jobPath == "":
		return e.usage(c.name, "the job that the program is for is not named", "strapwork dryrun "+diag.Typed(path)+" --job JOB.toml")
	case !known:
		return e.usage(c.name, fmt.Sprintf("--as cannot be %q", *as), "--as groove, part, widen or coupon")
	case path == fromStdin && *jobPath == fromStdin:
		return e.usage(c.name, "program and job cannot both come from standard input", c.usage())
	}
	data, found := e.readJob(*jobPath)
	if found.HasErrors() {
		return e.fail(c.name, statusUsage, found)
	}
	text, repaired := e.readProgram(path)
	if repaired.HasErrors() {
		return e.fail(c.name, statusUsage, repaired)
	}
	r, judged := build.DryRun(jobName(*jobPath), data, beside(*jobPath),
		build.ProgramFile{Name: jobName(path), Text: text, Purpose: purpose, Section: *section, Page: *page != "", Step: e.progress()})
	e.wiped()
	if !r.OK() {
		return e.fail(c.name, statusOf(r.Findings), r.Findings)
	}
	if *page != "" {
		if err := putFile(*page, r.Files[0].Data, pageMark); err != nil {
			return e.fail(c.name, statusUsage, unwritable(*page, err, "--page FILE.html"))
		}
	}
	found = append(repaired, judged.Findings...)
	status := statusDone
	if found.HasErrors() {
		status = statusFailed
	}
	if e.json {
		doc, err := report.DryRunJSON(path, *jobPath, judged, found)
		if err != nil {
			return e.internal(c.name, "report", err)
		}
		return e.print(string(doc), status)
	}
	if err := e.show(found); err != nil {
		return statusUsage
	}
	words, err := report.DryRunText(judged, r.Job.Units)
	if err != nil {
		return e.internal(c.name, "report", err)
	}
	return e.print(words, status)
}

// readProgram returns a program's text, and what was found on the way: a folder
// around it that a killed build had left was repaired, or what is wrong with it.
func (e *env) readProgram(path string) ([]byte, diag.Findings) {
	found := repairAround(path)
	if found.HasErrors() {
		return nil, found
	}
	text, unread := e.readText(path, "a program", maxProgram)
	found.Add(unread...)
	if !found.HasErrors() && len(text) > maxProgram {
		found.ErrorAt(diag.Position{File: jobName(path)}, "program-too-large", "the program is larger than %d MiB", maxProgram>>20).
			Hintf("write one program for each strand: split = \"strand\" in [program]")
	}
	return text, found
}

// purposes are what a program may be for, by the words of --as.
func purposes() map[string]build.Purpose {
	words := map[string]build.Purpose{}
	for _, p := range build.Purposes() {
		words[p.String()] = p
	}
	return words
}

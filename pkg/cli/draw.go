package cli

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

var drawCommand = command{
	name: "draw", args: "JOB.toml [--picture FILE] [--numbers]", about: "draws the motif, with what is wrong with it in its place",
	text: `JOB.toml may be - for standard input, with --picture. Of it [motif] is enough:
what else is missing is not asked for, and what is wrong is left out of the picture.
Panels are not planned: strapwork check JOB.toml --draw shows what is found in them too

exit status: 0 no error was found; 1 the job has errors, and the picture shows
those that have a place; 2 a file that cannot be read or written
`,
	flags: []flag{
		{name: "picture", takes: "FILE", about: "where to draw, as SVG; JOB-draw.svg in the current folder if not given; FILE must be new or such a picture"},
		{name: "numbers", about: "name the crossings of panels and borders as breaks wants them"},
		notesFlag,
		jsonFlag("print one JSON document"),
	},
	operand: tomlFiles(1),
	run:     runDraw,
}

func runDraw(e *env, c command, args []string) int {
	fs := e.flagSet(c)
	e.noteFlag(fs)
	picture := fs.String("picture", "", "")
	numbers := fs.Bool("numbers", false, "")
	if status, done := e.parse(fs, c, args, 1, 1); done {
		return status
	}
	path := fs.Arg(0)
	switch {
	case *picture == "" && (fs.Changed("picture") || path == fromStdin):
		return e.usage(c.name, "--picture names no file", "--picture FILE.svg")
	case *picture == "":
		*picture = drawingName(path)
	}
	data, found := e.readJob(path)
	if found.HasErrors() {
		return e.fail(c.name, statusUsage, found)
	}
	s := build.NewGraph(beside(path)).Draw(jobName(path), data, false, build.Options{Numbers: *numbers, Step: e.progress()})
	e.wiped()
	status := statusOf(s.Findings)
	if s.Picture == nil {
		return e.fail(c.name, status, s.Findings)
	}
	if err := putPicture(*picture, s.Picture); err != nil {
		return e.fail(c.name, statusUsage, slices.Concat(s.Findings, unwritable(*picture, err, "--picture FILE.svg")))
	}
	if e.json {
		doc := drawDocument{document: done(c.name, s.Findings), Picture: filepath.ToSlash(*picture), Marked: s.Marked}
		doc.OK = status == statusDone
		return e.printJSON(doc, status)
	}
	if err := e.show(s.Findings); err != nil {
		return statusUsage
	}
	return e.print(drew(*picture, s), status)
}

// drawDocument is the JSON of a drawing.
type drawDocument struct {
	document
	Picture string `json:"picture"`
	Marked  int    `json:"marked"` // findings that have their number in it
}

// drew says what was drawn.
func drew(path string, s build.Sketch) string {
	text := fmt.Sprintf("drew %s: %s, %s", path, unit.Count(len(s.Motif.Strands), "strand"), unit.Count(len(s.Weave.Crossings), "crossing"))
	if s.Marked > 0 {
		text += "; " + unit.Count(s.Marked, "finding") + " shown in place"
	}
	return text + "\n"
}

// drawingName is the file that a job's motif is drawn in: named like the job, in the
// current folder.
func drawingName(path string) string {
	name := filepath.Base(path)
	return strings.TrimSuffix(name, filepath.Ext(name)) + "-draw.svg"
}

// showWhere ends findings of which errors have a place with how to see it.
func (e *env) showWhere(path string, found diag.Findings) {
	placed := func(f diag.Finding) bool { return f.Severity == diag.Error && f.HasAt }
	if !e.json && path != fromStdin && slices.ContainsFunc(found, placed) {
		fmt.Fprintf(e.stderr, "hint: strapwork check %s --draw shows where\n", diag.Typed(path))
	}
}

package cli

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/dxf"
	"strapwork/pkg/profile"
	"strapwork/pkg/report"
	"strapwork/pkg/unit"
)

var buildCommand = command{
	name: "build", args: "JOB.toml [--out DIR]", about: "makes templates, patterns, program and preview, with a set-up sheet",
	text: `JOB.toml may be - for standard input, with --out

Everything is written beside DIR and moved in at the end: a build that fails
leaves DIR as it was. Other files in DIR are kept.
`,
	flags: []flag{
		{name: "out", takes: "DIR", about: "where to write; JOB-out in the current folder if not given"},
		{name: "only", takes: "WHAT,...", about: "write less: templates, paper (patterns to print), program (for a machine that grooves the board itself), preview (the page on which to watch program and templates)", words: func() []string { return slices.Sorted(maps.Keys(outputs)) }},
		{name: "paper", takes: "PAPER", about: "print patterns on A4, Letter, A3, Tabloid, Legal or a roll (\"roll 610 mm\") in place of the job's paper", words: profile.Papers},
		{name: "separate", about: "write the patterns as a file for each part"},
		{name: "dxf", takes: "VERSION", about: "r2000 (if not given), or r12 for older machines", words: fixed("r2000", "r12")},
		{name: "bare", about: "leave notes, which no machine cuts, out of the drawings"},
		{name: "nest", about: "put the parts on sheets of the size of the cutting profile's bed; templates then holds the sheets, parts the single parts"},
		{name: "numbers", about: "name the crossings of panels and borders in inlay.svg, as breaks wants them"},
		notesFlag,
		jsonFlag("print one JSON document with the manifest"),
	},
	operand: tomlFiles(1),
	run:     runBuild,
}

// outputs are what --only knows.
var outputs = map[string]build.Want{
	"templates": build.Templates, "paper": build.PaperPatterns, "program": build.Programs, "preview": build.Preview,
}

// buildFlags are the flags of build as typed.
type buildFlags struct {
	out      string
	only     []string
	paper    string
	version  string
	bare     bool
	separate bool
	nest     bool
	numbers  bool
}

func (b *buildFlags) add(fs *pflag.FlagSet) {
	fs.StringVar(&b.out, "out", "", "")
	fs.StringSliceVar(&b.only, "only", nil, "")
	fs.StringVar(&b.paper, "paper", "", "")
	fs.StringVar(&b.version, "dxf", "r2000", "")
	fs.BoolVar(&b.bare, "bare", false, "")
	fs.BoolVar(&b.separate, "separate", false, "")
	fs.BoolVar(&b.nest, "nest", false, "")
	fs.BoolVar(&b.numbers, "numbers", false, "")
}

// options turns the flags into what a build wants; text is what is wrong.
func (b *buildFlags) options(fs *pflag.FlagSet) (o build.Options, text, hint string) {
	o.Bare, o.Separate, o.Nest, o.Numbers = b.bare, b.separate, b.nest, b.numbers
	switch strings.ToLower(b.version) {
	case "r2000":
		o.Version = dxf.R2000
	case "r12":
		o.Version = dxf.R12
	default:
		return o, fmt.Sprintf("there is no DXF version %q", b.version), "--dxf r2000 or --dxf r12"
	}
	if o.Only, text, hint = b.wanted(fs.Changed("only")); text != "" {
		return o, text, hint
	}
	if o.Paper, text, hint = b.paperName(fs.Changed("paper")); text != "" {
		return o, text, hint
	}
	if b.out == "" && (fs.Changed("out") || fs.Arg(0) == fromStdin) {
		return o, "--out names no folder", "--out DIR"
	}
	if b.out == "" {
		b.out = defaultOut(fs.Arg(0))
	}
	return o, "", ""
}

// wanted is what --only asks for; 0 is everything.
func (b *buildFlags) wanted(asked bool) (want build.Want, text, hint string) {
	words := slices.Sorted(maps.Keys(outputs))
	hint = "--only " + strings.Join(words, ",") + ", or leave it out for everything"
	for _, w := range b.only {
		if outputs[w] == 0 {
			return 0, fmt.Sprintf("--only takes %s, not %q", strings.Join(words, ", "), w), hint
		}
		want |= outputs[w]
	}
	if asked && want == 0 {
		return 0, "--only names nothing", hint
	}
	return want, "", ""
}

// paperName is the paper that --paper asks for: a size or a roll, since a
// printer's file belongs to the job.
func (b *buildFlags) paperName(asked bool) (name, text, hint string) {
	if !asked {
		return "", "", ""
	}
	noFiles := func(string) ([]byte, error) { return nil, errors.New("name it in the job file, under [paper]") }
	_, err := profile.OpenPaper(b.paper, noFiles)
	var found diag.Findings
	if errors.As(err, &found) && len(found) > 0 {
		return "", "--paper: " + found[0].Message, found[0].Hint
	}
	return b.paper, "", ""
}

// defaultOut is the folder that a job is built into: named like the job, in
// the current folder.
func defaultOut(path string) string {
	name := filepath.Base(path)
	return strings.TrimSuffix(name, filepath.Ext(name)) + "-out"
}

func runBuild(e *env, c command, args []string) int {
	fs := e.flagSet(c)
	e.noteFlag(fs)
	var flags buildFlags
	flags.add(fs)
	if status, done := e.parse(fs, c, args, 1, 1); done {
		return status
	}
	o, text, hint := flags.options(fs)
	if text != "" {
		return e.usage(c.name, text, hint)
	}
	path := fs.Arg(0)
	data, found := e.readJob(path)
	if !found.HasErrors() {
		found = folderFindings(flags.out, usable(flags.out))
	}
	if !found.HasErrors() {
		did, err := repairFolder(flags.out)
		found = append(did.findings(flags.out), folderFindings(flags.out, err)...)
	}
	if found.HasErrors() {
		return e.fail(c.name, statusUsage, found)
	}
	o.Step = e.progress()
	r := build.Build(jobName(path), data, beside(path), o)
	e.wiped()
	if !r.OK() {
		status := e.fail(c.name, statusOf(r.Findings), append(found, r.Findings...))
		e.showWhere(path, r.Findings)
		return status
	}
	return e.deliver(c, r, flags.out, found)
}

// deliver writes a built job's files and reports it. Findings about the folder
// come first and stay out of the files: the same job makes the same bytes.
func (e *env) deliver(c command, r build.Result, out string, before diag.Findings) int {
	files, err := report.Files(r)
	if err != nil {
		return e.internal(c.name, "report", err)
	}
	manifest := files[len(files)-1].Data
	all := slices.Concat(r.Files, files)
	stopped, release := catchInterrupts()
	moved, err := put(out, all, stopped)
	release()
	if err != nil {
		return e.fail(c.name, statusUsage, slices.Concat(before, r.Findings, folderFindings(out, err)))
	}
	found := slices.Concat(before, r.Findings, moved.findings(out)).Shorten()
	if e.json {
		doc := buildDocument{
			document: done(c.name, found), Out: filepath.ToSlash(out),
			Removed: some(moved.removed), Kept: some(moved.kept), Manifest: manifest,
		}
		return e.printJSON(doc, statusDone)
	}
	if err := e.show(found); err != nil {
		return statusUsage
	}
	made, err := report.MadeText(r)
	if err != nil {
		return e.internal(c.name, "report", err)
	}
	return e.print(written(out, all, moved)+made+printFirst(out, all), statusDone)
}

// printFirst says what to take to the bench, where there is such a file.
func printFirst(out string, files []build.File) string {
	if !slices.ContainsFunc(files, func(f build.File) bool { return f.Path == report.SetupPDFPath }) {
		return ""
	}
	return fmt.Sprintf("next: print %s, the cutting card and the bench sheet\n", filepath.Join(out, filepath.FromSlash(report.SetupPDFPath)))
}

// buildDocument is the JSON of a build that went well.
type buildDocument struct {
	document
	Out      string          `json:"out"`
	Removed  []string        `json:"removed"` // files of an earlier build that are no longer made
	Kept     []string        `json:"kept"`    // those of them that were changed since
	Manifest json.RawMessage `json:"manifest"`
}

// some is list, never null in JSON.
func some(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// written lists what a build wrote and took away.
func written(out string, files []build.File, moved outcome) string {
	var b strings.Builder
	fmt.Fprintf(&b, "wrote %s to %s\n", unit.Count(len(files), "file"), out)
	var paths []string
	for _, f := range files {
		paths = append(paths, f.Path)
	}
	slices.Sort(paths)
	for _, p := range paths {
		fmt.Fprintf(&b, "  %s\n", p)
	}
	for _, p := range moved.removed {
		fmt.Fprintf(&b, "removed %s, which is no longer made\n", p)
	}
	return b.String()
}

// folderFindings says why a folder can't be written to; none for nil.
func folderFindings(out string, err error) diag.Findings {
	var found diag.Findings
	if err == nil {
		return found
	}
	var foreign foreignError
	pos := diag.Position{File: out}
	switch {
	case errors.Is(err, errBusy):
		found.ErrorAt(pos, "busy", "another build is writing here").Hintf("wait until it is done, or name another folder: --out DIR")
	case errors.Is(err, errInterrupted):
		found.ErrorAt(pos, "interrupted", "interrupted; it is as it was")
	case errors.Is(err, errNotFolder):
		found.ErrorAt(pos, "out", "it is a file, not a folder to write to").Hintf("name another folder: --out DIR")
	case errors.As(err, &foreign):
		found.ErrorAt(pos, "out", "%v", err).Hintf("move it away, or name another folder: --out DIR")
	default:
		found.ErrorAt(concerned(out, err), "out", "it cannot be written: %v", reason(err)).Hintf("name a folder that can be written to: --out DIR")
	}
	return found
}

// concerned is the file or folder that an error in writing to out is about.
func concerned(out string, err error) diag.Position {
	name := ""
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		name = p.Path
	case errors.As(err, &l):
		name = l.New
	}
	for _, own := range []string{newPath, oldPath, deskName} {
		name = strings.TrimPrefix(strings.TrimPrefix(filepath.ToSlash(name), own), "/")
	}
	if !filepath.IsLocal(name) || name == filepath.ToSlash(out) {
		return diag.Position{File: out} // an error about the whole folder, or one that it lies in
	}
	return diag.Position{File: filepath.Join(out, name)}
}

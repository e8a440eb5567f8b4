package cli

import (
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"strapwork/pkg/diag"
	"strapwork/pkg/dxf"
	"strapwork/pkg/report"
	"strapwork/pkg/shop"
)

var buildCommand = command{
	name: "build", args: "JOB.toml [--out DIR]", about: "makes the templates, with a set-up sheet and a manifest",
	text: `JOB.toml may be - for standard input, with --out

Everything is written beside DIR and moved in at the end: a build that fails
leaves DIR as it was. Other files in DIR are kept.

flags:
  --out DIR         where to write; JOB-out in the current folder if not given
  --only WHAT,...   write less: templates leaves out the picture of the inlay
  --dxf VERSION     r2000 (if not given), or r12 for older machines
  --bare            leave notes, which no machine cuts, out of the drawings
  --json            print one JSON document with the manifest
`,
	run: runBuild,
}

// onlyTemplates is what --only knows.
const onlyTemplates = "templates"

// buildFlags are the flags of build as typed.
type buildFlags struct {
	out     string
	only    []string
	version string
	bare    bool
}

func (b *buildFlags) add(fs *pflag.FlagSet) {
	fs.StringVar(&b.out, "out", "", "")
	fs.StringSliceVar(&b.only, "only", nil, "")
	fs.StringVar(&b.version, "dxf", "r2000", "")
	fs.BoolVar(&b.bare, "bare", false, "")
}

// options turns the flags into what a build wants; text is what is wrong.
func (b *buildFlags) options(fs *pflag.FlagSet) (o shop.Options, text, hint string) {
	o.Bare = b.bare
	switch strings.ToLower(b.version) {
	case "r2000":
		o.Version = dxf.R2000
	case "r12":
		o.Version = dxf.R12
	default:
		return o, fmt.Sprintf("there is no DXF version %q", b.version), "--dxf r2000 or --dxf r12"
	}
	o.TemplatesOnly = fs.Changed("only")
	if i := slices.IndexFunc(b.only, func(s string) bool { return s != onlyTemplates }); i >= 0 {
		return o, fmt.Sprintf("--only knows templates, not %q", b.only[i]), "--only templates, or leave it out for everything"
	}
	if o.TemplatesOnly && len(b.only) == 0 {
		return o, "--only names nothing", "--only templates, or leave it out for everything"
	}
	if b.out == "" && (fs.Changed("out") || fs.Arg(0) == fromStdin) {
		return o, "--out names no folder", "--out DIR"
	}
	if b.out == "" {
		b.out = defaultOut(fs.Arg(0))
	}
	return o, "", ""
}

// defaultOut is the folder that a job is built into: named like the job, in
// the current folder.
func defaultOut(path string) string {
	name := filepath.Base(path)
	return strings.TrimSuffix(name, filepath.Ext(name)) + "-out"
}

func runBuild(e *env, c command, args []string) int {
	fs := e.flagSet(c)
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
	if found.HasErrors() {
		return e.fail(c.name, statusUsage, found)
	}
	step, wipe := e.progress()
	o.Step = step
	r := shop.Build(jobName(path), data, beside(path), o)
	wipe()
	if !r.OK() {
		return e.fail(c.name, statusOf(r.Findings), r.Findings)
	}
	return e.deliver(c, r, flags.out)
}

// deliver writes a built job's files and tells of them.
func (e *env) deliver(c command, r shop.Result, out string) int {
	files, err := report.Files(r)
	if err != nil {
		return e.internal(c.name, err)
	}
	manifest := files[len(files)-1].Data
	all := slices.Concat(r.Files, files)
	moved, err := put(out, all)
	if err != nil {
		return e.fail(c.name, statusUsage, append(r.Findings, folderFindings(out, err)...))
	}
	found := append(r.Findings, moved.findings(out)...)
	if e.json {
		doc := buildDocument{
			document: done(c.name, found), Out: filepath.ToSlash(out),
			Removed: some(moved.removed), Kept: some(moved.kept), Manifest: manifest,
		}
		return e.printJSON(doc, statusDone)
	}
	if err := diag.Fprint(e.stderr, found); err != nil {
		return statusUsage
	}
	return e.print(told(r, out, all, moved), statusDone)
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

// told is what a build prints.
func told(r shop.Result, out string, files []shop.File, moved outcome) string {
	var b strings.Builder
	fmt.Fprintf(&b, "wrote %s to %s\n", count(len(files), "file"), out)
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
	fmt.Fprintf(&b, "%s, %s\n", count(len(r.Set.Panels), "panel"), count(r.Set.SetUps(), "set-up"))
	left := "nothing"
	if n := len(r.Proof.Leftovers); n > 0 {
		left = fmt.Sprintf("%.2f mm2 in %s", r.Proof.UncutArea, count(n, "place"))
	}
	fmt.Fprintf(&b, "proof: the router can cut %.3f mm beyond the groove at most, and leaves %s for the chisel\n", r.Proof.OvercutMax, left)
	return b.String()
}

// folderFindings tells why a folder can't be written to; none for nil.
func folderFindings(out string, err error) diag.Findings {
	var found diag.Findings
	if err == nil {
		return found
	}
	var foreign foreignError
	pos := diag.Position{File: out}
	switch {
	case errors.Is(err, errNotFolder):
		found.Errorf(pos, "out", "it is a file, not a folder to write to").Hintf("name another folder: --out DIR")
	case errors.As(err, &foreign):
		found.Errorf(pos, "out", "%v", err).Hintf("move it away, or name another folder: --out DIR")
	default:
		found.Errorf(pos, "out", "it cannot be written: %v", reason(err)).Hintf("name a folder that can be written to: --out DIR")
	}
	return found
}

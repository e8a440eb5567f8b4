package job

import (
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// MaxSize is the size in bytes beyond which a job file is not read: drawings
// by hand have a few kilobytes.
const MaxSize = 8 << 20

// Rules of findings that mean that the file cannot be read at all, as against
// a job that cannot be made.
const (
	RuleTooLarge = "job-too-large"
	RuleEncoding = "job-encoding"
	RuleSyntax   = "job-syntax"
)

// The other rules of this package's findings.
const (
	ruleUnknown    = "unknown-key"
	ruleDuplicate  = "duplicate-key"
	ruleMissing    = "missing-key"
	ruleType       = "wrong-type"
	ruleValue      = "bad-value"
	ruleExpression = "bad-expression"
	rulePath       = "bad-path"
	ruleScaled     = "radius-scaled"
	ruleConflict   = "keys-conflict"
	ruleFit        = "does-not-fit"
	ruleThinWeb    = "thin-web"
	ruleAssumed    = "assumed"
	ruleNoEffect   = "no-effect"
)

// Unreadable reports whether findings of Read say that the file could not be
// read: too large, not UTF-8, or not TOML.
func Unreadable(fs diag.Findings) bool {
	return slices.ContainsFunc(fs, func(f diag.Finding) bool {
		return f.Rule == RuleTooLarge || f.Rule == RuleEncoding || f.Rule == RuleSyntax
	})
}

// Read reads a job file; file is its name for positions. The findings hold
// all errors, in the order of the file, and then warnings; with any error the job
// is nil. What was assumed is in the job's Notes.
func Read(file string, data []byte) (*Job, diag.Findings) { return read(file, data, false) }

// ReadForProgram is Read where nothing is made but what a machine needs: whatever
// the file's guide is, it is guide = "none", and nothing is asked of rider, templates,
// cutting and paper.
func ReadForProgram(file string, data []byte) (*Job, diag.Findings) { return read(file, data, true) }

func read(file string, data []byte, forProgram bool) (*Job, diag.Findings) {
	if len(data) > MaxSize {
		var fs diag.Findings
		fs.ErrorAt(diag.Position{File: file}, RuleTooLarge, "the file is larger than %d MiB", MaxSize>>20).
			Hintf("a job file is a short text; is this the right file?")
		return nil, fs
	}
	// Some editors begin a file with a byte order mark.
	r := &reader{src: newSource(file, strings.TrimPrefix(string(data), "\ufeff")), forProgram: forProgram}
	if !r.decode() {
		return nil, r.findings
	}
	j := r.job()
	r.findings.Sort()
	r.findings = r.findings.AndMore(r.more)
	r.notes.Sort()
	if r.findings.HasErrors() {
		return nil, r.findings
	}
	j.Notes = r.notes
	return j, r.findings
}

// decode makes the tree; false means that the file cannot be read.
func (r *reader) decode() bool {
	if !utf8.ValidString(r.src.data) {
		r.errorf(RuleEncoding, invalid(r.src.data), "the file is not UTF-8 text").Hintf("save it again as UTF-8")
		return false
	}
	r.src.root = build(r.src, func(rule string, off int, hint, format string, args ...any) {
		r.errorf(rule, off, format, args...).Hintf("%s", hint)
	})
	r.findings.Sort()
	if !Unreadable(r.findings) {
		return true
	}
	r.findings = r.findings.AndMore(r.more)
	return false
}

// invalid is the place of the first byte that is not UTF-8.
func invalid(s string) int {
	for i, c := range s {
		if c != utf8.RuneError {
			continue
		}
		if _, n := utf8.DecodeRuneInString(s[i:]); n == 1 {
			return i
		}
	}
	return len(s)
}

// job goes through all tables, whatever is wrong in the ones before.
func (r *reader) job() *Job {
	root := r.src.root
	j := &Job{File: r.src.file, source: r.src}
	r.known("", root)
	j.Units = r.readUnits(root)
	r.units = j.Units
	r.readLet(root.get("let"))
	j.Title = r.readTitle(root)
	j.Motif = r.readMotif(r.table(root, "motif", "add [motif] and its elements, such as [[motif.line]]"))
	j.Weave = r.readWeave(r.table(root, "weave", ""))
	j.Inlay = r.readInlay(r.table(root, "inlay", "add [inlay] with depth, and strips or width"))
	j.Router = r.readRouter(r.table(root, "router", "add [router] with guide, rider and bit"))
	j.Board = r.readBoard(root.get("board"))
	if template := r.table(root, "template", ""); j.Router.Guide.HasTemplates() {
		j.Template = r.readTemplate(template, j.Router.Guide)
		j.Cutting = r.readCutting(root.get("cutting"))
		j.Paper = r.readPaper(root.get("paper"))
	} else {
		for _, key := range []string{"template", "cutting", "paper"} {
			r.idle(root, key, "no templates are made")
		}
	}
	j.Program = r.readProgram(root)
	j.Clamping = r.readStock(root.get("stock"))
	r.fits(j)
	return j
}

func (r *reader) readUnits(root *node) unit.System {
	n := root.get("units")
	if n == nil {
		r.errorf(ruleMissing, top, "units is missing: what does a bare number mean?").Hintf(`write units = "mm" or units = "in" at the top`)
		return unit.MM
	}
	if r.choice(n, "units", "mm", "in") == 1 {
		return unit.Inch
	}
	return unit.MM
}

func (r *reader) readTitle(root *node) string {
	if n := root.get("title"); n != nil {
		return r.text(n, "title")
	}
	name := filepath.Base(filepath.ToSlash(r.src.file))
	title := strings.TrimSuffix(name, filepath.Ext(name))
	r.notef(ruleAssumed, top, "no title: %q is used", title)
	return title
}

// table is a table of the job and checks its keys; never nil. A table that
// the file lacks is empty, and an error if there is a hint what to add.
func (r *reader) table(root *node, key, missing string) *node {
	n := root.get(key)
	switch {
	case n == nil && missing != "" && !slices.Contains(root.meant, key):
		r.errorf(ruleMissing, top, "table [%s] is missing", key).Hintf("%s", missing)
	case n == nil:
	case n.kind != nodeTable:
		r.wrongType(n, key, "a table", "write ["+key+"] on a line of its own, and its keys below")
	default:
		r.known(key, n)
		return n
	}
	return &node{kind: nodeTable, def: absent, off: top}
}

// required is a key's value; nil is told as missing unless the table is.
func (r *reader) required(t *node, key, hint string) *node {
	n := t.get(key)
	if n == nil && t.def != absent && !slices.Contains(t.meant, key) {
		r.errorf(ruleMissing, t.off, "%s is missing", key).Hintf("%s", hint)
	}
	return n
}

// mustLength is the length of a key that has no default.
func (r *reader) mustLength(t *node, key string, b bound, hint string) float64 {
	if n := r.required(t, key, hint); n != nil {
		return r.length(n, key, b)
	}
	return bad
}

// lengthOr is the length of a key, or a default in mm.
func (r *reader) lengthOr(t *node, key string, b bound, otherwise float64) float64 {
	if n := t.get(key); n != nil {
		return r.length(n, key, b)
	}
	return otherwise
}

func (r *reader) flagOr(t *node, key string, otherwise bool) bool {
	if n := t.get(key); n != nil {
		return r.flag(n, key)
	}
	return otherwise
}

// assume notes defaults that were used: pairs of a key and what it became.
// Those that the table gives are left out.
func (r *reader) assume(table string, t *node, pairs ...string) {
	var said []string
	for i := 0; i+1 < len(pairs); i += 2 {
		if t.get(pairs[i]) == nil {
			said = append(said, pairs[i]+" "+pairs[i+1])
		}
	}
	if len(said) > 0 {
		r.notef(ruleAssumed, t.off, "[%s] assumed: %s", table, strings.Join(said, ", "))
	}
}

// noEffect notes a key that changes nothing in this job.
func (r *reader) noEffect(t *node, key, why string) {
	if n := t.get(key); n != nil {
		r.notef(ruleNoEffect, n.off, "%s has no effect: %s", key, why)
	}
}

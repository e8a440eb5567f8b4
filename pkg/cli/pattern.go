package cli

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/job"
	"strapwork/pkg/report"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

var patternCommand = command{
	name: "pattern", args: "[NAME [KEY=VALUE ...]]", about: "lists the patterns, or writes a job with one to start from",
	text: `Without a name it lists them. With one it writes a whole job, every key with what it
is; keys of the pattern are given as across=6 or size=320,220. strapwork help job motif.NAME has them.
`,
	flags: []flag{
		{name: "rider", takes: "SIZE", about: "diameter of what rides the template: the pattern is made as large as it needs"},
		{name: "guide", takes: "GUIDE", about: "base, bushing or bearing; if not given, a base from 50 mm (2 in) on", words: fixed("base", "bushing", "bearing")},
		{name: "units", takes: "UNITS", about: "mm (if not given), or in", words: fixed("mm", "in")},
		{name: "out", takes: "FILE", about: "where to write the job; on the screen if not given"},
		{name: "pictures", takes: "DIR", about: "write a picture of each pattern"},
		jsonFlag("print one JSON document"),
	},
	operand: patternWords,
	run:     runPattern,
}

// patternFlags are the flags of pattern as typed.
type patternFlags struct{ rider, guide, units, out, pictures string }

func (p *patternFlags) add(fs *pflag.FlagSet) {
	fs.StringVar(&p.rider, "rider", "", "")
	fs.StringVar(&p.guide, "guide", "", "")
	fs.StringVar(&p.units, "units", "mm", "")
	fs.StringVar(&p.out, "out", "", "")
	fs.StringVar(&p.pictures, "pictures", "", "")
}

// starter is what the flags say of a starting job; text is what is wrong.
func (p *patternFlags) starter() (s job.Starter, text, hint string) {
	switch p.units {
	case unit.MM.String():
	case unit.Inch.String():
		s.Units = unit.Inch
	default:
		return s, fmt.Sprintf("there are no units %q", p.units), "--units mm or --units in"
	}
	s.Rider, s.Guide = p.rider, work.GuideBushing
	if p.rider != "" {
		size, err := unit.Eval(p.rider, unit.Env{System: s.Units})
		if err != nil || !(size > 0) {
			return s, fmt.Sprintf("--rider %s is not a diameter", p.rider), `--rider 16, or --rider "5/8 in"`
		}
		if size*s.Units.InMM() >= leastBase {
			s.Guide = work.GuideBase
		}
	}
	if p.guide == "" {
		return s, "", ""
	}
	for _, g := range work.Guides(work.Guide.HasPanels) {
		if g.String() == p.guide {
			s.Guide = g
			return s, "", ""
		}
	}
	return s, fmt.Sprintf("there is no guide %q with panels", p.guide), "--guide base, --guide bushing or --guide bearing"
}

// leastBase in mm is the diameter from which on a rider is a router's own base: larger
// than bushings are, smaller than the bases of laminate trimmers (common practice).
const leastBase = 50

type patternList struct {
	document
	Patterns []patternEntry `json:"patterns"`
}

type patternEntry struct {
	Name  string `json:"name"`
	About string `json:"about"`
	Size  string `json:"size"` // the key that says how large it is
}

type patternJob struct {
	document
	Job string `json:"job"` // its text
}

func runPattern(e *env, c command, args []string) int {
	var p patternFlags
	fs := e.flagSet(c)
	p.add(fs)
	if status, done := e.parse(fs, c, args, 0, 1000); done {
		return status
	}
	s, text, hint := p.starter()
	switch {
	case text != "":
		return e.usage(c.name, text, hint)
	case fs.NArg() == 0 && p.pictures == "":
		return e.listPatterns(c)
	case p.pictures != "":
		return e.drawPatterns(c, s, p.pictures, fs.Args())
	}
	family, near, ok := job.FamilyNamed(fs.Arg(0))
	if !ok {
		return e.noPattern(c, fs.Arg(0), near)
	}
	s.Family = family
	for _, arg := range fs.Args()[1:] {
		key, value, ok := strings.Cut(arg, "=")
		if !ok || key == "" || value == "" {
			return e.usage(c.name, fmt.Sprintf("%q gives no key a value", arg), "as in "+family.Size+"=40; strapwork help job motif."+family.Name+" has its keys")
		}
		if key == "rider" || key == "guide" || key == "units" {
			return e.usage(c.name, fmt.Sprintf("the pattern has no key %s", key), fmt.Sprintf("write --%s %s", key, diag.Typed(value)))
		}
		s.Given = append(s.Given, job.Given{Key: strings.TrimSpace(key), Value: strings.TrimSpace(value)})
	}
	return e.writePattern(c, s, p.out)
}

func (e *env) noPattern(c command, name, near string) int {
	hint := "strapwork pattern lists them"
	if near != "" {
		hint = "did you mean " + near + "?"
	}
	return e.usage(c.name, fmt.Sprintf("there is no pattern %q", name), hint)
}

func (e *env) listPatterns(c command) int {
	if e.json {
		list := patternList{document: done(c.name, nil)}
		for _, f := range job.Families() {
			list.Patterns = append(list.Patterns, patternEntry{f.Name, f.About, f.Size})
		}
		return e.printJSON(list, statusDone)
	}
	return e.print(table("pattern\tsize\twhat it draws", func(w io.Writer) {
		for _, f := range job.Families() {
			fmt.Fprintf(w, "%s\t%s\t%s\n", f.Name, f.Size, f.About)
		}
	}), statusDone)
}

// rooms are by how much larger than usual a pattern is made, one after the other, until
// the job can be made.
var rooms = [...]float64{1, 1.3, 1.7, 2.2}

// writePattern writes a job that can be made, or says why there is none.
func (e *env) writePattern(c command, s job.Starter, out string) int {
	name := s.Family.Name + ".toml"
	if out != "" {
		name = out
	}
	var text string
	var found diag.Findings
	var r build.Result
	for _, s.Room = range rooms {
		if text, found = s.Write(); found.HasErrors() {
			return e.fail(c.name, statusFailed, found)
		}
		r = build.Check(name, []byte(text), beside(name), e.progress())
		if found = r.Findings; !found.HasErrors() || s.SizeGiven() {
			break
		}
	}
	e.wiped()
	if found.HasErrors() {
		for i := range found {
			found[i].Pos = diag.Position{} // there is no file
			found[i].SetExcerpt("")
		}
		return e.fail(c.name, statusFailed, found)
	}
	if out != "" {
		if err := putFile(out, []byte(text), ""); err != nil {
			return e.fail(c.name, statusUsage, unwritable(out, err, "--out FILE.toml"))
		}
	}
	if e.json {
		return e.printJSON(patternJob{document: done(c.name, found), Job: text}, statusDone)
	}
	if out == "" {
		return e.print(text, statusDone)
	}
	if err := e.show(found); err != nil {
		return statusUsage
	}
	summary, err := report.CheckText(r)
	if err != nil {
		return e.internal(c.name, "report", err)
	}
	return e.print(fmt.Sprintf("%s is written; next: strapwork watch %[2]s, then strapwork build %[2]s\n\n%[3]s", out, diag.Typed(out), summary), statusDone)
}

// drawPatterns writes a picture of the patterns that are named, of all if none is.
func (e *env) drawPatterns(c command, s job.Starter, dir string, names []string) int {
	list := job.Families()
	if len(names) > 0 {
		list = nil
	}
	for _, name := range names {
		f, near, ok := job.FamilyNamed(name)
		if !ok {
			return e.noPattern(c, name, near)
		}
		list = append(list, f)
	}
	var b strings.Builder
	g := build.NewGraph(beside(dir))
	for _, s.Family = range list {
		path := filepath.Join(dir, s.Family.Name+".svg")
		text, found := s.Write()
		var picture []byte
		if !found.HasErrors() {
			picture, found = g.Inlay(path, []byte(text))
		}
		if found.HasErrors() {
			return e.fail(c.name, statusFailed, found)
		}
		err := os.MkdirAll(dir, folderMode)
		if err == nil {
			err = putPicture(path, picture)
		}
		if err != nil {
			return e.fail(c.name, statusUsage, unwritable(path, err, "--pictures DIR"))
		}
		fmt.Fprintln(&b, path)
	}
	if e.json {
		return e.printJSON(done(c.name, nil), statusDone)
	}
	return e.print(b.String(), statusDone)
}

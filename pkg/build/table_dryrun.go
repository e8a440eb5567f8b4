package build

// Which section of a table is a program for? Whoever asks may say so; else the program says
// it of itself, in its head or by its name; else it is the one that it fits best.

import (
	"regexp"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/unit"
)

// judgeSection judges a file against a section of the table.
func (a *asking) judgeSection(r *Result, p ProgramFile) (report dryrun.Report) {
	var names []string
	for _, k := range r.Table.Kinds {
		names = append(names, k.Name)
	}
	judge := func(kind int) (Result, dryrun.Report) {
		b, own := a.section(*r, kind)
		own.Findings = nil
		run := b.judgeFile(&own, p)
		return own, run
	}
	kind, why := sectionOf(p, names)
	if p.Section != "" && kind < 0 {
		f := r.Findings.Errorf("table.section", ruleNoSection, "the table has no section named %q", p.Section)
		if near := diag.Nearest(p.Section, names); near != "" {
			f.Hintf("did you mean %s?", near)
		} else {
			f.Hintf("its sections: %s", unit.List(texts(names)))
		}
		return report
	}
	if kind < 0 {
		kind, why = a.fitsBest(*r, p), "it fits that one best"
	}
	own, report := judge(kind)
	report.SectionBy = why
	r.Findings.Add(own.Findings...)
	r.Files = append(r.Files, own.Files...)
	return report
}

// ruleNoSection is the rule of a section that the table doesn't have.
const ruleNoSection = "no-section"

func texts(list []string) (out []unit.Text) {
	for _, s := range list {
		out = append(out, unit.Say("%s", s))
	}
	return out
}

// inHead is how a program of ours says in its head which section it is for.
var inHead = regexp.MustCompile(`(?m)^\(section ([A-Za-z0-9_-]+)\)\r?$`)

// sectionOf is the section that a program is for, and how that is known; -1 where it isn't.
func sectionOf(p ProgramFile, names []string) (kind int, why string) {
	if p.Section != "" {
		return slices.Index(names, p.Section), "as asked for"
	}
	head := p.Text[:min(len(p.Text), headBytes)]
	if m := inHead.FindSubmatch(head); m != nil {
		if k := slices.Index(names, string(m[1])); k >= 0 {
			return k, "the program says so"
		}
	}
	kind = -1
	for k, name := range names {
		own := regexp.MustCompile(`(^|[-_. ])` + regexp.QuoteMeta(name) + `\.[A-Za-z]+$`)
		if own.MatchString(jobBase(p.Name)) && (kind < 0 || len(name) > len(names[kind])) {
			kind = k
		}
	}
	return kind, "by the file's name"
}

// headBytes is how much of a program is taken for its head.
const headBytes = 4096

// fitsBest is the section that a program fits best: whose groove it leaves and misses by the
// least area.
func (a *asking) fitsBest(r Result, p ProgramFile) (best int) {
	p.Page = false
	type fit struct {
		whole bool
		area  float64
	}
	fits := each(r.kinds(), func(k int) fit {
		b, own := a.section(r, k)
		own.Findings = nil
		run := b.judgeFile(&own, p)
		f := fit{run.OK() && own.OK(), run.MissedArea}
		for _, g := range run.Gouges {
			f.area += g.Area
		}
		return f
	})
	for k, f := range fits {
		if b := fits[best]; f.whole && !b.whole || f.whole == b.whole && f.area < b.area {
			best = k
		}
	}
	return best
}

package build

import (
	"slices"

	"strapwork/pkg/diag"
)

// repeats are what was found in the programs of a job, of which each starts alike and
// has the others' findings too: by their text, where the first stands among the
// result's findings and in how many programs there is one.
type repeats map[string]*repeat

type repeat struct{ at, programs int }

// add adds what was found in one program, less what others have too.
func (a repeats) add(r *Result, found diag.Findings) {
	for _, f := range found {
		key := f.Severity.String() + f.Rule + f.Message
		if one, ok := a[key]; ok {
			one.programs++
			continue
		}
		a[key] = &repeat{at: len(r.Findings), programs: 1}
		r.Findings.Add(f)
	}
}

// ownFindings is what was found in one of the job's own programs, less what is said of
// the job already: a program begins at the safe height, and that is too low.
func (r *Result) ownFindings(found diag.Findings) diag.Findings {
	if !slices.ContainsFunc(r.Findings, func(f diag.Finding) bool { return f.Rule == ruleHeight }) {
		return found
	}
	return slices.DeleteFunc(found, func(f diag.Finding) bool { return f.Rule == ruleBlindStart })
}

// count says of each finding in how many more programs it is.
func (a repeats) count(r *Result) {
	for _, one := range a {
		switch n := one.programs - 1; n {
		case 0:
		case 1:
			r.Findings[one.at].Addf(" (and in one more program)")
		default:
			r.Findings[one.at].Addf(" (and in %d more programs)", n)
		}
	}
}

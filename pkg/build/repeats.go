package build

import (
	"strapwork/pkg/diag"
)

// repeats are what was found in the programs of a job, of which each starts alike and
// has the others' findings too: by their text, where the first stands among the
// findings and in how many programs there is one.
type repeats map[string]*repeat

type repeat struct{ at, programs int }

// add adds what was found in one program, less what others have too.
func (a repeats) add(to *diag.Findings, found diag.Findings) {
	for _, f := range found {
		key := f.Severity.String() + f.Rule + f.Message
		if one, ok := a[key]; ok {
			one.programs++
			continue
		}
		a[key] = &repeat{at: len(*to), programs: 1}
		to.Add(f)
	}
}

// count says of each finding in how many more programs it is.
func (a repeats) count(found diag.Findings) {
	for _, one := range a {
		switch n := one.programs - 1; n {
		case 0:
		case 1:
			found[one.at].Addf(" (and in one more program)")
		default:
			found[one.at].Addf(" (and in %d more programs)", n)
		}
	}
}

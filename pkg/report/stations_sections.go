package report

import "strapwork/pkg/build"

// sectionsFacts are the programs of a table's sections.
type sectionsFacts struct {
	Program *programJSON
}

func newSectionsFacts(r build.Result) *sectionsFacts {
	if r.Table == nil || !hasProgram(r) {
		return nil
	}
	return &sectionsFacts{newProgram(r)}
}

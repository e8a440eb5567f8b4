package report

import "strapwork/pkg/build"

// sectionsFacts are the programs of a table's sections.
type sectionsFacts struct{}

func newSectionsFacts(build.Result) *sectionsFacts { return nil }

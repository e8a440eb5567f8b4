package report

import "strapwork/pkg/build"

// stepsFacts is how panels are stepped along the work.
type stepsFacts struct{}

func newStepsFacts(build.Result) *stepsFacts { return nil }

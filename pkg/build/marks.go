package build

import (
	"crypto/sha256"
	"fmt"

	"strapwork/pkg/marks"
)

// revisionBytes of the hash are enough that two states of one job differ, and
// few enough to be engraved and read out: two in a row are alike once in four
// billion times.
const revisionBytes = 4

// revision is the beginning of the SHA-256 of a job file, in hexadecimal.
func revision(data []byte) string {
	sum := sha256.Sum256(data)
	return fmt.Sprintf("%x", sum[:revisionBytes])
}

// mark puts the marks on the panels, and tells of those without room.
func (r *Result) mark() {
	set, found := marks.On(r.Set, MarksParams(r.Job, r.Revision))
	r.Set = set
	r.Findings.Add(found...)
}

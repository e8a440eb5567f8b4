package build

import (
	"crypto/sha256"
	"fmt"

	"strapwork/pkg/diag"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/marks"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
	"strapwork/pkg/work"
)

// revisionBytes of the hash are enough that two states of one job differ, and
// few enough to be engraved and read out: two in a row are alike once in four
// billion times.
const revisionBytes = 4

// revision is the beginning of the SHA-256 of a job file, and of those of its drawings if
// it has any, in hexadecimal.
func revision(data []byte, j *job.Job) string {
	if j != nil {
		for _, d := range j.Drawings {
			data = append(data[:len(data):len(data)], d.SHA256...)
		}
	}
	sum := sha256.Sum256(data)
	return fmt.Sprintf("%x", sum[:revisionBytes])
}

type marksIn struct {
	Set    made[template.Set]
	Params marks.Params
}

func makeMarks(in marksIn) (template.Set, diag.Findings) {
	return marks.On(in.Set.Value, in.Params)
}

// mark puts the marks on the panels, and reports those without room.
func (w *writer) mark() {
	w.marked = ask(w.a.Graph, "marks", marksIn{w.a.set, MarksParams(w.Job, w.Revision)}, makeMarks)
	w.Set = w.marked.Value
	w.Findings.Add(w.marked.Found...)
}

type partsIn struct {
	Set      made[template.Set]
	Template work.Template
	Size     groove.Size
	Kerf     float64
}

func makeParts(in partsIn) ([]sheet.Part, diag.Findings) {
	return in.Set.Value.Parts(in.Template, in.Size, in.Kerf), nil
}

// parts are the parts of panels and frame, cut with some kerf.
func (w *writer) parts(kerf float64) []sheet.Part {
	return ask(w.a.Graph, "parts", partsIn{w.marked, w.Job.Template, w.Groove.Size, kerf}, makeParts).Value
}

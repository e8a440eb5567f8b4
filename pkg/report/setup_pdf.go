package report

import (
	"bytes"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/paper"
	"strapwork/pkg/pdf"
)

// SetupPDFPath is the set-up sheet for printing.
const SetupPDFPath = "paper/setup.pdf"

// setupPDF is the set-up sheet as pages, where patterns for printing are
// wanted at all.
func setupPDF(r build.Result, text []byte) (f build.File, ok bool) {
	printed := slices.ContainsFunc(r.Files, func(f build.File) bool { return f.Kind == build.PDF })
	if len(text) == 0 || !printed {
		return f, false
	}
	doc := paper.Prose(r.Job.Title+" - set-up sheet", text, r.Pictures, r.PaperOptions())
	var b bytes.Buffer
	if err := pdf.Write(&b, doc); err != nil {
		return f, false // the same text stands in setup.md; the patterns' pages were written
	}
	return build.File{Path: SetupPDFPath, Kind: build.PDF, Role: setupRole, Data: b.Bytes()}, true
}

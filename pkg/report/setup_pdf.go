package report

import (
	"bytes"
	"slices"

	"strapwork/pkg/paper"
	"strapwork/pkg/pdf"
	"strapwork/pkg/shop"
)

// SetupPDFPath is the set-up sheet for printing.
const SetupPDFPath = "paper/setup.pdf"

// setupPDF is the set-up sheet as pages, where patterns for printing are
// wanted at all.
func setupPDF(r shop.Result, text []byte) (f shop.File, ok bool) {
	printed := slices.ContainsFunc(r.Files, func(f shop.File) bool { return f.Kind == shop.PDF })
	if len(text) == 0 || !printed {
		return f, false
	}
	doc := paper.Prose(r.Job.Title+" - set-up sheet", text, r.Pictures, r.PaperOptions())
	var b bytes.Buffer
	if err := pdf.Write(&b, doc); err != nil {
		return f, false // the same text stands in setup.md; the patterns' pages were written
	}
	return shop.File{Path: SetupPDFPath, Kind: shop.PDF, Role: setupRole, Data: b.Bytes()}, true
}

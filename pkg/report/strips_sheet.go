package report

import (
	"bytes"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/fullsize"
	"strapwork/pkg/paper"
	"strapwork/pkg/pdf"
)

// stripFiles are the sheet of the strips, and the same for printing with every kind of piece
// at full size.
func (f *facts) stripFiles(r build.Result) (list []build.File, err error) {
	text, err := f.sheet(r, StripsPath)
	if err != nil {
		return nil, err
	}
	list = append(list, build.File{Path: StripsPath, Kind: build.Markdown, Role: stripsRole, Data: text})
	if len(r.Figures) == 0 {
		return list, nil
	}
	page, err := stripSheet(r, text)
	if err != nil {
		return nil, err
	}
	return append(list, page), nil
}

// stripSheet is the strips' sheet for printing.
func stripSheet(r build.Result, text []byte) (build.File, error) {
	u := r.Job.Units
	o := r.PaperOptions()
	bars := fullsize.Bars(r.Figures, r.List, paper.BarRoom(o), u)
	pictures := slices.DeleteFunc(slices.Clone(r.Pictures), func(p paper.Illustration) bool { return p.Path != build.PiecesPath })
	book := paper.StripSheet("strips", text, pictures, bars, fullsize.Said(r.Figures, r.List, u), o)
	var b bytes.Buffer
	if err := pdf.Write(&b, book.Document); err != nil {
		return build.File{}, err
	}
	return build.File{Path: build.StripSheetPath, Kind: build.PDF, Role: build.StripSheetRole, Pages: book.Pages, Data: b.Bytes()}, nil
}

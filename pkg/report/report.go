// Package report writes what strapwork reports of a job: manifest.json for other
// programs, setup.md for the bench, machine.md for the machine, and the answers of a check and of a dry run.
//
// It works nothing out that a stage knows already. The stages' results are gathered
// once, as facts, and then printed: as JSON, or through the templates in the folder
// of that name, which hold the English. The same result gives the same bytes.
package report

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/fit"
	"strapwork/pkg/paper"
	"strapwork/pkg/pdf"
	"strapwork/pkg/plan"
	"strapwork/pkg/received"
)

// The names and roles of the files that are made here.
const (
	ManifestPath = "manifest.json"
	SetupPath    = "setup.md"
	MachinePath  = "machine.md"      // the machine's part, where a program was written
	StripsPath   = "strips.md"       // how the strips are cut, bent and laid
	SetupPDFPath = "paper/setup.pdf" // the set-up sheet for printing
	CardPath     = "received.toml"
	MeasuredPath = "measured.toml" // the card for strips and test grooves
	manifestRole = "manifest"
	setupRole    = "setup"
	machineRole  = "machine"
	stripsRole   = "cutting-list"
	cardRole     = "card"
)

// Files returns the bench sheet, the machine's where there is a program, the cards to fill
// in, and the manifest of a built job, the manifest last, since it lists
// all others. It is an error to ask for those of a job that was not proved, or when
// a number of the manifest isn't finite.
func Files(r build.Result) ([]build.File, error) {
	_, own, err := gather(r)
	return own, err
}

// gather makes the facts of a built job, and the files that are printed from them.
func gather(r build.Result) (*facts, []build.File, error) {
	if r.Reached < build.Proved || r.Job == nil {
		return nil, nil, fmt.Errorf("report: there is nothing to report of a job that was only %s", r.Reached)
	}
	before := len(r.Files)
	r.Files = slices.Clip(r.Files)
	for _, blank := range []func(build.Result) (build.File, bool){cardFile, measuredFile} {
		if card, ok := blank(r); ok {
			r.Files = append(r.Files, card)
		}
	}
	f := newFacts(r)
	text, err := f.sheet(r, SetupPath)
	if err != nil {
		return nil, nil, err
	}
	if f.MachineSheet {
		own, err := f.sheet(r, MachinePath)
		if err != nil {
			return nil, nil, err
		}
		r.Files = append(r.Files, build.File{Path: MachinePath, Kind: build.Markdown, Role: machineRole, Data: own})
	}
	if hasStrips(r) {
		own, err := f.stripFiles(r)
		if err != nil {
			return nil, nil, err
		}
		r.Files = append(r.Files, own...)
	}
	var stations []byte
	if hasStations(r) {
		if stations, err = f.sheet(r, StationsPath); err != nil {
			return nil, nil, err
		}
		r.Files = append(r.Files, build.File{Path: StationsPath, Kind: build.Markdown, Role: stationsRole, Data: stations})
	}
	card, err := f.benchCard(r)
	if err != nil {
		return nil, nil, err
	}
	if page, ok := setupPDF(r, card, text, stations); ok {
		r.Files = append(r.Files, page)
	}
	r.Files = append(r.Files, build.File{Path: SetupPath, Kind: build.Markdown, Role: setupRole, Data: text})
	f.Files = newFiles(r.Files)
	data, err := encode(f.manifest)
	if err != nil {
		return nil, nil, err
	}
	return f, append(r.Files[before:], build.File{Path: ManifestPath, Kind: build.JSON, Role: manifestRole, Data: data}), nil
}

// hasStrips reports whether the strips have a sheet of their own.
func hasStrips(r build.Result) bool {
	return len(r.List.Pieces) > 0 && hasFile(r, build.StripsPath)
}

// cardFile is the empty card to copy; a job without tracks has none.
func cardFile(r build.Result) (build.File, bool) {
	tracks := received.Openings(r.Set, r.Groove.Size)
	if len(tracks) == 0 || r.Job == nil {
		return build.File{}, false
	}
	return build.File{Path: CardPath, Kind: build.TOML, Role: cardRole, Data: received.Blank(r.Job.Units, r.Job.Router, jobName(r.File), tracks, received.RailOf(r.Set))}, true
}

// measuredFile is the empty card for strips and test grooves. One whose program alone was
// asked for has none, since the whole job may have tracks.
func measuredFile(r build.Result) (build.File, bool) {
	if r.Job == nil || r.Alone {
		return build.File{}, false
	}
	ways := fit.Ways(r.Set, r.Groove.Size, r.Motif)
	return build.File{Path: MeasuredPath, Kind: build.TOML, Role: cardRole, Data: fit.Blank(r.Job.Units, r.Job.Inlay, jobName(r.File), ways)}, true
}

// setupPDF is the cutting card and the bench sheet as pages, where patterns for
// printing are wanted at all, with the stations' after it. The set-ups' pictures are on the card.
func setupPDF(r build.Result, card paper.Card, texts ...[]byte) (f build.File, ok bool) {
	if !slices.ContainsFunc(r.Files, func(f build.File) bool { return f.Kind == build.PDF }) {
		return f, false
	}
	doc := setUpPages(r, card, texts...)
	var b bytes.Buffer
	if err := pdf.Write(&b, doc); err != nil {
		return f, false // the same text stands in setup.md; the patterns' pages were written
	}
	return build.File{Path: SetupPDFPath, Kind: build.PDF, Role: setupRole, Data: b.Bytes()}, true
}

// setUpPages are those pages.
func setUpPages(r build.Result, card paper.Card, texts ...[]byte) paper.Document {
	pictures := slices.DeleteFunc(slices.Clone(r.Pictures), func(p paper.Illustration) bool {
		return p.Path == build.PiecesPath || slices.ContainsFunc(r.Set.Plan.SetUps, func(s plan.SetUp) bool { return p.Path == build.SetUpPath(s.Number) })
	})
	return paper.SetUpSheet(r.Job.Title+" - set-up sheet", card, pictures, r.PaperOptions(), texts...)
}

// jobName is the job file's own name, without the folders that it lies in on
// somebody's machine.
func jobName(path string) string { return baseName(path) }

func baseName(path string) string {
	if path == "" {
		return ""
	}
	return filepath.Base(strings.ReplaceAll(path, `\`, "/"))
}

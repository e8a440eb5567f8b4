// Package report writes what strapwork tells of a job: manifest.json for other
// programs, setup.md for the bench, and the answer of a check as JSON.
//
// It works nothing out that a stage knows already; it puts the stages' results
// in order and into words. The same result gives the same bytes.
package report

import (
	"path/filepath"
	"slices"
	"strings"

	"strapwork/pkg/build"
)

// The names and roles of the files that are made here.
const (
	ManifestPath = "manifest.json"
	SetupPath    = "setup.md"
	CardPath     = "received.toml"

	manifestRole = "manifest"
	setupRole    = "setup"
	cardRole     = "card"
)

// Files returns the set-up sheet, the receiving card where the job has tracks to
// measure, and the manifest of a built job, the manifest last, since it lists
// all others. The error is the manifest's.
func Files(r build.Result) ([]build.File, error) {
	before := len(r.Files)
	r.Files = withOwn(r)
	own := r.Files[before:]
	data, err := Manifest(r)
	if err != nil {
		return nil, err
	}
	return append(own, build.File{Path: ManifestPath, Kind: build.JSON, Role: manifestRole, Data: data}), nil
}

// withOwn returns all files of a built job but the manifest: those that are
// there, and then the card and the set-up sheet, unless they are among them.
func withOwn(r build.Result) []build.File {
	if card, ok := cardFile(r); ok {
		r.Files = withFile(r.Files, card)
	}
	if slices.ContainsFunc(r.Files, func(f build.File) bool { return f.Path == SetupPath }) {
		return r.Files
	}
	text := Setup(r)
	if page, ok := setupPDF(r, text); ok {
		r.Files = withFile(r.Files, page)
	}
	return withFile(r.Files, build.File{Path: SetupPath, Kind: build.Markdown, Role: setupRole, Data: text})
}

// withFile returns the files with f among them, unless one of its path is
// there already. The list itself is left alone.
func withFile(files []build.File, f build.File) []build.File {
	list := make([]build.File, 0, len(files)+1)
	for _, g := range files {
		if g.Path == f.Path {
			return files
		}
		list = append(list, g)
	}
	return append(list, f)
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

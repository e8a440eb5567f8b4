package report

// The outputs, and which of them are a part's.

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"maps"
	"path"
	"slices"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/sheet"
)

// newFiles lists all outputs but the manifest, which can't hold its own sum.
func newFiles(files []build.File) []fileJSON {
	list := make([]fileJSON, 0, len(files))
	for _, f := range files {
		sum := sha256.Sum256(f.Data)
		list = append(list, fileJSON{f.Path, f.Kind.String(), f.Role, f.Panel, f.Pages, len(f.Data), hex.EncodeToString(sum[:])})
	}
	slices.SortFunc(list, func(a, b fileJSON) int { return cmp.Compare(a.Path, b.Path) })
	return list
}

// addFiles adds the files of a part under what and kind: "wall_dxf", or "dxf"
// for an empty what.
func addFiles(to map[string]string, r build.Result, p sheet.Part, what string) {
	for _, kind := range []build.Kind{build.DXF, build.SVG} {
		key := kind.String()
		if what != "" {
			key = what + "_" + key
		}
		if file, ok := partFile(r, p, kind); ok {
			to[key] = file
		}
	}
}

// partFile is the path of a part's drawing, in whichever folder it lies.
func partFile(r build.Result, p sheet.Part, kind build.Kind) (string, bool) {
	i := slices.IndexFunc(r.Files, func(f build.File) bool {
		return f.Kind == kind && path.Base(f.Path) == p.Sheet.Name+"."+kind.String()
	})
	if i < 0 {
		return "", false
	}
	return r.Files[i].Path, true
}

// partFiles are a panel's files by layer and kind: "wall_dxf", and for one in parts
// "wall_1_dxf", "wall_2_dxf", .... What else belongs to the panel goes by
// its role and kind.
func partFiles(r build.Result, panel string) map[string]string {
	files := map[string]string{}
	for _, p := range r.Parts {
		if p.Panel == panel {
			what := strings.ReplaceAll(strings.TrimPrefix(p.Sheet.Name, panel+"-"), "-", "_")
			addFiles(files, r, p, what)
			if f := slices.IndexFunc(r.Files, func(f build.File) bool { return f.Pages[p.Sheet.Name] != nil }); f >= 0 {
				files[what+"_"+build.PDF.String()] = r.Files[f].Path // which has its pages
			}
		}
	}
	listed := slices.Collect(maps.Values(files))
	for _, f := range r.Files {
		if f.Panel == panel && !slices.Contains(listed, f.Path) {
			stem, _, _ := strings.Cut(path.Base(f.Path), ".")
			part, _ := strings.CutPrefix(stem, panel+"-"+f.Role) // "-1" of "A-wall-1"
			if part == stem {
				part = ""
			}
			files[f.Role+strings.ReplaceAll(part, "-", "_")+"_"+f.Kind.String()] = f.Path
		}
	}
	return files
}

// hasFile reports whether a file is among a job's.
func hasFile(r build.Result, path string) bool {
	return slices.ContainsFunc(r.Files, func(f build.File) bool { return f.Path == path })
}

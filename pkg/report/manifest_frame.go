package report

import (
	"maps"
	"path"
	"slices"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/fixture"
	"strapwork/pkg/sheet"
)

// frameJSON is the locating frame. Its sides are given by their directions from
// the middle.
type frameJSON struct {
	Files     map[string]string `json:"files"` // by kind: "dxf"; of a frame in bars by bar and kind: "1_dxf"
	Width     num               `json:"width"` // of its sides
	Gap       num               `json:"gap"`   // to the panel, at the sides where wedges go
	Bars      int               `json:"bars"`  // 1: it is cut in one
	Reference []string          `json:"reference"`
	Wedged    []string          `json:"wedged"`
	Wedges    []wedgesJSON      `json:"wedges"` // pairs of wedges
	Key       *keyJSON          `json:"key,omitempty"`
	Screws    []xy              `json:"screws"`
	ScrewsIn  []string          `json:"screws_in"` // what each meets: "board", "packing", or "unknown" without a board
	Axes      []xy              `json:"axes"`      // tips of the notches on the work's axes
	Lies      string            `json:"lies"`      // "on" the board, "over" its edges, "round" it, or "unknown" without a board
	Overhang  overhangJSON      `json:"overhang"`
}

// wedgesJSON is a pair of wedges: its middle, and the side that it goes to.
type wedgesJSON struct {
	At   xy     `json:"at"`
	Side string `json:"side"`
}

// keyJSON is the key that forbids wrong positions.
type keyJSON struct {
	At    xy  `json:"at"`
	Size  num `json:"size"`  // its diameter
	Notch num `json:"notch"` // diameter of the notches in panels
}

// overhangJSON is by how much the frame reaches beyond the board.
type overhangJSON struct {
	Left  num `json:"left"`
	Right num `json:"right"`
	Below num `json:"below"`
	Above num `json:"above"`
}

// newFrame is nil for a job without a frame.
func newFrame(r build.Result) *frameJSON {
	f := r.Set.Frame
	if f == nil {
		return nil
	}
	out := &frameJSON{
		Files: map[string]string{}, Width: num(f.Width), Gap: num(f.Gap), Bars: len(f.Bars), Screws: []xy{}, ScrewsIn: []string{}, Axes: []xy{}, Lies: f.Support.String(),
		Overhang: overhangJSON{num(f.Overhang.Left), num(f.Overhang.Right), num(f.Overhang.Below), num(f.Overhang.Above)},
	}
	for _, p := range r.Parts {
		if p.Ply == sheet.Frame {
			addFiles(out.Files, r, p, strings.TrimPrefix(strings.TrimPrefix(p.Sheet.Name, fixture.FrameName), "-"))
		}
	}
	for _, i := range f.Reference {
		out.Reference = append(out.Reference, sideWord(f.Inside.Sides[i].Out))
	}
	for _, i := range f.Wedged {
		out.Wedged = append(out.Wedged, sideWord(f.Inside.Sides[i].Out))
	}
	if f.Key.Radius > 0 {
		out.Key = &keyJSON{toXY(f.Key.At), num(2 * f.Key.Radius), num(2 * f.Key.Notch)}
	}
	for _, w := range f.Wedges {
		out.Wedges = append(out.Wedges, wedgesJSON{toXY(w.At), sideWord(f.Inside.Sides[w.Side].Out)})
	}
	for _, s := range f.Screws {
		out.Screws, out.ScrewsIn = append(out.Screws, toXY(s.At)), append(out.ScrewsIn, screwIn(r, s))
	}
	for _, p := range f.Axes {
		out.Axes = append(out.Axes, toXY(p))
	}
	return out
}

// screwIn is what a screw meets.
func screwIn(r build.Result, s fixture.Screw) string {
	switch {
	case r.Job.Board == nil:
		return "unknown"
	case s.OnBoard:
		return "board"
	}
	return "packing"
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

// partFiles are a panel's files by layer and kind: "wall_dxf", and for one in two
// parts "wall_1_dxf" and "wall_2_dxf". What else belongs to the panel goes by
// its role and kind.
func partFiles(r build.Result, panel string) map[string]string {
	files := map[string]string{}
	for _, p := range r.Parts {
		if p.Panel == panel {
			addFiles(files, r, p, strings.ReplaceAll(strings.TrimPrefix(p.Sheet.Name, panel+"-"), "-", "_"))
		}
	}
	listed := slices.Collect(maps.Values(files))
	for _, f := range r.Files {
		if f.Panel == panel && !slices.Contains(listed, f.Path) {
			files[f.Role+"_"+f.Kind.String()] = f.Path
		}
	}
	return files
}

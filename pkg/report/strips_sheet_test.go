package report

import (
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
)

var (
	outlineTrace = regexp.MustCompile(`<(stroke_path|moveto|lineto|curveto|closepath)([^>]*)>`)
	outlineAttr  = regexp.MustCompile(`(x3?|y3?|transform)="([^"]*)"`)
)

// outlinesOn are the boxes of all closed lines of 0.13 mm that MuPDF finds drawn in a file, in mm.
func outlinesOn(t *testing.T, path string) (boxes []geom.Point) {
	t.Helper()
	out, err := witness.Run(witness.Program(t, "mutool", "mupdf-tools"), "trace", path)
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 { v, _ := strconv.ParseFloat(s, 64); return v }
	var m [6]float64
	box := geom.EmptyBox()
	for _, e := range outlineTrace.FindAllStringSubmatch(string(out), -1) {
		at := map[string]string{}
		for _, a := range outlineAttr.FindAllStringSubmatch(e[2], -1) {
			at[strings.TrimSuffix(a[1], "3")] = a[2]
		}
		switch e[1] {
		case "stroke_path":
			for i, s := range strings.Fields(at["transform"]) {
				m[i] = number(s)
			}
		case "moveto":
			box = geom.EmptyBox()
			fallthrough
		case "lineto", "curveto":
			x, y := number(at["x"]), number(at["y"])
			box = box.Include(geom.Pt(m[0]*x+m[2]*y+m[4], m[1]*x+m[3]*y+m[5]).Scale(pointMM))
		case "closepath":
			boxes = append(boxes, box.Size())
		}
	}
	return boxes
}

// On the strips' sheet as MuPDF sees it every straight piece that is no longer than a page has an
// outline as long as from long point to long point and as wide as its thickness, to a hundredth of a
// millimetre and what an end that is cut straight would gap by, and every piece is on the page that the manifest says.
func TestStripSheetIsTrue(t *testing.T) {
	text, err := os.ReadFile("../../testdata/jobs/box-lid.toml")
	if err != nil {
		t.Fatal(err)
	}
	r := whole(t, string(text))
	i := slices.IndexFunc(r.own, func(f build.File) bool { return f.Path == build.StripSheetPath })
	if i < 0 {
		t.Fatal("there is no strips' sheet")
	}
	sheet := r.own[i]
	path := t.TempDir() + "/strips.pdf"
	if err := os.WriteFile(path, sheet.Data, 0o600); err != nil {
		t.Fatal(err)
	}
	boxes := outlinesOn(t, path)
	measured := 0
	const truth = 0.01 // mm: what MuPDF prints of a place
	for _, k := range r.List.Kinds() {
		if k.Bend > 0 {
			continue
		}
		measured++
		tolerance := truth + k.Ends[0].Gap + k.Ends[1].Gap
		if !slices.ContainsFunc(boxes, func(b geom.Point) bool {
			return math.Abs(b.X-k.Long()) < tolerance && math.Abs(b.Y-k.Thickness) < truth
		}) {
			t.Errorf("no outline is %g x %g mm, as pieces %v are", k.Long(), k.Thickness, k.Numbers)
		}
	}
	if measured < 10 || len(sheet.Pages) != len(r.List.Kinds()) || sheet.Role != build.StripSheetRole {
		t.Errorf("%d kinds measured, pages %v, role %s", measured, sheet.Pages, sheet.Role)
	}
}

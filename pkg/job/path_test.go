package job_test

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
)

// pathJob is a job of one path, with names to use in it.
func pathJob(path string) string {
	return "title = \"t\"\nunits = \"mm\"\n[let]\npitch = 12\nreach = 40\n[motif]\n[[motif.path]]\n" + path +
		"\n[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n"
}

// Names, units and sums stand in braces; a module multiplies what stands bare, and that
// alone (by hand).
func TestPathNames(t *testing.T) {
	for path, want := range map[string]geom.Contour{
		`d = "M 0 0 L {reach} 0 A {pitch} {pitch} 0 0 1 {reach + pitch} {pitch}"`: geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(40, 0)),
			geom.ArcThrough(geom.Pt(40, 0), geom.Pt(52, 12), geom.Pt(40, 12), true)),
		`d = "M{1 in}{-reach/2}h{1/2 in}"`: geom.Chain(false, geom.Line(geom.Pt(25.4, -20), geom.Pt(38.1, -20))),
		"d = \"M 0 0 L 4 0 A 1 1 0 0 1 5 1\"\nscale = \"pitch\"": geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(48, 0)),
			geom.ArcThrough(geom.Pt(48, 0), geom.Pt(60, 12), geom.Pt(48, 12), true)),
		"d = \"M 0 0 L 4 0 v {reach}\"\nscale = \"pitch / 2\"": geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(24, 0)), geom.Line(geom.Pt(24, 0), geom.Pt(24, 40))),
		"d = \"M 0 0 L 4 0\"\nscale = \"1 in\"":                geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(101.6, 0))),
	} {
		got := read(t, pathJob(path)).Motif.Elements[0].Contour
		if len(got.Vertices) != len(want.Vertices) {
			t.Errorf("%s: %v, want %v", path, got, want)
			continue
		}
		for i, v := range got.Vertices {
			if !v.Near(want.Vertices[i].Point, 1e-12) || math.Abs(v.Bulge-want.Vertices[i].Bulge) > 1e-12 {
				t.Errorf("%s: vertex %d is %v, want %v", path, i, v, want.Vertices[i])
			}
		}
	}
}

// What is wrong in a path is said at its place within the text, in the text's numbers.
func TestPathMistakes(t *testing.T) {
	for path, want := range map[string]string{
		`d = "M 0 0 L {rech} 0"`:                                     `8:15: error: d: "rech" is not defined|did you mean reach?`,
		`d = "M 0 0 L {reach + } 0"`:                                 `8:23: error: d: expression ends too early`,
		`d = "M 0 0 L {reach 0"`:                                     `8:14: error: d: a brace that isn't closed|write } after it`,
		`d = "M 0 0 L reach 0"`:                                      `8:14: error: d: a number is missing here, after L|stand in braces: {reach`,
		`d = "M 0 0 L 4mm 0"`:                                        "8:",
		`d = "M 0 0 C 1 1 2 2 3 3"`:                                  `8:12: error: d: C is a Bezier curve|[[motif.drawing]]`,
		"d = \"M 0 0 A 1 1 0 0 1 4 0\"\nscale = \"pitch\"":           `8:14: error: d: an arc of radius 1 cannot join points 4 apart|at least half the distance, 2`,
		"d = \"M 0 0 L 4 0\"\nscale = 0":                             `9:9: error: scale must be more than 0`,
		"d = \"M 0 0 L 4 0\"\nscale = \"9000 in\"":                   `9:9: error: scale of`,
		"d = '''\nM 0 0\nL {reach} {reach +\n'''\nscale = \"pitch\"": `10:11: error: d: a brace`,
		"d = \"M 0 0 L 4 0\"\nscale = 99999":                         `8:5: error: the drawing goes beyond 100 m`,
		`d = "M 0 0 L {0 - 1e300} 0"`:                                `8:`,
	} {
		_, found := job.Read("job.toml", []byte(pathJob(path)))
		text := ""
		for _, f := range found {
			text += f.Error() + "\nhint: " + f.Hint + "\n"
		}
		where, hint, _ := strings.Cut(want, "|")
		if len(found) != 1 || !strings.Contains(text, where) || !strings.Contains(text, hint) {
			t.Errorf("%s:\n%s\nwant %s, once", path, text, want)
		}
	}
}

// A radius that is too small by a hair is scaled up in a module too, to the same 0.05 mm.
func TestPathScaledInModule(t *testing.T) {
	for d, sound := range map[string]bool{"M 0 0 A 1.996 1.996 0 0 1 4 0": true, "M 0 0 A 1.995 1.995 0 0 1 4 0": false} {
		j, _ := job.Read("job.toml", []byte(pathJob("d = \""+d+"\"\nscale = \"pitch\"")))
		if (j != nil) != sound {
			t.Errorf("%s: read: %v, want %v", d, j != nil, sound)
		}
		if j != nil && !strings.Contains(j.Notes.Error(), "the radius 1.996 is too small for the arc's ends: taken as 2") {
			t.Errorf("%s: notes: %v", d, j.Notes)
		}
	}
}

package job_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
)

// meetJob is a job of a bar, a rail, a ring and a box, and a line from the origin to a
// point E, which uses them.
func meetJob(e, more string) string {
	return "title = \"t\"\nunits = \"mm\"\n[points]\nE = " + e + `
[motif]
[[motif.line]]
name = "bar"
from = [-50, 0]
to = [50, 0]
[[motif.line]]
name = "rail"
from = [-10, -40]
to = [20, 20]
[[motif.circle]]
name = "ring"
center = [0, 0]
radius = 25
[[motif.line]]
name = "far"
from = [-50, 60]
to = [50, 60]
[[motif.line]]
name = "on top"
from = [20, 0]
to = [90, 0]
[[motif.line]]
name = "touching"
points = [[-50, 25], [50, 25]]
[[motif.line]]
name = "nearly"
points = [[-50, -24.97], [50, -24.98]]
[[motif.line]]
name = "to E"
from = [-500, -400]
to = "E"
` + more + "\n[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n"
}

// element is a job's element by name.
func element(t *testing.T, j *job.Job, name string) geom.Contour {
	t.Helper()
	for _, e := range j.Motif.Elements {
		if e.Name == name {
			return e.Contour
		}
	}
	t.Fatalf("there is no element %q", name)
	return geom.Contour{}
}

// Where two elements meet, also by way of points that use elements that use
// points (by hand). What touches but for a hair touches once.
func TestMeet(t *testing.T) {
	for e, want := range map[string]geom.Point{
		`{ meet = ["bar", "rail"] }`:                                           geom.Pt(10, 0),
		`{ meet = ["rail", "bar"] }`:                                           geom.Pt(10, 0),
		`{ meet = ["bar", "ring"], near = [10, 30] }`:                          geom.Pt(25, 0),
		`{ meet = ["ring", "bar"], near = { r = 50, a = 190 } }`:               geom.Pt(-25, 0),
		`{ meet = ["ring", "touching"] }`:                                      geom.Pt(0, 25),
		`{ from = { meet = ["ring", "touching"] }, r = 5, a = 90 }`:            geom.Pt(0, 30),
		`{ between = [{ meet = ["bar", "rail"] }, [0, 0]] }`:                   geom.Pt(5, 0),
		`{ meet = ["bar", "rail"], near = { meet = ["ring", "touching"] } }`:   geom.Pt(10, 0),
		`{ meet = ["spoke", "far"] }` + "\nF = { meet = [\"bar\", \"rail\"] }": geom.Pt(10, 60),
	} {
		more := ""
		if strings.Contains(e, "spoke") {
			more = "[[motif.line]]\nname = \"spoke\"\nfrom = \"F\"\nto = [10, 90]\n"
		}
		if got := element(t, read(t, meetJob(e, more)), "to E").End(); !got.Near(want, 1e-9) {
			t.Errorf("%s is %v, want %v", e, got, want)
		}
	}
	// The line runs 24.975 mm below: in the ring by 0.025 mm, and so for 2.2 mm.
	if got := element(t, read(t, meetJob(`{ meet = ["ring", "nearly"] }`, "")), "to E").End(); !got.Near(geom.Pt(0, -25), 0.05) {
		t.Errorf("the nearly touching line touches at %v", got)
	}
}

// A line and a circle meet where both have the place, to the last digits (both
// equations put to the proof).
func TestMeetsLieOnBoth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, r := rapid.Float64Range(-20, 20).Draw(t, "x"), rapid.Float64Range(21, 60).Draw(t, "r")
		a := rapid.Float64Range(0, 360).Draw(t, "a")
		text := fmt.Sprintf("units = \"mm\"\n[points]\nE = { meet = [\"spoke\", \"ring\"] }\n[motif]\n[[motif.circle]]\nname = \"ring\"\ncenter = [%g, 0]\nradius = %g\n"+
			"[[motif.line]]\nname = \"spoke\"\nfrom = [%g, 0]\nto = { from = [%g, 0], r = 100, a = %g }\n[[motif.line]]\nname = \"to E\"\nfrom = [-300, 300]\nto = \"E\"\n"+
			"[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n", x, r, x/2, x/2, a)
		j, found := job.Read("job.toml", []byte(text))
		if j == nil {
			t.Fatalf("%s\n%v", text, found)
		}
		at := j.Motif.Elements[2].Contour.End()
		way := geom.Polar(1, a*math.Pi/180)
		if d := at.Dist(geom.Pt(x, 0)) - r; math.Abs(d) > 1e-9 {
			t.Fatalf("%v is %g off the ring", at, d)
		}
		if d := at.Sub(geom.Pt(x/2, 0)).Cross(way); math.Abs(d) > 2e-9 {
			t.Fatalf("%v is %g off the spoke", at, d)
		}
	})
}

// Neighbours among n rings round a ring meet half-way between them, at R cos(pi/n) give or
// take sqrt(r^2 - R^2 sin^2(pi/n)) from the middle (closed form); one ring is drawn.
func TestMeetsCopy(t *testing.T) {
	for n := 4; n <= 9; n++ {
		half := math.Pi / float64(n)
		for _, near := range []string{"[0, 0]", "{ r = 200, a = 20 }"} {
			text := fmt.Sprintf("units = \"mm\"\n[points]\nE = { meet = [\"ring\", \"ring.2\"], near = %s }\n[motif]\ncopies = %d\n[[motif.circle]]\nname = \"ring\"\ncenter = [60, 0]\nradius = 50\n"+
				"[[motif.line]]\nname = \"to E\"\nfrom = [-300, 300]\nto = \"E\"\n[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n", near, n)
			off := math.Sqrt(50*50 - math.Pow(60*math.Sin(half), 2))
			if near == "[0, 0]" {
				off = -off
			}
			want := geom.Polar(60*math.Cos(half)+off, half)
			if got := read(t, text).Motif.Elements[1].Contour.End(); !got.Near(want, 1e-9) {
				t.Errorf("%d rings meet near %s at %v, want %v", n, near, got, want)
			}
		}
	}
}

// What doesn't meet, or more than once, is said once, with where it does.
func TestMeetMistakes(t *testing.T) {
	for e, want := range map[string]string{
		`{ meet = ["bar", "ring"] }`:                          "4:14: error: meet: bar and ring meet at 2 places: (-25, 0) mm, (25, 0) mm|near = [-25, 0]",
		`{ meet = ["bar", "ring"], near = [0, 7] }`:           "near is as near to (-25, 0) mm as to (25, 0) mm|write one of them",
		`{ meet = ["bar", "far"] }`:                           "bar and far don't meet: bar is at closest 60 mm away, at (|make them reach",
		`{ meet = ["ring", "far"] }`:                          "ring and far don't meet: ring is at closest 35 mm away, at (0, 25) mm|",
		`{ meet = ["bar", "on top"] }`:                        "bar and on top run along one another|",
		`{ meet = ["bar", "bar"] }`:                           "meet names one element twice|name two",
		`{ meet = ["bar", "rial"] }`:                          `4:22: error: meet: there is no element "rial"|did you mean rail?`,
		`{ meet = ["bar"] }`:                                  "meet must have two words, not 1|",
		`{ meet = "bar" }`:                                    "meet must be a list of two words|",
		`{ meet = ["bar", 3] }`:                               "meet takes names of elements, not a whole number|",
		`{ meet = ["bar", "rail"], r = 3 }`:                   "r doesn't go with meet|meet and near",
		`{ near = [0, 0], r = 3, a = 4 }`:                     "near goes with meet|",
		`{ meet = ["bar", "to E"] }`:                          "is defined by itself|E -> to E -> E: give one",
		`{ from = "G", r = 1, a = 0 }`:                        `there is no point "G"|`,
		`{ meet = ["bar", "rail"], near = [0, "2 * hight"] }`: `"hight" is not defined|`,
	} {
		_, found := job.Read("job.toml", []byte(meetJob(e, "")))
		text := ""
		for _, f := range found {
			text += f.Error() + "\nhint: " + f.Hint + "\n"
		}
		where, hint, _ := strings.Cut(want, "|")
		if len(found) != 1 || !strings.Contains(text, where) || !strings.Contains(text, hint) {
			t.Errorf("%s:\n%s\nwant %s, once", e, text, want)
		}
	}
}

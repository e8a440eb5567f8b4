package job_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
)

// withPoints is a job of points and a line to one of them.
func withPoints(points, to string) string {
	return "title = \"t\"\nunits = \"mm\"\n[let]\nreach = 40\n[points]\n" + points +
		"\n[motif]\n[[motif.line]]\nfrom = [-500, 0]\nto = " + to + "\n[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n"
}

// pointsJob is where the line ends.
func pointsJob(t *testing.T, points, to string) geom.Point {
	t.Helper()
	return read(t, withPoints(points, to)).Motif.Elements[0].Contour.End()
}

// Points by name, by distance and direction, from another and between two, wherever a
// point is read (by hand).
func TestPoints(t *testing.T) {
	const points = `D = { between = ["A", "C"], at = 0.25 }
A = [0, "reach"]
B = { r = 80, a = 30 }
C = { from = "A", r = 25, a = -90 }
E = "B"
F = { between = [{ r = 10, a = 0 }, [20, 10]] }
G = { between = ["A", "C"], at = "1 - reach / 50" }`
	for to, want := range map[string]geom.Point{
		`"A"`: geom.Pt(0, 40), `"B"`: geom.Pt(40*math.Sqrt(3), 40), `"C"`: geom.Pt(0, 15), `"D"`: geom.Pt(0, 33.75),
		`"E"`: geom.Pt(40*math.Sqrt(3), 40), `"F"`: geom.Pt(15, 5), `"G"`: geom.Pt(0, 35), `{ from = "F", r = "reach / 2", a = 90 }`: geom.Pt(15, 25),
		`["reach", -3]`: geom.Pt(40, -3),
	} {
		if got := pointsJob(t, points, to); !got.Near(want, 1e-9) {
			t.Errorf("%s is %v, want %v", to, got, want)
		}
	}
	text := strings.Replace(withPoints(points, `"A"`), "[inlay]", `[[motif.circle]]
center = "B"
radius = 5
[[motif.line]]
name = "bent"
points = ["A", "B", { r = 100, a = 60 }]
[[motif.line]]
name = "two"
points = ["A", "C"]
[[motif.arc]]
from = "A"
through = "C"
to = [30, 30]
[weave]
flip = ["A"]
[[stock.clamp]]
from = "A"
to = [10, 80]
height = 10
[inlay]`, 1)
	j := read(t, text)
	names := map[string]geom.Contour{}
	for _, e := range j.Motif.Elements {
		names[e.Name] = e.Contour
	}
	if c := names["circle"]; !c.Bounds().Center().Near(geom.Pt(40*math.Sqrt(3), 40), 1e-9) {
		t.Errorf("the circle lies round %v", c.Bounds().Center())
	}
	if c := names["bent"]; c.Len() != 2 || !c.End().Near(geom.Polar(100, math.Pi/3), 1e-9) {
		t.Errorf("the bent line has %d straights and ends at %v", c.Len(), c.End())
	}
	if c := names["two"]; math.Abs(c.Length()-25) > 1e-9 {
		t.Errorf("the line between two names is %g long", c.Length())
	}
	if c := names["arc"]; !c.Start().Near(geom.Pt(0, 40), 1e-9) {
		t.Errorf("the arc starts at %v", c.Start())
	}
	if len(j.Weave.Flips) != 1 || !j.Weave.Flips[0].At.Near(geom.Pt(0, 40), 1e-9) {
		t.Errorf("flips: %+v", j.Weave.Flips)
	}
}

// Points that can't be are reported once, with what to write.
func TestPointsThatCantBe(t *testing.T) {
	deep := "A0 = [0, 0]\n"
	for i := range 120 {
		deep += fmt.Sprintf("A%d = \"A%d\"\n", 120-i, 119-i)
	}
	for _, test := range []struct{ points, to, want, hint string }{
		{"A = [1, 2]", `"a"`, `there is no point "a"`, "did you mean A?"},
		{"A = [1, 2]", `"elsewhere"`, `there is no point "elsewhere"`, "[points]"},
		{"A = \"B\"\nB = { from = \"A\", r = 3, a = 3 }", `"A"`, "is defined by itself", "A -> B -> A"},
		{"A = { r = 3 }", `"A"`, "a is missing", "a = 30"},
		{"A = { r = 3, a = 2, b = 1 }", `"A"`, `there is no key "b"`, ""},
		{"A = { between = [[0, 0]] }", `"A"`, "between must have two points, not 1", "between"},
		{"A = { between = [[0, 0], [1, 0]], at = \"1 mm\" }", `"A"`, "a share takes no unit", "1/3"},
		{"A = { between = [[0, 0], [1, 0]], at = 1e308 }", `"A"`, "at must be -1000 to 1000", ""},
		{"A = { between = [[0, 0], [1, 0]], r = 3 }", `"A"`, "r doesn't go with between", "between and at"},
		{"A = { r = 3, a = 2, at = 0.5 }", `"A"`, "at goes with between", "between ="},
		{"A = 3", `"A"`, "A must be a point, not a whole number", "[x, y]"},
		{"A = [1, 2, 3]", `"A"`, "A must have two coordinates, not 3", ""},
		{"\"a b\" = [1, 2]", `[0, 0]`, "", "another name"},
		{deep, `"A120"`, "nested more than 100 deep", ""},
	} {
		_, found := job.Read("job.toml", []byte(withPoints(test.points, test.to)))
		text := ""
		for _, f := range found {
			text += f.Error() + "\nhint: " + f.Hint + "\n"
		}
		if len(found) != 1 || !strings.Contains(text, test.want) || !strings.Contains(text, test.hint) {
			t.Errorf("%.60s: %s:\n%s\nwant %s (%s), once", test.points, test.to, text, test.want, test.hint)
		}
	}
}

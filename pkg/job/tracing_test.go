package job_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// withDrawing is a job whose motif is a drawing.
func withDrawing(u unit.System, keys string) string {
	return "units = \"" + u.String() + "\"\n[motif]\ncopies = 2\n[[motif.drawing]]\nfile = \"a.svg\"\n" + keys +
		"\n[inlay]\ndepth = \"2 mm\"\nwidth = \"4 mm\"\n[router]\nguide = \"none\"\nbit = \"3 mm\"\n"
}

// tracingOf is what a job asks of a drawing of which nothing is said.
func tracingOf(t *testing.T, u unit.System) (asked work.Tracing) {
	t.Helper()
	job.ReadWith("job.toml", []byte(withDrawing(u, "")), func(path string, p work.Tracing) (job.Traced, diag.Findings, error) {
		asked = p
		return job.Traced{}, nil, nil
	})
	return asked
}

// TestDrawingIsAsked: every key reaches the tracing, in mm and radians, in both spellings.
func TestDrawingIsAsked(t *testing.T) {
	var asked work.Tracing
	_, found := job.ReadWith("job.toml", []byte(withDrawing(unit.Inch, `name = "knot"
width = 12
layer = "BAND"
colour = "#f00"
tolerance = 0.002
centre = [1, 2]
turn = 180
edges = true
kinks = "smooth"
round = 0.5
snap = false
weave = "alternate"`)), func(path string, p work.Tracing) (job.Traced, diag.Findings, error) {
		asked = p
		return job.Traced{}, nil, nil
	})
	want := work.Tracing{
		Size: work.TraceSize{Width: 304.8, Center: geom.Pt(25.4, 50.8), Turn: 3.141592653589793}, Layer: "BAND", Color: "#f00",
		Tolerance: 0.0508, Edges: true, Kinks: true, Round: 12.7, Inches: true, Words: work.TraceWords{Key: "motif.drawing.1", File: "a.svg", Name: "knot"},
	}
	if diff := cmp.Diff(want, asked, cmp.Comparer(func(a, b float64) bool { return a-b < 1e-12 && b-a < 1e-12 })); diff != "" {
		t.Errorf("%s%v", diff, found)
	}
}

// TestDrawingIsTaken: its lines are elements named after it, what it shows of over and
// under is copied with them, and the file's hash is kept.
func TestDrawingIsTaken(t *testing.T) {
	made := job.Traced{
		Contours: []geom.Contour{geom.Circle(geom.Pt(5, 0), 20), geom.Circle(geom.Pt(50, 0), 10)},
		Over:     []work.Over{{At: geom.Pt(1, 2), Along: geom.Pt(0, 1), Key: "motif.drawing.1"}}, SHA256: "abc",
	}
	j, found := job.ReadWith("job.toml", []byte(withDrawing(unit.MM, "width = 100")), func(path string, p work.Tracing) (job.Traced, diag.Findings, error) {
		return made, nil, nil
	})
	if j == nil {
		t.Fatal(found)
	}
	var names []string
	for _, e := range j.Motif.Elements {
		names = append(names, e.Name+" "+e.Kind.String()+" "+string(e.Key))
	}
	if want := []string{"drawing drawing motif.drawing.1", "drawing-2 drawing motif.drawing.1"}; !slices.Equal(names, want) {
		t.Errorf("elements %v, want %v", names, want)
	}
	over := j.Weave.Drawn
	if len(over) != 2 || !over[1].At.Near(geom.Pt(-1, -2), 1e-12) || !over[1].Along.Near(geom.Pt(0, -1), 1e-12) {
		t.Errorf("over and under at two copies: %v", over)
	}
	if want := []job.Source{{File: "a.svg", SHA256: "abc"}}; !slices.Equal(j.Drawings, want) {
		t.Errorf("drawings %v, want %v", j.Drawings, want)
	}
}

// TestDrawingMistakes: what is wrong is reported at its key, and what is wrong in the drawing
// in the drawing.
func TestDrawingMistakes(t *testing.T) {
	bad := func(found diag.Findings, err error) job.Tracer {
		return func(string, work.Tracing) (job.Traced, diag.Findings, error) { return job.Traced{}, found, err }
	}
	var atKey, inFile diag.Findings
	atKey.Errorf("motif.drawing.1.width", "drawing-size", "how large is it")
	inFile.ErrorAt(diag.Position{File: "a.svg", Line: 7, Col: 2}, "svg-path", "no number")
	for _, c := range []struct {
		keys string
		by   job.Tracer
		want string
	}{
		{"", nil, `job.toml:5:8: error: "a.svg" cannot be read: the job is read without the files about it`},
		{"", bad(nil, errors.New("no such file")), `job.toml:5:8: error: "a.svg" cannot be read: no such file`},
		{"", bad(atKey, nil), "job.toml:4:9: error: how large is it"},
		{"width = 7", bad(atKey, nil), "job.toml:6:9: error: how large is it"},
		{"", bad(inFile, nil), "a.svg:7:2: error: no number"},
		{"width = 7\nunit = \"mm\"", bad(nil, nil), "job.toml:7:8: error: width and unit are both given"},
		{"unit = \"furlong\"", bad(nil, nil), `job.toml:6:8: error: unit cannot be "furlong"`},
		{"tolerance = 0", bad(nil, nil), "job.toml:6:13: error: tolerance"},
	} {
		if _, found := job.ReadWith("job.toml", []byte(withDrawing(unit.MM, strings.ReplaceAll(c.keys, "\\n", "\n"))), c.by); !strings.Contains(found.Error(), c.want) {
			t.Errorf("%q: %v, want %s", c.keys, found, c.want)
		}
	}
	// A job without its drawing isn't one that can be made.
	for file, want := range map[string]string{"": "5:8: error: file is empty", `a\tb`: "5:8: error: file must be one line without control characters"} {
		j, found := job.ReadWith("job.toml", []byte(strings.Replace(withDrawing(unit.MM, ""), "a.svg", file, 1)), bad(nil, nil))
		if j != nil || strings.Count(found.Error(), want) != 1 {
			t.Errorf("%q: %v, want %s once", file, found, want)
		}
	}
}

// TestDrawingsOf: the files that a job names are found without reading it.
func TestDrawingsOf(t *testing.T) {
	text := withDrawing(unit.MM, "") + "[[motif.drawing]]\nfile = \"b.dxf\"\n[[motif.drawing]]\nfile = \"a.svg\"\n[[motif.drawing]]\nfile = 3\n"
	if got, want := job.Drawings([]byte(text)), []string{"a.svg", "b.dxf"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	for _, none := range []string{"", "motif = 3", "[motif]\ndrawing = 3", "[", "[motif]\ndrawing = [1]"} {
		if got := job.Drawings([]byte(none)); len(got) != 0 {
			t.Errorf("%q names %v", none, got)
		}
	}
}

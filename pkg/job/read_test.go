package job_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// table is a small job of the usual shape: two elements, four times.
const table = `title = "Walnut hall table"
units = "mm"
[let]
inset = 60
reach = "inset + 80 mm"
[motif]
copies = 4
[[motif.line]]
name = "bar"
from = ["-reach", "inset"]
to = ["reach", "inset"]
[[motif.arc]]
name = "loop"
center = ["reach", "reach"]
radius = "reach - inset"
start = 270
sweep = 270
[inlay]
depth = 3
proud = 0.3
clearance = 0.08
strips = [
  { material = "holly", thickness = 0.9 },
  { material = "maple", thickness = 1.2 },
  { material = "pear", thickness = 0.8 },
  { material = "maple", thickness = 1.2 },
  { material = "holly", thickness = 0.9 },
]
[router]
guide = "base"
rider = 100
bit = "1/8 in"
`

// read reads a job that must be sound.
func read(t *testing.T, text string) *job.Job {
	t.Helper()
	j, fs := job.Read("job.toml", []byte(text))
	if j == nil || fs.HasErrors() {
		t.Fatalf("not read:\n%s", fs.Error())
	}
	return j
}

var near = cmpopts.EquateApprox(0, 1e-12) // a few roundings of lengths up to 1000

func TestReadTable(t *testing.T) {
	j, fs := job.Read("job.toml", []byte(table))
	if len(fs) != 0 {
		t.Fatalf("findings:\n%s", fs.Error())
	}
	// A loop of 270 degrees about 140,140 is two arcs of 135: bulge
	// tan(135/4 degrees); its middle lies away from the origin.
	b, far := math.Tan(135.0/4*math.Pi/180), 140+80/math.Sqrt2
	vertex := func(x, y, bulge float64) geom.Vertex {
		return geom.Vertex{Point: geom.Pt(x, y), Bulge: bulge}
	}
	want := job.Job{
		File: "job.toml", Title: "Walnut hall table", Units: unit.MM,
		Motif: work.Drawing{Copies: 4, Elements: []work.Element{
			{Name: "bar", Kind: work.KindLine, Key: "motif.line.1", Line: 8, Contour: geom.Contour{
				Vertices: []geom.Vertex{vertex(-140, 60, 0), vertex(140, 60, 0)},
			}},
			{Name: "loop", Kind: work.KindArc, Key: "motif.arc.1", Line: 12, Contour: geom.Contour{
				Vertices: []geom.Vertex{vertex(140, 60, b), vertex(far, far, b), vertex(60, 140, 0)},
			}},
		}},
		Weave: work.Weaving{FirstOver: true},
		Inlay: work.Inlay{Allowance: 1, Forms: true, Depth: 3, Proud: 0.3, Clearance: 0.08, Width: 5.08, Strips: []work.Strip{
			{Material: "holly", Thickness: 0.9}, {Material: "maple", Thickness: 1.2}, {Material: "pear", Thickness: 0.8}, {Material: "maple", Thickness: 1.2}, {Material: "holly", Thickness: 0.9},
		}},
		Router:   work.Router{Guide: work.GuideBase, RiderDiameter: 100, Bit: 3.175, Plunge: true},
		Template: work.Template{Web: 8, Margin: 25, Wall: 9, Floor: 3, Turn: true, Step: work.Stepped, Frame: 60, Play: 0.1},
		Wood:     work.Wood{Species: "walnut"},
		Stock:    work.Stock{Kerf: 1, Sanding: 0.1, Spares: 0.1},
	}
	if d := cmp.Diff(want, *j, near, cmpopts.IgnoreUnexported(job.Job{}), cmpopts.IgnoreFields(job.Job{}, "Notes")); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
	if j.Inlay.Width != 5.08 {
		t.Errorf("width %v is not the sum as a person writes it", j.Inlay.Width)
	}
	var notes []string
	for _, n := range j.Notes {
		if n.Severity != diag.Note {
			t.Errorf("%v among the notes", n)
		}
		notes = append(notes, n.Message)
	}
	wantNotes := []string{
		`[weave] assumed: first "over"`,
		`[wood] assumed: species "walnut"`,
		`[template] assumed: web 8 mm, margin 25 mm, wall 9 mm, floor 3 mm, turn true, flip false, prefer "clean", frame 60 mm, play 0.1 mm`,
		`no [cutting]: outlines are drawn at true size, and the shop allows for the kerf`,
		`[router] assumed: plunge true, off_center 0 mm`,
	}
	if d := cmp.Diff(wantNotes, notes); d != "" {
		t.Errorf("notes: -want +got\n%s", d)
	}
}

// full has every key that does not exclude another.
const full = `title = "Box lid"
units = "in"
[motif]
mirror = true
[[motif.circle]]
center = [0, 0]
radius = "1 1/2"
[[motif.path]]
name = "wave"
d = "M -2 0 A 2 2 0 0 1 2 0 L 2 4 M 5 5 L 6 5"
[[motif.line]]
points = [[0, 0], [1, 0], ["10 mm", "1 cm"]]
closed = true
[[motif.arc]]
center = [0, 0]
radius = 3
start = "360 / 8"
sweep = -360
[weave]
first = "under"
flip = [[1, 2], ["25.4 mm", 0]]
[inlay]
depth = 0.1
proud = "0.3 mm"
width = "9/64 in"
[router]
guide = "bushing"
rider = "5/8 in"
bit = 0.125
flute = 1
shank = 0.25
base = 6
collar = "8 mm"
plunge = false
off_center = "0.2 mm"
stickout = "1 1/4"
nut = 0.75
nut_length = "18 mm"
nose = "1 3/4"
[template]
web = "9 mm"
margin = 1
wall = "9 mm"
turn = false
flip = true
prefer = "panels"
frame = 0
play = 0
[board]
size = [20, 10]
thickness = 0.75
grain = 90
origin = [1, 2]
[wood]
species = "quilted maple"
color = "#D8b070"
[cutting]
profile = "laser-900x600"
kerf = "0.18 mm"
kerf_by = "me"
`

func TestReadEveryKey(t *testing.T) {
	j := read(t, full)
	want := job.Job{
		File: "job.toml", Title: "Box lid", Units: unit.Inch,
		Weave: work.Weaving{Flips: []work.Flip{
			{At: geom.Pt(25.4, 50.8), Key: "weave.flip.1"},
			{At: geom.Pt(25.4, 0), Key: "weave.flip.2"},
		}},
		Inlay: work.Inlay{Allowance: 25.4 / 32, Forms: true, Depth: 2.54, Proud: 0.3, Width: 9 * 25.4 / 64},
		Router: work.Router{
			Guide: work.GuideBushing, RiderDiameter: 15.875, Bit: 3.175, Flute: 25.4, ShankDiameter: 6.35, BaseDiameter: 152.4, Collar: 8, OffCenter: 0.2, OffCenterGiven: true,
			Body: work.Body{Stickout: 31.75, NutDiameter: 19.05, NutLength: 18, NoseDiameter: 44.45},
		},
		Template: work.Template{Web: 9, Margin: 25.4, Wall: 9, Flip: true, Prefer: work.PreferPanels, Step: work.Stepped},
		Board:    &work.Board{Size: geom.Pt(508, 254), Thickness: 19.05, Grain: math.Pi / 2, Origin: geom.Pt(25.4, 50.8)},
		Wood:     work.Wood{Species: "quilted maple", Color: "#D8b070"},
		Stock:    work.Stock{Kerf: 1.016, Sanding: 0.1016, Spares: 0.1},
		Cutting: &job.Cutting{
			Profile: "laser-900x600", Kerf: 0.18, KerfGiven: true, KerfBy: work.KerfByMe,
		},
	}
	if d := cmp.Diff(want, *j, near, cmpopts.IgnoreUnexported(job.Job{}), cmpopts.IgnoreFields(job.Job{}, "Notes", "Motif")); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
	if !j.Motif.Mirror || j.Motif.Copies != 1 {
		t.Errorf("%+v", j.Motif)
	}
	if len(j.Notes) != 0 {
		t.Errorf("something is assumed, but everything is given:\n%s", j.Notes.Error())
	}
	var got []string
	for _, e := range j.Motif.Elements {
		c := e.Contour
		got = append(got, fmt.Sprintf("%s %v line %d, %d edges, closed %v, from %.6g,%.6g, %.6g long", e.Name, e.Kind, e.Line, c.Len(), c.Closed, c.Start().X, c.Start().Y, c.Length()))
	}
	// In the file's order; lengths derived: circles 2 pi r, a half circle and a
	// line, 25.4 + hypot(15.4, 10) + hypot(10, 10).
	wantElements := []string{
		"circle circle line 5, 2 edges, closed true, from 38.1,0, 239.389 long",
		"wave path line 8, 2 edges, closed false, from -50.8,0, 261.193 long",
		"wave-2 path line 8, 1 edges, closed false, from 127,127, 25.4 long",
		"line line line 11, 3 edges, closed true, from 0,0, 57.9041 long",
		"arc arc line 14, 2 edges, closed true, from 53.8815,53.8815, 478.779 long",
	}
	if d := cmp.Diff(wantElements, got); d != "" {
		t.Errorf("elements: -want +got\n%s", d)
	}
	if a := j.Motif.Elements[4].Contour.Area(); a >= 0 {
		t.Errorf("a sweep of -360 has the area %v, want a negative one", a)
	}
}

func TestGuides(t *testing.T) {
	for _, c := range []struct {
		router       string
		guide        work.Guide
		rider, floor float64
		note         string
	}{
		{"guide = \"bearing\"\nbit = 4", work.GuideBearing, 4, 0, "[router] assumed: rider as wide as the bit"},
		{"guide = \"bearing\"\nrider = 5\nbit = 4", work.GuideBearing, 5, 0, ""},
		{"guide = \"pivot\"\nbit = 4", work.GuidePivot, 0, 0, ""},
		{"guide = \"bushing\"\nrider = 16\nbit = 4", work.GuideBushing, 16, 0, ""},
		{"guide = \"base\"\nrider = 90\nbase = 150\nbit = 4", work.GuideBase, 90, 3, "base has no effect: the rider is the base"},
		{"guide = \"base\"\nrider = 90\ncollar = 8\nbit = 4", work.GuideBase, 90, 3, "collar has no effect: the guide is not a bushing"},
		{"guide = \"none\"\nbit = 4\nflute = 12", work.GuideNone, 0, 0, ""},
		{"guide = \"none\"\nrider = 1\nbit = 4", work.GuideNone, 0, 0, `rider has no effect: guide is "none"`},
		{"guide = \"none\"\nplunge = false\nbit = 4\n[template]\nweb = 1", work.GuideNone, 0, 0, `template has no effect: guide is "none"`},
	} {
		i := strings.Index(table, "[router]")
		j := read(t, table[:i]+"[router]\n"+c.router+"\n")
		if j.Router.Guide != c.guide || j.Router.RiderDiameter != c.rider || j.Template.Floor != c.floor {
			t.Errorf("%q: %+v, floor %v", c.router, j.Router, j.Template.Floor)
		}
		if !strings.Contains(j.Notes.Error(), c.note) {
			t.Errorf("%q: no note %q in\n%s", c.router, c.note, j.Notes.Error())
		}
	}
}

// Read for a program alone, a job is asked nothing of what guides a router by hand,
// and nothing is noted of it; a bit it must have all the same.
func TestReadForProgram(t *testing.T) {
	i := strings.Index(table, "[router]")
	for _, router := range []string{
		"guide = \"base\"\nrider = 90\nbit = 4\nflute = 12\nbase = 90\nplunge = false\noff_center = 0.1\n", "bit = 4\nflute = 12\n", "guide = \"base\"\nrider = 1\nbit = 4\nflute = 12\n[template]\nweb = 1\nwall = 9\n",
		"guide = \"bearing\"\nbit = 4\nflute = 12\n[cutting]\nkerf_by = \"me\"\n[paper]\npaper = \"\"\n",
	} {
		j, found := job.ReadForProgram("job.toml", []byte(table[:i]+"[router]\n"+router), nil)
		if j == nil || len(found) > 0 {
			t.Errorf("%q: %v", router, found)
			continue
		}
		if d := cmp.Diff(work.Router{Guide: work.GuideNone, Bit: 4, Flute: 12, Plunge: true}, j.Router); d != "" || j.Cutting != nil || j.Paper != nil {
			t.Errorf("%q: %s, %v, %v", router, d, j.Cutting, j.Paper)
		}
		for _, of := range []string{"no effect", "[template]", "[cutting]", "[router]"} {
			if strings.Contains(j.Notes.Error(), of) {
				t.Errorf("%q: notes\n%s", router, j.Notes.Error())
			}
		}
	}
	if j, found := job.ReadForProgram("job.toml", []byte(table[:i]+"[router]\nguide = \"base\"\n"), nil); j != nil || !strings.Contains(found.Error(), "bit is missing") {
		t.Errorf("without a bit: %v", found)
	}
}

// Defaults of a file in inches are round there, and said as a rule has them: 5/16,
// 1, 3/8, 1/8, 2 3/8 and 0.004 in; 0.012 in proud.
func TestDefaultsInInches(t *testing.T) {
	j := read(t, strings.NewReplacer(`units = "mm"`, `units = "in"`, "[let]", "# ", "strips", "# ", "  {", "# ", "]\n[router]", "width = 0.2\n[router]",
		"inset = 60", "[let]\ninset = 2", "rider = 100", "rider = 4", "depth = 3", "depth = 0.1", "proud = 0.3", "", "clearance = 0.08", "").Replace(table))
	want := work.Template{Web: 7.9375, Margin: 25.4, Wall: 9.525, Floor: 3.175, Turn: true, Step: work.Stepped, Frame: 60.325, Play: 0.1016}
	if d := cmp.Diff(want, j.Template, near); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
	if math.Abs(j.Inlay.Proud-0.3048) > 1e-12 || math.Abs(j.Inlay.Width-5.08) > 1e-12 || j.Router.RiderDiameter != 101.6 {
		t.Errorf("%+v, %+v", j.Inlay, j.Router)
	}
	for _, note := range []string{
		`[template] assumed: web 5/16 in, margin 1 in, wall 3/8 in, floor 1/8 in, turn true, flip false, prefer "clean", frame 2 3/8 in, play 0.004 in`,
		`[inlay] assumed: proud 0.012 in`, `off_center 0 in`,
	} {
		if !strings.Contains(j.Notes.Error(), note) {
			t.Errorf("no note %q in\n%s", note, j.Notes.Error())
		}
	}
}

func TestPosAndExcerpt(t *testing.T) {
	j := read(t, full)
	for key, want := range map[string]string{
		"inlay.depth":           "job.toml:23:9",
		"inlay":                 "job.toml:22:2",
		"inlay.strips":          "job.toml:22:2", // not in the file: its table
		"router.rider":          "job.toml:28:9",
		"weave.flip.1":          "job.toml:21:9",
		"weave.flip.2":          "job.toml:21:17",
		"weave.flip.2.1":        "job.toml:21:18",
		"weave.flip.3":          "job.toml:21:8",
		"motif.line.1.points.3": "job.toml:12:27",
		"motif.arc.1.sweep":     "job.toml:18:9",
		"nothing.at.all":        "job.toml:1:1",
		"":                      "job.toml:1:1",
	} {
		if got := j.Pos(diag.Key(key)).String(); got != want {
			t.Errorf("Pos(%q) = %s, want %s", key, got, want)
		}
	}
	if got := j.Excerpt(28); got != `rider = "5/8 in"` {
		t.Errorf("line 28 is %q", got)
	}
	for _, n := range []int{-1, 0, 1000} {
		if got := j.Excerpt(n); got != "" {
			t.Errorf("line %d is %q", n, got)
		}
	}
	s := read(t, table)
	if got := s.Pos("inlay.strips.3.thickness").String(); got != "job.toml:25:36" {
		t.Errorf("the third strip's thickness is at %s", got)
	}
}

func TestLineEndsAndByteOrderMark(t *testing.T) {
	j := read(t, "\ufeff"+strings.ReplaceAll(table, "\n", "\r\n"))
	if got := j.Pos("router.bit").String() + " " + j.Excerpt(32); got != `job.toml:32:7 bit = "1/8 in"` {
		t.Error(got)
	}
	if got := j.Excerpt(1); got != `title = "Walnut hall table"` {
		t.Errorf("%q", got)
	}
}

func TestTitleFromFile(t *testing.T) {
	j, fs := job.Read("jobs/rosette.toml", []byte(strings.Replace(table, "title", "# title", 1)))
	if j == nil || j.Title != "rosette" || !strings.Contains(j.Notes.Error(), `no title: "rosette" is used`) {
		t.Errorf("%+v, %v", j, fs)
	}
}

func TestNamesAreUnique(t *testing.T) {
	j := read(t, strings.Replace(table, "[[motif.line]]\nname = \"bar\"", `[[motif.line]]
from = [0, 300]
to = [1, 300]
[[motif.path]]
name = "line"
d = "M 0 400 h 1 M 0 410 h 1 M 0 420 h 1"
[[motif.circle]]
name = "line-3"
center = [500, 500]
radius = 1
[[motif.line]]`, 1))
	var names []string
	for _, e := range j.Motif.Elements {
		names = append(names, e.Name)
	}
	want := []string{"line-2", "line", "line-5", "line-6", "line-3", "line-4", "loop"}
	if d := cmp.Diff(want, names); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
}

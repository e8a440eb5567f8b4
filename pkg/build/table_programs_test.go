package build_test

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/ngc"
)

// machineTable is a table of two ends and two alike leaves that a machine grooves, with a
// looped triangle on every joint.
const machineTable = `title = "Pear table"
units = "mm"
[[motif.loops]]
name = "t"
count = 3
ring = 60
radius = 45
turn = 90
[inlay]
width = 5
depth = 3
[router]
guide = "none"
bit = 3
[program]
widen = 0.1
split = "strand"
[table]
width = 600
thickness = 22
[[table.section]]
name = "left"
length = 400
[[table.section]]
name = "leaf"
length = 420
count = 2
loose = true
[[table.section]]
name = "right"
length = 400
`

// programOf is a built program.
func programOf(t testing.TB, r build.Result, path string) []byte {
	t.Helper()
	i := slices.IndexFunc(r.Files, func(f build.File) bool { return f.Path == path })
	if i < 0 {
		t.Fatalf("there is no %s", path)
	}
	return r.Files[i].Data
}

// cutBy is what a program cuts to full depth, from its own words: each move's way grown by
// the bit's radius. A helix counts once it has come down.
func cutBy(t testing.TB, text []byte, bit, depth float64) region.Region {
	t.Helper()
	var all []region.Region
	err := ngc.Read(bytes.NewReader(text), func(m ngc.Move) error {
		if m.Kind != ngc.Line && m.Kind != ngc.Arc || m.To.Z > -depth+1e-4 || m.From.Z > -depth+1e-4 {
			return nil
		}
		for _, e := range m.Edges() {
			all = append(all, region.Stroke(geom.Chain(false, e), bit/2))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return region.Union(all...)
}

// What a section's program cuts, as read back, is the section's groove to 0.01 mm within its
// outline; past the edges it is the run-on. Spoilt programs are all found out.
func TestSectionPrograms(t *testing.T) {
	g := build.NewGraph(noFiles)
	r := g.Build("t.toml", []byte(machineTable), build.Options{Only: build.Programs})
	if !r.OK() {
		t.Fatal(r.Findings)
	}
	judge := func(text []byte, section string) (rules []string, asked, why string) {
		again, report := g.DryRun("t.toml", []byte(machineTable), build.ProgramFile{Name: "p.nc", Text: text, Section: section})
		if !again.OK() {
			t.Fatal(again.Findings)
		}
		for _, f := range report.Findings {
			if !slices.Contains(rules, f.Rule) {
				rules = append(rules, f.Rule)
			}
		}
		slices.Sort(rules)
		return rules, report.Section, report.SectionBy
	}
	for k, own := range r.Grooving.BySection {
		p := own.Piece
		text := programOf(t, r, build.SectionProgramPath(p.Name))
		cut := cutBy(t, text, 3, 3).Transform(geom.Shifting(p.Origin))
		outline := region.New(p.Outline)
		groove := region.Intersect(r.Sectioned[k].Groove.Area(), outline)
		const most = 0.01 // mm, half a side
		if off := region.Subtract(groove, cut).Open(most / 2); !off.Empty() {
			t.Errorf("%s: leaves %.3f mm2 at %v", p.Name, off.Area(), off.Bounds())
		}
		if off := region.Subtract(region.Intersect(cut, outline), groove).Open(most / 2); !off.Empty() {
			t.Errorf("%s: cuts %.3f mm2 beyond at %v", p.Name, off.Area(), off.Bounds())
		}
		if groove.Area() < 500 || len(own.Run.RunOns) == 0 {
			t.Fatalf("%s: a groove of %.0f mm2 and %d run-ons", p.Name, groove.Area(), len(own.Run.RunOns))
		}
		// (w/2) tan 30 + b/2 + 1 along the strand, at 30 degrees: the end's far corner is
		// w/2 sin 30 further out than its middle, less what the bit's round leaves of it.
		for _, o := range own.Run.RunOns {
			if o.Whole < 0.5 || o.Far < 3 || o.Far > 4.5 {
				t.Errorf("%s: %+v", p.Name, o)
			}
		}
		if rules, section, why := judge(text, ""); len(rules) > 0 || section != p.Name || why != "the program says so" {
			t.Errorf("%s: %v, held against %s (%s)", p.Name, rules, section, why)
		}
		bare := regexp.MustCompile(`(?m)^\(section .*\n`).ReplaceAll(text, nil)
		if rules, section, _ := judge(bare, ""); len(rules) > 0 || section != p.Name {
			t.Errorf("%s without its name: %v, held against %s", p.Name, rules, section)
		}
		other := r.Grooving.BySection[(k+1)%3].Piece.Name
		if rules, section, _ := judge(text, other); section != other || !slices.Contains(rules, "gouge") && !slices.Contains(rules, "missed") {
			t.Errorf("%s held against %s: %v", p.Name, section, rules)
		}
		for what, spoilt := range map[string][]byte{"shifted by 0.2 mm": shiftedX(text, 0.2), "cut off at the edges": clippedX(text, p.Origin.X, p.Length)} {
			if rules, _, _ := judge(spoilt, p.Name); !slices.Contains(rules, "missed") && !slices.Contains(rules, "gouge") {
				t.Errorf("%s %s: %v", p.Name, what, rules)
			} else if what != "shifted by 0.2 mm" && !slices.Contains(rules, "run-on") {
				t.Errorf("%s %s: %v", p.Name, what, rules)
			}
		}
	}
	for _, path := range []string{"program/perimeter-leaf.nc", "program/widen-right.nc", "program/strand-1-t.1-leaf.nc", "program/coupon.nc"} {
		programOf(t, r, path)
	}
	if slices.ContainsFunc(r.Files, func(f build.File) bool { return f.Path == build.GroovePath }) {
		t.Errorf("there is a program of the whole groove")
	}
	var sum float64
	for _, own := range r.Grooving.BySection {
		sum += own.Run.Seconds * float64(own.Piece.Count)
	}
	if d := r.Grooving.Run.Seconds - sum; d > 1e-6 || d < -1e-6 {
		t.Errorf("all take %.1f s, and one by one %.1f", r.Grooving.Run.Seconds, sum)
	}
}

var xWord = regexp.MustCompile(`X(-?[0-9.]+)`)

// rewritten is a program with its X words changed.
func rewritten(text []byte, f func(x float64) float64) []byte {
	return xWord.ReplaceAllFunc(text, func(word []byte) []byte {
		x, err := strconv.ParseFloat(string(word[1:]), 64)
		if err != nil {
			return word
		}
		return []byte("X" + strconv.FormatFloat(f(x), 'f', 4, 64))
	})
}

func shiftedX(text []byte, by float64) []byte {
	return rewritten(text, func(x float64) float64 { return x + by })
}

// clippedX lets the bit's middle go no further than 1.5 mm short of both edges.
func clippedX(text []byte, zero, length float64) []byte {
	return rewritten(text, func(x float64) float64 { return min(max(x, 1.5-zero), length-1.5-zero) })
}

// Where the zero is the section's corner the same ways are cut from there; clamps lie about
// the motif's origin on each section.
func TestSectionProgramsFromTheCorner(t *testing.T) {
	text := strings.Replace(machineTable, "widen = 0.1\nsplit = \"strand\"", "zero = \"board\"", 1)
	r := build.Build("t.toml", []byte(text), noFiles, build.Options{Only: build.Programs})
	if !r.OK() {
		t.Fatal(r.Findings)
	}
	for _, own := range r.Grooving.BySection {
		box := own.Run.Extents
		if box.Min.X < -4 || box.Max.X > own.Piece.Length+4 || box.Min.Y < 0 || box.Max.Y > 600 {
			t.Errorf("%s: the tip goes from %v to %v", own.Piece.Name, box.Min, box.Max)
		}
		if head := string(programOf(t, r, build.SectionProgramPath(own.Piece.Name))[:400]); !strings.Contains(head, "(section "+own.Piece.Name+")") {
			t.Errorf("%s: the head has no name:\n%s", own.Piece.Name, head)
		}
	}
	clamped := strings.Replace(text, "[table]", "[stock]\n[[stock.clamp]]\nfrom = [-20, -290]\nto = [20, 290]\nheight = 30\n[table]", 1)
	if r := build.Build("t.toml", []byte(clamped), noFiles, build.Options{Only: build.Programs}); r.OK() || !strings.Contains(fmt.Sprint(r.Findings), "too close to clamp 1") {
		t.Errorf("a clamp across every joint: %v", r.Findings)
	}
}

// How the sections lie while they are grooved by hand, and where stations are said to be, makes
// no difference to programs: each is drawn from its section's own edges.
func TestSectionProgramsKnowNoGap(t *testing.T) {
	bare := strings.Replace(machineTable, "widen = 0.1\nsplit = \"strand\"", "comments = false", 1)
	made := func(table string) build.Result {
		r := build.Build("t.toml", []byte(strings.Replace(bare, "thickness = 22", "thickness = 22\n"+table, 1)), noFiles, build.Options{Only: build.Programs})
		if !r.OK() {
			t.Fatal(r.Findings)
		}
		return r
	}
	want := made("")
	for _, table := range []string{"groove = \"apart\"", "saw = 3", "groove = \"gap\"\ngap = 3", "stations = [{ x = 400, y = 300 }, { x = 820, y = 300 }, { x = 1240, y = 300 }]"} {
		got := made(table)
		for _, f := range want.Files {
			if f.Kind == build.Program && !bytes.Equal(f.Data, programOf(t, got, f.Path)) {
				t.Errorf("with %s %s is another", table, f.Path)
			}
		}
	}
}

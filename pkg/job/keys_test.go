package job_test

import (
	"flag"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/conf"
	"strapwork/pkg/job"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
	"strapwork/pkg/words"
)

var update = flag.Bool("update", false, "write the keys into README.md")

// TestPage: the page of the format has every key of its table, and nothing else; -update
// writes them.
func TestPage(t *testing.T) {
	const file = "README.md"
	page, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	want, ok := job.Format().Insert(string(page))
	switch {
	case !ok:
		t.Fatalf("%s has no place for the keys", file)
	case *update:
		if err := os.WriteFile(file, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	case want != string(page):
		t.Errorf("%s isn't what the table says: go test ./pkg/job -run TestPage -update", file)
	}
	for _, table := range job.Format().Tables {
		for _, key := range table.Keys {
			if !strings.Contains(want, "\n| `"+key.Name+"` | ") || key.Help == "" || strings.HasSuffix(key.Help, ".") {
				t.Errorf("[%s] %s isn't described: %q", table.Path, key.Name, key.Help)
			}
		}
	}
}

// TestGlossary: the page of the format ends with the glossary as its table has it; -update
// writes it.
func TestGlossary(t *testing.T) {
	const file, end = "README.md", "<!-- end of the words -->\n"
	page, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(page), "<!-- words: written by the tests from the table in the code; don't edit -->\n")
	_, tail, ended := strings.Cut(rest, end)
	if !ok || !ended {
		t.Fatalf("%s has no place for the glossary", file)
	}
	want := strings.TrimSuffix(string(page), rest) + "\n" + words.Markdown() + "\n" + end + tail
	switch {
	case *update:
		if err := os.WriteFile(file, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	case want != string(page):
		t.Errorf("%s isn't what the glossary says: go test ./pkg/job -run TestGlossary -update", file)
	}
}

// TestEveryKeyOfTheContract: the table has every key that the format was agreed on with,
// which are in testdata/agreed-keys.toml in the agreement's own words.
func TestEveryKeyOfTheContract(t *testing.T) {
	data, err := os.ReadFile("testdata/agreed-keys.toml")
	if err != nil {
		t.Fatal(err)
	}
	r, ok := conf.Open(job.Format(), "agreed-keys.toml", data)
	if !ok {
		t.Fatal(r.Findings())
	}
	seen := 0
	var walk func(path string, v *conf.Value)
	walk = func(path string, v *conf.Value) {
		for _, item := range v.Items {
			walk(path, item)
		}
		table := job.Format().Table(path)
		for _, f := range v.Fields {
			seen++
			if table == nil || table.Any == nil && table.Key(f.Name) == nil {
				t.Errorf("[%s] %s isn't in the table", path, f.Name)
			}
			walk(strings.TrimPrefix(path+"."+f.Name, "."), f.Value)
		}
	}
	walk("", r.Root)
	const agreed = 70 // about as many keys are in the agreement
	if seen < agreed {
		t.Errorf("only %d keys are looked up", seen)
	}
}

// silent is a job that leaves out whatever has a default, its other table being apart.
const silent = `
[motif]
[[motif.line]]
points = [[0, 0], [10, 0], [20, 5]]
[[motif.circle]]
center = [100, 100]
radius = 5
[inlay]
depth = 2
strips = [{ material = "holly", thickness = 3 }]
[router]
guide = "base"
rider = 90
bit = 2
[board]
size = [40, 30]
thickness = 9
[wood]
moisture = [8, 11]
[cutting]
kerf_by = "shop"
[paper]
[program]
[[stock.clamp]]
from = [0, 0]
to = [1, 1]
height = 1
`

// silentTable stands in place of silent's board, up to its thickness.
const silentTable = `[[table.section]]
name = "front"
length = 40
[[table.section]]
name = "leaf"
length = 40
[[table.section]]
name = "back"
length = 40
[[table.dowel]]
at = [1]
diameter = 1
length = 2
[table]
width = 40
`

// TestDefaults: what a job gets that leaves a key out is what the table says, in mm and
// in inches, and no key's default is left unread.
func TestDefaults(t *testing.T) {
	truth := func(b bool) string { return strconv.FormatBool(b) }
	word := strconv.Quote
	for _, u := range []unit.System{unit.MM, unit.Inch} {
		text := "units = \"" + u.String() + "\"\n" + silent
		if u == unit.Inch { // keep the lengths that are given as they are
			text = strings.NewReplacer("= 2\n", "= \"2 mm\"\n", "thickness = 3", "thickness = \"3 mm\"").Replace(text)
		}
		j := read(t, text)
		length := func(mm float64) string {
			x := mm / u.InMM()
			return strconv.FormatFloat(math.Round(x*1e9)/1e9, 'f', -1, 64)
		}
		first := j.Motif.Elements[0]
		p := j.Program
		got := map[string]string{
			"motif.copies": strconv.Itoa(j.Motif.Copies), "motif.mirror": truth(j.Motif.Mirror),
			"motif.line.closed": truth(first.Contour.Closed), "motif.line.open": truth(first.Open), "motif.line.fit": truth(first.Fit),
			"weave.first":  map[bool]string{true: `"over"`, false: `"under"`}[j.Weave.FirstOver],
			"weave.breaks": truth(j.Weave.Breaks),
			"inlay.proud":  length(j.Inlay.Proud), "inlay.laid": word(j.Inlay.Laid.String()), "inlay.allowance": length(j.Inlay.Allowance), "inlay.forms": truth(j.Inlay.Forms), "inlay.clearance": length(j.Inlay.Clearance),
			"router.plunge": truth(j.Router.Plunge), "router.off_center": length(j.Router.OffCenter),
			"template.web": length(j.Template.Web), "template.margin": length(j.Template.Margin), "template.wall": length(j.Template.Wall),
			"template.floor": length(j.Template.Floor), "template.turn": truth(j.Template.Turn), "template.flip": truth(j.Template.Flip),
			"template.prefer": word(j.Template.Prefer.String()), "template.frame": length(j.Template.Frame), "template.play": length(j.Template.Play),
			"board.grain": length(j.Board.Grain), "wood.species": word(j.Wood.Species), "wood.sawn": word(j.Seasons.Sawn.String()), "paper.paper": word(j.DefaultPaper()),
			"program.zero": map[bool]string{true: `"board"`, false: `"motif"`}[p.ZeroBoard], "program.climb": truth(p.Climb), "program.rough": length(p.Rough),
			"program.ramp": strconv.FormatFloat(math.Round(p.Ramp*180/math.Pi*1e9)/1e9, 'f', -1, 64), "program.safe": length(p.Safe),
			"program.order": word(p.Order), "program.widen": length(p.Widen), "program.split": word(p.Split.String()), "program.comments": truth(p.Comments),
			"stock.clearance": length(j.Clamping.Clearance), "stock.kerf": length(j.Stock.Kerf), "stock.sanding": length(j.Stock.Sanding),
			"stock.spares": strconv.FormatFloat(j.Stock.Spares, 'f', -1, 64), "stock.match": truth(j.Stock.Match),
		}
		top := read(t, strings.Replace(text, "[board]\nsize = [40, 30]\n", silentTable, 1)).Table
		leaf, pins := top.Sections[1], top.Dowels[0]
		for key, value := range map[string]string{
			"grain": strconv.FormatFloat(math.Round(top.Grain*180/math.Pi*1e9)/1e9, 'f', -1, 64), "core": map[bool]string{true: `"stable"`, false: `"solid"`}[top.Stable],
			"stations": map[bool]string{true: `"joints"`}[top.Stations == nil && top.Across == top.Width/2], "groove": word(top.Groove.String()), "gap": length(top.Gap), "saw": length(top.Saw),
			"inlay": map[bool]string{true: `"by station"`, false: `"last"`}[top.ByStation], "turn_leaves": truth(top.TurnLeaves), "joint_crossings": truth(top.JointCrossings),
			"play": length(top.Play), "section.count": strconv.Itoa(leaf.Count), "section.loose": truth(leaf.Loose),
			"section.end": map[bool]string{true: `"round"`, false: `"square"`}[leaf.Round], "dowel.in": word(pins.In.String()),
		} {
			got["table."+key] = value
		}
		// The same keys of other elements are read by the same lines.
		for _, same := range []string{"motif.arc.open", "motif.path.open", "motif.strand.open"} {
			got[same] = got["motif.line.open"]
		}
		got["motif.path.fit"] = got["motif.line.fit"]
		bow := arcOf(t, "from = [0, 0]\nto = [10, 0]\nradius = 6")
		half := pointsJob(t, "A = [0, 0]\nB = [10, 4]\nC = { between = [\"A\", \"B\"] }", "\"C\"")
		got["points.NAME.at"] = length(half.X / 10 * u.InMM())
		got["motif.arc.side"] = map[bool]string{true: `"left"`, false: `"right"`}[bow.Bounds().Max.Y > 1]
		got["motif.arc.long"] = truth(bow.Length() > 6*math.Pi)
		bar, _, _ := joined(t, tangentJob(barX, railY, "radius = 12"))
		bare := read(t, groupJob("[[motif.group]]\nof = [\"ring\"]")).Motif.Elements[2]
		got["motif.group.copies"], got["motif.group.mirror"] = strconv.Itoa(bare.Of), truth(bare.Mirrored)
		got["motif.group.scale"] = length((bare.Contour.Bounds().Size().X / 20) * u.InMM())
		got["motif.group.turn"] = length(bare.Contour.Start().Angle())
		got["motif.arc.trim"] = truth(bar.Length() < 100)
		d := tracingOf(t, u)
		got["motif.drawing.tolerance"], got["motif.drawing.round"] = length(d.Tolerance), length(d.Round)
		got["motif.drawing.turn"], got["motif.drawing.edges"], got["motif.drawing.snap"] = length(d.Size.Turn), truth(d.Edges), truth(d.Snap)
		got["motif.drawing.kinks"] = map[bool]string{true: `"smooth"`, false: `"corner"`}[d.Kinks]
		got["motif.drawing.weave"] = map[bool]string{true: `"drawn"`, false: `"alternate"`}[d.Weave]
		for _, table := range job.Format().Tables {
			if isFamily(table.Path) {
				continue // see TestFamilyDefaults
			}
			for _, key := range table.Keys {
				path, want := table.Path+"."+key.Name, key.Default.In(u)
				if x, err := unit.Eval(want, unit.Env{}); err == nil {
					want = strconv.FormatFloat(math.Round(x*1e9)/1e9, 'f', -1, 64)
				}
				if g := got[path]; g != want {
					t.Errorf("in a file in %s without %s it is %s, want %s", u, path, g, want)
				}
				delete(got, path)
			}
		}
		for path := range got {
			t.Errorf("%s isn't in the table", path)
		}
	}
}

// What a page says of the paper's margin is what package profile does.
func TestMarginIsAsSaid(t *testing.T) {
	said := job.Format().Table("paper").Key("margin").Said
	for _, want := range []string{unit.Len(profile.DefaultMargin).In(unit.MM), unit.Len(profile.DefaultMarginIn).In(unit.Inch)} {
		if want == "3/8 in" || !strings.Contains(said, want) {
			t.Errorf("%q doesn't say %s", said, want)
		}
	}
}

// TestTableIsSound: no key stands twice, and lengths have round defaults in both systems.
func TestTableIsSound(t *testing.T) {
	for _, table := range job.Format().Tables {
		names := table.Names()
		for i, key := range table.Keys {
			if slices.Contains(names[:i], key.Name) {
				t.Errorf("[%s] %s stands twice", table.Path, key.Name)
			}
			if d := key.Default; d[0] != "" && d[0] != "0" && d[1] == "" && key.Takes() == "length" {
				t.Errorf("[%s] %s has no default of its own in inches", table.Path, key.Name)
			}
			if key.Else != "" && len(key.For) == 0 {
				t.Errorf("[%s] %s is for every guide, but says why it isn't", table.Path, key.Name)
			}
		}
	}
}

package job_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// with is the table's job with tables behind it; they begin on line 33.
func with(tables string) string { return table + tables }

const boardTable = "[board]\nsize = [600, 600]\nthickness = 22\n" // three lines

func TestProgramEveryKey(t *testing.T) {
	j := read(t, with(boardTable+`[program]
machine = "machine-600x400"
cutter = "straight-3.175"
zero = "board"
at = [310, "20.5 cm", -62]
feed = "inset * 20"
plunge = "12 in"
speed = 18_000
climb = true
rough = 0.2
ramp = "9 / 4"
step = 1.5
safe = 12
order = ["loop", "bar.2", "s3"]
widen = 0.1
split = "depth"
comments = false
[stock]
clearance = 4
[[stock.clamp]]
from = [-300, -150]
to = ["-reach - 120", -200]
height = 25
[[stock.clamp]]
from = [0, 200]
to = [10, 210]
height = "1 in"
`))
	want := &job.Program{
		Machine: "machine-600x400", Cutter: "straight-3.175", ZeroBoard: true, At: [3]float64{310, 205, -62}, AtGiven: true,
		Feed: 1200, Plunge: 304.8, Speed: 18000, Climb: true, Rough: 0.2, Ramp: 2.25 * math.Pi / 180, Step: 1.5, Safe: 12, Widen: 0.1,
		Order: job.OrderShort, OrderNames: []string{"loop", "bar.2", "s3"}, Split: job.SplitDepth,
	}
	if d := cmp.Diff(want, j.Program, near); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
	stock := &work.Clamping{Clearance: 4, Clamps: []work.Clamp{
		{Box: geom.Box{Min: geom.Pt(-300, -200), Max: geom.Pt(-260, -150)}, Height: 25, Key: "stock.clamp.1"},
		{Box: geom.Box{Min: geom.Pt(0, 200), Max: geom.Pt(10, 210)}, Height: 25.4, Key: "stock.clamp.2"},
	}}
	if d := cmp.Diff(stock, j.Clamping, near); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
	for _, of := range []string{"[program]", "[stock]", "at has no effect"} {
		if strings.Contains(j.Notes.Error(), of) {
			t.Errorf("all is given, but:\n%s", j.Notes.Error())
		}
	}
	if got := j.Pos("program.order.2").String(); got != "job.toml:49:18" {
		t.Errorf("the second of order is at %s", got)
	}
	if got := j.Pos("stock.clamp.2.height").String(); got != "job.toml:62:10" {
		t.Errorf("the second clamp's height is at %s", got)
	}
}

// A job without the tables says nothing of them; with an empty one all that is
// assumed is reported.
func TestProgramAssumed(t *testing.T) {
	j := read(t, table)
	if j.Program != nil || j.Clamping != nil || strings.Contains(j.Notes.Error(), "program") || strings.Contains(j.Notes.Error(), "clamp") {
		t.Errorf("%+v, %+v, notes:\n%s", j.Program, j.Clamping, j.Notes.Error())
	}
	want := job.Program{Rough: 0.15, Ramp: 3 * math.Pi / 180, Safe: 10, Order: "short", Comments: true}
	if d := cmp.Diff(want, job.DefaultProgram(unit.MM), near); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
	j = read(t, with("[program]\nat = [1, 2, 3]\n[stock]\nclearance = 5\n"))
	want.At, want.AtGiven = [3]float64{1, 2, 3}, true
	if d := cmp.Diff(&want, j.Program, near); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
	for _, note := range []string{
		`job.toml:33:2: note: [program] assumed: machine generic (no limits known), zero "motif", climb false, rough 0.15 mm, ` +
			`ramp 3 degrees, safe 10 mm, order "short"`,
		"job.toml:34:6: note: at has no effect: no machine is named",
		"job.toml:36:13: note: clearance has no effect: there are no clamps",
	} {
		if !strings.Contains(j.Notes.Error(), note) {
			t.Errorf("no note %q in\n%s", note, j.Notes.Error())
		}
	}
	j = read(t, with("[[stock.clamp]]\nfrom = [0, 0]\nto = [1, 1]\nheight = 2\n"))
	if j.Clamping.Clearance != 3 || !strings.Contains(j.Notes.Error(), "[stock] assumed: clearance 3 mm") {
		t.Errorf("%+v, notes:\n%s", j.Clamping, j.Notes.Error())
	}
}

// In a file in inches a bare feed is inches per minute, and defaults are round in
// inches.
func TestProgramInInches(t *testing.T) {
	j := read(t, full+"[program]\nfeed = 48\nplunge = 10\nsafe = 0.5\nrough = \"0.2 mm\"\n")
	p := j.Program
	if d := cmp.Diff([]float64{1219.2, 254, 12.7, 0.2}, []float64{p.Feed, p.Plunge, p.Safe, p.Rough}, near); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
	if q := read(t, full+"[program]\n").Program; math.Abs(q.Safe-10.16) > 1e-12 || math.Abs(q.Rough-0.1524) > 1e-12 {
		t.Errorf("%+v", q)
	}
}

func TestOrderRules(t *testing.T) {
	for text, want := range map[string]string{`"short"`: job.OrderShort, `"drawn"`: job.OrderDrawn, `["bar"]`: job.OrderShort} {
		if j := read(t, with("[program]\norder = "+text+"\n")); j.Program.Order != want {
			t.Errorf("%s gives %q", text, j.Program.Order)
		}
	}
}

func TestSplitWords(t *testing.T) {
	for _, k := range []job.SplitKind{job.SplitNone, job.SplitStrand, job.SplitDepth} {
		if j := read(t, with("[program]\nsplit = \""+k.String()+"\"\n")); j.Program.Split != k {
			t.Errorf("%v gives %v", k, j.Program.Split)
		}
	}
}

// One mistake in the tables of programs, one finding, at its line and column,
// with a hint that says what to type.
func TestProgramMistakes(t *testing.T) {
	const clamp = "[[stock.clamp]]\nfrom = [0, 0]\nto = [40, 50]\nheight = 25\n"
	for _, c := range []struct{ tables, want, hint string }{
		{"[program]\nfed = 3\n", `34:1: error: there is no key "fed" in [program]`, "did you mean feed?"},
		{"[program]\nFeed = 3\n", `34:1: error: there is no key "Feed" in [program]`, "in lower case: feed"},
		{"[program]\nflute = 3\n", `34:1: error: there is no key "flute" in [program]`, "belongs in [router]"},
		{"[program]\nheight = 3\n", `34:1: error: there is no key "height" in [program]`, "belongs in [motif.drawing] or [stock.clamp]"},
		{"[programme]\nfeed = 3\n", `33:2: error: there is no table "programme"`, "did you mean program?"},
		{"[program]\nmachine = \"\"\n", "34:11: error: machine is empty", `machine = "machine-600x400"`},
		{"[program]\nmachine = 3\n", "34:11: error: machine must be text, not a whole number", "quotes"},
		{"[program]\ncutter = \" \"\n", "34:10: error: cutter is empty", `cutter = "straight-3.175"`},
		{"[program]\nzero = \"corner\"\n", `34:8: error: zero cannot be "corner"`, `"motif", "board"`},
		{"[program]\nzero = \"bord\"\n", `34:8: error: zero cannot be "bord"`, `did you mean "board"?`},
		{"[program]\nzero = \"board\"\n", `34:8: error: zero = "board", but there is no [board]`, "add [board] with its size and thickness"},
		{"[program]\nat = [1, 2]\n", "34:6: error: at must have three lengths, not 2", "at = [310, 205, -62]"},
		{"[program]\nat = [1, 2, 3, 4]\n", "34:6: error: at must have three lengths, not 4", "at = [310, 205, -62]"},
		{"[program]\nat = 5\n", "34:6: error: at must be a list of three lengths, not a whole number", "at = [310, 205, -62]"},
		{"[program]\nat = [1, 2, nan]\n", "34:13: error: at: z cannot be nan", "number"},
		{"[program]\nat = [1, true, 0]\n", "34:10: error: at: y must be a number", "12.5"},
		{"[program]\nfeed = -1200\n", "34:8: error: feed must be more than 0, not -1200 mm/min", "feed = 1000"},
		{"[program]\nfeed = 0\n", "34:8: error: feed must be more than 0, not 0 mm/min", "feed = 1000"},
		{"[program]\nfeed = 20001\n", "34:8: error: feed must be at most 20000 mm/min, not 20001 mm/min", "is the unit right? a bare number means mm/min here; write feed = 1000: a length per minute"},
		{"[program]\nfeed = inf\n", "34:8: error: feed cannot be inf", "number"},
		{"[program]\nfeed = \"insat\"\n", `34:9: error: feed: "insat" is not defined`, "did you mean inset?"},
		{"[program]\nplunge = -1\n", "34:10: error: plunge must be more than 0", "plunge = 250"},
		{"[program]\nplunge = [3]\n", "34:10: error: plunge must be a number", "12.5"},
		{"[program]\nspeed = 18\n", "34:9: error: speed must be 500 to 100000 rpm, not 18", "speed = 16000"},
		{"[program]\nspeed = -18000\n", "34:9: error: speed must be 500 to 100000 rpm, not -18000", "speed = 16000"},
		{"[program]\nspeed = \"fast\"\n", "34:9: error: speed must be a number, not text", "speed = 16000"},
		{"[program]\nspeed = nan\n", "34:9: error: speed cannot be nan", "number"},
		{"[program]\nclimb = \"no\"\n", "34:9: error: climb must be true or false, not text", "without quotes"},
		{"[program]\nrough = -0.1\n", "34:9: error: rough must not be negative", "rough = 0.15"},
		{"[program]\nramp = 3.01\n", "34:8: error: ramp must be 0, or 0.1 to 3 degrees, not 3.01", "ramp = 3"},
		{"[program]\nramp = -1\n", "34:8: error: ramp must be 0, or 0.1 to 3 degrees, not -1", "ramp = 3"},
		{"[program]\nramp = \"3 mm\"\n", "34:11: error: ramp: an angle takes no unit", "degrees"},
		{"[program]\nstep = 0\n", "34:8: error: step must be more than 0", "step = 1.5"},
		{"[program]\nsafe = 0\n", "34:8: error: safe must be more than 0", "safe = 10"},
		{"[program]\nsafe = -5\n", "34:8: error: safe must be more than 0, not -5 mm", "safe = 10"},
		{"[program]\nwiden = -0.1\n", "34:9: error: widen must not be negative", "widen = 0.1"},
		{"[program]\nwiden = 6.36\n", "34:9: error: a recut that is 6.36 mm wider leaves a rib", "widen = 0"},
		{"[program]\norder = \"shortest\"\n", `34:9: error: order cannot be "shortest"`, `did you mean "short"?`},
		{"[program]\norder = 3\n", "34:9: error: order must be a word or a list of names", `order = ["ring", "bar.2"]`},
		{"[program]\norder = []\n", "34:9: error: order is empty", `order = "short"`},
		{"[program]\norder = [\"bar\",\n \"loop\", \"bar\"]\n", `35:10: error: "bar" is named twice in order`, "line 34"},
		{"[program]\norder = [\"\"]\n", "34:10: error: order contains an empty name", `order = "short"`},
		{"[program]\norder = [3]\n", "34:10: error: a name of order must be text", "quotes"},
		{"[program]\nsplit = \"strands\"\n", `34:9: error: split cannot be "strands"`, `did you mean "strand"?`},
		{"[program]\ncomments = 1\n", "34:12: error: comments must be true or false", "true or false"},
		{"[[program]]\nfeed = 1\n", "33:3: error: program must be a table, not a list", "[program] in single brackets"},
		{"[stock]\nclearence = 3\n", `34:1: error: there is no key "clearence" in [stock]`, "did you mean clearance?"},
		{"[stock]\nclearance = -3\n" + clamp, "34:13: error: clearance must not be negative", "clearance = 3"},
		{"[stock.clamp]\nfrom = [0, 0]\n", "33:8: error: stock.clamp must be a list of tables", "[[stock.clamp]]"},
		{"[stock]\nclamp = [3]\n", "34:10: error: stock.clamp must be a table", "[[stock.clamp]]"},
		{"[[stock]]\nclearance = 3\n", "33:3: error: stock must be a table", "[[stock.clamp]]"},
		{"[[stock.clamp]]\nform = [0, 0]\nto = [1, 1]\nheight = 3\n", `34:1: error: there is no key "form" in [stock.clamp]`, "did you mean from?"},
		{"[[stock.clamp]]\nto = [1, 1]\nheight = 3\n", "33:9: error: from is missing", "from = [-300, -200]"},
		{"[[stock.clamp]]\nfrom = [1, 1]\nheight = 3\n", "33:9: error: to is missing", "to = [-260, -150]"},
		{"[[stock.clamp]]\nfrom = [0, 0]\nto = [1, 1]\n", "33:9: error: height is missing", "height = 25"},
		{"[[stock.clamp]]\nfrom = [0, 0]\nto = [40, 0]\nheight = 25\n", "35:6: error: the clamp's corners make no rectangle: it is 40 mm by 0 mm", "opposite corners"},
		{"[[stock.clamp]]\nfrom = [0, 0]\nto = [40]\nheight = 25\n", "35:6: error: to must have two coordinates, not 1", "[x, y]"},
		{"[[stock.clamp]]\nfrom = [0, 0]\nto = [40, 50]\nheight = 0\n", "36:10: error: height must be more than 0", "height = 25"},
		{"[[stock.clamp]]\nfrom = [0, 0]\nto = [40, 50]\nheight = -5\n", "36:10: error: height must be more than 0, not -5 mm", "height = 25"},
		{clamp + "[stock.clamp]\nheight = 3\n", "37:2: error: table [stock.clamp] is given twice", "[[stock.clamp]]"},
	} {
		j, fs := job.Read("job.toml", []byte(with(c.tables)))
		if j != nil || len(fs) != 1 {
			t.Errorf("%q: job %v, findings:\n%s", c.tables, j != nil, fs.Error())
			continue
		}
		if f := fs[0]; !strings.HasPrefix(f.Error(), "job.toml:"+c.want) || !strings.Contains(f.Hint, c.hint) || f.Hint == "" || f.Rule == "" {
			t.Errorf("%q:\n%s\nhint: %s\nwant %s\nhint: %s", c.tables, f.Error(), f.Hint, c.want, c.hint)
		}
	}
}

// What is just allowed is allowed.
func TestProgramBounds(t *testing.T) {
	for _, tables := range []string{
		"[program]\nramp = 3\n", "[program]\nramp = 0\n", "[program]\nrough = 50\n", "[program]\nwiden = 6.35\n",
		"[program]\nfeed = 20000\nspeed = 100000\n", "[program]\nspeed = 500\n", "[stock]\nclearance = 0\n", boardTable + "[program]\nzero = \"board\"\n",
	} {
		read(t, with(tables))
	}
}

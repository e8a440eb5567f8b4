package build_test

// Programs as people write them by hand, and edits of one sound program: what is
// harmless must pass without a word, what isn't must be told by the right rule. The
// job is testdata/hand/job.toml: a bar of 100 mm across a ring of radius 30, grooves
// of 5 mm, 3 deep, and a bit of 3 mm, so a sound path keeps 1 mm off the centre
// lines. What is sound or not was judged by hand and by common practice.

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
)

// A handRow is one program with what must be told of it: the rules of its errors
// and of its warnings, each once, sorted. It may be cut without errors alone.
type handRow struct {
	name             string
	file             string            // in testdata/hand; "" is sound.nc
	lines            map[string]string // what lines become, by their N words; | parts lines
	all              func(string) string
	job              []string // texts of the job and what each becomes
	machine          string   // lines of a machine's profile, beyond those of cellar
	errors, warnings string
	hint             string // which one of the hints holds
}

// cellar is a machine like the job's own, for a row to say more of it.
const cellar = `kind = "machine"
units = "mm"
travel = [600, 400, 80]
feed = [3000, 1000]
rapid = [5000, 1500]
acceleration = [300, 150]
spindle = [6000, 24000]
spin_up = 4
`

func handText(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "hand", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// program is the row's program.
func (c handRow) program(t *testing.T) string {
	t.Helper()
	file := c.file
	if file == "" {
		file = "sound.nc"
	}
	text := handText(t, file)
	for n, becomes := range c.lines {
		line := regexp.MustCompile(`(?m)^` + n + ` .*\n`)
		if len(line.FindAllString(text, -1)) != 1 {
			t.Fatalf("%s: no single line %s", c.name, n)
		}
		if becomes != "" {
			becomes = strings.ReplaceAll(becomes, "|", "\n") + "\n"
		}
		text = line.ReplaceAllLiteralString(text, becomes)
	}
	if c.all != nil {
		was := text
		if text = c.all(text); text == was {
			t.Fatalf("%s changes nothing", c.name)
		}
	}
	return text
}

// judge judges the row's program.
func (c handRow) judge(t *testing.T) {
	t.Helper()
	job := handText(t, "job.toml")
	if c.machine != "" {
		c.job = append(c.job, `"machine-600x400"`, `"./cellar.toml"`)
	}
	for i := 0; i < len(c.job); i += 2 {
		if strings.Count(job, c.job[i]) != 1 {
			t.Fatalf("%s: no single %q in the job", c.name, c.job[i])
		}
		job = strings.Replace(job, c.job[i], c.job[i+1], 1)
	}
	files := func(path string) ([]byte, error) {
		if path != "./cellar.toml" {
			return nil, fmt.Errorf("no file %q", path)
		}
		return []byte(cellar + c.machine), nil
	}
	text := c.program(t)
	r, report := build.DryRun("job.toml", []byte(job), files, build.ProgramFile{Name: "hand.nc", Text: []byte(text)})
	if !r.OK() {
		t.Fatal(r.Findings)
	}
	errors, warnings := ruleSet(report.Findings, diag.Error), ruleSet(report.Findings, diag.Warning)
	if errors != c.errors || warnings != c.warnings || report.OK() != (c.errors == "") {
		t.Errorf("errors %q, want %q; warnings %q, want %q\n%v", errors, c.errors, warnings, c.warnings, report.Findings)
	}
	var hints []string
	for _, f := range report.Findings {
		if f.Hint == "" || f.Pos.Line < 1 {
			t.Errorf("%+v", f)
		}
		hints = append(hints, f.Hint)
	}
	if all := strings.Join(hints, "\n"); !strings.Contains(all, c.hint) {
		t.Errorf("no hint %q in\n%s", c.hint, all)
	}
}

// ruleSet is the rules of findings of one severity, each once, sorted.
func ruleSet(found diag.Findings, s diag.Severity) string {
	var list []string
	for _, f := range found {
		if f.Severity == s {
			list = append(list, f.Rule)
		}
	}
	slices.Sort(list)
	return strings.Join(slices.Compact(list), " ")
}

// runRows judges rows, whose names must differ.
func runRows(t *testing.T, rows []handRow) {
	t.Helper()
	names := map[string]bool{}
	for _, c := range rows {
		if names[c.name] {
			t.Errorf("two rows are named %s", c.name)
		}
		names[c.name] = true
		t.Run(c.name, func(t *testing.T) { c.judge(t) })
	}
}

// Programs that were kept as they were met. None states a path mode, and all but
// the sound one cut the inner wall of the ring in one go.
func TestProgramsByHand(t *testing.T) {
	runRows(t, []handRow{
		{name: "sound", file: "sound.nc"},
		{name: "mark", file: "byte-order-mark.nc", warnings: "deep-at-once no-path-mode"},
		{name: "centres", file: "centres-from-start.nc", warnings: "deep-at-once no-path-mode"},
		{name: "no G90", file: "no-distance-mode.nc", errors: "unstated-mode", warnings: "deep-at-once no-path-mode", hint: "write G90"},
		{name: "no G17", file: "no-plane.nc", errors: "unstated-mode", warnings: "deep-at-once no-path-mode", hint: "write G17"},
		{name: "G64", file: "rounded-corners.nc", errors: "rounds-corners", warnings: "deep-at-once", hint: "write G61"},
		{name: "no dwell", file: "no-dwell.nc", warnings: "deep-at-once no-dwell no-path-mode", hint: "G4 P4"},
		{name: "ends low", file: "ends-low.nc", errors: "ends-low", warnings: "deep-at-once no-path-mode"},
		{name: "feed", file: "feed-high.nc", warnings: "deep-at-once feed-high no-path-mode", hint: "write F900"},
		{name: "rapid to z 0", file: "rapid-to-top.nc", warnings: "deep-at-once no-path-mode rapid-to-top"},
		{name: "travel at 0", file: "rapid-along-top.nc", errors: "rapid-in-stock", warnings: "deep-at-once no-path-mode"},
		{name: "milliseconds", file: "dwell-in-milliseconds.nc", warnings: "deep-at-once long-dwell no-path-mode", hint: "write G4 P4"},
		{name: "another zero", file: "zero-of-the-board.nc", errors: "gouge missed", warnings: "deep-at-once no-path-mode", hint: `everything is off by 100 mm in x and 60 mm in y: is zero = "board" meant?`},
		{name: "the board's zero", file: "zero-of-the-board.nc", job: zeroBoard, warnings: "deep-at-once no-path-mode"},
		{name: "full depth at once", file: "full-depth-at-once.nc", warnings: "deep-at-once no-path-mode", hint: "steps of at most 1.5 mm"},
		{name: "S1", file: "one-turn-a-minute.nc", errors: "spindle-speed", warnings: "deep-at-once no-path-mode", hint: "S16000"},
	})
}

// zeroBoard makes the board's corner the job's zero.
var zeroBoard = []string{"[program]\n", "[program]\nzero = \"board\"\n"}

// zeroAt says where the program's zero is in the machine.
var zeroAt = []string{"[program]\n", "[program]\nat = [300, 200, -40]\n"}

// A program in inches is judged in inches, and the feed that a hint proposes is one:
// 250 mm/min are 9.8425 inches per minute.
func TestInchProgramByHand(t *testing.T) {
	job := handText(t, "lid-in-inches.toml") + "\n[program]\nfeed = \"1000 mm\"\nplunge = \"250 mm\"\n"
	text := handText(t, "fast-plunge-in-inches.nc")
	r, report := build.DryRun("lid.toml", []byte(job), nil, build.ProgramFile{Name: "lid.nc", Text: []byte(text)})
	if !r.OK() || ruleSet(report.Findings, diag.Error) != "plunge-fast" {
		t.Fatal(r.Findings, report.Findings)
	}
	f := report.Findings[slices.IndexFunc(report.Findings, func(f diag.Finding) bool { return f.Severity == diag.Error })]
	if !strings.Contains(f.Message, "plunges at 30 in/min") || !strings.HasPrefix(f.Hint, "write F9.84 ") {
		t.Errorf("%v\n%s", f, f.Hint)
	}
	for _, f := range report.Findings {
		if strings.Contains(f.Message+f.Hint, "mm") {
			t.Errorf("%v\n%s", f, f.Hint)
		}
	}
	if _, report = build.DryRun("lid.toml", []byte(job), nil, build.ProgramFile{Name: "lid.nc", Text: []byte(strings.ReplaceAll(text, "F30", "F9.84"))}); !report.OK() {
		t.Error(report.Findings)
	}
}

var (
	words   = regexp.MustCompile(`([XYZIJF])(-?[\d.]+)`)
	comment = regexp.MustCompile(`\(.*\)`)
)

// inInches is a program in mm as one in inches, to the sixth decimal.
func inInches(text string) string {
	text = words.ReplaceAllStringFunc(comment.ReplaceAllString(text, ""), func(w string) string {
		mm, err := strconv.ParseFloat(w[1:], 64)
		if err != nil {
			panic(err) // the expression takes numbers only
		}
		return w[:1] + strconv.FormatFloat(mm/25.4, 'f', 6, 64)
	})
	return strings.Replace(text, "G21", "G20", 1)
}

// replacing changes every such text.
func replacing(pairs ...string) func(string) string {
	return strings.NewReplacer(pairs...).Replace
}

// inIncrements is the bar cut in increments.
var inIncrements = map[string]string{
	"N60": "G91|G0 Z-10", "N70": "G1 Z-2 F200", "N80": "G1 X97 Z-1.5 F900", "N90": "Y2", "N100": "X-97", "N110": "Y-2", "N120": "X97",
	"N130": "X-97 Z-1.5", "N140": "X97", "N150": "Y2", "N160": "X-97", "N170": "Y-2|G90",
}

const head = "G21 G17 G90 G94 G40 G49 G54"

// What does no harm passes, and without a warning where nothing is to look at.
func TestHarmlessPrograms(t *testing.T) {
	runRows(t, []handRow{
		{name: "lower case", all: strings.ToLower},
		{name: "no blanks", all: replacing(" ", "")},
		{name: "blanks in words", all: replacing("X-48.5", "X - 4 8 . 5", "G1 ", "G 0 1", "N", " N ")},
		{name: "tabs", all: replacing(" ", "\t")},
		{name: "CRLF", all: replacing("\n", "\r\n")},
		{name: "CR", all: replacing("\n", "\r")},
		{name: "mark", all: func(s string) string { return "\ufeff" + s }},
		{name: "decimals", all: replacing("X31", "X31.0000", "Y0", "Y00.000", "Z-3", "Z-03.", "G1 ", "G01 ", "M3 ", "M03 ")},
		{name: "plus signs", all: replacing("X48.5", "X+48.5", "Z12", "Z+12")},
		{name: "no line numbers", all: func(s string) string { return regexp.MustCompile(`(?m)^N\d+ `).ReplaceAllString(s, "") }},
		{name: "line numbers of six digits", all: func(s string) string { return strings.ReplaceAll(s, "\nN", "\nN100") }, warnings: "line-number", hint: "1 to 99999"},
		{name: "program number", all: replacing("%\n(hand", "%\nO0001 (HAND)\n(hand")},
		{name: "no percent", all: replacing("%\n", "")},
		{name: "words behind the end", lines: map[string]string{"N300": "M30|G0 Z-99 #!"}},
		{name: "M2", lines: map[string]string{"N300": "M2"}},
		{name: "comments", all: replacing("\nN", "\n(G0 Z-50)\nN", "F900", "F900 ; fast", "Z12", "Z12 (up)")},
		{name: "blank lines", all: replacing("\n", "\n\n \t\n")},
		{name: "radius", all: replacing("I-31 J0", "R31", "I31 J0", "R31")},
		{name: "inverse time", lines: map[string]string{"N80": "G93 G1 X48.5 Z-1.5 F9.2|G94 F900"}},
		{name: "inches", all: inInches},
		{name: "increments", lines: inIncrements},
		{name: "centres from the start", lines: map[string]string{"N10": head + " G61 G91.1"}},
		{name: "modes line by line", lines: map[string]string{"N10": strings.ReplaceAll(head+" G61", " ", "|")}},
		{name: "plane stated late", lines: map[string]string{"N10": "G21 G90 G94 G54 G61", "N190": "G17 G0 X31 Y0"}},
		{name: "another plane first", lines: map[string]string{"N10": "G18 G21 G90 G94 G54 G61", "N190": "G17 G0 X31 Y0"}},
		{name: "G90 with the first move", lines: map[string]string{"N10": "G21 G17 G94 G54 G61", "N20": "G90 G0 Z12"}},
		{name: "the few words that are needed", lines: map[string]string{"N10": "G21 G17 G90 G54 G61"}},
		{name: "exact stop", lines: map[string]string{"N10": head + " G61.1"}},
		{name: "corners by 4 thousandths", lines: map[string]string{"N10": head + " G64 P0.004"}},
		{name: "corners by 5 thousandths", lines: map[string]string{"N10": head + " G64 P0.005"}},
		{name: "corners in inches", lines: map[string]string{"N10": head + " G64 P0.00019"}, all: inInches},
		{name: "G64 above the wood", lines: map[string]string{"N10": head + " G64", "N60": "G61 G0 Z2"}},
		{name: "path mode of the machine", lines: map[string]string{"N10": head}, machine: `path = "none"`},
		{name: "modes of the machine", lines: map[string]string{"N10": "G21"}, machine: `starts_with = ["G17", "G90", "G54", "G61"]`},
		{name: "units of the machine", lines: map[string]string{"N10": "G17 G90 G54 G61"}, machine: `starts_with = ["G21"]`},
		{name: "lifted by the machine", lines: map[string]string{"N20": "G53 G0 Z0|G0 X0 Y0|G0 Z12"}},
		{name: "lifted by the machine at the end", lines: map[string]string{"N280": "G53 G0 Z0"}},
		{name: "spindle with a move", lines: map[string]string{"N20": "G0 Z12 M3 S16000", "N30": ""}},
		{name: "dwell with a move", lines: map[string]string{"N40": "", "N50": "G4 P4 G0 X-48.5 Y-1"}},
		{name: "two dwells", lines: map[string]string{"N40": "G4 P2|G4 P2"}},
		{name: "dwell of a minute", lines: map[string]string{"N40": "G4 P60"}},
		{name: "dwell in milliseconds", lines: map[string]string{"N40": "G4 P4000"}, machine: `dwell = "milliseconds"`},
		{name: "coolant, tool, overrides", lines: map[string]string{"N30": "T1 M3 S16000 M8 M48", "N290": "M5 M9"}},
		{name: "a pause above the wood", lines: map[string]string{"N180": "G0 Z12|M0"}},
		{name: "starts again", lines: map[string]string{"N180": "G0 Z12|M5|M1|M3 S16000|G4 P4"}},
		{name: "slower", all: replacing("F900", "F700")},
		{name: "three steps", lines: map[string]string{"N130": "X-48.5 Z-2|X48.5|Y1|X-48.5|Y-1|X48.5|X-48.5 Z-3"}},
		{name: "the same again", lines: map[string]string{"N265": "G3 X31 Y0 I31 J0|G3 X31 Y0 I-31 J0"}},
		{name: "ends at the top", lines: map[string]string{"N280": "G0 Z0"}},
		{name: "cut at the very top", lines: map[string]string{"N70": "G1 Z0 F200|X48.5 F900|X-48.5"}},
		{name: "away from the clamp", lines: map[string]string{"N180": "G0 Z12|G0 X-90 Y-50|G0 X0"}},
		{name: "half of the speed", lines: map[string]string{"N30": "M3 S8000"}},
	})
}

// What does harm is an error, or a warning where it may be meant.
func TestHarmfulPrograms(t *testing.T) {
	runRows(t, []handRow{
		// Modes that nobody stated.
		{name: "G90 behind the first move", lines: map[string]string{"N10": "G21 G17 G94 G54 G61", "N20": "G0 Z12|G90"}, errors: "unstated-mode", hint: "write G90"},
		{name: "no modes", lines: map[string]string{"N10": "G21"}, errors: "unstated-mode", warnings: "no-path-mode untold-origin"},
		{name: "no modes but the machine's", lines: map[string]string{"N10": "G21 G54 G61"}, machine: `starts_with = ["G17"]`, errors: "unstated-mode", hint: "write G90"},
		{name: "plane behind the first arc", lines: map[string]string{"N10": "G21 G90 G94 G54 G61", "N230": "G17 G3 X31 Y0 I31 J0"}, errors: "unstated-mode", hint: "write G17"},
		{name: "no plane, by the radius", lines: map[string]string{"N10": "G21 G90 G94 G54 G61"}, all: replacing("I-31 J0", "R31", "I31 J0", "R31"), errors: "unstated-mode"},
		{name: "another plane", lines: map[string]string{"N10": "G21 G18 G90 G94 G54 G61"}, errors: "plane", warnings: "missed", hint: "write G17"},
		{name: "no units", lines: map[string]string{"N10": "G17 G90 G94 G54 G61"}, errors: "units", hint: "write G21"},
		{name: "no path mode", lines: map[string]string{"N10": head}, warnings: "no-path-mode", hint: "write G61"},
		{name: "no origin", lines: map[string]string{"N10": "G21 G17 G90 G94 G61"}, warnings: "untold-origin"},
		{name: "another origin", lines: map[string]string{"N10": "G21 G17 G90 G94 G55 G61"}, errors: "wrong-origin"},
		// Corners that are rounded.
		{name: "corners by 0.02", lines: map[string]string{"N10": head + " G64 P0.02"}, errors: "rounds-corners", hint: "write G61"},
		{name: "corners by two amounts", lines: map[string]string{"N10": head + " G64 P0.004 Q0.004"}, errors: "rounds-corners"},
		{name: "corners by P0", lines: map[string]string{"N10": head + " G64 P0"}, errors: "rounds-corners"},
		{name: "corners by half a thousandth of an inch", lines: map[string]string{"N10": head + " G64 P0.0005"}, all: inInches, errors: "rounds-corners", hint: "G64 P0.00019"},
		{name: "corners at the second strand", lines: map[string]string{"N200": "G64 G0 Z2"}, errors: "rounds-corners"},
		// Rapids too low.
		{name: "along the top", lines: map[string]string{"N180": "G0 Z0"}, errors: "rapid-in-stock"},
		{name: "a ten-millionth above it", lines: map[string]string{"N180": "G0 Z0.0000001"}, errors: "rapid-in-stock"},
		{name: "a hundred-thousandth above it", lines: map[string]string{"N180": "G0 Z0.00001"}, warnings: "low-travel"},
		{name: "below it", lines: map[string]string{"N180": "G0 Z-0.5"}, errors: "rapid-in-stock"},
		{name: "at the clamp's top", lines: map[string]string{"N180": "G0 Z6|G0 X-90 Y-50|G0 X0|G0 Z12"}, errors: "hits-clamp", warnings: "low-travel"},
		{name: "rapid to the top", lines: map[string]string{"N200": "G0 Z0"}, warnings: "rapid-to-top"},
		{name: "rapid into the wood", lines: map[string]string{"N200": "G0 Z-0.5"}, errors: "rapid-down"},
		{name: "rapid for a cut", lines: map[string]string{"N140": "G0 X48.5"}, errors: "rapid-in-stock"},
		{name: "first move below the clamp", lines: map[string]string{"N20": "G0 Z5"}, warnings: "blind-start low-travel", hint: "alone as the first move"},
		{name: "lifted by the machine, not to its top", lines: map[string]string{"N180": "G53 G0 Z-60"}, warnings: "unknown-height", hint: "write G53 G0 Z0"},
		{name: "lifted by the machine into the wood", lines: map[string]string{"N180": "G53 G0 Z-41"}, job: zeroAt, errors: "rapid-in-stock"},
		{name: "lifted by the machine too low", lines: map[string]string{"N180": "G53 G0 Z-35"}, job: zeroAt, warnings: "low-travel"},
		{name: "first move at no height", lines: map[string]string{"N20": ""}, warnings: "unknown-height"},
		// The spindle and its dwell.
		{name: "spindle left off", lines: map[string]string{"N30": "S16000"}, errors: "spindle-off"},
		{name: "spindle the wrong way", lines: map[string]string{"N30": "M4 S16000"}, errors: "spindle-way"},
		{name: "no speed", lines: map[string]string{"N30": "M3"}, errors: "spindle-speed"},
		{name: "under half of the speed", lines: map[string]string{"N30": "M3 S7000"}, machine: "decimals = 4", warnings: "spindle-slow", hint: "S16000"},
		{name: "spindle too fast", lines: map[string]string{"N30": "M3 S30000"}, errors: "spindle-speed"},
		{name: "spindle started in the wood", lines: map[string]string{"N30": "", "N40": "", "N80": "G1 X48.5 Z-1.5 F900|M3 S16000|G4 P4"}, errors: "spindle-off spindle-start"},
		{name: "a dwell before the start", lines: map[string]string{"N30": "G4 P4", "N40": "M3 S16000"}, warnings: "no-dwell"},
		{name: "too short a dwell", lines: map[string]string{"N40": "G4 P1"}, warnings: "no-dwell"},
		{name: "seconds for milliseconds", machine: `dwell = "milliseconds"`, warnings: "no-dwell", hint: "P4000"},
		{name: "a dwell of 90 s", lines: map[string]string{"N40": "G4 P90"}, warnings: "long-dwell"},
		{name: "milliseconds for seconds", lines: map[string]string{"N40": "G4 P5000"}, warnings: "long-dwell", hint: "P5"},
		{name: "a pause in the wood", lines: map[string]string{"N150": "G1 Y1|M0"}, warnings: "pause-low"},
		{name: "a pause in the wood, if wanted", lines: map[string]string{"N150": "G1 Y1|M1"}, warnings: "pause-low"},
		// Feeds.
		{name: "no feed", all: replacing(" F200", "", " F900", ""), errors: "no-feed", warnings: "missed"},
		{name: "three times the feed", lines: map[string]string{"N220": "G3 X-31 Y0 I-31 J0 Z-1.5 F2700"}, warnings: "feed-high", hint: "write F900"},
		{name: "beyond the machine's feed", lines: map[string]string{"N80": "G1 X48.5 Z-1.5 F4500"}, errors: "feed-fast"},
		{name: "plunge at the feed", lines: map[string]string{"N70": "G1 Z-1 F900"}, errors: "plunge-fast"},
		{name: "feed in inches", lines: map[string]string{"N80": "G20|G1 X1.909449 Z-0.059055 F90|G21|F900"}, warnings: "feed-high"},
		// Depths and places.
		{name: "too deep", lines: map[string]string{"N130": "X-48.5 Z-3.2"}, errors: "too-deep"},
		{name: "through the board", lines: map[string]string{"N130": "X-48.5 Z-11"}, errors: "beyond-reach through-board too-deep"},
		{name: "full depth at once", lines: map[string]string{"N80": "G1 X48.5 Z-3 F900"}, warnings: "deep-at-once", hint: "1.5 mm"},
		{name: "the inner wall at once", lines: map[string]string{"N232": "", "N234": "", "N236": ""}, warnings: "deep-at-once"},
		{name: "two steps at once on the ring", lines: map[string]string{"N220": "G3 X-31 Y0 I-31 J0 Z-3 F900"}, warnings: "deep-at-once", hint: "1.5"},
		{name: "half a step too much", lines: map[string]string{"N80": "G1 X48.5 Z-2.25 F900"}, warnings: "deep-at-once"},
		{name: "straight down to full depth", lines: map[string]string{"N70": "G1 Z-3 F200", "N80": "G1 X48.5 F900"}, warnings: "deep-at-once"},
		{name: "a deeper step that the job wants", file: "full-depth-at-once.nc", job: []string{"[program]\n", "[program]\nstep = 3\n"}, warnings: "no-path-mode"},
		{name: "too shallow", lines: map[string]string{"N130": "X-48.5 Z-2.9"}, errors: "missed"},
		{name: "a pass is missing", lines: map[string]string{"N270": "", "N275": ""}, errors: "missed"},
		{name: "half a millimetre out", lines: map[string]string{"N150": "G1 Y1.5"}, errors: "gouge"},
		{name: "the wrong way round", lines: map[string]string{"N250": "G2 X31 Y0 I31 J0", "N265": "G2 X31 Y0 I31 J0"}, errors: "missed"},
		{name: "increments left on", lines: map[string]string{"N170": "G91 G1 Y-2"}, errors: "arc-rule", warnings: "low-travel missed"},
		{name: "inches for mm", lines: map[string]string{"N10": strings.Replace(head, "G21", "G20", 1) + " G61"}, errors: "beyond-reach feed-fast gouge missed out-of-travel plunge-fast through-board too-deep", hint: "G21"},
		{name: "mm for inches", all: func(s string) string { return strings.Replace(inInches(s), "G20", "G21", 1) }, errors: "gouge missed", warnings: "blind-start low-travel", hint: "G20"},
		{name: "the motif's zero", job: zeroBoard, errors: "gouge hits-clamp missed", hint: "everything is off by"},
		{name: "out of the machine", lines: map[string]string{"N180": "G0 Z12|G0 X590"}, errors: "out-of-travel"},
		// Ends.
		{name: "ends a millimetre deep", lines: map[string]string{"N280": "G0 Z-1"}, errors: "ends-low"},
		{name: "no end", lines: map[string]string{"N300": ""}, all: replacing("%\n", ""), errors: "no-end"},
		{name: "cut off in the wood", all: func(s string) string { return s[:strings.Index(s, "N280")] }, errors: "ends-low no-end"},
		{name: "no end but the percent sign, in the wood", lines: map[string]string{"N280": "", "N290": "", "N300": ""}, errors: "ends-low"},
		// Words that are not read.
		{name: "decimal comma", lines: map[string]string{"N80": "G1 X48,5 Z-1,5 F900"}, errors: "character", hint: "X48.5"},
		{name: "centres as places", lines: map[string]string{"N10": head + " G61 G90.1"}, errors: "g-word", hint: "from the start of each arc"},
		{name: "origin shifted", lines: map[string]string{"N20": "G92 Z0"}, errors: "g-word"},
		{name: "home", lines: map[string]string{"N280": "G28 Z0"}, errors: "g-word"},
		{name: "compensation", lines: map[string]string{"N80": "G41 D1 G1 X48.5 Z-1.5 F900"}, errors: "g-word"},
		{name: "tool change", lines: map[string]string{"N30": "T1 M6|M3 S16000"}, errors: "m-word"},
		{name: "subprogram", lines: map[string]string{"N180": "G0 Z12|M98 P1000"}, errors: "m-word"},
		{name: "loop", lines: map[string]string{"N180": "G0 Z12|O100 repeat [2]"}, errors: "o-word"},
		{name: "parameter", lines: map[string]string{"N60": "G0 Z#5"}, errors: "parameter"},
		{name: "across by the machine's coordinates", lines: map[string]string{"N20": "G53 G0 X0 Y0 Z0"}, errors: "g-word", hint: "G53 G0 Z0"},
		{name: "block delete", lines: map[string]string{"N150": "/G1 Y1"}, errors: "block-delete", warnings: "missed"},
	})
}

package build_test

// What becomes of a good program that was spoilt: faults put in one by one must
// each be reported at their line, and of many blind changes none may be both harmful
// and accepted. Harm is judged here, by points along the moves.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
)

// crossJob is a bar over an arc: two strands, one crossing, free ends.
const crossJob = `title = "Bar and bow for a box lid"
units = "mm"
[motif]
[[motif.line]]
name = "bar"
from = [-42, 0]
to = [42, 0]
[[motif.arc]]
name = "bow"
center = [0, -30]
radius = 40
start = 30
sweep = 120
[inlay]
depth = 2
width = 4
[router]
guide = "bushing"
rider = 10
bit = 3
flute = 20
shank = 6
[board]
size = [120, 80]
thickness = 12
origin = [60, 40]
[template]
wall = 6
[program]
machine = "./machine.toml"
feed = 1000
plunge = 250
speed = 16000
at = [100, 100, -60]
zero = "motif"
[[stock.clamp]]
from = [-60, -40]
to = [-45, -25]
height = 30
`

// crossMachine is the machine of crossJob.
const crossMachine = `kind = "machine"
about = "a machine for this test"
units = "mm"
travel = [400, 300, 80]
feed = [3000, 800]
rapid = [4000, 1500]
acceleration = [300, 150]
spindle = [8000, 24000]
spin_up = 3
`

func crossFiles(path string) ([]byte, error) {
	if path != "./machine.toml" {
		return nil, fmt.Errorf("no file %q", path)
	}
	return []byte(crossMachine), nil
}

// goodProgram is crossJob's program.
func goodProgram(t testing.TB) (build.Result, string) {
	t.Helper()
	r := build.Build("cross.toml", []byte(crossJob), crossFiles, build.Options{Only: build.Programs})
	if !r.OK() {
		t.Fatal(r.Findings)
	}
	for _, f := range r.Files {
		if f.Path == build.GroovePath {
			return r, string(f.Data)
		}
	}
	t.Fatal("no program")
	return r, ""
}

// crossGraph grooves crossJob once for all its dry runs.
var crossGraph = build.NewGraph(crossFiles)

func dryRun(t testing.TB, text string) dryrun.Report {
	t.Helper()
	r, report := crossGraph.DryRun("cross.toml", []byte(crossJob), build.ProgramFile{Name: "groove.nc", Text: []byte(text)})
	if !r.OK() {
		t.Fatal(r.Findings)
	}
	return report
}

// A seed is one fault put into a good program.
type seed struct {
	name string
	from string // the text of the line that is changed, as a whole
	nth  int    // which of the lines that read so, from 0
	to   string // what it becomes; "" takes it away
	rule string // of the fault that must be told
	// off is how many lines behind the changed one the fault is reported; wholly says
	// that it is about the whole program and is reported at its last line.
	off    int
	wholly bool
	amount float64 // of the greatest gouge; 0: not looked at
}

// seeds are faults of the kinds that programs have. The lines are those of
// crossJob's program.
var seeds = []seed{
	{name: "rapid into the wood", from: "G1 Z0.0 F250.0", to: "G0 Z-1.0", rule: "rapid-down"},
	{name: "rapid through the wood", from: "G2 X34.3 Y-8.4649 I34.3 J-21.5351", to: "G0 X34.3 Y-8.4649", rule: "rapid-in-stock"},
	{name: "down between strands", from: "G0 Z10.0", nth: 2, to: "G0 Z-1.0", rule: "rapid-down"},
	{name: "gouge of 0.05 mm", from: "X-40.5 Y0.5", to: "X-40.5 Y0.55", rule: "gouge", amount: 0.05},
	{name: "gouge by an arc", from: "G3 X-33.4333 Y-8.9652 I-33.4333 J-21.0348", to: "G3 X-33.4333 Y-8.9652 I-33.4333 J-22.0348", rule: "gouge"},
	{name: "missed pass along a wall", from: "X40.5", to: "", rule: "missed", wholly: true},
	{name: "too deep", from: "X-40.35 Z-2.0", to: "X-40.35 Z-2.5", rule: "too-deep"},
	{name: "too shallow", from: "X-40.35 Z-2.0", to: "X-40.35 Z-1.9", rule: "missed", wholly: true},
	{name: "out of travel", from: "X40.5", to: "X401.0", rule: "out-of-travel"},
	{name: "G2 and G3 swapped", from: "G2 X34.3 Y-8.4649 I34.3 J-21.5351", to: "G3 X34.3 Y-8.4649 I34.3 J-21.5351", rule: "gouge"},
	{name: "inches for mm", from: "G21 G17 G90 G94", to: "G20 G17 G90 G94", rule: "gouge", off: 9},
	{name: "no feed", from: "G1 Z0.0 F250.0", to: "G1 Z0.0", rule: "no-feed"},
	{name: "plunge too fast", from: "G1 Z0.0 F250.0", to: "G1 Z-1.0 F900.0", rule: "plunge-fast"},
	{name: "spindle left off", from: "S16000 M3", to: "S16000", rule: "spindle-off", off: 6},
	{name: "spindle the wrong way", from: "S16000 M3", to: "S16000 M4", rule: "spindle-way", off: 6},
	{name: "spindle too slow", from: "S16000 M3", to: "S1600 M3", rule: "spindle-speed", off: 6},
	{name: "feed beyond the machine's", from: "X-32.002 Z-0.4375 F1000.0", to: "X-32.002 Z-0.4375 F3100.0", rule: "feed-fast"},
	{name: "another origin", from: "G40 G49 G80 G54 G61", nth: 1, to: "G40 G49 G80 G55 G61", rule: "wrong-origin", off: 1},
}

// TestSeededFaults puts one fault at a time into a good program. Each must be reported
// at its own line, by its own rule.
func TestSeededFaults(t *testing.T) {
	_, good := goodProgram(t)
	if report := dryRun(t, good); !report.OK() {
		t.Fatalf("the good program has faults:\n%v", report.Findings)
	}
	for _, s := range seeds {
		t.Run(s.name, func(t *testing.T) {
			text, line := planted(t, good, s)
			report := dryRun(t, text)
			if s.wholly {
				line = strings.Count(text, "\n")
			} else {
				line += s.off
			}
			if !reported(report, s.rule, line) {
				t.Errorf("no fault %q at line %d:\n%v", s.rule, line, report.Findings)
			}
			if got := report.GougeMax.Amount; s.amount > 0 && math.Abs(got-s.amount) > 1e-3 {
				t.Errorf("a gouge of %.4f mm is reported as %.4f", s.amount, got)
			}
		})
	}
	t.Run("cut off", func(t *testing.T) {
		lines := strings.SplitAfter(good, "\n")
		report := dryRun(t, strings.Join(lines[:len(lines)/2], ""))
		if report.OK() {
			t.Error("half a program is accepted")
		}
	})
	t.Run("clamp in the way", func(t *testing.T) {
		crossing := strings.Replace(crossJob, "from = [-60, -40]\nto = [-45, -25]", "from = [20, -5]\nto = [30, 5]", 1)
		_, report := build.DryRun("cross.toml", []byte(crossing), crossFiles, build.ProgramFile{Name: "groove.nc", Text: []byte(good)})
		want := 1 + strings.Count(good[:strings.Index(good, "\nG2 X34.0899 Y-8.4129")+1], "\n")
		if !reported(report, "hits-clamp", want) {
			t.Errorf("no clamp at line %d:\n%v", want, report.Findings)
		}
	})
}

// planted is a program with a fault, and the line that has it.
func planted(t *testing.T, text string, s seed) (string, int) {
	t.Helper()
	lines := strings.Split(text, "\n")
	nth := s.nth
	for i, line := range lines {
		if line != s.from {
			continue
		}
		if nth--; nth < 0 {
			lines[i] = s.to
			return strings.Join(lines, "\n"), i + 1
		}
	}
	t.Fatalf("the program has no line %q", s.from)
	return "", 0
}

// told reports whether a fault by some rule is told at a line.
func reported(r dryrun.Report, rule string, line int) bool {
	for _, f := range r.Findings {
		if f.Severity == diag.Error && f.Rule == rule && f.Pos.Line == line {
			return true
		}
	}
	return false
}

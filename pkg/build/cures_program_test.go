package build

// Hints about a program that name a word's value, written into its line.

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// A slip makes a program of ours wrong by a word, once or all over.
type slip struct {
	rule     string
	old, new string // a regular expression, and what stands in its place
}

var spoiltPrograms = []slip{
	{"plunge-fast", `G1 Z0\.0 F[0-9.]+`, "G1 Z-0.01 FMUCH"},
	{"feed-high", `(?m)^(G[23] .*F)[0-9.]+`, "${1}MUCH"},
	{"feed-fast", `(?m)^(G[23] .*F)[0-9.]+`, "${1}TOOMUCH"},
	{"spindle-slow", `S[0-9]+`, "S10500"},
	{"spindle-speed", `S[0-9]+`, "S99000"},
	{"no-dwell", `G4 P[0-9.]+\n`, ""},
	{"no-dwell", `G4 P[0-9.]+`, "G4 P0.01"},
	{"long-dwell", `G4 P[0-9.]+`, "G4 P4000"},
	{"rapid-to-top", `(?m)^(Z)[0-9.]+$`, "${1}0.0"},
}

// wordToWrite is what a hint has one write: a word, alone or behind a G word.
var wordToWrite = regexp.MustCompile(`write (G[04] )?([FSPZ])([0-9.]*[0-9])`)

// worded is a program with the word of a hint written at a line.
func worded(program, hint string, line int) (string, bool) {
	m := wordToWrite.FindStringSubmatch(hint)
	if m == nil {
		return "", false
	}
	lines := strings.Split(program, "\n")
	word := regexp.MustCompile(m[2] + `-?[0-9.]+`)
	switch l := lines[line-1]; {
	case word.MatchString(l):
		lines[line-1] = word.ReplaceAllString(l, m[2]+m[3])
	case m[1] == "G4 ": // a line of its own: after the spindle's start
		at := slices.IndexFunc(lines, func(l string) bool { return strings.Contains(l, "M3") })
		lines = slices.Insert(lines, at+1, m[1]+m[2]+m[3])
	default:
		lines[line-1] = l + " " + m[2] + m[3]
	}
	return strings.Join(lines, "\n"), true
}

// TestCuresOfPrograms spoils a program, in both units, and writes what the hints say
// until the finding is gone: a word that holds for more than one line is written in
// each that is named.
func TestCuresOfPrograms(t *testing.T) {
	const most = 40
	written := 0
	for _, s := range []unit.System{unit.MM, unit.Inch} {
		machine, much := "machine-600x900", [2]string{"2600", "7000"}
		if s == unit.Inch {
			machine, much = "machine-16x12in", [2]string{"75", "190"}
		}
		job := strings.Replace(wrong{keys: `program.plunge = <240>; program.speed = 24000; inlay.depth = <3>`}.job(s, seeded(7)), "[program]", "[program]\nmachine = \""+machine+"\"", 1)
		r := Build("job.toml", []byte(job), os.ReadFile, Options{Only: Programs})
		i := slices.IndexFunc(r.Files, func(f File) bool { return f.Path == GroovePath })
		if !r.OK() || i < 0 {
			t.Fatalf("%s: %s", s, r.Findings.Error())
		}
		for _, sp := range spoiltPrograms {
			pattern := regexp.MustCompile(sp.old)
			with := strings.NewReplacer("TOOMUCH", much[1], "MUCH", much[0]).Replace(sp.new)
			text := pattern.ReplaceAllString(string(r.Files[i].Data), with)
			seen := 0
			for range most {
				f, found := firstOf(job, text, sp.rule)
				if !found {
					break
				}
				seen++
				next, ok := worded(text, f.Hint, f.Pos.Line)
				if !ok || next == text {
					t.Errorf("%s, %s: %s\n\t%s: nothing to write", s, sp.rule, f.Error(), f.Hint)
					break
				}
				written++
				was := text
				text = next
				if again, still := firstOf(job, text, sp.rule); still && again.Pos.Line <= f.Pos.Line {
					t.Errorf("%s, %s: %s\n\t%s: it is still there\n\t%s", s, sp.rule, f.Error(), f.Hint, lineOf(was, f.Pos.Line))
					break
				}
			}
			if seen == 0 || seen == most {
				t.Errorf("%s, %s: found %d times", s, sp.rule, seen)
			}
		}
	}
	t.Logf("%d words written", written)
}

// firstOf is the first finding of a rule about a program.
func firstOf(job, program, rule string) (diag.Finding, bool) {
	_, report := curing.DryRun("job.toml", []byte(job), ProgramFile{Name: "p.nc", Text: []byte(program)})
	for _, f := range report.Findings {
		if f.Rule == rule {
			return f, true
		}
	}
	return diag.Finding{}, false
}

func lineOf(text string, n int) string { return fmt.Sprint(n, ": ", strings.Split(text, "\n")[n-1]) }

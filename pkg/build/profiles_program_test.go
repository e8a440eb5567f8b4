package build_test

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/internal/witness"
)

// bench is what the three machines have in common.
const bench = `kind = "machine"
travel = [[-700, 700], [-700, 700], [-100, 0]]
feed = [3000, 1000]
rapid = [5000, 1500]
acceleration = [300, 150]
spindle = [8000, 24000]
spin_up = 4
`

// threeMachines want their programs in three ways.
var threeMachines = map[string]string{
	"mm":     bench + "about = \"arcs in mm\"\nunits = \"mm\"\n",
	"inches": bench + "about = \"inches, level arcs\"\nunits = \"in\"\nhelix = false\ndwell_again = 0\nrewind = true\npark = [12.7, 25.4]\n",
	"lines":  bench + "about = \"lines only\"\nunits = \"mm\"\narcs = false\nhelix = false\nchord = 0.008\ndecimals = 3\npercent = true\nline_numbers = true\npark = [0, 0]\ndwell_again = 1\npath = \"none\"\n",
}

// programmed are all jobs that come with strapwork, the README's among them, with a
// program's table that names a machine in another file.
func programmed(t *testing.T) map[string]string {
	t.Helper()
	all := jobs(t)
	for name, text := range all {
		if strings.Contains(text, "[program]") {
			t.Fatalf("%s has a program of its own", name)
		}
		all[name] = text + "\n[program]\nmachine = \"./machine.toml\"\nwiden = \"0.1 mm\"\nsplit = \"depth\"\n"
	}
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	job := all["looped-triangle.toml"][:strings.Index(all["looped-triangle.toml"], "\n[program]")]
	for _, block := range regexp.MustCompile("(?s)```toml\n(.*?)```").FindAllStringSubmatch(string(readme), -1) {
		if text := block[1]; strings.HasPrefix(text, "[program]") {
			job += "\n" + regexp.MustCompile(`machine = "[^"]*"`).ReplaceAllString(text, `machine = "./machine.toml"`)
		}
	}
	all["README"] = job
	return all
}

func programsOf(r build.Result) []build.File {
	return slices.DeleteFunc(slices.Clone(r.Files), func(f build.File) bool { return f.Kind != build.Program })
}

// longInLines are the jobs whose programs have the most moves where arcs are cut as lines:
// as much as all others'. JOBS=all asks for them too.
var longInLines = []string{"guitar-rosette.toml", "knot-lid.toml", "rosette.toml"}

// TestProgramsForThreeMachines: every program of every job, for three machines, is
// read and judged without an error or a warning, has what the machine wants, and
// moves as a second reader has it.
func TestProgramsForThreeMachines(t *testing.T) {
	witness.Node(t, "toolpath.js", "gcode-toolpath") // or none of it
	var programs, moves atomic.Int64
	t.Run("each", func(t *testing.T) { // ends when all of them have
		for name, text := range programmed(t) {
			for machine, profile := range threeMachines {
				if machine == "lines" && slices.Contains(longInLines, name) && os.Getenv("JOBS") != "all" {
					continue
				}
				t.Run(name+" in "+machine, func(t *testing.T) {
					t.Parallel()
					r := build.Build(name, []byte(text), func(string) ([]byte, error) { return []byte(profile), nil }, build.Options{Only: build.Programs})
					for _, f := range r.Findings {
						if f.Severity == diag.Error || f.Severity == diag.Warning && strings.HasPrefix(f.Pos.File, "program/") {
							t.Error(f)
						}
					}
					files := programsOf(r)
					for _, f := range files {
						if what := unlike(machine, f.Data); what != "" {
							t.Errorf("%s %s", f.Path, what)
						}
					}
					programs.Add(int64(len(files)))
					moves.Add(int64(agreeWithSecond(t, r, files...)))
				})
			}
		}
	})
	t.Logf("%d programs, %d moves", programs.Load(), moves.Load())
	if programs.Load() < 100 || moves.Load() < 50_000 {
		t.Errorf("only %d programs with %d moves", programs.Load(), moves.Load())
	}
}

// unlike says in what a program isn't as a machine wants it; "" if in nothing.
func unlike(machine string, program []byte) string {
	words := regexp.MustCompile(`(?m)\([^)]*\)|^N[0-9]+ `).ReplaceAll(program, nil)
	has := func(pattern string) bool { return regexp.MustCompile("(?m)" + pattern).Match(words) }
	switch machine {
	case "mm":
		if !has("^G21 G17 G90 G94$") || !has("^G40 G49 G80 G54 G61$") || has("^%") || has("^G0 X0.0 Y0.0\nM2$") {
			return "isn't plain"
		}
	case "inches":
		if !has("^G20 G17 G90 G94$") || !has("^(G0 )?X0.5 Y1.0\nM30$") || has("^G4 P[^4]") || regexp.MustCompile(`G[23] .*Z|^X.*Z.*I`).Match(words) {
			return "isn't in inches, with level arcs and one wait, back to where it rests"
		}
	case "lines":
		lines := bytes.Split(bytes.TrimSuffix(program, []byte("\n")), []byte("\n"))
		if n := len(lines); string(lines[0]) != "%" || string(lines[n-1]) != "%" || string(lines[n-2]) != fmt.Sprintf("N%d M2", n-1) || has("G[23] ") || has("G61") {
			return "isn't numbered lines between percent signs"
		}
	}
	return ""
}

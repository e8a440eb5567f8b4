package build_test

// The programs are followed by a witness: testdata/witness/program.py reads the
// words itself, and works out with shapely what the bit cuts and leaves.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/ngc"
)

// What program.py is asked; its docstring says what each means.
type followInput struct {
	Program     string       `json:"program"`
	Bit         float64      `json:"bit"`
	Depth       float64      `json:"depth"`
	GrooveWidth float64      `json:"groove_width"`
	Shift       [2]float64   `json:"shift"`
	Strands     []rollStrand `json:"strands"`
}

type followOutput struct {
	OvercutMax float64 `json:"overcut_max"`
	UncutMax   float64 `json:"uncut_max"`
	UncutArea  float64 `json:"uncut_area"`
	GrooveArea float64 `json:"groove_area"`
	Lowest     float64 `json:"lowest"`
	Length     float64 `json:"length"`
}

func follow(t *testing.T, in followInput, text []byte) followOutput {
	t.Helper()
	python := witness.Python(t, "ezdxf", "shapely")
	dir := t.TempDir()
	in.Program = "program.nc"
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "follow.json")
	for name, content := range map[string][]byte{path: data, filepath.Join(dir, in.Program): text} {
		if err := os.WriteFile(name, content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	out, err := witness.Run(python, witness.Script(t, "program.py"), path)
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var got followOutput
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// followNear in mm is how nearly the witness and the dry run must agree.
const followNear = 0.01

// programVariants are all jobs of testdata, each with another way of
// programming it besides the plain one.
func programVariants(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	lists := map[string][]string{
		"hall-table.toml":      {"zero = \"board\"\nrough = 0\nclimb = true"},
		"looped-triangle.toml": {"ramp = 0\norder = \"drawn\""},
		"rosette.toml":         {"rough = 0"},
		"box-lid.toml":         {"machine = \"./inches.toml\"\nstep = 0.5 ", "climb = true"},
		"box-ring.toml":        {"rough = 0.3"},
	}
	for name, text := range jobs(t) {
		all[name] = text
		for _, more := range lists[name] {
			all[name+": "+strings.ReplaceAll(more, "\n", ", ")] = text + "\n[program]\n" + more + "\n"
		}
	}
	// A small one, since the witness takes its time over many lines.
	all["cross: lines only"] = strings.Replace(crossJob, "./machine.toml", "./lines.toml", 1)
	return all
}

// chord in mm is the lines-only machine's.
const chord = 0.004

func machineFiles(path string) ([]byte, error) {
	switch path {
	case "./lines.toml":
		return []byte("kind = \"machine\"\nabout = \"lines only\"\nunits = \"mm\"\narcs = false\nchord = " + fmt.Sprint(chord) + "\ndecimals = 3\n"), nil
	case "./inches.toml":
		return []byte("kind = \"machine\"\nabout = \"inches\"\nunits = \"in\"\n"), nil
	}
	return noFiles(path)
}

// TestProgramsAgreeWithWitnesses: in every job's programs the dry run and a
// witness find the same cut and left; and a second reader the same moves.
func TestProgramsAgreeWithWitnesses(t *testing.T) {
	for name, text := range programVariants(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := build.Build(name, []byte(text), machineFiles, build.Options{Only: build.Programs})
			if !r.OK() {
				t.Fatal(r.Findings)
			}
			for _, f := range r.Files {
				if f.Path == build.GroovePath {
					agreeWithFollower(t, r, f.Data)
				}
			}
			agreeWithSecond(t, r, programsOf(r)...)
		})
	}
}

// agreeWithFollower holds the dry run against program.py.
func agreeWithFollower(t *testing.T, r build.Result, program []byte) {
	t.Helper()
	in := followInput{
		Bit: r.Groove.Size.Bit, Depth: r.Job.Inlay.Depth, GrooveWidth: r.Groove.Size.Width, Shift: xy(geom.Point(r.Grooving.Shift)),
	}
	for _, s := range r.Motif.Strands {
		in.Strands = append(in.Strands, rollStrandOf(s))
	}
	got, run := follow(t, in, program), r.Grooving.Run
	if math.Abs(got.OvercutMax-run.GougeMax.Amount) > followNear || got.OvercutMax > followNear {
		t.Errorf("the witness sees %.4f mm cut beyond the groove, the dry run %.4f", got.OvercutMax, run.GougeMax.Amount)
	}
	if math.Abs(got.UncutMax-run.LeftMax.Amount) > followNear {
		t.Errorf("the witness sees wood %.4f mm from the cut left, the dry run %.4f", got.UncutMax, run.LeftMax.Amount)
	}
	// Strips along the walls, of a program's last decimal or of its chords, are
	// areas too, which the dry run leaves out.
	near := 1e-4 * got.GrooveArea
	if r.Grooving.Machine.Chord > 0 {
		near = chord * run.Length
	}
	if math.Abs(got.UncutArea-run.LeftArea) > math.Max(near, 0.01) {
		t.Errorf("the witness sees %.4f mm2 left, the dry run %.4f", got.UncutArea, run.LeftArea)
	}
	if math.Abs(got.Lowest+in.Depth) > 1e-3 || math.Abs(got.Length-run.Length) > 0.01 {
		t.Errorf("the witness sees z %.4f and %.3f mm cut, the dry run %.4f and %.3f", got.Lowest, got.Length, run.Lowest, run.Length)
	}
}

// secondMove is what testdata/witness/toolpath.js prints of a move.
type secondMove struct {
	To     [3]float64  `json:"to"`
	Center *[2]float64 `json:"center"`
	Length float64     `json:"length"`
}

// agreeWithSecond: npm's gcode-toolpath, which shares no code with ours, finds
// the same ends, centres and lengths in some programs. It returns how many moves
// they have.
func agreeWithSecond(t *testing.T, r build.Result, files ...build.File) (moves int) {
	t.Helper()
	for i, theirs := range secondMoves(t, files) {
		f := files[i]
		ours, err := ngc.Dialect{DwellMillis: r.Grooving.Machine.DwellMillis}.ReadAll(bytes.NewReader(f.Data))
		if err != nil {
			t.Fatal(err)
		}
		ours = slices.DeleteFunc(ours, func(m ngc.Move) bool { return !m.Kind.Travels() })
		if len(ours) != len(theirs) || len(ours) == 0 {
			t.Fatalf("%s: %d moves, the second reader has %d", f.Path, len(ours), len(theirs))
		}
		for i, m := range ours {
			if what := disagree(m, theirs[i]); what != "" {
				t.Errorf("%s:%d: %s", f.Path, m.Line, what)
			}
		}
		moves += len(ours)
	}
	return moves
}

// secondMoves are the moves of each of some programs, by the second reader.
func secondMoves(t *testing.T, files []build.File) (all [][]secondMove) {
	t.Helper()
	node, script := witness.Node(t, "toolpath.js", "gcode-toolpath")
	dir, args := t.TempDir(), []string{script}
	for i, f := range files {
		path := filepath.Join(dir, fmt.Sprintf("%d.nc", i))
		if err := os.WriteFile(path, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	out, err := witness.Run(node, args...)
	if err != nil {
		t.Fatal(err)
	}
	for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
		var list []secondMove
		if err := d.Decode(&list); err != nil {
			t.Fatal(err)
		}
		all = append(all, list)
	}
	if len(all) != len(files) {
		t.Fatalf("%d of %d programs are read", len(all), len(files))
	}
	return all
}

// disagree says in what a move differs from the second reader's; "" if in nothing.
func disagree(m ngc.Move, w secondMove) string {
	const nano = 1e-8 // mm: what two orders of the same sums differ by, and more
	if m.To.Has(ngc.AxesXYZ) && (!m.To.Point().Near(geom.Pt(w.To[0], w.To[1]), nano) || math.Abs(m.To.Z-w.To[2]) > nano) {
		return fmt.Sprintf("to %v, the second reader has %v", m.To, w.To)
	}
	if (m.Kind == ngc.Arc) != (w.Center != nil) || w.Center != nil && !m.Center.Near(geom.Pt(w.Center[0], w.Center[1]), nano) {
		return fmt.Sprintf("about %v, the second reader has %v", m.Center, w.Center)
	}
	// Its arcs are as long as their first radius makes them, ours as the mean one:
	// they differ by no more than the 0.002 mm that the language allows.
	if length, known := m.Length(); known && math.Abs(length-w.Length) > nano+0.002*math.Abs(m.Sweep) {
		return fmt.Sprintf("%.6f mm long, the second reader has %.6f", length, w.Length)
	}
	return ""
}

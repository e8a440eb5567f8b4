package shop_test

// The programs are followed by a witness: testdata/witness/program.py reads the
// words itself, and works out with shapely what the bit cuts and leaves.

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/internal/witness"
	"strapwork/pkg/shop"
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
		"hall-table.toml":    {"zero = \"board\"\nrough = 0\nclimb = true"},
		"looped-square.toml": {"ramp = 0\norder = \"drawn\""},
		"rosette.toml":       {"rough = 0"},
		"box-lid.toml":       {"machine = \"./inches.toml\"\nstep = 0.5 ", "climb = true"},
		"box-ring.toml":      {"rough = 0.3"},
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

func TestProgramsAgreeWithWitness(t *testing.T) {
	for name, text := range programVariants(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := shop.Build(name, []byte(text), machineFiles, shop.Options{Only: shop.Programs})
			if !r.OK() {
				t.Fatal(r.Findings)
			}
			var program []byte
			for _, f := range r.Files {
				if f.Path == shop.GroovePath {
					program = f.Data
				}
			}
			in := followInput{
				Bit: r.Groove.Size.Bit, Depth: r.Job.Inlay.Depth, GrooveWidth: r.Groove.Size.Width, Shift: xy(r.Grooving.Shift),
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
		})
	}
}

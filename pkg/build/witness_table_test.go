package build_test

// Tables are put together by a witness: testdata/witness/table.py reads the sections' written
// drawings and programs, lays them side by side in every arrangement, and says whether the
// grooves meet at every joint and over and under alternate along every strand.

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/internal/witness"
)

// What table.py is asked; its docstring says what each means.
type tableInput struct {
	Width        float64                 `json:"width"`
	Groove       float64                 `json:"groove"`
	Bit          float64                 `json:"bit"`
	Depth        float64                 `json:"depth"`
	Sections     map[string]tableSection `json:"sections"`
	Layers       map[string]string       `json:"layers"`
	Arrangements [][]tablePlace          `json:"arrangements"`
}

type tableSection struct {
	Length    float64         `json:"length"`
	Drawing   string          `json:"drawing"`
	Program   string          `json:"program"`
	Zero      [2]float64      `json:"zero"`
	Crossings []tableCrossing `json:"crossings"`
}

type tableCrossing struct {
	At   [2]float64 `json:"at"`
	Over float64    `json:"over_deg"`
}

type tablePlace struct {
	Section string  `json:"section"`
	X       float64 `json:"x"`
	Turned  bool    `json:"turned"`
}

type tableOutput struct {
	Joints  int     `json:"joints"`
	Step    float64 `json:"step_max"`
	Program float64 `json:"program_step_max"`
	Overcut float64 `json:"overcut_area"`
	Uncut   float64 `json:"uncut_area"`
	Passed  int     `json:"passed"`
	Breaks  []any   `json:"breaks"`
	Strands int     `json:"strands"`
}

// assemble has a build's sections put together. turn exchanges over and under at one crossing
// of the first section that has one.
func assemble(t *testing.T, r build.Result, spoilt func(*tableInput)) tableOutput {
	t.Helper()
	python := witness.Python(t, "ezdxf", "shapely")
	dir := t.TempDir()
	in := tableInput{
		Width: r.Table.Table.Width, Groove: r.Job.Inlay.Width, Bit: r.Job.Router.Bit, Depth: r.Job.Inlay.Depth,
		Sections: map[string]tableSection{}, Layers: map[string]string{"groove": "OPENING", "centre": "MARK"},
	}
	for k, kind := range r.Table.Kinds {
		s := tableSection{Length: kind.Length, Drawing: build.SectionPath(kind.Name) + ".dxf", Program: build.SectionProgramPath(kind.Name), Crossings: []tableCrossing{}}
		zero := r.Grooving.BySection[k].Piece.Origin
		s.Zero = [2]float64{zero.X, zero.Y}
		cut := r.Sectioned[k]
		for i, c := range cut.Weave.Crossings {
			if cut.Index[i] >= 0 {
				_, along := cut.Motif.Strands[c.Upper().Strand].Contour.At(c.Upper().S)
				s.Crossings = append(s.Crossings, tableCrossing{[2]float64{c.At.X, c.At.Y}, math.Atan2(along.Y, along.X) * 180 / math.Pi})
			}
		}
		in.Sections[kind.Name] = s
	}
	for _, a := range r.Table.Arrangements {
		var list []tablePlace
		for _, p := range a.Sections {
			list = append(list, tablePlace{r.Table.Kinds[p.Kind].Name, p.X, p.Turned})
		}
		in.Arrangements = append(in.Arrangements, list)
	}
	if spoilt != nil {
		spoilt(&in)
	}
	for _, f := range r.Files {
		if f.Role == "section" || f.Role == "section-drawing" {
			path := filepath.Join(dir, filepath.FromSlash(f.Path))
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, f.Data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "table.json")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	text, err := witness.Run(python, witness.Script(t, "table.py"), path)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	var out tableOutput
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return out
}

// A groove's sides, as its drawing and its program have them, are out at no joint by more
// than this, in mm: what the tables promise.
const tableStep = 0.01

// tableJob is the text of a job of several stations.
func tableJob(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/tables/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestWitnessAssemblesTables(t *testing.T) {
	t.Parallel()
	whole := tableJob(t, "extending-table.toml")
	for name, c := range map[string]struct {
		text   string
		joints int // of all arrangements
		passed int // pairs of neighbouring crossings along all strands
	}{
		// 1 + 2 + 3 joints. A triangle crosses itself three times: 6 visits, 6 pairs; each link of two
		// adds two crossings, 4 pairs: 6, 12 + 4 and 18 + 8.
		"extending": {whole, 6, 48},
		// As typed at night.
		"two decimals": {strings.NewReplacer("ring = 80", "ring = 80.13", "radius = 65", "radius = 64.87", "turn = 30", "turn = 30.01").Replace(whole), 6, 48},
		// Two leaves that differ, and round ends: 1 + 2 + 2 + 3 joints. Triangles link over the first leaf
		// alone, which the second is too long for.
		"unlike and round": {strings.NewReplacer("length = 420\ncount = 2\nloose = true", "length = 420\nloose = true\n[[table.section]]\nname = \"long\"\nlength = 480\nloose = true",
			"length = 600\n", "length = 800\nend = \"round\"\n").Replace(whole), 8, 6 + (12 + 4) + 12 + (18 + 4)},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := build.Kept(c.text).Build("table.toml", []byte(c.text), build.Options{Only: build.Templates | build.Programs})
			if !r.OK() {
				t.Fatal(r.Findings)
			}
			got := assemble(t, r, nil)
			if got.Step > tableStep || got.Program > tableStep || got.Overcut > 1e-6 || got.Uncut > 0.05 || len(got.Breaks) > 0 {
				t.Errorf("%+v", got)
			}
			if got.Joints != c.joints || got.Passed != c.passed {
				t.Errorf("%d joints and %d pairs of crossings were looked at, want %d and %d", got.Joints, got.Passed, c.joints, c.passed)
			}
			if name != "extending" {
				return
			}
			// What is spoilt is found.
			if bad := assemble(t, r, func(in *tableInput) {
				in.Sections["leaf"].Crossings[0].Over += 60
			}); len(bad.Breaks) == 0 {
				t.Error("a crossing that is exchanged breaks nothing")
			}
			if bad := assemble(t, r, func(in *tableInput) {
				s := in.Sections["right"]
				s.Zero[1] += 0.2
				in.Sections["right"] = s
			}); bad.Program < 0.19 || bad.Overcut == 0 {
				t.Errorf("a program whose zero is 0.2 mm out: %+v", bad)
			}
		})
	}
}

package build_test

// The proof is held against an independent one: testdata/witness/roll.py reads
// the DXF files with ezdxf and rolls the rider with shapely, and shares no
// code with this program. dxf_audit.py has ezdxf audit the same files.

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/byhand"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/motif"
	"strapwork/pkg/sheet"
	"strapwork/pkg/work"
)

// What roll.py is asked; its docstring says what each means.
type rollInput struct {
	RiderRadius float64      `json:"rider_radius"`
	Bit         float64      `json:"bit"`
	GrooveWidth float64      `json:"groove_width"`
	Kerf        float64      `json:"kerf"`
	KerfBy      string       `json:"kerf_by"`
	Layer       string       `json:"layer"`
	Walls       []rollWall   `json:"walls"`
	Strands     []rollStrand `json:"strands"`
}

type rollWall struct {
	DXF       string         `json:"dxf"`
	Positions []rollPosition `json:"positions"`
}

type rollPosition struct {
	TurnDeg float64    `json:"turn_deg"`
	Flip    bool       `json:"flip"`
	Shift   [2]float64 `json:"shift"`
}

type rollStrand struct {
	Closed   bool          `json:"closed"`
	Elements []rollElement `json:"elements"`
}

type rollElement struct {
	Kind   string     `json:"kind"`
	From   [2]float64 `json:"from"`
	To     [2]float64 `json:"to"`
	Center [2]float64 `json:"center"`
	Radius float64    `json:"radius"`
	Start  float64    `json:"start"`
	Sweep  float64    `json:"sweep"`
	Corner bool       `json:"corner"`
}

type rollOutput struct {
	GrooveArea  float64 `json:"groove_area"`
	CutArea     float64 `json:"cut_area"`
	OvercutMax  float64 `json:"overcut_max"`
	UncutMax    float64 `json:"uncut_max"`
	UncutArea   float64 `json:"uncut_area"`
	OffsetError float64 `json:"offset_error"`
}

func xy(p geom.Point) [2]float64 { return [2]float64{p.X, p.Y} }

func rollStrandOf(s motif.Strand) rollStrand {
	out := rollStrand{Closed: s.Contour.Closed}
	for i, e := range s.Contour.Edges() {
		el := rollElement{Kind: "line", From: xy(e.A), To: xy(e.B), Corner: s.Corner[i]}
		if !e.IsLine() {
			el.Kind, el.Center, el.Radius = "arc", xy(e.Center()), e.Radius()
			el.Start, el.Sweep = e.A.Sub(e.Center()).Angle()*180/math.Pi, e.Sweep()*180/math.Pi
		}
		out.Elements = append(out.Elements, el)
	}
	return out
}

func rollInputOf(r build.Result) rollInput {
	in := rollInput{
		RiderRadius: r.Groove.Size.RiderRadius, Bit: r.Groove.Size.Bit, GrooveWidth: r.Groove.Size.Width,
		Kerf: r.Kerf(), KerfBy: "shop", Layer: r.Shop.Layer("OPENING").Name,
	}
	if in.Kerf > 0 {
		in.KerfBy = "me"
	}
	for _, p := range r.Set.Panels {
		w := rollWall{DXF: "templates/" + p.ID + "-wall.dxf"}
		for _, pos := range p.Positions {
			w.Positions = append(w.Positions, rollPosition{pos.TurnDeg, pos.Flip, [2]float64{pos.Shift.X, pos.Shift.Y}})
		}
		in.Walls = append(in.Walls, w)
	}
	for _, s := range r.Motif.Strands {
		in.Strands = append(in.Strands, rollStrandOf(s))
	}
	return in
}

// jobs returns the jobs that the tests build, by file name.
func jobs(t *testing.T) map[string]string {
	t.Helper()
	found := everyJob(t)
	if os.Getenv("JOBS") != "all" {
		for _, name := range build.Slowest {
			delete(found, name)
		}
	}
	return found
}

// everyJob are the texts of the jobs of testdata, by their files.
func everyJob(t *testing.T) map[string]string {
	t.Helper()
	paths, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no jobs: %v", err)
	}
	found := map[string]string{}
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		found[filepath.Base(p)] = string(data)
	}
	return found
}

// variants are jobs of testdata with a line changed, for what no maker would
// wish for but may have: a bit that fills the groove, the kerf left to the
// other side, another guide.
func variants(t *testing.T) map[string]string {
	t.Helper()
	all := jobs(t)
	vary := func(name, file string, swaps ...string) {
		text := all[file]
		for i := 0; i < len(swaps); i += 2 {
			if strings.Count(text, swaps[i]) != 1 {
				t.Fatalf("%s: %q occurs %d times in %s", name, swaps[i], strings.Count(text, swaps[i]), file)
			}
			text = strings.Replace(text, swaps[i], swaps[i+1], 1)
		}
		all[name] = text
	}
	vary("thin", "looped-triangle.toml", `bit = "1/8 in"`, `bit = 4.5`)
	vary("kerf by shop", "looped-triangle.toml", `kerf_by = "me"`, `kerf_by = "shop"`)
	vary("a router's kerf", "looped-triangle.toml", `profile = "laser-1300x900"`, `profile = "router-2440x1220"`, "kerf = 0.18 ", "kerf = 6 ")
	vary("base on stringing", "box-lid.toml", `guide = "bearing"`, "guide = \"base\"",
		`rider = "1/4 in"`, `rider = "1 in"`,
		"flute = \"1/4 in\"\n", "flute = \"1/2 in\"\n", "base = \"3 1/2 in\"\n", "")
	vary("thin stringing", "box-lid.toml", `bit = "3/32 in"`, `bit = "1/8 in"`)
	all["plait"] = strings.Replace(plaitJob(3, 2, 60, "guide = \"base\"\nrider = 100\nbit = \"1/8 in\""), "width = 2\n", "width = 5.08\n", 1)
	return all
}

// build builds a job that must come out whole.
func built(t *testing.T, name, text string, o build.Options) build.Result {
	t.Helper()
	if o.Only == 0 {
		o.Only = build.Templates // patterns are tested by themselves
	}
	r := build.Kept(text).Build(name, []byte(text), o)
	if r.Reached != build.Proved || !r.OK() {
		t.Fatalf("reached %v with\n%v", r.Reached, r.Findings)
	}
	return r
}

func writeFiles(t *testing.T, dir string, files []build.File) {
	t.Helper()
	for _, f := range files {
		path := filepath.Join(dir, filepath.FromSlash(f.Path))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func roll(t *testing.T, dir string, in rollInput) rollOutput {
	t.Helper()
	python := witness.Python(t, "ezdxf", "shapely")
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "roll.json")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := witness.Run(python, witness.Script(t, "roll.py"), path)
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var got rollOutput
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// Tolerances of the comparison with roll.py.
const (
	// witnessOvercut in mm is what the witness may see beyond the groove: its
	// own offset errors, up to 0.001 mm twice, and the file's decimals.
	witnessOvercut = 0.01
	// witnessDepth in mm is by how much the greatest depths of what is left
	// may differ, for the same reasons.
	witnessDepth = 0.01
	// witnessStrip in mm is the width of the strip along the walls of the
	// leftovers that the witness drops as slivers or adds with its chords.
	witnessStrip = 0.002
)

func TestWitnessRollsEveryJob(t *testing.T) {
	if testing.Short() {
		t.Skip("rolling every job takes a minute")
	}
	all := variants(t)
	all["stepped along"] = strings.Replace(tableJob(t, "plaited-edge.toml"), "length = 56", "length = 16", 1)
	all["stepped along"] = strings.Replace(all["stepped along"], "step = 3", "step = 2", 1)
	if os.Getenv("JOBS") == "all" {
		all["stepped along 1.4 m"] = tableJob(t, "plaited-edge.toml")
		all["stepped along for the bed"] = tableJob(t, "sideboard.toml")
	}
	for name, text := range all {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			checkRolled(t, built(t, name, text, build.Options{}))
		})
	}
}

// checkRolled holds a build's proof to the witness.
func checkRolled(t *testing.T, r build.Result) {
	t.Helper()
	if !r.Proof.Holds() {
		t.Errorf("proof: overcut %g mm", r.Proof.OvercutMax)
	}
	if r.Job.Router.Guide == work.GuidePivot {
		return // a bar on a pin has no opening to roll a rider in; TestPivotBarReadBack measures its holes
	}
	dir := t.TempDir()
	writeFiles(t, dir, r.Files)
	got := roll(t, dir, rollInputOf(r))
	if got.OvercutMax > witnessOvercut {
		t.Errorf("the witness finds %g mm beyond the groove", got.OvercutMax)
	}
	// Around a leftover of depth d and area a run walls of some 2 a/d
	// on either side.
	slack := witnessStrip
	for _, l := range r.Proof.Leftovers {
		slack += witnessStrip * 4 * l.Area / l.Depth
	}
	if d := math.Abs(got.UncutArea - r.Proof.UncutArea); d > slack {
		t.Errorf("left: %g mm2, the witness finds %g; they differ by %g, more than %g", r.Proof.UncutArea, got.UncutArea, d, slack)
	}
	if d := math.Abs(got.UncutMax - r.Proof.UncutMax); d > witnessDepth {
		t.Errorf("left: %g mm deep, the witness finds %g", r.Proof.UncutMax, got.UncutMax)
	}
	if area := r.Groove.Area().Area(); math.Abs(got.GrooveArea-area) > 1e-4*area {
		t.Errorf("the groove: %g mm2, the witness finds %g", area, got.GrooveArea)
	}
	t.Logf("overcut %.2g, left %.5f mm2 (witness %.5f), %.4f mm deep (witness %.4f)",
		got.OvercutMax, r.Proof.UncutArea, got.UncutArea, r.Proof.UncutMax, got.UncutMax)
}

// TestWitnessRollsPlans proves the plans for every preference of all jobs that are
// byhand.Planned, and has the witness roll them. By itself it takes one job, PLANS=all
// takes all.
func TestWitnessRollsPlans(t *testing.T) {
	if testing.Short() {
		t.Skip("rolling jobs takes seconds each")
	}
	texts, err := byhand.Planned()
	if err != nil {
		t.Fatal(err)
	}
	few := []string{"three-rings"}
	for _, text := range texts {
		if os.Getenv("PLANS") == "" && !slices.Contains(few, text.Name) {
			continue
		}
		t.Run(text.Name, func(t *testing.T) {
			t.Parallel()
			var rolled []string // what was rolled already: preferences may well agree
			for _, prefer := range []string{"clean", "setups", "panels"} {
				r := build.Build(text.Name, []byte(text.Preferring(prefer)), os.ReadFile, build.Options{Only: build.Templates})
				if r.Reached != build.Proved || !r.OK() {
					t.Fatalf("%s: reached %v with\n%v", prefer, r.Reached, r.Findings)
				}
				if walls := wallsOf(r); !slices.Contains(rolled, walls) {
					rolled = append(rolled, walls)
					checkRolled(t, r)
				}
			}
		})
	}
}

// wallsOf are the openings in the walls of a build, and how its panels are laid.
func wallsOf(r build.Result) string {
	var b strings.Builder
	for _, p := range r.Set.Panels {
		fmt.Fprintln(&b, p.ID, p.Positions)
	}
	for _, p := range r.Parts {
		for _, l := range p.Sheet.Lines {
			if p.Ply == sheet.Wall && l.Role == sheet.Opening {
				fmt.Fprintln(&b, p.Sheet.Name, l.Contour)
			}
		}
	}
	return b.String()
}

// TestWitnessSeesAWrongRider makes sure that the witness is no rubber stamp: a
// rider thinner than the templates were made for cuts beside the groove on
// both sides by as much as its radius is less.
func TestWitnessSeesAWrongRider(t *testing.T) {
	r := built(t, "looped-triangle.toml", jobs(t)["looped-triangle.toml"], build.Options{})
	dir := t.TempDir()
	writeFiles(t, dir, r.Files)
	in := rollInputOf(r)
	const thinner = 0.05
	in.RiderRadius -= thinner
	if got := roll(t, dir, in); math.Abs(got.OvercutMax-thinner) > witnessOvercut {
		t.Errorf("the witness finds %g mm beyond the groove, want %g", got.OvercutMax, thinner)
	}
}

// TestWitnessAuditsEveryDXF has ezdxf audit what is written: no error, and
// nothing to fix.
func TestWitnessAuditsEveryDXF(t *testing.T) {
	python := witness.Python(t, "ezdxf")
	for name, text := range jobs(t) {
		for _, version := range []dxf.Version{dxf.R2000, dxf.R12} {
			t.Run(name+" "+version.String(), func(t *testing.T) {
				r := built(t, name, text, build.Options{Version: version})
				dir := t.TempDir()
				writeFiles(t, dir, r.Files)
				args := []string{witness.Script(t, "dxf_audit.py")}
				for _, f := range r.Files {
					if f.Kind == build.DXF {
						args = append(args, filepath.Join(dir, filepath.FromSlash(f.Path)))
					}
				}
				out, err := witness.Run(python, args...)
				if err != nil {
					t.Errorf("%v\n%.2000s", err, out)
				}
				var audits []struct {
					Errors, Fixes []string
					Header        map[string]any
				}
				if err := json.Unmarshal(out, &audits); err != nil {
					t.Fatal(err)
				}
				if len(audits) != len(args)-1 || len(audits) == 0 {
					t.Fatalf("%d files audited of %d", len(audits), len(args)-1)
				}
				for i, a := range audits {
					if len(a.Errors)+len(a.Fixes) > 0 || a.Header["$ACADVER"] != version.String() {
						t.Errorf("%s: %v, errors %v, fixes %v", args[i+1], a.Header["$ACADVER"], a.Errors, a.Fixes)
					}
				}
			})
		}
	}
}

package report

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/groove"
	"strapwork/pkg/proof"
	"strapwork/pkg/work"
)

// contract is the manifest as other programs were promised it: names and
// types, written down again here so that a change of the writer shows.
type contract struct {
	Schema *int    `json:"schema"`
	Title  *string `json:"title"`
	Job    *string `json:"job"`
	Groove struct {
		Width *float64 `json:"width"`
		Depth *float64 `json:"depth"`
	} `json:"groove"`
	Guide struct {
		By    *string  `json:"by"`
		Rider *float64 `json:"rider_diameter"`
		Bit   *float64 `json:"bit_diameter"`
	} `json:"guide"`
	Template struct {
		Web    *float64 `json:"web"`
		Kerf   *float64 `json:"kerf"`
		KerfBy *string  `json:"kerf_by"`
	} `json:"template"`
	Panels []struct {
		ID        *string  `json:"id"`
		Cuts      []string `json:"cuts"`
		Positions []struct {
			Turn *float64 `json:"turn_deg"`
			Flip *bool    `json:"flip"`
		} `json:"positions"`
		Files map[string]string `json:"files"`
	} `json:"panels"`
	Proof struct {
		OvercutMax *float64 `json:"overcut_max"`
		UncutMax   *float64 `json:"uncut_max"`
		UncutArea  *float64 `json:"uncut_area"`
		Leftovers  []struct {
			Area float64 `json:"area"`
		} `json:"leftovers"`
	} `json:"proof"`
	Crossings []struct {
		At    *[2]float64 `json:"at"`
		Over  *string     `json:"over"`
		Under *string     `json:"under"`
	} `json:"crossings"`
	Files []struct {
		Path   *string `json:"path"`
		Kind   *string `json:"kind"`
		Role   *string `json:"role"`
		SHA256 *string `json:"sha256"`
	} `json:"files"`
	Findings []struct {
		Rule     *string     `json:"rule"`
		Severity *string     `json:"severity"`
		Message  *string     `json:"message"`
		Hint     *string     `json:"hint"`
		At       *[2]float64 `json:"at"`
		Line     int         `json:"line"`
	} `json:"findings"`
}

// optional are the keys that a manifest may leave out.
var optional = regexp.MustCompile(`^findings\.at$`)

// missing lists the promised keys that a value read back lacks.
func missing(path string, v any) []string {
	var list []string
	data, _ := json.Marshal(v) // nil pointers and slices become null
	var tree any
	_ = json.Unmarshal(data, &tree)
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case nil:
			if !optional.MatchString(path) {
				list = append(list, path)
			}
		case map[string]any:
			for k, w := range v {
				walk(strings.TrimPrefix(path+"."+k, "."), w)
			}
		case []any:
			for _, w := range v {
				walk(path, w)
			}
		}
	}
	walk(path, tree)
	slices.Sort(list)
	return list
}

func readManifest(t *testing.T, r reporting) (contract, []byte) {
	t.Helper()
	var c contract
	if err := json.Unmarshal(r.manifest, &c); err != nil {
		t.Fatalf("%v in\n%s", err, r.manifest)
	}
	return c, r.manifest
}

func TestManifestKeepsTheContract(t *testing.T) {
	for name, r := range examples(t) {
		c, data := readManifest(t, r)
		if m := missing("", c); len(m) > 0 {
			t.Errorf("%s: the manifest lacks %v", name, m)
		}
		strict := json.NewDecoder(bytes.NewReader(data))
		strict.DisallowUnknownFields()
		var all manifest
		if err := strict.Decode(&all); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if *c.Job != "job.toml" || bytes.Contains(data, []byte("somebody")) {
			t.Errorf("%s: the manifest tells where the job file lies: %s", name, *c.Job)
		}
		if bad := regexp.MustCompile(`[\s\[]-0[,\]\s]|[0-9]e[+-]?[0-9]+[,\]\s]|\.[0-9]{7}`).Find(data); bad != nil {
			t.Errorf("%s: a number is written %q", name, bad)
		}
		if listed := bytes.Contains(data, []byte(`"frame": {`)); listed != (r.Set.Frame != nil) {
			t.Errorf("%s: a frame is listed: %v", name, listed)
		}
	}
}

func TestManifestPlan(t *testing.T) {
	for name, r := range examples(t) {
		c, _ := readManifest(t, r)
		var made, wanted []string
		for _, up := range r.facts.SetUps {
			made = append(made, up.Cuts...)
		}
		for _, p := range c.Panels {
			if p.Files["wall_dxf"] != "templates/"+*p.ID+"-wall.dxf" {
				t.Errorf("%s: panel %s has the files %v", name, *p.ID, p.Files)
			}
			for role, path := range p.Files {
				if !slices.ContainsFunc(r.Files, func(f build.File) bool { return f.Path == path }) {
					t.Errorf("%s: panel %s names a file %s (%s) that isn't there", name, *p.ID, path, role)
				}
			}
		}
		for _, cut := range r.Cuts {
			wanted = append(wanted, cut.Name)
		}
		slices.Sort(made)
		slices.Sort(wanted)
		if d := cmp.Diff(wanted, made); d != "" {
			t.Errorf("%s: the set-ups don't make every cut once (-want +got):\n%s", name, d)
		}
		for _, cut := range r.facts.Cuts {
			if cut.Panel == "" || cut.SetUp < 1 || len(cut.Along) == 0 {
				t.Errorf("%s: the cut %s has panel %q, set-up %d, elements %v", name, cut.Name, cut.Panel, cut.SetUp, cut.Along)
			}
		}
	}
}

func TestManifestFiles(t *testing.T) {
	for name, r := range examples(t) {
		own, last := r.own[:len(r.own)-1], r.own[len(r.own)-1]
		has := func(path string) bool {
			return slices.ContainsFunc(own, func(f build.File) bool { return f.Path == path })
		}
		pivot := r.Job.Router.Guide == work.GuidePivot // a bar has no tracks to measure
		if has(CardPath) == pivot || !has(SetupPath) || has(ManifestPath) || last.Path != ManifestPath {
			t.Fatalf("%s: got %d files, the last %s", name, len(r.own), last.Path)
		}
		var c contract
		if err := json.Unmarshal(last.Data, &c); err != nil {
			t.Fatal(err)
		}
		var got, want []string
		for _, f := range c.Files {
			got = append(got, *f.Path+" "+*f.SHA256)
		}
		for _, f := range append(slices.Clone(r.Files), own...) {
			sum := sha256.Sum256(f.Data)
			want = append(want, f.Path+" "+hex.EncodeToString(sum[:]))
		}
		slices.Sort(want)
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s: files (-want +got):\n%s", name, d)
		}
	}
}

// The order of the triangle: each side goes over one neighbour and under the
// other, since over and under alternate along a strand (common practice).
func TestManifestCrossings(t *testing.T) {
	c, _ := readManifest(t, whole(t, loopedTriangle))
	over, under := map[string]int{}, map[string]int{}
	for _, x := range c.Crossings {
		over[*x.Over]++
		under[*x.Under]++
		// Sides 40 mm from the middle cross 80 mm from it (derived); six decimals are written.
		if math.Abs(math.Hypot(x.At[0], x.At[1])-80) > 1e-6 {
			t.Errorf("a crossing at %v", *x.At)
		}
	}
	want := map[string]int{"side.1": 1, "side.2": 1, "side.3": 1}
	if d := cmp.Diff(want, over); d != "" {
		t.Errorf("over (-want +got):\n%s", d)
	}
	if d := cmp.Diff(want, under); d != "" {
		t.Errorf("under (-want +got):\n%s", d)
	}
	k, _ := readManifest(t, whole(t, knot))
	if len(k.Crossings) != 1 || *k.Crossings[0].Over != "knot.1 pass 1" || *k.Crossings[0].Under != "knot.1 pass 2" {
		t.Errorf("the knot's crossings are %+v", k.Crossings)
	}
}

// The areas left at a square end with b = 3.175 are (1 - pi/4)(b/2)^2 in each
// of its two corners (derived).
func TestManifestProof(t *testing.T) {
	c, _ := readManifest(t, whole(t, bars))
	corner := (1 - math.Pi/4) * (3.175 / 2) * (3.175 / 2)
	if n := len(c.Proof.Leftovers); n != 8 {
		t.Fatalf("%d places are left for the chisel, want 8", n)
	}
	const rounding = 1e-6 // six decimals are written
	sum := 0.0
	for _, l := range c.Proof.Leftovers {
		sum += l.Area
		if math.Abs(l.Area-corner) > rounding {
			t.Errorf("a corner of %v sq mm, want %v", l.Area, corner)
		}
	}
	if math.Abs(sum-*c.Proof.UncutArea) > 8*rounding {
		t.Errorf("the places add up to %v, all that is left to %v", sum, *c.Proof.UncutArea)
	}
	if *c.Proof.OvercutMax < 0 || *c.Proof.OvercutMax > groove.Overcut {
		t.Errorf("overcut_max is %v", *c.Proof.OvercutMax)
	}
}

func TestManifestFacts(t *testing.T) {
	r := whole(t, inches)
	c, _ := readManifest(t, r)
	got := fmt.Sprintln(*c.Groove.Width, *c.Groove.Depth, *c.Guide.Rider, *c.Guide.Bit, *c.Guide.By, *c.Template.Kerf, *c.Template.KerfBy, *c.Template.Web)
	// 9/64, 1/8, 3/4, 0.01 and 1/2 inches of 25.4 mm
	if want := "3.571875 3.175 19.05 3.175 bushing 6.35 me 12.7\n"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	c, _ = readManifest(t, whole(t, bars))
	if *c.Template.Kerf != 0 || *c.Template.KerfBy != "shop" {
		t.Errorf("of a job without a shop: kerf %v by %s", *c.Template.Kerf, *c.Template.KerfBy)
	}
}

func TestSameBytes(t *testing.T) {
	again := build.Build("/somebody/bench/job.toml", []byte(loopedTriangle), os.ReadFile, build.Options{})
	if d := cmp.Diff(whole(t, loopedTriangle).own, reported(t, again).own); d != "" {
		t.Errorf("two builds differ:\n%s", d)
	}
}

func TestManifestRefuses(t *testing.T) {
	checked := build.Check("job.toml", []byte(bars), nil, nil)
	if _, err := Files(checked); err == nil || !strings.Contains(err.Error(), "planned") {
		t.Errorf("of a job that was only checked: %v", err)
	}
	broken := whole(t, bars).Result
	broken.Proof.UncutMax = math.NaN()
	if _, err := Files(broken); err == nil {
		t.Error("a number that is none was written")
	}
}

func TestFindingsInJSON(t *testing.T) {
	found := diag.Findings{}
	found.WarnAt(diag.Position{File: "/somebody/job.toml", Line: 12, Col: 3}, "near-edge", "close").SetAt(1.00000049, -1e-9).Hintf("move <it>")
	found.NoteAt(diag.Position{}, "told", "nothing")
	got, err := encode(newFindings(found))
	if err != nil {
		t.Fatal(err)
	}
	want := `[
  {
    "rule": "near-edge",
    "severity": "warning",
    "message": "close",
    "hint": "move <it>",
    "at": [1, 0],
    "file": "job.toml",
    "line": 12,
    "col": 3
  },
  {
    "rule": "told",
    "severity": "note",
    "message": "nothing",
    "hint": ""
  }
]
`
	if d := cmp.Diff(want, string(got)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

func TestProofPlace(t *testing.T) {
	r := whole(t, bars).Result
	r.Proof = proof.Proof{}
	if p := newProof(r); p.OvercutAt != nil || p.Leftovers == nil {
		t.Errorf("of nothing: %+v", p)
	}
	r.Proof = proof.Proof{OvercutMax: 0.0004}
	if p := newProof(r); p.OvercutAt == nil {
		t.Error("an overcut has no place")
	}
}

func TestCheckJSON(t *testing.T) {
	for _, c := range []struct {
		name, text string
		ok         bool
		reached    string
		summary    string // the counts that are known
	}{
		{"good", loopedTriangle, true, "planned", `"strands": 1, "crossings": 3, "cuts": 3, "panels": 1, "set_ups": 3, "errors": 0`},
		{"unread", "titel = 3", false, "unread", `"errors":`},
		{"tight", strings.Replace(loopedTriangle, "rider = 100", "rider = 300", 1), false, "grooved", `"strands": 1, "crossings": 3, "errors": `},
	} {
		data, err := CheckJSON(build.Check("/somebody/job.toml", []byte(c.text), nil, nil))
		if err != nil {
			t.Fatal(err)
		}
		var doc checkJSON
		strict := json.NewDecoder(bytes.NewReader(data))
		strict.DisallowUnknownFields()
		if err := strict.Decode(&doc); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if doc.OK != c.ok || doc.Reached != c.reached || doc.Job != "job.toml" || len(doc.Findings) == 0 {
			t.Errorf("%s: ok %v, reached %s, job %s, %d findings", c.name, doc.OK, doc.Reached, doc.Job, len(doc.Findings))
		}
		if flat := strings.Join(strings.Fields(string(data)), " "); !strings.Contains(flat, `"summary": { `+c.summary) {
			t.Errorf("%s: the summary lacks %s:\n%s", c.name, c.summary, flat)
		}
	}
}

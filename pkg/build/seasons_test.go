package build_test

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
)

// crossed is a bar of 200 mm across the grain and a ring of radius 60 on it, for a machine:
// three strips of 1 mm in a groove of 3.1 mm, 2 mm deep.
const crossed = `units = "mm"
[motif]
[[motif.line]]
name = "bar"
from = [0, -100]
to = [0, 100]
[[motif.circle]]
name = "ring"
center = [200, 0]
radius = 60
[inlay]
depth = 2
clearance = 0.1
strips = [{ material = "holly", thickness = 1 }, { material = "bronze", thickness = 1 }, { material = "holly", thickness = 1 }]
[router]
guide = "none"
bit = 2
[board]
size = [600, 400]
thickness = 20
[wood]
moisture = [8, 11]
`

func checked(t *testing.T, text string) build.Result {
	t.Helper()
	return build.Kept(text).Check("job.toml", []byte(text), nil)
}

// Every piece moves by its own extent across the grain: the bar's by its length, a strip of the
// ring by its own diameter (closed forms; 0.00274 for 1 per cent, Wood Handbook table 13-5).
func TestSeasonsOfPieces(t *testing.T) {
	r := checked(t, crossed)
	if !r.OK() || r.Seasons == nil {
		t.Fatal(r.Findings)
	}
	want := map[[2]string]float64{{"s1", "1"}: 200, {"s1", "2"}: 200, {"s1", "3"}: 200, {"s2", "1"}: 118, {"s2", "2"}: 120, {"s2", "3"}: 122}
	for _, m := range r.Seasons.Over {
		key := [2]string{m.Strand, string(rune('0' + m.Strip))}
		if math.Abs(m.Across-want[key]) > 1e-9 || math.Abs(m.Movement-want[key]*0.00274*3) > 1e-9 {
			t.Errorf("%v: %v across, moved by %v; want %v", key, m.Across, m.Movement, want[key])
		}
		delete(want, key)
	}
	if len(want) > 0 {
		t.Errorf("nothing of %v", want)
	}
	along := checked(t, strings.Replace(crossed, "thickness = 20", "thickness = 20\ngrain = 90", 1))
	for _, m := range along.Seasons.Over {
		if m.Strand == "s1" {
			t.Errorf("the bar lies along the grain: %+v", m)
		}
	}
}

// A sandwich of metal and wood is one piece, as rigid as its metal.
func TestSeasonsOfSandwich(t *testing.T) {
	r := checked(t, strings.Replace(crossed, "depth = 2", "depth = 2\nlaid = \"sandwich\"", 1))
	if len(r.Seasons.Over) != 2 || !r.Seasons.Over[0].Rigid || math.Abs(r.Seasons.Over[1].Across-120) > 1e-9 {
		t.Errorf("%+v", r.Seasons.Over)
	}
}

// What no strip stands in: the bar's 200 x 0.1 mm, and the two rings of 0.05 mm inside and
// outside the ring's strips, 2 mm deep (closed forms).
func TestVoids(t *testing.T) {
	r := checked(t, crossed)
	ring := math.Pi * ((61.55*61.55 - 61.5*61.5) + (58.5*58.5 - 58.45*58.45))
	if got, want := r.Voids(), 2*(200*0.1+ring); math.Abs(got-want) > 1e-6 {
		t.Errorf("%v, want %v", got, want)
	}
}

// What a job gets wrong of its wood: all of it in one go, with whatever else is wrong.
func TestSeasonsBadInput(t *testing.T) {
	for _, c := range []struct {
		name, old, new string
		rule           string
		severity       diag.Severity
		hint           string
	}{
		{"unknown species", "[wood]", "[wood]\nspecies = \"bog oak\"", "species-unknown", diag.Error, "tangential = 0.003"},
		{"too dry", "[8, 11]", "[5, 11]", "moisture-range", diag.Warning, "between 6 and 14"},
		{"too wet", "[8, 11]", "[8, 15]", "moisture-range", diag.Warning, "between 6 and 14"},
		{"as a part", "[8, 11]", "[0.08, 0.11]", "bad-value", diag.Error, "moisture = [8, 11]"},
		{"one alone", "[8, 11]", "11", "wrong-type", diag.Error, "moisture = [8, 11]"},
		{"a length", "[8, 11]", `["8 mm", "11 mm"]`, "wrong-type", diag.Error, "moisture = [8, 11]"},
		{"both", "[8, 11]", "[8, 11]\nhumidity = [40, 60]", "keys-conflict", diag.Error, "remove one"},
		{"own without source", "[8, 11]", "[8, 11]\ntangential = 0.003", "missing-key", diag.Error, "source ="},
		{"a shrinkage", "[8, 11]", "[8, 11]\ntangential = 7.8\nsource = \"a list\"", "bad-value", diag.Error, "S / (3000 - 20*S)"},
		{"misspelt cut", "[8, 11]", "[8, 11]\nsawn = \"quater\"", "bad-value", diag.Error, `"quarter"`},
		{"misspelt key", "moisture", "moistur", "unknown-key", diag.Error, "moisture"},
		{"unused", "moisture = [8, 11]", "sawn = \"quarter\"", "no-effect", diag.Note, ""},
		{"no board", "[board]\nsize = [600, 400]\nthickness = 20\n", "", "grain-unknown", diag.Warning, "grain"},
		{"metal in pva", "depth = 2", "depth = 2\nglue = \"pva\"", "glue-metal", diag.Warning, "epoxy"},
		{"misspelt glue", "depth = 2", "depth = 2\nglue = \"epoxi\"", "bad-value", diag.Error, `"epoxy"`},
		{"strips thicker than the groove", "depth = 2", "depth = 2\nwidth = 2.9", "does-not-fit", diag.Error, "remove width"},
	} {
		r := checked(t, strings.Replace(crossed, c.old, c.new, 1))
		n := 0
		for _, f := range r.Findings {
			if f.Rule == c.rule && f.Severity == c.severity && strings.Contains(f.Hint, c.hint) {
				n++
			}
		}
		if n == 0 || r.Seasons != nil && c.severity == diag.Error {
			t.Errorf("%s: %v", c.name, r.Findings)
		}
		if c.severity == diag.Error && r.OK() {
			t.Errorf("%s can be made", c.name)
		}
	}
	both := checked(t, strings.NewReplacer("[wood]", "[wood]\nspecies = \"bog oak\"", "radius = 60", "radius = 1").Replace(crossed))
	rules := map[string]bool{}
	for _, f := range both.Findings {
		rules[f.Rule] = true
	}
	if !rules["species-unknown"] || !rules["arc-tight"] {
		t.Errorf("not all in one go: %v", both.Findings)
	}
}

// A coefficient of one's own, a board on the quarter, and a room's humidity.
func TestSeasonsAsked(t *testing.T) {
	for _, c := range []struct {
		keys        string
		coefficient float64
		change      float64
	}{
		{"moisture = [8, 11]\nsawn = \"quarter\"", 0.00190, 3},
		{"species = \"pear\"\nmoisture = [8, 11]\ntangential = 0.0031\nsource = \"measured\"", 0.0031, 3},
		{"species = \"pear\"\nmoisture = [11, 8]\ntangential = \"7.8 / (3000 - 20*7.8)\"\nsource = \"a list of woods\"", 0.002743, -3},
		{"humidity = [50, 65]", 0.00274, 2.8}, // Wood Handbook table 4-2: 9.2 and 12.0 per cent
	} {
		r := checked(t, strings.Replace(crossed, "moisture = [8, 11]", c.keys, 1))
		if r.Seasons == nil {
			t.Errorf("%s: %v", c.keys, r.Findings)
			continue
		}
		got := r.Seasons.Change
		if math.Abs(got.Coefficient-c.coefficient) > 1e-6 || math.Abs(got.Moisture[1]-got.Moisture[0]-c.change) > 0.1 {
			t.Errorf("%s: %+v", c.keys, got)
		}
	}
}

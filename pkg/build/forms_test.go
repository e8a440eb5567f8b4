package build

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/sheet"
)

// vieta is the radius of the middle to which bronze of thickness t is bent to be left
// with r, by the closed form of the formula's cubic 4 x^3 - (3 + a) x + 1 = 0, a = E t /
// (r Y): its least positive root, by the cosine of a third of an angle (Vieta).
func vieta(r, t, y, e float64) float64 {
	p := (3 + e*t/(r*y)) / 4
	x := 2 * math.Sqrt(p/3) * math.Cos(math.Acos(-3/(8*p)*math.Sqrt(3/p))/3-2*math.Pi/3)
	return x * e * t / y
}

// TestWitnessForms: the forms of the box lid's rings as ezdxf measures them in their
// files. Bronze of 1.2 mm is bent to R 54 and 62 for 250, 350 and 450 MPa, six radii of
// inner faces; those within 3 % of one another share the lesser, and each is rounded to a
// tenth.
func TestWitnessForms(t *testing.T) {
	python := witness.Python(t, "ezdxf")
	r := swung(t, Options{})
	var want []float64
	for _, ring := range []float64{54, 62} {
		for _, y := range []float64{250, 350, 450} {
			want = append(want, vieta(ring, 1.2, y, 105e3)-0.6)
		}
	}
	dir := t.TempDir()
	args := []string{witness.Script(t, "dxf_audit.py")}
	for _, f := range r.Files {
		if f.Kind != DXF || f.Role != sheet.Form.String() {
			continue
		}
		path := filepath.Join(dir, filepath.Base(f.Path))
		if err := os.WriteFile(path, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	out, err := witness.Run(python, args...)
	if err != nil {
		t.Fatal(err)
	}
	var files []struct {
		Errors, Fixes []string
		Entities      []struct {
			Layer string
			Arcs  [][]float64 // their last number is the radius
		}
	}
	if err := json.Unmarshal(out, &files); err != nil {
		t.Fatal(err)
	}
	var got []float64
	for _, f := range files {
		if len(f.Errors)+len(f.Fixes) > 0 {
			t.Errorf("%v, %v", f.Errors, f.Fixes)
		}
		for _, e := range f.Entities {
			for _, a := range e.Arcs {
				if e.Layer == "EDGE" && !slices.Contains(got, math.Round(a[5]*1e6)/1e6) {
					got = append(got, math.Round(a[5]*1e6)/1e6)
				}
			}
		}
	}
	if len(files) != 4 || len(got) != 4 {
		t.Fatalf("%d files with the radii %v for %v", len(files), got, want)
	}
	for _, w := range want {
		if !slices.ContainsFunc(got, func(g float64) bool { return g <= w+0.05 && w <= g*1.03+0.05 }) {
			t.Errorf("no form for %g among %v", w, got)
		}
	}
	for _, g := range got {
		if !slices.ContainsFunc(want, func(w float64) bool { return math.Abs(g-w) <= 0.05+1e-9 }) {
			t.Errorf("the form of %g is none of %v", g, want)
		}
	}
}

// TestNoForms: forms = false leaves them out, and nothing else.
func TestNoForms(t *testing.T) {
	with, without := swung(t, Options{}), swung(t, Options{}, "[inlay]\n", "[inlay]\nforms = false\n")
	if n := len(with.Parts) - len(without.Parts); n < 5 || len(without.Bends.Bends) != len(with.Bends.Bends) {
		t.Errorf("forms = false leaves out %d parts", n)
	}
	for _, p := range without.Parts {
		if p.Ply == sheet.Form || p.Ply == sheet.Holder {
			t.Errorf("there is %s", p.Sheet.Name)
		}
	}
}

// TestBendFindings: tempers and materials that there aren't are errors, with what there
// is; a strip that can't be bent is one warning; what bends dry is none.
func TestBendFindings(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/box-ring.toml")
	if err != nil {
		t.Fatal(err)
	}
	const pear, bronze = `material = "pear", thickness = 0.6`, `material = "bronze", thickness = 1.2`
	for _, c := range []struct{ old, new, rule, text, hint string }{
		{bronze, bronze + `, temper = "half-hard"`, "temper-unknown", `bronze has no temper "half-hard"`, `did you mean "half hard"?`},
		{bronze, bronze + `, temper = "T6"`, "temper-unknown", `bronze has no temper "T6"`, "it has annealed, quarter hard, half hard, hard, spring"},
		{pear, pear + `, temper = "hard"`, "temper-unknown", "pear is a wood, which has no tempers", "remove temper"},
		{bronze, `material = "adamant", thickness = 1.2, temper = "hard"`, "temper-unknown", "nothing is known of how adamant bends, so it has no tempers", "bends_like"},
		{pear, pear + `, bends_like = "mapel"`, "unknown-profile", `there is no material's profile "mapel"`, `did you mean "maple"?`},
		{pear, pear + `, bends_like = "./none.toml"`, "unknown-profile", `the profile "./none.toml" cannot be read`, "the job file's folder"},
		{pear, pear + `, bends_like = "hard maple"`, "", "", ""},
		{bronze, `material = "adamant", thickness = 1.2`, "", "", ""},
		{bronze, bronze + `, temper = "spring"`, "bend-tight", "bronze of 1.2 mm is too thick for a bend of R 54 mm, spring (1 piece)", `temper = "hard" bends that far; else strips of at most 1.08 mm`},
	} {
		text := strings.Replace(string(data), c.old, c.new, 1)
		if text == string(data) {
			t.Fatalf("%q isn't in the job", c.old)
		}
		r := NewGraph(os.ReadFile).Check("ring.toml", []byte(text), nil)
		var found []diag.Finding
		for _, f := range r.Findings {
			if slices.Contains([]string{"temper-unknown", "unknown-profile", "bend-tight"}, f.Rule) {
				found = append(found, f)
			}
		}
		if c.rule == "" && len(found) == 0 {
			continue
		}
		if len(found) != 1 || found[0].Rule != c.rule || !strings.Contains(found[0].Message, c.text) || !strings.Contains(found[0].Hint, c.hint) || found[0].Pos.Line == 0 {
			t.Errorf("%s: %v", c.new, found)
		}
		if r.OK() != (c.rule == "" || c.rule == "bend-tight") {
			t.Errorf("%s: %v", c.new, r.Findings)
		}
	}
}

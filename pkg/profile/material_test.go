package profile_test

import (
	"errors"
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/profile"
	"strapwork/pkg/wood"
	"strapwork/profiles"
)

// TestMaterials: every built-in material is read, is called as the table of woods and
// metals calls it, gives each value's source, and is harder the further down its list.
func TestMaterials(t *testing.T) {
	files, err := fs.Glob(profiles.Files, "materials/*.toml")
	list := profile.Materials()
	if err != nil || len(list) != len(files) || len(list) < 17 {
		t.Fatalf("%d of %d materials are read (%v)", len(list), len(files), err)
	}
	for _, m := range list {
		found, ok := wood.Find(m.Name)
		if !ok || found.Base != m.Name || (found.Kind == wood.Metal) != m.Metal() || m.About == "" {
			t.Errorf("%s is %+v in the table, about %q", m.Name, found, m.About)
		}
		if !m.Metal() {
			for _, l := range []profile.Limit{m.Dry, m.Heated, m.Steamed} {
				if l.Strain <= 0 || l.Source == "" {
					t.Errorf("%s: %+v", m.Name, l)
				}
			}
			if m.Dry.Strain > 0.01 || m.Heated.Strain < 2*m.Dry.Strain || m.Steamed.Strain < 1.5*m.Heated.Strain {
				t.Errorf("%s bends dry, heated and steamed to %g, %g, %g", m.Name, m.Dry.Strain, m.Heated.Strain, m.Steamed.Strain)
			}
			continue
		}
		if m.Source == "" || m.Tempers[0].Name != "annealed" {
			t.Errorf("%s: source %q, first temper %q", m.Name, m.Source, m.Tempers[0].Name)
		}
		for i, temper := range m.Tempers {
			y := temper.Yield
			if temper.Source == "" || !(0 < y[0] && y[0] < y[1] && y[1] < y[2]) {
				t.Errorf("%s, %s: %v, source %q", m.Name, temper.Name, y, temper.Source)
			}
			// Harder sheet stretches less (ASM Handbook 2, typical properties; from memory).
			if before := m.Tempers[max(0, i-1)]; i > 0 && (y[1] <= before.Yield[1] || temper.Strain >= before.Strain) {
				t.Errorf("%s: %s isn't harder than %s", m.Name, temper.Name, before.Name)
			}
		}
	}
}

// TestMaterialTemper: tempers are found by name in any case, and the usual one by none.
func TestMaterialTemper(t *testing.T) {
	m, err := profile.OpenMaterial("bronze", nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{"": 350, "Half Hard": 350, "annealed": 150} {
		if temper, ok := m.Temper(name); !ok || temper.Yield[1] != want {
			t.Errorf("%q is %+v", name, temper)
		}
	}
	if _, ok := m.Temper("soft"); ok {
		t.Error("there is a temper soft")
	}
}

func TestMaterialErrors(t *testing.T) {
	const wooden = "kind = \"material\"\n[dry]\nstrain = 0.01\nsource = \"x\"\n"
	const metal = "kind = \"material\"\nmodulus = 100000\nsource = \"x\"\nusual = \"hard\"\n[[temper]]\nname = \"hard\"\nyield = [1, 2, 3]\nstrain = 0.1\nsource = \"x\"\n"
	for _, c := range []struct{ text, old, new, want string }{
		{wooden, "[dry]", "[dri]", `m.toml:2:2: error: there is no table "dri"`},
		{wooden, "0.01", "0", "m.toml:3:10: error: strain must be more than 0"},
		{wooden, "source = \"x\"\n", "", "m.toml:2:2: error: source is missing"},
		{wooden, "[dry]", "[heated]", "table [dry] is missing"},
		{wooden, "[dry]", "heated = {strain = 0.005, source = \"y\"}\n[dry]", "bends less than cooler wood"},
		{wooden, "[dry]\nstrain = 0.01\nsource = \"x\"\n", "", "doesn't say how far the material bends"},
		{wooden, "[dry]", "modulus = 3\n[dry]", "limits of a wood and values of a metal"},
		{metal, "modulus = 100000\n", "", "a metal needs modulus and at least one [[temper]]"},
		{metal, "\nsource = \"x\"\nusual", "\nusual", "source is missing"},
		{metal, "\"hard\"\n[[", "\"herd\"\n[[", `there is no temper "herd"`},
		{metal, "[1, 2, 3]", "[1, 3, 2]", "yield goes from 3 down to 2"},
		{metal, "[1, 2, 3]", "[1, 2]", "yield"},
		{metal, "material", "bit", `of kind "bit", where one of kind "material" is needed`},
	} {
		if !strings.Contains(c.text, c.old) {
			t.Fatalf("%q isn't in the text", c.old)
		}
		if _, err := profile.ParseMaterial("m", "m.toml", []byte(c.text)); err != nil {
			t.Fatal(err)
		}
		_, err := profile.ParseMaterial("m", "m.toml", []byte(strings.Replace(c.text, c.old, c.new, 1)))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q in place of %q: %v, not %q", c.new, c.old, err, c.want)
		}
	}
	_, err := profile.OpenMaterial("mapel", nil)
	var f diag.Finding
	if !errors.As(err, &f) || f.Rule != profile.RuleUnknown || f.Hint != `did you mean "maple"?` {
		t.Errorf("%v, hint %q", err, f.Hint)
	}
}

// TestPageMaterial: the page's material can be read.
func TestPageMaterial(t *testing.T) {
	page, err := os.ReadFile(pageFile)
	if err != nil {
		t.Fatal(err)
	}
	block := regexp.MustCompile("(?s)```toml\n(kind = \"material\".*?)```").FindSubmatch(page)
	if block == nil {
		t.Fatal("there is no material on the page")
	}
	m, err := profile.ParseMaterial("./bog-oak.toml", "bog-oak.toml", block[1])
	if err != nil || m.Dry.Strain != 0.006 || m.Heated.Strain != 0.02 {
		t.Errorf("%+v, %v", m, err)
	}
}

package profile

import (
	"errors"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/profiles"
)

func noFile(path string) ([]byte, error) {
	return nil, &fs.PathError{Op: "open", Path: path, Err: os.ErrNotExist}
}

func TestEveryBuiltInProfileIsSound(t *testing.T) {
	files, err := fs.Glob(profiles.Files, "*.toml")
	files = slices.DeleteFunc(files, func(f string) bool { return strings.HasPrefix(f, "machine-") || strings.HasPrefix(f, "bit-") })
	if err != nil || len(files) < 2 {
		t.Fatalf("built in: %v, %v", files, err)
	}
	if got := len(List()); got != len(files) {
		t.Errorf("%d of %d profiles are listed", got, len(files))
	}
	for _, f := range files {
		name := strings.TrimSuffix(f, ".toml")
		s, err := Open(name, noFile)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if s.Name != name || s.About == "" {
			t.Errorf("%s: name %q, about %q", name, s.Name, s.About)
		}
		if !strings.HasPrefix(name, s.Cutter.String()) {
			t.Errorf("%s is a %s", name, s.Cutter)
		}
		// Many shops engrave what is green or blue (common practice; numbers of
		// DXF's group 62): what is cut is red or magenta, and nothing else is.
		if s.Layer("OPENING").Color != 1 || s.Layer("PIN").Color != 1 || s.Layer("EDGE").Color != 6 {
			t.Errorf("%s cuts in %d, %d and %d", name, s.Layer("OPENING").Color, s.Layer("PIN").Color, s.Layer("EDGE").Color)
		}
		for _, role := range []string{"MARK", "NOTE"} {
			if c := s.Layer(role).Color; c == 1 || c == 6 {
				t.Errorf("%s has %s in the colour of what is cut", name, role)
			}
		}
		for _, role := range Roles() {
			if _, ok := s.layers[role]; !ok {
				t.Errorf("%s says nothing of %s", name, role)
			}
		}
	}
}

func TestOpen(t *testing.T) {
	s, err := Open("laser-900x600", noFile)
	if err != nil || s.Bed != [2]float64{900, 600} || s.Cutter != Laser || s.Units != unit.MM || s.Layer("PIN").Name != "PIN" {
		t.Errorf("%+v, %v", s, err)
	}
	s, err = Open("router-48x32in", noFile)
	if err != nil || s.Bed != [2]float64{48 * unit.MMPerInch, 32 * unit.MMPerInch} || s.Units != unit.Inch || s.Cutter != Router {
		t.Errorf("%+v, %v", s, err)
	}
	text := `
about = "the shop round the corner"
cutter = "laser"
units = "mm"
bed = [700, 400]
tolerance = 0.2
[layers]
OPENING = { name = "inner", color = 2 }
`
	s, err = Open("shops/corner.toml", func(path string) ([]byte, error) {
		if path != "shops/corner.toml" {
			t.Errorf("asked for %q", path)
		}
		return []byte(text), nil
	})
	if err != nil || s.Layer("OPENING") != (Layer{"inner", 2}) || s.Layer("EDGE") != (Layer{"EDGE", 7}) {
		t.Errorf("%+v, %v", s, err)
	}
}

func TestOpenUnknown(t *testing.T) {
	for name, want := range map[string]string{
		"laser-900x60": `did you mean "laser-900x600"?`,
		"plasma":       "built in are laser-",
		"straight-3":   `"straight-3" is a bit's; built in are laser-`,
		"mine.toml":    "the job file's folder",
		"a/b":          "the job file's folder",
	} {
		_, err := Open(name, noFile)
		var f diag.Finding
		if !errors.As(err, &f) || f.Rule != RuleUnknown || !strings.Contains(f.Hint, want) {
			t.Errorf("%s: %v, hint %q", name, err, f.Hint)
		}
	}
}

const sound = `about = "x"
cutter = "laser"
units = "mm"
bed = [700, 400]
tolerance = 0.2
[layers]
EDGE = { name = "outer", color = 2 }
`

func TestParseErrors(t *testing.T) {
	if _, err := Parse("x", "x.toml", []byte(sound)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new, want string }{
		{`"laser"`, `"knife"`, `x.toml:2:10: error: cutter cannot be "knife"`},
		{`"mm"`, `"m"`, `x.toml:3:9: error: units cannot be "m"`},
		{"[700, 400]", "[700]", "x.toml:4:7: error: bed must have two lengths, not 1"},
		{"[700, 400]", "[700, -1]", "x.toml:4:13: error: bed must be more than 0, not -1 mm"},
		{"[700, 400]", "[700, nan]", "x.toml:4:13: error: bed cannot be nan"},
		{"[700, 400]", `"wide"`, "x.toml:4:7: error: bed must be a list of two lengths, not text"},
		{"0.2", "inf", "x.toml:5:13: error: tolerance cannot be inf"},
		{"0.2", "0", "x.toml:5:13: error: tolerance must be more than 0, not 0 mm"},
		{"tolerance", "tolerence", `x.toml:5:1: error: there is no key "tolerence" in a profile`},
		{"[layers]", "cutter_diameter = 3\n[layers]", "x.toml:6:19: error: a laser has no cutter_diameter"},
		{"about", "About", `x.toml:1:1: error: there is no key "About" in a profile`},
		{"EDGE", "RIM", `x.toml:7:1: error: there is no key "RIM" in [layers]`},
		{`"outer"`, `"a b"`, `x.toml:7:17: error: "a b" is not a layer name`},
		{"color = 2", "color = 256", "x.toml:7:34: error: color must be 1 to 255, not 256"},
		{`EDGE`, "PIN = { name = \"outer\", color = 1 }\nEDGE", `the layer "outer" has two colors, 2 and 1`},
		{"bed = ", "bed ", "x.toml:4:"},
	} {
		_, err := Parse("x", "x.toml", []byte(strings.Replace(sound, c.old, c.new, 1)))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q for %q: %v, want %q", c.new, c.old, err, c.want)
		}
		for _, leak := range []string{"float64", "struct", "Go ", "profile."} {
			if err != nil && strings.Contains(err.Error(), leak) {
				t.Errorf("%q for %q: %v leaks %q", c.new, c.old, err, leak)
			}
		}
	}
	if _, err := Parse("x", "x.toml", make([]byte, maxSize+1)); err == nil {
		t.Error("a huge profile is taken")
	}
}

// A router's cutter is 6 mm across unless the profile says otherwise.
func TestCutterDiameter(t *testing.T) {
	router := strings.Replace(sound, `"laser"`, `"router"`, 1)
	for line, want := range map[string]float64{"": 6, "cutter_diameter = 3\n": 3, "cutter_diameter = 0\n": 0, "cutter_diameter = 51\n": 0, "cutter_diameter = nan\n": 0} {
		s, err := Parse("x", "x.toml", []byte(strings.Replace(router, "[layers]", line+"[layers]", 1)))
		if s.CutterDiameter != want || (err == nil) != (want > 0) {
			t.Errorf("%q gives %g mm, %v", line, s.CutterDiameter, err)
		}
	}
	if s, _ := Parse("x", "x.toml", []byte(sound)); s.CutterDiameter != 0 {
		t.Errorf("a laser's is %g mm", s.CutterDiameter)
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(sound))
	f.Add([]byte("bed = [[]]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Parse("x", "x.toml", data)
		if err == nil && !(s.Bed[0] > 0 && s.Bed[1] > 0 && s.Tolerance > 0) {
			t.Fatalf("%q gives %+v", data, s)
		}
	})
}

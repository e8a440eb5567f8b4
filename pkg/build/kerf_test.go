package build_test

import (
	"math"
	"strings"
	"testing"

	"strapwork/pkg/build"
)

// routed is the games table's job with its templates cut otherwise.
func routed(t *testing.T, profile, kerf, by string) string {
	t.Helper()
	text := jobs(t)["looped-triangle.toml"]
	for _, s := range [][2]string{{"laser-1300x900", profile}, {"kerf = 0.18 ", "kerf = " + kerf + " "}, {`kerf_by = "me"`, `kerf_by = "` + by + `"`}} {
		if strings.Count(text, s[0]) != 1 {
			t.Fatalf("%q is not once in the job", s[0])
		}
		text = strings.Replace(text, s[0], s[1], 1)
	}
	return text
}

// A laser burns 0.1 to 0.3 mm, and a router cuts a slot as wide as its cutter
// (common practice): the kerf is held against the machine, and what the hint says
// to write is taken.
func TestKerfFitsMachine(t *testing.T) {
	for _, c := range []struct{ profile, kerf, by, want, write string }{
		{"laser-1300x900", "0.3", "me", "", ""},
		{"laser-1300x900", "3", "me", "error: a kerf of 3 mm is not what a laser burns", ""},
		{"router-1200x800", "3", "me", "", ""},
		{"router-1200x800", "3.1", "me", "", ""},
		{"router-2440x1220", "6", "me", "", ""},
		{"router-2440x1220", "0.18", "me", "error: a kerf of 0.18 mm, and the cutter of router-2440x1220 has 6 mm", "6"},
		{"router-2440x1220", "0.18", "shop", "warning: a kerf of 0.18 mm, and", "6"},
		{"router-1200x800", "6", "me", "error: a kerf of 6 mm, and the cutter of router-1200x800 has 3 mm", "3"},
	} {
		r := build.Check("job.toml", []byte(routed(t, c.profile, c.kerf, c.by)), nil, nil)
		if c.want == "" && !r.OK() || !strings.Contains(r.Findings.Error(), c.want) {
			t.Errorf("%+v:\n%v", c, r.Findings)
		}
		if c.write == "" {
			continue
		}
		for _, f := range r.Findings {
			if f.Rule == "bad-value" && !strings.Contains(f.Hint, "kerf = "+c.write+" or") {
				t.Errorf("%+v: %s", c, f.Hint)
			}
		}
		if r := build.Check("job.toml", []byte(routed(t, c.profile, c.write, c.by)), nil, nil); strings.Contains(r.Findings.Error(), "a kerf of") {
			t.Errorf("%+v: as the hint says:\n%v", c, r.Findings)
		}
	}
}

// A floor's slot is as wide as the groove of 4.5 mm and a millimetre on each side:
// 6.5 mm, into which a cutter of 6.35 goes and can't turn.
func TestCutterGoesIn(t *testing.T) {
	own := func(string) ([]byte, error) {
		return []byte("about = \"a router\"\ncutter = \"router\"\nunits = \"mm\"\nbed = [2440, 1220]\ntolerance = 0.15\ncutter_diameter = 6.35\n"), nil
	}
	for by, want := range map[string]string{"me": "error", "shop": "warning"} {
		r := build.Check("job.toml", []byte(routed(t, "own.toml", "6.35", by)), own, nil)
		if !strings.Contains(r.Findings.Error(), want+": the cutter of 6.35 mm doesn't fit into the floor's slots of 6.5 mm") {
			t.Errorf("%s:\n%v", by, r.Findings)
		}
	}
	lid := strings.Replace(jobs(t)["box-ring.toml"], "laser-600x400", "router-1200x800", 1)
	if r := build.Check("job.toml", []byte(lid), nil, nil); !strings.Contains(r.Findings.Error(), "doesn't fit into the holes of the pivot bar") {
		t.Errorf("a bar's holes are as small as the cutter:\n%v", r.Findings)
	}
}

// Holes that are too small for the cutter are crosses and no holes: of a wall's
// dowels, 4 mm, none is in PIN with a cutter of 6 mm, and all are with one of 3.
func TestSmallHolesAreDrilled(t *testing.T) {
	for profile, c := range map[string]struct {
		kerf  string
		holes bool
	}{"router-2440x1220": {"6", false}, "router-1200x800": {"3", true}} {
		r := built(t, "job.toml", routed(t, profile, c.kerf, "me"), build.Options{})
		found, crosses := false, strings.Contains(r.Findings.Error(), "holes of 4 mm are too small for the cutter and are drawn as crosses")
		for _, p := range r.Parts {
			for _, h := range p.Sheet.Holes {
				if p.Sheet.Name == "A-wall" {
					found = true
					if math.Abs(h.Radius-0.5) > 1e-9 { // 4 mm less 3, halved
						t.Errorf("a hole of radius %v", h.Radius)
					}
				}
			}
		}
		if found != c.holes || crosses == c.holes {
			t.Errorf("%s: holes %v, crosses %v", profile, found, crosses)
		}
	}
}

package job_test

import (
	"regexp"
	"strings"
	"testing"

	"strapwork/pkg/job"
	"strapwork/pkg/unit"
)

// TestFamilyHints types in what a refusal or a warning of a measure names: then it is gone.
func TestFamilyHints(t *testing.T) {
	value := regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
	for _, c := range []struct{ family, keys, key string }{
		{"rings", "ring = 61\nradius = 90", "radius"},
		{"rings", "count = 3\nring = 60\nradius = 60.5", "radius"},
		{"rings", "pitch = 61.23\nradius = 30", "radius"},
		{"rosette", "ring = 60\nradius = 50", "radius"},
		{"rosette", "ring = 60\ncount = 5\nradius = 59.5", "radius"},
		{"star", "radius = 60\npoints = 9\nstep = 5", "step"},
		{"star", "radius = 61\nround = 40", "round"},
		{"loops", "ring = 60\ncount = 7\nradius = 100", "radius"},
		{"lobes", "ring = 60\nradius = 61", "radius"},
		{"lobes", "ring = 60\nradius = 20", "radius"},
		{"lobes", "ring = 60\nradius = 200", "radius"},
		{"lobes", "ring = 60\nround = 50", "round"},
		{"lobes", "ring = 60\ncount = 5\nstep = 4", "step"},
		{"lobes", "ring = 60\ncount = 7\nstep = 3\nradius = 50", "radius"},
		{"foil", "ring = 61\nradius = 20", "radius"},
		{"foil", "ring = 61\nradius = 50", "radius"},
		{"foil", "ring = 60\ncusp = \"tee\"\nradius = 30.1\ncount = 3", "radius"},
		{"guilloche", "pitch = 60\nrise = 1", "rise"},
		{"guilloche", "pitch = 60\nrise = 4", "rise"},
		{"guilloche", "pitch = 60\nrise = 50", "rise"},
		{"guilloche", "pitch = 60\nangle = 3", "angle"},
		{"guilloche", "pitch = 60\nangle = 15", "angle"},
		{"guilloche", "pitch = 60\nrise = 12\nangle = 80", "angle"},
		{"guilloche", "ring = 60\ncount = 9\nangle = 88", "angle"},
	} {
		about := func(keys string) (found []string) {
			_, all := job.Read("job.toml", []byte(familyJob(unit.MM, c.family, keys)))
			for _, f := range all {
				if strings.HasPrefix(f.Message, c.key+":") {
					found = append(found, f.Message+" / "+f.Hint)
				}
			}
			return found
		}
		found := about(c.keys)
		if len(found) != 1 {
			t.Errorf("%s with %q: %q, want a finding of %s", c.family, c.keys, found, c.key)
			continue
		}
		_, hint, _ := strings.Cut(found[0], " / ")
		named := value.FindAllString(hint, -1)
		if len(named) == 0 {
			t.Errorf("%s with %q: %s names no value", c.family, c.keys, found[0])
		}
		for _, v := range named {
			typed := regexp.MustCompile(`(?m)^`+c.key+` = .*$`).ReplaceAllString(c.keys, c.key+" = "+v)
			if left := about(typed); len(left) > 0 {
				t.Errorf("%s with %q, as %q names it: %q", c.family, typed, hint, left)
			}
		}
	}
}

// TestGuillocheKeys: what is for a straight guilloche isn't for a round one, and the other way.
func TestGuillocheKeys(t *testing.T) {
	for keys, want := range map[string]string{
		"count = 8\neyes = 4":             "eyes is for a straight guilloche",
		"count = 8\nbands = 3":            "bands is for a straight guilloche",
		"ring = 80":                       "ring is for a round guilloche",
		"count = 8\nring = 80\npitch = 9": "ring and pitch are both given",
		"bands = 3\nends = \"meet\"":      "bands: of 3 bands the ends don't meet",
		"pitch = 40\nsize = [9, 9]":       "pitch and size are both given",
	} {
		_, found := job.Read("job.toml", []byte(familyJob(unit.MM, "guilloche", keys)))
		if !found.HasErrors() || !strings.Contains(found.Error(), want) && !strings.Contains(found.Error(), "pitch and ring are both given") {
			t.Errorf("%q: %v, want %q", keys, found, want)
		}
	}
}

package job_test

import (
	"strings"
	"testing"

	"strapwork/pkg/job"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// TestStarters: every family's starting job reads without an error, in mm and in inches
// and for each guide with panels, and holds every key of its tables.
func TestStarters(t *testing.T) {
	for _, f := range job.Families() {
		for _, u := range []unit.System{unit.MM, unit.Inch} {
			for _, g := range work.Guides(work.Guide.HasPanels) {
				text, found := job.Starter{Family: f, Units: u, Guide: g}.Write()
				if found.HasErrors() {
					t.Fatalf("%s, %s, %s: %v", f.Name, u, g, found)
				}
				for _, k := range f.Keys() {
					if !strings.Contains(text, "\n"+k.Name+" = ") && !strings.Contains(text, "\n# "+k.Name+" = ") {
						t.Errorf("%s, %s, %s: %s isn't written:\n%s", f.Name, u, g, k.Name, text)
					}
				}
				j := read(t, text)
				for _, n := range j.Notes {
					if n.Rule == "no-effect" || n.Rule == "pattern-tight" {
						t.Errorf("%s, %s, %s: %v", f.Name, u, g, n)
					}
				}
			}
		}
	}
}

// TestStarterTakesWhatIsGiven: numbers, lengths with their unit and words, as they are
// typed in a shell.
func TestStarterTakesWhatIsGiven(t *testing.T) {
	rings, _, _ := job.FamilyNamed("rings")
	given := []job.Given{{Key: "count", Value: "5"}, {Key: "ring", Value: "3 1/2 in"}, {Key: "name", Value: "crown"}}
	text, found := job.Starter{Family: rings, Guide: work.GuideBushing, Rider: "20", Given: given}.Write()
	if found.HasErrors() {
		t.Fatal(found)
	}
	for _, want := range []string{"\ncount = 5 ", "\nring = \"3 1/2 in\" ", "\nname = \"crown\" ", "\nrider = 20 "} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	if n := len(read(t, text).Motif.Elements); n != 5 {
		t.Errorf("%d rings, want 5", n)
	}
}

// TestStarterMistakes are said without a file, which there isn't.
func TestStarterMistakes(t *testing.T) {
	rings, _, _ := job.FamilyNamed("rings")
	for _, row := range []struct {
		given []job.Given
		want  string
	}{
		{[]job.Given{{"cuont", "5"}}, `rings has no "cuont"`},
		{[]job.Given{{"count", "5"}, {"count", "6"}}, "count is given twice"},
		{[]job.Given{{"count", "500"}}, "count must be 3 to 60"},
		{[]job.Given{{"count", "many"}}, "count must be a whole number"},
		{[]job.Given{{"ring", "60"}, {"radius", "90"}}, "radius: rings of 90 mm"},
		{[]job.Given{{"name", "a\x00b"}}, "name"},
	} {
		text, found := job.Starter{Family: rings, Guide: work.GuideBushing, Given: row.given}.Write()
		if text != "" || !strings.Contains(found.Error(), row.want) || strings.Contains(found.Error(), "job.toml") {
			t.Errorf("%v: %v, want %q", row.given, found, row.want)
		}
	}
}

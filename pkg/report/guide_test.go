package report

import (
	"testing"

	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// TestEveryGuideHasItsWords: a guide that rides on panels has its words for how it
// is measured and how it goes into the track, each in words of its own.
func TestEveryGuideHasItsWords(t *testing.T) {
	said := map[[2]string]string{}
	for guide, sayings := range ofGuides() {
		for _, s := range sayings {
			text, err := printed(unit.MM, s.name, s.facts)
			if other := said[[2]string{s.name, text}]; err != nil || text == "" || other != "" {
				t.Errorf("%s, %s: %q, as of %s; %v", s.name, guide, text, other, err)
			}
			said[[2]string{s.name, text}] = guide
		}
	}
}

// ofGuides is what is said of each guide that rides on panels.
func ofGuides() map[string][]saying {
	all := map[string][]saying{}
	for _, g := range work.Guides(work.Guide.HasPanels) {
		by := g.String()
		track := facts{manifest: manifest{Guide: guideJSON{By: by, RunsTrue: true}, Heights: &heightsJSON{StandsOn: g.Stands(0).String()}}}
		all[by] = []saying{{"measure rider", by}, {"in the track", &track}}
	}
	return all
}

package work

import "testing"

// TestAGuidesFactsAgree: what is said of a guide in one column of the table follows from
// the others where a router leaves no choice: a base that rides is in the track and so
// stands on the work or on a floor; whatever rides panels otherwise stands on them.
func TestAGuidesFactsAgree(t *testing.T) {
	words := map[string]bool{}
	for _, g := range Guides() {
		if w := g.way(); w.word == "" || words[w.word] {
			t.Errorf("guide %d is written %q, as another is", g, w.word)
		} else {
			words[w.word] = true
		}
		wall, floor, above := Template{Wall: 9, Floor: 3}, g.Stands(3), 0.0
		switch {
		case g.RidesBase() && g.TakesFloor():
			above = 3
		case g.HasTemplates() && !g.RidesBase():
			above = 9
		}
		if got := wall.Above(floor); got != above {
			t.Errorf("%v stands %v above the work, on %q, want %v", g, got, floor, above)
		}
		if on := g.Stands(0); (on == OnWork) != g.RidesBase() || (on == OnTemplate) != (g.HasPanels() && !g.RidesBase()) || on == OnFloor {
			t.Errorf("%v stands on %q without a floor", g, on)
		}
		if g.RidesBase() && !g.HasPanels() || g.TakesFloor() && !g.RidesBase() {
			t.Errorf("%v: rides base %v, has panels %v, takes a floor %v", g, g.RidesBase(), g.HasPanels(), g.TakesFloor())
		}
		if (g.Rider() != "") != g.HasTemplates() || (g.way().rides != "") != g.HasPanels() {
			t.Errorf("%v: rider %q, %q rides", g, g.Rider(), g.way().rides)
		}
	}
	if g := Guide(len(ways)); g.String() != "guide("+string(rune('0'+len(ways)))+")" || g.HasPanels() || g.Stands(3) != OnNothing {
		t.Errorf("%v is no guide: panels %v, stands on %v", g, g.HasPanels(), g.Stands(3))
	}
}

// TestGuidesAsTheyAreTyped: a hint's list is what a maker types.
func TestGuidesAsTheyAreTyped(t *testing.T) {
	for want, list := range map[string][]Guide{
		"":                          nil,
		`"base"`:                    {GuideBase},
		`"base" or "none"`:          {GuideBase, GuideNone},
		`"base", "pivot" or "none"`: {GuideBase, GuidePivot, GuideNone},
	} {
		if got := Either(list); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

// TestTheBaseOfARouter: it is the rider where it rides, else what the job says.
func TestTheBaseOfARouter(t *testing.T) {
	for g, want := range map[Guide]float64{GuideBase: 45, GuideBushing: 75, GuideBearing: 75, GuidePivot: 75} {
		if got := (Router{Guide: g, RiderDiameter: 90, BaseDiameter: 150}).BaseRadius(); got != want {
			t.Errorf("%v: %v, want %v", g, got, want)
		}
	}
}

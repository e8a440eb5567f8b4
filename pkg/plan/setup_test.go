package plan

import (
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/unit"
)

// The list of set-ups says what the plan has: the line of each track as its panel
// lies is the cut's own, either way round, and begins where the panel's cut does.
func TestTracksLieWhereTheyCut(t *testing.T) {
	r := mustPrepare(t, "[motif]\ncopies = 3\n[[motif.line]]\nname = \"bar\"\nfrom = [-60, 22]\nto = [60, 22]\n"+inlay+bushing)
	p := r.plan()
	places := map[int]int{}
	for n, u := range p.SetUps {
		panel := p.Panels[u.Panel]
		places[u.Panel]++
		if u.Number != n+1 || u.PanelID != panel.ID || u.Place != places[u.Panel] || panel.Positions[u.Place-1] != u.Position || len(u.Tracks) != len(panel.Cuts) {
			t.Errorf("set-up %d of panel %s: %+v", n+1, panel.ID, u)
		}
		for k, track := range u.Tracks {
			own, cut := panel.Cuts[k], track.Cut.Line
			if track.ID != panel.TrackID(k) || track.Own != own.Name || !slices.Equal(track.Along, []string{track.Cut.Name}) {
				t.Errorf("%s makes %s, and %s when it isn't turned, along %v", track.ID, track.Cut.Name, track.Own, track.Along)
			}
			if move := laid(u.Position); !track.Start().Near(move(own.Line.Start()), 1e-9) || !track.End().Near(move(own.Line.End()), 1e-9) {
				t.Errorf("%s goes from %v to %v", track.ID, track.Start(), track.End())
			}
			there := track.Start().Near(cut.Start(), 1e-6) && track.End().Near(cut.End(), 1e-6)
			back := track.Start().Near(cut.End(), 1e-6) && track.End().Near(cut.Start(), 1e-6)
			if !there && !back {
				t.Errorf("%s lies from %v to %v, and cuts from %v to %v", track.ID, track.Start(), track.End(), cut.Start(), cut.End())
			}
		}
	}
	if len(p.SetUps) != 3 || (Track{}).Start() != (geom.Point{}) {
		t.Errorf("%d set-ups of three bars that cross, want 3", len(p.SetUps))
	}
}

func TestLetters(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := letter(i); got != want {
			t.Errorf("panel %d is %s, want %s", i, got, want)
		}
	}
}

// Panels that are turned say so in words.
func TestPositionInWords(t *testing.T) {
	if got := (Orientation{TurnDeg: 360.0 / 7, Flip: true}).String(); got != "51.4286 degrees, turned over" {
		t.Error(got)
	}
	if !strings.HasPrefix((Orientation{TurnDeg: 90}).String(), "90 degrees") {
		t.Error("a quarter turn")
	}
}

// A shift comes after turning over and turning, in the work's own directions; undone, all
// comes back to where it was.
func TestShift(t *testing.T) {
	p := Orientation{TurnDeg: 90, Flip: true, Shift: geom.Pt(300, -25.4)}
	if got, want := p.Similarity().Apply(geom.Pt(3, 4)), geom.Pt(-4+300, -3-25.4); !got.Near(want, 1e-12) {
		t.Errorf("(3, 4) comes to %v, want %v", got, want)
	}
	for _, p := range []Orientation{p, {Shift: geom.Pt(360, 0)}, {TurnDeg: 120, Shift: geom.Pt(0, 7)}, {TurnDeg: 30}} {
		q := geom.Pt(12, -5)
		if got := p.Inverse().Apply(p.Similarity().Apply(q)); !got.Near(q, 1e-12) {
			t.Errorf("%v undone takes %v to %v", p, q, got)
		}
		if got, want := p.Up(), (Orientation{TurnDeg: p.TurnDeg, Flip: p.Flip}).Up(); !got.Near(want, 0) {
			t.Errorf("%v: up is %v, and %v unshifted", p, got, want)
		}
	}
	for want, got := range map[string]string{
		"90 degrees, turned over, shifted 300 mm to the right and 25.4 mm down":       p.String(),
		"turned over, its left edge up, shifted 11.811 in to the right and 1 in down": p.InWords(unit.Inch),
		"its upper edge up, shifted 360 mm to the right":                              Orientation{Shift: geom.Pt(360, 0)}.InWords(unit.MM),
		"its lower edge up, shifted 360 mm to the left and 2 mm up":                   Orientation{TurnDeg: 180, Shift: geom.Pt(-360, 2)}.InWords(unit.MM),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The edge that is up is the one that the position's mapping takes there.
func TestEdgeUp(t *testing.T) {
	edges := map[string]geom.Point{"upper": {X: 0, Y: 1}, "right": {X: 1, Y: 0}, "lower": {X: 0, Y: -1}, "left": {X: -1, Y: 0}}
	for _, flip := range []bool{false, true} {
		for _, turn := range []float64{-90, 0, 90, 180, 270, 360, 450} {
			pos := Orientation{TurnDeg: turn, Flip: flip}
			name := pos.EdgeUp()
			up := pos.Similarity().Apply(edges[name])
			if !up.Near(geom.Pt(0, 1), geom.Coincident) {
				t.Errorf("turned %v, over %v: the %s edge is said to be up, and lies at %v", turn, flip, name, up)
			}
		}
	}
	if got := (Orientation{TurnDeg: 45}).EdgeUp(); got != "" {
		t.Errorf("turned by 45 degrees the %s edge is up", got)
	}
}

// TestLies: the named edge of the panel as drawn is the one that comes to be up.
func TestLies(t *testing.T) {
	edges := map[string]geom.Point{"right": geom.Pt(1, 0), "upper": geom.Pt(0, 1), "left": geom.Pt(-1, 0), "lower": geom.Pt(0, -1)}
	for _, flip := range []bool{false, true} {
		seen := map[string]bool{}
		for _, turn := range []float64{0, 90, 180, 270} {
			p := Orientation{TurnDeg: turn, Flip: flip}
			words := p.InWords(unit.MM)
			if strings.HasPrefix(words, "turned over, ") != flip {
				t.Errorf("%v: %q", p, words)
			}
			for name, at := range edges {
				if strings.Contains(words, "its "+name+" edge up") {
					seen[name] = true
					if q := p.Similarity().Apply(at); !q.Near(geom.Pt(0, 1), 1e-12) {
						t.Errorf("%v: %q, but that edge comes to %v", p, words, q)
					}
				}
			}
		}
		if len(seen) != 4 {
			t.Errorf("flip %v: %v", flip, seen)
		}
	}
	for turn, want := range map[float64]string{60: "turned 60 degrees counter-clockwise", -22.5: "turned 337.5 degrees counter-clockwise"} {
		if got := (Orientation{TurnDeg: turn}).InWords(unit.MM); got != want {
			t.Errorf("%g: %q, want %q", turn, got, want)
		}
		if got := (Orientation{TurnDeg: turn, Flip: true}).InWords(unit.MM); got != "turned over, then "+want {
			t.Errorf("%g: %q", turn, got)
		}
	}
}

// A place of a strand is done after the last set-up that cuts up to it or past it:
// of a ring that is cut from 40 mm round past its end to 20, and by another between
// (by hand), also where the stretch is on the second lap.
func TestLastAt(t *testing.T) {
	r := mustPrepare(t, "[motif]\n[[motif.circle]]\ncenter = [0, 0]\nradius = 60\n"+inlay+bushing)
	m, round := r.groove.Motif, r.groove.Motif.Strands[0].Length()
	stretch := func(from, to float64) []Track {
		return []Track{{Cut: groove.Cut{From: groove.Stop{S: from}, To: groove.Stop{S: to}}}}
	}
	p := Plan{SetUps: []SetUp{{Number: 1, Tracks: stretch(20, 40)}, {Number: 2, Tracks: stretch(40, round+20)}, {Number: 3, Tracks: stretch(25, 35)}}}
	p.SetUps[2].Tracks[0].Spare = true
	for s, want := range map[float64]int{0: 2, 10: 2, 20: 2, 30: 1, 40: 2, round: 2} {
		if got := p.LastAt(m, 0, s); got != want {
			t.Errorf("the place at %g is done after set-up %d, want %d", s, got, want)
		}
	}
	if got := p.LastAt(m, 1, 30); got != 0 {
		t.Errorf("another strand's is done after set-up %d", got)
	}
	if got := p.LastAt(m, -1, 0); got != 2 {
		t.Errorf("what is no strand's is done after set-up %d, want 2", got)
	}
}

// Cuts are numbered 1 to N through the job, in the order of work; a track that is left
// alone has no number and takes none.
func TestCutsAreNumbered(t *testing.T) {
	for _, name := range []string{"hall-table", "box-lid", "looped-triangle"} {
		r := fromFile(t, name)
		n := 0
		for _, u := range r.plan().SetUps {
			for _, k := range u.Tracks {
				want := 0
				if !k.Spare {
					n++
					want = n
				}
				if k.Number != want {
					t.Errorf("%s, set-up %d, track %s: cut %d, want %d", name, u.Number, k.ID, k.Number, want)
				}
			}
		}
		if n < 3 { // the least of them takes three
			t.Errorf("%s: %d cuts are numbered", name, n)
		}
	}
}

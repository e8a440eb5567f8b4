package report

import (
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/unit"
)

// stationSayings are stations and arrangements in all the ways that their chapters tell.
func stationSayings() (list []saying) {
	stations := stationsFacts{Sections: []string{"left", "right"}, Rows: []stationFacts{{Sections: []string{"left"}}}}
	weave := weaveFacts{Arrangements: []arrangementFacts{{Name: "no leaf"}}}
	say := func(change func(f *facts, s *stationsFacts, w *weaveFacts)) {
		s, w := stations, weave
		f := facts{Places: placesFacts{Stations: &s, Weave: &w}}
		change(&f, &s, &w)
		list = append(list, saying{"stations-stations", &f}, saying{"stations-weave", &f})
	}
	say(func(*facts, *stationsFacts, *weaveFacts) {})
	say(func(f *facts, s *stationsFacts, w *weaveFacts) {
		f.paths = []string{"paper/story-stick.pdf"}
		s.OnJoints, s.Frame, s.Groove, s.ByStation, s.Rows[0].Edge = true, true, "apart", true, "right"
		w.Breaks, w.Arranged, w.Arrangements[0].Picture = []string{"a.1 cannot alternate"}, 1, "arrangement-1.svg"
		w.Edges, w.Rows = []string{"left.right"}, []passingFacts{{Next: []string{"over"}}}
	})
	say(func(_ *facts, s *stationsFacts, w *weaveFacts) {
		s.OnJoints, s.Frame, s.Groove = true, true, "closed"
		w.Arranged, w.Strips, w.Rows = 1, true, []passingFacts{{Strips: []string{"a", "b"}}}
	})
	return list
}

// The pear table has three set-ups at each of three joints, numbered through; each section by
// itself six places with those set-ups that reach its side: the knot's sides reach both, all
// but the loop that lies right of the joint as the panel first lies.
func TestStations(t *testing.T) {
	closed := drawn(t, pearTable)
	if got := closed.facts.manifest.SetUps; len(got) != 9 || len(closed.facts.SetUps) != 3 {
		t.Fatalf("%d set-ups in all, %d on the sheet", len(got), len(closed.facts.SetUps))
	}
	for i, u := range closed.facts.manifest.SetUps {
		if u.Number != i+1 || u.Station != i/3+1 || !slices.Equal(u.Cuts, closed.facts.SetUps[i%3].Cuts) {
			t.Errorf("set-up %d is %d at station %d with cuts %v", i+1, u.Number, u.Station, u.Cuts)
		}
	}
	apart := drawn(t, strings.Replace(pearTable, "width = 900\n", "width = 900\ngroove = \"apart\"\n", 1))
	rows := apart.facts.Places.Stations.Rows
	if len(rows) != 6 {
		t.Fatalf("%d stations apart", len(rows))
	}
	made := 0
	for i, row := range rows {
		if want := []string{"right", "left"}[i%2]; row.Edge != want || row.Number != i+1 {
			t.Errorf("station %d is at the %s edge of %v", i+1, row.Edge, row.Sections)
		}
		for _, u := range apart.facts.SetUps {
			reaches := false
			for _, c := range u.Made {
				for _, p := range []xy{c.Start.At, c.Stop.At} {
					reaches = reaches || (row.Edge == "right") == (p[0] < 0)
				}
			}
			if reaches && !slices.Contains(row.SetUps, u.Number) {
				t.Errorf("set-up %d has an end on the side of station %d, and isn't made there", u.Number, row.Number)
			}
		}
		made += len(row.SetUps)
	}
	if got := apart.facts.manifest.SetUps; len(got) != made || made > 18 {
		t.Errorf("%d set-ups in all, %d in the rows", len(got), made)
	}
}

// What the sheet says of the pear table: at 600 + 420 n mm are its joints (by hand), and its
// strands pass them as the manifest says.
func TestStationsSheet(t *testing.T) {
	r := drawn(t, pearTable)
	text, err := printed(unit.MM, StationsPath+".tmpl", r.facts)
	if err != nil {
		t.Fatal(err)
	}
	text = string(tidied(text))
	for _, want := range []string{"2040 x 900 mm", "| leaf 1 and leaf 2 | 1020 mm  | 1, 2 and 3 |", "at each those that the table names, 9 in all", "all 3 arrangements", "| 1 leaf      | 1620 mm |", "450 mm from"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
	w := r.facts.Places.Weave
	over := map[string]bool{}
	for _, row := range w.Rows {
		for i, next := range row.Next {
			over[w.Edges[i]+" "+unit.Decimal(float64(row.Y), 2)] = next == "over"
		}
	}
	if len(over) != len(r.facts.Table.Passings) {
		t.Errorf("%d passings are said of %d", len(over), len(r.facts.Table.Passings))
	}
	for _, p := range r.facts.Table.Passings {
		if got, said := over[p.Edge+" "+unit.Decimal(float64(p.Y), 2)]; !said || got != p.Over {
			t.Errorf("%s at %v: said %v, over %v", p.Edge, p.Y, said, got)
		}
	}
	if got := strings.Join(strings.Fields(r.sheet), " "); !strings.Contains(got, "on the joint, 450 mm from the front edge") || !strings.Contains(got, "A table of 4 sections, 2040 x 900 mm") {
		t.Error("the bench sheet doesn't lead to it")
	}
	if head, err := printed(unit.MM, "card head", r.facts); err != nil || !strings.Contains(string(head), "Station ____ of 3: one card for each") {
		t.Errorf("the cutting card is for no station: %q %v", head, err)
	}
	at := strings.Index(r.sheet, "### Over and under")
	if rows := strings.Count(r.sheet[at:], "| [ ] l") + strings.Count(r.sheet[at:], "| [ ] r"); rows != len(r.facts.Table.Crossings) || rows <= len(r.facts.Crossings) {
		t.Errorf("%d crossings of sections, %d of the motif, and the bench sheet lists %d", len(r.facts.Table.Crossings), len(r.facts.Crossings), rows)
	}
}

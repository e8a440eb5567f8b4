package report

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/budget"
	"strapwork/pkg/received"
	"strapwork/pkg/template"
	"strapwork/pkg/work"
)

// Every track is on the card with its width, and on the sheet with its length.
func TestCardListsEveryTrack(t *testing.T) {
	for name, r := range examples(t) {
		section := sections(t, r.sheet)["Check the parts on arrival"]
		card, ok := cardFile(r.Result)
		if r.Job.Router.Guide == work.GuidePivot {
			if ok || section != "" {
				t.Errorf("%s: there is a card, and no track", name)
			}
			continue
		}
		if !ok {
			t.Fatalf("%s: there is no card", name)
		}
		var ids []string
		for _, p := range r.Set.Panels {
			for _, o := range p.Openings {
				ids = append(ids, o.ID)
			}
		}
		read, found := received.Read(CardPath, card.Data, r.Job.Units, ids)
		if len(found) > 0 || len(read.Tracks) != len(ids) {
			t.Errorf("%s: %d tracks of %d, %v", name, len(read.Tracks), len(ids), found)
		}
		measured := map[string][]string{}
		for _, row := range rowsOf(section, "track") {
			measured[row[0]] = row
		}
		for _, o := range received.Openings(r.Set, r.Groove.Size) {
			row := strings.Join(measured[o.ID], " ")
			if !strings.Contains(row, "______") || !r.facts.Compact && !strings.Contains(row, (words{r.Job.Units}).place(toXY(o.At))) {
				t.Errorf("%s: %s is measured as %q", name, o.ID, row)
			}
			for _, c := range o.Cuts {
				if !slices.ContainsFunc(cutRows(sections(t, r.sheet)["The set-ups"]), func(row []string) bool {
					return row[0] == strconv.Itoa(c.Number) && row[1] == o.ID
				}) {
					t.Errorf("%s: cut %d is not said to be made by track %s", name, c.Number, o.ID)
				}
				if want := fmt.Sprintf("cut %d in set-up %d", c.Number, c.SetUp); !strings.Contains(string(card.Data), want) {
					t.Errorf("%s: the card doesn't say %q", name, want)
				}
			}
			if len(o.Cuts) == 0 {
				t.Errorf("%s: %s makes no cut", name, o.ID)
			}
		}
		if want := (words{r.Job.Units}).size(num(2 * r.Groove.Size.Reach())); !strings.Contains(flat(section), "**Tracks: "+want+" from wall to wall**") {
			t.Errorf("%s: the tracks' width, %s, is not reported", name, want)
		}
	}
}

// A free bar of 300 mm is cut by a bit that stops half its width short of both
// ends, so the opening is 300 - 3.175 + 100 mm long (derived; 2-wall grooving with
// a base of 100 mm), and that of 200 mm 100 shorter.
func TestCardLengths(t *testing.T) {
	r := whole(t, bars)
	var got []float64
	for _, o := range received.Openings(r.Set, r.Groove.Size) {
		got = append(got, o.EndToEnd)
	}
	if len(got) != 2 || math.Abs(math.Max(got[0], got[1])-396.825) > 1e-6 || math.Abs(math.Min(got[0], got[1])-296.825) > 1e-6 {
		t.Errorf("the tracks are %v mm long", got)
	}
}

// A set without tracks has no card.
func TestNoCard(t *testing.T) {
	r := whole(t, bars).Result
	r.Set = template.Set{}
	if _, ok := cardFile(r); ok {
		t.Error("there is a card with nothing to measure")
	}
}

// The sheet's sums are the manifest's, and those the budget's.
func TestBudgetIsTold(t *testing.T) {
	for name, r := range examples(t) {
		b := budgetOf(r.Result)
		section := flat(sections(t, r.sheet)["proof and expected accuracy"])
		m := regexp.MustCompile(`within ([0-9.]+) \w+ of its place .*?at worst ([0-9.]+) .*?width within ([0-9.]+) .*?at worst ([0-9.]+) `).FindStringSubmatch(section)
		if m == nil {
			t.Fatalf("%s: no accuracy is reported\n%s", name, section)
		}
		for i, want := range []float64{b.Sum(budget.Wander).RSS, b.Sum(budget.Wander).Worst, b.Sum(budget.Widen).RSS, b.Sum(budget.Widen).Worst} {
			got, _ := strconv.ParseFloat(m[i+1], 64)
			if math.Abs(got*r.Job.Units.InMM()-want) > 0.0051 {
				t.Errorf("%s: figure %d is %v, want %v mm", name, i, got, want)
			}
		}
		for _, e := range []budget.Effect{budget.Wander, budget.Widen} {
			if cure := b.Sum(e).Most.Cure(); !strings.Contains(section, cure) {
				t.Errorf("%s: %q is not reported", name, cure)
			}
		}
		var c struct {
			Budget struct {
				Terms         []struct{ Source string }
				Wander, Widen struct {
					Worst, RSS float64
					Most, Cure string
				}
			}
		}
		if err := json.Unmarshal(r.manifest, &c); err != nil {
			t.Fatal(err)
		}
		const written = 5e-7 // the manifest's decimals
		s := b.Sum(budget.Wander)
		if got := c.Budget.Wander; math.Abs(got.Worst-s.Worst) > written || math.Abs(got.RSS-s.RSS) > written || got.Most != s.Most.String() || got.Cure == "" {
			t.Errorf("%s: the manifest has %+v, want %+v", name, got, s)
		}
		if len(c.Budget.Terms) != len(b.Terms) || c.Budget.Widen.RSS <= 0 {
			t.Errorf("%s: %+v", name, c.Budget)
		}
	}
}

// The triangle is laid in three positions a third of a turn apart; a base of 100 mm
// that is off by the usual 0.3 mm and turned along would throw it out by 0.52
// (derived: 2 x 0.3 sin 60 degrees).
func TestBudgetTurned(t *testing.T) {
	r := whole(t, loopedTriangle)
	if len(r.Set.Plan.SetUps) < 2 || r.Set.Plan.SetUps[1].Position.TurnDeg != 120 {
		t.Fatalf("the triangle is laid %v", r.Set.Plan.SetUps)
	}
	if s := flat(r.sheet); !strings.Contains(s, "turned with the panels, by 0.52 mm.") {
		t.Error("nothing is said of a base that is turned along")
	}
	if s := flat(whole(t, knot).sheet); strings.Contains(s, "turned with the panels") {
		t.Error("a bearing is said to be off centre")
	}
}

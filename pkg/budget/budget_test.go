package budget_test

import (
	"math"
	"os"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/budget"
	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/job"
	"strapwork/pkg/plan"
	"strapwork/pkg/profile"
	"strapwork/pkg/template"
)

// The values for 0.3 mm are the trade's own: 0.42 a quarter turn, 0.6 half a
// turn, 0.05 at ten degrees.
func TestTurned(t *testing.T) {
	for _, c := range []struct{ e, degrees, want float64 }{
		{0.3, 90, 0.42}, {0.3, 180, 0.6}, {0.3, 10, 0.05}, {0.3, 0, 0}, {0.3, 360, 0}, {0, 90, 0}, {-0.3, -180, 0.6},
	} {
		if got := budget.Turned(c.e, c.degrees*math.Pi/180); math.Abs(got-c.want) > 0.005 {
			t.Errorf("%v off by %v degrees wanders %v, want %v", c.e, c.degrees, got, c.want)
		}
	}
}

// read is a job with the given guide and the tables that follow.
func read(t *testing.T, router, more string) *job.Job {
	t.Helper()
	j, found := job.Read("job.toml", []byte(`
units = "mm"
title = "A ring"
[motif]
[[motif.circle]]
center = [0, 0]
radius = 80
[inlay]
depth = 3
width = 5
[router]
bit = 3
`+router+"\n"+more))
	if found.HasErrors() {
		t.Fatal(found)
	}
	return j
}

// two is a set of one panel of 400 x 300 mm in two positions.
func two() template.Set {
	return template.Set{
		Panels: []template.Panel{{ID: "A", Outline: geom.Rect(geom.Box{Min: geom.Pt(-200, -150), Max: geom.Pt(200, 150)})}},
		Plan:   plan.Plan{SetUps: make([]plan.SetUp, 2)},
	}
}

func of(t *testing.T, router, more string, set template.Set) budget.Budget {
	t.Helper()
	j := read(t, router, more)
	return budget.Of(paramsOf(j), groove.SizeOf(j.Inlay, j.Router, j.Template), set, profile.Shop{Name: "shop", Tolerance: 0.1})
}

func near(a, b float64) bool { return math.Abs(a-b) < 5e-5 }

// Each term by hand: H = 50 + (5-3)/2 = 51, so a track of 102; the sheet moves
// by 0.05 per cent twice, over 200 and over 102; 0.3 mm turned by 10 degrees
// is 0.0523.
func TestTerms(t *testing.T) {
	b := of(t, "guide = \"base\"\nrider = 100\noff_center = 0.3", "", two())
	want := []budget.Term{
		{Source: budget.Seat, From: 0.05, Assumed: true, Times: 1, Wander: 0.05},
		{Source: budget.Outline, From: 0.1, Times: 2, Wander: 0.0707},
		{Source: budget.Walls, From: 0.1, Times: 2, Wander: 0.05, Widen: 0.1},
		{Source: budget.Kerf, From: 0.05, Assumed: true, Times: 1, Widen: 0.05},
		{Source: budget.OffCenter, From: 0.3, Times: 2, Wander: 0.0261, Widen: 0.0523},
		{Source: budget.Moisture, From: 2, Assumed: true, Times: 1, Wander: 0.2, Widen: 0.102},
		{Source: budget.Rider, From: 0.02, Assumed: true, Times: 1, Widen: 0.02},
		{Source: budget.Bit, From: 0.02, Assumed: true, Times: 1, Widen: 0.02},
		{Source: budget.Sheet, From: 0.2, Assumed: true, Times: 1, Deepen: 0.2},
	}
	if len(b.Terms) != len(want) {
		t.Fatalf("%d terms, want %d", len(b.Terms), len(want))
	}
	for i, w := range want {
		g := b.Terms[i]
		if g.Source != w.Source || g.Assumed != w.Assumed || g.Times != w.Times ||
			!near(g.From, w.From) || !near(g.Wander, w.Wander) || !near(g.Widen, w.Widen) || !near(g.Deepen, w.Deepen) {
			t.Errorf("got  %+v\nwant %+v", g, w)
		}
	}
	// 0.05 + 2*0.0707 + 2*0.05 + 2*0.0261 + 0.2, and the root of the squares; worked by hand.
	for _, c := range []struct {
		e          budget.Effect
		worst, rss float64
		most       budget.Source
	}{
		{budget.Wander, 0.5437, 0.2426, budget.Moisture},
		{budget.Widen, 0.4966, 0.1980, budget.Walls},
		{budget.Deepen, 0.2, 0.2, budget.Sheet},
	} {
		s := b.Sum(c.e)
		if math.Abs(s.Worst-c.worst) > 2e-4 || math.Abs(s.RSS-c.rss) > 2e-4 || s.Most != c.most {
			t.Errorf("%s: %+v, want %v, %v, %s", c.e, s, c.worst, c.rss, c.most)
		}
	}
}

func sources(b budget.Budget) []budget.Source {
	var list []budget.Source
	for _, t := range b.Terms {
		list = append(list, t.Source)
	}
	return list
}

// Only the terms that apply.
func TestWhatApplies(t *testing.T) {
	const base = "guide = \"base\"\nrider = 100\n"
	const shopKerf, ownKerf = "[cutting]\nkerf_by = \"shop\"", "[cutting]\nkerf = 0.2\nkerf_by = \"me\""
	single := template.Set{Plan: plan.Plan{SetUps: make([]plan.SetUp, 1)}}
	for _, c := range []struct {
		name, router, more string
		set                template.Set
		has, lacks         []budget.Source
	}{
		{"one set-up shifts as a whole", base, "", single, nil, []budget.Source{budget.Seat, budget.Outline}},
		{"several don't", base, "", two(), []budget.Source{budget.Seat, budget.Outline}, nil},
		{"the shop's kerf is the shop's", base, shopKerf, two(), nil, []budget.Source{budget.Kerf}},
		{"our kerf is ours", base, ownKerf, two(), []budget.Source{budget.Kerf}, nil},
		{"a bearing runs true", "guide = \"bearing\"\nflute = 8", "", two(), []budget.Source{budget.Sheet}, []budget.Source{budget.OffCenter}},
		{"a collar doesn't", "guide = \"bushing\"\nrider = 17", "", two(), []budget.Source{budget.OffCenter, budget.Sheet}, nil},
		{"a base that is said to", base + "off_center = 0", "", two(), nil, []budget.Source{budget.OffCenter}},
		{"a base on the work", base, "[template]\nfloor = 0", two(), nil, []budget.Source{budget.Sheet}},
		{"a frame without play", base, "[template]\nplay = 0", two(), []budget.Source{budget.Seat}, nil},
		{
			"a pivot", `guide = "pivot"`, "",
			template.Set{},
			[]budget.Source{budget.Holes, budget.Pin, budget.Bit, budget.Moisture},
			[]budget.Source{budget.Seat, budget.Outline, budget.Walls, budget.Kerf, budget.Rider, budget.OffCenter},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := sources(of(t, c.router, c.more, c.set))
			for _, s := range c.has {
				if !slices.Contains(got, s) {
					t.Errorf("%s is missing of %v", s, got)
				}
			}
			for _, s := range c.lacks {
				if slices.Contains(got, s) {
					t.Errorf("%s is there: %v", s, got)
				}
			}
		})
	}
}

// The frame's play is taken up by wedges at the far sides: it moves nothing.
func TestPlayMovesNothing(t *testing.T) {
	want := of(t, "guide = \"base\"\nrider = 100", "[template]\nplay = 0", two())
	for _, more := range []string{"[template]\nplay = 0.3", "[template]\nplay = 2", "[template]\nframe = 0"} {
		got := of(t, "guide = \"base\"\nrider = 100", more, two())
		if got.Sum(budget.Wander) != want.Sum(budget.Wander) {
			t.Errorf("%q: %+v, want %+v", more, got.Sum(budget.Wander), want.Sum(budget.Wander))
		}
	}
}

// An unmeasured base is taken to be off by the usual; a pivot's bar moves with
// its largest ring: 80 x 0.05 per cent x 2.
func TestAssumed(t *testing.T) {
	b := of(t, "guide = \"base\"\nrider = 100", "", two())
	i := slices.IndexFunc(b.Terms, func(t budget.Term) bool { return t.Source == budget.OffCenter })
	if i < 0 || !b.Terms[i].Assumed || b.Terms[i].From != budget.UsualOffCenter {
		t.Errorf("%+v", b.Terms)
	}
	p := of(t, `guide = "pivot"`, "", template.Set{})
	if got := p.Terms[0]; got.Source != budget.Moisture || !near(got.Wander, 0.08) || got.Widen != 0 {
		t.Errorf("%+v", got)
	}
	j := read(t, "guide = \"base\"\nrider = 100", "")
	plain := budget.Of(paramsOf(j), groove.SizeOf(j.Inlay, j.Router, j.Template), two(), profile.Shop{})
	if w := plain.Terms[2]; w.Source != budget.Walls || !w.Assumed || w.From != profile.Plain().Tolerance {
		t.Errorf("%+v", w)
	}
}

// Errors of random sizes never add up to more than the worst case, nor does
// the root of their squares; repairing the largest leaves the least of all.
func TestSums(t *testing.T) {
	term := rapid.Custom(func(t *rapid.T) budget.Term {
		return budget.Term{
			Source: budget.Source(rapid.IntRange(0, int(budget.Splices)).Draw(t, "source")),
			Times:  rapid.IntRange(1, 3).Draw(t, "times"),
			Wander: rapid.Float64Range(0, 1).Draw(t, "wander"),
			Widen:  rapid.Float64Range(0, 1).Draw(t, "widen"),
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		terms := rapid.SliceOfNDistinct(term, 1, 8, func(t budget.Term) budget.Source { return t.Source }).Draw(t, "terms")
		b := budget.Budget{Terms: terms}
		for _, e := range []budget.Effect{budget.Wander, budget.Widen} {
			s, sum := b.Sum(e), 0.0
			for _, u := range terms {
				for range u.Times {
					sum += rapid.Float64Range(-1, 1).Draw(t, "error") * u.Of(e)
				}
			}
			const rounding = 1e-9
			if math.Abs(sum) > s.Worst+rounding || s.RSS > s.Worst+rounding {
				t.Fatalf("%v, %+v", sum, s)
			}
			if s.RSS == 0 {
				continue
			}
			left := b.Without(s.Most).Sum(e).RSS
			for _, u := range terms {
				if other := b.Without(u.Source).Sum(e).RSS; other < left-rounding {
					t.Fatalf("without %s %v is left, without %s %v", s.Most, left, u.Source, other)
				}
			}
		}
	})
}

// Every source has its word and its cure.
func TestWords(t *testing.T) {
	seen := map[string]bool{}
	for s := budget.Seat; s <= budget.Splices; s++ {
		if s.Cure() == "" || seen[s.String()] || s.String()[0] == 's' && s.String() == "source" {
			t.Errorf("%d is %q, cured by %q", s, s, s.Cure())
		}
		seen[s.String()] = true
	}
	if past := budget.Source(99); past.Cure() != "" || past.String() != "source(99)" {
		t.Errorf("%s", past)
	}
}

// The jobs that are shipped: everything finite and none without a sum.
func TestJobs(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil {
		t.Fatal(err)
	}
	r := build.Check("looped-triangle.toml", data, os.ReadFile, nil)
	if r.Reached != build.Planned {
		t.Fatal(r.Findings)
	}
	b := budget.Of(paramsOf(r.Job), r.Groove.Size, r.Set, r.Shop)
	for _, e := range []budget.Effect{budget.Wander, budget.Widen, budget.Deepen} {
		if s := b.Sum(e); !(s.RSS > 0 && s.RSS <= s.Worst && s.Worst < 2) {
			t.Errorf("%s: %+v", e, s)
		}
	}
}

// paramsOf are a job's.
func paramsOf(j *job.Job) budget.Params {
	p := budget.Params{Router: j.Router, Floor: j.Template.Floor, Elements: j.Motif.Elements}
	if j.Cutting != nil {
		p.KerfBy = j.Cutting.KerfBy
	}
	return p
}

// Worked out by hand: terms of 0.3 and 0.4 make 0.5 and at worst 0.7 of one station without the
// frame's own 0.1; two stations and a play of 0.2 follow by Pythagoras.
func TestJoint(t *testing.T) {
	b := budget.Budget{Terms: []budget.Term{{Times: 1, Wander: 0.3}, {Times: 1, Wander: 0.4}}}
	j := b.Joint(0.2)
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-12 }
	if !near(j.Station.Worst, 0.8) || !near(j.Station.RSS, math.Sqrt(0.26)) {
		t.Errorf("one station: %+v", j.Station)
	}
	if !near(j.Together.Worst, 0.2) || !near(j.Together.RSS, 0.2) {
		t.Errorf("together: %+v", j.Together)
	}
	if !near(j.Others.Worst, 1.8) || !near(j.Others.RSS, math.Sqrt(2*0.26+0.04)) {
		t.Errorf("others: %+v", j.Others)
	}
	if without := b.Joint(0); without.Together.Worst != 0 || !near(without.Others.RSS, math.Sqrt(0.52)) {
		t.Errorf("without play: %+v", without)
	}
}

package fit_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/diag"
	"strapwork/pkg/fit"
	"strapwork/pkg/geom"
	"strapwork/pkg/received"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// params are a lay-up of holly 0.9, pear 2.8 and holly 0.9 with 0.08 mm of clearance, for a
// groove of 4.68 mm.
func params() fit.Params {
	return fit.Params{Bit: 3.175, Inlay: work.Inlay{Depth: 3, Clearance: 0.08, Width: 4.68, Strips: []work.Strip{
		{Material: "holly", Thickness: 0.9}, {Material: "pear", Thickness: 2.8}, {Material: "holly", Thickness: 0.9},
	}}}
}

// tracks are A1, A2, ..., each with two cuts of a job.
func tracks(n int) (list []fit.Way) {
	for i := 1; i <= n; i++ {
		id := fmt.Sprint("A", i)
		track := received.Opening{ID: id, Panel: "A", Nominal: 13.505, Across: geom.Pt(0, 1), Cuts: []received.Made{{Number: i, SetUp: 1}, {Number: n + i, SetUp: 2}}}
		list = append(list, fit.Way{ID: id, Track: &track, Names: []string{fmt.Sprintf("bar.%d", i)}})
	}
	return list
}

// card is a card with one reading each of holly, pear and grooves.
func card(holly, pear float64, grooves ...float64) string {
	text := fmt.Sprintf("[[strip]]\nmaterial = \"holly\"\nthickness = %.6f\n[[strip]]\nmaterial = \"pear\"\nthickness = %.6f\n", holly, pear)
	for i, w := range grooves {
		text += fmt.Sprintf("[[groove]]\ncut = %d\nwidth = %.6f\n", i+1, w)
	}
	return text
}

func planOf(t interface{ Fatal(...any) }, p fit.Params, ways []fit.Way, text string) (fit.Plan, diag.Findings) {
	c, found := fit.Read("card.toml", []byte(text), unit.MM, p.Inlay, ways)
	if len(found) > 0 {
		t.Fatal(found, text)
	}
	return fit.Of(p, c, ways)
}

func rules(found diag.Findings) (list []string) {
	for _, f := range found {
		list = append(list, f.Severity.String()+" "+f.Rule)
	}
	return list
}

// Each worked by hand: wanted is what the strips are together and 0.08; tape from layers of
// 0.13, 0.10 and 0.06 mm.
func TestRemedies(t *testing.T) {
	for _, c := range []struct {
		name        string
		holly, pear float64
		grooves     []float64
		thin        [2]float64 // off each strip of holly, and of pear
		remedies    string
		clearance   []float64
		rules       []string
	}{
		{"as planned", 0.9, 2.8, []float64{4.68, 4.68}, [2]float64{}, "nothing nothing", []float64{0.08, 0.08}, nil},
		{"what makers work to", 0.9, 2.8, []float64{4.66, 4.7}, [2]float64{}, "nothing nothing", []float64{0.06, 0.1}, nil},
		{"thin strips: tape alone", 0.88, 2.76, []float64{4.68, 4.68}, [2]float64{}, "tape tape", []float64{0.1, 0.1}, nil},
		{"one wide groove", 0.9, 2.8, []float64{4.68, 4.8}, [2]float64{}, "nothing tape", []float64{0.08, 0.08}, nil},
		{"no tape is so thin", 0.9, 2.8, []float64{4.68, 4.73}, [2]float64{}, "nothing nothing", []float64{0.08, 0.13}, nil},
		{"thick holly, back to plan", 0.93, 2.8, []float64{4.68, 4.68}, [2]float64{0.03, 0}, "nothing nothing", []float64{0.08, 0.08}, nil},
		{"thick pear, back to plan", 0.9, 2.85, []float64{4.68, 4.68}, [2]float64{0, 0.05}, "nothing nothing", []float64{0.08, 0.08}, nil},
		{"narrow grooves: the thickest gives", 0.9, 2.8, []float64{4.6, 4.6}, [2]float64{0, 0.08}, "nothing nothing", []float64{0.08, 0.08}, nil},
		{"thinned to the narrowest, tape for the other", 0.9, 2.8, []float64{4.62, 4.7}, [2]float64{0, 0.06}, "nothing tape", []float64{0.08, 0.1}, nil},
		{"one track at fault", 0.9, 2.8, []float64{4.5, 4.68, 4.68}, [2]float64{}, "file nothing nothing", []float64{0.08, 0.08, 0.08}, []string{"warning narrow"}},
		{"strips thicker than the groove", 1.1, 3.4, []float64{4.68, 4.68}, [2]float64{0.2, 0.6}, "nothing nothing", []float64{0.08, 0.08}, nil},
		{"more than tape fixes", 0.9, 2.8, []float64{4.68, 5.3}, [2]float64{}, "nothing wide", []float64{0.08, 0.7}, []string{"error wide"}},
		{"more than a file fixes", 0.9, 2.8, []float64{4.0, 4.68, 4.68}, [2]float64{}, "narrow nothing nothing", []float64{-0.6, 0.08, 0.08}, []string{"error narrow"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, found := planOf(t, params(), tracks(len(c.grooves)), card(c.holly, c.pear, c.grooves...))
			for i, s := range p.Strips {
				if math.Abs(s.Thin-c.thin[i]) > 1e-9 {
					t.Errorf("%s is thinned by %v, want %v", s.Material, s.Thin, c.thin[i])
				}
			}
			var remedies []string
			for i, g := range p.Grooves {
				remedies = append(remedies, g.Remedy.String())
				if math.Abs(g.Tight-c.clearance[i]) > 1e-6 {
					t.Errorf("%s has %v of clearance, want %v", g.ID, g.Tight, c.clearance[i])
				}
			}
			if got := strings.Join(remedies, " "); got != c.remedies {
				t.Errorf("%s, want %s", got, c.remedies)
			}
			if !slices.Equal(rules(found), c.rules) {
				t.Errorf("%v, want %v", found, c.rules)
			}
			for _, f := range found {
				if f.Pos.Line == 0 || f.Excerpt == "" || f.Hint == "" {
					t.Errorf("a finding without its place or hint: %+v", f)
				}
			}
		})
	}
}

// Metal gives last, and not more than a fifth: then it is the walls' turn, and where the
// strips are thicker than any groove nothing is.
func TestMetal(t *testing.T) {
	metal := params()
	metal.Inlay.Strips[1].Material = "bronze"
	text := func(holly, bronze float64, grooves ...float64) string {
		return strings.Replace(card(holly, bronze, grooves...), "pear", "bronze", 1)
	}
	p, found := planOf(t, metal, tracks(1), text(0.9, 2.8, 4.6))
	if len(found) > 0 || p.Strips[1].Thin != 0 || math.Abs(p.Strips[0].Thin-0.04) > 1e-9 {
		t.Errorf("%+v, %v", p.Strips, found)
	}
	p, found = planOf(t, metal, tracks(1), text(0.9, 2.8, 4.3))
	if len(found) > 0 || math.Abs(p.Strips[0].Thin-0.18) > 1e-9 || math.Abs(p.Strips[1].Thin-0.02) > 1e-9 {
		t.Errorf("%+v, %v", p.Strips, found)
	}
	if lines := fmt.Sprint(p.Footer()); !strings.Contains(lines, "scraper") || !strings.Contains(lines, "It gets hot") {
		t.Error(lines)
	}
	_, found = planOf(t, metal, tracks(1), text(1.2, 3.9, 4.68))
	if got := rules(found); !slices.Equal(got, []string{"error strips-thick", "error narrow"}) {
		t.Errorf("%v", found)
	}
	if !strings.HasPrefix(found[0].Message, "the strips are 6.3 mm thick together, and the widest groove, of cut 1 (track A1), is 4.68 mm") {
		t.Error(found[0])
	}
}

// Where every groove is too wide there is less work in the strips.
func TestAllTooWide(t *testing.T) {
	for want, grooves := range map[bool][]float64{true: {4.8, 4.9}, false: {4.68, 4.9}} {
		p, _ := planOf(t, params(), tracks(2), card(0.9, 2.8, grooves...))
		if got := strings.Contains(fmt.Sprint(p.Footer()), "Every groove is too wide, by 0.12 mm or more: "); got != want {
			t.Errorf("%v: %v", grooves, p.Footer())
		}
	}
}

// A strip is never made so thin that it breaks.
func TestThinStripsStay(t *testing.T) {
	fine := params()
	fine.Inlay.Strips = []work.Strip{{Material: "holly", Thickness: 0.42}, {Material: "holly", Thickness: 0.42}}
	fine.Inlay.Width, fine.Bit = 0.92, 0.8
	p, found := planOf(t, fine, tracks(1), "[[strip]]\nmaterial='holly'\nthickness=0.42\n[[groove]]\ncut=1\nwidth=0.85\n")
	if p.Strips[0].Thin != 0 || !slices.Equal(rules(found), []string{"warning narrow"}) {
		t.Errorf("%+v, %v", p.Strips, found)
	}
}

// The groove can't be narrower than the slot of the bit.
func TestBitTooWide(t *testing.T) {
	p := params()
	p.Bit = 4.6
	_, found := planOf(t, p, tracks(1), card(0.85, 2.7, 4.68))
	if got := rules(found); !slices.Contains(got, "error bit-wide") {
		t.Errorf("%v", found)
	}
}

// Without walls what was measured goes into the job: the slot by what the grooves came out
// wider than planned.
func TestAnew(t *testing.T) {
	ways := []fit.Way{{ID: "ring.1", Names: []string{"s1"}}, {ID: "bar", Names: []string{"s2"}}}
	text := strings.NewReplacer("cut = 1", "cut = 'ring.1'", "cut = 2", "cut = 's2'").Replace(card(0.93, 2.8, 4.7, 4.71))
	p, found := planOf(t, params(), ways, text)
	if math.Abs(p.Bit-3.195) > 1e-9 || !slices.Equal(rules(found), []string{"warning build-anew"}) {
		t.Fatalf("%+v, %v", p, found)
	}
	if want := "put thickness = 0.93 for strips 1 and 3 (holly) and bit = 3.195 into the job, and build it again"; found[0].Hint != want {
		t.Errorf("%q, want %q", found[0].Hint, want)
	}
	for i, want := range []float64{0.08, 0.09} {
		if g := p.Grooves[i]; g.Remedy != fit.Anew || math.Abs(g.Tight-want) > 1e-9 {
			t.Errorf("%+v", g)
		}
	}
	p, found = planOf(t, params(), ways, strings.NewReplacer("0.93", "0.9", "4.70", "4.68", "4.71", "4.69").Replace(text))
	if p.Repairs() || len(found) > 0 || p.Bit != 0 {
		t.Errorf("%+v, %v", p, found)
	}
}

// A job with the groove's width alone takes the strips as the card has them.
func TestWidthAlone(t *testing.T) {
	p := fit.Params{Inlay: work.Inlay{Depth: 3, Width: 4.68}, Bit: 3.175}
	plan, found := planOf(t, p, tracks(2), card(1.8, 2.8, 4.68, 4.7))
	if len(found) > 0 || math.Abs(plan.Clearance-0.08) > 1e-9 || math.Abs(plan.Wanted()-4.68) > 1e-9 {
		t.Errorf("%+v, %v", plan, found)
	}
	plan, found = planOf(t, p, tracks(1), card(1.9, 2.9, 4.68))
	if len(found) > 0 || math.Abs(plan.Thinned()-4.68) > 1e-9 {
		t.Errorf("%+v, %v", plan, found)
	}
}

// Whatever is measured: every groove then has its clearance as makers work to it, or the
// plan says which hasn't and why; strips aren't touched where tape alone does; and what is
// thinned stays what a strip can be.
func TestEveryGroove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := measures(t)
		p, found := planOf(t, params(), tracks(len(in)-2), card(in[0], in[1], in[2:]...))
		if p.Repairs() && len(p.Footer()) == 0 {
			t.Fatal("nothing is said of the repairs")
		}
		if slices.Min(in[2:]) >= p.Together()+p.Clearance-0.02 && p.Thinned() != p.Together() {
			t.Fatalf("strips are thinned where tape does: %+v", p)
		}
		for _, s := range p.Strips {
			if s.After() < 0.8*s.Most-1e-9 || s.After() < 0.4 || s.Thin < 0 {
				t.Fatalf("%+v", s)
			}
		}
		if p.Thinned() < p.Together() {
			loose := func(g fit.Groove) bool { return g.Off > 0.02+1e-6 && g.Remedy != fit.File }
			if all := !slices.ContainsFunc(p.Grooves, func(g fit.Groove) bool { return !loose(g) }); all {
				t.Fatalf("strips are thinned too far: %+v", p)
			}
		}
		for _, g := range p.Grooves {
			low, high := 0.06-1e-5, 0.1+1e-5
			switch g.Remedy {
			case fit.Leave:
				high += 0.03 // no tape is so thin, which is said
				if g.Tight > 0.1+1e-5 && !strings.HasPrefix(g.Advice().String(), "leave it: ") {
					t.Fatalf("%s: %s", g.ID, g.Advice())
				}
			case fit.Tape, fit.File:
			case fit.Narrow, fit.Wide:
				if !found.HasErrors() {
					t.Fatalf("%s is %s, and no error", g.ID, g.Remedy)
				}
				continue
			case fit.Anew:
				t.Fatal("there are walls")
			}
			if g.Tight < low || g.Tight > high {
				t.Fatalf("%s has %v of clearance: %+v", g.ID, g.Tight, g)
			}
		}
	})
}

// measures are those of holly, of pear, and of some grooves.
func measures(t *rapid.T) []float64 {
	list := []float64{
		rapid.Float64Range(0.85, 1).Draw(t, "holly"), rapid.Float64Range(2.7, 2.95).Draw(t, "pear"),
	}
	return append(list, rapid.SliceOfN(rapid.Float64Range(4.5, 4.95), 1, 6).Draw(t, "grooves")...)
}

// A hundredth of a millimetre in a reading is about as much in what comes of it. What turns
// over at a threshold is within what makers work to: a groove that is left at 0.02 mm, tape
// whose layers are 0.03 apart, one strip of three thinned by a step more each.
func TestNoise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := measures(t)
		for i := 2; i < len(in); i++ {
			in[i] = 4.62 + (in[i]-4.5)/5 // so that no track is at fault, which is another plan
		}
		text := card(in[0], in[1], in[2:]...)
		a, _ := planOf(t, params(), tracks(len(in)-2), text)
		which := rapid.IntRange(0, len(in)-1).Draw(t, "which")
		in[which] += rapid.Float64Range(-0.01, 0.01).Draw(t, "noise")
		b, _ := planOf(t, params(), tracks(len(in)-2), card(in[0], in[1], in[2:]...))
		// The reading itself, twice where it is of two strips; 0.02 of a groove that is left
		// or isn't; a step for each of three strips.
		const most = 2*0.01 + 0.02 + 3*0.01 + 1e-6
		thin := func(p fit.Plan) float64 { return p.Together() - p.Thinned() }
		if d := math.Abs(thin(a) - thin(b)); d > most {
			t.Fatalf("thinned by %v and by %v", thin(a), thin(b))
		}
		for i, g := range a.Grooves {
			if d := math.Abs(g.Tape.Total() - b.Grooves[i].Tape.Total()); d > most+0.06 {
				t.Fatalf("%s: tape of %v and of %v", g.ID, g.Tape.Total(), b.Grooves[i].Tape.Total())
			}
			if d := math.Abs(g.Tight - b.Grooves[i].Tight); d > 0.07+1e-6 {
				t.Fatalf("%s: clearances of %v and of %v", g.ID, g.Tight, b.Grooves[i].Tight)
			}
		}
	})
}

// A lay-up that is glued first is measured as one and thinned at its faces, of wood where
// either is; its strips may be measured one by one before.
func TestSandwich(t *testing.T) {
	glued := params()
	glued.Inlay.Laid = work.LaidSandwich
	text := func(mm, groove float64) string {
		return fmt.Sprintf("[[strip]]\nmaterial = \"sandwich\"\nthickness = %v\n[[groove]]\ncut = 1\nwidth = %v\n", mm, groove)
	}
	p, found := planOf(t, glued, tracks(1), text(4.7, 4.68))
	if len(found) > 0 || len(p.Strips) != 1 || math.Abs(p.Strips[0].Thin-0.1) > 1e-9 {
		t.Fatalf("%+v, %v", p, found)
	}
	if got, want := p.Strips[0].Advice().String(), "thin by 0.1 mm, to 4.6 mm: half off each face"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	glued.Inlay.Strips[2].Material = "brass"
	p, _ = planOf(t, glued, tracks(1), text(4.7, 4.68))
	if got, want := p.Strips[0].Advice().String(), "thin by 0.1 mm, to 4.6 mm: off the face of strip 1"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// A fifth of one face of 0.9 mm is 0.18 mm.
	_, found = planOf(t, glued, tracks(1), text(4.8, 4.68))
	if got := rules(found); !slices.Equal(got, []string{"error strips-thick", "warning narrow"}) {
		t.Error(found)
	}
	p, found = planOf(t, glued, tracks(1), card(0.9, 2.8, 4.68)+"[[strip]]\nmaterial='brass'\nthickness=0.9\n")
	if len(found) > 0 || len(p.Strips) != 3 || p.Repairs() {
		t.Errorf("%+v, %v", p, found)
	}
}

// A blank card can be read, and nothing of it is measured; filled in it is right.
func TestBlank(t *testing.T) {
	for name, p := range map[string]fit.Params{"strips": params(), "width": {Inlay: work.Inlay{Width: 4.68}}, "sandwich": {Inlay: work.Inlay{
		Laid: work.LaidSandwich, Width: 4.68, Clearance: 0.08, Strips: params().Inlay.Strips,
	}}} {
		for _, job := range []string{"lid.toml", `a "b" \ c.toml`, "a\nb\x00.toml"} {
			ways := tracks(3)
			ways = append(ways, fit.Way{ID: "ring.1", Names: []string{"s1"}})
			data := fit.Blank(unit.MM, p.Inlay, job, ways)
			c, found := fit.Read("measured.toml", data, unit.Inch, p.Inlay, ways)
			if len(found) > 0 {
				t.Fatalf("%v\n%s", found, data)
			}
			_, found = fit.Of(p, c, ways)
			blocks := strings.Count(string(data), "[[strip]] ") + 4
			if name == "width" {
				blocks++
			}
			if len(found) != blocks || slices.ContainsFunc(found, func(f diag.Finding) bool { return f.Rule != "unmeasured" || f.Pos.Line == 0 }) {
				t.Errorf("%s: %d blocks, %v\n%s", name, blocks, found, data)
			}
			full := string(data)
			for _, mm := range []string{"0.9", "2.8"} {
				if name != "strips" {
					mm = "4.6"
				}
				full = strings.Replace(full, `thickness = ["", "", ""]`, "thickness = "+mm, 1)
			}
			full = strings.ReplaceAll(full, `width = ["", "", ""]`, "width = [4.68, 4.69]")
			c, _ = fit.Read("measured.toml", []byte(full), unit.MM, p.Inlay, ways)
			if plan, found := fit.Of(p, c, ways); len(found) > 0 || len(plan.Grooves) != 4 || plan.Repairs() {
				t.Errorf("%s: %v\n%s", name, found, full)
			}
		}
	}
}

// The card's mistakes, each at its place.
func TestBadCard(t *testing.T) {
	right := card(0.9, 2.8, 4.68, 4.68)
	for _, c := range []struct{ name, old, new, want, hint string }{
		{"unknown key", "thickness", "thicknes", `card.toml:3:1: error: there is no key "thicknes" in [strip]`, "did you mean thickness?"},
		{"unknown table", "[[groove]]", "[[grove]]", `card.toml:7:3: error: there is no key "grove" in a measured card`, "did you mean groove?"},
		{"unknown strip", `"holly"`, `"holy"`, `card.toml:2:12: error: there is no strip of "holy" in the lay-up`, "did you mean holly?"},
		{"another wood", `"holly"`, `"maple"`, `card.toml:2:12: error: there is no strip of "maple" in the lay-up`, "the job's strips are of holly, pear"},
		{"no such cut", "cut = 2", "cut = 9", "card.toml:11:7: error: there is no cut 9 in this job", `write a cut's number, 1 to 4, or a track, "A1" to "A2"`},
		{"no such track", "cut = 2", `cut = "A3"`, `card.toml:11:7: error: there is no cut "A3" in this job`, `did you mean "A1"?`},
		{"a cut of the wrong kind", "cut = 2", "cut = 2.5", "card.toml:11:7: error: cut must be a number, or a name in quotes, not a number", ""},
		{"no cut", "cut = 2", "", "card.toml:10:3: error: cut is missing", ""},
		{"a groove that is missing", "cut = 2", "cut = 1", "card.toml: error: the groove of cut 2 (track A2) is not measured", "cut it in scrap and write [[groove]], cut = 2 and width = .., a line each"},
		{"a groove without a width", "cut = 2\nwidth = 4.680000", "cut = 2", "card.toml:10:3: error: the groove of cut 2 (track A2) is not measured", ""},
		{"a strip that is missing", `material = "pear"`, `material = "holly"`, `card.toml: error: strip 2 (pear): the thickness is not measured`, "measure it at three places and write thickness = [.., .., ..] below its [[strip]]"},
		{"a negative width", "width = 4.680000", "width = -4.68", "card.toml:9:9: error: width must be more than 0", ""},
		{"an absurd groove", "width = 4.680000", "width = 17", "card.toml:9:9: error: 17 for the groove of cut 1 (track A1), which is planned 4.68 mm", "measure again; if it is right, look at the track and the bit"},
		{"a moved point", "width = 4.680000", "width = 46.9", "card.toml:9:9: error: 46.9 for the groove of cut 1 (track A1), which is planned 4.68 mm: is 4.69 meant?", "write 4.69, or measure again"},
		{"the track's width", "width = 4.680000", "width = 13.5", "card.toml:9:9: error: 13.5 for the groove of cut 1 (track A1), which is planned 4.68 mm: is it the track, from wall to wall?", ""},
		{"an absurd strip", "thickness = 0.900000", "thickness = 5", "card.toml:3:13: error: 5 for strips 1 and 3 (holly), which is planned 0.9 mm", "measure again; if it is right, take strips of that thickness, or write theirs into the job"},
		{"another strip", "thickness = 0.900000", "thickness = 2.8", "card.toml:3:13: error: 2.8 for strips 1 and 3 (holly), which is planned 0.9 mm: is it strip 2 (pear)?", ""},
		{"inches", "thickness = 2.800000", "thickness = 0.11", "card.toml:6:13: error: 0.11 for strip 2 (pear), which is planned 2.8 mm: is 0.11 in meant?", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(right, c.old, c.new, 1)
			read, found := fit.Read("card.toml", []byte(text), unit.MM, params().Inlay, tracks(2))
			if !found.HasErrors() {
				var plan fit.Plan
				if plan, found = fit.Of(params(), read, tracks(2)); len(plan.Grooves) > 0 {
					t.Error("there is a plan all the same")
				}
			}
			if len(found) == 0 {
				t.Fatal("nothing is reported")
			}
			if got := found[0].Error(); !strings.HasPrefix(got, c.want) || c.hint != "" && found[0].Hint != c.hint {
				t.Errorf("got  %s (%s)\nwant %s (%s)", got, found[0].Hint, c.want, c.hint)
			}
		})
	}
}

// Blocks of one material are put to its strips: one for those that are alike, the thinner
// to the thinner whatever their order, or one for each from the left.
func TestBlocks(t *testing.T) {
	p := params()
	p.Inlay.Strips = []work.Strip{{Material: "holly", Thickness: 0.9}, {Material: "holly", Thickness: 1.5}, {Material: "Holly", Thickness: 0.9}}
	p.Inlay.Width, p.Bit = 3.38, 3
	blocks := func(list ...float64) string {
		text := "[[groove]]\ncut = 'a1'\nwidth = 3.38\n"
		for _, mm := range list {
			text += fmt.Sprintf("[[strip]]\nmaterial = 'holly '\nthickness = %v\n", mm)
		}
		return text
	}
	for _, c := range []struct {
		list        []float64
		thin, thick [2]float64 // least and most
	}{
		{[]float64{1.51, 0.92}, [2]float64{0.92, 0.92}, [2]float64{1.51, 1.51}},
		{[]float64{0.9, 1.5, 0.93}, [2]float64{0.9, 0.93}, [2]float64{1.5, 1.5}},
	} {
		plan, found := planOf(t, p, tracks(1), blocks(c.list...))
		if len(found) > 0 || len(plan.Strips) != 2 {
			t.Fatalf("%+v, %v", plan, found)
		}
		for i, want := range [][2]float64{c.thin, c.thick} {
			if s := plan.Strips[i]; s.Least != want[0] || s.Most != want[1] {
				t.Errorf("%v: %+v, want %v", c.list, s, want)
			}
		}
	}
	for _, list := range [][]float64{{0.9}, {0.9, 0.9, 0.9, 1.5}} {
		if _, found := planOf(t, p, tracks(1), blocks(list...)); !slices.Contains(rules(found), "error strip-count") {
			t.Errorf("%v: %v", list, found)
		}
	}
}

// Whatever the card, its mistakes are at their places, and what is read of it is a length.
func FuzzRead(f *testing.F) {
	in, ways := params().Inlay, tracks(2)
	for _, text := range []string{
		string(fit.Blank(unit.MM, in, "job.toml", ways)), card(0.9, 2.8, 4.68, 4.7), "[[groove]]\ncut = [1]\n[[groove]]\ncut = 99999999999999999999\nwidth = {}",
		"[strip]\nmaterial = 1", "strip = 3\ngroove = [1]", "[[strip]]\n[[strip]]\nmaterial = \"holly\"\nthickness = [\"\", 1e-9]\n[[groove]]\ncut = \" 2 \"",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		read, found := fit.Read("c", data, unit.MM, in, ways)
		if !found.HasErrors() {
			var plan fit.Plan
			if plan, found = fit.Of(params(), read, ways); len(plan.Grooves) == 0 && !found.HasErrors() {
				t.Error("no plan, and no error")
			}
			for _, g := range plan.Grooves {
				if !(g.Narrow > 0 && g.Narrow <= g.Broad && g.Broad <= 10_000) || math.IsNaN(g.Tight+g.Loose+g.Off) {
					t.Errorf("%+v", g)
				}
			}
		}
		lines := strings.Count(strings.TrimPrefix(string(data), "\ufeff"), "\n") + 1
		for _, g := range found {
			if g.Pos.Line < 0 || g.Pos.Line > lines || g.Message == "" || strings.Contains(g.Message+g.Hint, "%!") {
				t.Errorf("%+v in %d lines", g, lines)
			}
		}
	})
}

package table_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/table"
	"strapwork/pkg/work"
)

// extending is a table of two ends and so many leaves.
func extending(leaves int) work.Table {
	t := work.Table{Width: 900, Thickness: 22, Across: 450, Sections: []work.Section{{Name: "left", Length: 600, Count: 1, Key: "table.section.1"}}}
	if leaves > 0 {
		t.Sections = append(t.Sections, work.Section{Name: "leaf", Length: 420, Count: leaves, Loose: true, Key: "table.section.2"})
	}
	t.Sections = append(t.Sections, work.Section{Name: "right", Length: 600, Count: 1, Key: "table.section.3"})
	return t
}

// drawn is the motif of contours.
func drawn(t *testing.T, list ...geom.Contour) motif.Motif {
	t.Helper()
	d := work.Drawing{Copies: 1}
	for _, c := range list {
		d.Elements = append(d.Elements, work.Element{Name: "e" + string(rune('a'+len(d.Elements))), Contour: c, Of: 1})
	}
	m, found := motif.Build(d)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return m
}

// A ring of radius 100 about the origin passes every joint 100 mm to both sides of it,
// square, with curvature 1/100.
func TestRingOnJoints(t *testing.T) {
	p := table.Params{Table: extending(2), Groove: 4, Bit: 3}
	got, found := table.New(p, drawn(t, geom.Circle(geom.Pt(0, 0), 100)))
	if len(found) > 0 {
		t.Fatal(found)
	}
	if len(got.Passings) != 8 || len(got.Stations) != 3 {
		t.Fatalf("%d passings, %d stations", len(got.Passings), len(got.Stations))
	}
	for i, q := range got.Passings {
		y, bend := 350.0, 0.01
		if i%2 == 1 {
			y, bend = 550, -0.01
		}
		if math.Abs(q.Y-y) > 1e-9 || math.Abs(q.Angle) > 1e-9 || math.Abs(q.Curvature-bend) > 1e-12 {
			t.Errorf("passing %d is at %v, angle %v, curvature %v", i, q.Y, q.Angle, q.Curvature)
		}
	}
	for n, lengths := range [][]float64{{100}, {100, 100}, {100, 100}, {100}} {
		if len(got.Sections[n].Stretches) != len(lengths) {
			t.Fatalf("section %d has %d stretches", n, len(got.Sections[n].Stretches))
		}
		for k, r := range lengths {
			if st := got.Sections[n].Stretches[k]; math.Abs(st.To-st.From-math.Pi*r) > 1e-9 {
				t.Errorf("stretch %d of section %d is %v long", k, n, st.To-st.From)
			}
		}
	}
}

// Arrangements: n alike leaves n + 1; unlike ones in order 2^n; A B A all loose 7; with
// leaves turned end for end each of k leaves counts twice.
func TestArrangements(t *testing.T) {
	section := func(name string, count int) work.Section {
		return work.Section{Name: name, Length: 300, Count: count, Loose: name != "left" && name != "right"}
	}
	for name, c := range map[string]struct {
		leaves []work.Section
		turned bool
		want   float64
	}{
		"no leaf":          {nil, false, 1},
		"alike":            {[]work.Section{section("a", 5)}, false, 6},
		"unlike":           {[]work.Section{section("a", 1), section("b", 1), section("c", 1), section("d", 1)}, false, 16},
		"A B A":            {[]work.Section{section("a", 1), section("b", 1), section("a", 1)}, false, 7},
		"two alike turned": {[]work.Section{section("a", 2)}, true, 1 + 2 + 4},
		"forty alike":      {[]work.Section{section("a", 40)}, false, 41},
		"fifteen unlike":   {unlike(section, 15), false, 1 << 15},
	} {
		top := work.Table{Width: 900, Thickness: 22, Across: 450, TurnLeaves: c.turned}
		top.Sections = append(append([]work.Section{section("left", 1)}, c.leaves...), section("right", 1))
		got, _ := table.New(table.Params{Table: top, Groove: 4, Bit: 3}, drawn(t, geom.Circle(geom.Pt(0, 0), 100)))
		if got.Arranged != c.want || c.want <= 4096 && float64(len(got.Arrangements)) != c.want {
			t.Errorf("%s: %v arrangements, %d kept, want %v", name, got.Arranged, len(got.Arrangements), c.want)
		}
	}
}

// Arrangements are called by their leaves, no two alike, and use sections of their own kinds.
func TestCalled(t *testing.T) {
	leaf := func(name string, count int) work.Section {
		return work.Section{Name: name, Length: 300, Count: count, Loose: true}
	}
	for _, c := range []struct {
		leaves []work.Section
		turned bool
		want   []string
	}{
		{[]work.Section{leaf("leaf", 2)}, false, []string{"no leaf", "1 leaf", "2 leaves"}},
		{[]work.Section{leaf("a", 1), leaf("b", 1), leaf("a", 1)}, false, []string{"no leaf", "a", "b", "a, b", "a, a", "b, a", "a, b, a"}},
		{[]work.Section{leaf("leaf", 1)}, true, []string{"no leaf", "1 leaf", "leaf turned"}},
	} {
		top := extending(0)
		top.TurnLeaves = c.turned
		top.Sections = slices.Insert(top.Sections, 1, c.leaves...)
		got, _ := table.New(table.Params{Table: top, Groove: 4, Bit: 3}, drawn(t, geom.Circle(geom.Pt(0, 0), 100)))
		var names []string
		for _, a := range got.Arrangements {
			names = append(names, got.Called(a))
			used := got.Used(a)
			if len(used) != len(a.Sections) {
				t.Fatalf("%s uses %v", got.Called(a), used)
			}
			for i, n := range used {
				if got.Sections[n].Kind != a.Sections[i].Kind || slices.Contains(used[:i], n) {
					t.Errorf("%s uses %v", got.Called(a), used)
				}
			}
		}
		slices.Sort(names)
		slices.Sort(c.want)
		if !slices.Equal(names, c.want) {
			t.Errorf("called %q, want %q", names, c.want)
		}
	}
}

func unlike(section func(string, int) work.Section, n int) (all []work.Section) {
	for i := range n {
		all = append(all, section(string(rune('a'+i)), 1))
	}
	return all
}

// One cause is said once, wherever it shows: a ring that turns back 2 mm past every joint is
// not slanting too, and what doesn't match its like at one joint doesn't at others.
func TestOneCauseIsSaidOnce(t *testing.T) {
	turned := func(w *work.Table) { w.TurnLeaves = true }
	ring := func(x, y float64) geom.Contour { return geom.Circle(geom.Pt(x, y), 100) }
	for name, c := range map[string]struct {
		change func(w *work.Table)
		rings  []geom.Contour
		rule   string
		says   string
	}{
		"turns back":    {nil, []geom.Contour{ring(-98, 0)}, "joint-near", "at least 5 mm must be left"},
		"two turn back": {nil, []geom.Contour{ring(-98, 120), ring(98, -120)}, "joint-near", "; 2 such places in all"},
		"stays by it":   {nil, []geom.Contour{ring(-104, 0)}, "joint-near", "within 2 mm of a joint"},
		// A side that runs along the joint 3 mm from it, between rounded corners.
		"runs along":     {nil, []geom.Contour{stadium(-23, 20, 200)}, "joint-near", "within 1 mm of a joint"},
		"off the middle": {func(w *work.Table) { turned(w); w.Across = 440 }, []geom.Contour{ring(0, 0)}, "joint-meet", "; 2 pairs of edges in all differ"},
		"one-sided":      {turned, []geom.Contour{ring(0, 0), ring(0, 250)}, "joint-meet", "; 2 pairs of edges in all differ"},
	} {
		p := table.Params{Table: extending(2), Groove: 4, Bit: 3}
		if c.change != nil {
			c.change(&p.Table)
		}
		_, found := table.New(p, drawn(t, c.rings...))
		if len(found) != 1 || found[0].Rule != c.rule || !strings.Contains(found[0].Message, c.says) || found[0].Hint == "" {
			t.Errorf("%s: %v", name, found)
		}
	}
}

// stadium is a strip about a place on the x axis with half rounds of a radius for ends, so long.
func stadium(x, r, long float64) geom.Contour {
	h := long/2 - r
	return geom.Contour{Closed: true, Vertices: []geom.Vertex{
		{Point: geom.Pt(x-r, h)}, {Point: geom.Pt(x-r, -h), Bulge: 1}, {Point: geom.Pt(x+r, -h)}, {Point: geom.Pt(x+r, h), Bulge: 1},
	}}
}

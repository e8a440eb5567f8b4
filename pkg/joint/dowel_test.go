package joint

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/season"
	"strapwork/pkg/work"
)

// pinned is a table with one strand that crosses the joint square at 450 mm, and one that runs
// along it 15 mm off, from 600 to 700 mm, in the section on its right; a groove 3 mm deep.
func pinned(t *testing.T, change func(*work.Table)) diag.Findings {
	t.Helper()
	p := Params{Table: work.Table{Width: 900, Thickness: 22, Across: 450}, Width: 4.5, Depth: 3}
	change(&p.Table)
	p.Edges = []Edge{
		{Name: "left.right", Side: work.Right, Length: 600, Strands: []geom.Contour{geom.Chain(false, geom.Line(geom.Pt(300, 450), geom.Pt(605, 450)))}, Names: []string{"bar"}},
		{
			Name: "right.left", Side: work.Left, Length: 600,
			Strands: []geom.Contour{geom.Chain(false, geom.Line(geom.Pt(-5, 450), geom.Pt(200, 450))), geom.Chain(false, geom.Line(geom.Pt(15, 600), geom.Pt(15, 700)))},
			Names:   []string{"bar", "side"},
		},
	}
	_, found := New(p)
	return found
}

func dowel(below float64, at ...float64) work.Dowel {
	return work.Dowel{At: at, Diameter: 8, Below: below, Length: 40, Key: "table.dowel.1"}
}

func TestDowels(t *testing.T) {
	mirrored := func(below float64, in work.Side, at ...float64) work.Dowel {
		d := dowel(below, at...)
		d.In, d.Key = in, "table.dowel.2"
		return d
	}
	for _, c := range []struct {
		name   string
		change func(*work.Table)
		want   string // severity, key and part of the message; empty: nothing
		cure   string // key = value of the first
	}{
		{"clear of all", func(w *work.Table) { w.Dowels = []work.Dowel{dowel(7, 100, 800)} }, "", ""},
		// 3 mm of groove, 2 mm of wood and half of 8 mm: the middle 9 mm under the top.
		{"just deep enough", func(w *work.Table) { w.Dowels = []work.Dowel{dowel(9, 450)} }, "", ""},
		{"too little wood", func(w *work.Table) { w.Dowels = []work.Dowel{dowel(8.5, 100, 450)} }, "warning table.dowel.1.at.2: the groove of bar passes over the pin 450 mm from the front, in left.right: 3 mm deep, it leaves 1.5 mm of wood over it", "table.dowel.1.at.2 = 443"},
		{"cut into", func(w *work.Table) { w.Dowels = []work.Dowel{dowel(6.5, 450)} }, "error table.dowel.1.at.1: the groove of bar passes over the pin 450 mm from the front, in left.right: 3 mm deep, it cuts 0.5 mm into it", "table.dowel.1.at.1 = 443"},
		// The groove is 4.5 wide and the pin 8: they part 6.25 mm apart.
		{"just beside", func(w *work.Table) { w.Dowels = []work.Dowel{dowel(8, 456.3)} }, "", ""},
		{"just under", func(w *work.Table) { w.Dowels = []work.Dowel{dowel(8, 456.2)} }, "warning table.dowel.1.at.1: the groove of bar", "table.dowel.1.at.1 = 457"},
		// Half of 40 mm and 2 mm of hole reach 22 mm; the groove's side is 12.75 mm off.
		{"along the joint, in reach", func(w *work.Table) { w.Dowels = []work.Dowel{dowel(8, 650)} }, "warning table.dowel.1.at.1: the groove of side passes over the pin 650 mm from the front, in right.left", "table.dowel.1.at.1 = "},
		{"along the joint, a shorter pin", func(w *work.Table) {
			w.Dowels = []work.Dowel{dowel(8, 650)}
			w.Dowels[0].Length = 21
		}, "", ""},
		{"out of the top", func(w *work.Table) { w.Dowels = []work.Dowel{dowel(4, 100)} }, "error table.dowel.1: the pin comes through the top", "table.dowel.1.below = 11"},
		{"near the underside", func(w *work.Table) { w.Dowels = []work.Dowel{dowel(17, 100)} }, "warning table.dowel.1: the pin leaves only 1 mm of wood to the underside", "table.dowel.1.below = 11"},
		{"off the end", func(w *work.Table) { w.Dowels = []work.Dowel{dowel(11, 898)} }, "error table.dowel.1.at.1: the pin of 8 mm, 898 mm from the front, is not within", "table.dowel.1.at.1 = 892"},
		{"turned: no hole", func(w *work.Table) {
			w.TurnLeaves, w.Dowels = true, []work.Dowel{dowel(11, 100)}
		}, "error table.dowel.1.at.1: put in end for end, a leaf has the pin 100 mm from the front at 800 mm: the left edge that it meets has no hole there", "table.turn_leaves = false"},
		{"turned: pin to pin", func(w *work.Table) {
			w.TurnLeaves, w.Dowels = true, []work.Dowel{dowel(11, 100, 800)}
		}, "error table.dowel.1.at.1: put in end for end, a leaf has the pin 100 mm from the front at 800 mm: the left edge that it meets has a pin too there", "table.turn_leaves = false"},
		{"turned: in the middle", func(w *work.Table) {
			w.TurnLeaves, w.Dowels = true, []work.Dowel{dowel(11, 450)}
		}, "error table.dowel.1.at.1: put in end for end, a leaf meets the pin in the middle", ""},
		{"turned: pins face holes", func(w *work.Table) {
			w.TurnLeaves, w.Dowels = true, []work.Dowel{dowel(11, 100), mirrored(11, work.Right, 800)}
		}, "", ""},
		{"turned: the hole lies deeper", func(w *work.Table) {
			w.TurnLeaves, w.Dowels = true, []work.Dowel{dowel(11, 100), mirrored(12, work.Right, 800)}
		}, "error table.dowel.1.at.1", "table.turn_leaves = false"},
		{"a tongue deep enough", func(w *work.Table) {
			w.Tongue = &work.Tongue{Thickness: 6, Below: 8, Length: 16, Key: "table.tongue"}
		}, "", ""},
		{"a tongue too near", func(w *work.Table) {
			w.Tongue = &work.Tongue{Thickness: 6, Below: 7.5, Length: 16, Key: "table.tongue"}
		}, "warning table.tongue.below: the groove of bar passes over the tongue 450 mm from the front, in left.right: 3 mm deep, it leaves 1.5 mm of wood over it", "table.tongue.below = 8"},
		{"a tongue cut into", func(w *work.Table) {
			w.Tongue = &work.Tongue{Thickness: 6, Below: 5.5, Length: 16, Key: "table.tongue"}
		}, "error table.tongue.below: the groove of bar", "table.tongue.below = 8"},
	} {
		found := pinned(t, c.change)
		switch {
		case c.want == "":
			if len(found) > 0 {
				t.Errorf("%s: %v", c.name, found)
			}
			continue
		case len(found) == 0:
			t.Errorf("%s: nothing is found", c.name)
			continue
		}
		f := found[0]
		if got := f.Severity.String() + " " + string(f.Key) + ": " + f.Message; !strings.HasPrefix(got, c.want) || f.Hint == "" {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
		cure := ""
		if len(f.Cures) > 0 {
			cure = string(f.Cures[0].Key) + " = " + f.Cures[0].Value
		}
		if !strings.HasPrefix(cure, c.cure) || c.cure == "" && cure != "" {
			t.Errorf("%s: proposes %q, want %q", c.name, cure, c.cure)
		}
	}
}

// What is proposed ends the finding, wherever the pin is.
func TestProposedPlacesAreClear(t *testing.T) {
	tried := 0
	for y := 20.0; y < 880; y += 3.7 {
		for _, f := range pinned(t, func(w *work.Table) { w.Dowels = []work.Dowel{dowel(8, y)} }) {
			var to float64
			for _, c := range f.Cures {
				if c.Key == "table.dowel.1.at.1" {
					to = number(t, c.Value)
				}
			}
			if math.Abs(to-y) > 60 { // the groove along the joint is 100 mm long
				t.Errorf("%v: moved to %v", y, to)
			}
			if again := pinned(t, func(w *work.Table) { w.Dowels = []work.Dowel{dowel(8, to)} }); len(again) > 0 {
				t.Errorf("%v: moved to %v: %v", y, to, again)
			}
			tried++
		}
	}
	if tried < 20 {
		t.Errorf("only %d pins lie under a groove", tried)
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Movements worked out by hand from equation 13-2 of the Wood Handbook (FPL-GTR-190): width
// times coefficient times change of moisture. With the grain at 60 degrees a cosine of 1/2
// counts twice.
func TestMoves(t *testing.T) {
	p := table(0, 0, 0, 0, 0, 0, 0, 0) // passings 100 to 800 mm from the front
	p.Table.Groove, p.Table.Gap = work.GrooveClosed, 0
	p.Table.Sections = []work.Section{{Name: "left", Count: 1}, {Name: "leaf", Count: 2, Loose: true}, {Name: "right", Count: 1}}
	p.Change = &season.Change{Key: "wood.moisture", Species: "pear", Coefficient: 0.003, Moisture: [2]float64{8, 10}}

	// At the front: 800 mm x 0.003 x 2 = 4.8 mm. In the middle: 350 mm and 2.1 mm.
	for _, c := range []struct {
		name        string
		grain, held float64
		pins        []float64
		worst       float64
		at          float64
	}{
		{"held at the front", 0, 0, nil, 4.8, 800},
		{"held in the middle", 0, 450, []float64{100, 800}, 2.1, 100},
		{"the grain at 60 degrees to the table", 60, 450, []float64{450}, 2.1 / 4, 100},
	} {
		q := p
		q.Table.Grain = deg(c.grain)
		q.Table.Dowels = nil
		if c.pins != nil {
			q.Table.Dowels = []work.Dowel{dowel(11, c.pins...)}
		}
		j, found := New(q)
		m := j.Moves
		if got := m.All[m.Worst]; m.Held != c.held || math.Abs(got.By-c.worst) > 1e-9 || got.Y != c.at {
			t.Errorf("%s: %+v, held at %v", c.name, got, m.Held)
		}
		if len(found) != 1 || found[0].Rule != "joint-season" || found[0].Key != "wood.moisture" {
			t.Errorf("%s: %v", c.name, found)
		}
		if says := strings.Contains(found[0].Hint, "halves it"); says != (c.held == 0) {
			t.Errorf("%s: %s", c.name, found[0].Hint)
		}
	}
	for name, change := range map[string]func(*Params){
		"the grain along the joint": func(p *Params) { p.Table.Grain = deg(90) },
		"a stable core":             func(p *Params) { p.Table.Stable = true },
		"no leaf comes out":         func(p *Params) { p.Table.Sections[1].Loose = false },
		"nothing known of the wood": func(p *Params) { p.Change = nil },
	} {
		q := p
		q.Table.Sections = append([]work.Section{}, p.Table.Sections...)
		change(&q)
		if j, found := New(q); len(found) > 0 || len(j.Moves.All) > 0 {
			t.Errorf("%s: %v", name, found)
		}
	}
}

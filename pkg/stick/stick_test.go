package stick_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/sheet"
	"strapwork/pkg/stick"
	"strapwork/pkg/table"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

const groove, across = 3.2, 450.0

// sticks are those of a table of two ends and a leaf, 900 mm wide, with a motif on its joints.
func sticks(t *testing.T, list ...geom.Contour) []stick.Stick {
	t.Helper()
	d := work.Drawing{Copies: 1}
	for _, c := range list {
		d.Elements = append(d.Elements, work.Element{Name: "e" + string(rune('a'+len(d.Elements))), Contour: c, Of: 1})
	}
	m, found := motif.Build(d)
	if found.HasErrors() {
		t.Fatal(found)
	}
	top := work.Table{Width: 900, Thickness: 22, Across: across, Sections: []work.Section{
		{Name: "left", Length: 600, Count: 1}, {Name: "leaf", Length: 500, Count: 1, Loose: true}, {Name: "right", Length: 600, Count: 1},
	}}
	tab, found := table.New(table.Params{Table: top, Groove: groove, Bit: 3, Strips: []work.Strip{{Material: "holly", Thickness: 0.9}, {Material: "bronze", Thickness: 2.1}}}, m)
	if found.HasErrors() {
		t.Fatal(found)
	}
	var cuts []table.Cut
	for k := range tab.Kinds {
		cuts = append(cuts, tab.Section(k, 0))
	}
	all, lost := stick.OfTable(tab, cuts, stick.Params{Units: unit.Inch})
	if len(lost) > 0 {
		t.Fatal(lost)
	}
	return all
}

func line(a, b geom.Point) geom.Contour { return geom.Chain(false, geom.Line(a, b)) }

// same holds measures from the front to closed forms.
func same(t *testing.T, r stick.Row, middle float64, wall [2]float64, strips []float64) {
	t.Helper()
	const exact = 1e-9
	got := append([]float64{r.Middle, r.Wall[0], r.Wall[1]}, r.Strips...)
	want := append([]float64{middle, wall[0], wall[1]}, strips...)
	if len(got) != len(want) {
		t.Fatalf("%v, not %v", got, want)
	}
	for i := range got {
		if math.Abs(got[i]-want[i]) > exact {
			t.Errorf("%.9f, not %.9f", got, want)
			return
		}
	}
}

// What is off a straight strand by o lies o / cos phi off along the joint. Along a strand that
// runs with x the first strip is on the left, at the back; along one that runs against it at
// the front.
func TestStraightPassings(t *testing.T) {
	for _, deg := range []float64{0, 30, -45, 60} {
		way := geom.Polar(80, deg*math.Pi/180)
		k := 1 / math.Cos(deg*math.Pi/180)
		all := sticks(t, line(way.Scale(-1), way))
		if len(all) != 1 || len(all[0].Rows) != 1 || len(all[0].Rows[0].Edges) != 4 {
			t.Fatalf("%v degrees: %+v", deg, all)
		}
		r := all[0].Rows[0]
		same(t, r, across, [2]float64{across - groove/2*k, across + groove/2*k}, []float64{across - 1.5*k, across + 0.6*k, across + 1.5*k})
		if math.Abs(r.Angle*180/math.Pi-deg) > 1e-9 {
			t.Errorf("%v degrees, not %v", r.Angle*180/math.Pi, deg)
		}
		same(t, sticks(t, line(way, way.Scale(-1)))[0].Rows[0], across, [2]float64{across - groove/2*k, across + groove/2*k},
			[]float64{across - 1.5*k, across - 0.6*k, across + 1.5*k})
	}
}

// A circle's parallels are circles: sqrt((R + o)^2 - d^2) from the middle, where its centre
// is d off the joint.
func TestCurvedPassings(t *testing.T) {
	const r, d = 100.0, 50.0
	off := func(o float64) float64 { return math.Sqrt((r+o)*(r+o) - d*d) }
	all := sticks(t, geom.Circle(geom.Pt(d, 0), r))
	if len(all) != 1 || len(all[0].Rows) != 2 {
		t.Fatalf("%+v", all)
	}
	// Counter-clockwise it runs with x in front, its left inwards; against x at the back.
	h := groove / 2
	same(t, all[0].Rows[0], across-off(0), [2]float64{across - off(h), across - off(-h)}, []float64{across - off(1.5), across - off(-0.6), across - off(-1.5)})
	same(t, all[0].Rows[1], across+off(0), [2]float64{across + off(-h), across + off(h)}, []float64{across + off(-1.5), across + off(-0.6), across + off(1.5)})
}

// A line that becomes an arc on the joint: the wall beyond the joint is the arc's, the other
// the line's, and both edges have them at one place.
func TestLineBecomesArcOnTheJoint(t *testing.T) {
	const r, turn = 60.0, 0.6
	phi := math.Pi / 6
	dir := geom.Polar(1, phi)
	center := dir.Left().Scale(r)
	end := center.Add(geom.Turning(turn).Apply(center.Scale(-1)))
	all := sticks(t, line(dir.Scale(-90), geom.Pt(0, 0)), geom.Chain(false, geom.ArcThrough(geom.Pt(0, 0), end, center, true)))
	if len(all) != 1 {
		t.Fatalf("%d sticks", len(all))
	}
	onArc := func(o float64) float64 { return across + center.Y - math.Sqrt((r-o)*(r-o)-center.X*center.X) }
	onLine := func(o float64) float64 { return across + o/math.Cos(phi) }
	same(t, all[0].Rows[0], across, [2]float64{onLine(-groove / 2), onArc(groove / 2)}, []float64{onLine(-1.5), onArc(0.6), onArc(1.5)})
}

// marks are a sheet's lines of a role.
func marks(s sheet.Sheet, role sheet.Role) (list []geom.Contour) {
	for _, l := range s.Lines {
		if l.Role == role {
			list = append(list, l.Contour)
		}
	}
	return list
}

// legible holds that no mark comes to the outline or runs into another.
func legible(t *testing.T, of stick.Stick, s sheet.Sheet) {
	t.Helper()
	const clear = 0.39
	if f := sheet.Check(s); len(f) > 0 {
		t.Fatal(f)
	}
	edge := marks(s, sheet.Edge)[0].Bounds().Expand(-clear)
	var ticks, words []geom.Contour
	for _, c := range marks(s, sheet.Mark) {
		b := c.Bounds()
		if !edge.Holds(b.Min) || !edge.Holds(b.Max) {
			t.Errorf("%s: a mark at %v comes to the outline", s.Name, b)
		}
		if (b.Max.Y < 17 || b.Min.Y > stick.Width-17) && slices.ContainsFunc(of.Marks, func(m stick.Mark) bool { return b.Min.X == m.At && b.Max.X == m.At }) {
			ticks = append(ticks, c)
		} else {
			words = append(words, c)
		}
	}
	for i, c := range ticks {
		for _, o := range ticks[:i] {
			a, b := c.Bounds(), o.Bounds()
			if math.Abs(a.Min.X-b.Min.X) < 0.25 && a.Min.Y < b.Max.Y+0.5 && b.Min.Y < a.Max.Y+0.5 {
				t.Errorf("%s: two marks lie on one another at x = %v", s.Name, a.Min.X)
			}
		}
		for _, o := range words {
			if c.Bounds().Expand(1).Meets(o.Bounds()) {
				t.Errorf("%s: lettering runs into the mark at x = %v", s.Name, c.Bounds().Min.X)
			}
		}
	}
}

// crowded is a stick with many passings side by side.
func crowded(length float64, n int, apart float64) stick.Stick {
	s := stick.Stick{Name: "story-stick", Title: "STORY STICK", Length: length, Ends: [2]string{"FRONT", "BACK"}}
	for i := range n {
		y := 40 + apart*float64(i)
		s.Marks = append(s.Marks, stick.Mark{At: y - 2, Kind: stick.Wall}, stick.Mark{At: y + 2, Kind: stick.Wall}, stick.Mark{At: y, Kind: stick.Centre},
			stick.Mark{At: y - 1.95, Kind: stick.Strip}, stick.Mark{At: y, Kind: stick.Strip}, stick.Mark{At: y + 1.95, Kind: stick.Strip})
		s.Labels = append(s.Labels, stick.Label{At: y, Lines: []string{unit.Decimal(float64(i+1), 0), unit.Decimal(y, 2), "31.5 deg"}})
	}
	return s
}

func TestLegible(t *testing.T) {
	for _, s := range []stick.Stick{crowded(900, 3, 100), crowded(900, 30, 24), crowded(600, 28, 16), crowded(400, 9, 40), sticks(t, geom.Circle(geom.Pt(0, 0), 100))[0]} {
		whole, left := stick.Draw(s, stick.Params{Title: "Pear table 12345678", Units: unit.MM})
		legible(t, s, whole)
		if len(left) > 0 {
			t.Errorf("no room for %q on a stick of %v with %d passings", left, s.Length, len(s.Labels))
		}
	}
}

// A stick longer than the bed is cut in pieces that fit it, clear of all marks; together they
// have each mark once, and two marks by which a rule shows that they are joined right.
func TestPieces(t *testing.T) {
	s := crowded(900, 17, 50) // with one at 440, next to the middle
	p := stick.Params{Bed: geom.Pt(380, 580), Thickness: 9}
	parts, left := stick.Parts(s, p)
	if len(parts) != 2 || len(left) > 0 {
		t.Fatalf("%d parts, no room for %q", len(parts), left)
	}
	length, count, checks := 0.0, map[float64]int{}, []float64{}
	for _, q := range parts {
		legible(t, s, q.Sheet)
		size := q.Sheet.BoundsOf(sheet.Edge).Size()
		if length += size.X; size.X > p.Bed.Y || size.Y != stick.Width {
			t.Errorf("%s is %v", q.Sheet.Name, size)
		}
		for _, c := range marks(q.Sheet, sheet.Mark) {
			b := c.Bounds()
			if b.Min.Y == 0.4 {
				count[b.Min.X]++
			}
			if size := b.Size(); size.X == 0 && math.Abs(size.Y-6) < 1e-9 && b.Min.Y > 6 {
				checks = append(checks, b.Min.X)
			}
		}
	}
	if length != s.Length || len(checks) != 2 || math.Abs(checks[1]-checks[0]-p.Bar()) > 1e-9 {
		t.Errorf("%v long in all; checks at %v", length, checks)
	}
	for _, m := range s.Marks {
		if m.Kind == stick.Wall && count[m.At] != 1 {
			t.Errorf("the mark at %v is on %d pieces", m.At, count[m.At])
		}
	}
	if parts, _ := stick.Parts(s, stick.Params{Bed: geom.Pt(50, 2000)}); len(parts) > 0 {
		t.Error("a stick on a bed narrower than it")
	}
}

// Of two marks at one place the later begins behind the earlier, and none is drawn twice.
func TestMarksBehindOneAnother(t *testing.T) {
	whole, _ := stick.Draw(crowded(300, 1, 0), stick.Params{})
	var ends []float64
	for _, c := range marks(whole, sheet.Mark) {
		if b := c.Bounds(); b.Max.Y < stick.Width/2 && math.Abs(b.Min.X-40) < 0.25 && b.Size().X == 0 {
			ends = append(ends, b.Min.Y, b.Max.Y)
		}
	}
	if !slices.Equal(ends, []float64{0.4, 6, 6.8, 15}) {
		t.Errorf("strip and middle run from and to %v", ends)
	}
}

// The printed stick lists what it bears.
func TestPattern(t *testing.T) {
	s := sticks(t, geom.Circle(geom.Pt(0, 0), 100))[0]
	d := stick.Pattern(s, stick.Params{Units: unit.Inch})
	row := strings.Join(d.Tables[0].Rows[0], "; ")
	// 350 mm is 13.780 in; the groove of 3.2 mm lies 1.6 mm to either side.
	if want := "1; left.right, leaf.left, leaf.right, right.left; 13.78; 13.717 to 13.843; 13.72, 13.803, 13.839; 0\u00b0"; row != want {
		t.Errorf("%s", row)
	}
}

// The stick of a rail has every pin and every side that lies on it; pins of several panels at
// one place share a label.
func TestSteps(t *testing.T) {
	s := stick.OfSteps(1300, []stick.Station{
		{SetUp: 1, Panel: "A", At: 150, Sides: [2]float64{-20, 500}}, {SetUp: 2, Panel: "A", At: 700, Sides: [2]float64{530, 1050}}, {SetUp: 3, Panel: "B", At: 150, Sides: [2]float64{120, 480}},
	}, stick.Params{})
	whole, left := stick.Draw(s, stick.Params{Title: "Sideboard edge"})
	legible(t, s, whole)
	got := map[float64]bool{}
	for _, c := range marks(whole, sheet.Mark) {
		if b := c.Bounds(); b.Min.Y == 0.4 {
			got[b.Min.X] = true
		}
	}
	for _, x := range []float64{120, 150, 480, 500, 530, 700, 1050} {
		if !got[x] {
			t.Errorf("no mark at %v", x)
		}
	}
	if len(got) != 7 || len(left) > 0 || len(s.Labels) != 2 || s.Labels[0].Lines[0] != "A 1, B 3" || len(s.Table.Rows) != 3 {
		t.Errorf("%v, left %q, %v", got, left, s.Labels)
	}
}

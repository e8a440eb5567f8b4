package sheet_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

func box(x0, y0, x1, y1 float64) geom.Contour {
	return geom.Rect(geom.Box{Min: geom.Pt(x0, y0), Max: geom.Pt(x1, y1)})
}

func open(pts ...geom.Point) geom.Contour {
	c := geom.Polygon(pts...)
	c.Closed = false
	return c
}

// good is a sheet without a fault, with smooth joints of lines and arcs, which
// meet tangentially at every vertex.
func good() sheet.Sheet {
	slot := geom.Contour{Closed: true, Vertices: []geom.Vertex{
		{Point: geom.Pt(40, -10), Bulge: 1},
		{Point: geom.Pt(40, 10)},
		{Point: geom.Pt(-40, 10), Bulge: 1},
		{Point: geom.Pt(-40, -10)},
	}}
	return sheet.Sheet{
		Lines: []sheet.Line{
			{Role: sheet.Opening, Contour: slot},
			{Role: sheet.Opening, Contour: geom.Circle(geom.Pt(0, 40), 20)},
			{Role: sheet.Mark, Contour: open(geom.Pt(-60, 20), geom.Pt(-40, 40))},
			{Role: sheet.Mark, Contour: open(geom.Pt(-60, 40), geom.Pt(-40, 20))}, // a cross
			{Role: sheet.Note, Contour: box(-200, -200, 200, 200)},
			{Role: sheet.Edge, Contour: box(-100, -100, 100, 100)},
		},
		Holes: []sheet.Hole{
			{Role: sheet.Pin, Center: geom.Pt(-90, 90), Radius: 3},
			{Role: sheet.Note, Center: geom.Pt(40, 0), Radius: 50},
		},
	}
}

func TestCheckGood(t *testing.T) {
	if fs := sheet.Check(good()); fs.Err() != nil {
		t.Error(fs.Err())
	}
	// The order of lines doesn't matter, nor where a contour begins or which
	// way it runs.
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		s := good()
		rng.Shuffle(len(s.Lines), func(i, j int) { s.Lines[i], s.Lines[j] = s.Lines[j], s.Lines[i] })
		turn := geom.Turning(rng.Float64() * 7)
		for i, l := range s.Lines {
			c := turn.Contour(l.Contour)
			if c.Closed {
				c = c.Rotate(rng.IntN(c.Len()))
			}
			if rng.IntN(2) == 0 {
				c = c.Reverse()
			}
			s.Lines[i].Contour = c
		}
		for i := range s.Holes {
			s.Holes[i].Center = turn.Apply(s.Holes[i].Center)
		}
		if fs := sheet.Check(s); fs.Err() != nil {
			t.Fatal(fs.Err())
		}
	}
}

func TestCheckFaults(t *testing.T) {
	line := func(r sheet.Role, c geom.Contour) func(*sheet.Sheet) {
		return func(s *sheet.Sheet) { s.Lines = append(s.Lines, sheet.Line{Role: r, Contour: c}) }
	}
	hole := func(r sheet.Role, x, y, radius float64) func(*sheet.Sheet) {
		return func(s *sheet.Sheet) {
			s.Holes = append(s.Holes, sheet.Hole{Role: r, Center: geom.Pt(x, y), Radius: radius})
		}
	}
	bulged := box(60, -90, 90, -60)
	bulged.Vertices[2].Bulge = -1.01
	figureEight := geom.Polygon(geom.Pt(60, -90), geom.Pt(90, -60), geom.Pt(90, -90), geom.Pt(60, -60))
	spike := geom.Polygon(geom.Pt(60, -90), geom.Pt(90, -90), geom.Pt(90, -60), geom.Pt(90, -80), geom.Pt(60, -60))
	pinched := geom.Polygon(geom.Pt(60, -90), geom.Pt(90, -90), geom.Pt(90, -60), geom.Pt(75, -90), geom.Pt(60, -60))
	speck := geom.Polygon(geom.Pt(60, -90), geom.Pt(90, -90), geom.Pt(90, -89.991), geom.Pt(60, -60))
	again := geom.Polygon(geom.Pt(60, -90), geom.Pt(60, -90), geom.Pt(90, -60))
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		name   string
		change func(*sheet.Sheet)
		rule   sheet.Rule
		words  string
	}{
		{"open opening", line(sheet.Opening, open(geom.Pt(60, -90), geom.Pt(90, -60))), sheet.OpenOutline, "OPENING is not closed: the line that begins at (60, -90) mm"},
		{"bulge", line(sheet.Opening, bulged), sheet.BadNumber, "bulge -1.01"},
		{"nan", line(sheet.Opening, geom.Polygon(geom.Pt(nan, 0), geom.Pt(1, 1), geom.Pt(0, 1))), sheet.BadNumber, "number 1"},
		{"infinite note", line(sheet.Note, open(geom.Pt(0, inf), geom.Pt(1, 1))), sheet.BadNumber, "NOTE"},
		{"nothing", line(sheet.Mark, geom.Contour{}), sheet.BadNumber, "0 vertices"},
		{"no such role", line(17, box(60, -90, 90, -60)), sheet.BadNumber, "role 17"},
		{"speck", line(sheet.Opening, speck), sheet.ShortEdge, "an edge of 0.009 mm"},
		{"point twice", line(sheet.Opening, again), sheet.ShortEdge, "an edge of 0 mm"},
		{"pin as contour", line(sheet.Pin, box(60, -90, 90, -60)), sheet.WrongForm, "PIN holds a contour"},
		{"closed mark", line(sheet.Mark, box(60, -90, 90, -60)), sheet.WrongForm, "MARK holds a closed"},
		{"opening as hole", hole(sheet.Opening, 75, -75, 5), sheet.WrongForm, "OPENING holds a hole"},
		{"two edges", line(sheet.Edge, box(60, -90, 90, -60)), sheet.OneEdge, "2 edges"},
		{"no edge", func(s *sheet.Sheet) { s.Lines = s.Lines[:5] }, sheet.OneEdge, "0 edges"},
		{"opening drawn twice", line(sheet.Opening, geom.Circle(geom.Pt(0, 40), 20)), sheet.Duplicate, "OPENING runs on top of another OPENING"},
		{"along the edge", line(sheet.Opening, box(60, -100, 90, -60)), sheet.Duplicate, "EDGE runs on top of OPENING"},
		{"across the edge", line(sheet.Opening, box(60, -110, 90, -60)), sheet.Crossing, "EDGE crosses OPENING"},
		{"openings cross", line(sheet.Opening, geom.Circle(geom.Pt(0, 55), 20)), sheet.Crossing, "crosses another OPENING"},
		{"circles touch", line(sheet.Opening, geom.Circle(geom.Pt(40, 40), 20)), sheet.Touching, "touches another OPENING"},
		{"circle touches edge", line(sheet.Opening, geom.Circle(geom.Pt(80, -60), 20)), sheet.Touching, "EDGE touches OPENING at (100, -60) mm"},
		{"figure of eight", line(sheet.Opening, figureEight), sheet.Crossing, "OPENING crosses itself at (75, -75) mm"},
		{"there and back", line(sheet.Opening, spike), sheet.Duplicate, "runs on top of itself"},
		{"pin on opening", hole(sheet.Pin, 0, 10, 2), sheet.Crossing, "OPENING crosses PIN"},
		{"pin twice", hole(sheet.Pin, -90, 90, 3), sheet.Duplicate, "PIN runs on top of another PIN"},
		{"pin without radius", hole(sheet.Pin, 80, 80, 0), sheet.BadNumber, "radius 0"},
		{"pin nowhere", hole(sheet.Pin, nan, 80, 1), sheet.BadNumber, "not finite"},
		{"mark twice", line(sheet.Mark, open(geom.Pt(-40, 40), geom.Pt(-60, 20))), sheet.Duplicate, "MARK is drawn twice"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := good()
			tt.change(&s)
			fs := sheet.Check(s)
			if len(fs) != 1 || fs[0].Rule != tt.rule || !strings.Contains(fs[0].Error(), tt.words) {
				t.Errorf("got %v, want %v: %s", fs, tt.rule, tt.words)
			}
			var f sheet.Fault
			if !errors.As(fs.Err(), &f) {
				t.Error("no fault in the error")
			}
		})
	}
	// A vertex that lies on another edge of its contour.
	s := good()
	line(sheet.Opening, pinched)(&s)
	if fs := sheet.Check(s); len(fs) != 1 || (fs[0].Rule != sheet.Touching && fs[0].Rule != sheet.Crossing) || !fs[0].At.Near(geom.Pt(75, -90), 1e-9) {
		t.Errorf("a pinched contour: %v", fs)
	}
}

func TestBounds(t *testing.T) {
	s := good()
	want := geom.Box{Min: geom.Pt(-200, -200), Max: geom.Pt(200, 200)}
	if d := cmp.Diff(want, s.Bounds()); d != "" {
		t.Error(d)
	}
	// The slot's half circle reaches 10 beyond its vertices.
	if got := (sheet.Sheet{Lines: s.Lines[:1]}).Bounds(); math.Abs(got.Max.X-50) > 1e-12 {
		t.Errorf("the slot reaches to %g, want 50", got.Max.X)
	}
	want = geom.Box{Min: geom.Pt(-93, 87), Max: geom.Pt(-87, 93)}
	if d := cmp.Diff(want, s.BoundsOf(sheet.Pin)); d != "" {
		t.Error(d)
	}
	if !(sheet.Sheet{}).Bounds().Empty() {
		t.Error("an empty sheet has bounds")
	}
}

func TestOrderAndWithout(t *testing.T) {
	s := good().InCutOrder().Without(sheet.Note)
	var got []string
	for _, l := range s.Lines {
		got = append(got, l.Role.String())
	}
	if d := cmp.Diff([]string{"OPENING", "OPENING", "MARK", "MARK", "EDGE"}, got); d != "" {
		t.Error(d)
	}
	if len(s.Holes) != 1 || s.Holes[0].Role != sheet.Pin {
		t.Errorf("holes %v", s.Holes)
	}
}

// TestCheckParts: a sheet of two parts has two edges.
func TestCheckParts(t *testing.T) {
	two := good()
	two.Lines = append(two.Lines, sheet.Line{Role: sheet.Edge, Contour: box(110, -100, 210, 100)})
	if fs := sheet.CheckParts(two, 2); fs.Err() != nil {
		t.Error(fs.Err())
	}
	for _, parts := range []int{0, 1, 3} {
		if fs := sheet.CheckParts(two, parts); len(fs) != 1 || fs[0].Rule != sheet.OneEdge {
			t.Errorf("%d parts: %v", parts, fs.Err())
		}
	}
	two.Lines[len(two.Lines)-1].Contour = box(99, -90, 210, 110)
	if fs := sheet.CheckParts(two, 2); len(fs) != 1 || fs[0].Rule != sheet.Crossing {
		t.Errorf("parts that overlap: %v", fs.Err())
	}
}

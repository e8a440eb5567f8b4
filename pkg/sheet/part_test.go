package sheet

import (
	"math"
	"slices"
	"testing"

	"strapwork/pkg/geom"
)

func rect(w, h float64) geom.Contour {
	return geom.Rect(geom.Box{Min: geom.Pt(-w/2, -h/2), Max: geom.Pt(w/2, h/2)})
}

// plate is a part of 100 x 50 with a square opening, a screw hole, a hole that is
// too small for a cutter, a mark and a note.
func plate() Part {
	line := geom.Chain(false, geom.Line(geom.Pt(-40, 20), geom.Pt(-30, 20)))
	return Part{Ply: Frame, Quantity: 1, Thickness: 9, Sheet: Sheet{
		Name: "plate", Title: "a plate",
		Lines: []Line{{Opening, rect(20, 20)}, {Edge, rect(100, 50)}, {Mark, line}, {Note, line}},
		Holes: []Hole{{Pin, geom.Pt(30, 0), 2.25}, {Pin, geom.Pt(40, 0), 0.3}, {Note, geom.Pt(45, 0), 1}},
	}}
}

func of(s Sheet, r Role) []geom.Contour {
	var list []geom.Contour
	for _, l := range s.Lines {
		if l.Role == r {
			list = append(list, l.Contour)
		}
	}
	return list
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > 1e-9 {
		t.Errorf("%s is %.10g, want %.10g", what, got, want)
	}
}

// An outline set off by d outwards has the area A + P d + pi d^2 where corners are
// rounded, for a convex one (Steiner), and (a + 2d)(b + 2d) where a rectangle's are
// kept sharp; openings and holes are as much smaller.
func TestCompensated(t *testing.T) {
	for _, kerf := range []float64{0.2, 0.5, 0.6, 3} {
		given := plate()
		s := Compensated([]Part{given}, kerf)[0].Sheet
		d := kerf / 2
		want := (100 + kerf) * (50 + kerf)
		if kerf > 0.5 {
			want = 100*50 + 300*d + math.Pi*d*d
		}
		near(t, "edge", of(s, Edge)[0].Area(), want)
		near(t, "opening", of(s, Opening)[0].Area(), (20-kerf)*(20-kerf))
		if n := len(of(s, Note)); n != 1 || s.Name != "plate" || s.Title != "a plate" {
			t.Errorf("%d notes, %q %q", n, s.Name, s.Title)
		}
		// 4.5 - kerf is a path of 0.5 or more up to 3 mm, 0.6 - 0.2 isn't.
		if len(s.Holes) != 2 || s.Holes[1].Radius != 1 {
			t.Fatalf("kerf %g: holes %v", kerf, s.Holes)
		}
		near(t, "hole", s.Holes[0].Radius, 2.25-d)
		if marks := of(s, Mark); len(marks) != 3 {
			t.Errorf("kerf %g: %d marks, want the part's own and a cross", kerf, len(marks))
		} else {
			near(t, "cross", marks[1].Length()+marks[2].Length(), 2*2*0.3)
			if c := marks[1].Bounds().Join(marks[2].Bounds()).Center(); !c.Near(geom.Pt(40, 0), 1e-9) {
				t.Errorf("the cross is about %v", c)
			}
		}
		if got := of(given.Sheet, Edge)[0].Area(); got != 5000 {
			t.Errorf("the given part was changed: %g mm2", got)
		}
	}
	if s := Compensated([]Part{plate()}, 0)[0].Sheet; len(s.Holes) != 3 || of(s, Edge)[0].Area() != 5000 {
		t.Error("without a kerf a part is another")
	}
}

// A path of half a millimetre across can be cut, a smaller one is drilled.
func TestDrilled(t *testing.T) {
	for _, c := range []struct {
		radius, kerf float64
		want         bool
	}{{2.25, 3.9, false}, {2.25, 4.1, true}, {0.3, 0, false}, {0.3, 0.2, true}, {0.24, 0, true}} {
		if got := Drilled(c.radius, c.kerf); got != c.want {
			t.Errorf("a hole of %g with a kerf of %g: drilled %t", 2*c.radius, c.kerf, got)
		}
	}
}

// A compensated opening begins beside where the true one did, so that the mark of
// the start stays on an end's round: in the middle of an edge, and at a corner.
func TestOpeningsKeepTheirStart(t *testing.T) {
	square := rect(20, 20)
	for _, c := range []struct {
		name string
		from geom.Contour
		want geom.Point
	}{
		{"at a corner", square, geom.Pt(-9.9, -9.9)},
		{"in a side", BegunAt(square, 0, 0.25), geom.Pt(-5, -9.9)},
		{"in the last side", BegunAt(square, 3, 0.5), geom.Pt(-9.9, 0)},
		{"next to a corner", BegunAt(square, 0, 0.999), geom.Pt(9.9, -9.9)},
	} {
		p := Part{Sheet: Sheet{Lines: []Line{{Opening, c.from}}}}
		got := of(Compensated([]Part{p}, 0.2)[0].Sheet, Opening)[0]
		if !got.Start().Near(c.want, 0.03) {
			t.Errorf("%s: begins at %v, want %v", c.name, got.Start(), c.want)
		}
		near(t, c.name+": length", got.Length(), 4*19.8)
	}
}

// A contour begun elsewhere is the same one: its length, its area and its arcs stay.
func TestBegunAt(t *testing.T) {
	stadium := geom.Chain(true,
		geom.Line(geom.Pt(-10, -5), geom.Pt(10, -5)), geom.Arc(geom.Pt(10, 0), 5, -math.Pi/2, math.Pi)[0],
		geom.Line(geom.Pt(10, 5), geom.Pt(-10, 5)), geom.Arc(geom.Pt(-10, 0), 5, math.Pi/2, math.Pi)[0])
	for i := range stadium.Len() {
		for _, part := range []float64{0.25, 0.5} {
			c := BegunAt(stadium, i, part)
			if want := stadium.Edge(i).At(part); !c.Start().Near(want, 1e-12) || c.Len() != stadium.Len()+1 || !c.Closed {
				t.Errorf("edge %d at %g: begins at %v, want %v; %d edges", i, part, c.Start(), want, c.Len())
			}
			near(t, "length", c.Length(), 40+10*math.Pi)
			near(t, "area", c.Area(), 200+25*math.Pi)
		}
	}
}

// The words are in the names of files, and no two are alike.
func TestPlies(t *testing.T) {
	want := []string{"wall", "floor", "frame", "wedge", "key", "aid", "form", "holder", "pivot", "story-stick", "rail", "splice", "index", "ply(13)"}
	var got []string
	for l := Wall; l <= Index+1; l++ {
		got = append(got, l.String())
	}
	if !slices.Equal(got, want) || Ply(-1).String() != "ply(-1)" {
		t.Errorf("%q, want %q", got, want)
	}
}

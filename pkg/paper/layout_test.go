package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/geom"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
)

func open(t testing.TB, name string) profile.Paper {
	t.Helper()
	p, err := profile.OpenPaper(name, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func frame(w, h float64) Drawing {
	return Drawing{Title: "frame", Lines: []Drawn{{Use: Edge, Contour: geom.Rect(geom.Box{Min: geom.Pt(-w/2, -h/2), Max: geom.Pt(w/2, h/2)})}}}
}

// The cells lie on one grid that all pages share, and cover the drawing; what
// two neighbours both show is wider than what the printer leaves clear; and a
// page holds its window and the title block, corrected or not.
func TestLayoutHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := append(profile.Papers(), "roll 610 mm", "roll 36 in")
		p, err := profile.OpenPaper(rapid.SampledFrom(names).Draw(t, "paper"), nil)
		if err != nil {
			t.Fatal(err)
		}
		p.Margin = rapid.Float64Range(0, profile.MaxMargin).Draw(t, "margin")
		stretch := rapid.Float64Range(1-profile.MaxStretch, 1+profile.MaxStretch)
		p.Measured = [2]float64{profile.ProofBar * stretch.Draw(t, "x"), profile.ProofBar * stretch.Draw(t, "y")}
		u := rapid.SampledFrom([]unit.System{unit.MM, unit.Inch}).Draw(t, "units")
		d := frame(rapid.Float64Range(5, 2500).Draw(t, "w"), rapid.Float64Range(5, 1500).Draw(t, "h"))
		l := Lay(d, p, u)
		whole := geom.Box{Min: l.Corner(l.Rows-1, 0), Max: l.Cell(0, l.Cols-1).Max}
		if b := d.Bounds(); !whole.Holds(b.Min) || !whole.Holds(b.Max) {
			t.Fatalf("the grid %v doesn't hold the drawing %v", whole, b)
		}
		if l.Overlap <= p.Margin/math.Min(l.ScaleX, l.ScaleY) {
			t.Fatalf("overlap %v, margin %v", l.Overlap, p.Margin)
		}
		page := Page{Width: l.Width, Height: l.Height, ScaleX: l.ScaleX, ScaleY: l.ScaleY}
		free := page.free(p.Margin).Expand(1e-6)
		at := l.At(p.Margin)
		if !free.Holds(at.Sub(geom.Pt(0, blockHeight))) || !free.Holds(at.Add(l.Window(0, 0).Size())) {
			t.Fatalf("the window at %v is not within %v", at, free)
		}
		if math.Max(l.Width, l.Height) > profile.MaxPage+1e-6 {
			t.Fatalf("a page of %v x %v mm", l.Width, l.Height)
		}
	})
}

// On A4 with 10 mm clear, 190 mm by 277 mm can be printed on; less the title
// block and an overlap of 15 mm, cells are 170 mm by 240 mm upright and 260 mm
// by 160 mm lying (derived). So 500 x 150 mm takes 2 lying sheets, not 3.
func TestWhicheverNeedsFewerSheets(t *testing.T) {
	for _, c := range []struct {
		w, h       float64
		landscape  bool
		rows, cols int
	}{
		{160, 200, false, 1, 1},
		{500, 150, true, 1, 2},
		{300, 400, false, 2, 2},
		{150, 700, false, 3, 1},
	} {
		l := Lay(frame(c.w, c.h), open(t, "A4"), unit.MM)
		if l.Landscape != c.landscape || l.Rows != c.rows || l.Cols != c.cols {
			t.Errorf("%v x %v mm: lying %v, %d x %d; want %v, %d x %d", c.w, c.h, l.Landscape, l.Rows, l.Cols, c.landscape, c.rows, c.cols)
		}
		if want := geom.Pt(170, 240); !c.landscape && l.Pitch != want {
			t.Errorf("cells are %v, want %v", l.Pitch, want)
		}
	}
}

// Crosses and ticks fall on whole numbers in both systems: the grid's corner is
// a multiple of 1 mm or 1/4 in, the pitch of 10 mm or 1/2 in.
func TestGridOnWholeNumbers(t *testing.T) {
	for u, grid := range map[unit.System][2]float64{unit.MM: {1, 10}, unit.Inch: {6.35, 12.7}} {
		l := Lay(frame(1234.5, 678.9), open(t, "Letter"), u)
		for _, v := range []float64{l.Origin.X / grid[0], l.Origin.Y / grid[0], l.Pitch.X / grid[1], l.Pitch.Y / grid[1]} {
			if math.Abs(v-math.Round(v)) > 1e-9 {
				t.Errorf("%v: origin %v, pitch %v", u, l.Origin, l.Pitch)
			}
		}
	}
}

// bound is one drawing as a book of its own, with its layout.
func bound(t testing.TB, d Drawing, o Options) (Book, Layout) {
	t.Helper()
	if len(d.Pieces) == 0 {
		d.Pieces = []Piece{{Name: d.Title, Make: 1, Drawn: 1, Thickness: 9}}
	}
	p, err := NewPattern(d, o)
	if err != nil {
		t.Fatal(err)
	}
	return Bind(d.Title, []Pattern{p}, o), p.l
}

// said is all lettering of a page.
func saidOn(p Page) string {
	var all []string
	for _, text := range p.Texts {
		all = append(all, text.String)
	}
	return strings.Join(all, "\n")
}

// The inside of a frame of 2 m x 1 m is empty: its sheets are left out, and the
// contents say which; all others have a page that names their tile, in order.
func TestEmptyTilesAreLeftOut(t *testing.T) {
	book, l := bound(t, frame(2000, 1000), Options{Paper: open(t, "A4"), Block: Block{Job: "job", Revision: "1"}})
	pages := book.Pages["frame"]
	contents := saidOn(book.Document.Pages[1])
	out, next := 0, 0
	for row := range l.Rows {
		for col := range l.Cols {
			inner := row > 0 && row < l.Rows-1 && col > 0 && col < l.Cols-1
			if l.Has(row, col) == inner {
				t.Errorf("cell %s: has a page: %v", Label(row, col), l.Has(row, col))
			}
			if inner {
				out++
				if !strings.Contains(contents, Label(row, col)) {
					t.Errorf("the contents don't name %s", Label(row, col))
				}
				continue
			}
			want := fmt.Sprintf("tile %s, page %d of", Label(row, col), pages[next])
			if said := saidOn(book.Document.Pages[pages[next]-1]); !strings.Contains(said, want) || !strings.Contains(said, "frame") {
				t.Errorf("page %d doesn't say %q", pages[next], want)
			}
			next++
		}
	}
	if out == 0 || next != len(pages) || !strings.Contains(contents, "without 2-2, 2-3") {
		t.Errorf("%d pages for %d x %d cells, %d of them empty", len(pages), l.Rows, l.Cols, out)
	}
}

// The grid lies where the fewest sheets have something on them: on A4, cells are
// 170 x 240 mm upright and 260 x 160 mm lying (derived, see above).
func TestFewestSheets(t *testing.T) {
	d := Drawing{Title: "corner"}
	for _, b := range []geom.Box{{Max: geom.Pt(600, 20)}, {Max: geom.Pt(20, 600)}} {
		d.Lines = append(d.Lines, Drawn{Use: Edge, Contour: geom.Rect(b)})
	}
	// Lying: 3 columns reach over 600, 4 rows over 600: 3 + 4 - 1. Upright: 4 + 3 - 1.
	if l := Lay(d, open(t, "A4"), unit.MM); l.Count() != 6 {
		t.Errorf("%d sheets of %d x %d", l.Count(), l.Rows, l.Cols)
	}
	// A bar of 20 mm in the middle of a box of 500 x 300 mm, with a dot in two of its
	// corners: with the grid in the middle the bar lies on the line between two rows.
	d = Drawing{Title: "middle"}
	for _, b := range []geom.Box{{Min: geom.Pt(-250, -10), Max: geom.Pt(250, 10)}, {Min: geom.Pt(-250, 148), Max: geom.Pt(-248, 150)}, {Min: geom.Pt(248, -150), Max: geom.Pt(250, -148)}} {
		d.Lines = append(d.Lines, Drawn{Use: Edge, Contour: geom.Rect(b)})
	}
	// 2 columns of 260 mm lying, the bar in one row of 160 mm: 2 sheets, and one for each dot at most.
	if l := Lay(d, open(t, "A4"), unit.MM); l.Count() > 4 {
		t.Errorf("%d sheets of %d x %d", l.Count(), l.Rows, l.Cols)
	}
}

// Nothing but a note in a cell needs no sheet: a note is for the reader alone.
func TestNotesNeedNoSheet(t *testing.T) {
	d := frame(900, 700)
	d.Lines = append(d.Lines, Drawn{Use: Note, Contour: line(geom.Pt(-200, 0), geom.Pt(200, 0))})
	l, bare := Lay(d, open(t, "A4"), unit.MM), Lay(frame(900, 700), open(t, "A4"), unit.MM)
	if l.Count() != bare.Count() || l.Count() == l.Rows*l.Cols {
		t.Errorf("%d sheets, %d without the note", l.Count(), bare.Count())
	}
}

// The names on the map in the contents stand where their cells are: upper left
// 1-1, to the right 1-2, below 2-1.
func TestPageMapIsRight(t *testing.T) {
	book, l := bound(t, frame(600, 700), Options{Paper: open(t, "A4"), Block: Block{Job: "job"}})
	at := map[string]geom.Point{}
	for _, text := range book.Document.Pages[1].Texts {
		if len(text.String) == 3 && text.Align == Center {
			at[text.String] = text.At
		}
	}
	if len(at) != l.Count() {
		t.Fatalf("%d labels for %d sheets", len(at), l.Count())
	}
	step := at["1-2"].Sub(at["1-1"])
	k := step.X / l.Pitch.X
	if !(k > 0) || math.Abs(step.Y) > 0.01 {
		t.Fatalf("from 1-1 to 1-2 it is %v", step)
	}
	for name, q := range at {
		row, col := int(name[0]-'1'), int(name[2]-'1')
		want := at["1-1"].Add(geom.Pt(float64(col)*l.Pitch.X*k, -float64(row)*l.Pitch.Y*k))
		if !q.Near(want, 0.01) {
			t.Errorf("%s is at %v, want %v", name, q, want)
		}
	}
}

func TestLabel(t *testing.T) {
	for want, at := range map[string][2]int{"1-1": {0, 0}, "3-12": {2, 11}, "27-2": {26, 1}} {
		if got := Label(at[0], at[1]); got != want {
			t.Errorf("Label%v = %q, want %q", at, got, want)
		}
	}
}

// Pages of several patterns follow one another; a piece on two of them has the
// pages of both, and every page has a bar of 50 mm, or 2 in, to check its scale.
func TestBookCountsPages(t *testing.T) {
	for u, bar := range map[unit.System]float64{unit.MM: 50, unit.Inch: 50.8} {
		o := Options{Paper: open(t, "A4"), Units: u}
		var list []Pattern
		for _, names := range [][]string{{"groove"}, {"A-wall", "A-floor"}, {"key", "wedge"}, {"wedge"}} {
			d := frame(300, 100)
			for _, n := range names {
				d.Pieces = append(d.Pieces, Piece{Name: n, Make: 3, Drawn: 1})
			}
			p, err := NewPattern(d, o)
			if err != nil {
				t.Fatal(err)
			}
			list = append(list, p)
		}
		book := Bind("patterns", list, o)
		for name, want := range map[string][]int{"groove": {3, 4}, "A-wall": {5, 6}, "A-floor": {5, 6}, "key": {7, 8}, "wedge": {7, 8, 9, 10}} {
			if !slices.Equal(book.Pages[name], want) {
				t.Errorf("%s: pages %v, want %v", name, book.Pages[name], want)
			}
		}
		for i, p := range book.Document.Pages {
			if !slices.ContainsFunc(p.Strokes, func(s Stroke) bool { return math.Abs(s.Contour.Length()-bar) < 1e-9 }) || !strings.Contains(saidOn(p), "Scale check: ") {
				t.Errorf("page %d has no bar of %v mm", i+1, bar)
			}
		}
		if said := saidOn(book.Document.Pages[1]); !strings.Contains(said, "7 - 10") || !strings.Contains(said, "3 (2 drawn)") {
			t.Errorf("the contents say %q", said)
		}
	}
}

func TestNothingToDraw(t *testing.T) {
	if _, err := NewPattern(Drawing{Title: "x"}, Options{Paper: open(t, "A4")}); err == nil {
		t.Error("no error for an empty drawing")
	}
	if _, err := NewPattern(frame(50_000, 50_000), Options{Paper: open(t, "A4")}); err == nil {
		t.Error("no error for 2500 m2 of A4")
	}
}

// A contour cut up by the cells of a grid has its length, and every stretch is
// on the contour, as far along as it says.
func TestWithinKeepsLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-100, 100)
		c := geom.Contour{Closed: rapid.Bool().Draw(t, "closed")}
		n := rapid.IntRange(3, 8).Draw(t, "n")
		for i := range n {
			// Apart from one another, so that no edge is without length.
			p := geom.Pt(coord.Draw(t, "x"), coord.Draw(t, "y")).Add(geom.Polar(150, 2*math.Pi*float64(i)/float64(n)))
			bulge := rapid.Float64Range(-1, 1).Draw(t, "bulge")
			if math.Abs(bulge) < 1e-9 {
				bulge = 0 // the contour itself can't be asked about such arcs
			}
			c.Vertices = append(c.Vertices, geom.Vertex{Point: p, Bulge: bulge})
		}
		pitch := rapid.Float64Range(40, 150).Draw(t, "pitch")
		sum := 0.0
		for i := -16; i < 16; i++ {
			for j := -16; j < 16; j++ {
				lo := geom.Pt(float64(i)*pitch+0.123, float64(j)*pitch+0.456)
				box := geom.Box{Min: lo, Max: lo.Add(geom.Pt(pitch, pitch))}
				for _, p := range c.Within(box) {
					sum += p.Contour.Length()
					holdPiece(t, c, p, box)
				}
			}
		}
		if math.Abs(sum-c.Length()) > flat*(1+c.Length()) {
			t.Fatalf("the pieces are %v long together, the contour %v", sum, c.Length())
		}
	})
}

// flat is what the centre of a nearly straight arc, 10^9 mm away, may be out by
// in places on it: a few thousandths of what patterns promise.
const flat = 3e-5

func holdPiece(t *rapid.T, c geom.Contour, p geom.Stretch, box geom.Box) {
	length := p.Contour.Length()
	for _, k := range []float64{0, 0.3, 0.7, 1} {
		q, _ := p.Contour.At(k * length)
		on, _ := c.At(math.Min(p.From+k*length, c.Length()))
		if q.Dist(on) > flat {
			t.Fatalf("%v from the start of a piece is %v, on the contour %v", k*length, q, on)
		}
		if !box.Expand(flat).Holds(q) {
			t.Fatalf("%v is not within %v", q, box)
		}
	}
}

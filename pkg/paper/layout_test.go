package paper

import (
	"math"
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

// The inside of a frame of 2 m x 1 m is empty: its sheets are left out, and the
// page map says which; all others have a page with their label.
func TestEmptyTilesAreLeftOut(t *testing.T) {
	d, p := frame(2000, 1000), open(t, "A4")
	l := Lay(d, p, unit.MM)
	doc, err := Pattern(d, Options{Paper: p, Block: Block{Job: "job", Revision: "1"}})
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, page := range doc.Pages {
		for _, text := range page.Texts {
			all = append(all, text.String)
		}
	}
	said := strings.Join(all, "\n")
	out := 0
	for row := range l.Rows {
		for col := range l.Cols {
			inner := row > 0 && row < l.Rows-1 && col > 0 && col < l.Cols-1
			if l.Has(row, col) == inner {
				t.Errorf("cell %s: has a page: %v", Label(row, col), l.Has(row, col))
			}
			if inner {
				out++
			}
			if page := "tile " + Label(row, col) + ", sheet"; strings.Contains(said, page) == inner {
				t.Errorf("%q: there is a page: %v", page, !inner)
			}
		}
	}
	if out == 0 || len(doc.Pages) != 2+l.Rows*l.Cols-out {
		t.Errorf("%d pages for %d x %d cells, %d of them empty", len(doc.Pages), l.Rows, l.Cols, out)
	}
	if !strings.Contains(said, "Left out, since nothing is drawn there:") || !strings.Contains(said, "B2, B3") {
		t.Error("the page map doesn't say what is left out")
	}
}

// The labels on the page map stand where their cells are: upper left A1, to the
// right A2, below B1; and each is in its cell's part of the map.
func TestPageMapIsRight(t *testing.T) {
	d, p := frame(600, 700), open(t, "A4")
	l := Lay(d, p, unit.MM)
	doc, err := Pattern(d, Options{Paper: p, Block: Block{Job: "job"}})
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]geom.Point{}
	for _, text := range doc.Pages[1].Texts {
		if len(text.String) == 2 && text.Align == Center {
			at[text.String] = text.At
		}
	}
	if len(at) != l.Count() {
		t.Fatalf("%d labels for %d sheets", len(at), l.Count())
	}
	step := at["A2"].Sub(at["A1"])
	k := step.X / l.Pitch.X
	if !(k > 0) || math.Abs(step.Y) > 0.01 {
		t.Fatalf("from A1 to A2 it is %v", step)
	}
	for name, q := range at {
		row, col := int(name[0]-'A'), int(name[1]-'1')
		want := at["A1"].Add(geom.Pt(float64(col)*l.Pitch.X*k, -float64(row)*l.Pitch.Y*k))
		if math.Abs(q.X-want.X) > 0.01 || math.Abs(q.Y-want.Y) > 0.5 {
			t.Errorf("%s is at %v, want %v", name, q, want)
		}
	}
}

func TestLabel(t *testing.T) {
	for want, at := range map[string][2]int{"A1": {0, 0}, "C12": {2, 11}, "Z1": {25, 0}, "AA2": {26, 1}, "AB3": {27, 2}} {
		if got := Label(at[0], at[1]); got != want {
			t.Errorf("Label%v = %q, want %q", at, got, want)
		}
	}
}

func TestNothingToDraw(t *testing.T) {
	if _, err := Pattern(Drawing{Title: "x"}, Options{Paper: open(t, "A4")}); err == nil {
		t.Error("no error for an empty drawing")
	}
	if _, err := Pattern(frame(50_000, 50_000), Options{Paper: open(t, "A4")}); err == nil {
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

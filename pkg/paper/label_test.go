package paper

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// crowded is a drawing of many small circles, polygons and strips in little
// space, dimensioned, with texts over it.
func crowded(r *rand.Rand, n int, size float64) Drawing {
	d := Drawing{Title: "crowded"}
	at := func() geom.Point { return geom.Pt((r.Float64()-0.5)*size, (r.Float64()-0.5)*size*0.7) }
	var lines []geom.Contour
	for range n {
		p := at()
		switch r.IntN(3) {
		case 0:
			lines = append(lines, geom.Circle(p, 1+20*r.Float64()))
		case 1:
			a, b := geom.Polar(2+10*r.Float64(), 7*r.Float64()), geom.Polar(2+30*r.Float64(), 7*r.Float64())
			lines = append(lines, geom.Polygon(p, p.Add(a), p.Add(b)))
		case 2:
			lines = append(lines, geom.Chain(false, geom.Arc(p, 5+60*r.Float64(), 7*r.Float64(), 1+2*r.Float64())...))
		}
	}
	for i, c := range lines {
		d.Lines = append(d.Lines, Drawn{Use: uses()[i%len(uses())], Contour: c})
	}
	for i := range n / 2 {
		d.Texts = append(d.Texts, Text{At: at(), Size: small, Bold: true, String: fmt.Sprintf("crossing %d: strand.%d over", i+1, i)})
	}
	d.Measure(d.Title, lines, unit.MM)
	return d
}

// A quad is the corners of a line of lettering, counter-clockwise: from the
// descenders, a quarter of the body, to the height of capitals, 0.72 of it.
type quad [4]geom.Point

func quadOf(t Text) quad {
	w := Width(Legible(t.String), t.Size, t.Bold)
	from := -w * float64(t.Align) / 2 // Left, Center, Right
	on := func(x, y float64) geom.Point { return t.At.Add(geom.Pt(from+x, y*t.Size).Turn(t.Angle)) }
	return quad{on(0, -0.25), on(w, -0.25), on(w, 0.72), on(0, 0.72)}
}

// overlaps reports whether two convex quads have an area in common: no side of
// either has all of the other beyond it.
func (q quad) overlaps(o quad) bool {
	const touch = 1e-9
	apart := func(a, b quad) bool {
		for i := range a {
			side := a[(i+1)%4].Sub(a[i]).Unit()
			beyond := true
			for _, p := range b {
				beyond = beyond && side.Cross(p.Sub(a[i])) <= touch
			}
			if beyond {
				return true
			}
		}
		return false
	}
	return !apart(q, o) && !apart(o, q)
}

// widened is a level box, 1.4 mm (two spaces of the small letters) longer at
// both ends.
func (q quad) widened() quad {
	by := geom.Pt(1.4, 0)
	return quad{q[0].Sub(by), q[1].Add(by), q[2].Add(by), q[3].Sub(by)}
}

func (q quad) holds(p geom.Point) bool {
	for i := range q {
		if q[(i+1)%4].Sub(q[i]).Cross(p.Sub(q[i])) < 0 {
			return false
		}
	}
	return true
}

// outline reports whether a stroke of a tile is one of the drawing.
func outline(s Stroke) bool {
	for _, u := range uses() {
		if reflect.DeepEqual(s.Pen, u.pen()) {
			return true
		}
	}
	return false
}

// dots are places along a line, a tenth of a millimetre apart.
func dots(c geom.Contour) []geom.Point {
	const step = 0.1
	var list []geom.Point
	for s := 0.0; s < c.Length(); s += step {
		p, _ := c.At(s)
		list = append(list, p)
	}
	return list
}

// holdPage finds lettering of a page that overlaps, and lettering and filled
// steps of bars that cover an outline.
func holdPage(t *testing.T, p Page, tile bool) {
	t.Helper()
	var quads []quad
	for i, text := range p.Texts {
		q := quadOf(text)
		for k, o := range quads {
			if q.overlaps(o) {
				t.Errorf("%q overlaps %q at %v", text.String, p.Texts[k].String, p.Texts[i].At)
			}
			if tile && text.Angle == 0 && p.Texts[k].Angle == 0 && q.widened().overlaps(o) {
				t.Errorf("%q and %q run together at %v", text.String, p.Texts[k].String, p.Texts[i].At)
			}
		}
		quads = append(quads, q)
	}
	if !tile {
		return
	}
	for _, a := range p.Areas {
		b := a.Loops[0].Bounds()
		quads = append(quads, quad{b.Min, geom.Pt(b.Max.X, b.Min.Y), b.Max, geom.Pt(b.Min.X, b.Max.Y)})
	}
	for _, s := range p.Strokes {
		if !outline(s) {
			continue
		}
		for _, q := range dots(s.Contour) {
			for i := range quads {
				if quads[i].holds(q) {
					what := "a bar"
					if i < len(p.Texts) {
						what = p.Texts[i].String
					}
					t.Errorf("%s covers an outline at %v", what, q)
				}
			}
		}
	}
}

// Of crowded drawings on small and large sheets and a roll, no two pieces of
// lettering overlap, and neither they nor the bars cover an outline.
func TestCrowdedLabelsKeepApart(t *testing.T) {
	for seed := range uint64(4) {
		for _, name := range []string{"A4", "A3", "roll 610 mm"} {
			r := rand.New(rand.NewPCG(seed, 1))
			d := crowded(r, 15+int(seed)*20, 350)
			book, _ := bound(t, d, Options{Paper: open(t, name), Block: Block{Job: "job", Revision: "1"}})
			for i, p := range book.Document.Pages {
				holdPage(t, p, slices.Contains(book.Pages["crowded"], i+1))
				if t.Failed() {
					t.Fatalf("drawing %d on %s, page %d", seed, name, i+1)
				}
			}
		}
	}
}

// The same drawing gives the same pages.
func TestCrowdedPagesAreTheSameTwice(t *testing.T) {
	pages := func() Document {
		book, _ := bound(t, crowded(rand.New(rand.NewPCG(7, 1)), 40, 300), Options{Paper: open(t, "A4")})
		return book.Document
	}
	if a, b := pages(), pages(); !reflect.DeepEqual(a, b) {
		t.Error("the same drawing gave other pages")
	}
}

// Every label is on a sheet, whole or short, or counted as one that found no
// room, which the contents say; and what was left out or shortened is in the
// tables.
func TestNoLabelIsLostUntold(t *testing.T) {
	d := crowded(rand.New(rand.NewPCG(3, 1)), 120, 250)
	s := &sheets{d: d, o: Options{Paper: open(t, "A4")}, l: Lay(d, open(t, "A4"), unit.MM)}
	s.place()
	forms := map[string]int{} // how many labels may be written so
	for _, l := range s.about {
		for _, f := range l.forms {
			forms[f]++
		}
	}
	written := 0
	for _, tile := range s.tiles() {
		for _, text := range tile.page.Texts {
			if text.Size == small && forms[text.String] > 0 {
				written++
			}
		}
	}
	if written+s.said.left != len(s.about) || !s.said.short || !s.said.leader {
		t.Errorf("of %d labels %d are written and %d told to be missing; %+v", len(s.about), written, s.said.left, s.said)
	}
	b := &binder{patterns: []Pattern{{d: d, said: said{short: true, left: 3}}}}
	if words := strings.Join(b.notes(), "\n"); !strings.Contains(words, "no room for a label") || !strings.Contains(words, "A number alone") {
		t.Errorf("the contents don't say so: %q", words)
	}
	if rows := len(d.Tables[0].Rows); rows < 40 {
		t.Errorf("%d arcs in the table", rows)
	}
}

// across is a line to cut at a height.
func across(y float64) Drawn { return Drawn{Use: Cut, Contour: line(geom.Pt(-50, y), geom.Pt(50, y))} }

// A label whose own place is taken moves beside its point, or away with a leader
// that ends beside it; one that nothing hinders stays where it is.
func TestLabelMovesAway(t *testing.T) {
	for _, c := range []struct {
		name   string
		in     func(d *Drawing)
		moved  bool
		leader bool
	}{
		{"alone", func(*Drawing) {}, false, false},
		{"on a line", func(d *Drawing) { d.Lines = append(d.Lines, across(1)) }, true, false},
		{"among lines", func(d *Drawing) { d.Lines = append(d.Lines, across(1), across(-1), across(2.5), across(-2.5)) }, true, true},
	} {
		d := frame(150, 150)
		d.Texts = []Text{{At: geom.Pt(0, 0), String: "crossing 1: bar over", Size: small}}
		c.in(&d)
		s := &sheets{d: d, o: Options{Paper: open(t, "A4")}, l: Lay(d, open(t, "A4"), unit.MM)}
		s.place()
		tile := s.tiles()[0]
		said := tile.page.Texts[len(tile.page.Texts)-1]
		if said.String != "crossing 1: bar over" || (said.At != tile.on(geom.Pt(0, 0))) != c.moved || (len(tile.leaders) == 1) != c.leader {
			t.Errorf("%s: %q at %v, %d leaders", c.name, said.String, said.At.Sub(tile.shift), len(tile.leaders))
			continue
		}
		if c.leader {
			q, far := quadOf(said), math.Inf(1)
			for _, p := range dots(geom.Polygon(q[:]...)) {
				far = math.Min(far, p.Dist(tile.leaders[0].Contour.End()))
			}
			if far > 2*apart || q.holds(tile.leaders[0].Contour.End()) {
				t.Errorf("%s: the leader ends %v mm from the label", c.name, far)
			}
		}
	}
}

// A bar takes the way that crosses nothing where there is one: here between two
// long lines, others of which lie where the first places to try would be.
func TestBarKeepsOffLines(t *testing.T) {
	d := frame(950, 150) // in cells from -80 to 80
	for _, y := range []float64{-70, -65, -60, 20, 30} {
		d.Lines = append(d.Lines, Drawn{Use: Cut, Contour: line(geom.Pt(-390, y), geom.Pt(390, y))})
	}
	s := &sheets{d: d, o: Options{Paper: open(t, "A4")}, l: Lay(d, open(t, "A4"), unit.MM)}
	s.place()
	if len(s.bars) != 1 {
		t.Fatalf("%d bars", len(s.bars))
	}
	if b := s.bars[0]; len(s.hits(b, barApart, nil)) != 0 || b.across() < -65 || b.length() < 600 {
		t.Errorf("the bar at %v, %v mm long, crosses something or runs outside", b.across(), b.length())
	}
}

// Where a line crosses a bar, the bar is broken: for a step from 0 to 50 and
// lines at 10 and from 30 to 32 it is 0 to 9.2, 10.8 to 29.2 and 32.8 to 50
// (derived, with gaps of 0.8).
func TestBarIsBroken(t *testing.T) {
	got := bar{}.parts(0, 50, []span{{10, 10}, {30, 32}, {70, 80}})
	want := []span{{0, 9.2}, {10.8, 29.2}, {32.8, 50}}
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		if math.Abs(got[i].from-want[i].from)+math.Abs(got[i].to-want[i].to) > 1e-9 {
			t.Errorf("part %d: %v, want %v", i, got[i], want[i])
		}
	}
}

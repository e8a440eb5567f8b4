package sketch_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
	"strapwork/pkg/sheet"
	"strapwork/pkg/sketch"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// rings is a motif of linked rings in a ring.
func rings(n int) work.Drawing {
	d := work.Drawing{Copies: 1}
	for i := range n {
		at := geom.Polar(100, 2*math.Pi*float64(i)/float64(n))
		d.Elements = append(d.Elements, work.Element{Name: fmt.Sprintf("link-%d", i+1), Kind: work.KindCircle, Contour: geom.Circle(at, 130*math.Sin(math.Pi/float64(n)))})
	}
	return d
}

func sketched(t *testing.T, d work.Drawing, width float64, more ...diag.Finding) sketch.Sketch {
	t.Helper()
	m, found := motif.Build(d)
	w, also := weave.Build(m, work.Weaving{FirstOver: true})
	found.Add(also...)
	found.Add(more...)
	return sketch.Of(sketch.Drawing{Title: "Linked rings", Units: unit.MM, Width: width, Motif: m, Weave: w, Findings: found})
}

// box is what a text takes up at least: what its letters are wide at most, less a
// margin, from its base line up.
func box(s sheet.Text) geom.Box {
	w := s.Width()
	b := geom.Box{Min: s.At, Max: s.At.Add(geom.Pt(w, s.Height))}
	if s.Middle {
		b.Min.X, b.Max.X = b.Min.X-w/2, b.Max.X-w/2
	}
	return b
}

// holdPage holds a picture to what any page must be: its lettering lies on it, apart
// from all other lettering.
func holdPage(t *testing.T, p sheet.Picture) {
	t.Helper()
	for i, s := range p.Texts {
		b := box(s)
		if !p.Bounds.Holds(b.Min) || !p.Bounds.Holds(b.Max) {
			t.Errorf("%q is not on the page: %v of %v", s.String, b, p.Bounds)
		}
		for _, o := range p.Texts[:i] {
			if box(o).Expand(-1e-6).Meets(b) {
				t.Errorf("%q at %v and %q at %v overlap", s.String, s.At, o.String, o.At)
			}
		}
	}
}

// TestLetteringIsApart: as areas see it, which share no code with how room was found,
// no name lies on a line.
func TestLetteringIsApart(t *testing.T) {
	for _, n := range []int{3, 8, 24} {
		for _, width := range []float64{0, 3} {
			d := rings(n)
			p := sketched(t, d, width).Picture()
			holdPage(t, p)
			var names []region.Region
			for _, s := range p.Texts {
				if strings.HasPrefix(s.String, "link-") {
					names = append(names, region.New(geom.Rect(box(s))))
				}
			}
			if len(names) == 0 {
				t.Errorf("%d rings: no names are written", n)
			}
			for _, f := range p.Fills {
				if f.Label != sketch.Drawn.String() {
					continue
				}
				for _, c := range f.Loops {
					ink := region.Stroke(c, f.StrokeWidth/2)
					if slices.ContainsFunc(names, func(r region.Region) bool { return !region.Intersect(r, ink).Empty() }) {
						t.Errorf("%d rings of width %g: a name lies on a line", n, width)
					}
				}
			}
		}
	}
}

// TestMarks: every finding with a place has its number there and in the list, however
// many there are and however close, and no lettering covers other lettering.
func TestMarks(t *testing.T) {
	var found diag.Findings
	for i := range 60 {
		f := found.Warnf("motif", "rule", "place %d is wrong", i+1)
		f.SetAt(100+float64(i%8), 3*float64(i/8)).Hintf("move it by %d", i+1)
	}
	found.Errorf("motif", "rule", "far away").SetAt(1e4, 1e4)
	found.Errorf("motif", "rule", "nowhere at all")
	p := sketched(t, rings(8), 2, found...).Picture()
	holdPage(t, p)
	times := map[string]int{}
	for _, s := range p.Texts {
		times[s.String]++
	}
	for i := range 60 {
		if n := times[fmt.Sprint(i+1)]; n != 2 {
			t.Errorf("the number %d is written %d times, want in the drawing and in the list", i+1, n)
		}
		if times[fmt.Sprintf("warning: place %d is wrong", i+1)] != 1 || times[fmt.Sprintf("hint: move it by %d", i+1)] != 1 {
			t.Errorf("place %d isn't listed with its hint", i+1)
		}
	}
	if times["61"] != 1 || times["error: far away"] != 1 || times["error: nowhere at all"] != 0 {
		t.Errorf("what lies far off the drawing is listed %d times, and what has no place %d", times["61"], times["error: nowhere at all"])
	}
}

// TestAlsoAt: places that a finding only counts have their rings too.
func TestAlsoAt(t *testing.T) {
	d := work.Drawing{Copies: 4, Elements: []work.Element{
		{Name: "bar", Contour: geom.Chain(false, geom.Line(geom.Pt(20, 0), geom.Pt(60, 0)))},
		{Name: "up", Contour: geom.Chain(false, geom.Line(geom.Pt(60, 0), geom.Pt(80, 10)))},
		{Name: "down", Contour: geom.Chain(false, geom.Line(geom.Pt(60, 0), geom.Pt(80, -10)))},
	}}
	s := sketched(t, d, 0)
	if len(s.Marks) != 2 || len(s.Marks[0].Also) != 3 || len(s.Marks[1].Also) != 3 {
		t.Fatalf("the marks are %+v, want the ends and the strands each at four places", s.Marks)
	}
	rings := 0
	for _, f := range s.Picture().Fills {
		if len(f.Loops) == 1 && f.Loops[0].Closed && f.StrokeWidth == 0.35 {
			rings++
		}
	}
	if rings != 8 {
		t.Errorf("%d rings are drawn, want 8", rings)
	}
}

// TestInsets: what is shown larger keeps within its window, and its caption stands on
// the page; each has its letter in the drawing too.
func TestInsets(t *testing.T) {
	c := geom.Circle(geom.Pt(0, 0), 80)
	s := sketch.Sketch{
		Title: "A circle, drawn and traced", Units: unit.Inch,
		Layers: []sketch.Layer{
			{Style: sketch.Given, Lines: []geom.Contour{geom.Circle(geom.Pt(0.01, 0), 80)}, Legend: "as in the file"},
			{Style: sketch.Made, Lines: []geom.Contour{c}, Legend: "as traced"},
		},
		Marks: []sketch.Mark{{Severity: diag.Note, At: geom.Pt(80, 0), Placed: true, Text: "furthest from the drawing"}},
	}
	for i := range 5 {
		s.Insets = append(s.Insets, sketch.Inset{At: geom.Polar(80, float64(i)), Half: 0.1, Caption: "300 times as large, a caption that takes more than one line of its own"})
	}
	p := s.Picture()
	holdPage(t, p)
	clipped := 0
	for _, f := range p.Fills {
		if f.Clip == nil {
			continue
		}
		clipped++
		for _, l := range f.Loops {
			if b := l.Bounds(); !f.Clip.Expand(2).Holds(b.Min) || !f.Clip.Expand(2).Holds(b.Max) {
				t.Errorf("a line reaches from %v to %v, the window %v", b.Min, b.Max, *f.Clip)
			}
			if size := l.Bounds().Size(); size.Norm() < f.Clip.Size().X/2 {
				t.Errorf("a line of a window is only %v long", size.Norm())
			}
		}
	}
	if clipped != 10 {
		t.Errorf("%d lines are shown larger, want two in each of five windows", clipped)
	}
	for _, letter := range []string{"A", "B", "C", "D", "E"} {
		if !slices.ContainsFunc(p.Texts, func(s sheet.Text) bool { return s.String == letter }) ||
			!slices.ContainsFunc(p.Texts, func(s sheet.Text) bool { return strings.HasPrefix(s.String, letter+": 300 times") }) {
			t.Errorf("the window %s isn't named", letter)
		}
	}
}

// TestScale: pictures are as wide as a page whatever is drawn, at a ratio that a person
// can work with, and the bar is as long as it says.
func TestScale(t *testing.T) {
	for size, want := range map[float64]string{
		0.5: "scale 150:1", 10: "scale 15:1", 100: "scale 1.5:1", 158: "scale 1:1", 159: "scale 1:1.25", 600: "scale 1:4", 1250: "scale 1:8", 90_000: "scale 1:600",
	} {
		c := geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(size, size/2)))
		p := sketch.Sketch{Title: "a line", Layers: []sketch.Layer{{Lines: []geom.Contour{c}}}}.Picture()
		if !slices.ContainsFunc(p.Texts, func(s sheet.Text) bool { return s.String == want }) {
			t.Errorf("%g mm: %v, want %s", size, p.Texts, want)
		}
		if w := p.Bounds.Size().X; w != 206 {
			t.Errorf("%g mm: the page is %g mm wide", size, w)
		}
		holdPage(t, p)
	}
}

// TestHostileNames: whatever a job calls things, no control character and nothing that
// turns the direction of writing comes into the picture, and nothing is wider than it.
func TestHostileNames(t *testing.T) {
	d := rings(3)
	long := strings.Repeat("very-long-", 40)
	for i, name := range []string{long, "a\u202eb\x07c", "\u4e00\u4e8c\u4e09"} {
		d.Elements[i].Name = name
	}
	s := sketched(t, d, 0)
	s.Title = long + "\u202e\n" + strings.Repeat("word ", 100)
	s.Marks = append(s.Marks, sketch.Mark{Severity: diag.Error, Text: long + long + long, Hint: "\x1b[2J" + long})
	p := s.Picture()
	holdPage(t, p)
	for _, s := range append(p.Texts, sheet.Text{String: p.Title}) {
		if strings.ContainsAny(s.String, "\u202e\x07\x1b\n") {
			t.Errorf("%q is written", s.String)
		}
	}
}

// TestNothing: a sketch of nothing is a page.
func TestNothing(t *testing.T) {
	holdPage(t, sketch.Sketch{}.Picture())
	holdPage(t, sketched(t, work.Drawing{Copies: 1}, 3).Picture())
}

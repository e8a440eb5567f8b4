package fullsize

import (
	"math"
	"testing"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/inlay"
	"strapwork/pkg/motif"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

var layup = []work.Strip{{Material: "holly", Thickness: 0.8}, {Material: "bronze", Thickness: 1}, {Material: "pear", Thickness: 1.2}}

// figuresOf draws the pieces of lines.
func figuresOf(t *testing.T, laid work.Laid, lines ...geom.Contour) ([]Figure, cutlist.List) {
	t.Helper()
	d := work.Drawing{Copies: 1}
	for i, c := range lines {
		d.Elements = append(d.Elements, work.Element{Name: string(rune('a' + i)), Contour: c})
	}
	m, found := motif.Build(d)
	if found.HasErrors() {
		t.Fatal(found)
	}
	w, found := weave.Build(m, work.Weaving{FirstOver: true})
	if found.HasErrors() {
		t.Fatal(found)
	}
	in, found := inlay.Build(inlay.Params{Strips: layup, Width: 3, Laid: laid}, m, w)
	if found.HasErrors() {
		t.Fatal(found)
	}
	l := cutlist.New(cutlist.Params{Inlay: work.Inlay{Depth: 3, Proud: 0.3, Width: 3, Strips: layup, Laid: laid, Allowance: 1}}, in, m)
	return Figures(l, m), l
}

// ngon is a regular polygon with sides of 60 mm.
func ngon(n int) geom.Contour {
	var pts []geom.Point
	for i := range n {
		pts = append(pts, geom.Polar(30/math.Sin(math.Pi/float64(n)), 2*math.Pi*float64(i)/float64(n)+0.1))
	}
	return geom.Polygon(pts...)
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-6 }

// The sides of a polygon, however they stand in it, lie along x with the left side above:
// they are as high as they are thick, as long as from long point to long point, and their
// area is that of a trapezium.
func TestStraight(t *testing.T) {
	for n := 3; n <= 8; n++ {
		figures, _ := figuresOf(t, work.LaidStrips, ngon(n))
		if len(figures) != 3 {
			t.Fatalf("%d sides: %d kinds", n, len(figures))
		}
		for _, f := range figures {
			c := f.Flat[0]
			size := c.Bounds().Size()
			if len(f.Flat) != 1 || len(f.Numbers) != n || !near(size.Y, f.Piece.Thickness) || !near(size.X, f.Long()) || !near(c.Area(), f.Piece.Thickness*(f.Left+f.Right)/2) {
				t.Errorf("%d sides: %v is %v", n, f.Numbers, c)
			}
			for _, e := range c.Edges() {
				if up := e.Mid().Y; near(e.A.Y, e.B.Y) && !near(e.Length(), map[bool]float64{true: f.Left, false: f.Right}[up > f.Piece.Thickness/2]) {
					t.Errorf("%d sides: at %g a side is %g long; left %g, right %g", n, up, e.Length(), f.Left, f.Right)
				}
			}
			if len(f.Laid) > 0 || f.Blank.Len() > 0 {
				t.Errorf("a straight piece is drawn bent")
			}
		}
	}
}

// A ring is drawn straight as 2 pi times its radius long, cut longer by what it is held by, and
// as laid with an outer and an inner side, and the joint between them.
func TestRing(t *testing.T) {
	figures, l := figuresOf(t, work.LaidStrips, geom.Circle(geom.Pt(5, 7), 40))
	radii := []float64{38.9, 39.8, 40.9} // counter-clockwise: left is inside
	for i, f := range figures {
		flat, blank := f.Flat[0].Bounds().Size(), f.Blank.Bounds().Size()
		if !near(flat.X, 2*math.Pi*radii[i]) || !near(flat.Y, f.Piece.Thickness) || !near(blank.X, f.Cut) || blank.X < flat.X+l.Allowance+cutlist.Bent-1e-6 {
			t.Errorf("ring %d: straight %v, cut to %v", i, flat, blank)
		}
		area := 0.0
		for _, c := range f.Laid {
			area += c.Area()
		}
		if !near(area, 2*math.Pi*radii[i]*f.Piece.Thickness) || len(f.Laid) != 2 || len(f.Joints) != 1 || !near(f.Joints[0].Length(), f.Piece.Thickness) {
			t.Errorf("ring %d: area %g, joints %v", i, area, f.Joints)
		}
	}
}

// hairpin runs 90 mm, turns by half a circle and comes back.
func hairpin() geom.Contour {
	edges := []geom.Edge{geom.Line(geom.Pt(0, 0), geom.Pt(90, 0))}
	edges = append(edges, geom.Arc(geom.Pt(90, 30), 30, -math.Pi/2, math.Pi)...)
	return geom.Chain(false, append(edges, geom.Line(geom.Pt(90, 60), geom.Pt(10, 60)))...)
}

// The middle line of a bent piece lies within its outline as laid and is as long as the
// straight drawing says; a bar over it leaves pieces that begin and end elsewhere.
func TestBent(t *testing.T) {
	figures, _ := figuresOf(t, work.LaidStrips, hairpin(), geom.Chain(false, geom.Line(geom.Pt(40, -20), geom.Pt(45, 80))))
	bent := 0
	for _, f := range figures {
		if f.Bend == 0 {
			continue
		}
		bent++
		area := region.New(f.Laid...)
		length := 0.0
		for _, e := range f.Middle {
			length += e.Length()
			for _, u := range []float64{0.01, 0.5, 0.99} {
				if !area.Contains(e.At(u)) || math.Abs(area.BoundaryDist(e.At(u))-f.Piece.Thickness/2) > 1e-6 && u == 0.5 {
					t.Errorf("%v: the middle line is off at %v", f.Numbers, e.At(u))
				}
			}
		}
		if !near(length, f.Piece.Middle) {
			t.Errorf("%v: the middle is %g long, want %g", f.Numbers, length, f.Piece.Middle)
		}
		want := f.Piece.Middle // and at each end on to the tip
		for _, e := range f.Ends {
			want += f.Piece.Thickness / 2 / math.Abs(math.Tan(e.Angle))
		}
		if b := f.Flat[0].Bounds().Size(); !near(b.Y, f.Piece.Thickness) || !near(b.X, want) {
			t.Errorf("%v: straight %v, want %g", f.Numbers, b, want)
		}
	}
	if bent == 0 {
		t.Error("nothing is bent")
	}
}

// What is larger than the room is drawn bend by bend, within the room, and says which; what isn't
// is drawn whole.
func TestViews(t *testing.T) {
	figures, _ := figuresOf(t, work.LaidStrips, hairpin())
	for _, f := range figures {
		whole := boundsOf(f.Laid).Size()
		for _, room := range []geom.Point{geom.Pt(300, 300), geom.Pt(100, 300), geom.Pt(60, 40), geom.Pt(30, 100)} {
			views := f.views(room, unit.MM)
			if len(views) != 1 {
				t.Fatalf("%d views of one bend", len(views))
			}
			box := geom.EmptyBox()
			for _, l := range views[0].Lines {
				box = box.Join(l.Contour.Bounds())
			}
			if size := box.Size(); size.X > room.X+1e-6 || size.Y > room.Y+1e-6 || box.Empty() {
				t.Errorf("in %v the view is %v", room, size)
			}
			if fits := whole.X <= room.X && whole.Y <= room.Y; fits != (views[0].Say == "") {
				t.Errorf("of %v in %v it says %q", whole, room, views[0].Say)
			}
		}
	}
	// The bend of the middle strip is from 90 mm on, and R 30.2 long half a circle.
	if got, want := figures[1].views(geom.Pt(60, 40), unit.MM)[0].Say, "R 29.8 mm, from 90 to 183.6 mm along the middle: a stretch of it"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// A loop whose beginning butts on its own side closes: its end is drawn nevertheless.
func TestLoopOnItself(t *testing.T) {
	edges := []geom.Edge{geom.Line(geom.Pt(0, -30), geom.Pt(0, 60))}
	edges = append(edges, geom.Arc(geom.Pt(-30, 60), 30, 0, 3*math.Pi/2)...)
	loop := geom.Chain(false, append(edges, geom.Line(edges[len(edges)-1].B, geom.Pt(60, 30)))...)
	figures, _ := figuresOf(t, work.LaidStrips, loop)
	closed := 0
	for _, f := range figures {
		if len(f.Laid) == 2 {
			closed++
			if len(f.Joints) == 0 {
				t.Errorf("%v: no end is drawn", f.Numbers)
			}
		}
	}
	if closed != 1 {
		t.Errorf("%d strips close on themselves, want the inner one", closed)
	}
}

// The drawing for a machine is one that it can follow, with every outline at its true size:
// their areas are those of the figures.
func TestSheet(t *testing.T) {
	for _, laid := range []work.Laid{work.LaidStrips, work.LaidSandwich} {
		figures, _ := figuresOf(t, laid, hairpin(), geom.Circle(geom.Pt(40, 30), 45), ngon(5))
		s, left := Sheet(figures, unit.MM)
		if len(left) > 0 {
			t.Errorf("%d kinds are left out", len(left))
		}
		if faults := sheet.CheckParts(s, Parts(s)); len(faults) > 0 {
			t.Error(faults)
		}
		want, got := 0.0, 0.0
		for _, f := range figures {
			for _, c := range f.Flat {
				want += c.Area()
			}
			for _, c := range f.Laid {
				want += math.Abs(c.Area())
			}
		}
		for _, l := range s.Lines {
			if l.Role == sheet.Edge || l.Role == sheet.Opening {
				got += l.Contour.Area()
			}
		}
		if !near(got, want) {
			t.Errorf("%s: outlines of %g mm2, want %g", laid, got, want)
		}
	}
}

// What two close cuts leave is a triangle; nothing crosses itself.
func TestTip(t *testing.T) {
	p := cutlist.Piece{Thickness: 2, Middle: 1, Bend: 50, Segments: []inlay.Segment{{Length: 1, Radius: 50}}, Ends: [2]inlay.End{{Angle: math.Pi / 4}, {Angle: 3 * math.Pi / 4}}}
	// The cuts meet half a millimetre above the middle: a right angle there, 1.5 high.
	c := developed(p)
	if len(c.Vertices) != 3 || !near(c.Area(), 1.5*1.5) {
		t.Errorf("%v, area %g", c, c.Area())
	}
}

// What springs into its groove is cut straight: it has no length to be held by, is drawn as
// it lies too, and all of it goes into the DXF.
func TestSprung(t *testing.T) {
	figures, l := figuresOf(t, work.LaidStrips, geom.Circle(geom.Pt(5, 7), 1200))
	for _, f := range figures {
		if f.Blank.Len() > 0 || len(f.Laid) != 2 || !near(f.Cut, f.Piece.Middle+l.Allowance) {
			t.Errorf("%v: cut to %g, %d outlines as laid, blank %v", f.Numbers, f.Cut, len(f.Laid), f.Blank)
		}
		for _, line := range f.lines(unit.MM) {
			if line.Contour.Len() == 0 {
				t.Errorf("%v has an empty line", f.Numbers)
			}
		}
	}
}

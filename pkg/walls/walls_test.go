package walls_test

import (
	"fmt"
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/walls"
)

// The groove and the bit of the worked values in the design notes.
const (
	wide = 5.08
	bit  = 3.175
)

// endTip is what a bit leaves in one corner of a flat end: (1 - pi/4) (b/2)^2.
const endTip = (1 - math.Pi/4) * bit * bit / 4

// path is one strand of path data.
func path(t testing.TB, d string, width float64) walls.Strand {
	t.Helper()
	cs, err := geom.ParsePath(d)
	if err != nil || len(cs) != 1 {
		t.Fatal(d, err)
	}
	return walls.Strand{Line: cs[0], Width: width}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %v, want %v +-%v", what, got, want, tol)
	}
}

// area is the sum of regions that don't overlap.
func area(rs []region.Region) (sum float64) {
	for _, r := range rs {
		sum += r.Area()
	}
	return sum
}

// The area along a strand is its width times its length, by Pappus also along
// arcs, and at a corner of turn t the mitre's outside is as large as what the
// bands share inside: w2/4 tan(t/2) each.
func TestArea(t *testing.T) {
	loop := 100.0 * 4
	for _, c := range []struct {
		d    string
		want float64
	}{
		{"M 0 0 L 100 0", 100 * wide},
		{"M 0 0 L 100 0 L 100 100", 200 * wide},
		{"M 0 0 L 100 0 L 100 100 L 0 100 Z", loop * wide},
		{"M 0 0 A 20 20 0 0 1 40 0", 20 * math.Pi * wide},
		{"M 0 0 A 20 20 0 0 1 40 0 A 20 20 0 0 1 0 0 Z", 40 * math.Pi * wide},
		{"M 0 0 L 50 0 A 10 10 0 0 1 60 10 L 60 50", (90 + 5*math.Pi) * wide},
	} {
		near(t, c.d, walls.Of(path(t, c.d, wide)).Area.Area(), c.want, 1e-6)
	}
	// A figure of eight crosses itself at a right angle: w2 counts once.
	eight := "M 0 0 L 60 60 A 30 30 0 0 0 102.426406871 42.426406871 L 60 0 L 0 60 Z"
	g := walls.Of(path(t, eight, wide))
	if whole := g.Area; whole.Empty() || !whole.Contains(geom.Pt(30, 30)) {
		t.Error("no area where the strand crosses itself")
	}
	cross := walls.Of(path(t, "M -50 0 L 50 0", wide), path(t, "M 0 -50 L 0 50", wide))
	near(t, "cross", cross.Area.Area(), 200*wide-wide*wide, 1e-6)
}

// What a bit leaves in a corner of included angle t and at a free end: the
// values of the design notes, confirmed there by an independent library.
func TestTips(t *testing.T) {
	for _, c := range []struct{ degrees, want float64 }{{30, 6.107}, {45, 3.115}, {60, 1.726}, {90, 0.5408}, {120, 0.1355}} {
		for _, side := range []float64{1, -1} {
			u := geom.Polar(1000, math.Pi-side*c.degrees*math.Pi/180)
			s := path(t, fmt.Sprintf("M -1000 0 L 0 0 L %.9f %.9f", u.X, u.Y), wide)
			tips := walls.Of(s).Tips(bit)
			const ends = 4 // two corners at each of the two
			if len(tips) != 1+ends {
				t.Fatalf("%v degrees: %d tips", c.degrees, len(tips))
			}
			all := area(tips)
			near(t, fmt.Sprint(c.degrees, " degrees"), all-4*endTip, c.want, 1e-3)
			// And by formula: how deep it is.
			deep := 0.0
			tip := geom.Point{}
			for _, r := range tips {
				for _, l := range r.Loops() {
					for _, v := range l.Vertices {
						if d := v.Dist(geom.Pt(0, 0)); d < 50 && d > deep {
							deep, tip = d, v.Point
						}
					}
				}
			}
			near(t, "mitre", tip.Norm(), wide/2/math.Sin(c.degrees*math.Pi/360), 1e-9)
		}
	}
}

// Every tip is what no bit reaches, and nothing else is: against the opening of
// the area, for corners and ends of lines and arcs, a bit that fills the groove
// among them.
func TestTipsAgainstOpening(t *testing.T) {
	for _, d := range []string{
		"M 0 0 L 40 0 L 20 35 Z",
		"M 0 0 L 60 0 A 30 30 0 0 1 30 30 L 0 60",
		"M 0 0 A 40 40 0 0 0 40 40 A 60 60 0 0 0 80 0",
		"M 0 0 A 40 40 0 0 0 40 40 A 15 15 0 0 0 50 20 L 70 20",
		"M 0 0 A 5 5 0 0 1 10 0",                                 // tight
		"M 0 0 L 1 0 A 20 20 0 0 1 21 20 L 21 21",                // the bit's way to the flat is round the bend
		"M 0 0 L 40 0 L 40 1.2 L 80 1.2",                         // a jog shorter than the bit
		"M 0 0 L 40 0 L 40 1.2 L 0 1.2",                          // a fold
		"M 0 0 L 1 0 L 1 40",                                     // a corner that shapes the end
		"M 0 0 L 40 0.1 L 80 0 L 120 0.4 A 30 30 0 0 1 150 30.7", // kinks
	} {
		for _, b := range []float64{bit, 1.5, wide} {
			g := walls.Of(path(t, d, wide))
			left := region.Subtract(g.Area, region.Union(g.Tips(b)...))
			reach := region.Union(g.Area.Open(b/2), g.Area.Open(b/2-0.001))
			// In a corner of t a bit smaller by e in radius gets e (1/sin(t/2) - 1) further.
			const slack = 0.006
			if d2 := region.Subtract(left, reach).Open(slack / 2); !d2.Empty() {
				t.Errorf("%s, bit %v: asks for %v mm2 out of reach at %v", d, b, d2.Area(), d2.Bounds())
			}
			if d2 := region.Subtract(reach, left).Open(slack / 2); !d2.Empty() {
				t.Errorf("%s, bit %v: forgives %v mm2 within reach at %v", d, b, d2.Area(), d2.Bounds())
			}
		}
	}
}

// Crossings and tees leave nothing, whatever lies in what would be a tip.
func TestOthersOpenTips(t *testing.T) {
	tee := walls.Of(path(t, "M -50 0 L 50 0", wide), path(t, "M 0 0 L 20 40", wide))
	if tips := tee.Tips(bit); len(tips) != 6 { // three free ends
		t.Errorf("%d tips at a tee", len(tips))
	}
	// A bar over a corner's tip takes all of it; one beside it takes the point, 0.2
	// mm deep, which between walls at right angles is 0.2 squared.
	corner := path(t, "M -50 0 L 0 0 L 0 50", wide)
	alone := area(walls.Of(corner).Tips(bit)) - 2*2*endTip
	over := walls.Of(corner, path(t, "M -30 30 L 30 -30", wide))
	near(t, "over", area(over.Tips(bit))-4*2*endTip, 0, 1e-6)
	d := wide/math.Sqrt2 + wide/2 - 0.2
	p, u := geom.Polar(d, -math.Pi/4), geom.Polar(30, math.Pi/4)
	beside := walls.Of(corner, walls.Strand{Line: geom.Chain(false, geom.Line(p.Sub(u), p.Add(u))), Width: wide})
	near(t, "beside", area(beside.Tips(bit))-4*2*endTip, alone-0.04, 5e-3) // and a little that the bit gets at from there
}

// Kinks up to half a degree, however small, leave no slit: along the whole
// strand the bit's middle keeps its play.
func TestKinks(t *testing.T) {
	for _, k := range []float64{1e-9, 1e-7, 3e-7, 1e-6, 1e-5, 1e-4, 1e-3, 0.01, 0.1, 0.3, 0.499} {
		a := k * math.Pi / 180
		line := geom.Chain(false,
			geom.Line(geom.Pt(-40, 0), geom.Pt(0, 0)),
			geom.Line(geom.Pt(0, 0), geom.Polar(40, a)),
			geom.Arc(geom.Polar(40, a).Add(geom.Polar(20, 2*a+math.Pi/2)), 20, 2*a-math.Pi/2, 2)[0],
			arcAfter(geom.Arc(geom.Polar(40, a).Add(geom.Polar(20, 2*a+math.Pi/2)), 20, 2*a-math.Pi/2, 2)[0], a))
		for _, s := range []walls.Strand{{Line: line, Width: wide}, {Line: line.Reverse(), Width: wide}, {Line: geom.MirrorX().Contour(line), Width: wide}} {
			g := walls.Of(s)
			near(t, fmt.Sprint(k, " degrees: area"), g.Area.Area(), s.Line.Length()*wide, 0.01*wide)
			if n := len(g.Area.Loops()); n != 1 {
				t.Errorf("%v degrees: %d outlines", k, n)
			}
			for at := bit; at < s.Line.Length()-bit; at += 0.05 {
				if p, _ := s.Line.At(at); g.Area.BoundaryDist(p) < wide/2-1e-6 {
					t.Fatalf("%v degrees: the wall is %v from %v", k, g.Area.BoundaryDist(p), p)
				}
			}
			if n := len(g.Tips(bit)); n != 4 {
				t.Errorf("%v degrees: %d tips", k, n)
			}
		}
	}
}

// arcAfter follows e with an arc that curves the other way, at a kink of a.
func arcAfter(e geom.Edge, a float64) geom.Edge {
	u := e.Tangent(1).Turn(a)
	c := e.B.Sub(u.Left().Scale(25))
	return geom.Arc(c, 25, u.Left().Angle(), -1.5)[0]
}

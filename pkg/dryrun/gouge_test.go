package dryrun

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/ngc"
	"strapwork/pkg/walls"
)

// shifted is the good program moved across by some mm.
func shifted(dy float64) string {
	text := strings.ReplaceAll(good, "Y0.9525", fmt.Sprintf("Y%.6f", play+dy))
	return strings.ReplaceAll(text, "Y-0.9525", fmt.Sprintf("Y%.6f", -play+dy))
}

// A path moved towards a straight wall goes beyond it by just that much.
func TestGougeByShift(t *testing.T) {
	for _, c := range []struct{ dy, want float64 }{
		{0.05, 0.05}, {-0.05, 0.05}, {0.0101, 0.0101}, {0.0099, 0}, {-0.0099, 0}, {1.25, 1.25}, {4, 4},
	} {
		r := judged(t, shifted(c.dy), against(straight()))
		near(t, fmt.Sprintf("gouge at %v", c.dy), r.GougeMax.Amount, c.want, tiny)
		if c.want == 0 {
			if len(r.Gouges) != 0 {
				t.Errorf("%v: %v", c.dy, r.Findings)
			}
			continue
		}
		if math.Abs(r.GougeMax.At.Y) < wide/2 || r.GougeMax.At.Y*c.dy < 0 {
			t.Errorf("%v: at %v", c.dy, r.GougeMax.At)
		}
		near(t, "depth", r.GougeMax.Depth, deep, 0)
		first := 6 // the plunge is on the wall that the path is moved to
		if c.dy < 0 {
			first = 8
		}
		if r.Gouges[0].Line != first {
			t.Errorf("%v: line %d, want %d", c.dy, r.Gouges[0].Line, first)
		}
	}
}

// Where grooves cross, the wood between them has corners. A bit whose middle
// comes nearer to one than its radius by e takes off only what lies between the
// corner and its rim. The point of the corner's bisector where the rim passes is
// e inside, and e sin(45) from both walls (derived).
func TestGougeAtInnerCorner(t *testing.T) {
	cross := []walls.Strand{bar(geom.Pt(-50, 0), geom.Pt(50, 0)), bar(geom.Pt(0, -50), geom.Pt(0, 50))}
	corner := geom.Pt(wide/2, wide/2)
	for _, c := range []struct {
		e     float64
		fault bool
	}{{0.2, true}, {0.0150, true}, {0.0130, false}, {0.005, false}} {
		at := corner.Sub(geom.Polar(bit/2-c.e, math.Pi/4))
		text := wrote(t, ngc.Options{Decimals: 6}, func(w *ngc.Writer) {
			cutChain(w, -1, geom.Line(geom.Pt(0, 0), at))
		})
		w := against(cross...)
		w.Partial = true
		r := judged(t, text, w)
		if !c.fault {
			if !r.OK() {
				t.Errorf("%v: %v", c.e, r.Findings)
			}
			continue
		}
		near(t, "gouge", r.GougeMax.Amount, c.e*math.Sqrt2/2, 2*tiny)
		if d := r.GougeMax.At.Dist(corner); d > c.e+tiny {
			t.Errorf("%v: reported %v mm from the corner", c.e, d)
		}
	}
}

// An island of wood that is cut away altogether: the worst is its middle.
func TestGougeOfIsland(t *testing.T) {
	island := region.Disc(geom.Pt(50, 0), 1)
	w := in(walls.Groove{Area: region.Subtract(against(straight()).Groove.Area, island)})
	r := judged(t, good, w)
	near(t, "gouge", r.GougeMax.Amount, 1, searched)
	if r.GougeMax.At.Dist(geom.Pt(50, 0)) > 2*searched || r.GougeMax.Line != 9 && r.GougeMax.Line != 7 {
		t.Errorf("%+v", r.GougeMax)
	}
}

// A ramp that goes out of the groove counts from where it is in the wood.
func TestGougeOfRamp(t *testing.T) {
	for _, c := range []struct {
		z    float64 // at its start, 10 mm beyond the groove's end; -2 at its end 30 mm on
		want float64
	}{{4, 0}, {-1, 10}, {2, 0}, {0.9, 0.345}} {
		text := wrote(t, ngc.Options{Decimals: 5}, func(w *ngc.Writer) {
			w.Rapid(ngc.XY(geom.Pt(-10+bit/2, 0)))
			w.Line(ngc.Z(c.z), 250)
			w.Line(ngc.XYZ(geom.Pt(20+bit/2, 0), -2), 1200)
		})
		w := against(straight())
		w.Partial = true
		r := judged(t, text, w)
		// The tip comes down to the wood at -10 + 30 z/(z+2).
		want := math.Max(0, 10-30*c.z/(c.z+2))
		if c.z < 0 {
			want = 10
		}
		if want < gougeOver {
			want = 0
		}
		near(t, fmt.Sprint("gouge from ", c.z), r.GougeMax.Amount, want, 1e-4)
	}
}

// Faults near each other are one finding, and far ones are not lost.
func TestManyGouges(t *testing.T) {
	text := wrote(t, ngc.Options{}, func(w *ngc.Writer) {
		for i := range 30 {
			x := 10 + 200*float64(i)
			cutChain(w, -1, geom.Line(geom.Pt(x, 20), geom.Pt(x+1, 20)), geom.Line(geom.Pt(x+1, 20), geom.Pt(x, 20)))
		}
	})
	w := against(straight())
	w.Partial = true
	r := judged(t, text, w)
	if n := r.Findings.Count(diag.Error); n != reportedMost+1 {
		t.Errorf("%d errors", n)
	}
	if len(r.Gouges) != 30 || r.Gouges[0].Moves != 3 {
		t.Errorf("%d gouges, first %+v", len(r.Gouges), r.Gouges[0])
	}
	// The last is the furthest from the groove: (x+1-long, 20) seen from its end.
	far := geom.Pt(5811-long, 20-wide/2)
	near(t, "worst", r.GougeMax.Amount, far.Norm()+bit/2, tiny)
	if !strings.Contains(r.Findings.Error(), "10 places more of this kind") {
		t.Errorf("%v", r.Findings)
	}
}

// The same cuts in another order, or the other way round, are judged the same.
func TestOrderDoesNotMatter(t *testing.T) {
	t.Parallel()
	_, walks := interlace()
	g, _ := interlace()
	program := func(order func(i int) int, back bool) Report {
		text := wrote(t, ngc.Options{}, func(w *ngc.Writer) {
			for i := range walks {
				walk := walks[order(i)]
				if order(i) == 3 {
					continue // one is missed
				}
				if back {
					walk = geom.Chain(false, walk...).Reverse().Edges()
				}
				cutChain(w, -deep, walk...)
			}
			cutChain(w, -deep, geom.Line(geom.Pt(100, 100), geom.Pt(104, 104)))
		})
		return judged(t, text, against(g...))
	}
	a := program(func(i int) int { return i }, false)
	for name, b := range map[string]Report{
		"backwards order": program(func(i int) int { return len(walks) - 1 - i }, false),
		"other way":       program(func(i int) int { return i }, true),
	} {
		near(t, name+": gouge", b.GougeMax.Amount, a.GougeMax.Amount, tiny)
		near(t, name+": left", b.LeftArea, a.LeftArea, 1e-3)
		near(t, name+": missed", b.MissedArea, a.MissedArea, 1e-3)
		near(t, name+": length", b.Length, a.Length, tiny*float64(len(walks)))
		if len(a.Left) != len(b.Left) || a.MissedArea < 100 || a.GougeMax.Amount < 1 {
			t.Errorf("%s: %d and %d left, missed %v, gouge %v", name, len(a.Left), len(b.Left), a.MissedArea, a.GougeMax.Amount)
		}
	}
}

// Where more moves gouge than are measured, the worst are, and it is said that
// there may be more: what is reported is never too much.
func TestGougesBeyondCount(t *testing.T) {
	const crumbs, most = 1200, 1.0
	text := wrote(t, ngc.Options{Decimals: 5}, func(w *ngc.Writer) {
		w.Rapid(ngc.XY(geom.Pt(20, play)))
		w.Line(ngc.Z(-1), 250)
		for i := range crumbs {
			// Out beyond the wall, furthest two thirds of the way along.
			x := float64(i+1) / crumbs
			y := most * math.Min(x/(2./3), (1-x)*3)
			w.Line(ngc.XY(geom.Pt(20+60*x, play+y)), 1200)
		}
	})
	w := against(straight())
	w.Partial = true
	r := judged(t, text, w)
	if len(r.Gouges) != 1 || !r.Gouges[0].AtLeast || !strings.Contains(r.Findings[0].Message, "cuts at least 1 mm") {
		t.Fatalf("%+v", r.Findings)
	}
	near(t, "gouge", r.GougeMax.Amount, most, 1e-4)
	// What lies beyond the wall is at most the wedge that the rim's end follows.
	if s := r.Gouges[0]; s.Area <= 0 || s.Area > 60*most {
		t.Errorf("area %v", s.Area)
	}
	if s := judged(t, shifted(0.05), against(straight())).GougeMax; s.AtLeast {
		t.Errorf("%+v", s)
	}
}

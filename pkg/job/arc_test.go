package job_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
)

// arcJob is a job of one arc.
func arcJob(keys string) string {
	return "title = \"t\"\nunits = \"mm\"\n[motif]\n[[motif.arc]]\n" + keys + "\n[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n"
}

func arcOf(t *testing.T, keys string) geom.Contour {
	t.Helper()
	return read(t, arcJob(keys)).Motif.Elements[0].Contour
}

// far is how far at most places of one contour are from those as far along the other.
func far(a, b geom.Contour) float64 {
	most := math.Abs(a.Length() - b.Length())
	for i := range 9 {
		p, _ := a.At(a.Length() * float64(i) / 8)
		q, _ := b.At(b.Length() * float64(i) / 8)
		most = max(most, p.Dist(q))
	}
	return most
}

// An arc is the same one however it is given: round its centre by sweep and by end, by
// its ends and its radius, and through three points (the equation of a circle).
func TestArcsAreTheSameHoweverGiven(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		x, y := rapid.Float64Range(-300, 300).Draw(rt, "x"), rapid.Float64Range(-300, 300).Draw(rt, "y")
		r := rapid.Float64Range(2, 200).Draw(rt, "r")
		start, sweep := rapid.Float64Range(0, 360).Draw(rt, "start"), rapid.Float64Range(10, 350).Draw(rt, "sweep")
		if math.Abs(sweep-180) < 0.5 {
			return // the radius barely decides which of the two it is
		}
		if rapid.Bool().Draw(rt, "clockwise") {
			sweep = -sweep
		}
		center := geom.Pt(x, y)
		at := func(f float64) string {
			p := center.Add(geom.Polar(r, (start+f*sweep)*math.Pi/180))
			return fmt.Sprintf("[%.9f, %.9f]", p.X, p.Y)
		}
		round := fmt.Sprintf("center = [%.9f, %.9f]\nradius = %.9f\nstart = %.9f\n", x, y, r, start)
		want := arcOf(t, round+fmt.Sprintf("sweep = %.9f", sweep))
		side := "left"
		if sweep > 0 {
			side = "right"
		}
		ways := []string{
			fmt.Sprintf("from = %s\nto = %s\nradius = %.9f\nside = %q\nlong = %t", at(0), at(1), r, side, math.Abs(sweep) > 180),
			fmt.Sprintf("from = %s\nthrough = %s\nto = %s", at(0), at(0.4), at(1)),
		}
		if sweep > 0 {
			ways = append(ways, round+fmt.Sprintf("end = %.9f", start+sweep), strings.Replace(round, "center", "centre", 1)+fmt.Sprintf("sweep = %.9f", sweep))
		}
		for _, keys := range ways {
			if d := far(arcOf(t, keys), want); d > 1e-4 {
				rt.Errorf("%.3g mm from what it is by its sweep of %g:\n%s", d, sweep, keys)
			}
		}
	})
}

// The half circle on ten, and the arc of a handbook's table of segments: chord 8 and
// rise 2 have the radius 5 (c^2 / 8h + h/2).
func TestArcsByHand(t *testing.T) {
	half := arcOf(t, "from = [0, 0]\nto = [10, 0]\nradius = 5")
	if p, _ := half.At(half.Length() / 2); !p.Near(geom.Pt(5, 5), 1e-9) {
		t.Errorf("the half circle passes %v, want (5, 5)", p)
	}
	for _, keys := range []string{"from = [0, 0]\nthrough = [4, 2]\nto = [8, 0]", "from = [0, 0]\nto = [8, 0]\nradius = 5"} {
		seg := arcOf(t, keys)
		if p, _ := seg.At(seg.Length() / 2); !p.Near(geom.Pt(4, 2), 1e-9) || math.Abs(seg.Length()-10*math.Asin(0.8)) > 1e-9 {
			t.Errorf("the segment passes %v and is %g long", p, seg.Length())
		}
	}
	// Rounded by hand, the radius is a little too small: the half circle is meant.
	if near := arcOf(t, "from = [0, 0]\nto = [10.01, 0]\nradius = 5"); math.Abs(near.Length()-5.005*math.Pi) > 1e-9 {
		t.Errorf("rounded, it is %g long", near.Length())
	}
}

// What can't be is refused, with what would do.
func TestArcsThatCantBe(t *testing.T) {
	for _, test := range []struct{ keys, want, hint string }{
		{"from = [0, 0]\nto = [10, 0]\nradius = 4", "7:10: error: radius is too small for an arc whose ends are 10 mm apart", "at least 5"},
		{"from = [0, 0]\nto = [0, 0]\nradius = 4", "6:6: error: the arc ends where it starts", "motif.circle"},
		{"from = [0, 0]\nto = [10, 0]\nthrough = [5, 0]", "7:11: error: the three points lie in line", "motif.line"},
		{"from = [0, 0]\nto = [10, 0]\nthrough = [10, 0]", "7:11: error: through is one of the arc's ends", "between"},
		{"from = [0, 0]\nto = [10, 0]", "error: radius is missing", "radius = 30"},
		{"from = [0, 0]\nradius = 10", "error: to is missing", "to = "},
		{"center = [0, 0]\nradius = 10\nstart = 20", "error: sweep is missing", "sweep = 90"},
		{"center = [0, 0]\nradius = 10\nstart = 20\nend = 380", "8:7: error: start and end are the same direction", "sweep = 360"},
		{"center = [0, 0]\nradius = 10\nstart = 20\nsweep = 3\nend = 380", "9:7: error: sweep and end are both given", "remove one"},
		{"center = [0, 0]\nfrom = [0, 0]\nto = [10, 0]\nradius = 6", "5:10: error: center doesn't go with from", "through and to"},
		{"from = [0, 0]\nto = [10, 0]\nradius = 6\nthrough = [5, 5]", "7:10: error: radius doesn't go with through", "through and to"},
		{"center = [0, 0]\ncentre = [0, 0]\nradius = 10\nstart = 20\nend = 60", "6:1: error: centre and center are both given", "remove one"},
	} {
		_, found := job.Read("job.toml", []byte(arcJob(test.keys)))
		text := ""
		for _, f := range found {
			text += f.Error() + "\nhint: " + f.Hint + "\n"
		}
		if !strings.Contains(text, test.want) || !strings.Contains(text, test.hint) {
			t.Errorf("%s\n%s\nwant %s (%s)", test.keys, text, test.want, test.hint)
		}
	}
}

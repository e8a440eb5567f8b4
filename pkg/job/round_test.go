package job_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/geom"
	"strapwork/pkg/job"
)

func roundJob(line string) string {
	return "title = \"t\"\nunits = \"mm\"\n[motif]\n[[motif.line]]\n" + line + "\n[inlay]\ndepth = 3\nwidth = 4\n[router]\nguide = \"none\"\nbit = 3\n"
}

// kink is the greatest turn between neighbouring edges, in radians.
func kink(c geom.Contour) float64 {
	most := 0.0
	for i := range c.Len() {
		if i == 0 && !c.Closed {
			continue
		}
		a, b := c.Edge((i+c.Len()-1)%c.Len()).Tangent(1), c.Edge(i).Tangent(0)
		most = max(most, math.Abs(math.Atan2(a.Cross(b), a.Dot(b))))
	}
	return most
}

// A rectangle with round corners is 2 (a + b) - 8 r + 2 pi r round, and its corners lack
// (4 - pi) r^2 (closed forms); all rounded off, it is two half circles.
func TestRoundedRectangle(t *testing.T) {
	for _, r := range []float64{5, 12.5, 20} {
		c := read(t, roundJob(fmt.Sprintf("points = [[0, 0], [100, 0], [100, 40], [0, 40]]\nclosed = true\nround = %g", r))).Motif.Elements[0].Contour
		if want := 280 - 8*r + 2*math.Pi*r; math.Abs(c.Length()-want) > 1e-9 {
			t.Errorf("round %g: %g round, want %g", r, c.Length(), want)
		}
		if want := 4000 - (4-math.Pi)*r*r; math.Abs(math.Abs(c.Area())-want) > 1e-6 {
			t.Errorf("round %g: an area of %g, want %g", r, c.Area(), want)
		}
		if k := kink(c); k > 1e-9 {
			t.Errorf("round %g: a kink of %g", r, k)
		}
	}
}

// One radius for each point: the ends have none, and 0 stays sharp.
func TestRoundsOneByOne(t *testing.T) {
	c := read(t, roundJob("points = [[0, 0], [50, 0], [50, 50], [100, 50]]\nround = [0, 10, 0, 0]")).Motif.Elements[0].Contour
	if want := 150 - 20 + 5*math.Pi; math.Abs(c.Length()-want) > 1e-9 || c.Len() != 4 {
		t.Errorf("%d edges, %g long, want 4 and %g", c.Len(), c.Length(), want)
	}
	if k := kink(c); math.Abs(k-math.Pi/2) > 1e-9 {
		t.Errorf("the sharp corner turns by %g", k)
	}
}

// What is named as the largest round is taken, a hair less noise is taken with a word, and
// half as much again is not.
func TestLargestRound(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var points []string
		at := geom.Pt(0, 0)
		heading := 0.0
		for range rapid.IntRange(3, 7).Draw(rt, "points") {
			points = append(points, fmt.Sprintf("[%.2f, %.2f]", at.X, at.Y))
			turn := rapid.Float64Range(0.05, 2.6).Draw(rt, "turn")
			if rapid.Bool().Draw(rt, "right") {
				turn = -turn
			}
			heading += turn
			at = at.Add(geom.Polar(rapid.Float64Range(20, 120).Draw(rt, "side"), heading))
		}
		line := "points = [" + strings.Join(points, ", ") + "]\nround = "
		_, found := job.Read("t.toml", []byte(roundJob(line+"90000")))
		if len(found) != 1 || !strings.HasPrefix(found[0].Hint, "at most ") {
			rt.Fatalf("%v", found)
		}
		most := strings.TrimPrefix(found[0].Hint, "at most ")
		r, err := strconv.ParseFloat(most, 64)
		if err != nil {
			rt.Fatal(err)
		}
		c := read(t, roundJob(line+most)).Motif.Elements[0].Contour
		if k := kink(c); k > 1e-3 { // a straight shorter than 0.001 mm is left out, beside arcs of 5 mm or more
			rt.Errorf("round %s: a kink of %g", most, k)
		}
		if _, found := job.Read("t.toml", []byte(roundJob(line+strconv.FormatFloat(1.5*r+1, 'f', 3, 64)))); !found.HasErrors() {
			rt.Errorf("half as much again as %s is taken", most)
		}
		near := read(t, roundJob(line+strconv.FormatFloat(r+0.002, 'f', 4, 64))).Motif.Elements[0].Contour
		if d := math.Abs(near.Length() - c.Length()); d > 0.1 {
			rt.Errorf("0.002 mm more changes the line by %g", d)
		}
	})
}

func TestRoundsThatCantBe(t *testing.T) {
	for _, test := range []struct{ line, want, hint string }{
		{"points = [[0, 0], [50, 0], [50, 50]]\nround = [1, 2]", "round must have three lengths, not 2", "one for each point"},
		{"points = [[0, 0], [50, 0], [50, 50]]\nround = [0, 60, 0]", "the side of 50 mm to point 2 is too short", "at most 50 there"},
		{"points = [[0, 0], [50, 0], [50, 50], [90, 50]]\nround = [0, 40, 30, 0]", "the side of 50 mm to point 3 is too short", "at most 28.57 and 21.42 there"},
		{"points = [[0, 0], [50, 0], [20, 0]]\nround = 3", "turns straight back at its point 2", "0 in a list"},
		{"points = [[0, 0], [50, 0], [50, 50]]\nround = -3", "round must be more than 0", ""},
		{"from = [0, 0]\nto = [3, 0]\nround = 3", "round goes with points", "points ="},
	} {
		_, found := job.Read("job.toml", []byte(roundJob(test.line)))
		text := ""
		for _, f := range found {
			text += f.Error() + "\nhint: " + f.Hint + "\n"
		}
		if !strings.Contains(text, test.want) || !strings.Contains(text, test.hint) {
			t.Errorf("%s:\n%s\nwant %s (%s)", test.line, text, test.want, test.hint)
		}
	}
}

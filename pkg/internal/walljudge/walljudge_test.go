package walljudge

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// The groove and the bit of the worked values in the design notes.
const (
	wide = 5.08
	bit  = 3.175
	play = (wide - bit) / 2
)

// lines is a program at full depth, 3 mm, through places.
func lines(t *testing.T, walks ...[]geom.Point) []ngc.Move {
	t.Helper()
	var b strings.Builder
	b.WriteString("G21 G17 G90 G94 G54\nS16000 M3\nG0 Z10\n")
	for _, w := range walks {
		fmt.Fprintf(&b, "G0 X%.6f Y%.6f\nG1 Z-3 F200\n", w[0].X, w[0].Y)
		for _, p := range w[1:] {
			fmt.Fprintf(&b, "G1 X%.6f Y%.6f F900\n", p.X, p.Y)
		}
		b.WriteString("G0 Z10\n")
	}
	b.WriteString("M2\n")
	moves, err := ngc.ReadAll(strings.NewReader(b.String()))
	if err != nil {
		t.Fatal(err)
	}
	return moves
}

// walk goes round the bar from (0,0) to (100,0), up to its walls less what each
// lacks: above, below, at the left end, at the right end.
func walk(above, below, left, right float64) []geom.Point {
	x0, x1, y0, y1 := bit/2+left, 100-bit/2-right, -play+below, play-above
	return []geom.Point{{X: x0, Y: y1}, {X: x1, Y: y1}, {X: x1, Y: y0}, {X: x0, Y: y0}, {X: x0, Y: y1}}
}

func bar() Work {
	return Work{Strands: []geom.Contour{geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(100, 0)))}, Width: wide, Depth: 3, Bit: bit}
}

// What lacks along a wall or at a flat, or is too much, is found as much as it
// is.
func TestBar(t *testing.T) {
	const sample = 0.002 // of an arc's height over the places' distance
	for side := range 4 {
		for _, lack := range []float64{0, 0.01, 0.02, 0.2, -0.01, -0.02, -0.2} {
			var l [4]float64
			l[side] = lack
			faults := Judge(bar(), lines(t, walk(l[0], l[1], l[2], l[3])))
			if math.Abs(lack) <= Over {
				if len(faults) > 0 {
					t.Errorf("side %d, %v: %v", side, lack, faults[0])
				}
				continue
			}
			want := Left
			if lack < 0 {
				want = Beyond
			}
			if len(faults) == 0 || faults[0].Kind != want || math.Abs(faults[0].Amount-math.Abs(lack)) > sample {
				t.Errorf("side %d, %v: %v", side, lack, faults)
			}
		}
	}
	deep := bar()
	deep.Depth = 2.9
	if faults := Judge(deep, lines(t, walk(0, 0, 0, 0))); len(faults) == 0 || faults[0].Kind != TooDeep {
		t.Error(faults)
	}
	shallow := bar()
	shallow.Depth = 3.1
	if faults := Judge(shallow, lines(t, walk(0, 0, 0, 0))); len(faults) == 0 || faults[0].Kind != Left {
		t.Error("nothing is cut to depth, and that is not found")
	}
}

// At a corner the bit has to get to where it touches both walls, and no further:
// to the meeting of its lanes, k/cos(turn/2) from the corner.
func TestCorner(t *testing.T) {
	for _, degrees := range []float64{45, 60, 90, 135} {
		turn := math.Pi - degrees*math.Pi/180
		u := geom.Polar(1, turn)
		w := bar()
		w.Strands = []geom.Contour{geom.Chain(false, geom.Line(geom.Pt(-100, 0), geom.Pt(0, 0)), geom.Line(geom.Pt(0, 0), u.Scale(100)))}
		side, out := u.Left().Scale(play), geom.Polar(1, turn/2-math.Pi/2)
		for _, short := range []float64{0, 0.1, -0.1} {
			m := out.Scale(play / math.Cos(turn/2))
			back, far := -100+bit/2, u.Scale(100-bit/2)
			moves := lines(t, []geom.Point{
				{X: back, Y: play},
				{X: back, Y: -play},
				{X: -0.5, Y: -play},
				m.Sub(out.Scale(short)),
				u.Scale(0.5).Sub(side), far.Sub(side), far.Add(side), m.Scale(-1),
				{X: back, Y: play},
			})
			faults := Judge(w, moves)
			switch {
			case short == 0 && len(faults) > 0:
				t.Errorf("%v degrees: %v", degrees, faults[0])
			case short != 0 && (len(faults) == 0 || (faults[0].Kind == Left) != (short > 0)):
				t.Errorf("%v degrees, %v short: %v", degrees, short, faults)
			}
		}
	}
}

// A ring of two half circles: radii of its lanes off by so much are found.
func TestRing(t *testing.T) {
	w := bar()
	w.Strands = []geom.Contour{geom.Circle(geom.Pt(10, 5), 30)}
	for _, lack := range []float64{0, 0.012, 0.03, -0.03} {
		text := "G21 G17 G90 G94 G54\nS16000 M3\nG0 Z10\n"
		for _, r := range []float64{30 - play + lack, 30 + play - lack} {
			text += fmt.Sprintf("G0 X%.6f Y5\nG1 Z-3 F200\nG3 X%.6f Y5 I%.6f F900\nG0 Z10\n", 10+r, 10+r, -r)
		}
		moves, err := ngc.ReadAll(strings.NewReader(text + "M2\n"))
		if err != nil {
			t.Fatal(err)
		}
		faults := Judge(w, moves)
		if math.Abs(lack) <= Over != (len(faults) == 0) {
			t.Errorf("%v: %v", lack, faults)
		}
	}
}

// Ends on a strand leave nothing, and crossings neither.
func TestTee(t *testing.T) {
	w := bar()
	w.Strands = append(w.Strands, geom.Chain(false, geom.Line(geom.Pt(50, 0), geom.Pt(70, 60))))
	u := geom.Pt(20, 60).Unit()
	n := u.Left().Scale(play)
	a, b := geom.Pt(50, 0), geom.Pt(70, 60).Sub(u.Scale(bit/2))
	second := []geom.Point{a.Add(n), b.Add(n), b.Sub(n), a.Sub(n)}
	if faults := Judge(w, lines(t, walk(0, 0, 0, 0), second)); len(faults) > 0 {
		t.Error(faults[0])
	}
	if faults := Judge(w, lines(t, second)); len(faults) == 0 {
		t.Error("a bar is missing, and that is not found")
	}
	short := []geom.Point{a.Add(n).Add(u.Scale(8)), b.Add(n), b.Sub(n), a.Sub(n).Add(u.Scale(8))}
	if faults := Judge(w, lines(t, walk(0, 0, 0, 0), short)); len(faults) == 0 {
		t.Error("a strand ends short of its host, and that is not found")
	}
}

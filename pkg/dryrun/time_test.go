package dryrun

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// Closed forms of motion at constant acceleration (any textbook of mechanics).
func TestTrapezoid(t *testing.T) {
	for _, c := range []struct {
		name                 string
		d, v, a, b, in, out_ float64
		want                 float64
	}{
		// Never at full speed: sqrt(2 D (a + b) / (a b)).
		{"triangle", 100, 1000, 2, 4, 0, 0, 12.24745},
		{"triangle just", 75, 20, 4, 4, 0, 0, math.Sqrt(2 * 75 * 8. / 16)},
		// d/v + v/a where speeding up and braking are alike.
		{"trapezoid", 300, 20, 4, 4, 0, 0, 300./20 + 20./4},
		{"trapezoid, two accelerations", 300, 20, 4, 8, 0, 0, 300./20 + 20./8 + 20./16},
		{"from speed to speed", 100, 10, 5, 5, 10, 10, 10},
		{"from speed", 100, 10, 5, 5, 10, 0, 10 + 10./10},
		{"speeding up all the way", 100, 1000, 2, 2, 0, 20, 10},
		{"speeding up more than there is room for", 100, 1000, 2, 2, 0, 20, 10},
		{"at once", 100, 20, 0, 0, 0, 0, 5},
		{"at once up only", 100, 20, 0, 4, 0, 0, 100./20 + 20./8},
		{"nowhere", 0, 20, 4, 4, 0, 0, 0},
		{"no speed", 10, 0, 4, 4, 0, 0, 0},
	} {
		near(t, c.name, Trapezoid(c.d, c.v, c.a, c.b, c.in, c.out_), c.want, 1e-5)
	}
}

var timed = Machine{Feed: [2]float64{3000, 600}, Rapid: [2]float64{6000, 3000}, Accel: [2]float64{500, 200}, Brake: [2]float64{400, 0}}

// Each kind of move by itself, worked out by hand (derived from the closed
// forms).
func TestMoveTimes(t *testing.T) {
	at := func(v, d, a, b float64) float64 { return d/v + v/2/a + v/2/b }
	for _, c := range []struct {
		text string
		want float64
	}{
		{"G1 X100 F1200\n", at(20, 100, 500, 400)},
		{"G1 X100 F9000\n", at(50, 100, 500, 400)},         // the machine does 3000
		{"G1 Z-20 F300\n", at(5, 20, 200, 200)},            // vertical: its own acceleration, which brakes too
		{"G0 X100\n", at(100, 100, 500, 400)},              // a rapid
		{"G0 Z-20\n", at(50, 20, 200, 200)},                // vertical
		{"G0 X100 Y100\n", at(100, 100, 500, 400)},         // both axes at their own speed
		{"G0 X30 Z-20\n", at(50, 20, 200, 200)},            // the slower axis is last there
		{"G4 P2.5\n", 2.5},                                 //
		{"G1 X10 F1200\nG1 X100\n", at(20, 100, 500, 400)}, // straight on
		{"G1 X10 F1200\nG1 X100 Y9.5\n", 0},                // by 6 degrees: see below
		{"G93 G1 X100 F10\n", at(100./6, 100, 500, 400)},   // in a tenth of a minute
		{"G2 X0 Y0 I8 J0 F3000\n", 0},                      // see below
	} {
		var last float64
		r := Judge(strings.NewReader("G21 G17 G90 G94 G54\nG0 X0 Y0 Z0\n"+c.text+"M2\n"), ngc.Dialect{}, Work{Machine: timed}, func(s Step) {
			last += s.Seconds
		})
		want := c.want
		switch {
		case strings.Contains(c.text, "Y9.5"):
			want = at(20, 10+math.Hypot(90, 9.5), 500, 400)
		case strings.HasPrefix(c.text, "G2"):
			want = at(50, 16*math.Pi, 500, 400) // sqrt(500*8) is 63 mm/s: the feed counts
		}
		near(t, c.text, r.Seconds, want, 1e-9)
		near(t, c.text+" traced", last, want, 1e-9)
	}
	// A tight arc: at 50 mm/s on a radius of 2 mm it would be pulled round at 1250
	// mm/s2, so it goes at sqrt(500*2).
	r := judged(t, "G21 G17 G90 G94 G54\nG0 X0 Y0 Z0\nG2 X0 Y0 I2 F3000\nM2\n", Work{Machine: timed})
	near(t, "tight arc", r.Seconds, at(math.Sqrt(1000), 4*math.Pi, 500, 400), 1e-9)
	// A sharp turn stops.
	r = judged(t, "G21 G17 G90 G94 G54\nG0 X0 Y0 Z0\nG1 X50 F1200\nY50\nM2\n", Work{Machine: timed})
	near(t, "corner", r.Seconds, 2*at(20, 50, 500, 400), 1e-9)
	near(t, "length", r.Length, 100, 0)
	near(t, "cutting", r.Cutting, r.Seconds, 1e-12)
	// Nothing known of the machine: length over feed.
	r = judged(t, good, against(straight()))
	across := (4*(98.4125-1.5875) + 4*1.905) / 20
	rapids := (10 + 13 + 0) / (anyRapid / 60.) // down from 10 goes at the plunge feed
	plunges := (11.5 + 1.5) / (250. / 60)
	near(t, "seconds", r.Seconds, 3+across+plunges+(rapids-10/(anyRapid/60.)), 1e-9)
	near(t, "plunging", r.Plunging, plunges, 1e-9)
	near(t, "cutting", r.Cutting, across, 1e-9)
	near(t, "dwells", r.Dwells, 3, 0)
}

// part is a stretch of path with its limits, for the integration below.
type part struct {
	length, v, a, b float64
	stop            bool // at its start
}

// integrated is the least time for stretches of path, by small steps: the
// greatest speed at each place that braking ahead allows, then what speeding up
// allows, then the time of every step. It shares nothing with the clock.
func integrated(parts []part) float64 {
	const step = 0.001
	var v, acc, brk, ds []float64
	for _, p := range parts {
		n := int(math.Ceil(p.length / step))
		for i := range n {
			limit := p.v
			if i == 0 && len(v) > 0 {
				limit = math.Min(limit, v[len(v)-1])
			}
			if i == 0 && p.stop {
				limit = 0
			}
			v, acc, brk, ds = append(v, limit), append(acc, p.a), append(brk, p.b), append(ds, p.length/float64(n))
		}
	}
	v, acc, brk = append(v, 0), append(acc, 0), append(brk, 0)
	for i := len(ds) - 1; i >= 0; i-- {
		v[i] = math.Min(v[i], math.Sqrt(v[i+1]*v[i+1]+2*brk[i]*ds[i]))
	}
	t := 0.0
	v[0] = 0
	for i := range ds {
		v[i+1] = math.Min(v[i+1], math.Sqrt(v[i]*v[i]+2*acc[i]*ds[i]))
		t += 2 * ds[i] / (v[i] + v[i+1])
	}
	return t
}

// A program of lines and arcs that join smoothly or not, at changing feeds,
// takes what the integration says, to 1 percent.
func TestTimeByIntegration(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewPCG(5, 8))
	for trial := range 8 {
		const v0, a, b = 3000., 500., 400.
		var text strings.Builder
		text.WriteString("G21 G17 G90 G94 G54\nG0 X0 Y0 Z0\n")
		var parts []part
		at, dir := geom.Pt(0, 0), 0.0
		for range 60 {
			feed := 600 + rnd.Float64()*2400
			p := part{v: feed / 60, a: a, b: b}
			if rnd.IntN(6) == 0 {
				dir += 1 // a corner
				p.stop = true
			}
			if rnd.IntN(2) == 0 {
				p.length = math.Exp(rnd.Float64()*6 - 3)
				at = at.Add(geom.Polar(p.length, dir))
				fmt.Fprintf(&text, "G1 X%.6f Y%.6f F%.6f\n", at.X, at.Y, feed)
			} else {
				r, sweep := 1+rnd.Float64()*20, 0.2+rnd.Float64()*2
				c := at.Add(geom.Polar(r, dir).Left())
				i := c.Sub(at)
				at = c.Add(geom.Polar(r, dir-math.Pi/2+sweep))
				dir += sweep
				p.length, p.v = r*sweep, math.Min(p.v, math.Sqrt(a*r))
				fmt.Fprintf(&text, "G3 X%.6f Y%.6f I%.6f J%.6f F%.6f\n", at.X, at.Y, i.X, i.Y, feed)
			}
			parts = append(parts, p)
		}
		text.WriteString("M2\n")
		r := judged(t, text.String(), Work{Machine: Machine{Feed: [2]float64{v0, v0}, Accel: [2]float64{a, a}, Brake: [2]float64{b, b}}})
		want := integrated(parts)
		near(t, fmt.Sprint("trial ", trial), r.Seconds, want, want/100)
	}
}

// A circle in thousands of lines is longer than what the clock holds back, and
// takes as long as the circle.
func TestTimeOfManyLines(t *testing.T) {
	w := Work{Machine: timed}
	text := func(chord float64) string {
		return wrote(t, ngc.Options{Chord: chord, Decimals: 6}, func(w *ngc.Writer) {
			w.Rapid(ngc.XY(geom.Pt(400, 0)))
			w.Line(ngc.Z(-1), 300)
			for range 3 {
				for _, e := range geom.Arc(geom.Pt(0, 0), 400, 0, 2*math.Pi) {
					w.Cut(e, -1, 2400)
				}
			}
		})
	}
	arcs, lines := text(0), text(5e-5)
	if n := strings.Count(lines, "\n"); n < 2*lookahead {
		t.Fatalf("%d lines are too few to say", n)
	}
	a, b := judged(t, arcs, w), judged(t, lines, w)
	near(t, "seconds", b.Seconds, a.Seconds, a.Seconds/1000)
}

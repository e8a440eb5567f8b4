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
	"strapwork/pkg/work"
)

// away judges a program about clamps and travel alone: it may cut anywhere.
func away(t *testing.T, text string, change func(*Work)) Report {
	t.Helper()
	w := in(walls.Groove{Area: region.New(geom.Rect(geom.Box{Min: geom.Pt(-1000, -1000), Max: geom.Pt(1000, 1000)}))})
	w.Partial = true
	change(&w)
	return judged(t, text, w)
}

// A bit passes a clamp at its radius and the clearance: a thousandth nearer is
// a fault, a thousandth further is none; a line along a side, an arc round a
// corner, a half circle that bulges towards a side.
func TestClampClearance(t *testing.T) {
	box := geom.Box{Min: geom.Pt(0, 0), Max: geom.Pt(40, 30)}
	const keep = bit/2 + 3
	for _, c := range []struct {
		name string
		path func(d float64) []geom.Edge // keeping d from the clamp
	}{
		{"line", func(d float64) []geom.Edge { return []geom.Edge{geom.Line(geom.Pt(-50, -d), geom.Pt(90, -d))} }},
		{"corner", func(d float64) []geom.Edge { return geom.Arc(box.Max, d, 0, math.Pi/2) }},
		{"bulge", func(d float64) []geom.Edge { return geom.Arc(geom.Pt(-d-20, 15), 20, -math.Pi/2, math.Pi) }},
		{"hollow", func(d float64) []geom.Edge {
			// An arc round the clamp, nearest at the corner (0,0): centre beyond it.
			u := geom.Polar(1, math.Pi/4)
			return geom.Arc(u.Scale(30), 30+d, math.Pi*5/4-0.3, 0.6)
		}},
		{"slanting", func(d float64) []geom.Edge {
			u := geom.Polar(1, -math.Pi/4)
			p := geom.Pt(40, 0).Add(u.Scale(d))
			return []geom.Edge{geom.Line(p.Sub(u.Left().Scale(60)), p.Add(u.Left().Scale(60)))}
		}},
	} {
		for _, by := range []float64{-0.002, 0.001} {
			text := wrote(t, ngc.Options{Decimals: 5}, func(w *ngc.Writer) {
				w.Rapid(ngc.Z(60))
				w.Rapid(ngc.XY(c.path(keep + by)[0].A))
				w.Line(ngc.Z(5), 250)
				for _, e := range c.path(keep + by) {
					w.Cut(e, 5, 1200)
				}
				w.Rapid(ngc.Z(60))
			})
			r := away(t, text, func(w *Work) { w.Clamps = []work.Clamp{{Box: box, Height: 20}} })
			if hit := !r.OK(); hit != (by < 0) {
				t.Errorf("%s %v: %v", c.name, by, r.Findings)
			}
			// The first move, to z 10, is below the clamp's top.
			if f := r.Findings[len(r.Findings)-1]; by < 0 && (f.Rule != "hits-clamp" || !strings.Contains(f.Message, "clamp 1")) {
				t.Errorf("%s: %v", c.name, r.Findings)
			}
		}
	}
}

// The tip may pass over a clamp at its height and the clearance; on its way down
// and in a helix it counts where it is low.
func TestClampHeights(t *testing.T) {
	clamp := func(w *Work) {
		w.Clamps = []work.Clamp{{Box: geom.Box{Min: geom.Pt(0, 0), Max: geom.Pt(40, 30)}, Height: 20}}
	}
	head := "G21 G17 G90 G94 G54\nG0 Z50\nS9000 M3\n"
	for _, c := range []struct{ name, text, want string }{
		{"over it", "G0 X-20 Y15\nG0 Z23\nG0 X60\n", ""},
		{"too low over it", "G0 X-20 Y15\nG0 Z22.99\nG0 X60\n", "hits-clamp:6"},
		{"down on to it", "G0 X20 Y15\nG0 Z22.9\n", "hits-clamp:5"},
		{"down over it", "G0 X20 Y15\nG0 Z23\n", ""},
		// From 200 to 0 over 100 mm: at 23 it is at x 48.5, beyond the clamp's far
		// side at 40 + 4.5875.
		{"slanting down behind it", "G0 X-40 Y15 Z50\nG0 Z200\nG1 X60 Z0 F500\n", ""},
		{"slanting down on to it", "G0 X-40 Y15 Z50\nG1 X60 Z0 F500\n", "hits-clamp:5"},
		// A helix about (70,15) of radius 26 is nearer to the clamp than 4.5875
		// for 12.196 degrees each side of its middle (derived); at the lower end
		// of that it is at 23.4 in the first and at 22.97 in the second.
		{"helix high enough", "G0 X70 Y41\nG0 Z41\nG3 X70 Y-11 J-26 Z10 F500\n", ""},
		{"helix too low", "G0 X70 Y41\nG0 Z40\nG3 X70 Y-11 J-26 Z10 F500\n", "hits-clamp:6"},
		{"far", "G0 X-20 Y0\nG0 Z5\nG0 Y100\nG0 X100\n", ""},
		{"start unknown", "G0 X20\nG0 Y15\n", ""},
	} {
		r := away(t, head+c.text+"G0 Z50\nM5\nM2\n", clamp)
		got := strings.Join(rules(r.Findings, diag.Error), " ")
		got = strings.TrimSuffix(got, " nothing-cut:9")
		if got != c.want {
			t.Errorf("%s: %q, want %q: %v", c.name, got, c.want, r.Findings)
		}
	}
}

// An arc counts as far as it bulges, not as its ends lie.
func TestTravelOfArcs(t *testing.T) {
	for _, c := range []struct {
		most  float64
		known bool
		fault bool
	}{{60.0005, true, false}, {59.99, true, true}, {20.0005, false, false}, {19.99, false, true}} {
		text := wrote(t, ngc.Options{}, func(w *ngc.Writer) {
			w.Rapid(ngc.XY(geom.Pt(40, 0)))
			w.Line(ngc.Z(5), 300)
			w.Cut(geom.Arc(geom.Pt(40, 20), 20, -math.Pi/2, math.Pi)[0], 5, 600)
		})
		r := away(t, text, func(w *Work) {
			w.Machine.Travel = bed(c.most, 100, 0)
			w.Machine.AtKnown = c.known
		})
		if r.OK() == c.fault {
			t.Errorf("%+v: %v", c, r.Findings)
		}
		if c.fault && !strings.HasPrefix(rules(r.Findings, diag.Error)[0], "out-of-travel:8") {
			t.Errorf("%+v: %v", c, r.Findings)
		}
	}
}

// A program doesn't say where it starts. Its first moves make no fault, except
// where they would cut.
func TestUnknownStart(t *testing.T) {
	machine := func(w *Work) {
		w.Machine.Travel, w.Machine.At, w.Machine.AtKnown = bed(600, 400, 80), [3]float64{300, 200, -40}, true
		w.Clamps = []work.Clamp{{Box: geom.Box{Min: geom.Pt(-10, -10), Max: geom.Pt(10, 10)}, Height: 20}}
	}
	for _, c := range []struct{ text, errors, warnings string }{
		{"G0 Z40\nG0 X50 Y0\n", "", ""},
		{"G0 X50 Y0\nG0 Z40\n", "", "unknown-height:2"},
		{"G0 X50 Y0\nG0 X60\nG1 X55 F100\nG0 Z40\n", "unknown-depth:4", "unknown-height:2"},
		{"G0 X50 Y0\nG0 X-50\nG0 Z40\n", "blind-clamp:3", "unknown-height:2"},
		{"G91 G0 Z5\nG90 G0 X0 Y0\nG0 Z40\n", "unknown-depth:2", "unknown-height:3"},
		{"G0 X50 Y0 Z40\n", "", ""},
		{"M3 S9000\nG1 Z-1 F100\nG0 Z40\n", "unknown-place:3", "no-dwell:2 no-path-mode:3 blind-start:3"},
		{"M3 S9000\nG0 Z2\nG1 X50 Y0 Z-1 F100\nG0 Z40\n", "unknown-place:4", "no-dwell:2 blind-start:3 no-path-mode:4"},
		{"G0 Z-1\nG0 Z40\n", "rapid-down:2", "blind-start:2"},
	} {
		r := away(t, "G21 G17 G90 G94 G54\n"+c.text+"M5\nM2\n", machine)
		got := strings.Join(rules(r.Findings, diag.Error), " ")
		if got != c.errors {
			t.Errorf("%q: errors %q, want %q", c.text, got, c.errors)
		}
		if got := strings.Join(rules(r.Findings, diag.Warning), " "); got != c.warnings {
			t.Errorf("%q: warnings %q, want %q", c.text, got, c.warnings)
		}
	}
	r := away(t, "G21 G17 G90 G94\nG0 Z40\nM2\n", machine)
	if got := fmt.Sprint(rules(r.Findings, diag.Warning)); got != "[untold-origin:2]" {
		t.Error(got)
	}
	r = away(t, "G21 G17 G90 G94 G54\nG0 Z40\nG0 X50 Y0\nG0 Z4\nG0 X60\nM2\n", func(w *Work) { w.Safe = 10 })
	if got := fmt.Sprint(rules(r.Findings, diag.Warning)); got != "[low-travel:5]" {
		t.Error(got)
	}
}

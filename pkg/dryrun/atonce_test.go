package dryrun

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// deepLines are the lines at which a program takes too much depth at once.
func deepLines(r Report) string {
	var list []string
	for _, s := range rules(r.Findings, diag.Warning) {
		if line, ok := strings.CutPrefix(s, "deep-at-once:"); ok {
			list = append(list, line)
		}
	}
	return strings.Join(list, " ")
}

// chopped is a straight path in steps of 0.05 mm, by x.
func chopped(from, to float64) string {
	var b strings.Builder
	n := int(math.Round(math.Abs(to-from) / 0.05))
	for i := range n {
		fmt.Fprintf(&b, "X%.3f\n", from+(to-from)*float64(i+1)/float64(n))
	}
	return b.String()
}

// In steps of 1.5 mm, by a bit of 3.175 mm: what takes more depth at once is reported
// at its line, the body's first being 5; what doesn't isn't.
func TestDepthAtOnce(t *testing.T) {
	const head = "G21 G17 G90 G94 G54 G61\nG0 Z10\nS16000 M3\nG4 P3\n"
	const down = "G0 X10 Y0\nG1 Z-1.5 F250\n"
	slot := down + "G1 X90 F900\nG1 Z-3 F250\nG1 X10 F900\n" // a slot along y 0 in two steps
	zigzag := func(length float64, legs int, depth float64) string {
		var b strings.Builder
		b.WriteString("G0 X10 Y0\nG1 Z0 F250\n")
		for i := range legs {
			fmt.Fprintf(&b, "G1 X%g Z%.4f F900\n", 10+length*float64((i+1)%2), -depth*float64(i+1)/float64(legs))
		}
		return b.String()
	}
	for _, c := range []struct{ name, body, want string }{
		{"in steps", slot, ""},
		{"at once", "G0 X10 Y0\nG1 Z-3 F250\nG1 X90 F900\n", "7"},
		{"a little more than a step", "G0 X10 Y0\nG1 Z-1.53 F250\nG1 X90 F900\n", "7"},
		{"hardly more than a step", "G0 X10 Y0\nG1 Z-1.51 F250\nG1 X90 F900\n", ""},
		{"a second step hardly too deep", down + "G1 X90 F900\nG1 Z-3.02 F250\nG1 X10 F900\n", ""},
		{"a second step too deep", "G0 X10 Y0\nG1 Z-1.4 F250\nG1 X90 F900\nG1 Z-3 F250\nG1 X10 F900\n", "9"},
		{"the same path back", down + "G1 X90 F900\nG1 X10\nG1 Z-3 F250\nG1 X90 F900\n", ""},
		{"a ramp of one step", "G0 X10 Y0\nG1 Z0 F250\nG1 X90 Z-1.5 F900\nG1 X10\nG1 X90 Z-3\nG1 X10\n", ""},
		{"a ramp of two steps", "G0 X10 Y0\nG1 Z0 F250\nG1 X90 Z-3 F900\n", "7"},
		{"a zigzag to a step, and on", zigzag(30, 3, 1.5) + "G1 X90\n", ""},
		{"a zigzag to two steps", zigzag(30, 4, 3) + "G1 X30\n", ""},
		{"a zigzag to two steps, and on", zigzag(30, 4, 3) + "G1 X90\n", "11"},
		{"a short zigzag, and on", zigzag(1, 8, 3) + "G1 X90\n", "15"},
		{"a helix, narrow", "G0 X10.5 Y0\nG1 Z0 F250\n" + strings.Repeat("G91 G3 X0 Y0 I-0.5 Z-0.5 F300\nG90\n", 6), ""},
		{"a helix, wide", "G0 X20 Y0\nG1 Z0 F250\n" + strings.Repeat("G91 G3 X0 Y0 I-10 Z-1.5 F300\nG90\n", 2) + "G3 X20 I-10\n", ""},
		{"a helix, steep", "G0 X20 Y0\nG1 Z0 F250\n" + strings.Repeat("G91 G3 X0 Y0 I-10 Z-2 F300\nG90\n", 2), "7"},
		{"both walls of a slot", slot + "G1 Y1.5 F900\nG1 X90\nG1 Y-1.5\nG1 X10\n", ""},
		{"beside a slot", slot + "G1 Y1.6 F900\nG1 X90\n", "11"},
		{"beside a slot, in steps", slot + "G0 Z10\nG0 X10 Y1.6\nG1 Z-1.5 F250\nG1 X90 F900\nG1 Z-3 F250\nG1 X10 F900\n", ""},
		{"across a slot", slot + "G0 Z10\nG0 X50 Y-5\nG1 Z-1.5 F250\nG1 Y5 F900\n", ""},
		{"out of a slot", slot + "G1 X50 F900\nG1 Y5\n", "11"},
		{"chopped, in steps", down + "G1 F900\n" + chopped(10, 90) + "G1 Z-3 F250\nG1 F900\n" + chopped(90, 10), ""},
		{"chopped, back otherwise", down + "G1 F900\n" + chopped(10, 90) + "G1 Z-3 F250\nG1 F900\n" + chopped(90, 9.99), ""},
		{"chopped, at once", "G0 X10 Y0\nG1 Z-3 F250\nF900\n" + chopped(10, 30), "40"},
		{"a plunge alone", "G0 X10 Y0\nG1 Z-3 F250\nG1 X10.5 F900\n", ""},
		{"bored, hole by hole", "G0 X10 Y0\nG1 Z-3 F250\nG0 Z1\nG0 X12\nG1 Z-3 F250\nG0 Z1\n", ""},
	} {
		w := against(straight())
		w.Step = 1.5
		r := judged(t, head+c.body+"G0 Z10\nM5\nM2\n", w)
		if got := deepLines(r); got != c.want {
			t.Errorf("%s: lines %q, want %q", c.name, got, c.want)
		}
	}
}

// Where a groove was cut before, or what was cut before isn't known, or how much
// may be taken, nothing is said.
func TestDepthAtOnceElsewhere(t *testing.T) {
	once := repaired(t, 6, "G1 Z-3 F250")
	for _, c := range []struct {
		name string
		work func(*Work)
		want string
	}{
		{"as it is", func(*Work) {}, "7"},
		{"a part of the whole", func(w *Work) { w.Partial = true }, ""},
		{"no step known", func(w *Work) { w.Step = 0 }, ""},
		{"a deeper step", func(w *Work) { w.Step = 3 }, ""},
		{"cut before", func(w *Work) { w.Done = w.Groove.Area }, ""},
		{"one half cut before", func(w *Work) {
			w.Done = region.Intersect(w.Groove.Area, region.New(geom.Rect(geom.Box{Min: geom.Pt(0, -3), Max: geom.Pt(100, 0)})))
		}, "7"},
	} {
		w := against(straight())
		w.Step = 1.5
		c.work(&w)
		if got := deepLines(judged(t, once, w)); got != c.want {
			t.Errorf("%s: lines %q, want %q", c.name, got, c.want)
		}
	}
}

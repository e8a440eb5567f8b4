package dryrun

import (
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// A straight groove cut along both walls: nothing beyond it, and in its four
// corners what a round bit leaves, (1 - pi/4)(b/2)^2 each (derived; 2.1633 mm2
// in all is the worked value in the design notes).
func TestGoodProgram(t *testing.T) {
	r := judged(t, good, against(straight()))
	if !r.OK() || len(r.Findings) != 0 {
		t.Fatalf("%v", r.Findings)
	}
	if len(r.Gouges) != 0 || r.GougeMax.Line != 0 {
		t.Errorf("gouges %v", r.Gouges)
	}
	if len(r.Left) != 4 {
		t.Fatalf("%d places left, want the 4 corners", len(r.Left))
	}
	near(t, "left", r.LeftArea, 2.1633, 5e-5)
	near(t, "missed", r.MissedArea, 0, 0)
	// From a square corner to the disc in it: (b/2)(root 2 - 1).
	near(t, "deepest corner", r.LeftMax.Amount, bit/2*0.414213562373, tiny)
	near(t, "lowest", r.Lowest, -3, 0)
	near(t, "highest", r.Highest, 10, 0)
	if r.Blocks != 17 {
		t.Errorf("%d blocks", r.Blocks)
	}
	if want := (geom.Box{Min: geom.Pt(1.5875, -0.9525), Max: geom.Pt(98.4125, 0.9525)}); r.Extents != want || r.Cut != want {
		t.Errorf("extents %v, cut %v", r.Extents, r.Cut)
	}
}

// Each fault once, at its line.
func TestFaults(t *testing.T) {
	machine := func(w *Work) {
		w.Machine = Machine{
			Travel: bed(600, 400, 80), Feed: [2]float64{3000, 600}, Rapid: [2]float64{5000, 2000},
			Plunge: 300, Spindle: [2]float64{8000, 24000}, Accel: [2]float64{500, 200},
		}
	}
	at := func(x, y, z float64) func(*Work) {
		return func(w *Work) {
			machine(w)
			w.Machine.At, w.Machine.AtKnown = [3]float64{x, y, z}, true
		}
	}
	for _, c := range []struct {
		name, text string
		work       func(*Work)
		want       string // errors
	}{
		{"good", good, machine, ""},
		{"too deep", repaired(t, 11, "G1 Z-3.021 F250"), nil, "too-deep:11"},
		{"not too deep", repaired(t, 11, "G1 Z-3.019 F250"), nil, ""},
		{"too shallow", repaired(t, 11, "G1 Z-2.97 F250"), nil, "missed:18"},
		{"not too shallow", repaired(t, 11, "G1 Z-2.981 F250"), nil, ""},
		{"through the board", good, func(w *Work) { w.Thickness = 2.9 }, "through-board:11"},
		{"rapid across in the wood", repaired(t, 13, "G0 Y-0.9525"), nil, "rapid-in-stock:13"},
		{"rapid down", repaired(t, 6, "G0 Z-1.5"), nil, "rapid-down:6"},
		{"rapid slanting down", repaired(t, 5, "G0 X1.5875 Y0.9525 Z-1"), nil, "rapid-in-stock:5"},
		{"slanting out of the wood", repaired(t, 16, "G0 X5 Z10"), nil, "rapid-in-stock:16"},
		{"plunge", repaired(t, 11, "G1 Z-3 F310"), machine, "plunge-fast:11"},
		{"plunge from above", repaired(t, 6, "G1 Z-1.5 F310"), machine, "plunge-fast:6"},
		{"no plunge too fast", repaired(t, 6, "G1 Z-1.5 F300"), machine, ""},
		{"feed", repaired(t, 12, "G1 X98.4125 F3100"), machine, "feed-fast:12"},
		{"no feed", repaired(t, 6, "G1 Z-1.5"), nil, "no-feed:6"},
		{"spindle off", repaired(t, 3, "S16000 M5"), nil, "spindle-off:6"},
		{"spindle off midway", repaired(t, 10, "G1 Y0.9525 M5"), nil, "spindle-off:10"},
		{"spindle backwards", repaired(t, 3, "S16000 M4"), nil, "spindle-way:6"},
		{"spindle fast", repaired(t, 3, "S30000 M3"), machine, "spindle-speed:6"},
		{"spindle slow", repaired(t, 3, "S5000 M3"), machine, "spindle-speed:6"},
		{"spindle without a speed", repaired(t, 3, "M3"), nil, "spindle-speed:6"},
		{"origin", repaired(t, 1, "G21 G17 G90 G94 G55 G61"), nil, "wrong-origin:2"},
		{"another place", repaired(t, 7, "G1 X98.4125 F1200 G56"), nil, "wrong-origin:7"},
		{"within travel", good, at(300, 200, -40), ""},
		{"out of travel in x", good, at(501.6, 200, -40), "out-of-travel:7"},
		{"out of travel in y", good, at(300, 0.5, -40), "out-of-travel:8"},
		{"out of travel upwards", good, at(300, 200, -9.9), "out-of-travel:2"},
		{"out of travel downwards", good, at(300, 200, -77.5), "out-of-travel:11"},
		{"too long for the machine", good, func(w *Work) { w.Machine.Travel = bed(96, 0, 0) }, "out-of-travel:7"},
		{"too high for the machine", good, func(w *Work) { w.Machine.Travel = bed(0, 0, 12) }, "out-of-travel:11"},
		{"edges too short", good, func(w *Work) { w.Bit.Flute = 2.5 }, "beyond-reach:11"},
		{"shank too thick", good, func(w *Work) { w.Bit.Flute, w.Bit.ShankDiameter = 2.5, 6 }, "beyond-reach:11"},
		{"shank thin enough", good, func(w *Work) { w.Bit.Flute, w.Bit.ShankDiameter = 2.5, bit }, ""},
		{"nothing cut", "G21 G17 G90 G94 G54\nG0 Z10\nM2\n", nil, "nothing-cut:3 missed:3"},
		{"cut off", good[:strings.Index(good, "G1 Z-3")], nil, "ends-low:10 no-end:10"},
		{"a missed wall", repaired(t, 13, ""), nil, "missed:17"},
		{"swapped arc", repaired(t, 13, "G2 Y-0.9525 J-0.9525"), nil, "gouge:13"},
		{"swapped arc the other way", repaired(t, 13, "G3 Y-0.9525 J-0.9525"), nil, "missed:18"},
		{"inches", repaired(t, 1, "G20 G17 G90 G94 G54 G61"), nil, "too-deep:6 gouge:6 gouge:7 gouge:9 gouge:10 missed:18 missed:18"},
		{"parameter", repaired(t, 8, "G1 Y#1"), nil, "parameter:8"},
		{"no bit", good, func(w *Work) { w.Bit.Slot = 0 }, "no-bit:1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := against(straight())
			if c.work != nil {
				c.work(&w)
			}
			r := judged(t, c.text, w)
			if got := strings.Join(rules(r.Findings, diag.Error), " "); got != c.want {
				t.Errorf("%q, want %q\n%v", got, c.want, r.Findings)
			}
			for _, f := range r.Findings {
				if f.Hint == "" || f.Pos.File != "p.nc" || f.Pos.Line == 0 {
					t.Errorf("%+v", f)
				}
			}
		})
	}
}

// What is faulty is marked in the trace, which has every move in order and
// whose times add up.
func TestTrace(t *testing.T) {
	var faulty []int32
	seconds, n, last := 0.0, 0, int32(0)
	text := repaired(t, 13, "G0 Y-0.9525")
	r := Judge(strings.NewReader(text), ngc.Dialect{}, against(straight()), func(s Step) {
		n++
		seconds += s.Seconds
		if s.Fault {
			faulty = append(faulty, s.Move.Line)
		}
		if s.Move.Line < last {
			t.Errorf("line %d after %d", s.Move.Line, last)
		}
		last = s.Move.Line
	})
	if !slices.Equal(faulty, []int32{13}) {
		t.Errorf("faulty lines %v", faulty)
	}
	near(t, "seconds", seconds, r.Seconds, 1e-9)
	if n != 17 {
		t.Errorf("%d moves", n)
	}
}

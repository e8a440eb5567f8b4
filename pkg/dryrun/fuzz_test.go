package dryrun

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/work"
)

// knowing is a work of which everything is known, so that every rule is at work.
func knowing() Work {
	w := against(straight())
	w.Safe = 10
	w.Bit.Flute, w.Bit.ShankDiameter = 12, 6
	w.Thickness = 18
	w.Clamps = []work.Clamp{{Box: geom.Box{Min: geom.Pt(-50, -10), Max: geom.Pt(-30, 10)}, Height: 20}}
	w.Machine = Machine{
		Travel: bed(600, 400, 80), At: [3]float64{300, 200, -40}, AtKnown: true,
		Feed: [2]float64{3000, 600}, Rapid: [2]float64{5000, 2000}, Plunge: 300,
		Spindle: [2]float64{8000, 24000}, Accel: [2]float64{500, 200},
	}
	return w
}

// FuzzJudge: whatever the bytes, there is a report, the same one each time, with
// numbers in it that are numbers.
func FuzzJudge(f *testing.F) {
	f.Add([]byte(good))
	f.Add([]byte(""))
	f.Add([]byte("%\nG20 G91 G54 M3 S9000\nG0 Z1\nG1 X1 Y1 Z-2 F10\nG3 I2 Z-.5\nG2 X1 R-4\n%\n"))
	f.Add([]byte("G21G54G90S9000M3G0X1Y1Z1\nG1Z-1F100\nG2I10\nG2X3I1\nG93G1X20F4\nG4P1\nM0\nM2"))
	f.Add([]byte("G21 G54 M3 S9000\nG0 X0 Y0 Z1\nG1 Z-2 F300\nG1 X99999999999999999999\nG1 X-99999999 Y5\nG2 X3 I-9999999\nM2\n"))
	f.Add([]byte("G21 G54 M4\nG0 X0 Y0 Z1\nG0 Z-2\nX5\nG55\nG1 Z-4 F9000\nY50\nZ8\nX-40 Z-20\nM2\n"))
	w := knowing()
	f.Fuzz(func(t *testing.T, text []byte) {
		moves := 0
		a := Judge(bytes.NewReader(text), ngc.Dialect{File: "f"}, w, func(s Step) {
			moves++
			if !(s.Seconds >= 0) {
				t.Errorf("%v takes %v s", s.Move, s.Seconds)
			}
		})
		b := Judge(byteByByte{bytes.NewReader(text)}, ngc.Dialect{File: "f"}, w, nil)
		if x, y := fmt.Sprintf("%+v", a), fmt.Sprintf("%+v", b); x != y {
			t.Errorf("two reports:\n%s\n%s", x, y)
		}
		for _, v := range []float64{a.Seconds, a.Length, a.LeftArea, a.MissedArea, a.GougeMax.Amount, a.LeftMax.Amount} {
			if math.IsNaN(v) || v < 0 {
				t.Errorf("%+v", a)
			}
		}
		if a.Blocks > moves {
			t.Errorf("%d blocks of %d moves", a.Blocks, moves)
		}
		if a.OK() && a.MissedArea > 0 {
			t.Error("wood is missed and all is well")
		}
		if s := a.Findings.Error(); strings.Contains(s, "NaN") || strings.Contains(s, "-0 ") {
			t.Error(s)
		}
	})
}

// byteByByte hands a program over byte by byte.
type byteByByte struct{ r *bytes.Reader }

func (o byteByByte) Read(p []byte) (int, error) { return o.r.Read(p[:min(1, len(p))]) }

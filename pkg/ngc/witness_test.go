package ngc_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/ngc"
)

// A witnessed move is what testdata/witness/toolpath.js prints.
type witnessed struct {
	Motion string     `json:"motion"`
	To     [3]float64 `json:"to"`
	Center *[2]float64
	Length float64
}

// second reads a program with npm's gcode-toolpath.
func second(t *testing.T, text string) []witnessed {
	t.Helper()
	node, script := witness.Node(t, "toolpath.js", "gcode-toolpath")
	file := filepath.Join(t.TempDir(), "program.nc")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := witness.Run(node, script, file)
	if err != nil {
		t.Fatal(err)
	}
	var list []witnessed
	if err := json.Unmarshal(out, &list); err != nil {
		t.Fatalf("%v in %.200s", err, out)
	}
	return list
}

// A second reader that shares no code with ours finds the same ends, centres
// and lengths, in programs by hand and in written ones. (It forgets the motion word
// in force in a block with another G word, so those are written out here.)
func TestSecondReader(t *testing.T) {
	for name, text := range map[string]string{
		"by hand": `%
N10 G21 G17 G90 G94 G54
N20 G0 X7 Y7 Z5
N30 G1 Z-1.5 F100
G2 X10 Y16 I3 J4 F500
G3 X13.5 Y0 R20
X10 R-9
G91 G3 X5 Y5 I0 J5
G1 X-1 Y.5 Z-.25
G2 X3 Y0 I1.5 Z1
g2 x0 y0 i2
G90 G20
G1 X1 Y1 F10
G3 X1.5 Y1.5 R.5
M5
M2
%
`,
		"written":           written(t, ngc.Options{}, small),
		"written in inches": written(t, ngc.Options{Units: ngc.Inches, Repeat: true}, small),
		"arcs":              written(t, ngc.Options{Decimals: 3}, manyArcs),
		"arcs in inches":    written(t, ngc.Options{Units: ngc.Inches}, manyArcs),
		"as lines":          written(t, ngc.Options{Chord: 0.2}, manyArcs),
		"numbered":          written(t, ngc.Options{Percent: true, Numbers: true, Exact: true, Flat: true}, manyArcs),
	} {
		t.Run(name, func(t *testing.T) { agree(t, moves(t, text), second(t, text)) })
	}
}

// manyArcs writes 300 arcs of all sizes and sweeps.
func manyArcs(w *ngc.Writer) {
	rnd := rand.New(rand.NewPCG(3, 0))
	w.Preamble()
	for range 300 {
		from, to, center, sweep := arcOf(rnd)
		w.Rapid(ngc.XYZ(from, 5))
		w.Arc(ngc.XYZ(to, -1), center, sweep, 700)
	}
	w.End()
}

// agree compares moves as far as both know where they begin: the second reader
// takes an unknown start for 0.
func agree(t *testing.T, ours []ngc.Move, theirs []witnessed) {
	t.Helper()
	var travels []ngc.Move
	for _, m := range ours {
		if m.Kind.Travels() {
			travels = append(travels, m)
		}
	}
	if len(travels) != len(theirs) {
		t.Fatalf("%d moves, the second reader has %d", len(travels), len(theirs))
	}
	whole := 0
	for i, m := range travels {
		w := theirs[i]
		if motion := motionOf(m); motion != w.Motion {
			t.Errorf("line %d: %s, the second reader has %s", m.Line, motion, w.Motion)
		}
		if m.To.Has(ngc.AxesXYZ) {
			whole++
			at := geom.Pt(w.To[0], w.To[1])
			if !m.To.Point().Near(at, nano) || !near(m.To.Z, w.To[2], nano) {
				t.Errorf("line %d: to %v, the second reader has %v", m.Line, m.To, w.To)
			}
		}
		agreeArc(t, m, w)
	}
	if whole < len(travels)/2 {
		t.Errorf("only %d of %d could be compared", whole, len(travels))
	}
}

// nano, in mm, is far under any rule of the language and far over what two
// orders of the same sums differ by.
const nano = 1e-8

func agreeArc(t *testing.T, m ngc.Move, w witnessed) {
	t.Helper()
	if (m.Kind == ngc.Arc) != (w.Center != nil) {
		t.Errorf("line %d: only one reader sees an arc", m.Line)
	} else if m.Kind == ngc.Arc && !m.Center.Near(geom.Pt(w.Center[0], w.Center[1]), nano) {
		t.Errorf("line %d: about %v, the second reader has %v", m.Line, m.Center, *w.Center)
	}
	length, known := m.Length()
	if !known {
		return
	}
	// An arc's length is that of the mean radius here and of the start's there.
	tol := nano
	if m.Kind == ngc.Arc {
		tol += math.Abs(m.Sweep) * math.Abs(m.Radius()-m.From.Point().Dist(m.Center)) * 1.000001
	}
	if !near(length, w.Length, tol) {
		t.Errorf("line %d: %v long, the second reader has %v", m.Line, length, w.Length)
	}
}

func motionOf(m ngc.Move) string {
	switch {
	case m.Kind == ngc.Rapid:
		return "G0"
	case m.Kind == ngc.Line:
		return "G1"
	case m.Sweep < 0:
		return "G2"
	}
	return "G3"
}

package dryrun

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/unit"
	"strapwork/pkg/walls"
)

// The groove and the bit of the worked values in the design notes.
const (
	wide = 5.08
	bit  = 3.175
	deep = 3.0
	play = (wide - bit) / 2
	long = 100.0
	tiny = 1e-6 // mm, that coordinates of 4 and more decimals agree to
)

// straight is a groove along x from (0,0) to (long,0).
func straight() walls.Strand { return bar(geom.Pt(0, 0), geom.Pt(long, 0)) }

// bar is the groove along a line, its ends square.
func bar(a, b geom.Point) walls.Strand {
	return walls.Strand{Line: geom.Chain(false, geom.Line(a, b)), Width: wide}
}

func ring(c geom.Point, r float64) walls.Strand {
	return walls.Strand{Line: geom.Circle(c, r), Width: wide}
}

func against(strands ...walls.Strand) Work { return in(walls.Of(strands...)) }

// in is work in a groove, which may be an area only.
func in(g walls.Groove) Work {
	return Work{Groove: g, Depth: deep, Bit: Bit{Slot: bit}, Clearance: 3}
}

// good is a program that cuts the straight groove: along both walls at two
// depths.
const good = `G21 G17 G90 G94 G54 G61
G0 Z10
S16000 M3
G4 P3
G0 X1.5875 Y0.9525
G1 Z-1.5 F250
G1 X98.4125 F1200
G1 Y-0.9525
G1 X1.5875
G1 Y0.9525
G1 Z-3 F250
G1 X98.4125 F1200
G1 Y-0.9525
G1 X1.5875
G1 Y0.9525
G0 Z10
M5
M2
`

func judged(t *testing.T, text string, w Work) Report {
	t.Helper()
	return Judge(strings.NewReader(text), ngc.Dialect{File: "p.nc"}, w, nil)
}

// repaired is the good program with one of its lines, from 1, written anew.
func repaired(t *testing.T, line int, text string) string {
	t.Helper()
	lines := strings.SplitAfter(good, "\n")
	if line < 1 || line >= len(lines) {
		t.Fatalf("line %d of %d", line, len(lines)-1)
	}
	lines[line-1] = text
	if text != "" {
		lines[line-1] += "\n"
	}
	return strings.Join(lines, "")
}

// rules are the errors of a report as "rule:line", in order.
func rules(fs diag.Findings, s diag.Severity) []string {
	var out []string
	for _, f := range fs {
		if f.Severity == s {
			out = append(out, f.Rule+":"+unit.Decimal(float64(f.Pos.Line), 0))
		}
	}
	return out
}

// written writes a program with a Writer.
func wrote(t testing.TB, o ngc.Options, f func(w *ngc.Writer)) string {
	t.Helper()
	var b bytes.Buffer
	o.Exact = true
	w := ngc.NewWriter(&b, o)
	w.Preamble()
	w.Rapid(ngc.Z(10))
	w.SpindleOn(ngc.Clockwise, 16000, 3)
	f(w)
	w.Rapid(ngc.Z(10))
	w.End()
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// cut goes to the start of a chain, down, and along it.
func cutChain(w *ngc.Writer, z float64, edges ...geom.Edge) {
	w.Rapid(ngc.Z(10))
	w.Rapid(ngc.XY(edges[0].A))
	w.Line(ngc.Z(z), 250)
	for _, e := range edges {
		w.Cut(e, z, 1200)
	}
	w.Rapid(ngc.Z(10))
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %v, want %v +-%v", what, got, want, tol)
	}
}

// bed is a machine's travel, its zero at the lower left and as high as it goes.
func bed(x, y, z float64) [3][2]float64 { return [3][2]float64{{0, x}, {0, y}, {-z, 0}} }

package ngc_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/ngc"
)

// What a move depends on and nobody stated before it. The modes are those of
// NISTIR 6556, table 4; a word counts from its own block on (table 8).
func TestUnstated(t *testing.T) {
	const all = "distance mode, plane, path mode, feed mode"
	for _, c := range []struct {
		blocks, want string
	}{
		{"G0 X1", "distance mode"},
		{"G1 X1 F9", "distance mode, path mode, feed mode"},
		{"G0 X0 Y0;G2 X2 I1 F9", all},
		{"G0 X0 Y0;G2 X2 R1 F9", all},
		{"G90 G0 X0 Y0;G2 X2 I1 F9", "plane, path mode, feed mode"},
		{"G91 G0 X1", ""},
		{"G0 X1;G90 X2", ""},
		{"G90 G17 G61 G94 G0 X0 Y0;G3 X2 I1 F9", ""},
		{"G90 G0 X0 Y0;G17 G3 X2 I1 F9", "path mode, feed mode"},
		{"G18;G17;G90 G0 X0 Y0;G64;G93;G3 X2 I1 F9", ""},
		{"G61.1 G90 G94 G1 X2 F9", ""},
		{"G53 G0 Z0", ""},
		{"G53 G1 Z0 F9", "path mode, feed mode"},
		{"M3 S9", ""},
		{"G4 P1", ""},
	} {
		m := last(read(t, strings.Split(c.blocks, ";")...))
		if got := m.Unstated.String(); got != c.want {
			t.Errorf("%s: unstated %q, want %q", c.blocks, got, c.want)
		}
	}
}

// What the machine starts with counts as stated, and does what it says.
func TestStartsWith(t *testing.T) {
	const text = "G0 X1 Y0\nG1 X2 F9\nG2 X3 I.5\nM2"
	d := ngc.Dialect{StartsWith: "G17 g20 G90 G61 G94 G54 G40 G49 G80"}
	moves, err := d.ReadAll(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range moves {
		if m.Unstated != 0 || m.Units != ngc.Inches || m.Origin != ngc.OriginG54 || m.Blend != 0 {
			t.Errorf("%+v", m)
		}
	}
	if x := moves[2].To.X; !near(x, 76.2, micro) {
		t.Errorf("3 inches are %v mm", x)
	}
	for _, word := range []string{"G0", "G28", "M3", "X1", "G4 P1", "G20 G21", "F9", "G90 G0 X1", "(", "/G90"} {
		d := ngc.Dialect{StartsWith: word}
		_, err := d.ReadAll(strings.NewReader("M2"))
		if err == nil {
			t.Errorf("%q is taken", word)
		}
	}
}

// How far the path may be left: P and Q in the program's units.
func TestBlend(t *testing.T) {
	for _, c := range []struct {
		block string
		want  float64
	}{
		{"G80", 0},
		{"G61", 0},
		{"G61.1", 0},
		{"G64", math.Inf(1)},
		{"G64 P0", math.Inf(1)},
		{"G64 P0 Q0.01", math.Inf(1)},
		{"G64 P0.005", 0.005},
		{"P0.005 G64", 0.005},
		{"G64 P0.005 Q0.002", 0.007},
		{"G20 G64 P0.0002", 0.00508},
		{"G64 P0.005 G20", 0.127},
	} {
		m := last(read(t, c.block, "G90 G0 X1"))
		if m.Blend != c.want && !near(m.Blend, c.want, 1e-12) {
			t.Errorf("%s: %v, want %v", c.block, m.Blend, c.want)
		}
	}
	if moves := read(t, "G64 P0.1", "G0 X1", "G61 X2", "G64 X3", "X4 G61.1"); !cmp.Equal(
		[]float64{moves[0].Blend, moves[1].Blend, moves[2].Blend, moves[3].Blend}, []float64{0.1, 0, math.Inf(1), 0}) {
		t.Errorf("%+v", moves)
	}
}

// A move in the machine's coordinates: Z isn't known after it, X and Y stay.
func TestMachineMove(t *testing.T) {
	moves := read(t, "G53 G0 Z0", "G90 G0 X1 Y2", "Z3", "G20 G0 G53 Z-1", "G0 X1", "Z0.5")
	type step struct {
		From, To string
		Machine  bool
		Z        float64
	}
	var got []step
	for _, m := range moves {
		got = append(got, step{m.From.Known.String(), m.To.Known.String(), m.Machine, m.MachineZ})
		if _, known := m.Length(); m.Machine && (known || m.Named != ngc.AxisZ) {
			t.Errorf("%+v", m)
		}
	}
	want := []step{
		{"", "", true, 0},
		{"", "XY", false, 0},
		{"XY", "XYZ", false, 0},
		{"XYZ", "XY", true, -25.4},
		{"XY", "XY", false, 0},
		{"XY", "XYZ", false, 0},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// The units that a program speaks are those of its moves.
func TestUnitsOfMoves(t *testing.T) {
	moves, err := ngc.ReadAll(strings.NewReader("M3 S9\nG20\nM5\nG0 X1\nG21 X2\nM2"))
	if err != nil {
		t.Fatal(err)
	}
	var got []ngc.Units
	for _, m := range moves {
		got = append(got, m.Units)
	}
	mm, in := ngc.Millimetres, ngc.Inches
	if d := cmp.Diff([]ngc.Units{ngc.UnitsUnstated, in, in, mm, mm}, got); d != "" {
		t.Error(d)
	}
}

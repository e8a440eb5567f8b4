package ngc_test

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// read reads a program that must be without fault, behind G21 and before M2.
func read(t testing.TB, blocks ...string) []ngc.Move {
	t.Helper()
	moves, err := ngc.ReadAll(strings.NewReader("G21\n" + strings.Join(blocks, "\n") + "\nM2\n"))
	if err != nil {
		t.Fatal(err)
	}
	if end := moves[len(moves)-1]; end.Kind != ngc.End {
		t.Fatalf("the last move is %v", end.Kind)
	}
	return moves[:len(moves)-1]
}

func last(moves []ngc.Move) ngc.Move { return moves[len(moves)-1] }

// micro is the last decimal of the values that the tests quote.
const micro = 1e-6

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// Values from NISTIR 6556: section 3.3 for the first, the worked arc of section
// 3.5.3 and the arcs of the sample program in appendix C.1 for the others, with
// angles and lengths worked out by hand from them.
func TestStandardArcs(t *testing.T) {
	for _, c := range []struct {
		start, block   string
		end, center    geom.Point
		radius, degree float64 // counter-clockwise positive
	}{
		{"G0 X7 Y7 Z9", "G17 G2 x10 y16 i3 j4 z9 F100", geom.Pt(10, 16), geom.Pt(10, 11), 5, -143.130102},
		{"G0 X16 Y2.5 Z0", "g3 x13.5 y0 i-2.5 F100", geom.Pt(13.5, 0), geom.Pt(13.5, 2.5), 2.5, 270},
		{"G0 X32.5 Y0 Z0", "g2 x32.5 j2.5 F100", geom.Pt(32.5, 0), geom.Pt(32.5, 2.5), 2.5, -360},
		{"G0 X64 Y4 Z0", "g2 x69 r4 F100", geom.Pt(69, 4), geom.Pt(66.5, 0.877501), 4, -77.364375},
		{"G0 X64 Y4 Z0", "g2 x69 r-4 F100", geom.Pt(69, 4), geom.Pt(66.5, 7.122499), 4, -282.635625},
		{"G0 X64 Y4 Z0", "g3 x69 r4 F100", geom.Pt(69, 4), geom.Pt(66.5, 7.122499), 4, 77.364375},
		{"G0 X79.5 Y0 Z0", "g2 j2.5 y5 F100", geom.Pt(79.5, 5), geom.Pt(79.5, 2.5), 2.5, -180},
	} {
		t.Run(c.block, func(t *testing.T) {
			m := last(read(t, c.start, c.block))
			if m.Kind != ngc.Arc || !m.To.Point().Near(c.end, micro) || !m.Center.Near(c.center, micro) || !near(m.Radius(), c.radius, micro) {
				t.Errorf("%v to %v about %v, radius %v", m.Kind, m.To, m.Center, m.Radius())
			}
			if got := m.Sweep * 180 / math.Pi; !near(got, c.degree, micro) {
				t.Errorf("sweep %v degrees, want %v", got, c.degree)
			}
			length, ok := m.Length()
			if want := c.radius * math.Abs(c.degree) * math.Pi / 180; !ok || !near(length, want, micro) {
				t.Errorf("length %v, want %v", length, want)
			}
			checkEdges(t, m)
		})
	}
	m := last(read(t, "G0 X7 Y7 Z9", "G2 x10 y16 i3 j4 z9 F100"))
	if length, _ := m.Length(); !near(length, 12.490458, micro) {
		t.Errorf("length %v, want 12.490458", length)
	}
	// A helix: Pythagoras over the unrolled cylinder.
	m = last(read(t, "G0 X7 Y7 Z9", "G2 x10 y16 i3 j4 z4 F100"))
	if length, _ := m.Length(); !near(length, math.Hypot(12.490458, 5), micro) {
		t.Errorf("helix of length %v", length)
	}
}

// checkEdges: the edges of an arc begin and end where it does and are as long.
func checkEdges(t *testing.T, m ngc.Move) {
	t.Helper()
	length, edges := 0.0, m.Edges()
	for _, e := range edges {
		length += e.Length()
	}
	if edges[0].A != m.From.Point() || edges[len(edges)-1].B != m.To.Point() {
		t.Errorf("edges from %v to %v", edges[0].A, edges[len(edges)-1].B)
	}
	if want := m.Radius() * math.Abs(m.Sweep); !near(length, want, micro) {
		t.Errorf("edges are %v long, want %v", length, want)
	}
}

// NISTIR 6556, section 3.3: these two lines are equivalent.
func TestBlanksAnywhere(t *testing.T) {
	want := last(read(t, "g0 x+0.1234 y7"))
	if want.To.X != 0.1234 || want.To.Y != 7 {
		t.Fatalf("to %v", want.To)
	}
	for _, text := range []string{
		"g0x +0. 12 34y 7", "G0X.1234Y+7.", "G 0\tX\t0.123400 Y007", "n 1 2 g00 (a)x0.1234(b)y7;c", "x0.1234 y7 g0.0000",
		"G0 X0.123400000000000000000000 Y7",
	} {
		got := last(read(t, text))
		got.N, got.Col = want.N, want.Col
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%q: %s", text, d)
		}
	}
}

// Three ends of a line, and none at the end of the file.
func TestLineEnds(t *testing.T) {
	for _, end := range []string{"\n", "\r", "\r\n"} {
		text := strings.Join([]string{"%", "G21", "", "G0 X1", "G1 Y2 F60", "%"}, end)
		moves, err := ngc.ReadAll(iotest.OneByteReader(strings.NewReader(text)))
		if err != nil || len(moves) != 2 || moves[0].Line != 4 || moves[1].Line != 5 {
			t.Errorf("%q: %v, %v", end, moves, err)
		}
	}
}

// What stands behind the end isn't read (NISTIR 6556, sections 3.2 and 3.6.1).
func TestEnds(t *testing.T) {
	for _, text := range []string{
		"G21\nM2\n#!", "G21\nM30\n\x00", "%\nG21\n%\n#!", " % \nG21\n\t%\n(", "%\nM2\n#!\n%\n", "G21 M2",
	} {
		if _, err := ngc.ReadAll(strings.NewReader(text)); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestUnitsAndDistance(t *testing.T) {
	moves := read(t,
		"G20", "G0 X1 Y2 Z-0.5", "F10", "G1 X2", "G91 Y.25", "G21 F600", "X1 F600", "G90 Z3",
		"G91 G3 X0 Y10 J5 F300", "G1 X-1 Y-1",
	)
	type step struct {
		X, Y, Z, Feed float64
	}
	var got []step
	for _, m := range moves {
		got = append(got, step{m.To.X, m.To.Y, m.To.Z, m.Feed})
	}
	want := []step{
		{25.4, 50.8, -12.7, 0},
		{50.8, 50.8, -12.7, 254},
		{50.8, 57.15, -12.7, 254},
		{51.8, 57.15, -12.7, 600},
		{51.8, 57.15, 3, 600},
		{51.8, 67.15, 3, 300},
		{50.8, 66.15, 3, 300},
	}
	if d := cmp.Diff(want, got, cmp.Comparer(func(a, b float64) bool { return near(a, b, 1e-9) })); d != "" {
		t.Error(d)
	}
	if c := moves[5].Center; !c.Near(geom.Pt(51.8, 62.15), 1e-9) {
		t.Errorf("the centre of an arc in increments: %v", c)
	}
}

// Inverse time, NISTIR 6556 section 2.1.2.5: F2 is half a minute for the move.
func TestInverseTime(t *testing.T) {
	moves := read(t, "G0 X0 Y0 Z0", "G93 G1 X3 Y4 F2", "G2 X3 Y4 J5 F0.5", "G94 F100 G1 X0")
	if m := moves[1]; m.Seconds != 30 || !near(m.Feed, 10, 1e-9) {
		t.Errorf("%v s at %v", m.Seconds, m.Feed)
	}
	if m := moves[2]; m.Seconds != 120 || !near(m.Feed, 2*math.Pi*5/2, 1e-9) {
		t.Errorf("%v s at %v", m.Seconds, m.Feed)
	}
	if m := moves[3]; m.Seconds != 0 || m.Feed != 100 {
		t.Errorf("%v s at %v", m.Seconds, m.Feed)
	}
	if m := last(read(t, "G93 G1 X3 F2")); m.Seconds != 30 || m.Feed != 0 {
		t.Errorf("from an unknown place: %v s at %v", m.Seconds, m.Feed)
	}
}

// The order of execution doesn't follow the order of words (NISTIR 6556, section
// 3.8, table 8): spindle, dwell, motion, stop.
func TestOrder(t *testing.T) {
	got := read(t, "N7 M0 X5 G4 G1 M3 P1.5 F60 S9000")
	at := ngc.Place{X: 5, Known: ngc.AxisX}
	base := ngc.Move{Line: 2, N: 7, Speed: 9000, Spindle: ngc.Clockwise, Units: ngc.Millimetres}
	turn, dwell, line, stop := base, base, base, base
	turn.Kind, turn.Col = ngc.Turn, 16
	dwell.Kind, dwell.Seconds, dwell.Col = ngc.Dwell, 1.5, 10
	line.Kind, line.To, line.Named, line.Feed, line.Col = ngc.Line, at, ngc.AxisX, 60, 13
	line.Unstated = ngc.DistanceMode | ngc.PathMode | ngc.FeedMode
	stop.Kind, stop.From, stop.To, stop.Col = ngc.Stop, at, at, 4
	if d := cmp.Diff([]ngc.Move{turn, dwell, line, stop}, got); d != "" {
		t.Error(d)
	}
}

// The spindle's changes are moves of their own; a word that changes nothing, or
// a speed while it stands still, is none.
func TestSpindle(t *testing.T) {
	type turn struct {
		Line, Col int32
		Spindle   ngc.Spindle
		Speed     float64
	}
	var got []turn
	for _, m := range read(t, "S100", "M5", "M3", "M3 S100", "S200", "M4", "G0 X1", "S300 M5", "M5") {
		if m.Kind == ngc.Turn {
			got = append(got, turn{m.Line, m.Col, m.Spindle, m.Speed})
		} else if m.Spindle != ngc.CounterClockwise || m.Speed != 200 {
			t.Errorf("%+v", m)
		}
	}
	want := []turn{
		{4, 1, ngc.Clockwise, 100},
		{6, 1, ngc.Clockwise, 200},
		{7, 1, ngc.CounterClockwise, 200},
		{9, 6, ngc.SpindleOff, 300},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// A start that nobody gave stays unknown, axis by axis.
func TestUnknownStart(t *testing.T) {
	moves := read(t, "G91 G0 Z5", "G90 X1", "G91 X1 Y1", "G90 Z3 Y2", "G55 G0 X1", "G59.3", "G55 Y1")
	want := []struct {
		from, to, named ngc.Axes
		origin          ngc.Origin
	}{
		{0, 0, ngc.AxisZ, 0},
		{0, ngc.AxisX, ngc.AxisX, 0},
		{ngc.AxisX, ngc.AxisX, ngc.AxesXY, 0},
		{ngc.AxisX, ngc.AxesXYZ, ngc.AxisY | ngc.AxisZ, 0},
		{0, ngc.AxisX, ngc.AxisX, ngc.OriginG55},
		{0, ngc.AxisY, ngc.AxisY, ngc.OriginG55},
	}
	for i, w := range want {
		m := moves[i]
		if m.From.Known != w.from || m.To.Known != w.to || m.Named != w.named || m.Origin != w.origin {
			t.Errorf("move %d: from %v to %v, named %v, %v", i, m.From.Known, m.To.Known, m.Named, m.Origin)
		}
	}
	if _, known := moves[0].Length(); known || moves[0].Edges() != nil {
		t.Error("a move from an unknown place has a length or a path")
	}
	if length, known := read(t, "G0 X1", "X4")[1].Length(); !known || length != 3 {
		t.Errorf("a move of one known axis is %v, %v long", length, known)
	}
}

// A half circle's rounded end may be farther than two radii by the rule.
func TestNearHalfCircle(t *testing.T) {
	m := last(read(t, "G0 X0 Y0", "G3 X10.003 R5 F100"))
	if !m.Center.Near(geom.Pt(5.0015, 0), micro) || !near(m.Sweep, math.Pi, micro) {
		t.Errorf("about %v by %v", m.Center, m.Sweep)
	}
}

func TestDialect(t *testing.T) {
	d := ngc.Dialect{File: "lid.nc", StartsWith: "G20", DwellMillis: true}
	moves, err := d.ReadAll(strings.NewReader("G0 X1\nG4 P500\nM2"))
	if err != nil || moves[0].To.X != 25.4 || moves[1].Seconds != 0.5 {
		t.Errorf("%v, %v", moves, err)
	}
	_, err = d.ReadAll(strings.NewReader("M2 é#"))
	if err == nil || !strings.HasPrefix(err.Error(), "lid.nc:1:4: error: ") {
		t.Errorf("%v", err)
	}
	d.MaxErrors = 3
	_, err = d.ReadAll(strings.NewReader(strings.Repeat("G5\n", 10)))
	var fs diag.Findings
	if !errors.As(err, &fs) || len(fs) != 4 || fs[3].Rule != "too-many" {
		t.Errorf("%v", err)
	}
}

func TestReadStops(t *testing.T) {
	stop := errors.New("enough")
	n := 0
	err := ngc.Read(strings.NewReader("G21\nG0 X1\nX2\nX3\nM2"), func(ngc.Move) error {
		if n++; n == 2 {
			return stop
		}
		return nil
	})
	if err != stop || n != 2 {
		t.Errorf("%v behind %d moves", err, n)
	}
	broken := errors.New("unplugged")
	r := io.MultiReader(strings.NewReader("G21\nG0 X1\nX2"), iotest.ErrReader(broken))
	if moves, err := ngc.ReadAll(r); !errors.Is(err, broken) || len(moves) != 0 {
		t.Errorf("%v, %v", moves, err)
	}
	r = io.MultiReader(strings.NewReader("G21\nG0 X1\nX2"), iotest.ErrReader(broken))
	n = 0
	if err := ngc.Read(r, func(ngc.Move) error { n++; return nil }); !errors.Is(err, broken) || n != 1 {
		t.Errorf("%v behind %d moves", err, n)
	}
}

// Two words of one modal group are an error, two of different groups aren't.
// The groups are those of NISTIR 6556, section 3.4, table 4, without the words
// that the reader refuses.
func TestModalGroups(t *testing.T) {
	groups := [][]string{
		{"G4P1"},
		{"G0", "G1", "G2", "G3", "G80"},
		{"G17", "G18", "G19"},
		{"G90", "G91"},
		{"G93", "G94"},
		{"G20", "G21"},
		{"G40"},
		{"G49"},
		{"G98", "G99"},
		{"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"},
		{"G61", "G61.1", "G64"},
		{"M0", "M1", "M2", "M30"},
		{"M3", "M4", "M5"},
		{"M7", "M8", "M9"},
		{"M48", "M49"},
	}
	pairs := 0
	for i, a := range groups {
		for j, b := range groups {
			for _, x := range a {
				for _, y := range b {
					if i == 0 && j == 0 {
						y = "G4"
					}
					pairs++
					_, err := ngc.ReadAll(strings.NewReader("G21\n" + x + " " + y + "\nM2\n"))
					var f diag.Finding
					clash := errors.As(err, &f) && f.Rule == "modal-group"
					if clash != (i == j) {
						t.Errorf("%s %s: %v", x, y, err)
					}
					if col := len(x) + 2; clash && (f.Pos.Line != 2 || f.Pos.Col != col) {
						t.Errorf("%s %s: at %v", x, y, f.Pos)
					}
				}
			}
		}
	}
	if pairs < 1000 {
		t.Fatalf("only %d pairs", pairs)
	}
}

// Every number is read as the standard library reads it.
func TestNumbers(t *testing.T) {
	for _, c := range []string{
		"0", "-0", "1", "-1.5", ".5", "+.5", "5.", "0.1", "123.456", "-0.0001", "99999.9999", "1234567.12345678",
		"0.123456789012345678", "000000000000000000000001.5", "3.0000000000000000001",
	} {
		var want float64
		if _, err := fmt.Sscan(strings.TrimSuffix(c, "."), &want); err != nil {
			t.Fatal(err)
		}
		got := last(read(t, "G0 X"+c)).To.X
		if got != want || math.Signbit(got) && got == 0 {
			t.Errorf("%s is read as %v", c, got)
		}
	}
}

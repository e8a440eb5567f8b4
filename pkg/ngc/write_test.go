package ngc_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// written is the program that do makes, which must be without error.
func written(t testing.TB, o ngc.Options, do func(*ngc.Writer)) string {
	t.Helper()
	var b strings.Builder
	w := ngc.NewWriter(&b, o)
	do(w)
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// small is a program with a bit of everything: a groove of a box lid, holly.
func small(w *ngc.Writer) {
	w.Comment("box lid (holly)\nwalnut, 3 mm; ø 1.6")
	w.Preamble()
	w.Rapid(ngc.Z(5))
	w.SpindleOn(ngc.Clockwise, 18000, 2.5)
	w.Rapid(ngc.XY(geom.Pt(-0.00001, 10)))
	w.Rapid(ngc.Z(1))
	w.Line(ngc.Z(-1.5), 200)
	w.Line(ngc.XYZ(geom.Pt(20, 10), -1.5), 900)
	w.Cut(geom.ArcThrough(geom.Pt(20, 10), geom.Pt(30, 20), geom.Pt(20, 20), true), -1.5, 900)
	w.Cut(geom.Line(geom.Pt(30, 20), geom.Pt(30, 25.12346)), -2, 900)
	w.Arc(ngc.XY(geom.Pt(30, 25.12346)), geom.Pt(25, 25.12346), -2*math.Pi, 900)
	w.SpindleOff()
	w.Rapid(ngc.Z(5))
	w.Stop()
	w.End()
}

func TestWrite(t *testing.T) {
	for _, c := range []struct {
		name string
		o    ngc.Options
		want string
	}{
		{
			"as it comes",
			ngc.Options{},
			`(box lid -holly-)
(walnut, 3 mm- - 1.6)
G21 G17 G90 G94
G40 G49 G80 G54
G0 Z5.0
S18000 M3
G4 P2.5
G0 X0.0 Y10.0
Z1.0
G1 Z-1.5 F200.0
X20.0 F900.0
G3 X30.0 Y20.0 I0.0 J10.0
G1 Y25.1235 Z-2.0
G2 X30.0 Y25.1235 I-5.0 J0.0
M5
G0 Z5.0
M0
M2
`,
		},
		{
			"in full",
			ngc.Options{Repeat: true, Bare: true, DwellMillis: true, Rewind: true, Decimals: 3},
			`G21 G17 G90 G94
G40 G49 G80 G54
G0 Z5.0
S18000 M3
G4 P2500
G0 X0.0 Y10.0
G0 Z1.0
G1 Z-1.5 F200.0
G1 X20.0 Y10.0 Z-1.5 F900.0
G3 X30.0 Y20.0 Z-1.5 I0.0 J10.0 F900.0
G1 X30.0 Y25.123 Z-2.0 F900.0
G2 X30.0 Y25.123 I-5.0 J0.0 F900.0
M5
G0 Z5.0
M0
M30
`,
		},
		{
			"numbered, enclosed, exact, no helix",
			ngc.Options{Percent: true, Numbers: true, Exact: true, Flat: true, Repeat: true},
			`%
(box lid -holly-)
(walnut, 3 mm- - 1.6)
N4 G21 G17 G90 G94
N5 G40 G49 G80 G54 G61
N6 G0 Z5.0
N7 S18000 M3
N8 G4 P2.5
N9 G0 X0.0 Y10.0
N10 G0 Z1.0
N11 G1 Z-1.5 F200.0
N12 G1 X20.0 Y10.0 Z-1.5 F900.0
N13 G3 X30.0 Y20.0 I0.0 J10.0 F900.0
N14 G1 X30.0 Y25.1235 Z-2.0 F900.0
N15 G2 X30.0 Y25.1235 I-5.0 J0.0 F900.0
N16 M5
N17 G0 Z5.0
N18 M0
N19 M2
%
`,
		},
		{
			"in inches",
			ngc.Options{Units: ngc.Inches, Bare: true, Chord: 1},
			`G20 G17 G90 G94
G40 G49 G80 G54
G0 Z0.19685
S18000 M3
G4 P2.5
G0 X0.0 Y0.3937
Z0.03937
G1 Z-0.05906 F7.87402
X0.7874 F35.43307
X1.06579 Y0.50901
X1.1811 Y0.7874
Y0.98911 Z-0.07874
X1.04508 Y0.8019
X0.825 Y0.87341
Y1.10482
X1.04508 Y1.17633
X1.1811 Y0.98911
M5
G0 Z0.19685
M0
M2
`,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			if d := cmp.Diff(c.want, written(t, c.o, small)); d != "" {
				t.Error(d)
			}
		})
	}
}

// Line numbers are the lines of the file, from 0 again where five digits don't
// hold them (NISTIR 6556, 3.3.1).
func TestLineNumbers(t *testing.T) {
	const blocks = 100_010
	text := written(t, ngc.Options{Numbers: true, Percent: true, Bare: true}, func(w *ngc.Writer) {
		w.Preamble()
		for i := range blocks {
			w.Rapid(ngc.Z(float64(i)))
		}
		w.End()
	})
	list := moves(t, text)
	if len(list) != blocks+1 {
		t.Fatalf("%d moves", len(list))
	}
	for _, m := range list {
		if m.N != m.Line%100_000 {
			t.Fatalf("line %d has the number %d", m.Line, m.N)
		}
	}
}

// A program can be started again at each preamble: units, origin, spindle and
// every word come anew.
func TestStartAgain(t *testing.T) {
	text := written(t, ngc.Options{}, func(w *ngc.Writer) {
		for range 2 {
			w.Preamble()
			w.Rapid(ngc.Z(5))
			w.SpindleOn(ngc.Clockwise, 18000, 1)
			w.Rapid(ngc.XY(geom.Pt(1, 2)))
			w.Line(ngc.Z(-1), 100)
			w.Rapid(ngc.Z(5))
			w.SpindleOff()
		}
		w.End()
	})
	half := len(text) / 2
	if text[:half-1] != strings.TrimSuffix(text[half-1:], "M2\n") {
		t.Errorf("the second half differs:\n%s", text)
	}
}

func TestWriteRefuses(t *testing.T) {
	ready := func(do func(*ngc.Writer)) func(*ngc.Writer) {
		return func(w *ngc.Writer) {
			w.Preamble()
			w.Rapid(ngc.XY(geom.Pt(0, 0)))
			do(w)
			w.End()
		}
	}
	nan, inf := math.NaN(), math.Inf(1)
	for name, c := range map[string]struct {
		o    ngc.Options
		do   func(*ngc.Writer)
		want error
	}{
		"motion first":   {do: func(w *ngc.Writer) { w.Rapid(ngc.Z(5)); w.End() }, want: ngc.ErrOrder},
		"no end":         {do: func(w *ngc.Writer) { w.Preamble() }, want: ngc.ErrOrder},
		"behind the end": {do: func(w *ngc.Writer) { w.End(); w.Stop() }, want: ngc.ErrOrder},
		"decimals":       {o: ngc.Options{Decimals: 2}, do: ready(func(*ngc.Writer) {}), want: ngc.ErrValue},
		"units":          {o: ngc.Options{Units: 9}, do: ready(func(*ngc.Writer) {}), want: ngc.ErrValue},
		"chord":          {o: ngc.Options{Chord: 1e-4}, do: ready(func(*ngc.Writer) {}), want: ngc.ErrValue},
		"chord nan":      {o: ngc.Options{Chord: nan}, do: ready(func(*ngc.Writer) {}), want: ngc.ErrValue},
		"nan":            {do: ready(func(w *ngc.Writer) { w.Rapid(ngc.Z(nan)) }), want: ngc.ErrValue},
		"infinite":       {do: ready(func(w *ngc.Writer) { w.Line(ngc.Z(inf), 5) }), want: ngc.ErrValue},
		"no feed":        {do: ready(func(w *ngc.Writer) { w.Line(ngc.Z(1), 0) }), want: ngc.ErrValue},
		"feed nan":       {do: ready(func(w *ngc.Writer) { w.Line(ngc.Z(1), nan) }), want: ngc.ErrValue},
		"feed rounds":    {do: ready(func(w *ngc.Writer) { w.Line(ngc.Z(1), 1e-6) }), want: ngc.ErrValue},
		"speed":          {do: ready(func(w *ngc.Writer) { w.SpindleOn(ngc.Clockwise, -1, 0) }), want: ngc.ErrValue},
		"dwell":          {do: ready(func(w *ngc.Writer) { w.Dwell(-1) }), want: ngc.ErrValue},
		"dwell nan":      {do: ready(func(w *ngc.Writer) { w.Dwell(nan) }), want: ngc.ErrValue},
		"origin":         {do: ready(func(w *ngc.Writer) { w.SetOrigin(77) }), want: ngc.ErrValue},
		"arc elsewhere": {
			do:   ready(func(w *ngc.Writer) { w.Arc(ngc.XY(geom.Pt(11, 0)), geom.Pt(6, 0), math.Pi, 5) }),
			want: ngc.ErrValue,
		},
		"cut elsewhere": {
			do:   ready(func(w *ngc.Writer) { w.Cut(geom.Line(geom.Pt(0, 1), geom.Pt(1, 1)), 0, 5) }),
			want: ngc.ErrValue,
		},
		"arc nowhere": {
			do:   ready(func(w *ngc.Writer) { w.Arc(ngc.XY(geom.Pt(nan, 0)), geom.Pt(5, 0), math.Pi, 5) }),
			want: ngc.ErrValue,
		},
		"arc of nothing": {
			do:   ready(func(w *ngc.Writer) { w.Arc(ngc.XY(geom.Pt(0, 0)), geom.Pt(5, 0), 0, 5) }),
			want: ngc.ErrValue,
		},
		"arc without end": {
			do:   ready(func(w *ngc.Writer) { w.Arc(ngc.Z(0), geom.Pt(5, 0), math.Pi, 5) }),
			want: ngc.ErrUnknown,
		},
		"helix from nowhere": {
			do:   ready(func(w *ngc.Writer) { w.Arc(ngc.XYZ(geom.Pt(10, 0), 1), geom.Pt(5, 0), math.Pi, 5) }),
			want: ngc.ErrUnknown,
		},
		"path from nowhere": {
			do:   ready(func(w *ngc.Writer) { w.Preamble(); w.Cut(geom.Line(geom.Pt(0, 0), geom.Pt(1, 1)), 0, 5) }),
			want: ngc.ErrUnknown,
		},
	} {
		t.Run(name, func(t *testing.T) {
			w := ngc.NewWriter(&bytes.Buffer{}, c.o)
			c.do(w)
			if err := w.Close(); !errors.Is(err, c.want) {
				t.Errorf("got %v, want %v", err, c.want)
			}
		})
	}
}

type fullDisk struct{ room int }

func (f *fullDisk) Write(p []byte) (int, error) {
	if f.room -= len(p); f.room < 0 {
		return 0, errDisk
	}
	return len(p), nil
}

var errDisk = errors.New("disk full")

func TestWriteError(t *testing.T) {
	for _, room := range []int{0, 5000} {
		w := ngc.NewWriter(&fullDisk{room}, ngc.Options{})
		w.Preamble()
		for i := range 2000 {
			w.Rapid(ngc.Z(float64(i)))
		}
		w.End()
		if err := w.Close(); !errors.Is(err, errDisk) {
			t.Errorf("%v", err)
		}
	}
}

// Comments hold nothing that could end them or that a controller might act on.
func TestComments(t *testing.T) {
	text := written(t, ngc.Options{}, func(w *ngc.Writer) {
		w.Comment("(a) [b] {c} 1/2 50% #5 ; e\x00f\tg ?!~ $ é")
		w.Comment("")
		w.Comment(" \n ")
		w.Comment(strings.Repeat("w", 500) + " " + strings.Repeat("ab ", 100))
		w.End()
	})
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if want := "(-a- -b- -c- 1/2 50- -5 - e-f g --- - -)"; lines[0] != want {
		t.Errorf("got %s, want %s", lines[0], want)
	}
	allowed := regexp.MustCompile(`^\([A-Za-z0-9 .,:+/='-]{1,70}\)$`)
	letters := 0
	for _, line := range lines[:len(lines)-1] {
		if !allowed.MatchString(line) {
			t.Errorf("%q", line)
		}
		letters += strings.Count(line, "w") + strings.Count(line, "ab")
	}
	if letters != 600 {
		t.Errorf("%d of 600 are left", letters)
	}
}

// arcOf is a seeded arc and where it begins: radii from 0.05 to 500 mm, sweeps
// from a hundredth of a degree to a full circle, and half circles often.
func arcOf(rnd *rand.Rand) (from, to, center geom.Point, sweep float64) {
	r := 0.05 * math.Pow(10, 4*rnd.Float64())
	sweep = 2 * math.Pi * math.Pow(10, -4*rnd.Float64())
	switch rnd.IntN(6) {
	case 0:
		sweep = math.Pi + 1e-3*rnd.NormFloat64()
	case 1:
		sweep = 2 * math.Pi
	case 2:
		sweep = 2*math.Pi - 1e-4*rnd.Float64()
	}
	if rnd.IntN(2) == 0 {
		sweep = -sweep
	}
	center = geom.Pt(600*rnd.Float64()-300, 600*rnd.Float64()-300)
	from = center.Add(geom.Polar(r, 2*math.Pi*rnd.Float64()))
	to = center.Add(from.Sub(center).Turn(sweep))
	return from, to, center, sweep
}

// What is read of a written arc follows the wanted arc: in radius difference, in
// place all along, and in how far round it goes.
func TestArcsAfterRounding(t *testing.T) {
	for _, o := range []ngc.Options{
		{Decimals: 3},
		{Decimals: 4},
		{Units: ngc.Inches, Decimals: 4},
		{Units: ngc.Inches},
		{Decimals: 3, Chord: 0.01},
		{Chord: 0.05},
		{Decimals: 3, Flat: true},
		{Units: ngc.Inches, Decimals: 4, Flat: true},
	} {
		t.Run(fmt.Sprintf("%v %d %v %v", o.Units, o.Decimals, o.Chord, o.Flat), func(t *testing.T) {
			rnd := rand.New(rand.NewPCG(6556, 2000))
			kinds := map[ngc.Kind]int{}
			const arcs = 3000
			for range arcs {
				from, to, center, sweep := arcOf(rnd)
				text := written(t, o, func(w *ngc.Writer) {
					w.Preamble()
					w.Rapid(ngc.XYZ(from, 2))
					w.Arc(ngc.XYZ(to, 1), center, sweep, 500)
					w.End()
				})
				moves, err := ngc.ReadAll(strings.NewReader(text))
				if err != nil {
					t.Fatalf("%v in\n%s", err, text)
				}
				for _, m := range moves[1 : len(moves)-1] {
					kinds[m.Kind]++
				}
				if worst := off(moves[1:len(moves)-1], to, center, sweep); worst > allowedOff(o) {
					t.Fatalf("from %v to %v about %v by %v is %v mm off:\n%s", from, to, center, sweep, worst, text)
				}
			}
			lines := o.Chord > 0 || o.Flat
			if !lines && kinds[ngc.Line] > arcs/5 || lines && kinds[ngc.Arc] > 0 {
				t.Errorf("%v", kinds)
			}
			t.Log(kinds)
		})
	}
}

// allowedOff: what rounding may do to a path, in mm: the middle moves by four
// steps at most, and lines leave arcs by 0.002 mm where those can't be written.
func allowedOff(o ngc.Options) float64 {
	step := 1e-4
	if o.Units == ngc.Inches {
		step = 25.4e-5
	}
	if o.Decimals == 3 || o.Units == ngc.Inches && o.Decimals == 4 {
		step *= 10
	}
	if o.Chord > 0 {
		return o.Chord
	}
	return max(4*step, 0.002+step)
}

// off is the greatest distance of a path from the wanted arc, both ways: all
// points of the path lie at the radius, and the path turns round the centre by
// the sweep.
func off(moves []ngc.Move, to, center geom.Point, sweep float64) float64 {
	r := to.Dist(center)
	worst, turned := 0.0, 0.0
	for _, m := range moves {
		if m.Kind == ngc.Arc {
			a, b := m.From.Point().Dist(m.Center), m.To.Point().Dist(m.Center)
			if math.Abs(a-b) > 0.002 {
				return math.Inf(1)
			}
		}
		for _, e := range m.Edges() {
			for i := range 9 {
				p, q := e.At(float64(i)/8), e.At(float64(i+1)/8)
				worst = max(worst, math.Abs(p.Dist(center)-r), math.Abs(q.Dist(center)-r))
				if i < 8 {
					u, v := p.Sub(center), q.Sub(center)
					turned += math.Atan2(u.Cross(v), u.Dot(v))
				}
			}
		}
	}
	if len(moves) > 0 {
		worst = max(worst, moves[len(moves)-1].To.Point().Dist(to))
	}
	return max(worst, math.Abs(turned-sweep)*r/2)
}

// Writing what was read, and reading that, comes to rest at once.
func TestPrintReadStable(t *testing.T) {
	text := written(t, ngc.Options{}, small)
	for _, o := range []ngc.Options{{}, {Decimals: 3}, {Units: ngc.Inches, Decimals: 4}, {Chord: 0.1}, {Repeat: true, Rewind: true}} {
		once := reprint(t, text, o)
		if twice := reprint(t, once, o); once != twice {
			t.Errorf("%+v: %s", o, cmp.Diff(once, twice))
		}
	}
	want, got := moves(t, text), moves(t, reprint(t, text, ngc.Options{}))
	for i := range want {
		want[i].Line, got[i].Line = 0, 0
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

func moves(t testing.TB, text string) []ngc.Move {
	t.Helper()
	list, err := ngc.ReadAll(strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return list
}

func reprint(t testing.TB, text string, o ngc.Options) string {
	t.Helper()
	var b strings.Builder
	if err := ngc.Print(&b, o, slices.Values(moves(t, text))); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// FuzzRead: no program panics the reader; errors are Findings in the program;
// what can be printed reads back, and prints the same again.
func FuzzRead(f *testing.F) {
	f.Add(written(f, ngc.Options{}, small))
	f.Add(written(f, ngc.Options{Units: ngc.Inches, Repeat: true}, small))
	f.Add("%\nN10 g20 G91 (a) g0x +0. 12 34y 7\rG93 G2 x1y1 r5 f2\r\nG55 G0 z1 ;b\nG4P1 M3 S100\n%\n")
	f.Add("\ufeff%\nO1000 (A)\nN123456 G53 G0 Z0\nG20 G64 P0.0002 Q0\nG91.1 G0 X1\nM2\n%")
	f.Add("G21 G0 X1,5 Y\u22121\nO100 sub\nG68 IF[1]")
	f.Add("G21 G0 X0 Y0\nG2 X10.001 R5 F9 M1\nG3 X0 I-5 Z-1\nM30")
	f.Fuzz(func(t *testing.T, text string) {
		list, err := ngc.ReadAll(strings.NewReader(text))
		if err != nil {
			checkFindings(t, err, text)
			return
		}
		for _, o := range []ngc.Options{{Decimals: 3}, {Units: ngc.Inches}} {
			var b strings.Builder
			if err := ngc.Print(&b, o, slices.Values(list)); err != nil {
				if !errors.Is(err, ngc.ErrUnknown) && !errors.Is(err, ngc.ErrValue) {
					t.Fatal(err)
				}
				continue
			}
			once := b.String()
			if twice := reprint(t, once, o); once != twice {
				t.Fatalf("not stable: %s", cmp.Diff(once, twice))
			}
		}
	})
}

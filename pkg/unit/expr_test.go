package unit

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var names = map[string]float64{"x": 3, "inset": 60, "reach": 140, "in_": 2, "größe": 7}

func lookup(name string) (float64, error) {
	if v, ok := names[name]; ok {
		return v, nil
	}
	return 0, ErrUndefined
}

// The values are elementary arithmetic (derived by hand); an inch is exactly
// 25.4 mm (international inch, 1959); sines from any table of exact values.
func TestEval(t *testing.T) {
	for _, c := range []struct {
		src  string
		mm   float64
		inch float64
	}{
		{"12.5", 12.5, 12.5},
		{" .5 ", 0.5, 0.5},
		{"1e3", 1000, 1000},
		{"2.5e-1", 0.25, 0.25},
		{"-0", 0, 0},
		{"25.4mm", 25.4, 1},
		{"2.54 cm", 25.4, 1},
		{"1 in", 25.4, 1},
		{`1"`, 25.4, 1},
		{`1 1/2"`, 38.1, 1.5},
		{"9/64 in", 3.571875, 0.140625},
		{"9/64in", 3.571875, 0.140625},
		{"1/8 in", 3.175, 0.125},
		{"3 1/4", 3.25, 3.25},
		{"3 1/4 in", 82.55, 3.25},
		{"-3 1/4", -3.25, -3.25},
		{"10 - 3 1/4", 6.75, 6.75},
		{"3 - 1/4", 2.75, 2.75},
		{"3 -1/4", 2.75, 2.75},
		{"3- 1/4", 2.75, 2.75},
		{"3.0-1/4", 2.75, 2.75},
		{"x-1/4", 2.75, 2.75},
		{"3-x/4", 2.25, 2.25},
		{"3-1", 2, 2},
		{"3/4", 0.75, 0.75},
		{"12/4/3", 1, 1},
		{"1/4.0", 0.25, 0.25},
		{"x/(2 in)", 3 / 50.8, 1.5},
		{"x/2 * 1 in", 38.1, 1.5},
		{"2*9/64 in", 7.14375, 0.28125},
		{"2 + 3 * 4", 14, 14},
		{"(2 + 3) * 4", 20, 20},
		{"2 - 3 - 4", -5, -5},
		{"- -2", 2, 2},
		{"+-+2", -2, -2},
		{"inset + 80", 140, 140},
		{"-reach", -140, -140},
		{"reach - inset", 80, 80},
		{"in_", 2, 2},
		{"größe", 7, 7},
		{"2 * pi", 2 * math.Pi, 2 * math.Pi},
		{"sqrt(2) * sqrt(2)", 2, 2},
		{"hypot(3, 4)", 5, 5},
		{"hypot(3,4)", 5, 5},
		{"abs(-2.5)", 2.5, 2.5},
		{"min(3, -1, 2)", -1, -1},
		{"max(3,5)", 5, 5},
		{"max(2)", 2, 2},
		{"sin(30)", 0.5, 0.5},
		{"cos(60)", 0.5, 0.5},
		{"sin(180)", 0, 0},
		{"cos(90)", 0, 0},
		{"cos(-270)", 0, 0},
		{"sin(-90)", -1, -1},
		{"tan(45)", 1, 1},
		{"tan(135)", -1, -1},
		{"tan(-45)", -1, -1},
		{"asin(1)", 90, 90},
		{"acos(0.5)", 60, 60},
		{"atan(1)", 45, 45},
		{"atan2(1, -1)", 135, 135},
		{"atan2(-1, 0)", -90, -90},
		{"sqrt (4)", 2, 2},
		{"(((x)))", 3, 3},
		{"1/4 + 9/64 in", 0.25 + 3.571875, 0.390625},
	} {
		for _, s := range []System{MM, Inch} {
			want := c.mm
			if s == Inch {
				want = c.inch
			}
			got, err := Eval(c.src, Env{System: s, Lookup: lookup})
			if err != nil {
				t.Errorf("Eval(%q) in %v: %v", c.src, s, err)
			} else if math.Abs(got-want) > 1e-13*math.Max(1, math.Abs(want)) { // a few roundings
				t.Errorf("Eval(%q) in %v = %.17g, want %.17g", c.src, s, got, want)
			}
			if math.Signbit(got) && got == 0 {
				t.Errorf("Eval(%q) is a negative zero", c.src)
			}
		}
	}
}

func TestExactQuarters(t *testing.T) {
	for _, c := range []struct {
		src  string
		want float64
	}{
		{"sin(0)", 0},
		{"sin(90)", 1},
		{"sin(180)", 0},
		{"sin(270)", -1},
		{"sin(360)", 0},
		{"cos(90)", 0},
		{"cos(180)", -1},
		{"cos(270)", 0},
		{"cos(-90)", 0},
		{"cos(36000)", 1},
		{"sin(450)", 1},
	} {
		if got, err := Eval(c.src, Env{}); err != nil || got != c.want {
			t.Errorf("%s = %v, %v; want exactly %v", c.src, got, err, c.want)
		}
	}
}

func TestEvalErrors(t *testing.T) {
	deep := strings.Repeat("(", 200) + "1" + strings.Repeat(")", 200)
	for _, c := range []struct {
		src    string
		offset int
		msg    string
		hint   string // part of it
	}{
		{"", 0, "empty", "12.5"},
		{"   ", 0, "empty", ""},
		{"3-1/4", 0, "two ways", "3 1/4 for the mixed number, or 3 - 1/4"},
		{"x + 3-1/4 in", 4, "two ways", "3 1/4"},
		{"3,5", 1, "not a decimal point", "3.5"},
		{"x + 12,75 mm", 6, "not a decimal point", "12.75"},
		{"(3,5)", 2, "not a decimal point", "3.5"},
		{"max(3, (3,5))", 9, "not a decimal point", "3.5"},
		{"x/2 in", 1, "two ways", "brackets"},
		{"1.5/2 in", 3, "two ways", "9/64"},
		{"9 / 64 in", 2, "two ways", "without spaces"},
		{"60/9/64 in", 2, "two ways", ""},
		{"(1 + 2) in", 8, "a unit goes with a number", "1 in"},
		{"x in", 2, `not with the name "x"`, "1 in"},
		{`x"`, 1, "a unit goes with a number", "1 in"},
		{"sqrt(2) mm", 8, "not with a function", "1 mm"},
		{"in", 0, "no number before it", "1 in"},
		{"1/0", 1, "division by zero", ""},
		{"1/0 in", 1, "division by zero", ""},
		{"3 1/0", 3, "division by zero", ""},
		{"1/(2-2)", 1, "division by zero", ""},
		{"3 5/4", 2, "less than 1", ""},
		{"2 3", 2, "operator is missing", "*"},
		{"2 x", 2, "side by side", "2 * x"},
		{"2x", 1, "not a unit", "mm"},
		{"5 IN", 2, "not a unit", "write in"},
		{"3/8 inch", 4, `"inch" is not a unit`, "write in"},
		{"9mm + 2millimetres", 7, "not a unit", "write mm"},
		{"2 ft", 2, "not a unit", `18 in or 18"`},
		{"12 thou", 3, "not a unit", "0.004 in"},
		{"2⅜", 1, "not known", "2 3/8"},
		{"3⁄8", 1, "not known", "plain stroke"},
		{"2-3/8 in", 0, "two ways", "write 2 3/8 in for the mixed number, or 2 in - 3/8 in to subtract"},
		{`2-3/8"`, 0, "two ways", `write 2 3/8" for the mixed number, or 2" - 3/8" to subtract`},
		{"2(3)", 1, "operator is missing", ""},
		{"5'", 1, "feet", "inches"},
		{"5”", 1, "not known", "straight"},
		{"2^3", 1, "not known", "x * x"},
		{"(1", 0, "not closed", ")"},
		{"max(1", 3, "not closed", ")"},
		{"1)", 1, "never opened", ""},
		{"sqrt()", 5, "missing before the closing", ""},
		{"1 +", 3, "ends too early", ""},
		{"* 2", 0, "not known here", ""},
		{"1, 2", 1, "arguments", ""},
		{"1.2.3", 3, "second decimal point", ""},
		{"1e999", 0, "too large", ""},
		{"1e300 * 1e300", 6, "too large", ""},
		{"sqrt(-1)", 0, "negative", ""},
		{"asin(2)", 0, "between -1 and 1", ""},
		{"tan(90)", 0, "infinite", ""},
		{"atan2(0, 0)", 0, "no direction", ""},
		{"hypot(3)", 0, "takes 2 arguments, not 1", ""},
		{"sqrt(2,5)", 0, "takes one argument, not 2", "decimals have a point"},
		{"sqrt", 0, "is a function", "sqrt(...)"},
		{"insert", 0, `"insert" is not defined`, ""},
		{"sqr(2)", 0, `no function "sqr"`, ""},
		{deep, maxDepth, "deep", ""},
		{strings.Repeat("1+", 1000) + "1", maxLength, "longer", "[let]"},
		{strings.Repeat("-", 500) + "1", maxDepth + 1, "signs", ""},
		{"NaN", 0, "not defined", ""},
		{"inf", 0, "not defined", ""},
		{"\x00", 0, "not known", ""},
		{"\xff", 0, "not known", ""},
	} {
		v, err := Eval(c.src, Env{Lookup: lookup})
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("Eval(%q) = %v, %v; want an *Error", c.src, v, err)
			continue
		}
		if !strings.Contains(e.Msg, c.msg) || !strings.Contains(e.Hint, c.hint) || e.Offset != c.offset {
			t.Errorf("Eval(%q): at %d %q, hint %q; want at %d %q, hint %q", c.src, e.Offset, e.Msg, e.Hint, c.offset, c.msg, c.hint)
		}
	}
}

func TestUnknownNamesAreReported(t *testing.T) {
	for _, src := range []string{"insert + 1", "1 + insert(2)"} {
		_, err := Eval(src, Env{Lookup: lookup})
		var e *Error
		if !errors.As(err, &e) || e.Unknown != "insert" {
			t.Errorf("Eval(%q): %v does not name the unknown", src, err)
		}
	}
}

func TestLookupErrorsPassThrough(t *testing.T) {
	mine := errors.New("mine")
	_, err := Eval("2 * a", Env{Lookup: func(string) (float64, error) { return 0, mine }})
	if !errors.Is(err, mine) {
		t.Errorf("got %v", err)
	}
}

func TestAnglesTakeNoUnit(t *testing.T) {
	if v, err := Eval("360/8", Env{System: Inch, Angle: true}); err != nil || v != 45 {
		t.Errorf("360/8 = %v, %v", v, err)
	}
	if _, err := Eval("45 mm", Env{Angle: true}); err == nil || !strings.Contains(err.Error(), "no unit") {
		t.Errorf("45 mm as an angle: %v", err)
	}
}

func TestCheckName(t *testing.T) {
	for name, ok := range map[string]bool{
		"inset": true, "r2": true, "_": true, "größe": true,
		"": false, "in": false, "mm": false, "cm": false, "pi": false, "sqrt": false, "2r": false, "a-b": false, "a b": false,
	} {
		if err := CheckName(name); (err == nil) != ok {
			t.Errorf("CheckName(%q) = %v", name, err)
		}
	}
	for _, w := range Words() {
		if CheckName(w) == nil {
			t.Errorf("%q may be defined, but means something", w)
		}
	}
}

// TestSincosAgrees checks the degree functions against the standard library's
// in radians.
func TestSincosAgrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(-1000, 1000).Draw(t, "degrees")
		s, c := sincos(d)
		ws, wc := math.Sincos(d * math.Pi / 180)
		// 1000 degrees in radians carry an error of 2e-15.
		if math.Abs(s-ws) > 1e-14 || math.Abs(c-wc) > 1e-14 {
			t.Fatalf("sincos(%v) = %v, %v; want %v, %v", d, s, c, ws, wc)
		}
	})
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		mm      float64
		metric  string
		english string
	}{
		{5.08, "5.08 mm", "0.2 in"},
		{3.175, "3.175 mm", "0.125 in"},
		{0, "0 mm", "0 in"},
		{-0.00001, "0 mm", "0 in"},
		{100, "100 mm", "3.937 in"},
		{-25.4, "-25.4 mm", "-1 in"},
		{25.4 * 3 / 32, "2.381 mm", "0.09375 in"},
		{1.0 / 3, "0.333 mm", "0.0131 in"},
	} {
		if got := Format(c.mm, MM); got != c.metric {
			t.Errorf("%v in mm: %q, want %q", c.mm, got, c.metric)
		}
		if got := Format(c.mm, Inch); got != c.english {
			t.Errorf("%v in inches: %q, want %q", c.mm, got, c.english)
		}
	}
}

// FuzzEval: no text panics; what evaluates is finite and means the same in
// brackets, and with white space round it.
func FuzzEval(f *testing.F) {
	for _, s := range []string{
		"12.5", "3 1/4 in", "9/64 in", "3-1/4", "x/2 in", "(1+2)*3", "sqrt(2)", "atan2(1,2)", `1"`, "inset + 80 mm",
		"3,5", "((((", "----1", strings.Repeat(" ", 49) + "+0", "1e999", "\xff", "größe", "max(1,2,3)", "1/0",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, src string) {
		v, err := Eval(src, Env{Lookup: lookup})
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Offset < 0 || e.Offset > len(src) || e.Msg == "" {
				t.Fatalf("Eval(%q): %#v", src, err)
			}
			return
		}
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("Eval(%q) = %v", src, v)
		}
		if len(src) > maxLength-4 || strings.Count(src, "(") >= maxDepth {
			return
		}
		if w, err := Eval("( "+src+" )", Env{Lookup: lookup}); err != nil || w != v {
			t.Fatalf("Eval(%q) = %v, in brackets %v, %v", src, v, w, err)
		}
	})
}

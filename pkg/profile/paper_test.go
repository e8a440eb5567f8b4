package profile_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/profile"
)

// Sizes from ISO 216 (A4, A3) and, in inches, ANSI/ASME Y14.1 (A: Letter, B:
// Tabloid) and US office practice (Legal).
func TestPaperSizes(t *testing.T) {
	for name, want := range map[string][2]float64{
		"A4": {210, 297}, "a3": {297, 420}, "Letter": {8.5 * 25.4, 11 * 25.4}, "tabloid": {11 * 25.4, 17 * 25.4},
		"Legal": {8.5 * 25.4, 14 * 25.4}, "roll 610 mm": {610, 5080}, "roll 24 in": {609.6, 5080}, "Roll 91.4cm": {914, 5080},
	} {
		p, err := profile.OpenPaper(name, nil)
		if err != nil || math.Abs(p.Width-want[0]) > 1e-9 || math.Abs(p.Height-want[1]) > 1e-9 {
			t.Errorf("%s: %v x %v mm, %v; want %v", name, p.Width, p.Height, err, want)
		}
	}
}

func TestPaperMistakes(t *testing.T) {
	for name, want := range map[string][2]string{
		"A5":           {`there is no paper "A5"`, `did you mean "A4"?`},
		"leter":        {`there is no paper "leter"`, `did you mean "Letter"?`},
		"foolscap":     {`there is no paper "foolscap"`, "known are A4, Letter, A3, Tabloid, Legal, and rolls"},
		"roll":         {"a roll needs its width", `"roll 610 mm"`},
		"roll 610":     {"a roll needs its width", `"roll 610 mm"`},
		"roll 61 mm":   {"a roll of 61 mm can't be used", "from 200 mm"},
		"roll 6100 mm": {"a roll of 6100 mm can't be used", "to 5080 mm"},
		"roll x mm":    {"the roll's width", `"roll 610 mm"`},
		"./none.toml":  {`the printer's file "./none.toml" cannot be read: gone`, "job file's folder"},
	} {
		_, err := profile.OpenPaper(name, func(string) ([]byte, error) { return nil, errors.New("gone") })
		var found diag.Findings
		if !errors.As(err, &found) || len(found) != 1 || !strings.Contains(found[0].Message, want[0]) || !strings.Contains(found[0].Hint, want[1]) {
			t.Errorf("%s: %v, want %q", name, err, want)
			if len(found) > 0 {
				t.Log(found[0].Hint)
			}
		}
	}
}

const printer = `about = "the one upstairs"
paper = "A4"
margin = "6 mm"
measured = ["148.9 mm", "150.3 mm"]
diagonals = ["212.0 mm", "212.3 mm"]
`

// A printer's file is read; the scales make its bars 150 mm; the skew follows
// from the law of cosines in the two triangles that a diagonal makes.
func TestPrinter(t *testing.T) {
	p, err := profile.ParsePrinter("up.toml", []byte(printer))
	if err != nil {
		t.Fatal(err)
	}
	x, y := p.Scale()
	if p.Margin != 6 || math.Abs(148.9*x-150) > 1e-9 || math.Abs(150.3*y-150) > 1e-9 {
		t.Errorf("%+v: scales %v, %v", p, x, y)
	}
	// Between sides a and b at the angle g, the diagonals' squares are a^2 + b^2
	// +- 2 a b cos g.
	between := func(d float64) float64 {
		a, b := 148.9, 150.3
		return math.Acos((d*d-a*a-b*b)/(2*a*b)) * 180 / math.Pi
	}
	sum := between(212.0) + (180 - between(212.3)) // both are the angle at the corner, if the sides are right
	if want := 90 - sum/2; math.Abs(p.Skew()-want) > 0.001 {
		t.Errorf("skew %v degrees, want %v", p.Skew(), want)
	}
	if p.Diagonals = [2]float64{}; p.Skew() != 0 {
		t.Errorf("skew %v without diagonals", p.Skew())
	}
}

func TestPrinterMistakes(t *testing.T) {
	for _, c := range []struct{ old, new, want, hint string }{
		{`"148.9 mm"`, `"132 mm"`, "up.toml:4:13: error: measured: 132 mm for 150 mm is -12.0 % out, more than any printer is", "at actual size"},
		{`"212.3 mm"`, `"219 mm"`, "up.toml:5:26: error: diagonals: 219 mm for 212.132 mm is 3.2 % out, more than any printer is", "at actual size"},
		{`, "150.3 mm"`, ``, "up.toml:4:12: error: measured must have two lengths, not 1", "150.3 mm"},
		{`"6 mm"`, `"25 mm"`, "up.toml:3:10: error: margin: a margin of 25 mm can't be used", "0 to 18 mm"},
		{`"A4"`, `"A9"`, `up.toml:2:9: error: there is no paper "A9"`, "did you mean"},
		{"margin", "marign", `error: there is no key "marign" in a printer's file`, "did you mean margin?"},
	} {
		_, err := profile.ParsePrinter("up.toml", []byte(strings.Replace(printer, c.old, c.new, 1)))
		var found diag.Findings
		if !errors.As(err, &found) || len(found) != 1 || !strings.Contains(found[0].Error(), c.want) || !strings.Contains(found[0].Hint, c.hint) {
			t.Errorf("%s for %s: %v, want %q", c.new, c.old, err, c.want)
		}
	}
}

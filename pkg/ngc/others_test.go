package ngc_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/diag"
	"strapwork/pkg/ngc"
)

// What people have in programs and the reader doesn't take is refused by its name,
// with a hint on what to write in its place. What the words mean elsewhere is
// common practice.
func TestRefusedByName(t *testing.T) {
	for _, c := range []struct{ block, at, msg, hint string }{
		{"G90.1", "1 g-word", "G90.1 takes I and J as places", "from the start of each arc"},
		{"G5 X1 Y1 I1 J1 P1 Q1", "1 g-word", "G5 is a curve other than an arc", "G1, G2 and G3"},
		{"G5.1 X1 Y1 I1", "1 g-word", "G5.1 is a curve", "G1, G2 and G3"},
		{"G15", "1 g-word", "G15 ends polar coordinates", "remove it"},
		{"G16", "1 g-word", "G16 begins polar coordinates", "X and Y"},
		{"G28.1", "1 g-word", "G28.1 stores a place in the machine", "G54"},
		{"G28 Z0", "1 g-word", "G28 leads to a place that only the machine knows", "G54"},
		{"G30", "1 g-word", "G30 leads to a place", "G54"},
		{"G31 Z-5", "1 g-word", "G31 probes", "remove the block"},
		{"G41.1 D3", "1 g-word", "G41.1 is cutter compensation", "the bit's centre"},
		{"G43.1 Z1", "1 g-word", "G43.1 is cutter compensation", "G49"},
		{"G10 L2 P1 X0", "1 g-word", "G10 shifts the origin", "G54"},
		{"G52 X1", "1 g-word", "G52 shifts the origin", "G54"},
		{"G92 X0", "1 g-word", "G92 shifts the origin", "G54"},
		{"G54.1 P3", "1 g-word", "G54.1 selects an origin by a number", "G59.3"},
		{"G50", "1 g-word", "G50 ends scaling", "remove it"},
		{"G51 X0 Y0 P2", "1 g-word", "G51 scales", "true size"},
		{"G51.1 X0", "1 g-word", "G51.1 mirrors", "as they are cut"},
		{"G68 X0 Y0 R45", "1 g-word", "G68 turns what follows", "as they are cut"},
		{"G69", "1 g-word", "G69 ends a turned pattern", "remove it"},
		{"G17.1", "1 g-word", "G17.1 is a plane", "G17"},
		{"G65 P9100", "1 g-word", "G65 calls a macro", "moves out"},
		{"G71", "1 g-word", "G71 means units on some machines", "G21"},
		{"G73 X1 Z-2 R1 Q1", "1 g-word", "G73 is a canned cycle", "G0 and G1"},
		{"G95", "1 g-word", "G95 makes F a feed per revolution", "G94"},
		{"G97", "1 g-word", "G97 says that S is in rpm", "remove it"},
		{"G123", "1 g-word", "G123 is not a G word", "the machine's manual"},
		{"T1 M6", "4 m-word", "M6 changes the tool", "one program for each bit"},
		{"M98 P1000", "1 m-word", "M98 calls a subprogram", "in its place"},
		{"M99", "1 m-word", "M99 ends a subprogram", "M2"},
		{"M62 P1", "1 m-word", "M62 switches something", "manual"},
		{"M150", "1 m-word", "M150 is not an M word", "manual"},
		{"O100 sub", "1 o-word", "O with SUB is a subprogram or a loop", "one after the other"},
		{"o100 while [1]", "1 o-word", "O with WHILE", "one after the other"},
		{"o<dip> call", "1 o-word", "O with a name", "one after the other"},
		{"O#1 call", "1 o-word", "O with a name", "one after the other"},
		{"O", "1 o-word", "O without a number", "O1000"},
		{"O1000 G0 X1", "1 o-word", "with other words", "a line of its own"},
		{"G0 X1 O1000", "7 o-word", "with other words", "a line of its own"},
		{"O1000", "1 o-word", "another program's number", "a file of its own"},
		{"IF [1 EQ 1] GOTO 5", "1 o-word", "IF is a calculation", "one after the other"},
		{"GOTO5", "1 o-word", "GOTO is a calculation", "one after the other"},
		{"while [1]", "1 o-word", "WHILE is a calculation", "one after the other"},
		{"end1", "1 o-word", "END is a calculation", "one after the other"},
		{"#<depth>=3", "1 parameter", "a parameter", "the number itself"},
		{"G0 X#<w>", "5 parameter", "a parameter", "the number itself"},
		{"G0 X[3/2]", "5 expression", "an expression", "the number itself"},
		{"G0 U1", "4 letter", "U is a further axis", "X, Y and Z"},
		{"G0 A90", "4 axis", "A is a rotary axis", "X, Y and Z"},
		{"N10 G0 X1*57", "10 character", "a checksum", "without checksums"},
		{"$H", "1 character", "a setting of one kind of machine", "at the machine"},
		{":1000", "1 character", "a colon", "write O"},
		{"G0 X1 /Y1", "7 character", "a / that isn't first", "remove it"},
		{"/G0 X1", "1 block-delete", "a line that the machine leaves out if", "remove the /"},
		{"G0\u00a0X1", "3 character", "a blank that isn't a plain one (U+00A0)", "a plain blank"},
		{"G0 X\u22121", "5 character", "a dash that isn't a plain minus (U+2212)", "write -"},
		{"G0 X1 \xff", "7 character", "isn't plain text", "plain text"},
		{"G0 X1 ä", "7 character", "'ä' begins no word", "in parentheses"},
		{`"top"`, "1 character", "a quotation mark", "in parentheses"},
		// Decimal commas and others.
		{"G0 X12,5", "7 character", "a decimal comma", "X12.5"},
		{"G1 X1 z-0,25 F9", "10 character", "a decimal comma", "Z-0.25"},
		{"G0 X,5", "5 character", "a decimal comma", "X0.5"},
		{"G0 X-,5", "6 character", "a decimal comma", "X-0.5"},
		{"G0 X 1 2,5 Y1", "9 character", "a decimal comma", "X1 2.5"},
		{"G0 X1,234.5", "6 character", "a comma in a number", "one decimal point"},
		{"G0 X1,234,5", "6 character", "a comma in a number", "one decimal point"},
		{"G0 X1, Y2", "6 character", "a comma", "between words"},
		{",", "1 character", "a comma", "between words"},
	} {
		text := "G21 G90 G17\nG0 X0 Y0\n" + c.block + "\nM2\n"
		_, err := ngc.ReadAll(strings.NewReader(text))
		var fs diag.Findings
		if !errors.As(err, &fs) || len(fs) != 1 {
			t.Errorf("%s: %v", c.block, err)
			continue
		}
		f := fs[0]
		if got := fmt.Sprintf("%d %s", f.Pos.Col, f.Rule); f.Pos.Line != 3 || got != c.at || !strings.Contains(f.Message, c.msg) || !strings.Contains(f.Hint, c.hint) {
			t.Errorf("%s: at %s: %s\n%s", c.block, got, f.Error(), f.Hint)
		}
		checkWords(t, f)
	}
}

// What people have around programs, and what isn't everywhere alike but harmless.
func TestPassedOver(t *testing.T) {
	const body = "G21 G90\nG0 X1\nM2\n"
	plain, err := ngc.ReadAll(strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{
		"\ufeff" + body,
		"\ufeff%\n" + body + "%\n",
		"O1000\n" + body,
		" O0001 (TITLE)\n" + body,
		"o7 ; a lid\n" + body,
		"%\nO1000\n" + body + "%\n",
		"(walnut)\n\nO12\n" + body,
		"\ufeffO1000\r\n" + strings.ReplaceAll(body, "\n", "\r\n"),
		"G91.1 " + body,
		"G91.1\nG17\n" + body,
		"G90 G91.1\n" + body,
		"g21g90\ng0x1\nm2",
		"G21 G90\nG00 X01.\nM02",
		"\tG21\tG90 \nG0 X 1\nM30",
		"N000010 G21 G90\nN100000 G0 X1\nN999999999 M2",
	} {
		warned := 0
		d := ngc.Dialect{Warn: func(f diag.Finding) {
			if warned++; f.Severity != diag.Warning || f.Rule != "line-number" || f.Pos.Line != 1 || f.Pos.Col != 1 || f.Hint == "" {
				t.Errorf("%q: %v", text, f)
			}
		}}
		moves, err := d.ReadAll(strings.NewReader(text))
		if err != nil || len(moves) != len(plain) {
			t.Errorf("%q: %v, %v", text, moves, err)
			continue
		}
		for i := range moves {
			m, want := moves[i], plain[i]
			m.Line, m.Col, m.N = want.Line, want.Col, want.N
			if d := cmp.Diff(want, m); d != "" {
				t.Errorf("%q: %s", text, d)
			}
		}
		if long := strings.HasPrefix(text, "N"); long != (warned == 1) {
			t.Errorf("%q: %d warnings", text, warned)
		}
	}
	if m := read(t, "N123456789 G0 X1")[0]; m.N != 123456789 {
		t.Errorf("N is %d", m.N)
	}
}

// A mark is passed over at the file's start only, and places in the first line
// count without it.
func TestByteOrderMark(t *testing.T) {
	for text, want := range map[string]string{
		"\ufeffG0 X1\nM2":         "1:4 units",
		"G21\n\ufeffG0 X1\nM2":    "2:1 character",
		"\ufeff\ufeffG21\nM2":     "1:1 character",
		"\xff\xfeG\x002\x001\x00": "1:1 character",
	} {
		if got := faults(t, text); len(got) != 1 || got[0] != want {
			t.Errorf("%q: %v, want %s", text, got, want)
		}
	}
}

// Lengths in messages are in the units of whoever reads them.
func TestFaultsInUnits(t *testing.T) {
	for text, want := range map[string][2]string{
		"G20\nG0 X0 Y0\nG2 X1 Y0 I0.4 F9\nM2": {
			"an arc whose end is 5.08 mm closer to the centre or further from it than its start; 0.0051 mm is allowed",
			"an arc whose end is 0.2 in closer to the centre or further from it than its start; 0.0002 in is allowed",
		},
		"G20\nG0 X0 Y0\nG2 X1 Y0 R0.25 F9\nM2": {
			"an arc whose radius of 6.35 mm is less than half the distance of its ends, 12.7 mm",
			"an arc whose radius of 1/4 in is less than half the distance of its ends, 1/2 in",
		},
	} {
		_, err := ngc.ReadAll(strings.NewReader(text))
		var f diag.Finding
		if !errors.As(err, &f) {
			t.Fatalf("%q: %v", text, err)
		}
		if got := [2]string{f.Message, f.In(1).Message}; !cmp.Equal(got, want) {
			t.Errorf("%q", got)
		}
	}
}

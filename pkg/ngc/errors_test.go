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

// faults is every error of a program as line:col rule.
func faults(t *testing.T, text string) []string {
	t.Helper()
	_, err := ngc.ReadAll(strings.NewReader(text))
	if err == nil {
		return nil
	}
	var fs diag.Findings
	if !errors.As(err, &fs) {
		t.Fatalf("%q: %T", text, err)
	}
	var out []string
	for _, f := range fs {
		out = append(out, fmt.Sprintf("%d:%d %s", f.Pos.Line, f.Pos.Col, f.Rule))
		checkWords(t, f)
	}
	return out
}

func checkWords(t *testing.T, f diag.Finding) {
	t.Helper()
	first := f.Message[:1]
	if strings.Contains(f.Message, "means nothing") || f.Severity != diag.Error || f.Hint == "" || strings.HasSuffix(f.Message, ".") || first == " " {
		t.Errorf("%+v", f)
	}
}

// Each error with its place. Rules not of NISTIR 6556 (sections 3.3 to 3.6, as
// recalled) are marked "ours"; see the package's comment.
func TestErrors(t *testing.T) {
	for _, c := range []struct{ block, want string }{
		// The format of a line.
		{"G0 X1 (a(b))", "9 nested-comment"},
		{"G0 X1 (a", "7 open-comment"},
		{"G0 X1 )", "7 open-comment"},
		{"G0 X1 (\x01)", "8 character"},
		{"G0 X1 ;\x01", "8 character"},
		{"G0 X1 \x01", "7 character"},
		{"G0 X1 ä", "7 character"},
		{"(ä) G0 X1 !", "11 character"},
		{"/G0 X1", "1 block-delete"}, // ours
		{"G0 /X1", "4 character"},
		{"#1=5", "1 parameter"},
		{"G0 X#1", "5 parameter"},
		{"G0 X[1+2]", "5 expression"},
		{"G0 X1 [2]", "7 expression"},
		{"O100 sub", "1 o-word"},
		{"G0 X1 %", "7 percent"},
		{"%", "1 percent"},
		{"G0 X1 5.5.5", "10 no-letter"},
		{"G0 X1 =2", "7 character"},
		{"12", "1 no-letter"},
		{"G0 X", "4 number"},
		{"G0 X-", "4 number"},
		{"G0 X. Y1", "4 number"},
		{"G0 X--1", "4 number"},
		{"G0 X1E3", "6 letter"},
		{"G0 X99999999", "4 number"}, // ours
		{"G0 X" + strings.Repeat("9", 200), "4 number"},
		{"G0 X1 (" + strings.Repeat("x", 249) + ")", "1 long-line"},
		{"G0 X1" + strings.Repeat(" ", 70_000), "1 long-line"},
		// Line numbers.
		{"N1000000000 G0 X1", "1 line-number"}, // ours
		{"N-1 G0 X1", "1 line-number"},
		{"N1.5 G0 X1", "1 line-number"},
		{"N G0 X1", "1 line-number"},
		{"G0 N1 X1", "4 line-number"},
		{"N1 N2 G0 X1", "4 line-number"},
		// Words.
		{"G0 X1 X2", "7 repeated-word"},
		{"G0 X1 Y2 F1 x1", "13 repeated-word"},
		{"G0 A1", "4 axis"},
		{"G0 U1", "4 letter"},
		{"G0 E1", "4 letter"},
		{"G1 X1 D1", "7 compensation"},
		{"G1 X1 H1", "7 compensation"},
		{"G1 X1 L1", "7 unused-word"},
		{"G1 X1 Q1", "7 unused-word"},
		{"G0 X1 P2", "7 unused-word"},
		{"G0 X1 I2", "7 unused-word"},
		{"G1 X1 R2", "7 unused-word"},
		{"J2", "1 unused-word"},
		{"F-1", "1 negative"},
		{"S-1", "1 negative"},
		{"T-1", "1 negative"},
		{"T1.5", "1 tool"},
		{"M3 M5", "4 modal-group"},
		{"M3 M8 M48 M0 M7", "14 modal-group"},
		{"G0 G1 X1", "4 modal-group"},
		// Words that are known and refused.
		{"G0 X1 G10 L2", "7 g-word"},
		{"G28 X0", "1 g-word"},
		{"G30 X0", "1 g-word"},
		{"G38.2 Z-5", "1 g-word"},
		{"G41 D1", "1 g-word"},
		{"G42", "1 g-word"},
		{"G43 H1", "1 g-word"},
		{"G0 G53 X0", "8 g-word"}, // ours, as are the next four
		{"G53 G0 Z0 Y1", "11 g-word"},
		{"G53 Z0", "1 g-word"},
		{"G53 G2 Z0 I1 F100", "1 g-word"},
		{"G91 G53 G0 Z0", "5 g-word"},
		{"G53 G4 P1", "5 modal-group"},
		{"G64 P-0.01", "5 path-mode"},
		{"G64 P0.01 Q-1", "11 path-mode"},
		{"G64 Q0.01", "5 path-mode"},
		{"G61 P0.01", "5 unused-word"},
		{"G64 G4 P1", "8 dwell"},
		{"G92 X0", "1 g-word"},
		{"G92.1", "1 g-word"},
		{"G92.2", "1 g-word"},
		{"G92.3", "1 g-word"},
		{"G81 X1 Z-1 R1", "1 g-word"},
		{"G89 X1 Z-1 R1", "1 g-word"},
		{"T1 M6", "4 m-word"},
		{"M60", "1 m-word"},
		// Words that nobody knows.
		{"G5 X1", "1 g-word"},
		{"G1.5 X1", "1 g-word"},
		{"G-1 X1", "1 g-word"},
		{"G100", "1 g-word"},
		{"G9999999", "1 g-word"},
		{"G17.05", "1 g-word"},
		{"M10", "1 m-word"},
		{"M100", "1 m-word"},
		{"M-1", "1 m-word"},
		{"M2.5", "1 m-word"},
		// Motion.
		{"X1", "1 no-motion"},
		{"G80 X1", "5 no-motion"},
		{"G0", "1 no-axis"},
		{"G1 F100", "1 no-axis"},
		{"G2 I5 F100", "1 no-axis"},
		{"G1 X1", "1 no-feed"},
		{"G1 X1 F0", "1 no-feed"},
		{"G93 G1 X1", "5 no-feed"},
		{"G93 G1 X1 F0", "5 no-feed"},
		{"G4", "1 dwell"},
		{"G4 P-1", "4 dwell"},
		// Arcs, from (0, 0).
		{"F100 G18 G2 X1 Z1 I1", "10 plane"},
		{"F100 G2 X10 Y0 I5 K1", "19 arc-words"},
		{"F100 G2 Z1 I5", "6 arc-words"},
		{"F100 G2 X10", "6 arc-words"},
		{"F100 G2 X10 I5 R5", "16 arc-words"},
		{"F100 G2 X10 I0 J0", "13 arc-radius"},
		{"F100 G2 X10 R0", "13 arc-radius"},
		{"F100 G2 X0 R5", "12 arc-radius"},
		{"F100 G2 X10 R4.9", "13 arc-radius"},
		{"F100 G2 X10.005 R5", "17 arc-radius"},
		{"F100 G2 X10.0021 I5", "9 arc-rule"},
	} {
		t.Run(c.block[:min(20, len(c.block))], func(t *testing.T) {
			moves := "G21 G80\nG0 X0 Y0\nG80\n"
			got := faults(t, moves+c.block+"\nM2\n")
			if d := cmp.Diff([]string{"4:" + c.want}, got); d != "" {
				t.Errorf("%q: %s", c.block, d)
			}
		})
	}
}

// Errors that are about a whole program.
func TestProgramErrors(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"", []string{"1:1 no-end"}},
		{"G21\nG0 X1", []string{"2:1 no-end"}},
		{"%\nG21\nM2\n", []string{"3:1 no-end"}},
		{"%\nG21\nG0 X1\n", []string{"3:1 no-end"}},
		{"(a)\n%\nM2\n", []string{"2:1 percent"}},
		{"G0 X1\nM2", []string{"1:4 units"}},
		{"F100\nM2", []string{"1:1 units"}},
		{"G21 F100\nM2", []string{"1:5 units"}}, // F comes before G21, table 8
		{"G21\nF100\nG20\nG1 X1\nM2", []string{"4:1 no-feed"}},
		{"G21\nG93 G1 X1 F5\nG94 X2\nM2", []string{"3:5 no-feed"}},
		{"G21 G1 X1 F5\nM2", []string{"1:11 units"}},
		{"G21\nG2 X1 Y1 I1 F5\nM2", []string{"2:1 unknown-start"}},
		{"G21\nG0 X1 Y1\nG55\nG2 X1 Y1 I1 F5\nM2", []string{"4:1 unknown-start"}},
		{"G21\nG91 G0 X1 Y1\nG2 X1 Y1 I1 F5\nM2", []string{"3:1 unknown-start"}},
	} {
		if d := cmp.Diff(c.want, faults(t, c.text)); d != "" {
			t.Errorf("%q: %s", c.text, d)
		}
	}
}

// The arc rule is 0.002 mm in mm and 0.0002 inch in inches (NISTIR 6556, section
// 3.5.3.2), on both sides of the limit.
func TestArcRule(t *testing.T) {
	for _, c := range []struct {
		units, end string
		ok         bool
	}{
		{"G21", "10.002", true},
		{"G21", "9.998", true},
		{"G21", "10.00201", false},
		{"G21", "9.99799", false},
		{"G20", "10.0002", true},
		{"G20", "10.00021", false},
		{"G20", "9.99979", false},
	} {
		got := faults(t, c.units+"\nG0 X0 Y0\nG2 X"+c.end+" I5 F9\nM2")
		if (got == nil) != c.ok {
			t.Errorf("%s %s: %v", c.units, c.end, got)
		}
	}
}

// One run says all, and what follows from one mistake isn't reported again.
func TestErrorsAreCollected(t *testing.T) {
	got := faults(t, strings.Join([]string{
		"G21 G90 G17 #1=2",
		"G0 Z5",
		"X1 Y1 Q4",
		"G2 X3 I1 F100",
		"G0 X1 Y1",
		"G1 X2 X3 F100",
		"Y2",
		"G3 X1 R1",
		"O1 call",
		"M2",
	}, "\n"))
	want := []string{"1:13 parameter", "3:7 unused-word", "6:7 repeated-word", "9:1 o-word"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// checkFindings: an error of the reader is findings with places in the text.
func checkFindings(t *testing.T, err error, text string) {
	t.Helper()
	var fs diag.Findings
	if !errors.As(err, &fs) || len(fs) == 0 {
		t.Fatalf("%T: %v", err, err)
	}
	lines := 1 + strings.Count(text, "\n") + strings.Count(text, "\r")
	for _, f := range fs {
		if f.Pos.Line < 1 || f.Pos.Line > lines || f.Pos.Col < 0 || f.Pos.Col > len(text)+1 || f.Message == "" {
			t.Fatalf("%+v", f)
		}
	}
}

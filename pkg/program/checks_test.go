package program_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"strapwork/pkg/ngc"
	"strapwork/pkg/program"
)

// tester is what *testing.T and *rapid.T have in common.
type tester interface {
	Helper()
	Error(...any)
	Errorf(string, ...any)
	Fatalf(string, ...any)
}

// readBack reads a program that must be sound.
func readBack(t tester, text string, o ngc.Options) []ngc.Move {
	t.Helper()
	moves, err := ngc.Dialect{File: "x.nc", DwellMillis: o.DwellMillis}.ReadAll(strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return moves
}

// lineRule is the length of a block that every reader takes: NISTIR 6556, 3.3.
const lineRule = 256

// modalGroups are those of the words that programs state, by the numbers of NISTIR
// 6556, table 4: one word of each at most may stand in a block.
var modalGroups = map[string]int{
	"G0": 1, "G1": 1, "G2": 1, "G3": 1, "G80": 1, "G17": 2, "G90": 3, "G94": 5, "G20": 6, "G21": 6, "G40": 7, "G49": 8, "G54": 12, "G61": 13,
	"M0": 4, "M1": 4, "M2": 4, "M30": 4, "M3": 7, "M5": 7, "G4": 0,
}

// checkText holds a program's text to what every machine reads: ASCII, one word
// of a modal group and one M word a line at most (NISTIR 6556, 3.3.3, allows more,
// of different groups), no change of tools, no compensation, and the preamble's
// words before any motion.
func checkText(t tester, text string, o ngc.Options) {
	t.Helper()
	if !strings.HasSuffix(text, "\n") {
		t.Error("the last line isn't ended")
	}
	want := []string{"G17", "G90", "G94", "G40", "G49", "G80", "G54", "G21"}
	if o.Units == ngc.Inches {
		want[len(want)-1] = "G20"
	}
	if o.Exact {
		want = append(want, "G61")
	}
	said := map[string]bool{}
	text = unwrapped(t, text, o)
	for i, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		if len(line) >= lineRule || strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r > '~' }) {
			t.Errorf("line %d: %q", i+1, line)
		}
		words := strings.Fields(comment.ReplaceAllString(line, ""))
		if n := len(slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w[0] != 'M' })); n > 1 {
			t.Errorf("line %d has %d M words: %s", i+1, n, line)
		}
		groups := map[int]string{}
		for _, w := range words {
			if w[0] == 'G' || w[0] == 'M' {
				group, known := modalGroups[w]
				if groups[group] += w; !known || groups[group] != w {
					t.Errorf("line %d has %s of group %d: %s", i+1, groups[group], group, line)
				}
				said[w] = true
			}
			switch {
			case strings.ContainsRune("XYZ", rune(w[0])):
				for _, mode := range want {
					if !said[mode] {
						t.Errorf("line %d moves before %s: %s", i+1, mode, line)
					}
				}
			case w[0] == 'T' || w == "M6" || w == "G41" || w == "G42" || w == "G43" || w == "G28" || w == "G53":
				t.Errorf("line %d: %s", i+1, line)
			}
		}
	}
}

// unwrapped is a program without the percent signs round it and the numbers of its
// lines, which are checked: a block's is the line in the file.
func unwrapped(t tester, text string, o ngc.Options) string {
	t.Helper()
	lines := strings.SplitAfter(text, "\n")
	if o.Percent {
		if lines[len(lines)-2] != "%\n" {
			t.Errorf("the last line is %q", lines[len(lines)-2])
		}
		lines = lines[:len(lines)-2]
		if lines[0] == "%\n" { // it isn't there where a program is begun again
			lines[0] = "\n"
		}
	}
	first := 0
	for i, line := range lines {
		number := 0
		if n, _ := fmt.Sscanf(line, "N%d ", &number); n == 1 {
			first = max(first, number-i)
			if !o.Numbers || number != i+first {
				t.Errorf("line %d has the number %d", i+1, number)
			}
			_, lines[i], _ = strings.Cut(line, " ")
		} else if o.Numbers && line != "\n" && line != "" && line[0] != '(' {
			t.Errorf("line %d has no number: %s", i+1, line)
		}
	}
	return strings.Join(lines, "")
}

var comment = regexp.MustCompile(`\([^)]*\)`)

// slack in mm is a step of the last decimal: heights and places are rounded to
// it, heights that must be kept are rounded up.
func slack(s program.Params) float64 {
	step := 1.0
	if s.NGC.Units == ngc.Inches {
		step = 25.4
	}
	switch s.NGC.Decimals {
	case 0:
		return step * 1.001e-4
	default:
		return step * 1.001 / math.Pow10(s.NGC.Decimals)
	}
}

// checkMoves holds the moves of a program to what is safe.
func checkMoves(t tester, moves []ngc.Move, s program.Params) {
	t.Helper()
	first, turned := true, false
	for _, m := range moves {
		turned = turned || m.Kind == ngc.Dwell && m.Spindle == ngc.Clockwise && m.Speed == s.Speed && math.Abs(m.Seconds-s.SpinUp) < 1e-9
		if !m.Kind.Travels() {
			continue
		}
		if first && (m.Kind != ngc.Rapid || m.Named != ngc.AxisZ || !high(m.To.Z, s)) {
			t.Errorf("line %d: the first motion is %v of %v to %v", m.Line, m.Kind, m.Named, m.To.Z)
		}
		first = false
		switch m.Kind {
		case ngc.Rapid:
			checkRapid(t, m, s)
		default:
			checkFeed(t, m, s, turned)
		}
	}
	last := moves[len(moves)-1]
	if last.Kind != ngc.End || last.Spindle != ngc.SpindleOff || !high(last.To.Z, s) {
		t.Errorf("the program ends with %+v", last)
	}
}

// high reports whether a height is the safe one, or a step above it.
func high(z float64, s program.Params) bool { return z > s.Safe-1e-9 && z < s.Safe+slack(s) }

// checkRapid: across at the safe height only, else straight up, or straight down
// to the clearance.
func checkRapid(t tester, m ngc.Move, s program.Params) {
	t.Helper()
	if m.Named == ngc.AxisZ || m.From.Has(ngc.AxesXYZ) && m.From.Point() == m.To.Point() {
		if m.To.Z < min(program.Clearance, s.Safe)-1e-9 {
			t.Errorf("line %d: a rapid down to %v", m.Line, m.To.Z)
		}
		return
	}
	if !high(m.To.Z, s) || m.From.Z != m.To.Z {
		t.Errorf("line %d: a rapid across from height %v to %v", m.Line, m.From.Z, m.To.Z)
	}
}

// checkFeed: the spindle turns and has come to speed, no feed beyond the wanted
// one, none with a vertical part beyond the plunge feed.
func checkFeed(t tester, m ngc.Move, s program.Params, turned bool) {
	t.Helper()
	const rounding = 1e-9 // of the decimal numbers as floats
	if !turned || m.Spindle != ngc.Clockwise {
		t.Errorf("line %d cuts with the spindle %v, waited for: %v", m.Line, m.Spindle, turned)
	}
	greatest := s.Feed
	if m.From.Point() == m.To.Point() { // straight down
		greatest = s.Plunge
	}
	if !(m.Feed > 0 && m.Feed <= greatest*(1+rounding)) {
		t.Errorf("line %d: feed %v", m.Line, m.Feed)
	}
	length, known := m.Length()
	if down := m.From.Z - m.To.Z; !known || m.Feed*down/length > s.Plunge*(1+rounding) {
		t.Errorf("line %d goes down at %v mm/min, by %v mm", m.Line, m.Feed*down/length, down)
	}
}

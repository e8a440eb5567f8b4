package dryrun

import (
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/walls"
	"strapwork/pkg/work"
)

// asked is the good program's work with all that a job and a machine say.
func asked() Work {
	w := against(straight())
	w.Safe, w.Feed, w.Speed = 10, 1200, 16000
	w.Machine = Machine{
		Travel: bed(600, 400, 80), Feed: [2]float64{3000, 600}, Rapid: [2]float64{5000, 2000},
		Plunge: 300, Spindle: [2]float64{5000, 24000}, SpinUp: 3,
	}
	return w
}

// Each rule by a program that breaks it and by one that just doesn't. Limits are
// those of the tolerances: a feed may be over by a hundredth, a height within a
// millionth is the same.
func TestRules(t *testing.T) {
	for _, c := range []struct {
		name, text       string
		work             func(*Work)
		errors, warnings string
	}{
		{"good", good, nil, "", ""},
		{"across at the top", repaired(t, 4, "G4 P3\nG0 X0\nG1 Z0 F250\nG0 X1"), nil, "rapid-in-stock:7", ""},
		{"across a millionth above it", repaired(t, 4, "G4 P3\nG0 X0\nG1 Z0.000001 F250\nG0 X1"), nil, "rapid-in-stock:7", ""},
		{"across a hair above it", repaired(t, 4, "G4 P3\nG0 X0\nG1 Z0.00001 F250\nG0 X1"), nil, "", "low-travel:7"},
		{"slanting up from the top", repaired(t, 4, "G4 P3\nG0 X0\nG1 Z0 F250\nG0 X1 Z10"), nil, "rapid-in-stock:7", ""},
		{"straight up from the top", repaired(t, 4, "G4 P3\nG0 X0\nG1 Z0 F250\nG0 Z10"), nil, "", ""},
		{"rapid to the top", repaired(t, 5, "G0 X1.5875 Y0.9525\nG0 Z0"), nil, "", "rapid-to-top:6"},
		{"rapid to just above it", repaired(t, 5, "G0 X1.5875 Y0.9525\nG0 Z0.01"), nil, "", ""},
		{"ends in the wood", repaired(t, 16, ""), nil, "ends-low:17", ""},
		{"ends at the top", repaired(t, 16, "G0 Z0"), nil, "", ""},
		{"pauses in the wood", repaired(t, 9, "G1 X1.5875\nM0"), nil, "", "pause-low:10"},
		{"may pause in the wood", repaired(t, 9, "G1 X1.5875\nM1"), nil, "", "pause-low:10"},
		{"pauses above it", repaired(t, 16, "G0 Z10\nM0"), nil, "", ""},
		{"no dwell", repaired(t, 4, ""), nil, "", "no-dwell:3"},
		{"only a dwell before the start", strings.Replace(good, "S16000 M3\nG4 P3", "G4 P3\nS16000 M3", 1), nil, "", "no-dwell:4"},
		{"too short a dwell", repaired(t, 4, "G4 P2.9"), nil, "", "no-dwell:3"},
		{"two dwells", repaired(t, 4, "G4 P1.5\nG0 X1\nG4 P1.5"), nil, "", ""},
		{"any dwell, of a spindle not known", repaired(t, 4, "G4 P0.5"), func(w *Work) { w.Machine.SpinUp = 0 }, "", ""},
		{"a pause for a dwell", repaired(t, 4, "M0"), nil, "", ""},
		{"starts again", repaired(t, 16, "G0 Z10\nM5\nM3\nG0 X1.5875\nG1 Z-3 F250\nG0 Z10"), nil, "", "no-dwell:18"},
		{"starts again, cutting nothing", repaired(t, 16, "G0 Z10\nM5\nM3\nG0 X1.5875"), nil, "", ""},
		{"a long dwell", repaired(t, 4, "G4 P61"), nil, "", "long-dwell:4"},
		{"a minute", repaired(t, 4, "G4 P60"), nil, "", ""},
		{"above the job's feed", repaired(t, 7, "G1 X98.4125 F1213"), nil, "", "feed-high:7"},
		{"a hundredth above it", repaired(t, 7, "G1 X98.4125 F1211"), nil, "", ""},
		{"fast in the air", repaired(t, 5, "G0 X0\nG1 X1.5875 Y0.9525 F2900"), nil, "", ""},
		{"above what the bit takes", good, func(w *Work) { w.Bit.Chip, w.Feed = 0.0742, 0 }, "", "feed-high:7"}, // 1187.2 mm/min
		{"as much as the bit takes", good, func(w *Work) { w.Bit.Chip, w.Feed = 0.0743, 0 }, "", ""},            // 1188.8, and a hundredth
		{"a slower bit", good, func(w *Work) { w.Bit.Chip = 0.1; w.Feed = 1000 }, "", "feed-high:7"},            // the job's is the lesser
		{"more than the bit takes, by the job", good, func(w *Work) { w.Bit.Chip = 0.05 }, "", ""},
		{"slower than that", repaired(t, 3, "S15000 M3"), func(w *Work) { w.Bit.Chip = 0.05 }, "", "feed-high:7"}, // 0.08 mm a turn, where the job has 0.075
		{"no distance mode", repaired(t, 1, "G21 G17 G94 G54 G61"), nil, "unstated-mode:2", ""},
		{"a late distance mode", repaired(t, 1, "G21 G17 G94 G54 G61\nG90"), nil, "", ""},
		{"no plane", repaired(t, 1, "G21 G90 G94 G54 G61"), nil, "", ""},
		{"no plane for an arc", strings.Replace(repaired(t, 13, "G2 Y-0.9525 J-0.9525"), "G17 ", "", 1), nil, "unstated-mode:13 gouge:13", ""},
		{"no path mode", repaired(t, 1, "G21 G17 G90 G94 G54"), nil, "", "no-path-mode:6"},
		{"a machine without path modes", repaired(t, 1, "G21 G17 G90 G94 G54"), func(w *Work) { w.Machine.NoPath = true }, "", ""},
		{"corners as it likes", repaired(t, 1, "G21 G17 G90 G94 G54 G64"), nil, "rounds-corners:6", ""},
		{"corners too round", repaired(t, 1, "G21 G17 G90 G94 G54 G64 P0.0051"), nil, "rounds-corners:6", ""},
		{"corners round enough", repaired(t, 1, "G21 G17 G90 G94 G54 G64 P0.005"), nil, "", ""},
		{"round corners in the air", repaired(t, 3, "S16000 M3\nG64\nG0 X0\nG61"), nil, "", ""},
		{"under half the speed", repaired(t, 3, "S7900 M3"), nil, "", "spindle-slow:6"},
		{"half the speed", repaired(t, 3, "S8000 M3"), nil, "", ""},
	} {
		w := asked()
		if c.work != nil {
			c.work(&w)
		}
		r := judged(t, c.text, w)
		if got := strings.Join(rules(r.Findings, diag.Error), " "); got != c.errors {
			t.Errorf("%s: errors %q, want %q: %v", c.name, got, c.errors, r.Findings)
		}
		if got := strings.Join(rules(r.Findings, diag.Warning), " "); got != c.warnings {
			t.Errorf("%s: warnings %q, want %q: %v", c.name, got, c.warnings, r.Findings)
		}
		for _, f := range r.Findings {
			if f.Hint == "" || f.Pos.Line == 0 {
				t.Errorf("%s: %+v", c.name, f)
			}
		}
	}
}

// A rapid at a clamp's very top is too low without a clearance too, and is reported
// once; a cut there is not.
func TestRapidAtClampTop(t *testing.T) {
	box := geom.Box{Min: geom.Pt(20, 10), Max: geom.Pt(40, 30)}
	for _, c := range []struct{ text, want string }{
		{"G0 X30 Y20\nG0 Z12\nG0 X35\n", "hits-clamp:6"},
		{"G0 X30 Y20\nG0 Z12.000001\nG0 X35\n", "hits-clamp:6"},
		{"G0 X30 Y20\nG0 Z12.0001\nG0 X35\n", ""},
		{"G0 X30 Y20\nG0 Z12\nG1 X35 F500\n", ""},
		{"G0 X30 Y20\nG1 Z0 F500\nG0 X35\n", "hits-clamp:5 rapid-in-stock:6"},
	} {
		r := away(t, "G21 G17 G90 G94 G54\nG0 Z50\nS9000 M3\n"+c.text+"G0 Z50\nM5\nM2\n", func(w *Work) {
			w.Clamps, w.Clearance = []work.Clamp{{Box: box, Height: 12}}, 0
		})
		if got := strings.Join(rules(r.Findings, diag.Error), " "); got != c.want {
			t.Errorf("%q: %q, want %q: %v", c.text, got, c.want, r.Findings)
		}
	}
}

// The nut and the nose turn too: beside a clamp of 40 mm, with the nut's face 25
// mm above the tip and the nose 15 mm higher, they are low enough to meet it with
// the tip below 40 + 3 - 25 = 18 and below 3 mm (worked by hand).
func TestClampsAgainstTheSpindle(t *testing.T) {
	box := geom.Box{Min: geom.Pt(20, 10), Max: geom.Pt(40, 30)}
	body := work.Body{Stickout: 25, NutDiameter: 20, NutLength: 15, NoseDiameter: 60}
	for _, c := range []struct {
		name, text, want string
		body             work.Body
	}{
		{"nut too low", "G0 X7.1\nG0 Y20\nG0 Z17.9\n", "the collet nut", body}, // 12.9 from it, and 10 + 3 are kept
		{"nut clear of it", "G0 X6.9\nG0 Y20\nG0 Z17.9\n", "", body},
		{"nut high enough", "G0 X10\nG0 Y20\nG0 Z18\n", "", body},
		{"nose too low", "G0 X-12\nG0 Y20\nG0 Z2.9\n", "the spindle's nose", body},
		{"nose high enough", "G0 X-12\nG0 Y20\nG0 Z3\n", "", body},
		{"nose clear", "G0 X-13.1\nG0 Y20\nG0 Z2.9\n", "", body},
		{"nose from the nut's face", "G0 X-12\nG0 Y20\nG0 Z3\n", "the spindle's nose", work.Body{Stickout: 25, NutDiameter: 20, NoseDiameter: 60}},
		{"the bit itself", "G0 X17\nG0 Y20\nG0 Z2.9\n", "the bit", body},
		{"not known", "G0 X10\nG0 Y20\nG0 Z2.9\n", "", work.Body{}},
		{"no stick-out", "G0 X10\nG0 Y20\nG0 Z2.9\n", "", work.Body{NutDiameter: 20, NoseDiameter: 60}},
	} {
		r := away(t, "G21 G17 G90 G94 G54\nG0 Z60\nS9000 M3\n"+c.text+"G0 Z60\nM5\nM2\n", func(w *Work) {
			w.Clamps, w.Body = []work.Clamp{{Box: box, Height: 40}}, c.body
		})
		if c.want == "" && !r.OK() || c.want != "" && (r.Findings.Count(diag.Error) != 1 || !strings.HasPrefix(r.Findings[0].Message, c.want)) {
			t.Errorf("%s: %v, want %q", c.name, r.Findings, c.want)
		}
		if r.Unseen == c.body.Known() && c.body.NutLength > 0 {
			t.Errorf("%s: unseen %v", c.name, r.Unseen)
		}
	}
}

// What of the spindle isn't known matters where a clamp is higher than the flutes,
// which are never in the collet, hold the nut above the tip.
func TestUnseenBody(t *testing.T) {
	for _, c := range []struct {
		clamp float64
		bit   Bit
		body  work.Body
		want  bool
	}{
		{0, Bit{Slot: bit}, work.Body{}, false}, // no clamp
		{5, Bit{Slot: bit}, work.Body{}, true},
		{5, Bit{Slot: bit, Flute: 12}, work.Body{}, false}, // 5 + 3 mm, and the nut at 12 - 3 at least
		{7, Bit{Slot: bit, Flute: 12}, work.Body{}, true},
		{20, Bit{Slot: bit, Flute: 12}, work.Body{Stickout: 30}, false},
		{20, Bit{Slot: bit, Flute: 12}, work.Body{Stickout: 25}, true},
		{20, Bit{Slot: bit, Flute: 12}, work.Body{Stickout: 25, NutDiameter: 20}, true},
		{20, Bit{Slot: bit, Flute: 12}, work.Body{Stickout: 25, NutDiameter: 20, NoseDiameter: 50}, false},
	} {
		w := against(straight())
		w.Bit, w.Body = c.bit, c.body
		if c.clamp > 0 {
			w.Clamps = []work.Clamp{{Box: geom.Box{Min: geom.Pt(20, 50), Max: geom.Pt(40, 80)}, Height: c.clamp}}
		}
		if r := judged(t, good, w); r.Unseen != c.want {
			t.Errorf("%+v: %v", c, r.Unseen)
		}
	}
}

// Travel is a range with signs: where a machine's coordinates run negative, its
// zero is at the upper right.
func TestTravelRanges(t *testing.T) {
	for _, c := range []struct {
		travel [3][2]float64
		at     [3]float64
		want   string
	}{
		{[3][2]float64{{-600, 0}, {-400, 0}, {-80, 0}}, [3]float64{-300, -200, -40}, ""},
		{[3][2]float64{{-600, 0}, {-400, 0}, {-80, 0}}, [3]float64{300, -200, -40}, "out-of-travel:5"},
		{bed(600, 400, 80), [3]float64{-300, 200, -40}, "out-of-travel:5"},
		{[3][2]float64{{-600, 0}, {-400, 0}, {0, 80}}, [3]float64{-300, -200, 3}, ""},
		{[3][2]float64{{-600, 0}, {-400, 0}, {0, 80}}, [3]float64{-300, -200, 2.9}, "out-of-travel:11"},
	} {
		w := against(straight())
		w.Machine.Travel, w.Machine.At, w.Machine.AtKnown = c.travel, c.at, true
		r := judged(t, good, w)
		if got := strings.Join(rules(r.Findings, diag.Error), " "); got != c.want {
			t.Errorf("%v at %v: %q, want %q", c.travel, c.at, got, c.want)
		}
	}
}

// What the machine may leave its path by counts against the program: along a wall
// that it passes at 4 thousandths beyond, G64 P0.005 makes 9, which is taken, and
// at 6 it makes 11, which isn't; short of the wall by as much wood is left.
func TestBlendCounts(t *testing.T) {
	for _, c := range []struct {
		y    string
		path string
		want string
	}{
		{"0.9565", "G64 P0.005", ""},
		{"0.9585", "G64 P0.005", "gouge:9 gouge:9"},
		{"0.9585", "G61", ""},
		{"0.9585", "G64 P0.001", ""},
		{"0.9635", "G61", "gouge:9 gouge:9"},
		{"0.9485", "G64 P0.005", ""},
		{"0.9465", "G64 P0.005", "missed:18"},
		{"0.9465", "G61", ""},
	} {
		text := strings.ReplaceAll(strings.Replace(good, "G61", c.path, 1), "Y0.9525", "Y"+c.y)
		w := against(straight())
		r := judged(t, text, w)
		got := strings.Join(rules(r.Findings, diag.Error), " ")
		if c.want == "" && got != "" || c.want != "" && !strings.HasPrefix(got, strings.Fields(c.want)[0][:5]) {
			t.Errorf("y %s, %s: %q, want %q: %v", c.y, c.path, got, c.want, r.Findings)
		}
	}
	// The amount that is reported has the blend in it.
	r := judged(t, strings.ReplaceAll(strings.Replace(good, "G61", "G64 P0.005", 1), "Y0.9525", "Y0.9625"), against(straight()))
	near(t, "gouge", r.GougeMax.Amount, 0.015, 1e-6)
	// The same path again, with less of a path mode: it is judged by the worse.
	worse := strings.Replace(good, "G1 Z-3 F250", "G64 P0.005\nG1 Z-3 F250", 1)
	r = judged(t, strings.ReplaceAll(worse, "Y0.9525", "Y0.9585"), against(straight()))
	near(t, "gouge of the second depth", r.GougeMax.Amount, 0.011, 1e-6)
}

// Findings are in the program's units, and an F word that is proposed keeps to
// the limit: 250 mm/min is 9.84 inches per minute and a little more.
func TestUnitsOfTheProgram(t *testing.T) {
	inch := "G20 G17 G90 G94 G54 G61\nG0 Z0.4\nS16000 M3\nG4 P3\nG0 X0.0625 Y0.0375\nG1 Z-0.0591 F30\nG1 X3.8744 F47\nG0 Z0.4\nM5\nM2\n"
	w := asked()
	w.Machine.Plunge, w.Partial = 250, true
	r := judged(t, inch, w)
	if len(r.Findings) != 1 || r.Findings[0].Message != "plunges at 30 in/min at (0.062, 0.037) in; the limit is 9.84 in/min" || !strings.HasPrefix(r.Findings[0].Hint, "write F9.84 for it") {
		t.Fatal(r.Findings, r.Findings[0].Hint)
	}
	if r := judged(t, strings.Replace(inch, "F30", "F9.84", 1), w); len(r.Findings) != 0 {
		t.Error(r.Findings)
	}
}

// An F word that is proposed ends its finding, whatever the limit, the slope and
// the feed mode.
func TestProposedFeeds(t *testing.T) {
	for _, head := range []string{"G21", "G20"} {
		for _, c := range []struct{ line, word string }{
			{"G1 X9 Z-2.5 F2000", "F"},
			{"G1 Z-2 F700", "F"},
			{"G1 X60 F3500", "F"},
			{"G1 X60 F1300", "F"},
			{"G1 X9 Z-1.2 F4000", "F"},
			{"G93 G1 X9 Z-2.5 F300\nG94", "F"},
			{"G93 G1 X60 F55\nG94", "F"},
		} {
			w := asked()
			w.Partial = true
			w.Groove = in(walls.Groove{Area: region.New(geom.Rect(geom.Box{Min: geom.Pt(-9000, -9000), Max: geom.Pt(9000, 9000)}))}).Groove
			w.Depth, w.Machine.Travel = 100, [3][2]float64{}
			text := strings.Replace(repaired(t, 7, c.line), "G21", head, 1)
			if head == "G20" {
				text = strings.NewReplacer("F250", "F9", "F1200", "F45", "Z10", "Z1", "Z-1.5", "Z-0.1").Replace(text)
			}
			r := judged(t, text, w)
			at := 0
			for _, f := range r.Findings {
				if f.Pos.Line != 7 {
					continue
				}
				at++
				_, rest, found := strings.Cut(f.Hint, "write F")
				if !found {
					t.Fatalf("%s: %v", c.line, f)
				}
				value := strings.FieldsFunc(rest, func(r rune) bool { return r == ' ' || r == ',' })[0]
				lines := strings.Split(text, "\n")
				words := strings.Split(lines[6], " ")
				words[len(words)-1] = "F" + value
				lines[6] = strings.Join(words, " ")
				for _, g := range judged(t, strings.Join(lines, "\n"), w).Findings {
					if g.Pos.Line == 7 {
						t.Errorf("%s %s: after F%s: %v", head, c.line, value, g)
					}
				}
			}
			if at == 0 {
				t.Errorf("%s %s: nothing found: %v", head, c.line, r.Findings)
			}
		}
	}
}

// G53 leads to a height in the machine's own coordinates: within its travel, and
// above the clamps where it is known how the two lie to one another.
func TestMachineHeight(t *testing.T) {
	box := geom.Box{Min: geom.Pt(20, 10), Max: geom.Pt(40, 30)}
	for _, c := range []struct {
		text string
		at   bool
		want string
	}{
		{"G53 G0 Z0\nG0 X0 Y20\nG0 X60\n", true, ""},
		{"G53 G0 Z0\nG0 X0 Y20\nG0 X60\n", false, "blind-clamp:4"},
		{"G53 G0 Z-30\nG0 X0 Y20\nG0 X60\n", true, "hits-clamp:4"}, // z 10, and 12 and 3 mm are in the way
		{"G53 G0 Z1\n", true, "out-of-travel:2"},
		{"G53 G0 Z-81\n", true, "rapid-down:2 too-deep:2 out-of-travel:2"}, // it ends at -80, 40 below the top of the work
		{"G53 G0 Z-81\n", false, "out-of-travel:2"},
		{"G0 X0 Y20\nG53 G0 Z-50\nG0 X10\nG53 G0 Z0\n", true, "rapid-down:3 too-deep:3 rapid-in-stock:4"},
		{"G53 G1 Z-42 F100\nG0 X0 Y20\nM2\n", true, "spindle-off:2 unknown-place:2 rapid-in-stock:3 ends-low:4"},
	} {
		r := away(t, "G21 G17 G90 G94 G54 G61\n"+c.text+"G0 Z30\nM2\n", func(w *Work) {
			w.Clamps = []work.Clamp{{Box: box, Height: 12}}
			w.Machine.Travel, w.Machine.At, w.Machine.AtKnown = bed(600, 400, 80), [3]float64{100, 100, -40}, c.at
		})
		if got := strings.Join(rules(r.Findings, diag.Error), " "); got != c.want {
			t.Errorf("%q %v: %q, want %q: %v", c.text, c.at, got, c.want, r.Findings)
		}
	}
}

// Where it isn't known how the machine's coordinates lie to the program's, only
// their upper end is surely above the work.
func TestMachineHeightNotKnown(t *testing.T) {
	for _, c := range []struct {
		words  string
		travel [3][2]float64
		want   string
		hint   string
	}{
		{"G53 G0 Z0", bed(600, 400, 80), "", ""},
		{"G53 G0 Z-0.1", bed(600, 400, 80), "unknown-height:2", "write G53 G0 Z0,"},
		{"G53 G0 Z0", [3][2]float64{{0, 600}, {0, 400}, {0, 80}}, "unknown-height:2", "write G53 G0 Z80,"},
		{"G53 G0 Z80", [3][2]float64{{0, 600}, {0, 400}, {0, 80}}, "", ""},
		{"G53 G0 Z0", [3][2]float64{}, "unknown-height:2", "at = [x, y, z]"},
	} {
		r := away(t, "G21 G17 G90 G94 G54 G61\n"+c.words+"\nG0 X0 Y20\nG0 X60\nG0 Z30\nM2\n", func(w *Work) { w.Machine.Travel = c.travel })
		if got := strings.Join(rules(r.Findings, diag.Warning), " "); got != c.want || !r.OK() {
			t.Errorf("%s: %q, want %q: %v", c.words, got, c.want, r.Findings)
		}
		if c.hint != "" && (len(r.Findings) != 1 || !strings.Contains(r.Findings[0].Hint, c.hint)) {
			t.Errorf("%s: %v %v", c.words, r.Findings, r.Findings[0].Hint)
		}
	}
}

// A program that is right but for its zero is reported with how far it is off, and for
// which zero it seems to be written, if the job knows that one: also with another
// fault in it, or cutting only a part.
func TestShift(t *testing.T) {
	shifted := func(dx, dy float64, text string) string {
		var b strings.Builder
		if err := moveBy(&b, text, dx, dy); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	board := OtherZero{Word: "board", By: geom.Pt(100, 60)}
	half := strings.Join(strings.SplitAfter(good, "\n")[:8], "") + "G0 Z10\nM5\nM2\n"
	for _, c := range []struct {
		name, text string
		zero       OtherZero
		want       string
	}{
		{"as written", good, board, ""},
		{"the board's zero", shifted(100, 60, good), board, `everything is off by 100 mm in x and 60 mm in y: is zero = "board" meant?`},
		{"nearly the board's zero", shifted(100.4, 60, good), board, `everything is off by 100 mm in x and 60 mm in y: is zero = "board" meant?`},
		{"another", shifted(-7, 60, good), board, "everything is off by about -7 mm in x and 60 mm in y: check the zero"},
		{"no other zero", shifted(100, 60, good), OtherZero{}, "everything is off by about 100 mm in x and 60 mm in y: check the zero"},
		{"half of it", shifted(100, 60, half), board, `everything is off by 100 mm in x and 60 mm in y: is zero = "board" meant?`},
		{"turned", strings.NewReplacer("X", "Y", "Y", "X").Replace(good), board, ""},
		{"longer too", shifted(100, 60, strings.ReplaceAll(good, "X98.4125", "X118.4125")), board, ""},
	} {
		w := against(straight())
		w.OtherZero = c.zero
		r := judged(t, c.text, w)
		got := ""
		for _, f := range r.Findings {
			if i := strings.Index(f.Hint, "everything is off"); i >= 0 {
				got = f.Hint[i:]
			} else if c.want != "" && (f.Rule == "gouge" || f.Rule == "missed") {
				t.Errorf("%s: %v", c.name, f.Hint)
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q: %v", c.name, got, c.want, r.Findings)
		}
	}
}

// moveBy writes a program again with its X and Y words moved.
func moveBy(b *strings.Builder, text string, dx, dy float64) error {
	for line := range strings.SplitSeq(strings.TrimSuffix(text, "\n"), "\n") {
		words := strings.Fields(line)
		for i, w := range words {
			by := map[byte]float64{'X': dx, 'Y': dy}[w[0]]
			if by == 0 {
				continue
			}
			v, err := strconv.ParseFloat(w[1:], 64)
			if err != nil {
				return err
			}
			words[i] = w[:1] + strconv.FormatFloat(v+by, 'f', 4, 64)
		}
		b.WriteString(strings.Join(words, " ") + "\n")
	}
	return nil
}

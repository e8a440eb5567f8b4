package dryrun

import (
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
)

// asked is the good program's work with all that a job and a machine say.
func asked() Work {
	w := work(straight())
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
		{"across at the top", mended(t, 4, "G4 P3\nG0 X0\nG1 Z0 F250\nG0 X1"), nil, "rapid-in-stock:7", ""},
		{"across a millionth above it", mended(t, 4, "G4 P3\nG0 X0\nG1 Z0.000001 F250\nG0 X1"), nil, "rapid-in-stock:7", ""},
		{"across a hair above it", mended(t, 4, "G4 P3\nG0 X0\nG1 Z0.00001 F250\nG0 X1"), nil, "", "low-travel:7"},
		{"slanting up from the top", mended(t, 4, "G4 P3\nG0 X0\nG1 Z0 F250\nG0 X1 Z10"), nil, "rapid-in-stock:7", ""},
		{"straight up from the top", mended(t, 4, "G4 P3\nG0 X0\nG1 Z0 F250\nG0 Z10"), nil, "", ""},
		{"rapid to the top", mended(t, 5, "G0 X1.5875 Y0.9525\nG0 Z0"), nil, "", "rapid-to-top:6"},
		{"rapid to just above it", mended(t, 5, "G0 X1.5875 Y0.9525\nG0 Z0.01"), nil, "", ""},
		{"ends in the wood", mended(t, 16, ""), nil, "ends-low:17", ""},
		{"ends at the top", mended(t, 16, "G0 Z0"), nil, "", ""},
		{"pauses in the wood", mended(t, 9, "G1 X1.5875\nM0"), nil, "", "pause-low:10"},
		{"may pause in the wood", mended(t, 9, "G1 X1.5875\nM1"), nil, "", "pause-low:10"},
		{"pauses above it", mended(t, 16, "G0 Z10\nM0"), nil, "", ""},
		{"no dwell", mended(t, 4, ""), nil, "", "no-dwell:3"},
		{"only a dwell before the start", strings.Replace(good, "S16000 M3\nG4 P3", "G4 P3\nS16000 M3", 1), nil, "", "no-dwell:4"},
		{"too short a dwell", mended(t, 4, "G4 P2.9"), nil, "", "no-dwell:3"},
		{"two dwells", mended(t, 4, "G4 P1.5\nG0 X1\nG4 P1.5"), nil, "", ""},
		{"any dwell, of a spindle not known", mended(t, 4, "G4 P0.5"), func(w *Work) { w.Machine.SpinUp = 0 }, "", ""},
		{"a pause for a dwell", mended(t, 4, "M0"), nil, "", ""},
		{"starts again", mended(t, 16, "G0 Z10\nM5\nM3\nG0 X1.5875\nG1 Z-3 F250\nG0 Z10"), nil, "", "no-dwell:18"},
		{"starts again, cutting nothing", mended(t, 16, "G0 Z10\nM5\nM3\nG0 X1.5875"), nil, "", ""},
		{"a long dwell", mended(t, 4, "G4 P61"), nil, "", "long-dwell:4"},
		{"a minute", mended(t, 4, "G4 P60"), nil, "", ""},
		{"above the job's feed", mended(t, 7, "G1 X98.4125 F1213"), nil, "", "feed-high:7"},
		{"a hundredth above it", mended(t, 7, "G1 X98.4125 F1211"), nil, "", ""},
		{"fast in the air", mended(t, 5, "G0 X0\nG1 X1.5875 Y0.9525 F2900"), nil, "", ""},
		{"above what the bit takes", good, func(w *Work) { w.Bit.Chip = 0.0742 }, "", "feed-high:7"}, // 1187.2 mm a minute
		{"as much as the bit takes", good, func(w *Work) { w.Bit.Chip = 0.0743 }, "", ""},            // 1188.8, and a hundredth
		{"a slower bit", good, func(w *Work) { w.Bit.Chip = 0.1; w.Feed = 1000 }, "", "feed-high:7"}, // the job's is the lesser
		{"under half the speed", mended(t, 3, "S7900 M3"), nil, "", "spindle-slow:6"},
		{"half the speed", mended(t, 3, "S8000 M3"), nil, "", ""},
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

// A rapid at a clamp's very top is too low without a clearance too, and is told
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
			w.Clamps, w.Clearance = []Clamp{{Box: box, Height: 12}}, 0
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
	body := Body{Stickout: 25, Nut: 20, NutLength: 15, Nose: 60}
	for _, c := range []struct {
		name, text, want string
		body             Body
	}{
		{"nut too low", "G0 X7.1\nG0 Y20\nG0 Z17.9\n", "the collet nut", body}, // 12.9 from it, and 10 + 3 are kept
		{"nut clear of it", "G0 X6.9\nG0 Y20\nG0 Z17.9\n", "", body},
		{"nut high enough", "G0 X10\nG0 Y20\nG0 Z18\n", "", body},
		{"nose too low", "G0 X-12\nG0 Y20\nG0 Z2.9\n", "the spindle's nose", body},
		{"nose high enough", "G0 X-12\nG0 Y20\nG0 Z3\n", "", body},
		{"nose clear", "G0 X-13.1\nG0 Y20\nG0 Z2.9\n", "", body},
		{"nose from the nut's face", "G0 X-12\nG0 Y20\nG0 Z3\n", "the spindle's nose", Body{Stickout: 25, Nut: 20, Nose: 60}},
		{"the bit itself", "G0 X17\nG0 Y20\nG0 Z2.9\n", "the bit", body},
		{"not known", "G0 X10\nG0 Y20\nG0 Z2.9\n", "", Body{}},
		{"no stick-out", "G0 X10\nG0 Y20\nG0 Z2.9\n", "", Body{Nut: 20, Nose: 60}},
	} {
		r := away(t, "G21 G17 G90 G94 G54\nG0 Z60\nS9000 M3\n"+c.text+"G0 Z60\nM5\nM2\n", func(w *Work) {
			w.Clamps, w.Body = []Clamp{{Box: box, Height: 40}}, c.body
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
		body  Body
		want  bool
	}{
		{0, Bit{Slot: bit}, Body{}, false}, // no clamp
		{5, Bit{Slot: bit}, Body{}, true},
		{5, Bit{Slot: bit, Flute: 12}, Body{}, false}, // 5 + 3 mm, and the nut at 12 - 3 at least
		{7, Bit{Slot: bit, Flute: 12}, Body{}, true},
		{20, Bit{Slot: bit, Flute: 12}, Body{Stickout: 30}, false},
		{20, Bit{Slot: bit, Flute: 12}, Body{Stickout: 25}, true},
		{20, Bit{Slot: bit, Flute: 12}, Body{Stickout: 25, Nut: 20}, true},
		{20, Bit{Slot: bit, Flute: 12}, Body{Stickout: 25, Nut: 20, Nose: 50}, false},
	} {
		w := work(straight())
		w.Bit, w.Body = c.bit, c.body
		if c.clamp > 0 {
			w.Clamps = []Clamp{{Box: geom.Box{Min: geom.Pt(20, 200), Max: geom.Pt(40, 230)}, Height: c.clamp}}
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
		w := work(straight())
		w.Machine.Travel, w.Machine.At, w.Machine.AtKnown = c.travel, c.at, true
		r := judged(t, good, w)
		if got := strings.Join(rules(r.Findings, diag.Error), " "); got != c.want {
			t.Errorf("%v at %v: %q, want %q", c.travel, c.at, got, c.want)
		}
	}
}

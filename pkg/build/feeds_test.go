package build

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/diag"
)

// What fits the bit, worked by hand from the profiles' tables: f = n z c of the
// handbooks with the middle of the chip loads, down to a whole millimetre or a tenth
// of an inch a minute; a quarter of it straight down; half the bit's width a step, a
// third under 1.5 mm. None of it is warned of.
func TestFeedsFitTheBit(t *testing.T) {
	for _, c := range []struct {
		units, bit, program       string
		feed, plunge, speed, step float64
		says                      string
	}{
		{"mm", "4", "", 763, 190, 16000, 2, "feed 763 mm/min: one flute, since no cutter is named, at 16000 rpm, 0.0477 mm/tooth, from the table for straight bits of 3.175 mm and 6 mm"}, // c = 0.0375 + 0.035 x 0.825 / 2.825
		{"mm", "1.2", "", 166, 41, 16000, 0.4, "0.0104 mm/tooth, in proportion to its width, from the table for straight bits of 1.5 mm; plunge 41 mm/min; step 0.4 mm, a third of the bit's width"},
		{"mm", "3", `cutter = "straight-3"`, 1200, 300, 16000, 1.5, "feed 1200 mm/min: 2 flutes at 16000 rpm, 0.0375 mm/tooth"},
		{"mm", "3", "cutter = \"straight-3\"\nspeed = 12000", 900, 225, 12000, 1.5, "feed 900 mm/min: 2 flutes at 12000"},
		{"mm", "3", "feed = 300\nstep = 1", 300, 75, 16000, 1, "speed 16000 rpm; plunge 75 mm/min"},
		{"mm", "6", "cutter = \"straight-6\"\nmachine = \"machine-300x180\"", 1500, 375, 16000, 3, "feed 1500 mm/min, the machine's limit"}, // 2320 for the bit
		{"mm", "12", "", 1152, 288, 15900, 6, "speed 15900 rpm"},                                                                            // 600 m/min are 15915 turns
		{"in", `"3/32 in"`, "", 16.4 * 25.4, 4.1 * 25.4, 16000, 25.4 * 3 / 64, "feed 16.4 in/min: one flute, since no cutter is named, at 16000 rpm, 0.00103 in/tooth"},
	} {
		text := fmt.Sprintf("units = %q\n[motif]\n[[motif.line]]\nfrom = [0, 0]\nto = [100, 0]\n[inlay]\ndepth = \"2 mm\"\nwidth = \"12 mm\"\n[router]\nguide = \"none\"\nbit = %s\n[program]\n%s\n", c.units, c.bit, c.program)
		_, r := underway(t, "job.toml", text)
		g := r.Grooving
		for i, v := range [][2]float64{{g.Feed, c.feed}, {g.Plunge, c.plunge}, {g.Speed, c.speed}, {g.Step, c.step}} {
			if math.Abs(v[0]-v[1]) > 1e-9*v[1] {
				t.Errorf("bit %s, %q: number %d is %v, want %v", c.bit, c.program, i+1, v[0], v[1])
			}
		}
		r.tidy()
		if n := r.Findings.Count(diag.Warning); n > 0 || !strings.Contains(r.Findings.Error(), c.says) {
			t.Errorf("bit %s, %q: %d warnings, want %q in\n%s", c.bit, c.program, n, c.says, r.Findings.Error())
		}
	}
}

// A given feed, plunge or speed is held against the same table, cutter named or
// not, and the value that the hint names ends it.
func TestGivenFeedsAreHeld(t *testing.T) {
	for _, c := range []struct {
		program, rule string
		key           diag.Key
		value         string
	}{
		{"feed = 2000", ruleCutter, "program.feed", "960"}, // 0.06 x 16000
		{"feed = 100", ruleCutter, "program.feed", "240"},
		{"feed = 3000\ncutter = \"straight-3\"", ruleCutter, "program.feed", "1920"},
		{"plunge = 900", ruleCutter, "program.plunge", "480"},
		{"speed = 40000", ruleCutter, "program.speed", "30000"},
		{"speed = 3000", ruleCutter, "program.speed", "8500"}, // 80 m/min are 8488 turns
		{"feed = 9000\nmachine = \"machine-600x400\"", ruleFeed, "program.feed", "960"},
		{"speed = 50000\nmachine = \"machine-600x400\"", ruleFeed, "program.speed", "24000"},
	} {
		find := func(program string) diag.Findings {
			text := "units = \"mm\"\n[motif]\n[[motif.line]]\nfrom = [0, 0]\nto = [100, 0]\n[inlay]\ndepth = 2\nwidth = 5\n[router]\nguide = \"none\"\nbit = 3\n[program]\n" + program + "\n"
			_, r := underway(t, "job.toml", text)
			r.tidy()
			var found diag.Findings
			for _, f := range r.Findings {
				if f.Severity > diag.Note {
					found.Add(f)
				}
			}
			return found
		}
		found := find(c.program)
		if len(found) != 1 || found[0].Rule != c.rule || len(found[0].Cures) != 1 || found[0].Cures[0].Key != c.key || found[0].Cures[0].Value != c.value {
			t.Errorf("%q: %+v", c.program, found)
			continue
		}
		key := strings.TrimPrefix(string(c.key), "program.")
		lines := strings.Split(c.program, "\n")
		for i, l := range lines {
			if strings.HasPrefix(l, key) {
				lines[i] = key + " = " + c.value
			}
		}
		if again := find(strings.Join(lines, "\n")); len(again) > 0 {
			t.Errorf("%q with %s: %v", c.program, c.value, again)
		}
	}
}

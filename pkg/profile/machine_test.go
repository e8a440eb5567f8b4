package profile_test

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"strapwork/pkg/diag"
	"strapwork/pkg/profile"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
	"strapwork/profiles"
)

const machine = `kind = "machine"
about = "the one in the cellar"
units = "in"
travel = [600, 400, 80]
feed = [3000, 1000]
rapid = [5000, 1500]
acceleration = [300, 150]
spindle = [8000, 24000]
spin_up = 4
decimals = 4
dwell = "milliseconds"
repeat = true
rewind = true
arcs = false
chord = 0.005
dwell_again = 0.5
helix = false
percent = true
line_numbers = true
path = "none"
park = [-20, 30.5]
starts_with = ["G90", "g17", "G90"]
stickout = 32
nut = 19.5
nut_length = 18
nose = 43
`

const bit = `kind = "bit"
about = "the old one"
diameter = 3.175
flutes = 2
flute = 12
shank = 6.35
chip_load = [0.015, 0.06]
surface = [80, 300]
max_speed = 30000
`

// from hands out one text for every path.
func from(text string) func(string) ([]byte, error) {
	return func(string) ([]byte, error) { return []byte(text), nil }
}

func TestMachineEveryKey(t *testing.T) {
	m, err := profile.OpenMachine("shop/cellar.toml", from(machine))
	want := profile.Machine{
		Name: "shop/cellar.toml", About: "the one in the cellar", Units: unit.Inch, Travel: [3][2]float64{{0, 600}, {0, 400}, {-80, 0}}, Feed: [2]float64{3000, 1000},
		Rapid: [2]float64{5000, 1500}, Accel: [2]float64{300, 150}, Spindle: [2]float64{8000, 24000}, SpinUp: 4, DwellAgain: 0.5, Decimals: 4,
		DwellMillis: true, Repeat: true, Rewind: true, Percent: true, LineNumbers: true, NoHelix: true, Path: profile.PathNone,
		Park: [2]float64{-20, 30.5}, Parks: true, Chord: 0.005, StartsWith: "G17 G90",
		Body: work.Body{Stickout: 32, NutDiameter: 19.5, NutLength: 18, NoseDiameter: 43},
	}
	if d := cmp.Diff(want, m); d != "" || err != nil {
		t.Errorf("%v, -want +got\n%s", err, d)
	}
}

// A machine's own coordinates may run negative, or to both sides.
func TestMachineTravel(t *testing.T) {
	for _, c := range []struct {
		text string
		want [3][2]float64
	}{
		{"[600, 400, 80]", [3][2]float64{{0, 600}, {0, 400}, {-80, 0}}},
		{"[[-600, 0], [-400, 0], [-80, 0]]", [3][2]float64{{-600, 0}, {-400, 0}, {-80, 0}}},
		{"[[-300.5, 300], 400, [0, 80]]", [3][2]float64{{-300.5, 300}, {0, 400}, {0, 80}}},
	} {
		m, err := profile.ParseMachine("x", "x.toml", []byte(strings.Replace(machine, "[600, 400, 80]", c.text, 1)))
		if err != nil || m.Travel != c.want || !m.Known(0) || m.Span(2) != 80 {
			t.Errorf("%s: %v, %v", c.text, m.Travel, err)
		}
	}
}

// Words that say what goes without saying are taken.
func TestMachineUsual(t *testing.T) {
	m, err := profile.ParseMachine("x", "x.toml", []byte("kind = \"machine\"\nunits = \"mm\"\nhelix = true\npath = \"exact\"\npark = \"stay\"\ndwell = \"seconds\"\nspin_up = 3\npercent = false\n"))
	if d := cmp.Diff(profile.Machine{Name: "x", SpinUp: 3, DwellAgain: 3}, m); d != "" || err != nil {
		t.Errorf("%v, -want +got\n%s", err, d)
	}
}

// What a profile leaves out isn't known, but the wait for the spindle is never
// nothing.
func TestMachineLeavesOut(t *testing.T) {
	m, err := profile.ParseMachine("x", "x.toml", []byte("kind = \"machine\"\nunits = \"mm\"\narcs = true\n"))
	if d := cmp.Diff(profile.Machine{Name: "x", SpinUp: 5, DwellAgain: 5}, m); d != "" || err != nil {
		t.Errorf("%v, -want +got\n%s", err, d)
	}
	if p := profile.PlainMachine(); p.SpinUp != 5 || p.Name != "" || p.Units != unit.MM || p.DwellAgain != 5 || p.Travel != [3][2]float64{} || p.Known(0) || p.About == "" {
		t.Errorf("%+v", p)
	}
}

func TestBitEveryKey(t *testing.T) {
	b, err := profile.OpenBit("./old.toml", from(bit))
	want := profile.Bit{
		Name: "./old.toml", About: "the old one", Diameter: 3.175, Flutes: 2, Flute: 12, Shank: 6.35,
		ChipLoad: [2]float64{0.015, 0.06}, Surface: [2]float64{80, 300}, MaxSpeed: 30000,
	}
	if d := cmp.Diff(want, b); d != "" || err != nil {
		t.Errorf("%v, -want +got\n%s", err, d)
	}
	b, err = profile.ParseBit("x", "x.toml", []byte("kind = \"bit\"\ndiameter = 2\nflutes = 1\n"))
	if d := cmp.Diff(profile.Bit{Name: "x", Diameter: 2, Flutes: 1}, b); d != "" || err != nil {
		t.Errorf("%v, -want +got\n%s", err, d)
	}
	if r := b.Check(profile.Use{Feed: 5000, Plunge: 5000, Speed: 90000, Slot: 2}); len(r) != 0 {
		t.Errorf("nothing is known of the bit's limits, but %v", r)
	}
}

func TestBuiltInMachines(t *testing.T) {
	list := profile.Machines()
	files, _ := fs.Glob(profiles.Files, "machine-*.toml")
	if len(list) < 4 || len(list) != len(files) {
		t.Fatalf("%d machines of %d files", len(list), len(files))
	}
	var arcs, lines, inches, odd bool
	for _, m := range list {
		if m.About == "" || !strings.HasPrefix(m.Name, "machine-") {
			t.Errorf("%+v", m)
		}
		for i, v := range append(append(append(append([]float64{m.Span(0), m.Span(1), m.Span(2)}, m.Feed[:]...), m.Rapid[:]...), m.Accel[:]...), m.Spindle[:]...) {
			if v <= 0 {
				t.Errorf("%s: measure %d is %v", m.Name, i, v)
			}
		}
		if m.Rapid[0] < m.Feed[0] || m.Rapid[1] < m.Feed[1] {
			t.Errorf("%s is faster when it cuts: %v, %v", m.Name, m.Rapid, m.Feed)
		}
		arcs = arcs || m.Units == unit.MM && m.Chord == 0
		lines = lines || m.Units == unit.MM && m.Chord > 0
		inches = inches || m.Units == unit.Inch
		odd = odd || m.DwellMillis && m.Repeat
		if again, err := profile.OpenMachine(m.Name, nil); err != nil || again != m {
			t.Errorf("%s: %+v, %v", m.Name, again, err)
		}
	}
	if !arcs || !lines || !inches || !odd {
		t.Errorf("arcs %v, lines %v, inches %v, milliseconds and repeated words %v", arcs, lines, inches, odd)
	}
}

// The built-in bits, run at their chip load's middle and at a speed that a
// built-in machine has, give no remark.
func TestBuiltInBits(t *testing.T) {
	list := profile.Bits()
	files, _ := fs.Glob(profiles.Files, "bit-*.toml")
	if len(list) < 6 || len(list) != len(files) {
		t.Fatalf("%d bits of %d files", len(list), len(files))
	}
	found := map[float64]bool{}
	for _, b := range list {
		found[b.Diameter] = true
		if b.About == "" || b.Flutes == 0 || b.Flute <= b.Diameter || b.Shank == 0 || b.MaxSpeed == 0 || b.Name != fmt.Sprintf("straight-%g", b.Diameter) {
			t.Errorf("%+v", b)
		}
		const rpm = 16000
		feed := b.FeedFor((b.ChipLoad[0]+b.ChipLoad[1])/2, rpm)
		if r := b.Check(profile.Use{Feed: feed, Plunge: feed / 4, Speed: rpm, Slot: b.Diameter}); len(r) != 0 {
			t.Errorf("%s at %v mm/min: %v", b.Name, feed, r)
		}
	}
	for _, d := range []float64{1.5, 2, 3, 3.175, 6, 6.35} {
		if !found[d] {
			t.Errorf("no bit of %v mm", d)
		}
	}
}

// Worked by the handbook formulas n = 1000 v / (pi d) and f = n z c, as
// machinists' handbooks print them with pi = 3.1416; speeds to the turn.
func TestHandbookFormulas(t *testing.T) {
	for _, c := range []struct{ d, v, n float64 }{
		{10, 100, 3183}, {20, 30, 477}, {6, 25, 1326}, {3, 150, 15915}, {6.35, 300, 15038},
	} {
		b := profile.Bit{Diameter: c.d, Flutes: 2}
		if n := b.SpeedFor(c.v); math.Abs(n-c.n) > 0.5 {
			t.Errorf("d %v, v %v: n %v, want %v", c.d, c.v, n, c.n)
		}
		if v := b.SurfaceSpeed(c.n); math.Abs(v-c.v) > c.v/c.n { // n is to the turn
			t.Errorf("d %v, n %v: v %v, want %v", c.d, c.n, v, c.v)
		}
	}
	for _, c := range []struct {
		n    float64
		z    int
		c, f float64
	}{{3183, 4, 0.05, 636.6}, {18000, 2, 0.04, 1440}, {16000, 1, 0.0625, 1000}} {
		b := profile.Bit{Diameter: 10, Flutes: c.z}
		if f := b.FeedFor(c.c, c.n); math.Abs(f-c.f) > 1e-9 {
			t.Errorf("%+v gives the feed %v", c, f)
		}
		if got := b.ChipLoadAt(c.f, c.n); math.Abs(got-c.c) > 1e-12 {
			t.Errorf("%+v gives the chip load %v", c, got)
		}
	}
}

func TestCheckBit(t *testing.T) {
	old, err := profile.ParseBit("old", "old.toml", []byte(bit))
	if err != nil {
		t.Fatal(err)
	}
	wide := old
	wide.Diameter = 6
	usual := profile.Usual(3.175)
	machine := profile.Use{MostFeed: 400, Spindle: [2]float64{8000, 24000}}
	fast := profile.Use{Spindle: [2]float64{18000, 24000}, MostFeed: 400}
	for _, c := range []struct {
		bit                     profile.Bit
		u                       profile.Use
		feed, plunge, rpm, slot float64
		want, hint              string // none: all is well
		key, value              string
	}{
		{old, profile.Use{}, 1000, 250, 16000, 3.2, "", "", "", ""},   // c = 0.03125, v = 159.6
		{old, profile.Use{}, 1920, 250, 16000, 3.175, "", "", "", ""}, // c = 0.06: just allowed
		{old, profile.Use{}, 480, 250, 16000, 3.175, "", "", "", ""},  // c = 0.015
		{old, profile.Use{}, 1921, 250, 16000, 3.175, "each tooth of old takes 0.06 mm at a feed of 1921 mm/min, above the usual 0.06", "write feed = 1920;", "feed", "1920"}, // f = n z c
		{old, profile.Use{}, 2880, 250, 16000, 3.175, "each tooth of old takes 0.09 mm at a feed of 2880 mm/min, above", "write feed = 1920;", "feed", "1920"},
		{old, profile.Use{}, 160, 40, 16000, 3.175, "each tooth of old takes 0.005 mm at a feed of 160 mm/min, below the usual 0.015", "write feed = 480;", "feed", "480"},
		{old, machine, 160, 40, 16000, 3.175, "each tooth of old takes 0.005 mm", "the machine is too slow for this bit", "", ""},                                              // 160 / 0.03 = 5333
		{old, machine, 360, 40, 16000, 3.175, "each tooth of old takes 0.0112 mm", "write speed = 12000, since the machine feeds no faster than 400 mm/min", "speed", "12000"}, // 360 / (2 0.015)
		{old, profile.Use{}, 400, 100, 6000, 3.175, "the surface speed of old is 60 m/min, below the usual 80", "write speed = 8100;", "speed", "8100"},                        // 80000 / (3.175 pi) = 8020.4
		{old, profile.Use{}, 1000, 250, 16000, 2.9, "a slot of 2.9 mm isn't what a bit of 3.175 mm cuts (old)", `write cutter = "straight-3", if that bit is in`, "cutter", `"straight-3"`},
		{old, profile.Use{}, 1000, 250, 16000, 3.43, "a slot of 3.43 mm", "check which bit is in, and name its profile: cutter = ...", "", ""},
		{old, profile.Use{}, 1500, 250, 30001, 3.175, "30001 rpm is above the 30000 rpm that old is made for", "write speed = 30000;", "speed", "30000"},         // v = 299.2
		{old, profile.Use{}, 1500, 961, 16000, 3.175, "a plunge feed of 961 mm/min is fast for old", "write plunge = 960;", "plunge", "960"},                     // half of 1920
		{wide, profile.Use{}, 1000, 250, 20000, 6, "the surface speed of old is 377 m/min, above the usual 300 m/min", "write speed = 15900;", "speed", "15900"}, // 300000 / (6 pi) = 15915.5
		{wide, fast, 1000, 250, 20000, 6, "the surface speed of old is 377 m/min", "the machine's spindle runs at 18000 to 24000 rpm: take another bit", "", ""},
		{usual, profile.Use{}, 960, 250, 16000, 3.175, "", "", "", ""},
		{usual, profile.Use{}, 961, 250, 16000, 3.175, "a bit of 3.175 mm with one flute takes 0.0601 mm", `write feed = 960, or name the bit's profile, which says how many flutes it has: cutter = "straight-3.175";`, "feed", "960"},
		{usual, profile.Use{}, 239, 50, 16000, 3.175, "a bit of 3.175 mm with one flute takes 0.0149 mm", "write feed = 240;", "feed", "240"},
	} {
		c.u.Feed, c.u.Plunge, c.u.Speed, c.u.Slot = c.feed, c.plunge, c.rpm, c.slot
		remarks := c.bit.Check(c.u)
		if c.want == "" {
			if len(remarks) != 0 {
				t.Errorf("%+v: %v", c.u, remarks)
			}
			continue
		}
		if len(remarks) != 1 {
			t.Errorf("%+v: %v", c.u, remarks)
			continue
		}
		r, value := remarks[0], ""
		if r.Value != nil {
			value = r.Value.In(unit.MM)
		}
		if hint := r.Hint.String(); !strings.Contains(r.Text.String(), c.want) || !strings.Contains(hint, c.hint) || r.Key != c.key && c.value != "" || value != c.value ||
			!strings.Contains(hint, "; the cutter maker's sheet comes before this table") {
			t.Errorf("%+v: %s\nhint: %s\n%s = %s", c.u, r.Text, hint, r.Key, value)
		}
	}
}

func TestMachineAndBitMistakes(t *testing.T) {
	for _, c := range []struct{ old, new, want, hint string }{
		{`"machine"`, `"bit"`, `x.toml:1:8: error: the profile is of kind "bit", where one of kind "machine" is needed`, "another profile"},
		{`kind = "machine"`, "", "x.toml:1:1: error: the profile doesn't say what it is of", `kind = "machine"`},
		{`"in"`, `"cm"`, `x.toml:3:9: error: units cannot be "cm"`, `did you mean "mm"?`},
		{"travel", "travle", `x.toml:4:1: error: there is no key "travle" in a machine's profile`, "did you mean travel?"},
		{"feed", "Feed", `x.toml:5:1: error: there is no key "Feed" in a machine's profile`, "keys are in lower case: feed"},
		{"[600, 400, 80]", "[600, 400]", "x.toml:4:10: error: travel must have three values, not 2", "travel = [600, 400, 80]"},
		{"[600, 400, 80]", `[600, "wide", 80]`, `x.toml:4:17: error: travel: y: "wide" is not defined`, "a length with its unit in quotes"},
		{"[600, 400, 80]", "[600, [400], 80]", "x.toml:4:16: error: travel: y must be a length, or two", "travel = [[-600, 0], [-400, 0], [-80, 0]]"},
		{"[600, 400, 80]", "[600, 400, [0, true]]", "x.toml:4:25: error: travel: z must be a number or an expression, not true or false", "a length with its unit in quotes"},
		{"[600, 400, 80]", "[[0, -600], 400, 80]", "x.toml:4:11: error: travel: x goes from 0 to -600, which is nowhere or backwards", "the lesser end first"},
		{"[600, 400, 80]", "[[5, 5], 400, 80]", "x.toml:4:11: error: travel: x goes from 5 to 5, which is nowhere or backwards", "the lesser end first"},
		{"[600, 400, 80]", "[[-inf, 5], 400, 80]", "x.toml:4:12: error: travel: x cannot be -inf", "write a number"},
		{"[600, 400, 80]", "[[nan, 5], 400, 80]", "x.toml:4:12: error: travel: x cannot be nan", "write a number"},
		{"[600, 400, 80]", "600", "x.toml:4:10: error: travel must be a list of three values, not a whole number", ""},
		{"dwell_again = 0.5", "dwell_again = 4.5", "x.toml:16:15: error: dwell_again must be at most 4, which is spin_up, not 4.5", "dwell_again = 0"},
		{"dwell_again = 0.5", "dwell_again = -1", "x.toml:16:15: error: dwell_again must not be negative, as -1 is", "dwell_again = 0"},
		{"dwell_again = 0.5", "dwell_again = nan", "x.toml:16:15: error: dwell_again cannot be nan", "write a number"},
		{"dwell_again", "dwel_again", `x.toml:16:1: error: there is no key "dwel_again" in a machine's profile`, "did you mean dwell_again?"},
		{"helix = false", "helix = true", "x.toml:17:9: error: a machine without arcs has no helix", "helix = false"},
		{"helix = false", `helix = "no"`, "x.toml:17:9: error: helix must be true or false, not text", ""},
		{"percent = true", `percent = 1`, "x.toml:18:11: error: percent must be true or false, not a whole number", ""},
		{"line_numbers = true", "line_number = true", `x.toml:19:1: error: there is no key "line_number" in a machine's profile`, "did you mean line_numbers?"},
		{`path = "none"`, `path = "blend"`, `x.toml:20:8: error: path cannot be "blend"`, `"exact", "none"`},
		{"park = [-20, 30.5]", `park = "home"`, `x.toml:21:8: error: park cannot be "home"`, "park = [0, 0]"},
		{"park = [-20, 30.5]", `park = [0, 0, 10]`, "x.toml:21:8: error: park must have two lengths, not 3", "park = [0, 0]"},
		{"park = [-20, 30.5]", `park = [0, 1e9]`, "x.toml:21:12: error: park of 1000000000 mm is beyond 100 m", "is the unit right?"},
		{"park = [-20, 30.5]", `park = ["left", 0]`, `x.toml:21:10: error: park: "left" is not defined`, "a length with its unit in quotes"},
		{`"g17"`, `"G91"`, `x.toml:22:23: error: starts_with cannot hold "G91"`, "it may hold G17, G20, G21, G40, G49, G54, G61, G80, G90, G94"},
		{`"g17"`, `"G64"`, `x.toml:22:23: error: starts_with cannot hold "G64"`, `starts_with = ["G17", "G90"]`},
		{`"g17"`, `"G17 G90"`, `x.toml:22:23: error: starts_with cannot hold "G17 G90"`, `starts_with = ["G17", "G90"]`},
		{`"g17"`, `"G20", "G21"`, "x.toml:22:15: error: starts_with holds both G20 and G21", "not both"},
		{`"g17"`, `17`, `x.toml:22:23: error: starts_with cannot hold "17"`, ""},
		{"starts_with", "start_with", `x.toml:22:1: error: there is no key "start_with" in a machine's profile`, "did you mean starts_with?"},
		{"[600, 400, 80]", "[600, 400, -80]", "x.toml:4:21: error: travel: z must be more than 0, not -80 mm", "travel = ["},
		{"[600, 400, 80]", "[600, 400, nan]", "x.toml:4:21: error: travel: z cannot be nan", "write a number"},
		{"[3000, 1000]", "[inf, 1000]", "x.toml:5:9: error: feed cannot be inf", "write a number"},
		{"[3000, 1000]", "3000", "x.toml:5:8: error: feed must be a list of two lengths per minute, not a whole number", ""},
		{"[5000, 1500]", "[0, 1500]", "x.toml:6:10: error: rapid must be more than 0, not 0 mm/min", "rapid = ["},
		{"[300, 150]", "[300, 150, 3]", "x.toml:7:16: error: acceleration must have two numbers, not 3", "acceleration = ["},
		{"[8000, 24000]", "[24000, 8000]", "x.toml:8:11: error: spindle goes from 24000 down to 8000", "the lesser first"},
		{"spin_up = 4", "spin_up = 0", "x.toml:9:11: error: spin_up must be 1 to 60 s, not 0", "spin_up = 4"},
		{"spin_up = 4", "spin_up = 4000", "x.toml:9:11: error: spin_up must be 1 to 60 s, not 4000", "spin_up = 4"},
		{"decimals = 4", "decimals = 3", `x.toml:10:12: error: decimals must be at least 4 where units are "in", not 3`, "decimals = 4"},
		{"decimals = 4", "decimals = 7", "x.toml:10:12: error: decimals must be 3 to 6, not 7", "decimals = 4"},
		{"decimals = 4", "decimals = 0", "x.toml:10:12: error: decimals must be 3 to 6, not 0", "decimals = 4"},
		{`"milliseconds"`, `"ms"`, `x.toml:11:9: error: dwell cannot be "ms"`, "milliseconds"},
		{`"milliseconds"`, "0.5", "x.toml:11:9: error: dwell must be a word in quotes, not a number", "how long to wait is spin_up, and dwell_again at later strands"},
		{"arcs = false", "arcs = true", "x.toml:15:9: error: chord is for machines without arcs", "arcs = false"},
		{"chord = 0.005", "", "x.toml:14:8: error: a machine without arcs needs a chord error", "chord = 0.005"},
		{"chord = 0.005", "chord = 0.01", "x.toml:15:9: error: chord must be 0.004 to 0.008 mm, not 0.01 mm", "chord = 0.005"},
	} {
		_, err := profile.ParseMachine("x", "x.toml", []byte(strings.Replace(machine, c.old, c.new, 1)))
		one(t, c.new+" for "+c.old, err, c.want, c.hint)
	}
	for _, c := range []struct{ old, new, want, hint string }{
		{`"bit"`, `"machine"`, `x.toml:1:8: error: the profile is of kind "machine", where one of kind "bit" is needed`, "another profile"},
		{"diameter = 3.175", "", "x.toml:1:1: error: diameter is missing", "diameter = 3.175"},
		{"diameter = 3.175", "diameter = 0", "x.toml:3:12: error: diameter must be more than 0, not 0 mm", "diameter = 3.175"},
		{"flutes = 2", "", "x.toml:1:1: error: flutes is missing", "flutes = 2"},
		{"flutes = 2", "flutes = 0", "x.toml:4:10: error: flutes must be 1 to 12, not 0", "flutes = 2"},
		{"flute = 12", "flute = -12", "x.toml:5:9: error: flute must be more than 0, not -12 mm", "flute = 12"},
		{"shank = 6.35", "shank = 99", "x.toml:6:9: error: shank must be at most 50 mm, not 99 mm", "shank = 6.35"},
		{"[0.015, 0.06]", "[0.06, 0.015]", "x.toml:7:13: error: chip_load goes from 0.06 down to 0.015", "the lesser first"},
		{"[80, 300]", "[80]", "x.toml:8:11: error: surface must have two numbers, not 1", "surface = [80, 300]"},
		{"max_speed = 30000", "max_speed = 1e9", "x.toml:9:13: error: max_speed must be at most 100000 rpm, not 1e+09", "max_speed = 30000"},
		{"chip_load", "chipload", `x.toml:7:1: error: there is no key "chipload" in a bit's profile`, "did you mean chip_load?"},
	} {
		_, err := profile.ParseBit("x", "x.toml", []byte(strings.Replace(bit, c.old, c.new, 1)))
		one(t, c.new+" for "+c.old, err, c.want, c.hint)
	}
	if _, err := profile.ParseBit("x", "x.toml", make([]byte, 1<<20)); err == nil {
		t.Error("a huge profile is taken")
	}
}

// one checks that there is one finding.
func one(t *testing.T, what string, err error, want, hint string) {
	t.Helper()
	var found diag.Findings
	if !errors.As(err, &found) || len(found) != 1 || !strings.HasPrefix(found[0].Error(), want) || !strings.Contains(found[0].Hint, hint) {
		t.Errorf("%s: %v, want %q", what, err, want)
		for _, f := range found {
			t.Logf("hint: %s", f.Hint)
		}
	}
	if err != nil && (strings.Contains(err.Error(), "float64") || strings.Contains(err.Error(), "struct")) {
		t.Errorf("%s: %v leaks", what, err)
	}
}

func TestUnknownMachinesAndBits(t *testing.T) {
	machines := func(name string) error { _, err := profile.OpenMachine(name, gone); return err }
	bits := func(name string) error { _, err := profile.OpenBit(name, gone); return err }
	for _, c := range []struct {
		err        error
		want, hint string
	}{
		{machines("machine-600x40"), `error: there is no machine's profile "machine-600x40"`, `did you mean "machine-600x400"?`},
		{machines("mill"), `error: there is no machine's profile "mill"`, "built in are machine-1300x900, "},
		{machines("router-1200x800"), `error: there is no machine's profile "router-1200x800"`, `is a shop's; built in are machine-`},
		{machines("./m.toml"), `error: the profile "./m.toml" cannot be read: gone`, "job file's folder"},
		{bits("straight-3.17"), `error: there is no bit's profile "straight-3.17"`, `did you mean "straight-3.175"?`},
		{bits("machine-600x400"), `error: there is no bit's profile "machine-600x400"`, `is a machine's; built in are straight-1.5, `},
		{bits("b.toml"), `error: the profile "b.toml" cannot be read: gone`, "job file's folder"},
	} {
		one(t, c.want, c.err, c.want, c.hint)
		var f diag.Finding
		if !errors.As(c.err, &f) || f.Rule != profile.RuleUnknown || f.Pos.String() != "" {
			t.Errorf("%+v", f)
		}
	}
}

func gone(string) ([]byte, error) { return nil, errors.New("gone") }

// FuzzMachine: no file panics, and what comes out can be reckoned with.
func FuzzMachine(f *testing.F) {
	f.Add([]byte(machine))
	f.Add([]byte(bit))
	f.Add([]byte("kind = \"machine\"\nunits = \"mm\"\nspindle = [[]]"))
	f.Add([]byte("kind = \"bit\"\nflutes = 1\ndiameter = 1e-300\nsurface = [1, 2]\nchip_load = [1, 1]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if m, err := profile.ParseMachine("x", "x.toml", data); err == nil {
			if !(m.SpinUp >= 1 && m.DwellAgain >= 0 && m.DwellAgain <= m.SpinUp && m.Span(0) >= 0 && m.Span(2) <= 40_000 && m.Park[0] >= -20_000 && m.Feed[0] >= 0 && m.Spindle[1] >= m.Spindle[0] && m.Chord >= 0) {
				t.Fatalf("%q gives %+v", data, m)
			}
		}
		if b, err := profile.ParseBit("x", "x.toml", data); err == nil {
			if !(b.Diameter > 0 && b.Flutes > 0 && b.ChipLoad[1] >= b.ChipLoad[0]) {
				t.Fatalf("%q gives %+v", data, b)
			}
			for _, r := range b.Filled().Check(profile.Use{Feed: 1000, Plunge: 9000, Speed: 16000, Slot: 3}) {
				if r.Text.String() == "" || strings.Contains(r.Hint.String(), "Inf") || strings.Contains(r.Hint.String(), "NaN") {
					t.Fatalf("%q gives %+v", data, r)
				}
			}
		}
	})
}

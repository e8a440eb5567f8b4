package wood

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/work"
)

// lightness is CIE L* of #rrggbb (CIE 15 and IEC 61966-2-1, from memory).
func lightness(t *testing.T, hex string) float64 {
	t.Helper()
	y := 0.0
	for i, share := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[1+2*i:3+2*i], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		v := float64(n) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		y += share * v
	}
	if y > 216.0/24389 {
		return 116*math.Cbrt(y) - 16
	}
	return y * 24389 / 27
}

// Known values of the conversion: white, black, and the sRGB primary red with
// its L*a*b* 53.24, 80.09, 67.20 under D65 (common tables, from memory).
func TestLabToScreen(t *testing.T) {
	for want, c := range map[string]Color{
		"#ffffff": {100, 0, 0}, "#000000": {0, 0, 0}, "#ff0000": {53.24, 80.09, 67.20}, "#777777": {50.03, 0, 0},
	} {
		got := c.Hex()
		for i := 1; i < 7; i += 2 {
			g, _ := strconv.ParseInt(got[i:i+2], 16, 32)
			w, _ := strconv.ParseInt(want[i:i+2], 16, 32)
			if g-w > 1 || w-g > 1 {
				t.Errorf("%v is %s, want %s to one step", c, got, want)
			}
		}
		back, ok := FromHex(want)
		if !ok || math.Abs(back.L-c.L)+math.Abs(back.A-c.A)+math.Abs(back.B-c.B) > 0.1 {
			t.Errorf("%s is %v, want %v", want, back, c)
		}
	}
	for n := 0; n < 1<<24; n += 4099 {
		hex := fmt.Sprintf("#%06x", n)
		if c, _ := FromHex(hex); c.Hex() != hex {
			t.Fatalf("%s comes back as %s", hex, c.Hex())
		}
	}
	for _, bad := range []string{"", "red", "#fff", "c8a165", "#c8a16", "#c8a16g", "#c8a1655", "#+8a165"} {
		if _, ok := FromHex(bad); ok {
			t.Errorf("%q is a colour", bad)
		}
	}
}

// TestTable: no name stands twice, a screen can show each colour, and woods are within
// what was measured of wood anywhere: redness and yellowness of 98 tropical species (see
// timbers), and lightness from the darkest of them to the palest of the temperate ones.
func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for _, n := range names {
		if seen[n] || n != strings.ToLower(n) {
			t.Errorf("%q stands twice, or isn't in small letters", n)
		}
		seen[n] = true
		m := index[n]
		if m.Kind == Timber {
			c := m.Color
			if c.L < 24 || c.L > 90 || c.A < -1 || c.A > 29 || c.B < 1.8 || c.B > 37 {
				t.Errorf("no wood is like %s, %v", n, c)
			}
		}
		for _, c := range []Color{m.Color, m.Shown()} {
			if shown, _ := FromHex(c.Hex()); math.Abs(shown.L-c.L) > 1.5 || math.Abs(lightness(t, c.Hex())-shown.L) > 0.5 {
				t.Errorf("%s of lightness %g is shown with %g", n, c.L, shown.L)
			}
		}
	}
	order := []string{"holly", "maple", "beech", "pear", "mahogany", "rosewood", "ebony"}
	for i := 1; i < len(order); i++ {
		if a, b := index[order[i-1]].Color, index[order[i]].Color; a.L-b.L < 6 {
			t.Errorf("%s (%g) is not clearly lighter than %s (%g)", order[i-1], a.L, order[i], b.L)
		}
	}
}

func TestFind(t *testing.T) {
	for name, want := range map[string]string{
		"Holly": "holly", "stained pear": "pear", "Phosphor Bronze": "bronze", "bog oak": "bog oak", "Bog-Oak": "bog oak", "red oak": "oak", "black walnut": "walnut",
		"mother of pearl": "mother of pearl", "mother-of-pearl": "mother of pearl", "nickel silver": "nickel silver", "German silver": "nickel silver",
		"aluminum": "aluminium", "pearwood": "pear", "cherrywood": "cherry", "boxwood": "box", "box": "box", "palisander": "rosewood", "silver maple": "maple",
		"walnut burl": "walnut", "maple veneer": "maple", "brass wire": "brass", "walnut, oiled": "walnut", "Macassar ebony": "macassar ebony", "purpleheart": "purpleheart",
		"steamed beech": "steamed beech", "european steamed beech": "steamed beech",
		"black-dyed pear": "black dyed pear", "dyed black pear": "dyed black pear", "ebonised pear": "ebonised pear", "blue sycamore": "blue sycamore",
		"green veneer": "green", "pear, dyed black": "black", "grey": "grey", "vulcanised red fibre": "red",
		"micarta": "", "": "", "  ": "", "wood": "", "veneer": "",
	} {
		m, ok := Find(name)
		if m.Name != want || ok != (want != "") {
			t.Errorf("%q is %q, want %q", name, m.Name, want)
		}
		if vague := name == "stained pear"; m.Vague != vague {
			t.Errorf("%q: vague %v", name, m.Vague)
		}
	}
	if m, _ := Find("black-dyed pear"); m.Color.L > 30 || m.Kind != Timber {
		t.Errorf("pear dyed black is %v", m)
	}
	for name, want := range map[string]string{
		"holy": "holly", "sickamore": "sycamore", "ebonny": "ebony", "bras": "brass", "phosphor bronse": "bronze", "mother of perl": "mother of pearl",
		"carbon": "", "micarta": "", "resin": "", "": "",
	} {
		if got := Nearest(name); got != want {
			t.Errorf("%q is nearest to %q, want %q", name, got, want)
		}
	}
}

func TestHasMetal(t *testing.T) {
	for name, want := range map[string]bool{
		"bronze": true, "Phosphor Bronze": true, "silver": true, "nickel silver": true, "copper foil": true, "stainless steel": true,
		"pear": false, "bronze pear": false, "silver maple": false, "": false, "resin": false,
	} {
		if got := HasMetal([]work.Strip{{Material: "holly"}, {Material: name}}); got != want {
			t.Errorf("%q: %t", name, got)
		}
	}
	if HasMetal(nil) {
		t.Error("no strips have metal among them")
	}
}

// TestPalette: strips have their materials' colours or their own; those of unknown
// materials are apart from all others, and always the same.
func TestPalette(t *testing.T) {
	board := BoardColor(work.Wood{Species: Board})
	strips := []work.Strip{
		{Material: "Holly"}, {Material: "bronze"}, {Material: "micarta"}, {Material: "resin"}, {Material: ""}, {Material: "micarta"}, {Material: "pear", Color: "#336699"},
	}
	got := Palette(strips, board)
	if got[0] != index["holly"].Shown() || got[1] != index["bronze"].Color || got[6].Hex() != "#336699" || got[2] != got[5] {
		t.Errorf("the colours are %v", got)
	}
	for i := 2; i <= 4; i++ {
		for k, c := range got {
			if i != k && k != 5 && i != 5 && math.Abs(got[i].L-c.L) < 5 {
				t.Errorf("%q and %q are %g and %g light", strips[i].Material, strips[k].Material, got[i].L, c.L)
			}
		}
	}
	for range 5 {
		if again := Palette(strips, board); again[2] != got[2] || again[4] != got[4] {
			t.Fatal("the colours change from one time to the next")
		}
	}
}

// TestReadWithoutColour: of any two materials side by side, on a monochrome printer,
// one is clearly lighter, or the line between them is seen from both.
func TestReadWithoutColour(t *testing.T) {
	const clear, line = 14, 10 // L*; one is about the smallest step that is seen side by side
	for _, n := range names {
		for _, o := range names {
			a, b := index[n].Shown(), index[o].Shown()
			if math.Abs(lightness(t, a.Hex())-lightness(t, b.Hex())) >= clear {
				continue
			}
			for _, c := range []Color{Line(a), Line(b)} {
				l := lightness(t, c.Hex())
				if math.Abs(l-a.L) < line || math.Abs(l-b.L) < line {
					t.Errorf("nothing is seen between %s (%.0f) and %s (%.0f): the line is of %.0f", n, a.L, o, b.L, l)
				}
			}
		}
	}
	for l := 0.0; l <= 100; l++ {
		if d := math.Abs(Line(Color{L: l}).L - l); d < 25 {
			t.Errorf("the line round what is %g light differs by %g", l, d)
		}
	}
}

// TestBoard: the board is of the species given, of the colour given before that, and of
// walnut otherwise.
func TestBoard(t *testing.T) {
	walnut := index["walnut"].Shown()
	for _, c := range []struct {
		wood work.Wood
		want string
	}{
		{work.Wood{}, walnut.Hex()},
		{work.Wood{Species: "unobtainium"}, walnut.Hex()},
		{work.Wood{Species: "quilted maple"}, index["maple"].Shown().Hex()},
		{work.Wood{Species: "maple", Color: "#102030"}, "#102030"},
	} {
		if got := BoardColor(c.wood).Hex(); got != c.want {
			t.Errorf("%v is %s, want %s", c.wood, got, c.want)
		}
	}
	if walnut.L > index["walnut"].Color.L-5 {
		t.Error("finish doesn't deepen walnut")
	}
	tint, paler := index["padauk"].Shown().Tint(80, 90, 9), index["holly"].Shown().Tint(80, 90, 9)
	if got := math.Hypot(tint.A, tint.B); tint.L < 80 || paler.L > 90 || tint.L > paler.L-3 || math.Abs(got-9) > 1e-9 {
		t.Errorf("the tints are %v and %v", tint, paler)
	}
}

// TestBrownsArentPink: where the hue angle of a paler brown lies, in CIE L*a*b*: the pinks
// that walnut and oak were before lay at 62 to 66 degrees, beige and the browns' own greys
// from 75 (looked at); pear is a pinkish brown, and redder woods stay red.
func TestBrownsArentPink(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to float64 // degrees
	}{{"walnut", 75, 95}, {"oak", 75, 95}, {"maple", 75, 95}, {"pear", 65, 80}, {"padauk", 40, 60}} {
		tint := index[c.name].Shown().Tint(79, 93, 12)
		if got := math.Atan2(tint.B, tint.A) * 180 / math.Pi; got < c.from || got > c.to {
			t.Errorf("%s is shown at %.0f degrees, want %g to %g", c.name, got, c.from, c.to)
		}
	}
}

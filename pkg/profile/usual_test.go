package profile_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"strapwork/pkg/profile"
)

// The chip loads at 1.5, 2, 3, 6 mm are the built-in
// profiles' own; those between are worked by hand on the straight line between their
// neighbours, those below 1.5 mm in proportion.
func TestUsual(t *testing.T) {
	for _, c := range []struct {
		d, least, most, speed float64
		source                string
	}{
		{0.5, 0.002, 0.02 / 3, 16000, "in proportion to its width, from the table for straight bits of 1.5 mm"},
		{0.75, 0.003, 0.01, 16000, "in proportion to its width, from the table for straight bits of 1.5 mm"},
		{1.5, 0.006, 0.02, 16000, "from the table for straight bits of 1.5 mm"},
		{1.75, 0.007, 0.025, 16000, "from the table for straight bits of 1.5 mm and 2 mm"},
		{2, 0.008, 0.03, 16000, "from the table for straight bits of 2 mm"},
		{2.5, 0.0115, 0.045, 16000, "from the table for straight bits of 2 mm and 3 mm"},
		{3, 0.015, 0.06, 16000, "from the table for straight bits of 3 mm"},
		{3.175, 0.015, 0.06, 16000, "from the table for straight bits of 3.175 mm"},
		{4.5875, 0.02, 0.09, 16000, "from the table for straight bits of 3.175 mm and 6 mm"}, // half-way
		{6.35, 0.025, 0.12, 16000, "from the table for straight bits of 6.35 mm"},
		{10, 0.025, 0.12, 16000, "from the table for straight bits of 6.35 mm, the widest there is"},
		{12, 0.025, 0.12, 15900, "from the table for straight bits of 6.35 mm, the widest there is"}, // 600000 / (12 pi) = 15915
		{25, 0.025, 0.12, 7600, "from the table for straight bits of 6.35 mm, the widest there is"},  // 600000 / (25 pi) = 7639
	} {
		b := profile.Usual(c.d)
		if math.Abs(b.ChipLoad[0]-c.least) > 1e-12 || math.Abs(b.ChipLoad[1]-c.most) > 1e-12 || b.UsualSpeed() != c.speed || b.Flutes != 1 || b.Diameter != c.d {
			t.Errorf("%v mm: %+v at %v", c.d, b, b.UsualSpeed())
		}
		if got := b.Source().String(); got != c.source {
			t.Errorf("%v mm: %q, want %q", c.d, got, c.source)
		}
		// f = n z c of the handbooks, with one flute and the middle of the range.
		if want := c.speed * (c.least + c.most) / 2; math.Abs(b.UsualFeed(c.speed)-want) > 1e-9*want {
			t.Errorf("%v mm: feed %v, want %v", c.d, b.UsualFeed(c.speed), want)
		}
	}
}

// Any bit's usual feed, plunge and speed give no remark, with one flute or two; what
// they are grows with the bit, without a jump, and is never nothing.
func TestUsualIsSmooth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.1, 50).Draw(t, "d")
		b, next := profile.Usual(d), profile.Usual(d+1e-6)
		n := b.UsualSpeed()
		feed := b.UsualFeed(n)
		if !(feed > 0) || !(n >= 3000 && n <= 16000) {
			t.Fatalf("feed %v at %v", feed, n)
		}
		for i := range b.ChipLoad {
			// The steepest line of the table rises by 0.03 mm in a millimetre.
			if rise := next.ChipLoad[i] - b.ChipLoad[i]; rise < -1e-15 || rise > 0.03e-6+1e-12 {
				t.Fatalf("chip load %d rises by %v", i, rise)
			}
		}
		u := profile.Use{Feed: feed, Plunge: profile.UsualPlunge(feed), Speed: n, Slot: d}
		for b.Flutes = 1; b.Flutes <= 2; b.Flutes++ {
			if r := b.Check(u); len(r) != 0 {
				t.Fatalf("%d flutes: %v", b.Flutes, r)
			}
		}
	})
}

// What a profile leaves out is usual; what it has is kept.
func TestFilled(t *testing.T) {
	own := profile.Bit{Name: "mine", Diameter: 4, Flutes: 3, ChipLoad: [2]float64{0.01, 0.02}, Surface: [2]float64{70, 90}, MaxSpeed: 11000}
	if d := cmp.Diff(own, own.Filled()); d != "" || own.Source().String() != "from the profile mine" {
		t.Errorf("%s, %s", d, own.Source())
	}
	u, bare := profile.Usual(4), profile.Bit{Name: "mine", Diameter: 4, Flutes: 3}
	u.Name, u.Flutes = "mine", 3
	if d := cmp.Diff(u, bare.Filled()); d != "" {
		t.Error(d)
	}
	if s := bare.Filled().Source().String(); !strings.HasPrefix(s, "from the table for straight bits of 3.175 mm and 6 mm") {
		t.Error(s)
	}
}

package plan

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"strapwork/pkg/geom"
)

// waves is a plait of two waves of arcs that cross every half wave: so many of these, each
// of a chord and a rise, every number moved by up to off and rounded to so many decimals.
func waves(halves int, chord, rise, off float64, decimals int) string {
	rng := rand.New(rand.NewPCG(7, 16))
	place := func(x float64) string {
		n := func(v float64) string { return fmt.Sprintf("%.*f", decimals, v+off*(2*rng.Float64()-1)) }
		return n(x) + " " + n(0)
	}
	radius := (chord*chord/4 + rise*rise) / (2 * rise)
	var s strings.Builder
	s.WriteString("[motif]\n")
	for wave := range 2 {
		x := -chord * float64(halves) / 2
		fmt.Fprintf(&s, "[[motif.path]]\nname = \"wave%d\"\nd = \"M %s", wave+1, place(x))
		for i := range halves {
			x += chord
			fmt.Fprintf(&s, " A %.*f %.*f 0 0 %d %s", decimals, radius, decimals, radius, (i+wave)%2, place(x))
		}
		s.WriteString("\"\n")
	}
	return s.String()
}

const (
	narrow  = "[inlay]\ndepth = 2.5\nwidth = 4.98\n"
	collar  = "[router]\nguide = \"bushing\"\nrider = 17\nbit = 4\n"
	collars = narrow + collar
)

// The pitch is what the pattern was drawn with: of two waves that cross, half a wave, since
// that takes either to the other and over to over; of rings in a row, the way between two;
// of a plait, what its cells say.
func TestPitch(t *testing.T) {
	rings := "[motif]\n[[motif.circle]]\nname = \"ring\"\ncenter = [10, 20]\nradius = 22\n[[motif.group]]\nname = \"rings\"\nof = [\"ring\"]\nrepeat = [14, 0, 31.5]\n"
	family := func(name, keys string) string {
		return "[motif]\n[[motif." + name + "]]\n" + keys
	}
	for _, c := range []struct {
		name, text string
		want       geom.Point
	}{
		{"waves", waves(20, 70, 18, 0, 9), geom.Pt(70, 0)},
		{"waves rounded", waves(20, 70, 18, 0.004, 2), geom.Pt(70, 0)},
		{"rings up", rings, geom.Pt(0, 31.5)},
		{"plait of three", family("plait", "strands = 3\nlength = 40\ncell = 30\n"), geom.Pt(30, 0)},
		{"plait of four, closed", family("plait", "strands = 4\nlength = 40\ncell = 30\nends = \"closed\"\n"), geom.Pt(30, 0)},
	} {
		r := mustPrepare(t, c.text+collars)
		got, ok := PitchOf(&r.groove)
		if !ok || got.Dist(c.want) > evenPitch/5 {
			t.Errorf("%s: %v, %v; want %v", c.name, got, ok, c.want)
		}
	}
	for _, name := range []string{"looped-triangle", "knot-lid", "guitar-rosette"} {
		r := fromFile(t, name)
		if got, ok := PitchOf(&r.groove); ok {
			t.Errorf("%s has a pitch of %v", name, got)
		}
	}
}

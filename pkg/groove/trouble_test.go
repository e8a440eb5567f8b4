package groove

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/diag"
)

// rules are what is found, as rules with their severity.
func rules(found diag.Findings) string {
	var list []string
	for _, f := range found {
		list = append(list, fmt.Sprintf("%v %s", f.Severity, f.Rule))
	}
	return strings.Join(list, ", ")
}

// proposed is the length in mm that a finding proposes for a key.
func proposed(t *testing.T, f diag.Finding, format string) float64 {
	t.Helper()
	var mm float64
	at := strings.Index(f.Hint, format[:strings.Index(format, "%")])
	if at < 0 {
		t.Fatalf("%q lacks %q", f.Hint, format)
	}
	if _, err := fmt.Sscanf(f.Hint[at:], format, &mm); err != nil {
		t.Fatalf("%q: %v", f.Hint, err)
	}
	return mm
}

// tight is what is found of the arcs of a half circle of some radius, at a rider.
func tight(t *testing.T, radius, rider float64) diag.Findings {
	t.Helper()
	g := sound(t, bearing, arcPath(radius, math.Pi))
	g.Size.RiderRadius = rider / 2
	var found diag.Findings
	bad := g.ReportTightArcs(0, map[int]bool{}, &found)
	if bad != found.HasErrors() {
		t.Errorf("R %g, rider %g: an error %t, %v", radius, rider, bad, found)
	}
	return found
}

// The wall inside an arc is a nose of radius R - H (definition of H): under 5 mm it
// is warned of, under what can be drawn it is refused. What the hints name ends the
// finding, and a tenth beyond it doesn't.
func TestNoses(t *testing.T) {
	const rider = 20.0
	h := rider/2 + k
	for _, c := range []struct {
		nose float64
		want string
	}{
		{5.001, ""}, {4.999, "warning thin-nose"}, {0.02, "warning thin-nose"}, {-0.01, "error arc-tight"}, {-2, "error arc-tight"},
	} {
		found := tight(t, h+c.nose, rider)
		if got := rules(found); got != c.want {
			t.Errorf("a nose of %g: %s, want %s", c.nose, got, c.want)
			continue
		}
		if c.want == "" {
			continue
		}
		format, least := "a rider of at most %f mm", "make the radius at least %f mm"
		if found.HasErrors() {
			format = "the largest rider that can is %f mm"
		}
		named, radius := proposed(t, found[0], format), proposed(t, found[0], least)
		if after := tight(t, h+c.nose, named); rules(after) == c.want {
			t.Errorf("a nose of %g: a rider of %g mm, as reported, changes nothing: %v", c.nose, named, after)
		}
		if after := tight(t, radius, rider); rules(after) == c.want {
			t.Errorf("a nose of %g: a radius of %g mm, as reported, changes nothing: %v", c.nose, radius, after)
		}
		if after := tight(t, h+c.nose, named+0.1); rules(after) != c.want {
			t.Errorf("a nose of %g: %g mm is named, but so would %g do: %v", c.nose, named, named+0.1, after)
		}
		if after := tight(t, radius-0.1, rider); rules(after) != c.want {
			t.Errorf("a nose of %g: a radius of %g mm is named, but so would %g do: %v", c.nose, radius, radius-0.1, after)
		}
	}
	// Where not even a rider of the bit's size will do, the radius alone is named.
	for radius, hint := range map[float64]string{w/2 + 0.05: "the largest rider that can is 3.2", w/2 + 0.001: "no rider can, not even one of the bit's size"} {
		if found := tight(t, radius, b+0.5); rules(found) != "error arc-tight" || !strings.Contains(found[0].Hint, hint) {
			t.Errorf("R %g: %v", radius, found)
		}
	}
	if found := tight(t, b/2+k+2, b); rules(found) != "warning thin-nose" || strings.Contains(found[0].Hint, "rider") {
		t.Errorf("no rider leaves a radius of 5 mm: %v", found)
	}
}

// Arcs tighter than half the groove have no inner side, and corners under 15 degrees
// no mitre (the bounds' own definitions); grooves a hundredth apart touch.
func TestWhatIsRefused(t *testing.T) {
	for _, c := range []struct {
		paths []string
		want  string
	}{
		{[]string{arcPath(w/2+0.001, 2)}, ""},
		{[]string{arcPath(w/2-0.001, 2)}, "error arc-tight"},
		{[]string{corner(15.01, 100)}, ""},
		{[]string{corner(14.99, 100)}, "error no-mitre"},
		{[]string{"M 0 0 H 100", fmt.Sprintf("M 0 %g H 100", w+0.011)}, ""},
		{[]string{"M 0 0 H 100", fmt.Sprintf("M 0 %g H 100", w+0.009)}, "error grooves-touch"},
		// A line that runs beside a ring, and one that runs beside its inside.
		{[]string{"M 60 0 A 60 60 0 0 1 -60 0 A 60 60 0 0 1 60 0 Z", fmt.Sprintf("M -50 %g H 50", 60+w+0.011)}, ""},
		{[]string{"M 60 0 A 60 60 0 0 1 -60 0 A 60 60 0 0 1 60 0 Z", fmt.Sprintf("M -50 %g H 50", 60+w+0.009)}, "error grooves-touch"},
		{[]string{"M 60 0 A 60 60 0 0 1 -60 0 A 60 60 0 0 1 60 0 Z", fmt.Sprintf("M %g 0 A %[1]g %[1]g 0 0 1 -%[1]g 0 A %[1]g %[1]g 0 0 1 %[1]g 0 Z", 60-w-0.009)}, "error grooves-touch"},
		// Crossing, meeting and joining is allowed.
		{[]string{bar(0, 0, 90), bar(0, 40, 90)}, ""},
		{[]string{"M 0 0 H 100", "M 100 -50 V 50"}, ""},
		{[]string{"M 0 0 H 100 A 50 50 0 0 1 100 100 H 0"}, ""},
		// A strand may run beside itself at a corner, but not elsewhere.
		{[]string{"M 0 0 H 100 V 60 H 50 V 4 H 0"}, "error grooves-touch"},
	} {
		_, found := read(t, bearing, c.paths...)
		if got := rules(found); got != c.want {
			t.Errorf("%v: %s, want %s: %v", c.paths, got, c.want, found)
		}
	}
}

// The radius that is named for an arc tighter than half the groove is one that the
// rider follows too.
func TestRadiusForATightArc(t *testing.T) {
	for _, router := range []string{base, bearing} {
		_, found := read(t, router, arcPath(2, 2))
		radius := proposed(t, found[0], "make the radius at least %f mm")
		for _, c := range []struct {
			radius float64
			want   bool
		}{{radius, false}, {radius - 0.1, true}} {
			g, found := read(t, router, arcPath(c.radius, 2))
			if g.ReportTightArcs(0, map[int]bool{}, &found); found.HasErrors() != c.want {
				t.Errorf("R %g where %g is named: %v", c.radius, radius, found)
			}
		}
	}
}

// A chain that can't be followed is reported where it can't, with the largest rider
// that can, and that one can: round a corner by the
// corner's closed form.
func TestReportUnfollowed(t *testing.T) {
	report := func(g *Groove, at float64) diag.Findings {
		var found diag.Findings
		first, last := g.ends(0)
		g.ReportUnfollowed(Chain{From: first, To: last}, []Stop{first, g.SplitAt(0, at, false), last}, &found)
		return found
	}
	g := sound(t, base, "M 0 0 H 200 L 390 62")
	turn := math.Atan2(62, 190)
	found := report(&g, 100)
	if rules(found) != "error no-way" || found[0].At[0] < 100 {
		t.Fatalf("%v", found)
	}
	named := proposed(t, found[0], "the largest rider that can is %f mm")
	if want := b + 2*planned/(1/math.Cos(turn/2)-1); named > want || named < want-0.0101 {
		t.Errorf("%g mm is named, want %g", named, want)
	}
	g.Size.RiderRadius = named / 2
	first, last := g.ends(0)
	if !g.Follows(g.Stretch(0, first, last)) {
		t.Errorf("a rider of %g mm, as reported, can't follow", named)
	}
	// A stretch shorter than the bit.
	short := sound(t, base, "M 0 0 H 101")
	if found := report(&short, 100); !strings.Contains(found[0].Hint, "the stretch is 1 mm long, shorter than the bit") {
		t.Errorf("%v", found)
	}
	// Every stretch can be followed, and still they couldn't be shared out.
	straight := sound(t, base, "M 0 0 H 200")
	if found := report(&straight, 100); rules(found) != "error no-way" || !strings.Contains(found[0].Message, "can't be shared out over cuts") {
		t.Errorf("%v", found)
	}
}

// The kinds of stop in words.
func TestStopsInWords(t *testing.T) {
	for kind, want := range map[StopKind]string{StopFree: "free end", StopCorner: "corner", StopTee: "tee", StopSplit: "split", 9: "stop(9)"} {
		if got := kind.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

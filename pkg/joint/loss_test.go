package joint

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

func deg(d float64) float64 { return d * math.Pi / 180 }

// A straight strand is out by loss tan(angle): exact tangents of 0, 30, 45 and 60 degrees from
// the sides of a square's and an equilateral triangle's half (Euclid, Elements I.47).
func TestMismatchOfStraightStrands(t *testing.T) {
	tan := map[float64]float64{0: 0, 30: math.Sqrt(3) / 3, 45: 1, 60: math.Sqrt(3)}
	for angle, tangent := range tan {
		for _, loss := range []float64{0.5, 1, 3, 25.4 / 8} {
			for _, sign := range []float64{1, -1} {
				got, ok := Mismatch(Passing{Angle: sign * deg(angle)}, loss)
				if want := sign * loss * tangent; !ok || math.Abs(got-want) > 1e-12*(1+math.Abs(want)) {
					t.Errorf("%v degrees, %v mm: %v, want %v", sign*angle, loss, got, want)
				}
			}
		}
	}
}

// Of circles: y(x + loss) - y(x) of y = -sqrt(R^2 - x^2), the lower half, which bends toward
// +y, and of the upper half, which bends the other way. The design's two figures are among
// them: R 40 and 3 mm give 3.36 at 45 degrees and 0.11 at 0.
func TestMismatchOfCircles(t *testing.T) {
	half := func(r, x float64) float64 { return math.Sqrt(r*r - x*x) }
	for _, c := range []struct{ r, angle, loss, printed float64 }{
		{40, 45, 3, 3.36}, {40, 0, 3, 0.11}, {40, -45, 3, math.NaN()}, {66, 30, 3, math.NaN()}, {450, 60, 5, math.NaN()}, {1e5, 45, 3, 3.00},
	} {
		x := c.r * math.Sin(deg(c.angle))
		want := half(c.r, x) - half(c.r, x+c.loss) // of the lower half
		got, ok := Mismatch(Passing{Angle: deg(c.angle), Curvature: 1 / c.r}, c.loss)
		if !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("%+v: %v, want %v", c, got, want)
		}
		if !math.IsNaN(c.printed) && math.Abs(got-c.printed) > 0.005 {
			t.Errorf("%+v: %v is printed otherwise", c, got)
		}
		// The upper half is the mirror image of the lower one: all signs change.
		if down, ok := Mismatch(Passing{Angle: -deg(c.angle), Curvature: -1 / c.r}, c.loss); !ok || down != -got {
			t.Errorf("%+v mirrored: %v, want %v", c, down, -got)
		}
	}
	// A loop whose top is nearer than what is lost has no right-hand part.
	if by, ok := Mismatch(Passing{Angle: deg(45), Curvature: 1.0 / 8}, 3); ok {
		t.Errorf("a circle of 8 mm still crosses 2.3 mm before it turns back: %v", by)
	}
}

// However the loss is taken away, in one piece or in two, the parts are as far out.
func TestMismatchAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-1.2, 1.2).Draw(t, "angle")
		bend := rapid.Float64Range(-0.02, 0.02).Draw(t, "curvature")
		first, then := rapid.Float64Range(0, 3).Draw(t, "first"), rapid.Float64Range(0, 3).Draw(t, "then")
		p := Passing{Angle: angle, Curvature: bend}
		all, ok := Mismatch(p, first+then)
		if !ok {
			return
		}
		a, _ := Mismatch(p, first)
		b, _ := Mismatch(Passing{Angle: math.Asin(math.Sin(angle) + bend*first), Curvature: bend}, then)
		if math.Abs(a+b-all) > 1e-9*(1+math.Abs(all)) {
			t.Errorf("%v and %v, together %v", a, b, all)
		}
	})
}

// table has passings at some angles, 100 mm apart.
func table(angles ...float64) Params {
	p := Params{Table: work.Table{Width: 900, Thickness: 22, Across: 450, Groove: work.GrooveGap, Gap: 3}, Width: 4.5, Depth: 3}
	e := Edge{Name: "right.left", Side: work.Left, Length: 600}
	for i, a := range angles {
		e.Passings = append(e.Passings, Passing{Edge: e.Name, Strand: "s" + string(rune('1'+i)), Y: 100 * float64(i+1), Angle: deg(a)})
	}
	p.Edges = []Edge{e}
	return p
}

func TestLossIsReported(t *testing.T) {
	for _, c := range []struct {
		name    string
		p       Params
		rule    string
		says    []string
		units   unit.System
		propose string
	}{
		{"square to the joint", table(0, 0), "", nil, unit.MM, ""},
		{
			"one angle: a shift helps", table(30, 30), "joint-mismatch",
			[]string{"the gap of 3 mm is lost when the sections close", "s1, 100 mm from the front, is out by 1.73 mm, its right-hand part toward the back", "2 passings of 2", "lipping 3 mm thick", "move the right-hand section by 1.73 mm toward the front"},
			unit.MM, `"closed"`,
		},
		{
			"two angles: it helps one and spoils the other", table(30, -45, 0), "joint-mismatch",
			[]string{"s2, 200 mm from the front, is out by 3 mm, its right-hand part toward the front", "2 passings of 3", "by 3 mm toward the back it puts that one right and leaves others out by up to 4.73 mm"},
			unit.MM, `"closed"`,
		},
		{"in inches", table(45), "joint-mismatch", []string{"the gap of 0.118 in is lost", "out by 0.118 in", "nothing else passes there"}, unit.Inch, `"closed"`},
	} {
		j, found := New(c.p)
		if c.rule == "" {
			if len(found) > 0 || j.Loss.Any() {
				t.Errorf("%s: %v", c.name, found)
			}
			continue
		}
		found = found.In(c.units)
		if len(found) != 1 || found[0].Rule != c.rule {
			t.Fatalf("%s: %v", c.name, found)
		}
		text := found[0].Message + "\n" + found[0].Hint
		for _, s := range c.says {
			if !strings.Contains(text, s) {
				t.Errorf("%s: %q is missing in\n%s", c.name, s, text)
			}
		}
		if cures := found[0].Cures; len(cures) != 1 || cures[0].Value != c.propose {
			t.Errorf("%s proposes %v", c.name, cures)
		}
	}
}

// What the saw takes is lost like a gap, and a section that is grooved by itself loses nothing.
func TestWhatIsLost(t *testing.T) {
	p := table(60)
	p.Table.Groove, p.Table.Saw = work.GrooveClosed, 3.2
	if j, found := New(p); math.Abs(j.Loss.Offs[0].By-3.2*math.Sqrt(3)) > 1e-9 || found[0].Key != "table.saw" || found[0].Cures[0].Value != "0" {
		t.Errorf("sawn: %+v, %v", j.Loss, found)
	}
	p.Table.Groove, p.Table.Saw, p.Drawn = work.GrooveGap, 0, true
	if j, found := New(p); len(found) > 0 || len(j.Loss.Offs) > 0 {
		t.Errorf("by programs of the sections' own: %+v, %v", j.Loss, found)
	}
	p.Table.Groove, p.Drawn = work.GrooveApart, false
	if j, found := New(p); len(found) > 0 || len(j.Loss.Offs) > 0 {
		t.Errorf("apart: %+v, %v", j.Loss, found)
	}
}

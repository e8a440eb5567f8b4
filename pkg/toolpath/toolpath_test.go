package toolpath

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// Parts of a plan: all strands, or all depths, add up to the whole, and a part
// starts on the floor that was left before it.
func TestParts(t *testing.T) {
	for name, g := range jobs(t) {
		for how, o := range variants() {
			p := plan(t, g, o)
			whole, byStrand, byDepth := passes(p), 0, 0
			for i := range g.Motif.Strands {
				part := p.Only(i)
				if len(part.Runs) != 1 || part.Runs[0].Strand != i {
					t.Errorf("%s/%s: strand %d has %d runs", name, how, i, len(part.Runs))
				}
				byStrand += passes(part)
			}
			for i, d := range p.Depths {
				part := p.AtDepth(i)
				byDepth += passes(part)
				floor := 0.0
				if i > 0 {
					floor = -p.Depths[i-1]
				}
				for _, r := range part.Runs {
					end := Params{Depth: d, Ramp: o.Ramp}
					if r.Z != floor || len(part.Depths) != 1 {
						t.Errorf("%s/%s: %s at depth %d begins at %g", name, how, r.Name, i, r.Z)
					}
					if fault := continuity(r, end); fault != "" {
						t.Errorf("%s/%s: %s at depth %d: %s", name, how, r.Name, i, fault)
					}
				}
			}
			if byStrand != whole || byDepth != whole {
				t.Errorf("%s/%s: %d passes, by strand %d, by depth %d", name, how, whole, byStrand, byDepth)
			}
			if n := len(p.Only(99).Runs) + len(p.AtDepth(-1).Runs) + len(p.AtDepth(9).Runs); n != 0 {
				t.Errorf("%s/%s: %d runs of no strand or depth", name, how, n)
			}
		}
	}
}

func passes(p Plan) int {
	n := 0
	for _, r := range p.Runs {
		n += len(r.Passes)
	}
	return n
}

// Straight cuts a rectangle but for the chisel's corners.
func TestStraight(t *testing.T) {
	for how, o := range variants() {
		for _, width := range []float64{b, b + 0.002, b + 0.03, 3.3, w, 3 * b} {
			from, to := geom.Pt(10, 20), geom.Pt(40, 60)
			r := Straight(from, to, width, b, o)
			if fault := continuity(r, o); fault != "" {
				t.Errorf("%s, width %g: %s", how, width, fault)
			}
			got := cutAt([]Run{r}, b, -o.Depth).Area()
			want := 50*width - 4*(1-math.Pi/4)*b*b/4
			near(t, fmt.Sprintf("%s, width %g: area", how, width), got, want, 1e-6)
		}
	}
	for _, r := range []Run{
		Straight(geom.Pt(0, 0), geom.Pt(b, 0), w, b, usual()),
		Straight(geom.Pt(0, 0), geom.Pt(50, 0), 3, b, usual()),
		Straight(geom.Pt(0, 0), geom.Pt(50, 0), w, b, Params{}),
	} {
		if len(r.Passes) != 0 {
			t.Error("a groove that can't be has passes")
		}
	}
}

func TestOptionErrors(t *testing.T) {
	g := drawn(t, w, b, "M 0 0 L 100 0")
	for name, o := range map[string]Params{
		"depth": {},
		"ramp":  {Depth: 1, Ramp: -1},
		"rough": {Depth: 1, Rough: -0.1},
		"step":  {Depth: 1, Step: math.NaN()},
		"widen": {Depth: 1, Widen: math.Inf(1)},
	} {
		_, err := Make(&g, o)
		var bad *OptionError
		if !errors.As(err, &bad) || bad.Name != name {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A strand shorter than the bit is wide is an error that names it.
func TestTooShort(t *testing.T) {
	g := drawn(t, w, b, "M 0 0 L 100 0", "M 0 50 L 3 50")
	_, err := Make(&g, usual())
	var bad *StrandError
	if !errors.As(err, &bad) || bad.Strand != 1 || bad.Name != "p2.1" {
		t.Errorf("a strand shorter than the bit gives %v", err)
	}
}

// Ends on other strands at every angle, on straights and arcs: the groove is cut
// up to the host's and the host's far wall is left alone.
func TestTees(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	for n := range 60 {
		host := "M -80 0 L 80 0"
		if bend := rng.IntN(3); bend > 0 {
			radius := 40 + 100*rng.Float64()
			sag := radius - math.Sqrt(radius*radius-30*30)
			flag, y := 0, -sag
			if bend == 1 {
				flag, y = 1, sag
			}
			host = fmt.Sprintf("M -30 %.12f A %.12f %.12f 0 0 %d 30 %.12f", y, radius, radius, flag, y)
		}
		angle := (35 + 110*rng.Float64()) * degree
		end := geom.Polar(50+40*rng.Float64(), angle)
		guest := fmt.Sprintf("M 0 0 L %.12f %.12f", end.X, end.Y)
		if rng.IntN(2) == 0 {
			guest = fmt.Sprintf("M %.12f %.12f L 0 0", end.X, end.Y)
		}
		bit := w * (0.4 + 0.6*rng.Float64())
		g := drawn(t, w, bit, host, guest)
		if len(g.Weave.Tees) != 1 {
			t.Fatalf("%d: %d tees: %s / %s", n, len(g.Weave.Tees), host, guest)
		}
		o := usual()
		o.Rough = float64(rng.IntN(2)) * 0.15
		if !checkPlan(t, fmt.Sprintf("tee %d, bit %.3f", n, bit), g, o) {
			t.Log(host, "/", guest)
		}
	}
}

// A tee close to its host's own end stays clear of the flat there. Nearer than
// 1 mm it would be an end that misses the other.
func TestTeeNearHostsEnd(t *testing.T) {
	for _, at := range []float64{1.01, 1.5, 2, 4} {
		g := drawn(t, w, b, "M 0 0 L 80 0", fmt.Sprintf("M %g 0 L %g 60", at, at+20))
		p := plan(t, g, usual())
		if over := region.Subtract(swept(p), g.Area().Grow(gouge)); !over.Empty() {
			t.Errorf("%g mm from the end: %g mm2 cut outside", at, over.Area())
		}
	}
}

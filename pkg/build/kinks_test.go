package build

import (
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/work"
)

// A turtle draws a strand: straights and arcs one after another, each begun in
// the direction in which the last one ended, but for kinks.
type turtle struct {
	at    geom.Point
	way   float64
	kink  float64 // radians to the left, at every joint that is one
	edges []geom.Edge
}

func (t *turtle) line(length float64) *turtle { return t.arc(0, length) }

// arc runs for a length along a circle of a radius, positive to the left; 0 is
// straight.
func (t *turtle) arc(radius, length float64) *turtle {
	if radius == 0 {
		to := t.at.Add(geom.Polar(length, t.way))
		t.edges, t.at = append(t.edges, geom.Line(t.at, to)), to
		return t
	}
	center := t.at.Add(geom.Polar(radius, t.way+math.Pi/2))
	start := t.way - math.Copysign(math.Pi/2, radius)
	arcs := geom.Arc(center, math.Abs(radius), start, length/radius)
	arcs[0].A = t.at
	t.edges, t.at, t.way = append(t.edges, arcs...), arcs[len(arcs)-1].B, t.way+length/radius
	return t
}

// turn is a kink, times the turtle's own.
func (t *turtle) turn(times float64) *turtle { t.way += times * t.kink; return t }

// kinked are strands with kinks of an angle at every kind of joint. All are
// smooth for a kink of 0.
var kinked = map[string]func(t *turtle) *turtle{
	"line-line":         func(t *turtle) *turtle { return t.line(90).turn(1).line(90) },
	"line-arc":          func(t *turtle) *turtle { return t.line(90).turn(1).arc(70, 90) },
	"arc-line":          func(t *turtle) *turtle { return t.arc(70, 90).turn(1).line(90) },
	"arc-arc":           func(t *turtle) *turtle { return t.arc(70, 90).turn(1).arc(110, 90) },
	"arc-arc, one bend": func(t *turtle) *turtle { return t.arc(70, 90).turn(1).arc(70, 90) },
	"arc-arc, S":        func(t *turtle) *turtle { return t.arc(70, 90).turn(1).arc(-60, 90) },
	"several, alike": func(t *turtle) *turtle {
		return t.line(60).turn(1).line(9).turn(1).arc(70, 9).turn(1).line(0.4).turn(1).line(90)
	},
	"several, to and fro": func(t *turtle) *turtle {
		return t.arc(70, 60).turn(1).line(0.4).turn(-1).line(0.4).turn(1).arc(-60, 5).turn(-1).line(90)
	},
}

// through is a straight that crosses a strand at its middle joint, squarely
// or nearly.
func through(c geom.Contour) geom.Contour {
	at, way := c.Vertices[1].Point, c.Edge(1).Tangent(0).Turn(1.2)
	return geom.Chain(false, geom.Line(at.Sub(way.Scale(60)), at.Add(way.Scale(60))))
}

// handMade takes a motif that no joining has smoothed through all stages but
// the joining.
func handMade(t *testing.T, text string, strands ...geom.Contour) Result {
	t.Helper()
	a, r := underway(t, "kinked.toml", text)
	a.Only = Templates
	j := *r.Job
	r.Job, j.Motif.Elements = &j, nil
	for i, c := range strands {
		name := fmt.Sprintf("e%d", i+1)
		r.Job.Motif.Elements = append(r.Job.Motif.Elements, work.Element{Name: name, Contour: c})
		sources := make([]int, c.Len())
		for k := range sources {
			sources[k] = i
		}
		r.Motif.Strands = append(r.Motif.Strands, motif.NewStrand(fmt.Sprintf("s%d", i+1), c, sources, make([]bool, len(c.Vertices))))
		r.Motif.Sources = append(r.Motif.Sources, motif.Source{Name: name + ".1", Element: i, Copy: 1})
	}
	r.Reached = Joined
	a.motif.Value = r.Motif
	a.grooves(&r)
	a.share(&r)
	if r.OK() {
		a.write(&r)
	}
	r.tidy()
	return r
}

const kinkedJob = "title = \"kinked\"\nunits = \"mm\"\n[[motif.line]]\nfrom = [0, 0]\nto = [1, 0]\n[inlay]\ndepth = 2\nstrips = [{ material = \"holly\", thickness = 1.9 }, { material = \"pear\", thickness = 1 }]\nclearance = 0.1\n[router]\n%s\n"

// TestKinks builds strands that turn by up to half a degree where they count as
// smooth: the same plan and pieces as without the kink, no overcut, and nothing
// left but what the ends leave. Each is ridden with two of the three guides, and turned one
// way; KINKS=all tries every angle both ways with all.
func TestKinks(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	angles, all := []float64{1e-6, 1e-3, 0.5}, os.Getenv("KINKS") == "all"
	if all {
		angles = []float64{1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 0.01, 0.1, 0.3, 0.5}
	}
	routers := []string{
		"guide = \"bushing\"\nrider = 16\nbit = 2",
		"guide = \"base\"\nrider = 60\nbit = 2.9",
		"guide = \"bearing\"\nbit = 3",
	}
	for n, name := range slices.Sorted(maps.Keys(kinked)) {
		for i, router := range routers {
			if !all && i == n%len(routers) {
				continue
			}
			text := fmt.Sprintf(kinkedJob, router)
			crossed := func(degrees float64) Result {
				c := geom.Chain(false, kinked[name](&turtle{kink: degrees * math.Pi / 180, way: 0.3}).edges...)
				return handMade(t, text, c, through(c))
			}
			plain := crossed(0)
			for i, degrees := range angles {
				for _, sign := range []float64{1, -1} {
					if !all && (n+i)%2 == int(sign+1)/2 {
						continue
					}
					what := fmt.Sprintf("%s, %s, %g degrees", name, router, sign*degrees)
					alike(t, what, plain, crossed(sign*degrees))
				}
			}
		}
	}
}

// TestKinkThatMustBeSplit: a base of 100 mm that turns half a degree along walls
// of radius 68.5 would cut 0.0016 mm too deep, over the limit of 0.001: by
// turn^2 / 8 (1/r - 1/R), for r = 50 - 2.9/2 (derived; for straights, R without
// end, it is the fillet's (r - b/2)(1/sin(t/2) - 1) of the design). The cut is
// then split at the kink, and the groove is whole.
func TestKinkThatMustBeSplit(t *testing.T) {
	const turn, fillet, wall = 0.5 * math.Pi / 180, 50 - 2.9/2, 70 - 3.0/2
	if deep := turn * turn / 8 / (1.0/fillet - 1.0/wall); math.Abs(deep-0.0016) > 0.00005 || deep < groove.Overcut {
		t.Fatalf("%.5f mm", deep)
	}
	for _, times := range []float64{0, 1, -1} {
		c := geom.Chain(false, kinked["arc-arc, one bend"](&turtle{kink: times * turn}).edges...)
		r := handMade(t, fmt.Sprintf(kinkedJob, "guide = \"base\"\nrider = 100\nbit = 2.9"), c)
		want := 1
		if times > 0 {
			want = 2
		}
		if !r.OK() || len(r.Cuts) != want || len(r.Proof.Leftovers) != 4 {
			t.Errorf("turning by %g degrees: %d cuts, want %d; %d places left; %v", times/2, len(r.Cuts), want, len(r.Proof.Leftovers), failing(r.Findings))
		}
	}
}

func failing(found diag.Findings) diag.Findings {
	return slices.DeleteFunc(slices.Clone(found), func(f diag.Finding) bool { return f.Severity != diag.Error })
}

// alike holds a kinked build against the smooth one.
func alike(t *testing.T, what string, plain, r Result) {
	t.Helper()
	if r.Reached != Proved || r.Findings.HasErrors() {
		t.Errorf("%s: reached %v, %v", what, r.Reached, failing(r.Findings))
		return
	}
	if len(plain.Cuts) != len(r.Cuts) || len(plain.Set.Panels) != len(r.Set.Panels) || plain.Set.SetUps() != r.Set.SetUps() {
		t.Errorf("%s: %d cuts, %d panels, %d set-ups; smooth %d, %d, %d", what, len(r.Cuts), len(r.Set.Panels), r.Set.SetUps(), len(plain.Cuts), len(plain.Set.Panels), plain.Set.SetUps())
	}
	if d := math.Abs(r.Proof.UncutArea - plain.Proof.UncutArea); d > 0.002 || len(r.Proof.Leftovers) != len(plain.Proof.Leftovers) {
		t.Errorf("%s: left %.5f mm2 in %d places, smooth %.5f in %d", what, r.Proof.UncutArea, len(r.Proof.Leftovers), plain.Proof.UncutArea, len(plain.Proof.Leftovers))
	}
	if a, b := pieces(plain), pieces(r); a != b {
		t.Errorf("%s: %s pieces, smooth %s", what, b, a)
	}
	if a, b := rules(plain.Findings), rules(r.Findings); !slices.Equal(a, b) {
		t.Errorf("%s: findings %v, smooth %v", what, b, a)
	}
}

func pieces(r Result) string {
	n, fitted := 0, 0
	for _, s := range r.Inlay.Strips {
		n += len(s.Pieces)
		for _, p := range s.Pieces {
			if len(p.Segments) == 0 {
				fitted++
			}
		}
	}
	return fmt.Sprintf("%d (%d fitted)", n, fitted)
}

// rules are the rules of the findings but notes, each once.
func rules(found diag.Findings) []string {
	var list []string
	for _, f := range found {
		if f.Severity != diag.Note {
			list = append(list, f.Rule)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

package weave

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/plait"
	"strapwork/pkg/job"
	"strapwork/pkg/motif"
)

// Numbers as they come off a drawing or a calculator: what is drawn a little out
// is the same motif a little out.

// noise changes a number of mm a little.
type noise func(x float64) float64

type named struct {
	name string
	by   noise
}

// noises are all roundings and shakes that a motif must bear.
func noises(r *rand.Rand) (all []named) {
	for k := 2; k <= 6; k++ {
		p := math.Pow(10, float64(k))
		all = append(all, named{fmt.Sprintf("rounded to %d decimals", k), func(x float64) float64 { return math.Round(x*p) / p }})
	}
	for k := 2; k <= 9; k++ {
		by := math.Pow(10, -float64(k))
		all = append(all, named{fmt.Sprintf("shaken by 1e-%d", k), func(x float64) float64 { return x + by*(2*r.Float64()-1) }})
	}
	return all
}

// loopedPolygon is n sides with a loop at each corner, in one smooth closed
// strand: the loop about (reach, inset+loop) is tangent to two sides when
// reach = (inset+loop) tan(180/n) degrees. Its corners are crossings.
func loopedPolygon(n int, inset, loop float64, by noise) *job.Job {
	reach := (inset + loop) * math.Tan(math.Pi/float64(n))
	return jobOf(n,
		polyline(by(-reach), by(inset), by(reach), by(inset)),
		arc(by(reach), by(inset+loop), by(loop), 270, 360-360/float64(n)))
}

// rosette is rings round the origin, each crossing its neighbours twice.
func rosette(n int, by noise) *job.Job {
	return jobOf(n, circle(by(60), by(0), by(1.4*60*math.Sin(math.Pi/float64(n)))))
}

// lobed is a closed strand of arcs, tangent to each other inside, of which an
// eighth is drawn: each arc goes on into its own mirror image. The belly's
// radius is the lobe's and the distance of the centres (the larger circle holds
// the smaller).
func lobed(by noise) *job.Job {
	const far, near, lobe = 96, 80, 51
	c, d := geom.Pt(far, 0), geom.Polar(near, -math.Pi/4)
	belly := lobe + c.Dist(d)
	at := c.Sub(d).Angle() * 180 / math.Pi
	j := jobOf(4,
		arc(by(c.X), by(c.Y), by(lobe), 0, by(at)),
		arc(by(d.X), by(d.Y), by(belly), by(at), by(135-at)))
	j.Motif.Mirror = true
	return j
}

// twist is two strands of arcs that twist round each other, one the mirror image
// of the other: four ends meet at each of their two crossings, and pair up as
// the arcs go on.
func twist(by noise) *job.Job {
	const r = 45.0
	h, a := math.Sqrt(r*r-40*40), math.Asin(40/r)*180/math.Pi
	j := jobOf(1,
		arc(by(-80), by(-h), by(r), by(90-a), by(2*a)),
		arc(by(0), by(h), by(r), by(270-a), by(2*a)),
		arc(by(80), by(-h), by(r), by(90-a), by(2*a)))
	j.Motif.Mirror = true
	return j
}

// exactly is no noise.
func exactly(x float64) float64 { return x }

// symmetric checks that a motif of copies is exactly that: turned by one step,
// every vertex lies on a strand.
func symmetric(t *testing.T, m motif.Motif, n int) {
	t.Helper()
	turn := geom.TurningFraction(1, n)
	for _, s := range m.Strands {
		for _, v := range s.Contour.Vertices {
			least := math.Inf(1)
			for _, u := range m.Strands {
				q, _ := u.Contour.Nearest(turn.Apply(v.Point))
				least = min(least, q.Dist(turn.Apply(v.Point)))
			}
			if least > 1e-9 {
				t.Errorf("the vertex %v, turned, is off by %g mm", v.Point, least)
				return
			}
		}
	}
}

// tangent checks that no strand has a kink.
func tangent(t *testing.T, m motif.Motif) {
	t.Helper()
	for _, s := range m.Strands {
		edges := s.Contour.Edges()
		for i, e := range edges {
			f := edges[(i+1)%len(edges)]
			if k := math.Abs(e.Tangent(1).Cross(f.Tangent(0))); k > 2e-9 {
				t.Errorf("%s has a kink of %g at %v", s.ID, k, e.B)
				return
			}
		}
	}
}

// alike holds a weave against that of the motif as it was meant.
func alike(t *testing.T, m, meant motif.Motif, w, want Weave) {
	t.Helper()
	if len(m.Strands) != len(meant.Strands) || len(w.Crossings) != len(want.Crossings) {
		t.Errorf("%d strands, %d crossings; without noise %d, %d", len(m.Strands), len(w.Crossings), len(meant.Strands), len(want.Crossings))
		return
	}
	for i, c := range w.Crossings {
		d := want.Crossings[i]
		if !c.At.Near(d.At, 1) || c.Visits[0].Over != d.Visits[0].Over || c.Visits[0].Strand != d.Visits[0].Strand {
			t.Errorf("crossing %d at %v, over %v; without noise at %v, over %v", i, c.At, c.Visits[0].Over, d.At, d.Visits[0].Over)
			return
		}
	}
}

func TestNoiseInCopies(t *testing.T) {
	r := seeded(6000)
	for n := 3; n <= 9; n++ {
		inset, loop := 15+20*r.Float64(), 15+20*r.Float64()
		for _, noise := range noises(r) {
			name, by := noise.name, noise.by
			t.Run(fmt.Sprintf("%d sides %s", n, name), func(t *testing.T) {
				meant, want, _ := mustWeave(t, loopedPolygon(n, inset, loop, exactly))
				m, w, found := mustWeave(t, loopedPolygon(n, inset, loop, by))
				if found.HasErrors() {
					t.Fatal(found)
				}
				symmetric(t, m, n)
				tangent(t, m)
				alike(t, m, meant, w, want)
			})
			t.Run(fmt.Sprintf("%d rings %s", n, name), func(t *testing.T) {
				meant, want, _ := mustWeave(t, rosette(n, exactly))
				m, w, _ := mustWeave(t, rosette(n, by))
				symmetric(t, m, n)
				alike(t, m, meant, w, want)
			})
		}
	}
}

// TestNoiseInMirrorImages joins ends to their own mirror images. Angles are
// shaken too: an arc of 120 mm ends 0.02 mm off for a hundredth of a degree.
func TestNoiseInMirrorImages(t *testing.T) {
	for _, noise := range noises(seeded(6003)) {
		t.Run(noise.name, func(t *testing.T) {
			meant, want, _ := mustWeave(t, lobed(exactly))
			m, w, _ := mustWeave(t, lobed(noise.by))
			if len(m.Strands) != 1 || len(w.Crossings) != 8 {
				t.Errorf("%d strands, %d crossings, want 1 and 8", len(m.Strands), len(w.Crossings))
			}
			symmetric(t, m, 4)
			tangent(t, m)
			alike(t, m, meant, w, want)
		})
	}
}

// TestNoiseWhereFourEndsMeet has crossings at joints of both their strands: at
// one place, however the four ends are shaken, so that the strand that starts
// there starts with the crossing and doesn't end with it.
func TestNoiseWhereFourEndsMeet(t *testing.T) {
	for _, noise := range noises(seeded(6004)) {
		t.Run(noise.name, func(t *testing.T) {
			meant, want, _ := mustWeave(t, twist(exactly))
			m, w, _ := mustWeave(t, twist(noise.by))
			if len(m.Strands) != 1 || len(w.Crossings) != 2 {
				t.Errorf("%d strands, %d crossings, want 1 and 2", len(m.Strands), len(w.Crossings))
			}
			alike(t, m, meant, w, want)
		})
	}
}

// TestNoiseDrawnOut has all copies drawn one by one, each shaken on its own.
func TestNoiseDrawnOut(t *testing.T) {
	r := seeded(6001)
	for n := 3; n <= 9; n++ {
		out := func(by noise) *job.Job {
			var cs []geom.Contour
			j := loopedPolygon(n, 30, 25, exactly)
			for k := range n {
				for _, e := range j.Motif.Elements {
					c := geom.TurningFraction(k, n).Contour(e.Contour)
					if by != nil {
						c = shaken(c, by)
					}
					cs = append(cs, c)
				}
			}
			return jobOf(1, cs...)
		}
		for _, noise := range noises(r) {
			name, by := noise.name, noise.by
			t.Run(fmt.Sprintf("%d sides %s", n, name), func(t *testing.T) {
				meant, want, _ := mustWeave(t, out(nil))
				m, w, _ := mustWeave(t, out(by))
				tangent(t, m)
				alike(t, m, meant, w, want)
			})
		}
	}
}

// shaken moves the vertices of a contour.
func shaken(c geom.Contour, by noise) geom.Contour {
	vs := make([]geom.Vertex, len(c.Vertices))
	for i, v := range c.Vertices {
		vs[i] = geom.Vertex{Point: geom.Pt(by(v.X), by(v.Y)), Bulge: v.Bulge}
	}
	return geom.Contour{Vertices: vs, Closed: c.Closed}
}

// TestNoiseInPlaits cuts plaits into straights, shaken one by one.
func TestNoiseInPlaits(t *testing.T) {
	r := seeded(6002)
	for _, noise := range noises(r) {
		name, by := noise.name, noise.by
		a, b := 2+r.IntN(4), 2+r.IntN(4)
		var plain, cs []geom.Contour
		for _, l := range plait.Lines(a, b, 20) {
			for _, e := range l.Edges() {
				plain = append(plain, geom.Chain(false, e))
				cs = append(cs, shaken(geom.Chain(false, e), by))
			}
		}
		meant, want, _ := mustWeave(t, jobOf(1, plain...))
		m, w, _ := mustWeave(t, jobOf(1, cs...))
		t.Run(fmt.Sprintf("%d x %d %s", a, b, name), func(t *testing.T) { alike(t, m, meant, w, want) })
	}
}

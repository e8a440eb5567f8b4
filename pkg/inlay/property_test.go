package inlay

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// scene is some circles and long straights, none of whose bands of the given
// width touch without crossing.
func scene(r *rand.Rand, width float64) []geom.Contour {
	type ring struct {
		at geom.Point
		r  float64
	}
	var rings []ring
	var lines []geom.Edge
	var all []geom.Contour
	for range 1 + r.IntN(4) {
		c := ring{geom.Pt(r.Float64()*80-40, r.Float64()*80-40), 15 + 40*r.Float64()}
		if !slices.ContainsFunc(rings, func(o ring) bool {
			d := o.at.Dist(c.at)
			return math.Abs(d-o.r-c.r) < 2*width || math.Abs(d-math.Abs(o.r-c.r)) < 2*width
		}) {
			rings = append(rings, c)
			all = append(all, geom.Circle(c.at, c.r))
		}
	}
	for range r.IntN(5) {
		u := geom.Polar(1, 2*math.Pi*r.Float64())
		at := geom.Pt(r.Float64()*80-40, r.Float64()*80-40)
		e := geom.Line(at.Sub(u.Scale(400)), at.Add(u.Scale(400)))
		near := func(c ring) bool {
			return math.Abs(math.Abs(u.Cross(c.at.Sub(at)))-c.r) < 2*width
		}
		along := func(o geom.Edge) bool { return math.Abs(o.Tangent(0).Cross(u)) < 0.2 }
		if !slices.ContainsFunc(rings, near) && !slices.ContainsFunc(lines, along) {
			lines = append(lines, e)
			all = append(all, geom.Chain(false, e))
		}
	}
	return all
}

// TestStripsShareTheGroove: no place belongs to two pieces, no piece leaves
// the groove, and together they fill it but for the hollows that are reported
// and the splinters that are left out.
func TestStripsShareTheGroove(t *testing.T) {
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 31))
		j := jobOf(unequal(), 1, scene(r, 3.5)...)
		j.Inlay.Clearance, j.Inlay.Width = 0, 3.5
		m, found := motif.Build(j.Motif)
		w, more := weave.Build(m, j.Weave)
		if found.HasErrors() || more.HasErrors() {
			continue // three through one point
		}
		in, found := Build(paramsOf(j), m, w)
		if found.HasErrors() {
			t.Fatalf("seed %d: %v", seed, found)
		}
		sum, all := areas(in)
		union := region.Union(all...)
		near(t, "union of the pieces", union.Area(), sum, 1e-4)
		groove := in.Grooves()
		if out := region.Subtract(union, groove).Area(); out > 1e-4 {
			t.Errorf("seed %d: strips leave the groove by %g mm2", seed, out)
		}
		left := groove.Area() - sum
		hollow := slices.ContainsFunc(found, func(f diag.Finding) bool { return f.Rule == "strip-hollow" })
		if !hollow && left > float64(len(w.Crossings))*leastHollow+1e-4 {
			t.Errorf("seed %d: %g mm2 of the groove stay empty and nothing is reported about it: %v", seed, left, found)
		}
		if t.Failed() {
			t.Fatalf("seed %d: %v", seed, j.Motif.Elements)
		}
	}
}

// TestMovedMotif: turning and shifting a motif changes no length or area.
func TestMovedMotif(t *testing.T) {
	triangle := loopedTriangle()
	in, _ := quiet(t, triangle)
	for seed := range uint64(10) {
		r := rand.New(rand.NewPCG(seed, 7))
		by := geom.Turning(r.Float64() * 6).Then(geom.Shifting(geom.Pt(r.Float64()*500, r.Float64()*500)))
		// Moved off the origin its copies have to be listed.
		j := jobOf(tableStrips(), 1)
		for i := range triangle.Motif.Copies {
			for _, e := range triangle.Motif.Elements {
				f := e
				f.Contour = geom.TurningFraction(i, triangle.Motif.Copies).Then(by).Contour(e.Contour)
				j.Motif.Elements = append(j.Motif.Elements, f)
			}
		}
		moved, _ := quiet(t, j)
		for i, s := range in.Strips {
			near(t, "area", moved.Strips[i].Area().Area(), s.Area().Area(), 1e-5)
			for k, p := range s.Pieces {
				near(t, "length", moved.Strips[i].Pieces[k].Length, p.Length, 1e-6)
			}
		}
	}
}

func BenchmarkPlait(b *testing.B) {
	j := plaitJob(22, 23, 20) // 967 crossings
	m, _ := motif.Build(j.Motif)
	w, _ := weave.Build(m, j.Weave)
	for b.Loop() {
		in, found := Build(paramsOf(j), m, w)
		if len(found) > 0 || len(in.Picture("plait").Fills) == 0 {
			b.Fatal(found)
		}
	}
	b.ReportMetric(float64(len(w.Crossings)), "crossings")
}

package inlay

import (
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// A piece measured by its shape alone is the one that its cuts give. The two ways share
// the side lines and nothing of the ends.
func TestMeasuredAsCut(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 1))
	count := 0
	for range 40 {
		var lines []geom.Contour
		for range 3 {
			p := func() float64 { return math.Round((r.Float64()*200-100)*100) / 100 }
			lines = append(lines, polyline(p(), p(), p(), p()))
		}
		lines = append(lines, circle(math.Round(r.Float64()*40), 3, 30+r.Float64()*40), arc(0, 0, 25+r.Float64()*20, r.Float64()*90, 60+r.Float64()*200))
		j := jobOf(unequal(), 1, lines...)
		m, found := motif.Build(j.Motif)
		if found.HasErrors() {
			continue // lines that end near one another
		}
		w, found := weave.Build(m, j.Weave)
		if found.HasErrors() {
			continue
		}
		b := builder{motif: m, weave: w, lines: linesOf(paramsOf(j))}
		b.layTracks(j.Inlay.Width)
		b.findUnders()
		for _, tr := range b.tracks {
			b.split(tr)
		}
		for _, tr := range b.tracks {
			b.markReach(tr)
		}
		for _, tr := range b.tracks {
			for i := range tr.stretches {
				st := &tr.stretches[i]
				if len(st.others) > 0 || st.arm.ring && st.cuts[0] == nil {
					continue
				}
				for k := range b.lines.n {
					p, state := b.plainPiece(st, k)
					if state != whole {
						continue
					}
					count++
					same(t, p, b.measured(st, k, p.Area, tr.covers(st)))
				}
			}
		}
	}
	if count < 500 {
		t.Errorf("%d pieces alone were measured", count)
	}
}

func same(t *testing.T, want, got Piece) {
	t.Helper()
	const exact = 1e-5
	for _, v := range [][2]float64{
		{got.Left, want.Left},
		{got.Length, want.Length},
		{got.Right, want.Right},
		{got.From, want.From},
		{got.To, want.To},
		{got.Bend(), want.Bend()},
	} {
		if math.Abs(v[0]-v[1]) > exact {
			t.Errorf("measured %v, cut as %v at %v", got, want, want.At)
			return
		}
	}
	for i, e := range want.Ends {
		g := got.Ends[i]
		if g.Kind != e.Kind || math.Abs(g.Angle-e.Angle) > exact || math.Abs(g.Gap-e.Gap) > exact || len(g.On) != len(e.On) || g.Tee != e.Tee || g.Hollow != e.Hollow {
			t.Errorf("end %d is measured as %+v, cut as %+v at %v", i, g, e, want.At)
		}
	}
}

// What a straight leaves of an arc beyond it, when it turns off before it crosses the arc
// again, is a segment of a circle: its one side is the arc, and its one cut the chord, whose
// halves are its ends.
func TestSegmentOfACircle(t *testing.T) {
	j := jobOf(nil, 1, polyline(-60, -38.5, 9.5, -38.5, -5.5, -38.5+15*math.Sqrt(3)), arc(0, 0, 40, 200, 120))
	j.Inlay.Width = 3.5
	in, w, found := build(t, j)
	if found.HasErrors() || len(w.Crossings) != 1 {
		t.Fatal(w.Crossings, found)
	}
	pieces := strip(t, in, 1, 0).Pieces
	if len(pieces) != 3 {
		t.Fatalf("%d pieces, want one on either side and the segment: %v", len(pieces), pieces)
	}
	p := pieces[1]
	half := math.Acos((38.5 + 1.75) / 41.75)
	near(t, "right", p.Right, 2*41.75*half, 1e-6)
	near(t, "left", p.Left, 0, 0)
	near(t, "area", p.Area.Area(), 41.75*41.75*(half-math.Sin(half)*math.Cos(half)), 1e-6)
	for i, e := range p.Ends {
		near(t, "end", e.Angle, [2]float64{half, math.Pi - half}[i], 1e-6)
		if e.Kind != EndButt || e.Gap > 1e-6 {
			t.Errorf("end %d is %+v", i, e)
		}
	}
}

// A strand that ends under itself is measured as far as it comes to its own side, though
// its piece then touches itself.
func TestEndUnderItself(t *testing.T) {
	loop := geom.Chain(false, append(append([]geom.Edge{geom.Line(geom.Pt(-60, 0), geom.Pt(0, 0))},
		geom.Arc(geom.Pt(0, 12), 12, -math.Pi/2, 1.5*math.Pi)...), geom.Line(geom.Pt(-12, 12), geom.Pt(-12, -1.2)))...)
	in, w, found := build(t, jobOf(unequal(), 1, loop))
	if found.HasErrors() || len(w.Crossings) != 1 {
		t.Fatal(w.Crossings, found)
	}
	for _, s := range in.Strips {
		if len(s.Pieces) != 1 {
			t.Fatalf("%d pieces, want 1", len(s.Pieces))
		}
		p, d := s.Pieces[0], (s.Left+s.Right)/2
		length := func(d float64) float64 { return 60 + 1.5*math.Pi*(12-d) + 12 - 1.75 }
		near(t, "left", p.Left, length(s.Left), 1e-6)
		near(t, "middle", p.Length, length(d), 1e-6)
		near(t, "right", p.Right, length(s.Right), 1e-6)
		if e := p.Ends[1]; e.Kind != EndButt || math.Abs(e.Angle-math.Pi/2) > 1e-6 || len(p.Segments) != 3 {
			t.Errorf("ends %+v in segments %v", e, p.Segments)
		}
	}
}

// The arc through three points has its centre as far from all of them.
func TestThrough(t *testing.T) {
	at := func(deg float64) geom.Point { return geom.Pt(3, 4).Add(geom.Polar(7, deg*math.Pi/180)) }
	for _, c := range [][3]float64{{10, 40, 150}, {150, 40, 10}, {-20, 80, 90}, {90, 80, -20}} {
		e := through(at(c[0]), at(c[1]), at(c[2]))
		near(t, "radius", e.Radius(), 7, 1e-9)
		near(t, "distance of the middle point", e.Dist(at(c[1])), 0, 1e-9)
	}
	if e := through(geom.Pt(0, 0), geom.Pt(1, 1e-8), geom.Pt(5, 0)); !e.IsLine() {
		t.Errorf("three points in a line: %v", e)
	}
}

// A bend too short to be seen is none.
func TestSegmentsWithoutSplinters(t *testing.T) {
	arc := geom.Arc(geom.Pt(20, 8), 8, -math.Pi/2, 0.001)[0]
	for _, edges := range [][]geom.Edge{
		{geom.Line(geom.Pt(0, 0), geom.Pt(20, 0)), arc},
		reversed([]geom.Edge{geom.Line(geom.Pt(0, 0), geom.Pt(20, 0)), arc}),
	} {
		got := segments(edges)
		if len(got) != 1 || got[0].Radius != 0 {
			t.Fatalf("%v", got)
		}
		near(t, "length", got[0].Length, 20.008, 1e-9)
	}
}

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

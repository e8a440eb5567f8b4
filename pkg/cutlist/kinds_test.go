package cutlist

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/inlay"
	"strapwork/pkg/work"
)

// said is a kind in a few words.
func said(k Kind) string {
	return fmt.Sprintf("%v %.1f %v", k.Numbers, k.Long(), [2]int{int(math.Round(k.Ends[0].Angle * 180 / math.Pi)), int(math.Round(k.Ends[1].Angle * 180 / math.Pi))})
}

// Every side of a regular polygon is cut like the others, each strip in its own length, and
// no mirror image or turn makes other kinds of them.
func TestKindsOfPolygons(t *testing.T) {
	for n := 3; n <= 8; n++ {
		for laid, want := range map[work.Laid]int{work.LaidStrips: 3, work.LaidSandwich: 1} {
			l := listOf(t, laid, ngon(n))
			kinds := l.Kinds()
			if len(kinds) != want || len(kinds[0].Numbers) != n {
				t.Errorf("%d sides, %s: %d kinds, the first of %d", n, laid, len(kinds), len(kinds[0].Numbers))
			}
		}
	}
}

// Whose mirror images are of one kind, by hand: a kite walked round has its inside on the
// left of both sides of a pair, so that one is the other rolled over end for end. A step's
// two outer legs are one another's mirror image as they lie, which a sandwich whose lay-up
// differs from the right can't be; each strip by itself is longer in the one.
func TestKindsByHand(t *testing.T) {
	kite := geom.Polygon(geom.Pt(-40, 0), geom.Pt(0, -30), geom.Pt(90, 0), geom.Pt(0, 30))
	step := geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(40, 0)), geom.Line(geom.Pt(40, 0), geom.Pt(40, 40)), geom.Line(geom.Pt(40, 40), geom.Pt(80, 40)))
	slant := geom.Polygon(geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(110, 40), geom.Pt(30, 40))
	for _, c := range []struct {
		name  string
		laid  work.Laid
		line  geom.Contour
		layup []work.Strip
		want  int
	}{
		{"kite", work.LaidStrips, kite, layup, 6},
		{"kite", work.LaidSandwich, kite, layup, 2},
		{"step", work.LaidStrips, step, layup, 9},
		{"step", work.LaidSandwich, step, layup, 3},
		{"step", work.LaidSandwich, step, []work.Strip{layup[0], layup[1], layup[0]}, 2},
		// Half a turn carries its opposite sides into one another, left staying left.
		{"parallelogram", work.LaidStrips, slant, layup, 6},
		{"parallelogram", work.LaidSandwich, slant, layup, 2},
	} {
		l := listOf(t, c.laid, c.line)
		l.Layup = c.layup
		kinds := l.Kinds()
		if len(kinds) != c.want {
			t.Errorf("%s, %s: %d kinds, want %d", c.name, c.laid, len(kinds), c.want)
		}
		total := 0
		for _, k := range kinds {
			total += len(k.Numbers)
		}
		if total != len(l.Pieces) {
			t.Errorf("%s: %d of %d pieces are of a kind", c.name, total, len(l.Pieces))
		}
	}
}

// What a piece is turned into twice is itself, and no turn changes how long it is.
func TestPoses(t *testing.T) {
	l := listOf(t, work.LaidStrips, geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(50, 0)), geom.Edge{A: geom.Pt(50, 0), B: geom.Pt(90, 40), Bulge: math.Tan(math.Pi / 8)}, geom.Line(geom.Pt(90, 40), geom.Pt(60, 70))))
	for _, p := range l.Pieces {
		if !p.sameAs(p.endForEnd().endForEnd()) || !p.sameAs(p.upsideDown().upsideDown()) || p.sameAs(p.upsideDown()) && p.Bend > 0 {
			t.Errorf("piece %d isn't itself when it is turned twice", p.Number)
		}
		for _, o := range p.poses(true) {
			if math.Abs(o.Long()-p.Long()) > 1e-9 {
				t.Errorf("piece %d is %g long, turned %g", p.Number, p.Long(), o.Long())
			}
		}
	}
}

// Lengths within 0.05 mm share a stop, the longest first, bent ones apart.
func TestStops(t *testing.T) {
	piece := func(n int, long, bend, angle float64) Piece {
		end := inlay.End{Angle: angle}
		p := Piece{Number: n, Strip: 1, Thickness: 1, Left: long, Middle: long, Right: long, Bend: bend, Ends: [2]inlay.End{end, end}}
		if bend > 0 {
			p.Segments, p.Formed = []inlay.Segment{{Length: long, Radius: bend}}, true
		}
		return p
	}
	l := List{Allowance: 1, Pieces: []Piece{
		piece(1, 40, 0, math.Pi/2), piece(2, 80.03, 0, math.Pi/2), piece(3, 80, 0, math.Pi/2-0.2), piece(4, 40, 55, math.Pi/2), piece(5, 39.97, 0, math.Pi/2),
	}}
	l.Pieces[2].Middle -= math.Tan(0.2) // the long points add as much at its two ends
	b := l.Batches()
	if len(b) != 1 || len(b[0].Strips) != 1 {
		t.Fatalf("%+v", b)
	}
	var got []string
	for _, s := range b[0].Stops {
		line := fmt.Sprintf("%.2f %t %d", s.Length, s.Bent, s.Count())
		for _, k := range s.Kinds {
			line += " " + said(k)
		}
		got = append(got, line)
	}
	want := []string{"80.03 false 2 [2] 80.0 [90 90] [3] 80.0 [79 79]", "40.00 false 2 [1 5] 40.0 [90 90]", "40.00 true 1 [4] 40.0 [90 90]"}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
	if s := b[0].Strips[0]; s.Pieces != 5 || math.Abs(s.Length-280) > 0.01 || math.Abs(s.Cut-s.Length-5-Bent) > 1e-9 {
		t.Errorf("%+v", s)
	}
}

// The mitres of a square that is walked counter-clockwise: its left side is inside and
// shorter, so the long points are on the right of who walks; who looks back towards a side's
// beginning has them on the left.
func TestMitres(t *testing.T) {
	for _, p := range listOf(t, work.LaidStrips, ngon(4)).Pieces {
		for i, want := range [2]Hand{LongLeft, LongRight} {
			if m := MitreOf(p.Ends[i]); m.Hand != want || math.Abs(m.FromStrip-math.Pi/4) > 1e-9 || math.Abs(m.FromSquare-math.Pi/4) > 1e-9 {
				t.Errorf("piece %d, end %d: %+v", p.Number, i+1, m)
			}
		}
		for i, e := range p.endForEnd().Ends {
			if MitreOf(e) != MitreOf(p.Ends[1-i]) {
				t.Error("the hand of a cut changes when the piece is turned end for end")
			}
		}
		if MitreOf(p.upsideDown().Ends[0]).Hand != LongRight {
			t.Error("the hand of a cut stays when the piece is turned upside down")
		}
	}
	if m := MitreOf(inlay.End{Angle: math.Pi/2 + 0.0008}); m != (Mitre{FromStrip: math.Pi / 2}) {
		t.Errorf("an end 0.046 degrees off is %+v, not square", m)
	}
}

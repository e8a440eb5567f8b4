package groove

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// A leg of a drawing by its end and, for an arc, its radius (negative to the right).
type leg struct {
	to     geom.Point
	radius float64
}

// A drawn strand is a start and legs.
type drawn struct {
	from geom.Point
	legs []leg
}

// path writes a strand down, each point moved.
func (d drawn) path(move func(geom.Point) geom.Point, mirrored bool) string {
	var s strings.Builder
	p := move(d.from)
	fmt.Fprintf(&s, "M %.12f %.12f", p.X, p.Y)
	for _, l := range d.legs {
		p := move(l.to)
		if l.radius == 0 {
			fmt.Fprintf(&s, " L %.12f %.12f", p.X, p.Y)
			continue
		}
		flag := 0
		if l.radius > 0 != mirrored {
			flag = 1
		}
		fmt.Fprintf(&s, " A %.12f %.12[1]f 0 0 %d %.12f %.12f", math.Abs(l.radius), flag, p.X, p.Y)
	}
	return s.String()
}

// reversed is the strand drawn from its other end.
func (d drawn) reversed() drawn {
	back := drawn{from: d.legs[len(d.legs)-1].to}
	for i := len(d.legs) - 1; i >= 0; i-- {
		to := d.from
		if i > 0 {
			to = d.legs[i-1].to
		}
		back.legs = append(back.legs, leg{to, -d.legs[i].radius})
	}
	return back
}

// randomStrands are one or two strands of two or three legs each, with corners.
func randomStrands(rng *rand.Rand) []drawn {
	var all []drawn
	for range 1 + rng.IntN(2) {
		d := drawn{from: geom.Polar(150*rng.Float64(), 7*rng.Float64())}
		at, dir := d.from, 7*rng.Float64()
		for range 2 + rng.IntN(2) {
			chord := 70 + 60*rng.Float64()
			at = at.Add(geom.Polar(chord, dir))
			l := leg{to: at}
			if rng.IntN(2) == 0 {
				l.radius = (chord + 60*rng.Float64()) * float64(2*rng.IntN(2)-1)
			}
			d.legs = append(d.legs, l)
			dir += (0.6 + rng.Float64()) * float64(2*rng.IntN(2)-1)
		}
		all = append(all, d)
	}
	return all
}

// measured is what must not depend on where a motif lies or which way it is drawn.
type measured struct {
	area, swept, left, centres float64
	parts, cuts                int
}

// measure cuts each chain of a motif whole; ok is false if that can't be.
func measure(t *testing.T, paths []string) (m measured, ok bool) {
	t.Helper()
	g, found := read(t, "guide = \"bushing\"\nrider = 20\nbit = 3.175", paths...)
	if found.HasErrors() {
		return m, false
	}
	cs, found := g.wholes()
	if found.HasErrors() {
		return m, false
	}
	area, cut := g.Area(), swept(g, cs)
	m = measured{area: area.Area(), swept: cut.Area(), left: region.Subtract(area, cut).Area(), parts: len(g.parts), cuts: len(cs)}
	for _, c := range cs {
		m.centres += c.Centre.Area()
	}
	if over := region.Subtract(cut, area.Grow(Overcut)); !over.Empty() {
		t.Errorf("overcut of %g mm2: %v", over.Area(), paths)
	}
	return m, true
}

func (m measured) near(n measured, tol float64) bool {
	return m.parts == n.parts && m.cuts == n.cuts && math.Abs(m.area-n.area) <= tol && math.Abs(m.swept-n.swept) <= tol &&
		math.Abs(m.left-n.left) <= tol && math.Abs(m.centres-n.centres) <= tol
}

// A motif that is turned, mirrored or drawn from its other end makes the same groove
// and the same cuts; one whose points are out by a little makes nearly the same: a
// band's sides move by the noise, along each of some 500 mm.
func TestGroovesInOtherPlaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	motifs := 60
	if testing.Short() {
		motifs = 8
	}
	done := 0
	for n := range motifs {
		strands := randomStrands(rng)
		paths := func(move func(geom.Point) geom.Point, mirrored, back bool) []string {
			var list []string
			for _, d := range strands {
				if back {
					d = d.reversed()
				}
				list = append(list, d.path(move, mirrored))
			}
			return list
		}
		same := func(p geom.Point) geom.Point { return p }
		angle, shift := 7*rng.Float64(), geom.Polar(40, float64(n))
		want, ok := measure(t, paths(same, false, false))
		if !ok {
			continue
		}
		done++
		noisy := func(by float64) func(geom.Point) geom.Point {
			return func(p geom.Point) geom.Point { return p.Add(geom.Polar(by, 7*rng.Float64())) }
		}
		for _, c := range []struct {
			name           string
			move           func(geom.Point) geom.Point
			mirrored, back bool
			tol            float64
		}{
			{"turned", func(p geom.Point) geom.Point { return p.Turn(angle).Add(shift) }, false, false, 1e-5},
			{"mirrored", func(p geom.Point) geom.Point { return geom.Pt(p.X, -p.Y) }, true, false, 1e-5},
			{"drawn from the other end", same, false, true, 1e-5},
			{"out by 1e-6", noisy(1e-6), false, false, 500 * 4 * 1e-6},
			{"out by 1e-4", noisy(1e-4), false, false, 500 * 4 * 1e-4},
			{"out by 1e-2", noisy(1e-2), false, false, 500 * 4 * 1e-2},
		} {
			if got, ok := measure(t, paths(c.move, c.mirrored, c.back)); !ok || !got.near(want, c.tol) {
				t.Errorf("%d: %s: %+v (sound: %t), want %+v: %v", n, c.name, got, ok, want, paths(same, false, false))
			}
		}
	}
	if done < motifs/3 {
		t.Errorf("only %d of %d motifs were sound", done, motifs)
	}
}

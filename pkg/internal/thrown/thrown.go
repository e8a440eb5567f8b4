// Package thrown throws paths at random, as path data, for tests of what is made
// of motifs: with corners of all kinds, smooth joints, edges that are short, and
// strands that cross one another and themselves. Not all of them can be grooved.
package thrown

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"strapwork/pkg/geom"
)

// degree is one in radians.
const degree = math.Pi / 180

// Job is a job of paths in the job file's notation, 3 mm deep, without panels to
// ask for.
func Job(width, bit float64, paths ...string) string {
	var s strings.Builder
	s.WriteString("title = \"test\"\nunits = \"mm\"\n")
	for i, p := range paths {
		fmt.Fprintf(&s, "[[motif.path]]\nname = \"p%d\"\nd = %q\n", i+1, p)
	}
	fmt.Fprintf(&s, "[inlay]\ndepth = 3\nwidth = %g\n[router]\nguide = \"bearing\"\nbit = %g\n", width, bit)
	return s.String()
}

// Corner is a path of two arms, straight or bent, that meet at an angle of so
// many degrees.
func Corner(rng *rand.Rand, deg float64) string {
	arm := func(angle float64) (end geom.Point, path func(back bool) string) {
		chord, radius := 40+40*rng.Float64(), 45+100*rng.Float64()
		bend := math.Asin(chord / 2 / radius)
		kind := rng.IntN(3) - 1 // right, straight, left
		end = geom.Polar(chord, angle+float64(kind)*bend)
		return end, func(back bool) string {
			to := end
			if back {
				to = geom.Point{}
			}
			if kind == 0 {
				return fmt.Sprintf("L %.12f %.12f", to.X, to.Y)
			}
			flag := 0
			if (kind > 0) != back {
				flag = 1
			}
			return fmt.Sprintf("A %.12f %.12f 0 0 %d %.12f %.12f", radius, radius, flag, to.X, to.Y)
		}
	}
	around := 2 * math.Pi * rng.Float64()
	e, in := arm(around)
	_, out := arm(around + deg*degree)
	return fmt.Sprintf("M %.12f %.12f %s %s", e.X, e.Y, in(true), out(false))
}

// Ring is a closed path of three to eight edges round a point.
func Ring(rng *rand.Rand) string {
	n := 3 + rng.IntN(6)
	sense := float64(2*rng.IntN(2) - 1)
	var s strings.Builder
	var first, last geom.Point
	for i := range n + 1 {
		p := geom.Polar(15+40*rng.Float64(), sense*2*math.Pi*(float64(i)+0.6*rng.Float64())/float64(n))
		switch {
		case i == 0:
			first = p
			fmt.Fprintf(&s, "M %.9f %.9f", p.X, p.Y)
		default:
			if i == n {
				p = first
			}
			if rng.IntN(2) == 0 {
				fmt.Fprintf(&s, " L %.9f %.9f", p.X, p.Y)
			} else {
				r := p.Dist(last) * (0.6 + rng.Float64())
				fmt.Fprintf(&s, " A %.9f %.9f 0 0 %d %.9f %.9f", r, r, rng.IntN(2), p.X, p.Y)
			}
		}
		last = p
	}
	return s.String() + " Z"
}

// Chain is a path of one to five edges that turn at random, sometimes smoothly.
func Chain(rng *rand.Rand) string {
	p := geom.Pt(100*rng.Float64(), 100*rng.Float64())
	angle := 2 * math.Pi * rng.Float64()
	var s strings.Builder
	fmt.Fprintf(&s, "M %.12f %.12f", p.X, p.Y)
	for range 1 + rng.IntN(5) {
		length := 8 + 60*rng.Float64()
		if rng.IntN(2) == 0 {
			p = p.Add(geom.Polar(length, angle))
			fmt.Fprintf(&s, " L %.12f %.12f", p.X, p.Y)
		} else {
			radius := 8 + 60*rng.Float64()
			half := min(length/radius, 5) / 2
			flag := rng.IntN(2)
			sign := float64(2*flag - 1)
			p = p.Add(geom.Polar(2*radius*math.Sin(half), angle+sign*half))
			large := 0
			if half > math.Pi/2 {
				large = 1
			}
			fmt.Fprintf(&s, " A %.12f %.12f 0 %d %d %.12f %.12f", radius, radius, large, flag, p.X, p.Y)
			angle += 2 * sign * half
		}
		if rng.IntN(2) == 0 {
			angle += (rng.Float64() - 0.5) * 260 * degree
		}
	}
	return s.String()
}

package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/plait"
	"strapwork/pkg/internal/thrown"
)

// mostCuts is what a motif of the exact search takes at most.
const mostCuts = 14

// A motifKind makes a motif at random, of n copies.
type motifKind struct {
	name string
	make func(rng *rand.Rand, n int, mirror bool) figure
}

var motifKinds = []motifKind{
	{"bars", func(rng *rand.Rand, n int, mirror bool) figure { return randomFigure(rng, n, mirror, max(n, 10)) }},
	{"curves", curvedFigure},
	{"loops", func(rng *rand.Rand, n int, mirror bool) figure {
		at := func(r float64) geom.Point { return geom.Polar(r, 2*math.Pi*rng.Float64()) }
		return figure{copies: n, mirror: mirror, paths: []geom.Contour{loop(at(60+200*rng.Float64()), at(1), 45+20*rng.Float64(), 30+40*rng.Float64())}}
	}},
	{"bows", bowedPolygon},
	{"star", func(rng *rand.Rand, n int, _ bool) figure {
		return figure{paths: []geom.Contour{starPolygon(n+4, 1+rng.IntN(3), 80+140*rng.Float64())}}
	}},
	{"rings", func(rng *rand.Rand, n int, mirror bool) figure {
		f := figure{copies: n, mirror: mirror, paths: []geom.Contour{geom.Circle(geom.Polar(40+120*rng.Float64(), 0), 45+80*rng.Float64())}}
		if rng.IntN(2) == 0 {
			f.paths = append(f.paths, geom.Circle(geom.Pt(0, 0), 50+150*rng.Float64()))
		}
		return f
	}},
	{"plait", func(rng *rand.Rand, _ int, _ bool) figure {
		return figure{paths: plait.Lines(1+rng.IntN(3), 1+rng.IntN(3), 40+60*rng.Float64())}
	}},
	{"thrown", func(rng *rand.Rand, n int, mirror bool) figure {
		f := figure{copies: n, mirror: mirror}
		for range 1 + rng.IntN(2) {
			if rng.IntN(2) == 0 {
				f.data = append(f.data, thrown.Chain(rng))
			} else {
				f.data = append(f.data, thrown.Ring(rng))
			}
		}
		return f
	}},
	{"polygons", func(rng *rand.Rand, n int, mirror bool) figure {
		f := figure{copies: min(n, 4), mirror: mirror && n < 3}
		center, radius, first := geom.Polar(150*rng.Float64(), 6*rng.Float64()), 60+80*rng.Float64(), rng.Float64()
		var pts []geom.Point
		for k := range 3 + rng.IntN(3)/n {
			pts = append(pts, center.Add(geom.Polar(radius, first+float64(k)*2*math.Pi/5)))
		}
		f.paths = append(f.paths, geom.Polygon(pts...))
		return f
	}},
}

// randomFigure is n turned copies, mirrored or not, of elements that make no
// more than most cuts: bars and bows at random, and, with mirror, some that lie
// across the mirror's axis and are their own images.
func randomFigure(rng *rand.Rand, n int, mirror bool, most int) figure {
	f := figure{copies: n, mirror: mirror}
	each := n
	if mirror {
		each = 2 * n
	}
	for cuts := 0; ; {
		own := each > most || (mirror && rng.IntN(3) == 0)
		if own {
			cuts += n
		} else {
			cuts += each
		}
		if cuts > most || (len(f.paths) > 0 && rng.IntN(8) == 0) {
			return f
		}
		a := geom.Polar(60+200*rng.Float64(), 2*math.Pi*rng.Float64())
		b := a.Add(geom.Polar(90+260*rng.Float64(), 2*math.Pi*rng.Float64()))
		switch {
		case own:
			f.paths = append(f.paths, bar(geom.Pt(a.Norm(), -b.Norm()/3), geom.Pt(a.Norm(), b.Norm()/3)))
		case rng.IntN(3) == 0:
			f.paths = append(f.paths, bow(a, b, 0.05+0.1*rng.Float64()))
		default:
			f.paths = append(f.paths, bar(a, b))
		}
	}
}

// bowedPolygon is a ring of bows from corner to corner of a polygon, some of
// them skipping corners, so that they cross.
func bowedPolygon(rng *rand.Rand, n int, _ bool) figure {
	n = max(3, n)
	radius, skip := 90+150*rng.Float64(), 1+rng.IntN(2)
	return figure{copies: n, paths: []geom.Contour{bow(geom.Polar(radius, 0), geom.Polar(radius, float64(skip)*2*math.Pi/float64(n)), 0.3*rng.Float64()-0.1)}}
}

// starPolygon has n corners, each joined with the step-th after it until it closes.
func starPolygon(n, step int, radius float64) geom.Contour {
	pts := []geom.Point{geom.Pt(radius, 0)}
	for i := step % n; i != 0; i = (i + step) % n {
		pts = append(pts, geom.Polar(radius, 2*math.Pi*float64(i)/float64(n)))
	}
	return geom.Polygon(pts...)
}

// tools are a bushing, a base and a bearing.
var tools = []string{bushing, base, "[router]\nguide = \"bearing\"\nbit = 3.175\n"}

// exactMotif is the n-th motif: every kind in turn, of one to six copies; a
// third of them rounded to two decimals, or written out and out by some
// micrometres.
func exactMotif(t testing.TB, n int) (string, ready) {
	t.Helper()
	rng := rand.New(rand.NewPCG(uint64(n), 1204))
	of := motifKinds[n%len(motifKinds)]
	copies := 1 + n/len(motifKinds)%6
	for range 1000 {
		f, decimals := of.make(rng, copies, copies < 4 && rng.IntN(3) == 0), 9
		switch off := rng.IntN(6); {
		case off == 0:
			decimals = 2
		case off == 1 && f.data == nil:
			f = f.listed(0.002, rng)
		}
		text := "title = \"test\"\nunits = \"mm\"\n" + f.text(decimals) + inlay + tools[rng.IntN(len(tools))] +
			fmt.Sprintf("[template]\nflip = %t\nturn = %t\n", rng.IntN(2) == 0, rng.IntN(6) > 0)
		r, found := prepare("test.toml", []byte(text))
		if !found.HasErrors() && len(r.cuts) <= mostCuts && coarseAtoms(&r.groove) <= tooManyAtoms {
			return text, r
		}
	}
	t.Fatalf("no motif of kind %s and %d copies can be made", of.name, copies)
	return "", ready{}
}

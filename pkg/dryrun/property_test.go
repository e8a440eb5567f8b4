package dryrun

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/ngc"
	"strapwork/pkg/walls"
)

// Judging by brute force: grooves as formulas, paths as formulas, and a great
// many points. It shares nothing with the judge.

// shape is a bar or a ring by its formula.
type shape struct {
	a, b geom.Point
	r    float64 // of a ring about a, if > 0
}

// far is the distance from p to the shape's area.
func (s shape) far(p geom.Point) float64 {
	if s.r > 0 {
		return math.Max(0, math.Abs(math.Hypot(p.X-s.a.X, p.Y-s.a.Y)-s.r)-wide/2)
	}
	x, y := s.local(p)
	l := math.Hypot(s.b.X-s.a.X, s.b.Y-s.a.Y)
	return math.Hypot(math.Max(0, math.Max(-x, x-l)), math.Max(0, math.Abs(y)-wide/2))
}

// within is how deep p lies in the shape's area, 0 outside.
func (s shape) within(p geom.Point) float64 {
	if s.r > 0 {
		return math.Max(0, wide/2-math.Abs(math.Hypot(p.X-s.a.X, p.Y-s.a.Y)-s.r))
	}
	x, y := s.local(p)
	l := math.Hypot(s.b.X-s.a.X, s.b.Y-s.a.Y)
	return math.Max(0, math.Min(math.Min(x, l-x), wide/2-math.Abs(y)))
}

func (s shape) local(p geom.Point) (x, y float64) {
	d := s.b.Sub(s.a).Unit()
	q := p.Sub(s.a)
	return q.Dot(d), d.Cross(q)
}

func (s shape) strand() walls.Strand {
	if s.r > 0 {
		return ring(s.a, s.r)
	}
	return bar(s.a, s.b)
}

// track is a piece of a path: a line or an arc about c.
type track struct {
	a, b, c      geom.Point
	start, sweep float64 // of an arc of radius r > 0
	r            float64
	z0, z1       float64
}

func (k track) at(t float64) geom.Point {
	if k.r > 0 {
		return k.c.Add(geom.Polar(k.r, k.start+k.sweep*t))
	}
	return k.a.Lerp(k.b, t)
}

func (k track) length() float64 {
	if k.r > 0 {
		return k.r * math.Abs(k.sweep)
	}
	return k.a.Dist(k.b)
}

// span are the fractions between which the track is lower than z.
func (k track) span(z float64) (t0, t1 float64) {
	lo, hi := k.z0 < z, k.z1 < z
	if !lo && !hi {
		return 1, 0
	}
	if lo && hi {
		return 0, 1
	}
	t := (z - k.z0) / (k.z1 - k.z0)
	if lo {
		return 0, t
	}
	return t, 1
}

// far is the distance from p to the track between two fractions.
func (k track) far(p geom.Point, t0, t1 float64) float64 {
	ends := math.Min(p.Dist(k.at(t0)), p.Dist(k.at(t1)))
	if k.r <= 0 {
		d := k.b.Sub(k.a)
		t := 0.0
		if n := d.Dot(d); n > 0 {
			t = p.Sub(k.a).Dot(d) / n
		}
		return p.Dist(k.at(math.Max(t0, math.Min(t1, t))))
	}
	angle := math.Atan2(p.Y-k.c.Y, p.X-k.c.X) - k.start
	if k.sweep < 0 {
		angle = -angle
	}
	angle = math.Mod(math.Mod(angle, 2*math.Pi)+2*math.Pi, 2*math.Pi)
	if t := angle / math.Abs(k.sweep); t >= t0 && t <= t1 {
		return math.Abs(p.Dist(k.c) - k.r)
	}
	return ends
}

var shapes = []shape{
	{a: geom.Pt(-20, 0), b: geom.Pt(20, 0)},
	{a: geom.Pt(-10, -18), b: geom.Pt(12, 17)},
	{a: geom.Pt(3, 2), r: 12},
}

// walk is a random way to cut the shapes: along each wall, with a mistake here
// and there.
func walk(rnd *rand.Rand) [][]track {
	var out [][]track
	wrong := func() float64 {
		if rnd.IntN(4) > 0 {
			return 0
		}
		return rnd.NormFloat64() * 0.2
	}
	depth := func() float64 {
		if rnd.IntN(8) == 0 {
			return -rnd.Float64() * deep
		}
		return -deep
	}
	for _, s := range shapes {
		for _, side := range []float64{-play, play} {
			z := depth()
			off := side + wrong()
			if s.r > 0 {
				start := rnd.Float64() * 6
				out = append(out, []track{
					{c: s.a, r: s.r + off, start: start, sweep: 4, z0: z, z1: z},
					{c: s.a, r: s.r + off, start: start + 4, sweep: 2*math.Pi - 4, z0: z, z1: z},
				})
				continue
			}
			d := s.b.Sub(s.a).Unit()
			n := d.Left().Scale(off)
			a, b := s.a.Add(d.Scale(bit/2+wrong())).Add(n), s.b.Sub(d.Scale(bit/2)).Add(n)
			ramp := track{a: a, b: a.Lerp(b, 0.4), z0: 0, z1: z}
			out = append(out, []track{ramp, {a: ramp.b, b: a, z0: z, z1: z}, {a: a, b: b, z0: z, z1: z}})
		}
	}
	if rnd.IntN(2) == 0 { // a helix astray
		z := depth()
		out = append(out, []track{{c: geom.Pt(rnd.Float64()*10, rnd.Float64()*10), r: 2 + rnd.Float64()*8, start: rnd.Float64() * 6, sweep: -1 - rnd.Float64()*5, z0: 1, z1: z}})
	}
	return out
}

// program writes tracks down.
func program(t *testing.T, o ngc.Options, tracks [][]track) string {
	return wrote(t, o, func(w *ngc.Writer) {
		for _, run := range tracks {
			w.Rapid(ngc.Z(10))
			w.Rapid(ngc.XY(run[0].at(0)))
			w.Line(ngc.Z(run[0].z0), 250)
			for _, k := range run {
				if k.r > 0 {
					w.Arc(ngc.XYZ(k.at(1), k.z1), k.c, k.sweep, 1200)
				} else {
					w.Line(ngc.XYZ(k.b, k.z1), 1200)
				}
			}
		}
	})
}

// bruteGouge is how far cut points lie beyond the shapes, by points of the rim
// and within it, a hundredth or two apart.
func bruteGouge(tracks [][]track) float64 {
	worst := 0.0
	look := func(p geom.Point) {
		near := math.Inf(1)
		for _, s := range shapes {
			near = math.Min(near, s.far(p)-s.within(p))
		}
		if near < -bit/2 || near+bit/2 <= worst {
			return // the whole disc is within, or no worse
		}
		const around = 180
		for i := range around {
			u := geom.Polar(1, 2*math.Pi*float64(i)/around)
			for _, r := range [3]float64{bit / 2, bit / 3, bit / 6} {
				q := p.Add(u.Scale(r))
				d := math.Inf(1)
				for _, s := range shapes {
					d = math.Min(d, s.far(q))
				}
				worst = math.Max(worst, d)
			}
		}
	}
	for _, run := range tracks {
		for _, k := range run {
			t0, t1 := k.span(0)
			n := int(k.length()*(t1-t0)/0.02) + 1
			for i := 0; t0 <= t1 && i <= n; i++ {
				look(k.at(t0 + (t1-t0)*float64(i)/float64(n)))
			}
		}
	}
	return worst
}

// checkLeft holds what is reported to be left against a grid of points.
func checkLeft(t *testing.T, name string, r Report, tracks [][]track) {
	t.Helper()
	var missed, chisel []region.Region
	for _, s := range r.Left {
		if s.Chisel {
			chisel = append(chisel, region.New(s.Loops...))
		} else {
			missed = append(missed, region.New(s.Loops...))
		}
	}
	reported, corners := region.Union(missed...), region.Union(chisel...)
	const grid = 0.2
	least, most := 0.0, 0.0
	rnd := rand.New(rand.NewPCG(1, 1)) // a thin strip falls between the lines of a grid
	for x := -25.0; x < 25; x += grid {
		for y := -22.0; y < 22; y += grid {
			p := geom.Pt(x+grid*rnd.Float64(), y+grid*rnd.Float64())
			in := 0.0
			for _, s := range shapes {
				in = math.Max(in, s.within(p))
			}
			if in <= 0 {
				continue
			}
			away := math.Inf(1)
			for _, run := range tracks {
				for _, k := range run {
					if t0, t1 := k.span(-deep + deepOver); t0 <= t1 {
						away = math.Min(away, k.far(p, t0, t1))
					}
				}
			}
			over := away - bit/2
			if over > -0.008 {
				most += grid * grid
			}
			if over > 0.012 && in > 0.012 {
				least += grid * grid
			}
			if over > 0.012 && in > 0.012 && !reported.Contains(p) && !corners.Contains(p) {
				t.Errorf("%s: %v is %v from what is cut and not reported", name, p, over)
				return
			}
			if over < -0.008 && reported.Contains(p) {
				t.Errorf("%s: %v is cut and reported as left", name, p)
				return
			}
		}
	}
	if r.LeftArea < least-0.5 || r.LeftArea > most+0.5 { // by how coarse the grid is
		t.Errorf("%s: %v left, by points %v to %v", name, r.LeftArea, least, most)
	}
}

func TestAgainstBruteForce(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	t.Parallel()
	var parts []walls.Strand
	for _, s := range shapes {
		parts = append(parts, s.strand())
	}
	w := against(parts...)
	trials := 8
	if testing.Short() {
		trials = 4
	}
	gouges, left := 0, 0
	for trial := range trials {
		rnd := rand.New(rand.NewPCG(uint64(trial), 3))
		tracks := walk(rnd)
		name := fmt.Sprint("trial ", trial)
		o := ngc.Options{Decimals: 3 + trial%4}
		switch trial % 3 {
		case 1:
			o.Units, o.Decimals = ngc.Inches, 5
		case 2:
			o.Chord = 0.005
		}
		r := judged(t, program(t, o, tracks), w)
		want := bruteGouge(tracks)
		if want > gougeOver*1.5 || r.GougeMax.Amount > 0 {
			near(t, name+": gouge", r.GougeMax.Amount, want, 0.01)
			gouges++
		}
		if r.MissedArea > 0 {
			left++
		}
		checkLeft(t, name, r, tracks)
	}
	if !testing.Short() && (gouges < 4 || gouges == trials || left < 4) {
		t.Errorf("%d gouges and %d remainders in %d programs: too few to say", gouges, left, trials)
	}
}

// An inch program is judged as the same program in mm.
func TestInches(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewPCG(9, 9))
	g, _ := interlace()
	tracks := walk(rnd)
	w := against(g...)
	w.Partial = true
	a := judged(t, program(t, ngc.Options{Decimals: 5}, tracks), w)
	b := judged(t, program(t, ngc.Options{Units: ngc.Inches, Decimals: 6}, tracks), w)
	const tol = 1e-4 // of a step of the coarser of the two, five decimals of a mm, times ten
	near(t, "gouge", b.GougeMax.Amount, a.GougeMax.Amount, tol)
	near(t, "length", b.Length, a.Length, 0.01)
	near(t, "seconds", b.Seconds, a.Seconds, 0.01)
	near(t, "missed", b.MissedArea, a.MissedArea, 0.05)
	if fmt.Sprint(rules(a.Findings, 2)) != fmt.Sprint(rules(b.Findings, 2)) || a.Blocks != b.Blocks || a.GougeMax.Line != b.GougeMax.Line {
		t.Errorf("%v\n%v", a.Findings, b.Findings)
	}
}

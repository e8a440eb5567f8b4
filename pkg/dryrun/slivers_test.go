package dryrun

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/ngc"
	"strapwork/pkg/walls"
)

// seed is a point of wood that must stay: so deep in it that a bit which takes
// it goes that much beyond the groove.
type seed struct {
	at   geom.Point
	deep float64
}

// slivers is a wide groove with thin wood standing in it: posts, and walls that
// part it from side to side or end within it.
func slivers(rnd *rand.Rand) (region.Region, []seed) {
	const length, width = 120.0, 30.0
	var wood []region.Region
	var seeds []seed
	for range rnd.IntN(4) {
		c := geom.Pt(5+rnd.Float64()*(length-10), (rnd.Float64()-0.5)*(width-10))
		r := math.Exp(rnd.Float64()*5 - 4) // 0.02 to 2.7
		wood = append(wood, region.Disc(c, r))
		seeds = append(seeds, seed{c, r})
		for i := range 8 {
			seeds = append(seeds, seed{c.Add(geom.Polar(r/2, float64(i)*math.Pi/4)), r / 2})
		}
	}
	for range rnd.IntN(3) {
		x, half := 5+rnd.Float64()*(length-10), math.Exp(rnd.Float64()*5-4)/2
		end := width/2 + 1
		if rnd.IntN(2) == 0 {
			end = (rnd.Float64() - 0.5) * 20
		}
		wood = append(wood, region.New(geom.Rect(geom.Box{Min: geom.Pt(x-half, -width/2-1), Max: geom.Pt(x+half, end)})))
		for y := -width / 2; y < end-half && y < width/2; y += 0.05 {
			seeds = append(seeds, seed{geom.Pt(x, y), half})
		}
	}
	for x := -5.0; x < length+5; x += 0.1 {
		seeds = append(seeds, seed{geom.Pt(x, width/2+0.02), 0.02}, seed{geom.Pt(x, -width/2-0.02), 0.02})
	}
	for y := -width / 2; y < width/2; y += 0.1 {
		seeds = append(seeds, seed{geom.Pt(-0.02, y), 0.02}, seed{geom.Pt(length+0.02, y), 0.02})
	}
	area := region.New(geom.Rect(geom.Box{Min: geom.Pt(0, -width/2), Max: geom.Pt(length, width/2)}))
	return region.Subtract(area, region.Union(wood...)), seeds
}

// astray is a random program of few long moves of every kind, low in places.
func astray(rnd *rand.Rand) string {
	var b strings.Builder
	b.WriteString("G21 G17 G90 G94 G54\nG0 Z10\nS16000 M3\nG4 P3\n")
	x, y := 3+rnd.Float64()*114, (rnd.Float64()-0.5)*26
	fmt.Fprintf(&b, "G0 X%.4f Y%.4f\nG1 Z-1 F250\n", x, y)
	for range 1 + rnd.IntN(3) {
		z := []float64{-1, -1, -2, 1, -0.5}[rnd.IntN(5)]
		switch rnd.IntN(5) {
		case 0: // a full circle or helix turn
			r := math.Exp(rnd.Float64()*6 - 3)
			a := rnd.Float64() * 7
			fmt.Fprintf(&b, "G%d X%.4f Y%.4f I%.4f J%.4f Z%g F1200\n", 2+rnd.IntN(2), x, y, r*math.Cos(a), r*math.Sin(a), z)
			continue
		case 1:
			dx, dy := (rnd.Float64()-0.5)*30, (rnd.Float64()-0.5)*10
			r := math.Hypot(dx, dy)/2 + math.Exp(rnd.Float64()*9-6)
			if rnd.IntN(3) == 0 {
				r = -r
			}
			nx, ny := math.Max(2, math.Min(118, x+dx)), math.Max(-13, math.Min(13, y+dy))
			fmt.Fprintf(&b, "G%d X%.4f Y%.4f R%.4f Z%g F1200\n", 2+rnd.IntN(2), nx, ny, r, z)
			x, y = nx, ny
			continue
		case 2:
			nx, ny := 2+rnd.Float64()*116, (rnd.Float64()-0.5)*26
			fmt.Fprintf(&b, "G91 G1 X%.4f Y%.4f F900\nG90 Z%g\n", nx-x, ny-y, z)
			x, y = nx, ny
			continue
		}
		x, y = 2+rnd.Float64()*116, (rnd.Float64()-0.5)*26
		fmt.Fprintf(&b, "G1 X%.4f Y%.4f Z%g F1200\n", x, y, z)
	}
	b.WriteString("G0 Z10\nM5\nM2\n")
	return b.String()
}

// taken is the deepest seed that the moves of a program take surely: deeper
// than may be, and seen nearer than a step along the path could be out by.
func taken(moves []ngc.Move, seeds []seed) (worst seed, nearest float64) {
	const step, sure = 0.04, 0.0005
	nearest = math.Inf(1)
	for _, m := range moves {
		length, known := m.Length()
		if !m.Kind.Travels() || !known || !m.From.Has(ngc.AxesXYZ) {
			continue
		}
		n := int(length/step) + 1
		for i := range n + 1 {
			x, y, z := pointAt(m, float64(i)/float64(n))
			if z >= -1e-3 {
				continue
			}
			for _, s := range seeds {
				dx, dy := x-s.at.X, y-s.at.Y
				if dx > bit || dx < -bit || dy > bit || dy < -bit {
					continue
				}
				d := math.Hypot(dx, dy)
				nearest = math.Min(nearest, d+s.deep)
				if d < bit/2-sure && s.deep > gougeOver+sure && s.deep > worst.deep {
					worst = s
				}
			}
		}
	}
	return worst, nearest
}

// Thin wood that stands in a wide groove is easily stepped over: no program of
// long moves that takes some of it passes.
func TestSliversAreNotSteppedOver(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	t.Parallel()
	harmful, sound := 0, 0
	for trial := range 200 {
		rnd := rand.New(rand.NewPCG(uint64(trial), 77))
		area, seeds := slivers(rnd)
		text := astray(rnd)
		moves, err := ngc.ReadAll(strings.NewReader(text))
		if err != nil {
			continue // an arc by radius that can't be
		}
		w := in(walls.Groove{Area: area})
		w.Partial = true
		r := judged(t, text, w)
		bad, _ := taken(moves, seeds)
		switch {
		case bad.deep > 0:
			harmful++
			if r.GougeMax.Amount < bad.deep-searched-1e-3 {
				t.Errorf("trial %d: takes %v, %v deep in the wood, and %v is reported\n%s", trial, bad.at, bad.deep, r.GougeMax.Amount, text)
			}
		case r.OK():
			sound++
		}
	}
	if harmful < 40 || sound < 40 {
		t.Errorf("%d harmful and %d sound programs: too few to say", harmful, sound)
	}
}

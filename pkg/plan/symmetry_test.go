package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
)

// generic elements have no symmetry of their own, nor with one another.
func genericElements() []geom.Contour {
	return []geom.Contour{
		bar(geom.Pt(113, 31), geom.Pt(211, 57)),
		bow(geom.Pt(130, 90), geom.Pt(190, 75), 0.2),
	}
}

// Whatever the job says of copies, the motif's own symmetry is found: turns,
// and, for those made with mirror, as many turnings over.
func TestSymmetryIsFound(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for _, n := range []int{1, 2, 3, 4, 5, 6, 8, 15} {
		for _, mirror := range []bool{false, true} {
			if testing.Short() && n > 4 {
				continue
			}
			f := figure{copies: n, mirror: mirror, paths: genericElements()}
			tests := []struct {
				name     string
				f        figure
				decimals int
				found    bool
			}{
				{"copies", f, 6, true},
				{"listed", f.listed(0, rng), 12, true},
				// Each copy is out by up to so much, two by up to the joint's tolerance.
				{"out by 0.0005", f.listed(0.0005/math.Sqrt2, rng), 12, true},
				{"out by 0.01", f.listed(0.02, rng), 12, n == 1 && !mirror},
			}
			for _, test := range tests {
				t.Run(fmt.Sprintf("%d-fold/mirror=%t/%s", n, mirror, test.name), func(t *testing.T) {
					r := mustPrepare(t, test.f.text(test.decimals)+inlay+bushing)
					turns, flips := n, 0
					if mirror {
						flips = n
					}
					if !test.found {
						turns, flips = 1, 0
					}
					checkSymmetry(t, Symmetry(r.groove.Motif, true), turns, flips)
					checkSymmetry(t, Symmetry(r.groove.Motif, false), turns, 0)
				})
			}
		}
	}
}

// checkSymmetry wants the turns evenly spaced from 0, then the turnings over.
// Mirrored in the x axis is turned over in the y axis and then turned by 180
// degrees; the others follow by the turns.
func checkSymmetry(t *testing.T, got []Orientation, turns, flips int) {
	t.Helper()
	if len(got) != turns+flips {
		t.Fatalf("%d positions %v, want %d turns and %d turnings over", len(got), got, turns, flips)
	}
	seen := map[string]bool{}
	for i, p := range got {
		if p.Flip != (i >= turns) {
			t.Errorf("position %d is %v: turned-over ones come last", i, p)
		}
		step := 360 / float64(turns)
		d := p.TurnDeg
		if p.Flip {
			d -= 180
		} else if math.Abs(d-float64(i)*step) > 1e-9 {
			t.Errorf("position %d is %v, want %g degrees", i, p, float64(i)*step)
		}
		if off := math.Remainder(d, step); math.Abs(off) > 1e-3 {
			t.Errorf("position %v is %g degrees off a symmetry", p, off)
		}
		seen[p.String()] = true
	}
	if len(seen) != len(got) {
		t.Errorf("positions come twice: %v", got)
	}
}

// Rings about the origin have every turn, of which twelve are used; a ring
// elsewhere only has itself.
func TestSymmetryOfRings(t *testing.T) {
	rings := figure{paths: []geom.Contour{geom.Circle(geom.Pt(0, 0), 100), geom.Circle(geom.Pt(0, 0), 150)}}
	r := mustPrepare(t, rings.text(6)+inlay+bushing)
	checkSymmetry(t, Symmetry(r.groove.Motif, true), 12, 12)
	off := figure{paths: []geom.Contour{geom.Circle(geom.Pt(20, 5), 100)}}
	r = mustPrepare(t, off.text(6)+inlay+bushing)
	if got := Symmetry(r.groove.Motif, true); len(got) != 2 {
		t.Errorf("a ring off the middle has positions %v, want itself and itself mirrored", got)
	}
	square := figure{paths: []geom.Contour{
		geom.Circle(geom.Pt(0, 0), 100),
		geom.Polygon(geom.Pt(150, 150), geom.Pt(-150, 150), geom.Pt(-150, -150), geom.Pt(150, -150)),
	}}
	r = mustPrepare(t, square.text(6)+inlay+bushing)
	checkSymmetry(t, Symmetry(r.groove.Motif, true), 4, 4)
}

// Elements of one symmetry and elements of another have what is common to both.
func TestSymmetryInCommon(t *testing.T) {
	f := figure{copies: 6, paths: genericElements()[:1]}.listed(0, rand.New(rand.NewPCG(1, 1)))
	g := figure{copies: 4, paths: []geom.Contour{bar(geom.Pt(300, 10), geom.Pt(330, 40))}}.listed(0, rand.New(rand.NewPCG(1, 1)))
	f.paths = append(f.paths, g.paths...)
	r := mustPrepare(t, f.text(12)+inlay+bushing)
	checkSymmetry(t, Symmetry(r.groove.Motif, true), 2, 0)
}

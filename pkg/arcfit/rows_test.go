package arcfit

import (
	"math"
	"math/rand"
	"testing"

	"strapwork/pkg/geom"
)

// bent is a chain with all kinds of pieces, and points beside it.
func bent(closed bool) *solution {
	c := Chain{
		Start: geom.Pt(-20, 5), Heading: 0.4, Closed: closed,
		Pieces: []Piece{{1. / 30, 45}, {0, 25}, {-1. / 18, 40}, {1. / 9, 50}, {1e-9, 12}},
	}
	v := &solution{ties: free(c), chain: c}
	frames := c.frames()
	for i, p := range c.Pieces {
		for j := range 7 {
			along := p.Length * (float64(j) + 0.5) / 7
			f := Piece{p.Curvature, along}.from(frames[i])
			off := 0.3 * math.Sin(float64(5*i+3*j))
			v.s.points = append(v.s.points, f.at.Add(f.way.Left().Scale(off)))
			v.s.weight = append(v.s.weight, 1./35)
			v.spots = append(v.spots, spot{i, along})
		}
	}
	return v
}

// TestDerivatives holds the gradients and the demands' derivatives to differences of costs.
func TestDerivatives(t *testing.T) {
	const h = 1e-6
	for _, closed := range []bool{false, true} {
		v := bent(closed)
		v.ties.group = []int{0, 1, 2, 0, 3}
		v.ties.value = []float64{1. / 30, 0, -1. / 18, 1e-9}
		v.ties.held = make([]bool, 4)
		v.ties.sign[3] = -1
		v.chain.Pieces[3].Curvature = -1. / 30
		v.ties.sweep[2] = v.chain.Pieces[2].Sweep()
		v.ties.centers = [][2]int{{0, 2}}
		v.ties.turns = 0.3
		for _, n := range []norm{{power: 2, scale: 1}, {power: 8, scale: 2}, {power: 2, scale: 1, pinned: true}} {
			now := v.look(v.chain, n)
			now.demands = nil // their size would swamp the points'
			r := v.ties.reduce(v.chain)
			_, g := now.normal(r, 0)
			cost := func(col int, by float64) (float64, []demand) {
				move := make([]float64, r.n)
				move[col] = by
				c, _ := v.ties.move(v.chain, r, move)
				t := v.look(c, n)
				return t.cost, t.demands
			}
			for col := range r.n {
				up, upper := cost(col, h)
				down, lower := cost(col, -h)
				want := (up - down) / (2 * h)
				if math.Abs(g[col]-want) > 1e-4*(1+math.Abs(want)) {
					t.Errorf("closed %v, %+v: derivative by number %d is %g, want %g", closed, n, col, g[col], want)
				}
				for i, d := range v.ties.demands(v.chain, v.chain.frames(), v.s.points[len(v.s.points)-1]) {
					got, want := r.reduced(d.by)[col], (upper[i].off-lower[i].off)/(2*h)
					if i < 2 && closed && col < firstPiece {
						continue // a turn about the start moves the gap, which is to be none
					}
					if math.Abs(got-want) > 1e-4*(1+math.Abs(want)) {
						t.Errorf("closed %v: demand %d by number %d is %g, want %g", closed, i, col, got, want)
					}
				}
			}
		}
	}
}

// TestWorkIsBounded counts the chains that are tried on a section that nothing follows: points at random, within a
// band of many tolerances.
func TestWorkIsBounded(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	var s Section
	for i := range 60 {
		s.Points = append(s.Points, geom.Pt(float64(i)/4, r.NormFloat64()/5))
	}
	points, middle, err := sample(s, 1)
	if err != nil {
		t.Fatal(err)
	}
	f := fitter{s: points, section: centered(s, middle)}
	f.tolerance = 0.2
	f.look()
	_, found := f.search()
	if most := 2 * (f.least/2 + extra + 1); found || f.least > atOnce || f.tried > most {
		t.Errorf("%d chains were tried, of %d pieces or more; want at most %d, and none found: %v", f.tried, f.least, most, found)
	}
}

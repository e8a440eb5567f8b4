package numbering

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/label"
)

// Of names for bands anywhere, however crowded, none lies across another, each is written
// at most once, and where there is room all are, beside their bands.
func TestNamesKeepApart(t *testing.T) {
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 3))
		n := 5 + int(seed)*8
		var list []Name
		var room label.Room
		for i := range n {
			at := geom.Pt(200*r.Float64(), 200*r.Float64())
			d := geom.Polar(1, 2*math.Pi*r.Float64())
			name := Name{Text: fmt.Sprintf("%d-%d", 3*i+1, 3*i+3)}
			for _, f := range [...]float64{0, -6, 6} {
				name.Spots = append(name.Spots, Spot{at.Add(d.Scale(f)), d})
			}
			for _, side := range [2]float64{-1, 1} {
				off := d.Left().Scale(side)
				room.KeepOff(0.1, 1, geom.Chain(false, geom.Line(at.Add(d.Scale(-12)).Add(off), at.Add(d.Scale(12)).Add(off))))
			}
			list = append(list, name)
		}
		l := Style{Heights: []float64{3, 2, 1.4, 1}, Half: 1, Apart: 0.4, To: geom.Identity(), Plate: onLines}.Names(list, &room)
		written := map[string]bool{}
		for i, a := range l.Texts {
			if written[a.String] {
				t.Errorf("seed %d: %s is written twice", seed, a.String)
			}
			written[a.String] = true
			for _, b := range l.Texts[:i] {
				wide, high := (a.Width()+b.Width())/2, (a.Height+b.Height)/2
				if d := a.At.Sub(b.At); math.Abs(d.X) < wide-1e-9 && math.Abs(d.Y) < high-1e-9 {
					t.Errorf("seed %d: %s lies across %s", seed, a.String, b.String)
				}
			}
		}
		if n <= 45 && len(written) != n {
			t.Errorf("seed %d: %d of %d names are written", seed, len(written), n)
		}
	}
}

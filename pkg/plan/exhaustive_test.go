package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/work"
)

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

// made are the positions that a figure has by its making: mirrored in the x
// axis is turned over in the y axis and turned by 180 degrees.
func (f figure) made(turn, flip bool) []Orientation {
	list := []Orientation{{}}
	if !turn {
		return list
	}
	for k := 1; k < f.copies; k++ {
		list = append(list, Orientation{TurnDeg: 360 * float64(k) / float64(f.copies)})
	}
	for k := 0; flip && f.mirror && k < f.copies; k++ {
		list = append(list, Orientation{TurnDeg: math.Mod(180+360*float64(k)/float64(f.copies), 360), Flip: true})
	}
	return list
}

// sound reports whether a figure is a valid motif whose chains can all be cut
// whole, none shorter than three grooves' widths between places where it might
// be split, so that the exhaustive search need not weigh stubs.
func sound(r ready) bool {
	for i, s := range r.groove.Motif.Strands {
		if s.Contour.Closed {
			return false
		}
		at := []float64{0}
		for _, v := range r.groove.Weave.Visits[i] {
			at = append(at, v.S)
		}
		at = append(at, s.Length())
		for k := 1; k < len(at); k++ {
			if at[k]-at[k-1] < 3*r.groove.Size.Width {
				return false
			}
		}
	}
	for _, c := range r.cuts {
		if c.From.Kind.String() == "split" || c.To.Kind.String() == "split" {
			return false
		}
	}
	return true
}

// randomReady makes random figures until one is sound.
func randomReady(t testing.TB, rng *rand.Rand, n int, mirror bool, most int, tail string) (figure, ready) {
	t.Helper()
	for range 2000 {
		f := randomFigure(rng, n, mirror, most)
		r, found := prepare("test.toml", []byte("title = \"test\"\nunits = \"mm\"\n"+f.text(9)+inlay+tail))
		if !found.HasErrors() && len(r.cuts) <= most && sound(r) {
			return f, r
		}
	}
	t.Fatal("no random figure is sound")
	return figure{}, ready{}
}

func checkAgainstBrute(t *testing.T, f figure, r *ready, turn, flip bool) {
	t.Helper()
	p := r.plan()
	checkPlan(t, &r.groove, p)
	parts := 2
	if r.job.Template.Prefer == work.PreferClean {
		parts = 1
	}
	b := newBrute(t, &r.groove, f.made(turn, flip), parts)
	want := b.best(r.job.Template.Prefer)
	got := count{visible: p.Visible, setUps: len(p.SetUps), panels: len(p.Panels)}
	if got != want {
		t.Errorf("plan %+v (proved: %t), exhaustive search %+v\n%s", got, p.Proved(), want, f.text(9))
	}
	if !p.Proved() {
		t.Logf("not proved: %v", bounds(p))
	}
	least := count{visible: p.LeastVisible, setUps: p.LeastSetUps, panels: p.LeastPanels}
	if better(want, least, r.job.Template.Prefer) {
		t.Errorf("bound %+v is beaten by exhaustive search %+v\n%s", least, want, f.text(9))
	}
}

// folds are the numbers of copies that random motifs are made with; with -short a
// sample.
func folds() []int {
	if testing.Short() {
		return []int{1, 3}
	}
	return []int{1, 2, 3, 4, 5, 6, 8}
}

// With up to 12 cuts the plan is as good as any.
func TestPlanAgainstExhaustiveSearch(t *testing.T) {
	tests := []struct {
		prefer     string
		most, each int
	}{
		{"clean", 12, 3}, {"setups", 6, 2}, {"panels", 6, 2},
	}
	for _, test := range tests {
		for _, n := range folds() {
			for _, mirror := range []bool{false, true} {
				for seed := range test.each {
					if seed > 0 && testing.Short() {
						break
					}
					t.Run(fmt.Sprintf("%s/%d-fold/mirror=%t/%d", test.prefer, n, mirror, seed), func(t *testing.T) {
						rng := rand.New(rand.NewPCG(uint64(seed), uint64(10*n)+1))
						flip := seed%2 == 1
						turn := seed%3 != 2
						tail := bushing + fmt.Sprintf("[template]\nprefer = %q\nflip = %t\nturn = %t\n", test.prefer, flip, turn)
						f, r := randomReady(t, rng, n, mirror, max(n, test.most), tail)
						checkAgainstBrute(t, f, &r, turn, flip)
					})
				}
			}
		}
	}
}

// With set-ups or panels put first a plan may split what the exhaustive search
// leaves whole: with up to 12 cuts it is nowhere worse than any plan without
// splits.
func TestPlanIsNoWorseThanAnyWithoutSplits(t *testing.T) {
	for _, prefer := range []string{"setups", "panels"} {
		for _, n := range folds() {
			for _, mirror := range []bool{false, true} {
				t.Run(fmt.Sprintf("%s/%d-fold/mirror=%t", prefer, n, mirror), func(t *testing.T) {
					rng := rand.New(rand.NewPCG(77, uint64(10*n)+1))
					f, r := randomReady(t, rng, n, mirror, 12, bushing+fmt.Sprintf("[template]\nprefer = %q\n", prefer))
					p := r.plan()
					checkPlan(t, &r.groove, p)
					want := newBrute(t, &r.groove, f.made(true, false), 1).best(r.job.Template.Prefer)
					got := count{visible: p.Visible, setUps: len(p.SetUps), panels: len(p.Panels)}
					if better(want, got, r.job.Template.Prefer) {
						t.Errorf("plan %+v, exhaustive search without splits %+v\n%s", got, want, f.text(9))
					}
				})
			}
		}
	}
}

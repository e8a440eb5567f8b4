package dryrun

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/walls"
)

// Arcs of radii without end are lines, and are judged as those: good ones are
// taken, and ones 0.05 mm astray are not.
func TestHugeRadii(t *testing.T) {
	for _, r := range []string{"100000", "1000000", "10000000", "1000000000", "100000000000", "99999999999999"} {
		for _, dy := range []float64{0, 0.05} {
			text := strings.ReplaceAll(shifted(dy), "G1 X98.4125", "G2 R"+r+" X98.4125")
			text = strings.ReplaceAll(text, "G1 X1.5875\n", "G2 R"+r+" X1.5875\n")
			if _, err := ngc.ReadAll(strings.NewReader(text)); err != nil {
				continue
			}
			rep := judged(t, text, against(straight()))
			// A radius of 100 m bulges by 0.0117 mm on 96.825: over the hundredth.
			want := dy == 0 && r != "100000"
			if rep.OK() != want {
				t.Errorf("R%s, %v astray: %v", r, dy, rep.Findings)
			}
		}
	}
}

// A groove a kilometre from the zero is judged as one at it.
func TestFarFromZero(t *testing.T) {
	const far = 1e6
	for _, dy := range []float64{0, 0.009, 0.05, -0.05} {
		text := wrote(t, ngc.Options{Decimals: 4}, func(w *ngc.Writer) {
			at := geom.Pt(far, -far+dy)
			n := geom.Pt(bit/2, play)
			cutChain(w, -deep, geom.Rect(geom.Box{Min: at.Add(geom.Pt(n.X, -n.Y)), Max: at.Add(geom.Pt(long-n.X, n.Y))}).Edges()...)
		})
		r := judged(t, text, against(bar(geom.Pt(far, -far), geom.Pt(far+long, -far))))
		if r.OK() != (dy < gougeOver && dy > -gougeOver) {
			t.Errorf("%v: %v", dy, r.Findings)
		}
	}
}

// Crumbs of a millionth of a millimetre drift as far as they are many: no step
// hides the sum. They go 0.05 mm out of the groove, and back to it.
func TestCrumbsAddUp(t *testing.T) {
	for _, c := range []struct {
		step float64
		n    int
	}{{1e-6, 50_000}, {9e-6, 5556}, {1e-4, 500}} {
		var b strings.Builder
		b.WriteString("G21 G17 G90 G94 G54\nG0 Z10\nS16000 M3\nG0 X50 Y0.9525\nG1 Z-1 F250\nG91\n")
		for _, sign := range []string{"", "-"} {
			for range c.n {
				fmt.Fprintf(&b, "G1 Y%s%.6f F900\n", sign, c.step)
			}
		}
		b.WriteString("G90\nG0 Z10\nM5\nM2\n")
		w := against(straight())
		w.Partial = true
		r := judged(t, b.String(), w)
		if g := r.GougeMax; g.Amount > 0.05+3*quantum || g.Amount < 0.05-3*quantum && !(g.AtLeast && g.Amount > 0.045) {
			t.Errorf("gouge by steps of %v: %+v", c.step, g)
		}
	}
}

// A pass of crumbs that bends away from its neighbour leaves a ridge as thick as
// the bend, however the crumbs lie and whatever is fused of them.
func TestRidgeBesideCrumbs(t *testing.T) {
	const b = 1.2
	pocket := walls.Strand{Line: geom.Chain(false, geom.Line(geom.Pt(0, b), geom.Pt(60, b))), Width: 2 * b}
	for _, bend := range []float64{0, 0.008, 0.013, 0.05} {
		for _, crumb := range []float64{0.03, 0.4, 1.9} {
			text := wrote(t, ngc.Options{Decimals: 5}, func(w *ngc.Writer) {
				cutChain(w, -deep, geom.Rect(geom.Box{Min: geom.Pt(b/2, b/2), Max: geom.Pt(60-b/2, 2*b-b/2)}).Edges()[1:]...)
				w.Rapid(ngc.XY(geom.Pt(b/2, b/2)))
				w.Line(ngc.Z(-deep), 250)
				for x := b/2 + crumb; x < 60-b/2; x += crumb {
					y := b / 2
					if x > 20 && x < 40 {
						y -= bend * min(1, (x-20)/3, (40-x)/3)
					}
					w.Line(ngc.XY(geom.Pt(x, y)), 1200)
				}
				w.Line(ngc.XY(geom.Pt(60-b/2, b/2)), 1200)
			})
			w := against(pocket)
			w.Bit.Slot = b
			r := judged(t, text, w)
			missed := slices.ContainsFunc(rules(r.Findings, diag.Error), func(s string) bool { return strings.HasPrefix(s, "missed") })
			if missed != (bend > leftOver) {
				t.Errorf("bend %v, crumbs of %v: %v", bend, crumb, r.Findings)
			}
		}
	}
}

// The trace is the reader's moves, every one and in order, however many batches
// they come in.
func TestTraceOfManyBatches(t *testing.T) {
	text := crumbs(t, batch*batches*3+77)
	moves, err := ngc.ReadAll(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	var traced []ngc.Move
	w := against(straight())
	w.Partial = true
	r := Judge(strings.NewReader(text), ngc.Dialect{}, w, func(s Step) { traced = append(traced, s.Move) })
	if !slices.Equal(traced, moves) || r.OK() {
		t.Errorf("%d moves traced of %d", len(traced), len(moves))
	}
}

package dryrun

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/ngc"
	"strapwork/pkg/walls"
)

// One wall is missed at full depth: what is left is what the bit would have
// taken less what it took, and stands to the depth of the step before.
func TestMissedWall(t *testing.T) {
	lines := strings.SplitAfter(good, "\n")
	text := strings.Join(append(append([]string{}, lines[:12]...), lines[15:]...), "") // without lines 13 to 15
	r := judged(t, text, against(straight()))
	if got := strings.Join(rules(r.Findings, diag.Error), " "); got != "missed:15" {
		t.Fatal(got, r.Findings)
	}
	// Both walks reach the groove less its four corners. One takes a slot with
	// round ends.
	reach := long*wide - (4-math.Pi)*bit*bit/4
	slot := (long-bit)*bit + math.Pi*bit*bit/4
	near(t, "missed area", r.MissedArea, reach-slot, 0.02)
	s := r.LeftMax
	if s.Chisel {
		t.Fatalf("%+v", s)
	}
	near(t, "depth", s.Depth, 1.5, 0)
	// Beside the slot the wood is as thick as the groove is wider; in the two
	// corners it reaches a little further in.
	if s.Thick < wide-bit-0.06 || s.Thick > 2.1 {
		t.Errorf("thick %v", s.Thick)
	}
	if s.Amount < wide-bit-tiny {
		t.Errorf("amount %v", s.Amount)
	}
	if !strings.Contains(r.Findings[0].Message, "cut only 1.5 mm deep") {
		t.Errorf("%v", r.Findings[0])
	}
}

// Walks a little apart leave a ridge between them where the bit is narrow:
// a hundredth is nothing, two are a fault.
func TestMissedRidge(t *testing.T) {
	for _, c := range []struct {
		ridge float64
		fault bool
	}{{0.02, true}, {0.0115, true}, {0.009, false}, {-0.1, false}} {
		const b = 1.2
		y := []float64{wide/2 - b/2, 0, -wide/2 + b/2, 0}
		y[1] = y[0] - b - c.ridge
		y[3] = y[1] - b + 0.1
		text := wrote(t, ngc.Options{Decimals: 5}, func(w *ngc.Writer) {
			for _, y := range y {
				cutChain(w, -deep, geom.Line(geom.Pt(b/2, y), geom.Pt(long-b/2, y)))
			}
			// across at both ends
			for _, x := range []float64{b / 2, long - b/2} {
				cutChain(w, -deep, geom.Line(geom.Pt(x, y[0]), geom.Pt(x, y[2])))
			}
		})
		w := against(straight())
		w.Bit.Slot = b
		r := judged(t, text, w)
		var missed []Deviation
		for _, s := range r.Left {
			if !s.Chisel && s.At.Y > 0 {
				missed = append(missed, s)
			}
		}
		if c.fault != (len(missed) > 0) {
			t.Errorf("%v: %v", c.ridge, r.Findings)
		}
		if len(missed) > 0 {
			near(t, "thick", missed[0].Thick, c.ridge, 0.001)
		}
	}
}

// Lines only, or many small moves, cut the same as arcs.
func TestLeftOfLines(t *testing.T) {
	t.Parallel()
	g := ring(geom.Pt(0, 0), 30)
	for _, chord := range []float64{0, 0.005, 0.0002} {
		text := wrote(t, ngc.Options{Chord: chord, Decimals: 4}, func(w *ngc.Writer) {
			cutChain(w, -deep, geom.Arc(geom.Pt(0, 0), 30-play, 0, 2*math.Pi)...)
			cutChain(w, -deep, geom.Arc(geom.Pt(0, 0), 30+play, 0, -2*math.Pi)...)
		})
		r := judged(t, text, against(g))
		if len(r.Findings) > 0 || len(r.Left) > 0 {
			t.Errorf("chord %v, %d lines: %v", chord, strings.Count(text, "\n"), r.Findings)
		}
	}
}

// A bit as wide as the groove goes along its middle.
func TestLeftWhereTheBitFills(t *testing.T) {
	w := against(straight())
	w.Bit.Slot = wide
	text := wrote(t, ngc.Options{}, func(w *ngc.Writer) {
		cutChain(w, -deep, geom.Line(geom.Pt(wide/2, 0), geom.Pt(long-wide/2, 0)))
	})
	r := judged(t, text, w)
	if !r.OK() {
		t.Fatal(r.Findings)
	}
	near(t, "left", r.LeftArea, (4-math.Pi)*wide*wide/4, 0.01)
	short := wrote(t, ngc.Options{}, func(w *ngc.Writer) {
		cutChain(w, -deep, geom.Line(geom.Pt(wide/2, 0), geom.Pt(long-wide/2-0.2, 0)))
	})
	r = judged(t, short, w)
	if r.OK() {
		t.Error("0.2 mm short and no fault")
	}
	near(t, "left", r.LeftMax.Amount, 0.2, searched)
}

// Recutting a groove wider: what is done already needs no cut.
func TestLeftOfRecut(t *testing.T) {
	const more = 0.1
	narrow := against(straight())
	w := narrow
	w.Done = narrow.Groove.Area
	wider := straight()
	wider.Width += more
	w.Groove = walls.Of(wider)
	text := wrote(t, ngc.Options{}, func(w *ngc.Writer) {
		n := geom.Pt(bit/2, play+more/2)
		cutChain(w, -deep, geom.Rect(geom.Box{Min: geom.Pt(n.X, -n.Y), Max: geom.Pt(long-n.X, n.Y)}).Edges()...)
	})
	if r := judged(t, text, w); !r.OK() {
		t.Error(r.Findings)
	}
	w.Done = region.Region{}
	if r := judged(t, text, w); !r.OK() {
		t.Error("a walk round of 3.175 covers 5.18:", r.Findings)
	}
	w.Done = narrow.Groove.Area
	if r := judged(t, good, w); r.OK() || math.Abs(r.MissedArea-more*(long-2)) > 0.2 {
		t.Errorf("the narrow walk leaves %v: %v", r.MissedArea, r.Findings)
	}
}

// What a program for a part of the groove leaves is another program's matter.
func TestPartial(t *testing.T) {
	w := against(straight(), bar(geom.Pt(0, 50), geom.Pt(long, 50)))
	if r := judged(t, good, w); r.OK() {
		t.Error("half of it is missing")
	}
	w.Partial = true
	r := judged(t, good, w)
	if len(r.Findings) > 0 || !r.Partial || r.LeftArea != 0 {
		t.Error(r.Findings)
	}
}

// How deep what is left was cut: the deepest step that covers all of it.
func TestLayers(t *testing.T) {
	walk := geom.Rect(geom.Box{Min: geom.Pt(bit/2, -play), Max: geom.Pt(long-bit/2, play)}).Edges()
	for _, c := range []struct {
		steps []float64
		half  float64 // one wall only, at this depth
		want  float64
	}{{[]float64{0.5, 1, 1.5, 2.25}, 0, 2.25}, {[]float64{1}, 2, 1}, {nil, 2, 0}, {nil, 0, 0}} {
		text := wrote(t, ngc.Options{}, func(w *ngc.Writer) {
			for _, d := range c.steps {
				cutChain(w, -d, walk...)
			}
			if c.half > 0 {
				cutChain(w, -c.half, walk[0])
			}
			w.Rapid(ngc.XY(geom.Pt(0, 0)))
		})
		r := judged(t, text, against(straight()))
		if len(r.Left) == 0 || r.Left[0].Chisel {
			t.Fatal(r.Findings)
		}
		near(t, fmt.Sprint(c.steps), r.Left[0].Depth, c.want, 0)
	}
}

// Where the groove is narrower than the bit and no corner or end is to blame, that
// is an error and not the chisel's work: here a spur of 2 mm on a groove of 5.08,
// 10 mm long.
func TestNoRoom(t *testing.T) {
	g := against(straight()).Groove
	spur := region.New(geom.Rect(geom.Box{Min: geom.Pt(40, 0), Max: geom.Pt(42, wide/2+10)}))
	w := in(walls.Groove{Area: region.Union(g.Area, spur)})
	r := judged(t, good, w)
	if !strings.Contains(fmt.Sprint(rules(r.Findings, diag.Error)), "no-room:") {
		t.Fatal(r.Findings)
	}
	// The bit can dip into the spur's mouth, but not for as far as it is high.
	dip := bit/2 - math.Sqrt(bit*bit/4-1)
	i := slices.IndexFunc(r.Left, func(s Deviation) bool { return s.Area > 1 })
	near(t, "area", r.Left[i].Area, 2*(10-dip/2), dip)
	near(t, "amount", r.Left[i].Amount, 10, 0.01)
	if r.Left[i].Chisel || r.OK() {
		t.Errorf("%+v", r.Left[i])
	}
}

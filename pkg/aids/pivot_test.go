package aids

import (
	"math"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/made"
	"strapwork/pkg/lettering"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

const (
	onPin = "[router]\nguide = \"pivot\"\nbit = 3.175\nflute = 16\nbase = 90\n"
	rings = "[[motif.circle]]\nname = \"outer\"\ncenter = [0, 0]\nradius = 80\n[[motif.circle]]\nname = \"inner\"\ncenter = [0, 0]\nradius = 60\n"
	// Two rings that cross, and an arc beside them with free ends.
	linked = "[[motif.circle]]\nname = \"a\"\ncenter = [0, 0]\nradius = 60\n[[motif.circle]]\nname = \"b\"\ncenter = [70, 0]\nradius = 60\n" +
		"[[motif.arc]]\nname = \"c\"\ncenter = [0, 0]\nradius = 140\nstart = 30\nsweep = 100\n"
	// Two arcs that meet in two sharp corners.
	leaf = "[[motif.path]]\nname = \"leaf\"\nd = \"M -90 0 A 127.27922061357856 127.27922061357856 0 0 1 90 0 A 127.27922061357856 127.27922061357856 0 0 1 -90 0 Z\"\n"
	// An oval of four arcs, smooth all round.
	oval = "[[motif.path]]\nname = \"oval\"\nd = \"M -60 40 A 100 100 0 0 0 60 40 A 50 50 0 0 0 60 -40 A 100 100 0 0 0 -60 -40 A 50 50 0 0 0 -60 40 Z\"\n"
)

func swung(t *testing.T, text string) (made.Job, Pivot, []sheet.Hole) {
	t.Helper()
	j := made.Grooved(t, text)
	p, found := NewPivot(paramsOf(j), j.Groove)
	if found.HasErrors() {
		t.Fatal(found)
	}
	part := p.Part(paramsOf(j), 0)
	if err := sheet.Check(part.Sheet).Err(); err != nil {
		t.Error(err)
	}
	return j, p, part.Sheet.Holes
}

// Every radius has a hole at R - k and one at R + k from the bit's centre,
// k = (5.08 - 3.175) / 2 = 0.9525 (2-geometry), far enough from the others.
func TestPivotHoles(t *testing.T) {
	_, p, holes := swung(t, rings+made.Inlay+onPin)
	want := []float64{60 - 0.9525, 60 + 0.9525, 80 - 0.9525, 80 + 0.9525}
	if len(p.Holes) != 4 || len(holes) != 5 || len(p.Circles) != 2 {
		t.Fatalf("%d holes, %d drawn, %d circles", len(p.Holes), len(holes), len(p.Circles))
	}
	for i, h := range p.Holes {
		made.Near(t, "distance", h.Distance, want[i], 1e-9)
		made.Near(t, "place", h.At.Norm(), want[i], 1e-9)
		made.Near(t, "pin hole", 2*holes[i+1].Radius, PivotPin, 0)
	}
	made.Near(t, "bit hole", 2*holes[0].Radius, 3.175, 0)
	for i, h := range holes {
		for _, o := range holes[:i] {
			if d := h.Center.Dist(o.Center) - h.Radius - o.Radius; d < barWeb-1e-9 {
				t.Errorf("only %g mm between the holes at %v and %v", d, h.Center, o.Center)
			}
		}
	}
	for i, c := range p.Circles {
		if !c.Full || !slices.Equal(c.Holes, [][]int{{2, 3}, {0, 1}}[i]) || c.Elements[0] != []string{"outer.1", "inner.1"}[i] && c.Elements[0] != []string{"outer", "inner"}[i] {
			t.Errorf("circle %d: %+v", i, c)
		}
	}
}

// Many radii close together find room in rows, each hole at its exact distance.
func TestPivotRows(t *testing.T) {
	var b strings.Builder
	for i := range 5 {
		b.WriteString("[[motif.circle]]\ncenter = [0, 0]\nradius = " + unit.Decimal(50+6*float64(i), 3) + "\n")
	}
	_, p, _ := swung(t, b.String()+made.Inlay+onPin)
	if len(p.Holes) != 10 {
		t.Fatalf("%d holes", len(p.Holes))
	}
	for i, h := range p.Holes {
		made.Near(t, "distance", h.At.Norm(), h.Distance, 1e-9)
		for _, o := range p.Holes[:i] {
			if d := h.At.Dist(o.At); d < PivotPin+barWeb-1e-9 {
				t.Errorf("holes %s and %s are %g mm apart", h.Label, o.Label, d)
			}
		}
	}
}

// A bit that fills the groove makes one swing; a groove wider than two bits has
// more than two, no further apart than the bit is wide; and two circles share
// the holes that they have in common.
func TestPivotSwings(t *testing.T) {
	for _, c := range []struct {
		name, width string
		want        []float64
	}{
		{"filled", "3.175", []float64{80}},
		{"a hundredth", "3.187", []float64{79.994, 80.006}},
		{"wide", "11", []float64{76.0875, 78.695833333, 81.304166667, 83.9125}},
	} {
		t.Run(c.name, func(t *testing.T) {
			ring := "[[motif.circle]]\ncenter = [0, 0]\nradius = 80\n[[motif.circle]]\ncenter = [200, 0]\nradius = 80\n"
			m, p, holes := swung(t, ring+strings.Replace(made.Inlay, "5.08", c.width, 1)+onPin)
			if len(p.Holes) != len(c.want) {
				t.Fatalf("%d holes, want %d", len(p.Holes), len(c.want))
			}
			for i, h := range p.Holes {
				made.Near(t, "distance", h.Distance, c.want[i], 1e-8)
			}
			if proof := ProvePivot(m.Groove, p, holes, 0); !proof.Holds() || proof.UncutMax > 1e-6 {
				t.Errorf("overcut %g, uncut %g", proof.OvercutMax, proof.UncutMax)
			}
		})
	}
}

// Rings leave nothing. A mitre leaves its tip, as with a template, and a square
// end its two corners and a little between them, since a bar can't move the bit
// from one swing to the other.
func TestPivotProof(t *testing.T) {
	for _, c := range []struct {
		name, text string
		left       int // places
		deepest    float64
	}{
		{"rings", rings, 0, 1e-6},
		{"crossing rings and an arc", linked, 6, 3.175 / 2 * (math.Sqrt2 - 1) * 1.05},
		{"leaf", leaf, 2, 3.175 / 2 * (1/math.Sin(math.Pi/4) - 1) * 1.1},
		{"oval", oval, 0, 1e-6},
	} {
		t.Run(c.name, func(t *testing.T) {
			m, p, holes := swung(t, c.text+made.Inlay+onPin)
			proof := ProvePivot(m.Groove, p, holes, 0)
			if proof.OvercutMax > 1e-6 {
				t.Errorf("overcut of %g mm at %v", proof.OvercutMax, proof.OvercutAt)
			}
			if proof.UncutMax > c.deepest || len(proof.Leftovers) != c.left {
				t.Errorf("%g mm left in %d places: %+v", proof.UncutMax, len(proof.Leftovers), proof.Leftovers)
			}
		})
	}
}

// A fault in the drawing is found: a hole off by 0.01 mm along the bar cuts
// that much too far or leaves it; one off across the bar by 0.3 mm changes the
// distance by 0.3^2 / 2R only (derived); a hole 0.02 mm wide lets the bit stray
// by half of that; a lost hole leaves wood.
func TestPivotProofFindsFaults(t *testing.T) {
	m, p, _ := swung(t, rings+made.Inlay+onPin)
	for _, c := range []struct {
		name         string
		spoil        func(hs []sheet.Hole) []sheet.Hole
		over, uncut  float64
		holds        bool
		undoneByHalf float64
	}{
		{"outer hole out by 0.01", func(hs []sheet.Hole) []sheet.Hole { hs[4].Center = hs[4].Center.Scale(1 + 0.01/80.9525); return hs }, 0.01, 0, false, 0},
		{"outer hole in by 0.01", func(hs []sheet.Hole) []sheet.Hole { hs[4].Center = hs[4].Center.Scale(1 - 0.01/80.9525); return hs }, 0, 0.01, true, 0},
		{"inner hole in by 0.01", func(hs []sheet.Hole) []sheet.Hole { hs[1].Center = hs[1].Center.Scale(1 - 0.01/59.0475); return hs }, 0.01, 0, false, 0},
		{"half the limit", func(hs []sheet.Hole) []sheet.Hole { hs[1].Center = hs[1].Center.Scale(1 - 0.0005/59.0475); return hs }, 0.0005, 0, true, 0},
		{"wide pin hole", func(hs []sheet.Hole) []sheet.Hole { hs[2].Radius += 0.01; return hs }, 0.01, 0, false, 0},
		{"wide bit hole", func(hs []sheet.Hole) []sheet.Hole { hs[0].Radius += 0.01; return hs }, 0.01, 0, false, 0},
		{"kerf undone once too often", func(hs []sheet.Hole) []sheet.Hole { return hs }, 0.02, 0, false, 0.01},
		{"bit hole off centre", func(hs []sheet.Hole) []sheet.Hole { hs[0].Center = geom.Pt(0.01, 0); return hs }, 0.01, 0.01, false, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			proof := ProvePivot(m.Groove, p, c.spoil(slices.Clone(p.Part(paramsOf(m), 0).Sheet.Holes)), c.undoneByHalf)
			// The places of the rows turn the bit's fault away by a few degrees.
			made.Near(t, "overcut", proof.OvercutMax, c.over, c.over*0.02+1e-6)
			made.Near(t, "uncut", proof.UncutMax, c.uncut, c.uncut*0.02+1e-6)
			if proof.Holds() != c.holds {
				t.Errorf("holds: %t", proof.Holds())
			}
		})
	}
	if proof := ProvePivot(m.Groove, p, p.Part(paramsOf(m), 0).Sheet.Holes[:3], 0); proof.UncutMax < 1 {
		t.Error("a bar that lost the outer ring's holes leaves nothing")
	}
	if proof := ProvePivot(m.Groove, p, nil, 0); proof.UncutMax < 1 {
		t.Error("a bar without holes leaves nothing")
	}
}

// Kerf makes the holes smaller and the bar larger, and is undone once.
func TestPivotKerf(t *testing.T) {
	m, p, _ := swung(t, rings+made.Inlay+onPin)
	part := p.Part(paramsOf(m), 0.2)
	made.Near(t, "bit hole", 2*part.Sheet.Holes[0].Radius, 3.175-0.2, 1e-9)
	made.Near(t, "pin hole", 2*part.Sheet.Holes[1].Radius, PivotPin-0.2, 1e-9)
	made.Near(t, "length", edgeOf(t, part).Bounds().Size().X, p.Outline.Bounds().Size().X+0.2, 1e-9)
	if proof := ProvePivot(m.Groove, p, part.Sheet.Holes, 0.1); !proof.Holds() || proof.UncutMax > 1e-6 {
		t.Errorf("overcut %g, uncut %g", proof.OvercutMax, proof.UncutMax)
	}
}

// What can't be swung is an error that names it and says what to do.
func TestPivotErrors(t *testing.T) {
	for _, c := range []struct{ name, text, rule, message, hint string }{
		{"a straight", rings + "[[motif.line]]\nname = \"bar\"\nfrom = [-150, 0]\nto = [150, 0]\n", "pivot-straight", "bar.1 is straight", "base"},
		{"too small", "[[motif.circle]]\nname = \"dot\"\ncenter = [0, 0]\nradius = 7\n", "pivot-small", "dot.1", "at least 7.04 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := made.Grooved(t, c.text+made.Inlay+onPin)
			_, found := NewPivot(paramsOf(j), j.Groove)
			if len(found) != 1 || found[0].Rule != c.rule || found[0].Severity != diag.Error || found[0].Key == "" {
				t.Fatalf("found %v, want one %s", found, c.rule)
			}
			if f := found[0]; !strings.Contains(f.Message, strings.TrimSuffix(c.message, ".1")) || !strings.Contains(f.Hint, c.hint) {
				t.Errorf("%s (%s)", f.Message, f.Hint)
			}
		})
	}
	if p, found := func() (Pivot, diag.Findings) {
		j := made.Grooved(t, "[[motif.circle]]\ncenter = [0, 0]\nradius = 7.05\n"+made.Inlay+onPin)
		return NewPivot(paramsOf(j), j.Groove)
	}(); found.HasErrors() || len(p.Holes) != 2 {
		t.Errorf("a ring that is just large enough: %v", found)
	}
}

// Every hole has its number, clear of all holes and of the edge, and nearer to
// it than to any other unless a line leads there.
func TestPivotLabels(t *testing.T) {
	many := ""
	for i := range 5 {
		many += "[[motif.circle]]\ncenter = [0, 0]\nradius = " + unit.Decimal(50+6*float64(i), 3) + "\n"
	}
	for name, text := range map[string]string{"two rings": rings, "five close rings": many} {
		m, p, _ := swung(t, text+made.Inlay+onPin)
		part := p.Part(paramsOf(m), 0)
		checkMarks(t, part)
		strokes := 0
		for _, h := range p.Holes {
			strokes += len(lettering.Text(h.Label, geom.Point{}, aidLetters))
		}
		marks := 0
		for _, l := range part.Sheet.Lines {
			if l.Role == sheet.Mark {
				marks++
			}
		}
		if marks < strokes {
			t.Errorf("%s: %d strokes, want at least %d", name, marks, strokes)
		}
	}
}

// What two swings have in common, by hand: the middle of two that overlap, the shorter
// of one within the other, over the seam of the circle too, and nothing where they don't meet.
func TestSwingsInCommon(t *testing.T) {
	for _, c := range []struct {
		name string
		a, b swing
		want []swing
	}{
		{"overlap", swing{0, 2}, swing{1, 3}, []swing{{1, 1}}},
		{"overlap the other way", swing{1, 3}, swing{0, 2}, []swing{{1, 1}}},
		{"one within the other", swing{0, 3}, swing{1, 1}, []swing{{1, 1}}},
		{"the same", swing{0.5, 2}, swing{0.5, 2}, []swing{{0.5, 2}}},
		{"over the seam", swing{3, 1}, swing{-3, 1}, []swing{{2*math.Pi - 3, 4 - (2*math.Pi - 3)}}},
		{"apart", swing{0, 1}, swing{2, 1}, nil},
		{"end to end", swing{0, 1}, swing{1, 1}, nil},
	} {
		got := both([]swing{c.a}, []swing{c.b})
		if !slices.EqualFunc(got, c.want, func(a, b swing) bool {
			return math.Abs(a.start-b.start) < 1e-12 && math.Abs(a.sweep-b.sweep) < 1e-12
		}) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

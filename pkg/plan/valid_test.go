package plan

// What every plan must be, whatever made it.

import (
	"math"
	"slices"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// checkPlan checks a plan against the motif and the groove alone.
func checkPlan(t testing.TB, g *groove.Groove, p Plan) {
	t.Helper()
	checkPanels(t, g, p)
	checkSetUps(t, p)
	checkCovered(t, g, p)
	checkSplits(t, g, p)
	checkOnce(t, g, p)
	if p.LeastVisible > p.Visible || len(p.SetUps) < 1 || p.LeastPanels < 1 || p.LeastSetUps < 1 {
		t.Errorf("bounds beyond the plan: %+v", bounds(p))
	}
	if p.Visible == p.LeastVisible && p.LeastSetUps > len(p.SetUps) {
		t.Errorf("bounds beyond the plan: %+v", bounds(p))
	}
}

// bounds are the numbers of a plan, for messages.
func bounds(p Plan) [6]int {
	return [6]int{p.Visible, p.LeastVisible, len(p.SetUps), p.LeastSetUps, len(p.Panels), p.LeastPanels}
}

// checkPanels checks that cuts on a panel can be followed and stand apart.
func checkPanels(t testing.TB, g *groove.Groove, p Plan) {
	t.Helper()
	for i, q := range p.Panels {
		if len(q.Cuts) == 0 || len(q.Positions) == 0 || q.Positions[0] != (Orientation{}) {
			t.Errorf("panel %d has %d cuts and positions %v", i, len(q.Cuts), q.Positions)
		}
		for k, c := range q.Cuts {
			whole := c.From.Kind != groove.StopSplit && c.To.Kind != groove.StopSplit
			if l := c.To.S - c.From.S; l < g.Size.Width && !whole {
				t.Errorf("panel %d: cut %s is %.3f mm long, less than the groove is wide", i, c.Name, l)
			}
			if !g.Follows(c) {
				t.Errorf("panel %d: the rider can't follow cut %s", i, c.Name)
			}
			for _, d := range q.Cuts[:k] {
				if g.Conflict(c, d) {
					t.Errorf("panel %d: cuts %s and %s conflict", i, c.Name, d.Name)
				}
			}
		}
	}
}

// checkSetUps checks that each set-up cuts what its panel's cuts are turned to.
func checkSetUps(t testing.TB, p Plan) {
	t.Helper()
	n := 0
	for i, q := range p.Panels {
		for _, pos := range q.Positions {
			if n >= len(p.SetUps) {
				t.Fatalf("%d set-ups are too few", len(p.SetUps))
			}
			up := p.SetUps[n]
			n++
			if up.Panel != i || up.Position != pos || len(up.Tracks) != len(q.Cuts) {
				t.Errorf("set-up %d is of panel %d at %v with %d cuts, want %d at %v with %d",
					n, up.Panel, up.Position, len(up.Tracks), i, pos, len(q.Cuts))
				continue
			}
			for k, c := range q.Cuts {
				if off := offLine(laid(pos), c.Line, up.Tracks[k].Cut.Line); off > 2*motif.Same {
					t.Errorf("set-up %d: cut %s laid at %v is %.4f mm off %s", n, c.Name, pos, off, up.Tracks[k].Cut.Name)
				}
			}
		}
	}
	if n != len(p.SetUps) {
		t.Errorf("%d set-ups for %d positions", len(p.SetUps), n)
	}
}

// laid says what a position does, by definition: x to -x, then a turn, then a shift.
func laid(pos Orientation) func(geom.Point) geom.Point {
	return func(p geom.Point) geom.Point {
		if pos.Flip {
			p.X = -p.X
		}
		return p.Turn(pos.TurnDeg * math.Pi / 180).Add(pos.Shift)
	}
}

// offLine is how far line c, moved, is from line d, whichever way that runs.
func offLine(move func(geom.Point) geom.Point, c, d geom.Contour) float64 {
	off := math.Abs(c.Length() - d.Length())
	for _, f := range [3]float64{0, 0.37, 1} {
		p, _ := c.At(f * c.Length())
		_, s := d.Nearest(move(p))
		q, _ := d.At(s)
		off = max(off, q.Dist(move(p)))
	}
	return off
}

// checkCovered checks that some set-up cuts every point of every centre line,
// but for what the bit can't reach at a free end, corner or tee.
func checkCovered(t testing.TB, g *groove.Groove, p Plan) {
	t.Helper()
	const step = 0.7
	for i, s := range g.Motif.Strands {
		var own []groove.Cut
		for _, c := range p.Cuts() {
			if c.Strand == i {
				own = append(own, c)
			}
		}
		ends := strandEnds(g, i)
		for d := 0.0; d < s.Length(); d += step {
			q, _ := s.Contour.At(d)
			spared := slices.ContainsFunc(ends, func(e geom.Point) bool { return e.Dist(q) < g.Size.Bit })
			on := slices.ContainsFunc(own, func(c groove.Cut) bool {
				near, _ := c.Line.Nearest(q)
				return near.Dist(q) < 1e-6
			})
			if !on && !spared {
				t.Fatalf("no set-up cuts strand %d at %.2f, %v", i, d, q)
			}
		}
	}
}

// checkOnce checks, at places along every cut, that a spare one is made by the
// others that it names, and that one that is made lies along earlier ones only
// where it says so. Two places a little apart distinguish lying along from crossing.
func checkOnce(t testing.TB, g *groove.Groove, p Plan) {
	t.Helper()
	for i, up := range p.SetUps {
		if len(up.Made()) == 0 {
			t.Errorf("set-up %d makes nothing", i+1)
		}
		for _, track := range up.Tracks {
			c := track.Cut
			st := g.Motif.Strands[c.Strand].Contour
			for f := 0.02; f < 0.95; f += 0.04 {
				q, _ := st.At(c.From.S + f*(c.To.S-c.From.S))
				near, _ := st.At(c.From.S + (f+0.01)*(c.To.S-c.From.S))
				met, named, meeting := 0, 0, false
				for n, other := range p.SetUps {
					for _, otherTrack := range other.Tracks {
						d := otherTrack.Cut
						meeting = meeting || n != i && d.Strand == c.Strand && min(d.From.At.Dist(q), d.To.At.Dist(q)) < 1+q.Dist(near)
						if n == i || !track.Spare && n > i || d.Strand != c.Strand || otherTrack.Spare ||
							offCut(d, q) > 2*sameAtom || offCut(d, near) > 2*sameAtom || nearEnd(d, q) {
							continue
						}
						met++
						if slices.ContainsFunc(track.Elsewhere, func(o Overlap) bool { return o.SetUp == other.Number && o.Cut == d.Name }) {
							named++
						}
					}
				}
				if met != named || track.Spare && met == 0 && !meeting && !nearEnd(c, q) {
					t.Errorf("set-up %d, %s (spare: %v) lies along %d others at %v, %d are named: %+v", i+1, c.Name, track.Spare, met, q, named, track.Elsewhere)
					break
				}
			}
		}
	}
}

func offCut(c groove.Cut, q geom.Point) float64 {
	_, s := c.Line.Nearest(q)
	on, _ := c.Line.At(s)
	return on.Dist(q)
}

// nearEnd reports whether q is within the run-on past a cut's end.
func nearEnd(c groove.Cut, q geom.Point) bool { return c.From.At.Dist(q) < 1 || c.To.At.Dist(q) < 1 }

// strandEnds are a strand's ends and corners.
func strandEnds(g *groove.Groove, strand int) []geom.Point {
	var ends []geom.Point
	for _, c := range g.Corners(strand) {
		ends = append(ends, c.P)
	}
	if c := g.Motif.Strands[strand].Contour; !c.Closed {
		ends = append(ends, c.Start(), c.End())
	}
	return ends
}

// checkSplits counts the places at which cuts end at a split.
func checkSplits(t testing.TB, g *groove.Groove, p Plan) {
	t.Helper()
	type place struct {
		strand int
		s      float64
	}
	var seen []place
	visible, hidden := 0, 0
	for _, c := range p.Cuts() {
		for _, s := range [2]groove.Stop{c.From, c.To} {
			if s.Kind != groove.StopSplit || slices.ContainsFunc(seen, func(q place) bool {
				return q.strand == c.Strand && alongStrand(g.Motif.Strands[c.Strand], q.s, s.S) < sameStretch
			}) {
				continue
			}
			seen = append(seen, place{c.Strand, s.S})
			if isHidden(g, c.Strand, s.S) {
				hidden++
			} else {
				visible++
			}
		}
	}
	if visible != p.Visible || hidden != p.Hidden {
		t.Errorf("%d visible and %d hidden splits, counted %d and %d", p.Visible, p.Hidden, visible, hidden)
	}
}

// isHidden reports whether a strand passes under another, or under itself, at a
// distance along it, counted on past a closed strand's start.
func isHidden(g *groove.Groove, strand int, s float64) bool {
	st := g.Motif.Strands[strand]
	return slices.ContainsFunc(g.Weave.Crossings, func(c weave.Crossing) bool {
		v := c.Lower()
		return v.Strand == strand && !v.Shown && alongStrand(st, v.S, s) < 4*motif.Same
	})
}

// alongStrand is the distance from one place of a strand to another along it.
func alongStrand(st motif.Strand, a, b float64) float64 {
	d := math.Abs(a - b)
	if l := st.Length(); st.Contour.Closed {
		d = math.Mod(d, l)
		d = min(d, l-d)
	}
	return d
}

// Seven equal bows end to end: neighbours can't share a panel, so three fit on
// one, and laid three times it would cut nine. Two of the last set-up's are spare
// (worked by hand).
func TestSevenBowsAreCutOnce(t *testing.T) {
	r := mustPrepare(t, `[motif]
copies = 7
[[motif.arc]]
name = "bow"
center = [0, -35.098204]
radius = 117.027753
start = 71.76268
sweep = 36.47464
`+"[inlay]\ndepth = 1.5\nwidth = 6\n[router]\nguide = \"bushing\"\nbit = 3\nrider = 12.7\n[template]\nweb = 6\n")
	p := r.plan()
	checkPlan(t, &r.groove, p)
	if len(p.SetUps) != 3 || p.Openings() != 3 {
		t.Fatalf("%d set-ups with %d openings, want 3 with 3", len(p.SetUps), p.Openings())
	}
	names := map[string]bool{}
	for _, c := range p.Cuts() {
		names[c.Name] = true
	}
	if len(p.Cuts()) != 7 || len(names) != 7 {
		t.Errorf("%d cuts with %d names, want 7", len(p.Cuts()), len(names))
	}
	spare := p.SetUps[2].Spare()
	for _, s := range spare {
		if len(s.Elsewhere) != 1 || s.Elsewhere[0].SetUp != 1 {
			t.Errorf("a spare cut is made by %+v", s.Elsewhere)
		}
	}
	if len(spare) != 2 {
		t.Errorf("%d spare cuts in the last set-up, want 2", len(spare))
	}
}

// What is cut twice in part is named with its length: a straight of 100 mm of
// which two set-ups cut 60 each (by hand).
func TestCutAgainInPart(t *testing.T) {
	r := mustPrepare(t, "[motif]\n[[motif.line]]\nfrom = [0, 0]\nto = [100, 0]\n"+inlay+bushing)
	g := &r.groove
	whole := g.Chains(0)[0]
	stop := func(s float64) groove.Stop { return groove.Stop{Kind: groove.StopSplit, S: s, At: geom.Pt(s, 0)} }
	p := Plan{Panels: []Panel{{Positions: []Orientation{{}}}, {Positions: []Orientation{{}}}}, SetUps: []SetUp{
		{Panel: 0, Tracks: []Track{{Cut: g.Stretch(0, whole.From, stop(60))}}},
		{Panel: 1, Tracks: []Track{{Cut: g.Stretch(0, stop(40), whole.To)}}},
	}}
	p.once(g)
	p.countSplits(g)
	p.named(g)
	p.LayOut(g)
	a, b := p.SetUps[0].Tracks[0], p.SetUps[1].Tracks[0]
	if a.Spare || b.Spare || len(a.Elsewhere) != 0 || len(b.Elsewhere) != 1 || b.Elsewhere[0].SetUp != 1 || b.Elsewhere[0].Cut != a.Cut.Name ||
		math.Abs(b.Elsewhere[0].Length-20) > 1e-9 {
		t.Errorf("the first shares %+v, the second %+v, want 20 mm with the first", a, b)
	}
	checkOnce(t, g, p)
	// A third that cuts what both leave no room for is spare.
	p.Panels = append(p.Panels, Panel{Positions: []Orientation{{}, {TurnDeg: 90}}})
	p.SetUps = append(p.SetUps, SetUp{Panel: 2, Tracks: []Track{{Cut: g.Stretch(0, stop(10), stop(30))}}},
		SetUp{Panel: 2, Position: Orientation{TurnDeg: 90}, Tracks: []Track{{Cut: g.Stretch(0, stop(30), stop(80))}}})
	p.once(g)
	if len(p.SetUps) != 3 || len(p.Panels[2].Positions) != 1 {
		t.Errorf("a set-up without a cut is kept: %d set-ups", len(p.SetUps))
	}
}

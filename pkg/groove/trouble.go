package groove

import (
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// leastNose is the radius in mm of wall, on the inside of an arc, under which
// the template's nose is too slender to lean a router on.
const leastNose = 5

// ReportTightArcs reports arcs that the rider can't follow, once for each
// element of the job, and walls that are too slender; reported remembers which
// were reported. It reports whether any is an error.
func (g *Groove) ReportTightArcs(strand int, reported map[int]bool, found *diag.Findings) bool {
	s := g.Motif.Strands[strand]
	bad := false
	for k := range s.Contour.Len() {
		e := s.Contour.Edge(k)
		src := g.Motif.Sources[s.Sources[k]]
		if e.Bulge == 0 {
			continue
		}
		if reported[src.Element] {
			bad = bad || g.tightArc(strand, k)
			continue
		}
		nose := e.Radius() - g.Size.Reach()
		mid := e.Mid()
		switch {
		case g.tightArc(strand, k):
			bad, reported[src.Element] = true, true
			g.reportTight(src, e, found)
		case nose < leastNose-geom.Coincident && nose > -leastNose:
			reported[src.Element] = true
			f := found.Warnf(src.Key, "thin-nose", "the wall inside %s comes to a point near %s (radius %s)",
				src.Name, motif.Place(mid), unit.Len(math.Max(0, nose))).SetAt(mid.X, mid.Y)
			diameter, radius := 2*(e.Radius()-leastNose-g.Size.Offset()), g.Size.Reach()+leastNose
			if diameter < g.Size.Bit {
				g.widen(f, src, "make the radius at least %s", radius)
				break
			}
			f.Hintf("a rider of at most %s leaves a radius of %s; or make the radius at least %s", unit.AtMost(diameter), unit.Len(leastNose), unit.AtLeast(radius)).
				Propose("router.rider", unit.AtMost(diameter))
			g.ProposeRadius(f, src, radius)
		}
	}
	return bad
}

// reportTight reports an arc that the rider can't follow, and the riders and
// the radii that can be.
func (g *Groove) reportTight(src motif.Source, e geom.Edge, found *diag.Findings) {
	mid, nose := e.Mid(), e.Radius()-g.Size.Reach()
	radius, reach := unit.Apart(e.Radius(), g.Size.Reach())
	why := unit.Say("its radius of %s is less than %s, and the inner wall would be gone", radius, reach)
	if nose > -geom.Coincident {
		why = unit.Say("the wall inside it comes to a point that can't be cut (radius %s)", unit.Len(max(0, nose)))
	}
	f := found.Errorf(src.Key, "arc-tight", "a rider of %s can't follow %s near %s: %s",
		unit.Len(2*g.Size.RiderRadius), src.Name, motif.Place(mid), why).SetAt(mid.X, mid.Y)
	diameter, least := g.Size.largestRiderDiameter(e), g.Size.Reach()+drawableNose
	if diameter < g.Size.Bit {
		g.widen(f, src, "no rider can, not even one of the bit's size: make the radius at least %s", least)
		return
	}
	f.Hintf("the largest rider that can is %s across; or make the radius at least %s", unit.AtMost(diameter), unit.AtLeast(least)).
		Propose("router.rider", unit.AtMost(diameter))
	g.ProposeRadius(f, src, least)
}

// widen hints that an arc needs a radius of at least so many mm.
func (g *Groove) widen(f *diag.Finding, src motif.Source, hint string, radius float64) {
	f.Hintf(hint, unit.AtLeast(radius))
	g.ProposeRadius(f, src, radius)
}

// ProposeRadius proposes a radius of at least so many mm where nothing else has to
// change with it: a circle's.
func (g *Groove) ProposeRadius(f *diag.Finding, src motif.Source, radius float64) {
	if src.Kind == work.KindCircle {
		f.Propose(src.Key+".radius", unit.AtLeast(radius))
	}
}

// ReportUnfollowed says where a chain can't be followed from stop to stop, the
// chain's ends among them.
func (g *Groove) ReportUnfollowed(ch Chain, stops []Stop, found *diag.Findings) {
	for i := 1; i < len(stops); i++ {
		a, b := stops[i-1], stops[i]
		if g.follows(g.Stretch(ch.Strand, a, b)) {
			continue
		}
		s := g.Motif.Strands[ch.Strand]
		p, _ := s.Contour.At((a.S + b.S) / 2)
		src := g.Motif.Sources[s.Source(math.Mod((a.S+b.S)/2, s.Length()))]
		f := found.Errorf(src.Key, "no-way", "a rider of %s can't follow %s near %s", unit.Len(2*g.Size.RiderRadius), src.Name, motif.Place(p)).SetAt(p.X, p.Y)
		switch r := g.largestRiderRadius(ch.Strand, a, b); {
		case b.S-a.S <= g.Size.Bit:
			f.Hintf("the stretch is %s long, shorter than the bit: make it longer, or take a narrower bit", unit.Len(b.S-a.S))
		case r > 0:
			f.Hintf("the largest rider that can is %s across: take a smaller base, a bushing or a bearing", unit.AtMost(2*r)).
				Propose("router.rider", unit.AtMost(2*r))
		default:
			f.Hintf("not even a bearing of the bit's size can: draw the strand with longer arms or wider bends")
		}
		return
	}
	p := ch.From.At
	found.Errorf(g.Motif.Sources[g.Motif.Strands[ch.Strand].Sources[0]].Key, "no-way", "strand %s can't be shared out over cuts that a rider of %s follows",
		g.Motif.Strands[ch.Strand].ID, unit.Len(2*g.Size.RiderRadius)).SetAt(p.X, p.Y).
		Hintf("take a smaller base, a bushing or a bearing, or move the crossings apart")
}

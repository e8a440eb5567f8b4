package groove

import (
	"fmt"
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
)

// leastNose is the radius in mm of wall, on the inside of an arc, under which
// the template's nose is too slender to lean a router on.
const leastNose = 5

// reportTightArcs tells of arcs that the rider can't follow, once for each
// element of the job, and of walls that are too slender; told remembers which
// were told of. It reports whether any is an error.
func (g *Groove) reportTightArcs(strand int, told map[int]bool, found *diag.Findings) bool {
	s := g.Motif.Strands[strand]
	bad := false
	for k := range s.Contour.Len() {
		e := s.Contour.Edge(k)
		src := g.Motif.Sources[s.Sources[k]]
		if e.Bulge == 0 {
			continue
		}
		if told[src.Element] {
			bad = bad || g.tightArc(strand, k)
			continue
		}
		nose := e.Radius() - g.Size.Reach()
		mid := e.Mid()
		switch {
		case g.tightArc(strand, k):
			bad, told[src.Element] = true, true
			why := fmt.Sprintf("its radius of %.3f mm is less than %.3f mm, and the inner wall would be gone", e.Radius(), g.Size.Reach())
			if nose > -geom.Coincident {
				why = fmt.Sprintf("the wall inside it comes to a point that can't be cut (radius %.3f mm)", max(0, nose))
			}
			found.Errorf(src.Pos, "arc-tight", "a rider of %.3f mm can't follow %s near %s: %s",
				2*g.Size.Rider, src.Name, motif.Place(mid), why).SetAt(mid.X, mid.Y).
				Hintf("the largest rider that can is %.3f mm across; or make the radius at least %.3f mm", g.Size.largestOn(e), math.Ceil((g.Size.Reach()+drawableNose)*1000)/1000)
		case nose < leastNose && nose > -leastNose:
			told[src.Element] = true
			found.Warnf(src.Pos, "thin-nose", "the wall inside %s near %s is a nose of only %.2f mm radius",
				src.Name, motif.Place(mid), math.Max(0, nose)).SetAt(mid.X, mid.Y).
				Hintf("a rider of at most %.2f mm leaves a nose of %d mm; or make the radius %.2f mm", 2*(e.Radius()-leastNose-g.Size.Play()), leastNose, g.Size.Reach()+leastNose)
		}
	}
	return bad
}

// reportUnfollowed tells where a chain can't be followed however it is split.
func (g *Groove) reportUnfollowed(ch Chain, found *diag.Findings) {
	stops := append(append([]Stop{ch.From}, g.candidates(ch, 8)...), ch.To)
	for i := 1; i < len(stops); i++ {
		a, b := stops[i-1], stops[i]
		if g.follows(g.Stretch(ch.Strand, a, b)) {
			continue
		}
		s := g.Motif.Strands[ch.Strand]
		p, _ := s.Contour.At((a.S + b.S) / 2)
		src := g.Motif.Sources[s.Source(math.Mod((a.S+b.S)/2, s.Length()))]
		f := found.Errorf(src.Pos, "no-way", "a rider of %.3f mm can't follow %s near %s", 2*g.Size.Rider, src.Name, motif.Place(p)).SetAt(p.X, p.Y)
		switch r := g.largestRider(ch.Strand, a, b); {
		case b.S-a.S <= g.Size.Bit:
			f.Hintf("the stretch is %.2f mm long, shorter than the bit: make it longer, or take a narrower bit", b.S-a.S)
		case r > 0:
			f.Hintf("the largest rider that can is %.2f mm across: take a smaller base, a bushing or a bearing", 2*r)
		default:
			f.Hintf("not even a bearing of the bit's size can: draw the strand with longer arms or wider bends")
		}
		return
	}
	p := ch.From.At
	found.Errorf(g.Motif.Sources[g.Motif.Strands[ch.Strand].Sources[0]].Pos, "no-way", "strand %s can't be shared out over cuts that a rider of %.3f mm follows",
		g.Motif.Strands[ch.Strand].ID, 2*g.Size.Rider).SetAt(p.X, p.Y).
		Hintf("take a smaller base, a bushing or a bearing, or move the crossings apart")
}

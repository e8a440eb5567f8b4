package joint

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
)

// checkTongue holds the tongue to the grooves over it: it lies along the whole joint, half in
// either edge.
func (p Params) checkTongue(found *diag.Findings) {
	g := p.Table.Tongue
	if g == nil || p.throughFaces(g.Key, "tongue", g.Below, g.Thickness, found) {
		return
	}
	upper := g.Below - g.Thickness/2
	if upper >= p.Depth+Bridge {
		return
	}
	all := p.overJoint(g.Length/2 + deeper)
	if len(all) == 0 {
		return
	}
	severity := diag.Warning
	if upper <= p.Depth {
		severity = diag.Error
	}
	f := diag.New(severity, g.Key+".below", "joint-tongue", "the groove of %s passes over the tongue %s, in %s: %s deep, it %s",
		all[0].strand, fromFront(all[0].at), all[0].edge, unit.Len(p.Depth), p.bridgeOver(upper))
	p.setAt(&f, all[0].at)
	deep := p.Depth + Bridge + g.Thickness/2
	if deep+g.Thickness/2+Bridge <= p.Table.Thickness {
		f.Hintf("put its middle %s under the top", unit.AtLeast(deep)).Propose(g.Key+".below", unit.AtLeast(deep))
	} else if most := p.Table.Thickness - p.Depth - 2*Bridge; most > 0 {
		f.Hintf("make it at most %s thick, and put its middle %s under the top", unit.AtMost(most), unit.Len(p.Depth+Bridge+most/2))
	} else {
		f.Hintf("join the sections without a tongue: the groove leaves no room for one")
	}
	found.Add(f)
}

package plan

import (
	"math"

	"strapwork/pkg/groove"
)

// What a rough plan may cost: of a larger motif, or when more would have to be
// learnt, there is none.
const (
	roughAtoms    = 100
	roughPatience = 2_000_000 // steps of the solver
)

// A Rough is how good a plan there is at least.
type Rough struct{ Visible, SetUps, Panels int }

// Roughly plans over the coarse splits only, with little patience: for asking what
// another rider, or panels turned over, would be good for. Make finds a plan that is
// no worse. It is false where nothing is found so cheaply.
func Roughly(want Params, g *groove.Groove) (Rough, bool) {
	if coarseAtoms(g) > roughAtoms {
		return Rough{}, false
	}
	at := cutUp(g, positionsFor(want, g), math.Inf(1), false)
	if at.relate(); at.crowded {
		return Rough{}, false
	}
	budget, found := roughPatience, []*solution{}
	if seed := at.seed(); seed != nil {
		found = append(found, seed)
	}
	o := newSearch(at, &budget, found).best(want.Prefer)
	if o.sol == nil {
		return Rough{}, false
	}
	return Rough{o.sol.visible, o.sol.setUps, o.sol.panels}, true
}

// Positions is the number of positions in which a job's panels may be laid.
func Positions(want Params, g *groove.Groove) int { return len(positionsFor(want, g)) }

// positionsFor are the positions in which a job's panels may be laid.
func positionsFor(want Params, g *groove.Groove) []Orientation {
	if !want.Turn {
		return []Orientation{{}}
	}
	return Symmetry(g.Motif, want.Flip)
}

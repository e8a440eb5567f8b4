package made

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
)

// tried is the number of seeded motifs.
const tried = 16

// anyhow shares cuts out over panels first come first served, and lays each
// panel in several positions, whatever it would cut there: for tests that only ask
// where panels lie.
func anyhow(seed uint64) func(Job, []groove.Cut) plan.Plan {
	rnd := rand.New(rand.NewPCG(seed, 11))
	return func(j Job, cuts []groove.Cut) plan.Plan {
		var p plan.Plan
		var areas [][]region.Region
		for _, c := range cuts {
			own := j.Groove.Opening(c)
			i := slices.IndexFunc(areas, func(others []region.Region) bool {
				return !slices.ContainsFunc(others, func(o region.Region) bool { return o.Gap(own) < j.Groove.Size.Web })
			})
			if i < 0 {
				i = len(areas)
				areas, p.Panels = append(areas, nil), append(p.Panels, plan.Panel{Positions: []plan.Orientation{{}}})
			}
			areas[i] = append(areas[i], own)
			p.Panels[i].Cuts = append(p.Panels[i].Cuts, c)
		}
		copies := j.Motif.Copies
		for i := range p.Panels {
			q := &p.Panels[i]
			for k := 1; k < copies; k++ {
				if rnd.IntN(2) == 0 {
					over := j.Router.Guide.TurnsOver() && rnd.IntN(3) == 0
					q.Positions = append(q.Positions, plan.Orientation{TurnDeg: 360 * float64(k) / float64(copies), Flip: over})
				}
			}
			for _, pos := range q.Positions {
				u := plan.SetUp{Panel: i, Position: pos}
				for _, c := range q.Cuts {
					u.Tracks = append(u.Tracks, plan.Track{Cut: c})
				}
				p.SetUps = append(p.SetUps, u)
			}
		}
		p.LayOut(&j.Groove)
		return p
	}
}

// seeded is a motif of rings and lines, turned about, for each kind of rider.
func seeded(seed uint64) string {
	rnd := rand.New(rand.NewPCG(seed, 7))
	routers := []string{
		"guide = \"base\"\nrider = 60\nbit = 3\nflute = 16\nshank = 6\n",
		"guide = \"bushing\"\nrider = 17\nbit = 3\nflute = 16\ncollar = 6\nbase = 90\n",
		"guide = \"bearing\"\nbit = 3\nflute = 16\nbase = 90\n",
	}
	b := fmt.Sprintf("title = \"Seeded motif, number %d\"\nunits = \"mm\"\n[motif]\ncopies = %d\n", seed, 1+rnd.IntN(6))
	for i := range 1 + rnd.IntN(2) {
		b += fmt.Sprintf("[[motif.circle]]\nname = \"ring%d\"\ncenter = [%.1f, %.1f]\nradius = %.1f\n",
			i, 30+90*rnd.Float64(), 20*rnd.Float64(), 36+50*rnd.Float64())
	}
	if rnd.IntN(2) == 0 {
		b += fmt.Sprintf("[[motif.line]]\nname = \"bar\"\nfrom = [%.1f, %.1f]\nto = [%.1f, %.1f]\n",
			-150+20*rnd.Float64(), 12+20*rnd.Float64(), 150+20*rnd.Float64(), 20+40*rnd.Float64())
	}
	return b + "[inlay]\ndepth = 3\nwidth = 4\n[router]\n" + routers[rnd.IntN(len(routers))] +
		fmt.Sprintf("[template]\nmargin = %d\n", 12+rnd.IntN(30))
}

package report

import (
	"slices"

	"strapwork/pkg/aids"
	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// aidFacts are the shop aids that are made; nil for those that aren't, which are
// not spoken of.
type aidFacts struct {
	TracingDisc, SubBase, DepthGauge *partFacts
	Shim                             num // thickness of the depth gauge's shims for the last pass
}

func newAids(r build.Result) aidFacts {
	made := func(name string) *partFacts {
		if i := aid(r, name); i >= 0 {
			p := newPart(r, r.Parts[i])
			return &p
		}
		return nil
	}
	return aidFacts{
		TracingDisc: made(aids.TracingDisc), SubBase: made(aids.SubBase), DepthGauge: made(aids.DepthGauge),
		Shim: num(build.AidsParams(r.Job).Shim()),
	}
}

// aid is an aid's index among the parts, or -1.
func aid(r build.Result, name string) int {
	return slices.IndexFunc(r.Parts, func(p sheet.Part) bool { return p.Ply == sheet.Aid && p.Sheet.Name == name })
}

// chiselGuides are the names of the guides that serve the leftovers, by their places:
// found once, since among thousands it takes a while.
func chiselGuides(r build.Result) map[geom.Point]string {
	guides := map[geom.Point]string{}
	if !r.Job.Router.Guide.HasTemplates() {
		return guides
	}
	for _, g := range aids.ChiselGuides(r.Groove, r.Proof.Leftovers) {
		if aid(r, g.Name) < 0 {
			continue
		}
		for _, l := range g.Serves {
			if guides[l.At] == "" {
				guides[l.At] = g.Name
			}
		}
	}
	return guides
}

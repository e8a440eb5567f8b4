package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/glue"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// glueJSON is what glue has to fill, and how it suits.
type glueJSON struct {
	glueFact
	Voids num `json:"voids_mm3"` // in the grooves, round the strips

	Clearance num        `json:"-"`
	Metal     bool       `json:"-"` // a strip is of metal
	Kinds     []glueFact `json:"-"` // all of them, where the job doesn't say
}

// glueFact is a kind of glue for the lay-up.
type glueFact struct {
	Kind string `json:"kind"` // "any" where the job doesn't say
	Fit  string `json:"fit"`  // of the clearance: "tight", "right", "loose", or "unknown"

	Least      num  `json:"-"` // clearance that suits it
	Most       num  `json:"-"`
	HoldsMetal bool `json:"-"`
}

func newGlue(r build.Result) glueJSON {
	in := r.Job.Inlay
	out := glueJSON{glueFact: newGlueFact(in.Glue, in), Voids: num(r.Voids()), Clearance: num(in.Clearance), Metal: wood.HasMetal(in.Strips)}
	if in.Glue == work.GlueAny {
		out.Kinds = each(work.Glues(), func(g work.Glue) glueFact { return newGlueFact(g, in) })
	}
	return out
}

func newGlueFact(g work.Glue, in work.Inlay) glueFact {
	least, most := glue.Suits(g, in.Strips)
	return glueFact{Kind: g.String(), Fit: glue.FitOf(g, in.Strips, in.Clearance).String(), Least: num(least), Most: num(most), HoldsMetal: glue.HoldsMetal(g)}
}

package build

import (
	"fmt"
	"path"

	"strapwork/pkg/job"
	"strapwork/pkg/program"
	"strapwork/pkg/toolpath"
)

// A Part is a program that cuts some of the groove: one strand at all depths, or
// all strands at one depth.
type Part struct {
	Path  string
	Plan  toolpath.Plan
	Depth float64 // mm, to which it cuts
	Floor float64 // mm, to which the groove must be cut before it; 0: it stands for itself
	After string  // the programs that cut to there, in words: "depth-1.nc"
	title string  // what it cuts, in words
}

// Parts are the programs that cut some of the groove, as the job asks for them, in
// the order in which they are run.
func (g Grooving) Parts() (list []Part) {
	all := g.Plan
	switch g.Wanted.Split {
	case job.SplitNone:
	case job.SplitStrand:
		n := len(all.Runs)
		for i, run := range all.Runs {
			list = append(list, Part{
				Path: g.path(fmt.Sprintf("strand-%0*d-%s", digits(n), i+1, safeName(run.Name))), Plan: all.Only(run.Strand),
				Depth: all.Depths[len(all.Depths)-1], title: "strand " + run.Name + " alone",
			})
		}
	case job.SplitDepth:
		n := len(all.Depths)
		for i, d := range all.Depths {
			p := Part{
				Path: g.path(fmt.Sprintf("depth-%0*d", digits(n), i+1)), Plan: all.AtDepth(i),
				Depth: d, title: fmt.Sprintf("depth %d of %d alone", i+1, n),
			}
			if i > 0 {
				p.Floor, p.After = all.Depths[i-1], path.Base(list[i-1].Path)
			}
			if i > 1 {
				p.After = path.Base(list[0].Path) + " to " + p.After
			}
			list = append(list, p)
		}
	}
	return list
}

// words are what the part's program says of itself: what it cuts, and what must
// have been run before it.
func (p Part) words(s program.Params) string {
	text := fmt.Sprintf("%s, to %s deep", p.title, s.Size(p.Depth))
	if p.Floor > 0 {
		text += fmt.Sprintf("\nrun %s before it: it starts %s deep", p.After, s.Size(p.Floor))
	}
	return text
}

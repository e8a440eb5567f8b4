package report

import (
	"slices"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/job"
	"strapwork/pkg/laying"
)

// layFacts is the order in which pieces are laid.
type layFacts struct {
	Steps   []layStep
	Dummies int
	Placed  bool // the dummies are few enough to say where each stands
	Mitred  bool // some pieces are
	Apart   bool // sections are laid one after another
}

// together reports whether a table's sections are inlaid together: across joints that are sawn
// afterwards, or at stations.
func together(j *job.Job) bool { return j.Table != nil && (j.Table.Saw > 0 || j.Table.ByStation) }

// layStep is pieces that can be laid in any order.
type layStep struct {
	Section       string // of a table whose sections are laid apart; empty where it is the last step's
	Mitred, Plain string // numbers of pieces; empty for none
	Dummies       []dummyFacts
}

// dummyFacts is a dummy that is put in before a step.
type dummyFacts struct {
	For string // numbers of the pieces that it stands in for
	At  xy
	Out int // the step in which these are laid
}

// mostPlaced is how many dummies are given with their places: more make a list that nobody
// reads, and what they stand in for says where they are.
const mostPlaced = 12

// newOrder takes the sections that pieces lie in, whose coordinates their dummies' places are in.
func newOrder(o laying.Order, sections []cutlist.Section) layFacts {
	f := layFacts{Dummies: o.Dummies, Placed: o.Dummies <= mostPlaced}
	last := ""
	for _, s := range o.Steps {
		i := slices.IndexFunc(s.Stretches, func(p laying.Stretch) bool { return p.Mitred == 0 })
		if i < 0 {
			i = len(s.Stretches)
		}
		f.Mitred = f.Mitred || i > 0
		f.Apart = f.Apart || s.Section != ""
		step := layStep{Mitred: numbersOf(s.Stretches[:i]), Plain: numbersOf(s.Stretches[i:]), Dummies: each(s.Dummies, func(d laying.Dummy) dummyFacts { return newDummy(d, sections) })}
		if s.Section != last {
			last, step.Section = s.Section, s.Section
		}
		f.Steps = append(f.Steps, step)
	}
	return f
}

func newDummy(d laying.Dummy, sections []cutlist.Section) dummyFacts {
	at := d.At
	for _, s := range sections {
		if s.From <= d.At.X && d.At.X <= s.To {
			at = d.At.Sub(geom.Pt(s.From, 0))
		}
	}
	return dummyFacts{For: numbersOf(d.For), At: toXY(at), Out: d.Out}
}

// numbersOf are the numbers of the pieces of stretches.
func numbersOf(list []laying.Stretch) string {
	var all []int
	for _, s := range list {
		for n := s.First; n <= s.Last; n++ {
			all = append(all, n)
		}
	}
	slices.Sort(all)
	return cutlist.Numbers(all)
}

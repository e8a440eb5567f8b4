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
	Station bool // they are inlaid station by station
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

// newOrder takes the sections that pieces lie in: in their coordinates, or where all is laid
// together in the top's, are the places of dummies.
func newOrder(o laying.Order, sections []cutlist.Section, together bool) layFacts {
	f := layFacts{Dummies: o.Dummies, Placed: o.Dummies <= mostPlaced}
	last, lefts := "", make([]float64, len(sections))
	for i := 1; i < len(lefts) && together; i++ {
		lefts[i] = lefts[i-1] + sections[i-1].To - sections[i-1].From
	}
	for _, s := range o.Steps {
		i := slices.IndexFunc(s.Stretches, func(p laying.Stretch) bool { return p.Mitred == 0 })
		if i < 0 {
			i = len(s.Stretches)
		}
		f.Mitred = f.Mitred || i > 0
		f.Apart = f.Apart || s.Section != ""
		step := layStep{Mitred: numbersOf(s.Stretches[:i]), Plain: numbersOf(s.Stretches[i:]), Dummies: each(s.Dummies, func(d laying.Dummy) dummyFacts { return newDummy(d, sections, lefts) })}
		if s.Section != last {
			last, step.Section = s.Section, s.Section
		}
		f.Steps = append(f.Steps, step)
	}
	return f
}

// newDummy has a dummy's place from the section's left edge, which lies at one of lefts.
func newDummy(d laying.Dummy, sections []cutlist.Section, lefts []float64) dummyFacts {
	at := d.At
	for i, s := range sections {
		if s.From <= d.At.X && d.At.X <= s.To {
			at = d.At.Add(geom.Pt(lefts[i]-s.From, 0))
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

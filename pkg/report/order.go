package report

import (
	"slices"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/laying"
)

// layFacts is the order in which pieces are laid.
type layFacts struct {
	Steps   []layStep
	Dummies int
	Placed  bool // the dummies are few enough to say where each stands
	Mitred  bool // some pieces are
}

// layStep is pieces that can be laid in any order.
type layStep struct {
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

func newOrder(o laying.Order) layFacts {
	f := layFacts{Dummies: o.Dummies, Placed: o.Dummies <= mostPlaced}
	for _, s := range o.Steps {
		i := slices.IndexFunc(s.Stretches, func(p laying.Stretch) bool { return p.Mitred == 0 })
		if i < 0 {
			i = len(s.Stretches)
		}
		f.Mitred = f.Mitred || i > 0
		f.Steps = append(f.Steps, layStep{numbersOf(s.Stretches[:i]), numbersOf(s.Stretches[i:]), each(s.Dummies, newDummy)})
	}
	return f
}

func newDummy(d laying.Dummy) dummyFacts {
	return dummyFacts{For: numbersOf(d.For), At: toXY(d.At), Out: d.Out}
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

package toolpath

import (
	"slices"
	"strings"

	"strapwork/pkg/groove"
)

// nameOf is the name of a strand in listings: the element's with its copy where
// it is one whole element, else its own.
func nameOf(g *groove.Groove, strand int) string {
	s := g.Motif.Strands[strand]
	for _, source := range s.Sources {
		if source != s.Sources[0] {
			return s.ID
		}
	}
	return g.Motif.Sources[s.Sources[0]].Name
}

// namesOf are all names that call a strand: its own, then its elements' with
// and without their copy.
func namesOf(g *groove.Groove, strand int) []string {
	s := g.Motif.Strands[strand]
	names := []string{s.ID}
	for _, source := range s.Sources {
		whole := g.Motif.Sources[source].Name
		element := whole
		if dot := strings.LastIndexByte(whole, '.'); dot > 0 {
			element = whole[:dot]
		}
		for _, n := range [2]string{element, whole} {
			if !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	return names
}

// groups are the strands that the order's names call, name by name, and at last
// all others; each in the motif's order. A strand belongs to the first name
// that calls it.
func (o Order) groups(g *groove.Groove) ([][]int, error) {
	called := map[string][]int{}
	var known []string
	for i := range g.Motif.Strands {
		for _, name := range namesOf(g, i) {
			called[name] = append(called[name], i)
			known = append(known, name)
		}
	}
	var groups [][]int
	taken := make([]bool, len(g.Motif.Strands))
	for _, name := range o.First {
		if called[name] == nil {
			return nil, &NameError{name, distinct(known)}
		}
		groups = append(groups, take(taken, called[name]))
	}
	return append(groups, take(taken, all(len(taken)))), nil
}

// all are the strands of a motif of n.
func all(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// take returns those of some strands that are not taken yet, and takes them.
func take(taken []bool, strands []int) []int {
	var list []int
	for _, i := range strands {
		if !taken[i] {
			taken[i] = true
			list = append(list, i)
		}
	}
	return list
}

// distinct returns the names without repeats, in order.
func distinct(names []string) []string {
	seen := map[string]bool{}
	var list []string
	for _, n := range names {
		if !seen[n] {
			seen[n] = true
			list = append(list, n)
		}
	}
	return list
}

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
	names := make([][]string, len(g.Motif.Strands))
	var known []string
	for i := range names {
		names[i] = namesOf(g, i)
		known = append(known, names[i]...)
	}
	var groups [][]int
	taken := make([]bool, len(names))
	for _, name := range o.First {
		if !slices.Contains(known, name) {
			return nil, &NameError{name, distinct(known)}
		}
		groups = append(groups, take(taken, func(i int) bool { return slices.Contains(names[i], name) }))
	}
	return append(groups, take(taken, func(int) bool { return true })), nil
}

// take returns the strands not taken yet that a test picks out, and takes them.
func take(taken []bool, picks func(int) bool) []int {
	var list []int
	for i := range taken {
		if !taken[i] && picks(i) {
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

package plan

import "slices"

// cliqueStarts is the number of atoms from which cliques are grown.
const cliqueStarts = 64

// greedyClique returns nodes of a graph that are pairwise neighbours, grown from those with the
// most clashes by preferring those with many.
func greedyClique(near [][]int) []int {
	order := make([]int, len(near))
	for i := range order {
		order[i] = i
		slices.Sort(near[i])
	}
	slices.SortStableFunc(order, func(a, b int) int { return len(near[b]) - len(near[a]) })
	var best []int
	for _, i := range order[:min(len(order), cliqueStarts)] {
		clique, left := []int{i}, near[i]
		for len(left) > 0 {
			next := slices.MaxFunc(left, func(a, b int) int { return len(near[a]) - len(near[b]) })
			clique = append(clique, next)
			left = common(left, near[next])
		}
		if len(clique) > len(best) {
			best = clique
		}
	}
	return best
}

// common returns what two sorted lists have in common.
func common(a, b []int) []int {
	var both []int
	for i, j := 0, 0; i < len(a) && j < len(b); {
		switch {
		case a[i] == b[j]:
			both = append(both, a[i])
			i++
			j++
		case a[i] < b[j]:
			i++
		default:
			j++
		}
	}
	return both
}

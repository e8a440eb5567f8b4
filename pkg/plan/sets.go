package plan

// The positions that panels can be laid in: every choice, up to calling a
// panel by one of its turned selves; first those of panels that are laid equally
// often, and of these the regular ones, quarter turns and halves and steps all
// alike, since motifs are made of such families.

import (
	"cmp"
	"slices"
)

// mostListed is the number of sets of one size up to which all are listed.
// Beyond it only the sets of equal steps are.
const mostListed = 3_000

// mostChoices bounds the choices for all panels that are looked at.
const mostChoices = 2_000

// choices are the choices of position sets for so many panels that make so many
// set-ups in all, those that lie in the fewest turns first: these decide how many
// sides the panels have. all is false if there are more.
func (s *search) choices(panels, setUps int) (list [][][]int, all bool) {
	// What does in fewer set-ups does in more, so that all positions are the most
	// that there is to ask about.
	setUps = min(setUps, panels*len(s.at.positions))
	key := [2]int{panels, setUps}
	if known, ok := s.chosen[key]; ok {
		return known.sets, known.all
	}
	all = s.eachSets(panels, setUps, func(sets [][]int) bool {
		list = append(list, sets)
		return len(list) < mostChoices
	})
	all = all && !s.twins()
	slices.SortStableFunc(list, func(a, b [][]int) int { return cmp.Compare(s.turnsOf(a), s.turnsOf(b)) })
	s.chosen[key] = chosen{list, all}
	return list, all
}

// twins reports whether two positions do the same to all atoms, as a mirror does to a
// bar that lies in it: then sets that hold both are left out of the list.
func (s *search) twins() bool {
	for h, row := range s.mul[0] {
		if row != h {
			return true
		}
	}
	return false
}

type chosen struct {
	sets [][][]int
	all  bool
}

// turnsOf is the number of positions that those of all panels lead to, laid after
// one another.
func (s *search) turnsOf(sets [][]int) int {
	in := make([]bool, len(s.at.positions))
	in[0] = true
	list := []int{0}
	for i := 0; i < len(list); i++ {
		for _, set := range sets {
			for _, g := range set {
				if h := s.mul[list[i]][g]; !in[h] {
					in[h] = true
					list = append(list, h)
				}
			}
		}
	}
	return len(list)
}

// eachSets calls visit with each choice of position sets for m panels that
// make k set-ups in all, until visit returns false. It reports whether that
// were all that there are.
func (s *search) eachSets(m, k int, visit func([][]int) bool) bool {
	n := len(s.at.positions)
	if k < m || k > m*n {
		return true
	}
	complete := true
	var choose func(sets [][]int, left, most, from int) bool
	choose = func(sets [][]int, left, most, from int) bool {
		if len(sets) == m {
			return visit(slices.Clone(sets))
		}
		rest := m - len(sets) - 1
		for size := (left + rest) / (rest + 1); size <= min(most, left-rest); size++ {
			list, all := s.positionSets(size)
			complete = complete && all
			first := 0
			if size == most {
				first = from // panels laid equally often come in one order only
			}
			for i := first; i < len(list); i++ {
				if !choose(append(sets, list[i]), left-size, size, i) {
					return false
				}
			}
		}
		return true
	}
	return choose(nil, k, n, 0) && complete
}

// positionSets returns the sets of so many positions, the unturned one among
// them, one of each family that differ only by which of a panel's turned
// selves is called unturned. all is false if there are too many to list.
func (s *search) positionSets(size int) (list [][]int, all bool) {
	if known, ok := s.listed[size]; ok {
		return known.sets, known.all
	}
	all = choices(len(s.at.positions)-1, size-1) <= mostListed
	if all {
		list = s.everySet(size)
	} else {
		list = s.steppedSets(size)
	}
	list = slices.DeleteFunc(list, func(set []int) bool { return !s.isFirstOfFamily(set) })
	slices.SortStableFunc(list, func(a, b []int) int { return cmp.Compare(s.variety(a), s.variety(b)) })
	s.listed[size] = listing{list, all}
	return list, all
}

type listing struct {
	sets [][]int
	all  bool
}

// choices is the number of ways to choose k of n, or more than mostListed.
func choices(n, k int) int {
	c := 1
	for i := range k {
		if c = c * (n - i) / (i + 1); c > mostListed && 2*(i+1) <= n {
			return mostListed + 1
		}
	}
	return c
}

func (s *search) everySet(size int) [][]int {
	var list [][]int
	set := []int{0}
	var grow func(from int)
	grow = func(from int) {
		if len(set) == size {
			list = append(list, slices.Clone(set))
			return
		}
		for g := from; g < len(s.at.positions); g++ {
			set = append(set, g)
			grow(g + 1)
			set = set[:len(set)-1]
		}
	}
	grow(1)
	return list
}

// steppedSets are the sets that one step makes: 0, g, g after g and so on, and
// those with as many of the same turned over.
func (s *search) steppedSets(size int) [][]int {
	var list [][]int
	add := func(set []int) {
		slices.Sort(set)
		if len(slices.Compact(set)) == size {
			list = append(list, set)
		}
	}
	for g := 1; g < len(s.at.positions); g++ {
		add(s.steps(g, size))
		if size%2 != 0 {
			continue
		}
		for h := 1; h < len(s.at.positions); h++ {
			half := s.steps(g, size/2)
			for _, x := range half[:size/2] {
				half = append(half, s.mul[x][h])
			}
			if s.at.positions[h].Flip {
				add(half)
			}
		}
	}
	slices.SortFunc(list, slices.Compare)
	return slices.CompactFunc(list, slices.Equal)
}

// steps are 0, g, g after g and so on.
func (s *search) steps(g, size int) []int {
	set := []int{0}
	for len(set) < size {
		set = append(set, s.mul[g][set[len(set)-1]])
	}
	return set
}

// variety is the number of different turns that lead from one position of a
// set to another: the fewer, the more regular it is.
func (s *search) variety(set []int) int {
	seen := make([]bool, len(s.at.positions))
	n := 0
	for _, g := range set {
		for _, h := range set {
			if d := s.mul[g][s.at.inverse[h]]; !seen[d] {
				seen[d] = true
				n++
			}
		}
	}
	return n
}

func (s *search) isFirstOfFamily(set []int) bool {
	for _, h := range set {
		turned := make([]int, len(set))
		for i, g := range set {
			turned[i] = s.mul[g][s.at.inverse[h]]
		}
		slices.Sort(turned)
		if slices.Compare(turned, set) < 0 {
			return false
		}
	}
	return true
}

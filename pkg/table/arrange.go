package table

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// mostArranged is how many arrangements are kept: more than anybody puts together.
const mostArranged = 4096

// A word is a sequence of sections as letters: a kind, twice, and one more if it is turned.
type word []int

// arrange finds the distinct sequences of sections that can be put together.
func (t *Table) arrange() {
	words := []word{{}}
	for i := range t.Sections {
		k := t.Sections[i].Kind
		letters := []int{}
		for _, turned := range t.ways(i) {
			l := 2 * k
			if turned {
				l++
			}
			letters = append(letters, l)
		}
		words = extended(words, letters, t.Kinds[k].Loose)
	}
	t.Arranged = t.count()
	for _, w := range words {
		t.Arrangements = append(t.Arrangements, t.arranged(w))
	}
	slices.SortStableFunc(t.Arrangements, func(a, b Arrangement) int { return cmp.Compare(a.Leaves, b.Leaves) })
}

// extended are words with one more section, in each of its letters, or without it if it is
// loose: each word once, and no more than mostArranged, the shortest and the longest among
// them.
func extended(words []word, letters []int, loose bool) []word {
	var next []word
	seen := map[string]bool{}
	add := func(w word) {
		if key := w.key(); !seen[key] {
			seen[key] = true
			next = append(next, w)
		}
	}
	for _, w := range words {
		if loose {
			add(w)
		}
		for _, l := range letters {
			add(append(slices.Clip(slices.Clone(w)), l))
		}
	}
	if len(next) > mostArranged {
		slices.SortStableFunc(next, func(a, b word) int { return cmp.Compare(len(a), len(b)) })
		kept := make([]word, 0, mostArranged)
		for i := range mostArranged {
			kept = append(kept, next[i*(len(next)-1)/(mostArranged-1)])
		}
		next = kept
	}
	return next
}

func (w word) key() string {
	b := make([]byte, 0, 2*len(w))
	for _, l := range w {
		b = append(b, byte(l), byte(l>>8))
	}
	return string(b)
}

// arranged lays a word's sections side by side.
func (t Table) arranged(w word) (a Arrangement) {
	x := 0.0
	for _, l := range w {
		k := t.Kinds[l/2]
		a.Sections = append(a.Sections, Placed{Kind: l / 2, X: x, Turned: l%2 == 1})
		if x += k.Length; k.Loose {
			a.Leaves++
		}
	}
	return a
}

// count is how many distinct sequences there are: between two sections that stay in, the
// distinct subsequences of the loose ones by their length, each in all ways of turning.
func (t Table) count() float64 {
	total := 1.0
	var loose []int
	done := func() {
		ways := 1.0
		if t.Table.TurnLeaves {
			ways = 2
		}
		sum := 0.0
		for n, c := range subsequences(loose) {
			sum += c * math.Pow(ways, float64(n))
		}
		total *= sum
		loose = nil
	}
	for i := range t.Sections {
		if t.KindOf(i).Loose {
			loose = append(loose, t.Sections[i].Kind)
		} else {
			done()
		}
	}
	done()
	return total
}

// subsequences counts the distinct subsequences of a list, by length.
func subsequences(list []int) []float64 {
	n := len(list)
	f := make([][]float64, n+1)
	for i := range f {
		f[i] = make([]float64, n+1)
		f[i][0] = 1
	}
	last := map[int]int{}
	for i := 1; i <= n; i++ {
		before, again := last[list[i-1]]
		for l := 1; l <= n; l++ {
			f[i][l] = f[i-1][l] + f[i-1][l-1]
			if again {
				f[i][l] -= f[before-1][l-1]
			}
		}
		last[list[i-1]] = i
	}
	return f[n]
}

// Called is what an arrangement is called by its leaves: "no leaf", "2 leaves", and where they
// aren't all alike by their names from the left.
func (t Table) Called(a Arrangement) string {
	var names []string
	alike := len(slices.DeleteFunc(slices.Clone(t.Kinds), func(k Kind) bool { return !k.Loose })) == 1
	for _, p := range a.Sections {
		k := t.Kinds[p.Kind]
		if !k.Loose {
			continue
		}
		name := k.Name
		if p.Turned {
			name += " turned"
			alike = false
		}
		names = append(names, name)
	}
	switch {
	case len(names) == 0:
		return "no leaf"
	case !alike:
		return strings.Join(names, ", ")
	case len(names) == 1:
		return "1 leaf"
	}
	return strconv.Itoa(len(names)) + " leaves"
}

// Used are the sections of an arrangement, by their indices: of alike ones those at the left.
func (t Table) Used(a Arrangement) (all []int) {
	used := map[int]int{} // by kind: how many
	for _, p := range a.Sections {
		for i, s := range t.Sections {
			if s.Kind == p.Kind && s.Nth == used[p.Kind]+1 {
				all = append(all, i)
			}
		}
		used[p.Kind]++
	}
	return all
}

// LengthOf is how long an arrangement is.
func (t Table) LengthOf(a Arrangement) float64 {
	if len(a.Sections) == 0 {
		return 0
	}
	last := a.Sections[len(a.Sections)-1]
	return last.X + t.Kinds[last.Kind].Length
}

// NameOf is what a section is called: "left"; of several of one name "leaf 2", from the left.
func (t Table) NameOf(section int) string {
	k := t.KindOf(section)
	if k.Count == 1 {
		return k.Name
	}
	return k.Name + " " + strconv.Itoa(t.Sections[section].Nth)
}

package cutlist

import (
	"slices"
	"strconv"
	"strings"
)

// A Section is an end or a leaf of a table.
type Section struct {
	Name     string
	Nth      int     // which of those of its name, from 1; 0 where there is one alone
	From, To float64 // x of its edges where the inlay has it
}

// String is what a section is called: "leaf 2".
func (s Section) String() string {
	if s.Nth == 0 {
		return s.Name
	}
	return s.Name + " " + strconv.Itoa(s.Nth)
}

// Where is what a maker finds the piece by: "s3", or "s3 of leaf 2".
func (p Piece) Where() string {
	if p.Section == "" {
		return p.Name
	}
	return p.Name + " of " + p.Section
}

// AtJoint reports whether the piece ends at a joint of two sections.
func (p Piece) AtJoint() bool { return p.Ends[0].Joint || p.Ends[1].Joint }

// Apart reports whether a table's sections are laid apart, so that each piece lies in one.
func (l List) Apart() bool {
	return !slices.ContainsFunc(l.Pieces, func(p Piece) bool { return strings.Contains(p.Section, Across) })
}

// Across stands between the sections of a piece that lies across their joint.
const Across = "/"

// stretch is the one that a piece is of.
func (p Piece) stretch() [2]int { return [2]int{p.Strand, p.Stretch} }

// across in mm is how far a piece reaches into a section at least to be of it: what two
// sections share is their joint.
const across = 1e-4

// sectioned gives every piece its section, and returns the first one of each stretch, so that
// pieces that lie side by side stay together.
func (l List) sectioned() map[[2]int]int {
	first := map[[2]int]int{}
	for i, p := range l.Pieces {
		box := p.Area.Bounds()
		var names []string
		for k, s := range l.Sections {
			if box.Max.X < s.From+across || box.Min.X > s.To-across {
				continue
			}
			if at, met := first[p.stretch()]; len(names) == 0 && (!met || k < at) {
				first[p.stretch()] = k
			}
			names = append(names, s.String())
		}
		l.Pieces[i].Section = strings.Join(names, Across)
	}
	return first
}

// A SectionTotal is what is cut for a section, or across a joint for several.
type SectionTotal struct {
	Section string
	Pieces  int
	Strips  []int   // how many of each strip, in the order of the lay-up; of a sandwich one number
	Cut     float64 // the lengths of all as they are cut at first
	Numbers []int   // of the pieces, ascending
}

// BySection adds up the pieces of each section, in the order of their first numbers; none
// without a table.
func (l List) BySection() (all []SectionTotal) {
	if len(l.Sections) == 0 {
		return nil
	}
	known := map[string]int{}
	totals := l.totals()
	for _, p := range l.Pieces {
		i, ok := known[p.Section]
		if !ok {
			i = len(all)
			known[p.Section] = i
			all = append(all, SectionTotal{Section: p.Section, Strips: make([]int, len(totals))})
		}
		t := &all[i]
		t.Pieces++
		for k := range totals {
			if totals[k].Strip == p.Strip {
				t.Strips[k]++
			}
		}
		t.Cut += l.Cut(p)
		t.Numbers = append(t.Numbers, p.Number)
	}
	return all
}

package table

import (
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
)

// alike gives every section its stretches and crossings, in the order of its kind's first
// section, and reports sections of one name whose grooves differ.
func (t *Table) alike(pieces []piece, found *diag.Findings) {
	own := make([][]Stretch, len(t.Sections))
	for _, p := range pieces {
		st := Stretch{Strand: p.strand, From: p.from, To: p.to, At: [2]int{-1, -1}}
		for k, j := range p.joints {
			if j >= 0 {
				st.At[k] = j // the joint, until pass has the passings
			}
		}
		own[p.section] = append(own[p.section], st)
	}
	crossings := make([][]Crossing, len(t.Sections))
	for i, c := range t.Weave.Crossings {
		n := t.sectionAt(c.At.X - geom.Coincident) // one on a joint is on its left at all joints
		crossings[n] = append(crossings[n], Crossing{Top: i, At: c.At.Sub(geom.Pt(t.Sections[n].X, 0)), Joint: -1})
	}
	for k, kind := range t.Kinds {
		first := kind.First
		t.Sections[first].Stretches, t.Sections[first].Crossings = own[first], crossings[first]
		for i := range t.Sections {
			if s := &t.Sections[i]; s.Kind == k && i != first {
				var off geom.Point
				var ok bool
				if s.Stretches, off, ok = t.match(first, own[first], i, own[i]); ok {
					s.Crossings, ok = matchCrossings(crossings[first], crossings[i])
				}
				if !ok {
					s.Stretches, s.Crossings = own[i], crossings[i]
					found.Errorf(kind.Key, ruleAlike, "the sections named %s would get different grooves: those of the first and of the %s differ near %s of the section",
						kind.Name, nth(s.Nth), motif.Place(off)).
						Hintf("give them names of their own, or lay the stations alike on both: stations = \"joints\" does")
					return
				}
			}
		}
	}
}

// likeness is the distance in mm within which two sections' stretches are alike: what is
// computed for one station after another differs by rounding only, and joined ends by half
// of what they are joined by.
const likeness = motif.Joint

// match puts a section's stretches into the order of its kind's first one; off is the
// first place that has no mate.
func (t Table) match(first int, want []Stretch, n int, have []Stretch) (list []Stretch, off geom.Point, ok bool) {
	used := make([]bool, len(have))
	for _, w := range want {
		a := t.placesOf(first, w)
		mate := -1
		for i, h := range have {
			if used[i] {
				continue
			}
			b := t.placesOf(n, h)
			if same(a, b) {
				mate = i
				break
			}
			slices.Reverse(b)
			if same(a, b) {
				mate = i
				have[i].Reversed = true
				break
			}
		}
		if mate < 0 {
			return nil, a[len(a)/2], false
		}
		used[mate] = true
		list = append(list, have[mate])
	}
	if i := slices.Index(used, false); i >= 0 {
		p := t.placesOf(n, have[i])
		return nil, p[len(p)/2], false
	}
	return list, off, true
}

// placesOf are places along a stretch, in its section's coordinates: lines and arcs that
// share so many are one.
func (t Table) placesOf(section int, s Stretch) []geom.Point {
	const places = 9
	c := t.Top.Strands[s.Strand].Contour
	all := make([]geom.Point, places)
	for i := range all {
		at := s.From + (s.To-s.From)*float64(i)/(places-1)
		p, _ := c.At(at)
		all[i] = p.Sub(geom.Pt(t.Sections[section].X, 0))
	}
	return all
}

func same(a, b []geom.Point) bool {
	for i := range a {
		if !a[i].Near(b[i], likeness) {
			return false
		}
	}
	return true
}

// matchCrossings puts a section's crossings into the order of its kind's first one.
func matchCrossings(want, have []Crossing) (list []Crossing, ok bool) {
	if len(want) != len(have) {
		return nil, false
	}
	have = slices.Clone(have)
	for _, w := range want {
		best, least := -1, 2*likeness
		for i, c := range have {
			if d := c.At.Dist(w.At); d < least {
				best, least = i, d
			}
		}
		if best < 0 {
			return nil, false
		}
		list = append(list, have[best])
		have = slices.Delete(have, best, best+1)
	}
	return list, true
}

// nth is "second" for 2.
func nth(n int) string {
	names := [...]string{"", "first", "second", "third", "fourth", "fifth", "sixth"}
	if n < len(names) {
		return names[n]
	}
	return "last"
}

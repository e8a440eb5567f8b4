package build

import (
	"strapwork/pkg/cutlist"
	"strapwork/pkg/motif"
	"strapwork/pkg/preview"
	"strapwork/pkg/table"
)

// mostOffered is how many arrangements the page lets one choose of.
const mostOffered = 32

// topOf is a table as the page puts it together; nil where the work doesn't come apart.
func topOf(t table.Table, sections []cutlist.Section) *preview.Top {
	if len(sections) == 0 {
		return nil
	}
	top := &preview.Top{Width: t.Table.Width}
	for i, s := range sections {
		k := t.KindOf(i)
		top.Sections = append(top.Sections, preview.TopSection{Name: s.String(), Left: s.From, Length: k.Length, Outline: k.Outline})
	}
	for _, a := range t.Shown(mostOffered) {
		out := preview.Arrangement{Name: t.Called(a), Length: t.LengthOf(a)}
		for i, n := range t.Used(a) {
			p := a.Sections[i]
			out.Placed = append(out.Placed, preview.Placed{Section: n, X: p.X, Turned: p.Turned})
		}
		top.Arrangements = append(top.Arrangements, out)
	}
	return top
}

// alongOf are the strands of a table's sections that strips are laid along, by their names
// and their sections'.
func alongOf(l cutlist.List, m motif.Motif) (all []preview.Strand) {
	if len(l.Sections) == 0 {
		return nil
	}
	for _, s := range m.Strands {
		all = append(all, preview.Strand{Name: s.ID, Line: s.Contour})
	}
	section := map[int]string{}
	for _, p := range l.Pieces {
		switch known, met := section[p.Strand]; {
		case !met:
			section[p.Strand], all[p.Strand].Name = p.Section, p.Where()
		case known != p.Section: // it runs on across joints
			all[p.Strand].Name = p.Name
		}
	}
	return all
}

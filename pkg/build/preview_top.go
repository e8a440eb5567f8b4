package build

import (
	"slices"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/preview"
	"strapwork/pkg/table"
)

// mostOffered is how many arrangements the page lets one choose of.
const mostOffered = 32

// putTogether gives a page the table that its sections make, and puts its strips, which are
// laid section by section, where its picture has them: with all leaves in.
func putTogether(page *preview.Page, t table.Table, l cutlist.List, m motif.Motif) {
	if len(l.Sections) == 0 {
		return
	}
	page.Top = topOf(t)
	by := func(p cutlist.Piece) geom.Similarity {
		for i, s := range l.Sections {
			if p.At.X <= s.To || i == len(l.Sections)-1 {
				return geom.Shifting(geom.Pt(t.Sections[i].X-s.From, 0))
			}
		}
		return geom.Identity()
	}
	for _, s := range m.Strands {
		page.Along = append(page.Along, preview.Strand{Name: s.ID, Line: s.Contour})
	}
	section := map[int]string{} // of each strand
	for i, p := range l.Pieces {
		to, q, along := by(p), &page.Strips.Pieces[i], &page.Along[p.Strand]
		q.At = to.Apply(q.At)
		q.Outline = slices.Clone(q.Outline) // it is the inlay's own, which others draw
		for k, c := range q.Outline {
			q.Outline[k] = to.Contour(c)
		}
		switch known, met := section[p.Strand]; {
		case !met:
			section[p.Strand], along.Name, along.Line = p.Section, p.Where(), to.Contour(along.Line)
		case known != p.Section: // it runs on across joints
			along.Name = p.Name
		}
	}
}

// topOf is a table as the page puts it together.
func topOf(t table.Table) *preview.Top {
	top := &preview.Top{Width: t.Table.Width}
	for i, s := range t.Sections {
		k := t.KindOf(i)
		top.Sections = append(top.Sections, preview.TopSection{Name: t.NameOf(i), Left: s.X, Length: k.Length, Outline: k.Outline})
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

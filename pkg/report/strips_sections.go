package report

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/cutlist"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
)

// headFacts is a strip as it heads a column.
type headFacts struct {
	Strip    int // 0: the sandwich of all
	Material string
}

// newHeads are those of a list, in the order of the lay-up.
func newHeads(l cutlist.List) (all []headFacts) {
	for _, b := range l.Batches() {
		for _, t := range b.Strips {
			all = append(all, headFacts{t.Strip, t.Material})
		}
	}
	slices.SortFunc(all, func(a, b headFacts) int { return cmp.Compare(a.Strip, b.Strip) })
	return all
}

// sectionFacts is what is cut for a section of a table.
type sectionFacts struct {
	Name    string
	Pieces  int
	Numbers string // "1-24"
	Strips  []int  // how many of each
	Cut     num    // the lengths of all as they are cut at first
}

func newSections(l cutlist.List) []sectionFacts {
	return each(l.BySection(), func(t cutlist.SectionTotal) sectionFacts {
		return sectionFacts{t.Section, t.Pieces, cutlist.Numbers(t.Numbers), t.Strips, num(t.Cut)}
	})
}

// wayFacts is how the stretches of alike sections run.
type wayFacts struct {
	Section   string
	Alike     bool // there are several of that name
	Stretches []strandJSON
}

// newWays are the stretches of sections, those of alike ones once, in the section's coordinates;
// or where pieces lie across the joints the strands of the top.
func newWays(l cutlist.List, m motif.Motif) (all []wayFacts) {
	if !l.Apart() {
		return []wayFacts{{Section: "the top", Stretches: newStrands(m)}}
	}
	for _, s := range l.Sections {
		if s.Nth > 1 {
			continue
		}
		w, met := wayFacts{Section: s.Name, Alike: s.Nth == 1}, map[int]bool{}
		for _, p := range l.Pieces {
			if p.Section != s.String() || met[p.Strand] {
				continue
			}
			met[p.Strand] = true
			own := within(m.Strands[p.Strand].Contour, s)
			start := own.Start()
			w.Stretches = append(w.Stretches, strandJSON{ID: p.Name, Start: toXY(start.Sub(geom.Pt(s.From, 0))), Heading: heads(own)})
		}
		if len(w.Stretches) > 0 {
			all = append(all, w)
		}
	}
	return all
}

// within is the first part of a line that lies in a section, or all of it where none does.
func within(c geom.Contour, s cutlist.Section) geom.Contour {
	box := c.Bounds().Expand(1)
	box.Min.X, box.Max.X = math.Max(box.Min.X, s.From), math.Min(box.Max.X, s.To)
	if parts := c.Within(box); len(parts) > 0 {
		return parts[0].Contour
	}
	return c
}

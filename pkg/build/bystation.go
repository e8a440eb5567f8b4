package build

import (
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/joint"
	"strapwork/pkg/motif"
	"strapwork/pkg/table"
)

// A CutOver is a cut over strips that are laid already, and the pieces that are cut again
// because of it: none where they end there and are only trimmed.
type CutOver struct {
	joint.CutOver
	Section string
	At      geom.Point // in the table's coordinates, all leaves in
	Pieces  []int      // by their numbers
}

// CutsOver are the cuts of a table that is inlaid station by station which pass over strips
// that are laid by then, in the order of work.
func (r Result) CutsOver() (all []CutOver) {
	if r.Table == nil || !r.Table.Table.ByStation || r.Apart == nil {
		return nil
	}
	passes, crossings := r.topPasses()
	for _, c := range joint.CutsOver(r.stations(), r.ways(), passes) {
		p := passes[c.Pass]
		one := CutOver{CutOver: c, Section: r.Table.KindOf(p.Section).Name, At: p.At}
		if c.Through {
			one.Pieces = r.piecesAt(p.Section, crossings[c.Pass], 1-c.Own)
		}
		all = append(all, one)
	}
	return all
}

func (r Result) stations() (all []joint.Station) {
	for _, s := range r.Table.Stations {
		all = append(all, joint.Station{Number: s.Number, At: s.At, Sections: s.Sections})
	}
	return all
}

// ways are the cuts of all set-ups.
func (r Result) ways() (all []joint.Way) {
	for _, u := range r.Set.Plan.SetUps {
		for _, t := range u.Made() {
			all = append(all, joint.Way{Name: t.Cut.Name, Number: t.Number, SetUp: u.Number, Line: t.Cut.Line})
		}
	}
	return all
}

// topPasses are the crossings of the whole top within its sections, and which of its weave's
// they are.
func (r Result) topPasses() (all []joint.Pass, of []int) {
	for n, s := range r.Table.Sections {
		for _, c := range s.Crossings {
			w := r.Table.Weave.Crossings[c.Top]
			p := joint.Pass{At: w.At, Section: n}
			for k, v := range w.Visits {
				_, p.Along[k] = r.Table.Top.Strands[v.Strand].Contour.At(v.S)
				if v.Over {
					p.Over = k
				}
			}
			all, of = append(all, p), append(of, c.Top)
		}
	}
	return all, of
}

// piecesAt are the pieces of one of a crossing's two strands that lie there, in a section.
func (r Result) piecesAt(section, crossing, visit int) (numbers []int) {
	v := r.Table.Weave.Crossings[crossing].Visits[visit]
	for k, place := range r.Apart.Of {
		if place.Section != section {
			continue
		}
		st := r.Table.Sections[section].Stretches[place.Stretch]
		if st.Strand != v.Strand {
			continue
		}
		at := placeOn(r.Table.Top.Strands[st.Strand], st, v.S) - (st.From - r.Apart.Runs[k][0])
		for _, p := range r.List.Pieces {
			if p.Strand == k && p.From < at && at < p.To {
				numbers = append(numbers, p.Number)
			}
		}
	}
	slices.Sort(numbers)
	return numbers
}

// placeOn is a distance along a strand as a stretch of it counts: on a closed one it may be a
// lap further.
func placeOn(s motif.Strand, st table.Stretch, at float64) float64 {
	if l := s.Length(); s.Contour.Closed && at < st.From {
		return at + l
	} else if s.Contour.Closed && at > st.To {
		return at - l
	}
	return at
}

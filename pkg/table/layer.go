package table

import (
	"math"
	"strconv"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

// Cut is a section's strands, laid somewhere with what they run on past its edges.
type Cut struct {
	Motif motif.Motif
	Weave weave.Weave
	Runs  [][2]float64 // how far each strand runs on past its start and its end; 0 at its own ends
	Of    []Place      // of each strand
	Index []int        // of each of the weave's crossings: its place in the section's own list; -1 for one beyond the edge
}

// A Place says which stretch of which section a strand is.
type Place struct{ Section, Stretch int }

// Section is a section of a kind in its own coordinates, its strands running on past its
// edges as the top has them; more is how much further than RunOn in mm.
func (t Table) Section(kind int, more float64) Cut {
	n := t.Kinds[kind].First
	return t.laid([]int{n}, []float64{-t.Sections[n].X}, more)
}

// Apart is the whole table, its sections laid from left to right with a space between them
// that what they run on does not bridge; lefts are where their left edges lie then.
func (t Table) Apart(more float64) (c Cut, lefts []float64) {
	space := 0.0
	var all []int
	for i, s := range t.Sections {
		for _, st := range s.Stretches {
			for e := range st.At {
				space = math.Max(space, t.runOn(i, st, e, more))
			}
		}
		all = append(all, i)
	}
	space = math.Ceil(2*(space+t.Groove)/10) * 10
	shifts := make([]float64, len(all))
	for i, s := range t.Sections {
		shifts[i] = space * float64(i)
		lefts = append(lefts, s.X+shifts[i])
	}
	return t.laid(all, shifts, more), lefts
}

// laid is sections of the top, each shifted along x.
func (t Table) laid(sections []int, shifts []float64, more float64) Cut {
	c := Cut{Motif: motif.Motif{Sources: t.Top.Sources}}
	l := layer{t: t, cut: &c}
	for i, n := range sections {
		l.add(n, geom.Shifting(geom.Pt(shifts[i], 0)), more)
	}
	c.Weave = weave.New(len(c.Motif.Strands), l.crossings, l.tees)
	c.Index = make([]int, len(c.Weave.Crossings))
	for i, w := range c.Weave.Crossings {
		c.Index[i] = l.index[w.At]
	}
	return c
}

// A layer lays sections of the top.
type layer struct {
	t         Table
	cut       *Cut
	crossings []weave.Crossing
	tees      []weave.Tee
	index     map[geom.Point]int
}

// A range is what a laid strand is of one of the top's.
type span struct {
	strand   int // of the top
	from, to float64
	laid     int
}

// add lays one section.
func (l *layer) add(section int, by geom.Similarity, more float64) {
	var spans []span
	for k, st := range l.t.Sections[section].Stretches {
		s := l.t.Top.Strands[st.Strand]
		n := len(l.cut.Motif.Strands)
		id := "s" + strconv.Itoa(n+1)
		if st.At == [2]int{-1, -1} && s.Contour.Closed {
			l.cut.Motif.Strands = append(l.cut.Motif.Strands, motif.NewStrand(id, by.Contour(s.Contour), s.Sources, s.Corner))
			l.cut.Runs = append(l.cut.Runs, [2]float64{})
			spans = append(spans, span{st.Strand, 0, s.Length(), n})
		} else {
			runs := [2]float64{l.t.runOn(section, st, 0, more), l.t.runOn(section, st, 1, more)}
			own := part(id, s, st.From-runs[0], st.To+runs[1])
			l.cut.Motif.Strands = append(l.cut.Motif.Strands, motif.NewStrand(id, by.Contour(own.Contour), own.Sources, own.Corner))
			l.cut.Runs = append(l.cut.Runs, runs)
			spans = append(spans, span{st.Strand, st.From - runs[0], st.To + runs[1], n})
		}
		l.cut.Of = append(l.cut.Of, Place{section, k})
	}
	l.meetings(section, spans, by)
}

// meetings are the top's crossings and tees on laid strands.
func (l *layer) meetings(section int, spans []span, by geom.Similarity) {
	if l.index == nil {
		l.index = map[geom.Point]int{}
	}
	own := map[int]int{}
	for i, c := range l.t.Sections[section].Crossings {
		own[c.Top] = i
	}
	for i, c := range l.t.Weave.Crossings {
		a, b := l.find(spans, c.Visits[0]), l.find(spans, c.Visits[1])
		if a == nil || b == nil {
			continue
		}
		c.At = by.Apply(c.At)
		c.Visits = [2]weave.Visit{*a, *b}
		l.crossings = append(l.crossings, c)
		if k, within := own[i]; within {
			l.index[c.At] = k
		} else {
			l.index[c.At] = -1
		}
	}
	for _, tee := range l.t.Weave.Tees {
		s := l.t.Top.Strands[tee.Strand]
		end := 0.0
		if tee.AtEnd {
			end = s.Length()
		}
		a := l.find(spans, weave.Visit{Strand: tee.Strand, S: end})
		h := l.find(spans, weave.Visit{Strand: tee.Host, S: tee.HostS})
		if a == nil || h == nil {
			continue
		}
		l.tees = append(l.tees, weave.Tee{Strand: a.Strand, AtEnd: tee.AtEnd, Host: h.Strand, HostS: h.S, At: by.Apply(tee.At)})
	}
}

// find is a visit of the top's on a laid strand; nil where none has it.
func (l *layer) find(spans []span, v weave.Visit) *weave.Visit {
	s := l.t.Top.Strands[v.Strand]
	for _, r := range spans {
		if r.strand != v.Strand {
			continue
		}
		at := v.S
		if s.Contour.Closed {
			at = r.from + math.Mod(math.Mod(v.S-r.from, s.Length())+s.Length(), s.Length())
		}
		if at < r.from-tiny || at > r.to+tiny {
			continue
		}
		laid := l.cut.Motif.Strands[r.laid]
		d := math.Min(at-r.from, laid.Length())
		return &weave.Visit{Strand: r.laid, S: d, Edge: laid.Edge(d), Over: v.Over}
	}
	return nil
}

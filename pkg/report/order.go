package report

// The order of work: every panel in every position, and the cuts that each
// makes there.

import (
	"math"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/template"
)

// A setUp is one panel in one position.
type setUp struct {
	number   int // from 1
	panel    template.Panel
	position template.Orientation
	place    int // which of the panel's positions, from 1
	cuts     []laidCut
	spare    []template.Track // tracks that are left alone
}

// A laidCut is one opening's work with the panel as it is laid.
type laidCut struct {
	name     string
	track    string   // the opening's name on the receiving card: "A1"
	along    []string // the elements that it follows, in order
	from, to geom.Point
	pilot    geom.Point // where the bit goes in, if it can't plunge
	length   float64
	cut      groove.Cut
	again    []template.Overlap // what earlier set-ups cut of it
}

// orderOfWork lists the set-ups: panel by panel, position by position.
func orderOfWork(r build.Result) []setUp {
	var list []setUp
	for _, u := range r.Set.Work() {
		s := setUp{number: u.Number, panel: u.Panel, position: u.Position, place: u.Place}
		for _, t := range u.Tracks {
			if t.Spare {
				s.spare = append(s.spare, t)
			} else {
				s.cuts = append(s.cuts, lay(r, t, u.Position))
			}
		}
		list = append(list, s)
	}
	return list
}

// lay tells how an opening's cut is made with its panel in a position: from
// where to where as the panel itself has it.
func lay(r build.Result, track template.Track, pos template.Orientation) laidCut {
	t, own := pos.Similarity(), track.Opening.Cut
	l := laidCut{
		name: track.Cut.Name, track: track.ID, along: elementsOf(r.Motif, track.Cut), cut: track.Cut, length: own.Length(),
		again: track.Elsewhere,
	}
	first, last := ends(own.Line)
	l.from, l.to = t.Apply(first), t.Apply(last)
	l.pilot = l.from
	if own.From.Kind == groove.StopFree {
		// A hole as wide as the groove would break out of a square end.
		in, _ := own.Line.At(r.Groove.Size.Offset())
		l.pilot = t.Apply(in)
	}
	return l
}

// ends are the first and last point of a line; the origin for an empty one.
func ends(c geom.Contour) (first, last geom.Point) {
	if len(c.Vertices) == 0 {
		return first, last
	}
	return c.Start(), c.End()
}

// elementsOf names the elements that a cut follows, in its own order. The
// stretch past the end of a closed strand is that strand's second lap.
func elementsOf(m motif.Motif, c groove.Cut) []string {
	s := m.Strands[c.Strand]
	var names []string
	for lap := 0.0; lap < c.To.S && s.Length() > 0; lap += s.Length() {
		for i, src := range s.Sources {
			from, to := s.Offsets()[i]+lap, s.Offsets()[i+1]+lap
			if math.Min(to, c.To.S)-math.Max(from, c.From.S) <= motif.Same {
				continue
			}
			if name := m.Sources[src].Name; len(names) == 0 || names[len(names)-1] != name {
				names = append(names, name)
			}
		}
	}
	return names
}

// A split is a place where a smooth stretch of groove is made in two goes.
type split struct {
	at     geom.Point
	strand int
	cuts   []string // the cuts that meet there
	hidden bool
	under  string // the element that hides it
}

// splits lists the splits of all cuts once each, by strand and distance.
func splits(r build.Result) []split {
	var list []split
	for _, c := range r.Cuts {
		for _, stop := range []groove.Stop{c.From, c.To} {
			if stop.Kind != groove.StopSplit {
				continue
			}
			i := slices.IndexFunc(list, func(s split) bool { return s.strand == c.Strand && s.at.Near(stop.At, motif.Same) })
			if i < 0 {
				i = len(list)
				list = append(list, split{at: stop.At, strand: c.Strand, hidden: stop.Hidden, under: hider(r, c.Strand, stop)})
			}
			if !slices.Contains(list[i].cuts, c.Name) {
				list[i].cuts = append(list[i].cuts, c.Name)
			}
		}
	}
	return list
}

// hider names the element that lies over a hidden stop; "" for a visible one.
func hider(r build.Result, strand int, stop groove.Stop) string {
	if !stop.Hidden {
		return ""
	}
	best, name := math.Inf(1), ""
	for _, x := range r.Weave.Crossings {
		if x.Lower().Strand != strand {
			continue
		}
		if d := x.At.Dist(stop.At); d < best {
			over, _ := passes(r.Motif, x)
			best, name = d, over
		}
	}
	return name
}

package report

// The order of work: every panel in every position, and the cuts that each
// makes there.

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/received"
	"strapwork/pkg/shop"
	"strapwork/pkg/template"
)

// A setUp is one panel in one position.
type setUp struct {
	number   int // from 1
	panel    template.Panel
	position template.Position
	place    int // which of the panel's positions, from 1
	cuts     []laidCut
}

// A laidCut is one opening's work with the panel as it is laid.
type laidCut struct {
	name     string
	track    string   // the opening's name on the receiving card: "A1"
	along    []string // the elements that it follows, in order
	from, to geom.Point
	pilot    geom.Point // where the bit goes in, if it can't plunge
	length   float64
	strand   int
	cut      groove.Cut // as it is in the result; the opening's own when it is none of those
}

// orderOfWork lists the set-ups: panel by panel, position by position.
func orderOfWork(r shop.Result) []setUp {
	var list []setUp
	for _, p := range r.Set.Panels {
		for i, pos := range p.Positions {
			s := setUp{number: len(list) + 1, panel: p, position: pos, place: i + 1}
			for k, o := range p.Openings {
				c := lay(r, o.Cut, pos)
				c.track = received.TrackID(p.ID, k)
				s.cuts = append(s.cuts, c)
			}
			list = append(list, s)
		}
	}
	return list
}

// lay tells what an opening cuts with its panel in a position.
func lay(r shop.Result, own groove.Cut, pos template.Position) laidCut {
	t := pos.Similarity()
	l := laidCut{
		name: own.Name, cut: own, strand: own.Strand, length: own.Length(),
	}
	first, last := ends(own.Line)
	l.from, l.to = t.Apply(first), t.Apply(last)
	l.pilot = l.from
	if own.From.Kind == groove.StopFree {
		// A hole as wide as the groove would break out of a square end.
		in, _ := own.Line.At(r.Groove.Size.Play())
		l.pilot = t.Apply(in)
	}
	mid, _ := own.Line.At(l.length / 2)
	mid = t.Apply(mid)
	for _, c := range r.Cuts {
		if sameStretch(c, l, mid) {
			l.name, l.cut, l.strand = c.Name, c, c.Strand
			break
		}
	}
	l.along = elementsOf(r.Motif, l.cut)
	return l
}

// sameStretch reports whether a cut lies where l does, run either way.
func sameStretch(c groove.Cut, l laidCut, mid geom.Point) bool {
	if c.Line.Len() == 0 || math.Abs(c.Length()-l.length) > motif.Same {
		return false
	}
	m, _ := c.Line.At(c.Length() / 2)
	if !m.Near(mid, motif.Same) {
		return false
	}
	a, b := ends(c.Line)
	return a.Near(l.from, motif.Same) && b.Near(l.to, motif.Same) ||
		a.Near(l.to, motif.Same) && b.Near(l.from, motif.Same)
}

// ends are the first and last point of a line; the origin for an empty one.
func ends(c geom.Contour) (first, last geom.Point) {
	if len(c.Vertices) == 0 {
		return first, last
	}
	return c.Start(), c.End()
}

// madeIn finds the set-up that makes a cut.
func madeIn(order []setUp, name string) (setUp, bool) {
	for _, s := range order {
		if slices.ContainsFunc(s.cuts, func(c laidCut) bool { return c.name == name }) {
			return s, true
		}
	}
	return setUp{}, false
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
func splits(r shop.Result) []split {
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
func hider(r shop.Result, strand int, stop groove.Stop) string {
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

package inlay

import (
	"cmp"
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
)

// A Top is a section of a table, where its strips are laid.
type Top struct {
	Name    string
	Outline geom.Contour
	Origin  geom.Point // of the section's own coordinates: its left edge and its front
}

// span is what lies between the top's two edges.
func (t Top) span() Span {
	b := t.Outline.Bounds()
	return Span{b.Min.X, b.Max.X}
}

// A Lying is how one of an inlay's tops lies among others.
type Lying struct {
	Top  int
	By   geom.Similarity // from where its strips were laid
	Name string          // what it is called there; empty: its own name
}

// Arranged is the inlay with its tops lying otherwise, for pictures: of the pieces it has what
// is drawn alone.
func (in Inlay) Arranged(list []Lying) Inlay {
	out := in
	out.tops, out.grooves, out.Strips, out.Laid = nil, nil, nil, nil
	strips := make([]Strip, len(in.Strips))
	for i, s := range in.Strips {
		strips[i] = s
		strips[i].Pieces = nil
	}
	for _, l := range list {
		top := in.tops[l.Top]
		lies := func(a region.Region) (region.Region, bool) {
			a = top.span().cut(a)
			return a.Transform(l.By), !a.Empty()
		}
		out.tops = append(out.tops, Top{cmp.Or(l.Name, top.Name), l.By.Contour(top.Outline), l.By.Apply(top.Origin)})
		for _, g := range in.grooves {
			if g, ok := lies(g); ok {
				out.grooves = append(out.grooves, g)
			}
		}
		for i, s := range in.Strips {
			for _, p := range s.Pieces {
				if area, ok := lies(p.Area); ok {
					strips[i].Pieces = append(strips[i].Pieces, Piece{Area: area})
				}
			}
		}
	}
	out.Strips = strips
	return out
}

// topAt is the top that a place is on or the nearest to; none without tops.
func topAt(tops []Top, p geom.Point) (top Top, ok bool) {
	least := math.Inf(1)
	for _, t := range tops {
		if d := math.Max(0, t.span().beyond(p)); d < least {
			top, least, ok = t, d, true
		}
	}
	return top, ok
}

// said is a place in a finding: in the motif's coordinates, or on a table in its section's.
func said(tops []Top, p geom.Point) unit.Text {
	if t, ok := topAt(tops, p); ok {
		return unit.Say("%s in %s", motif.Place(p.Sub(t.Origin)), t.Name)
	}
	return unit.Say("%s", motif.Place(p))
}

package bend

import (
	"cmp"
	"math"
	"slices"
)

// An Edge is a convex edge of a form, and what is bent round it.
type Edge struct {
	Radius float64 // of the edge: the strip's inner face
	Sweep  float64 // that the longest bend takes up, as it is bent
	Uses   []Use
	widest float64 // the greatest radius that it serves
}

// A Use is a bend that an edge serves.
type Use struct {
	Bend int
	// Yield is which yield stress of a metal it is for: 0 low, 1 usual, 2 high; -1 of a
	// wood.
	Yield int
}

// Parts by which radii may differ that are formed round one edge, the tightest of them
// (common practice). Woods open by trial, and the strips of a lay-up are bent round one
// form; metals have a ladder of radii to choose from, with wider steps, and a bend that is
// a little too tight is opened by hand.
//
// Forms are made to tenths of a millimetre, which is far more than is known of any bend.
const (
	perTenth    = 10
	shared      = 0.08
	sharedMetal = 0.03
)

// Edges are the edges that the bends are formed round, those of most pieces first. Bends
// of nearly one radius share one.
func Edges(stuff []Stuff, list []Bend) []Edge {
	var edges []Edge
	for i, b := range list {
		if !b.Verdict.Way.Formed() {
			continue
		}
		half := stuff[b.Stuff].Thickness() / 2
		if b.Rounds[0] == 0 {
			edges = share(edges, Edge{Radius: b.Radius - half, Sweep: b.Length / b.Radius, Uses: []Use{{i, -1}}})
			continue
		}
		for y, r := range b.Rounds {
			edges = share(edges, Edge{Radius: r - half, Sweep: b.Length / r, Uses: []Use{{i, y}}})
		}
	}
	pieces := func(e Edge) int {
		n := 0
		for _, u := range e.Uses {
			n += len(list[u.Bend].Pieces)
		}
		return n
	}
	slices.SortStableFunc(edges, func(a, b Edge) int { return cmp.Compare(pieces(b), pieces(a)) })
	for i := range edges {
		edges[i].Radius = math.Round(edges[i].Radius*perTenth) / perTenth
	}
	return edges
}

// share adds an edge, or its use to one of nearly its radius. The three of one bend are
// never one: they are there to be tried against one another.
func share(edges []Edge, e Edge) []Edge {
	e.widest = e.Radius
	use := e.Uses[0]
	for i, o := range edges {
		within := sharedMetal
		if use.Yield < 0 && !slices.ContainsFunc(o.Uses, func(u Use) bool { return u.Yield >= 0 }) {
			within = shared
		}
		least, widest := min(o.Radius, e.Radius), max(o.widest, e.Radius)
		if widest <= least*(1+within) && !slices.ContainsFunc(o.Uses, func(u Use) bool { return u.Bend == use.Bend }) {
			edges[i] = Edge{least, max(o.Sweep, e.Sweep), append(o.Uses, use), widest}
			return edges
		}
	}
	return append(edges, e)
}

// A Trim is a bent end that is trimmed in a holder, on whose edge it lies with its inner
// or its outer face, whichever leaves the holder a blunt tip. Ends that are mirror images
// are one: a holder can be turned over.
type Trim struct {
	Radius float64 // of the holder's edge: the strip's face as it is to be
	Hollow bool    // the edge is hollow, and the strip's outer face lies on it
	Tip    float64 // of the holder, between its edge and its end, which guides the cut; radians
	Pieces []int

	least, most float64 // of the tips that it serves
}

const (
	// sameTip in radians is a degree, within which ends are trimmed to its middle: across
	// a strip of 2 mm that is out by 0.02 mm.
	sameTip = math.Pi / 180
	// blunt in radians is 75 degrees: sheet with a sharper tip breaks.
	blunt = 75 * math.Pi / 180
)

// trimOf is how an end of a bend is trimmed.
func trimOf(e End, radius, thickness float64) Trim {
	tip := e.Cut // on the inner side, which is the left where it turns left
	if e.Right {
		tip = math.Pi - e.Cut
	}
	if tip < blunt {
		return Trim{Radius: radius + thickness/2, Hollow: true, Tip: math.Pi - tip}
	}
	return Trim{Radius: radius - thickness/2, Tip: tip}
}

// Trims are the ends that are trimmed after bending, those of most pieces first: a strip
// that goes straight again by itself is cut straight.
func Trims(stuff []Stuff, list []Bend, pieces []Piece) []Trim {
	var trims []Trim
	for _, p := range pieces {
		for _, e := range p.Ends {
			i := Of(list, p.Stuff, e.Radius)
			if e.Radius == 0 || i < 0 || !list[i].Verdict.Way.Formed() {
				continue
			}
			t := trimOf(e, list[i].Radius, stuff[p.Stuff].Thickness())
			t.least, t.most = t.Tip, t.Tip
			k := slices.IndexFunc(trims, func(o Trim) bool {
				return o.Hollow == t.Hollow && math.Abs(o.Radius-t.Radius) <= shared*min(o.Radius, t.Radius) && max(o.most, t.Tip)-min(o.least, t.Tip) <= sameTip
			})
			if k < 0 {
				k = len(trims)
				trims = append(trims, t)
			}
			o := &trims[k]
			o.least, o.most = min(o.least, t.Tip), max(o.most, t.Tip)
			o.Tip = (o.least + o.most) / 2
			if !slices.Contains(o.Pieces, p.Number) {
				o.Pieces = append(o.Pieces, p.Number)
			}
		}
	}
	slices.SortStableFunc(trims, func(a, b Trim) int { return cmp.Compare(len(b.Pieces), len(a.Pieces)) })
	return trims
}

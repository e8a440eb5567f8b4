package joint

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// An over is a stretch of a joint, along y, that a groove lies over within some reach of it.
type over struct {
	from, to float64
	at       float64 // where along it the groove is
	strand   string
	edge     string
}

// meets reports whether it lies over something so wide about y.
func (o over) meets(y, width float64) bool { return y+width/2 > o.from && y-width/2 < o.to }

// overJoint are the stretches that grooves lie over within so far of the joint, on either
// side of it and of all edges, since every joint has the same pins.
func (p Params) overJoint(reach float64) (all []over) {
	for _, e := range p.Edges {
		// A little beyond the edge, so that it cuts no groove that ends there along its end.
		const beyond = 1
		box := geom.Box{Min: geom.Pt(-beyond, 0), Max: geom.Pt(reach, p.Table.Width)}
		if e.Side == work.Right {
			box = geom.Box{Min: geom.Pt(e.Length-reach, 0), Max: geom.Pt(e.Length+beyond, p.Table.Width)}
		}
		near := region.New(geom.Rect(box))
		for i, s := range e.Strands {
			if !s.Bounds().Expand(p.Width / 2).Meets(box) {
				continue
			}
			for _, piece := range region.Intersect(region.Stroke(s, p.Width/2), near).Pieces() {
				b := piece.Bounds()
				all = append(all, over{b.Min.Y, b.Max.Y, b.Center().Y, e.Names[i], e.Name})
			}
		}
	}
	return all
}

// clear is the place nearest to y, along the joint, where something so wide lies under no
// groove and within the table; with turned leaves its mirror image doesn't either.
func (p Params) clear(all []over, y, width float64) (best float64, ok bool) {
	w := p.Table.Width
	free := func(at float64) bool {
		if at < width || at > w-width || p.Table.TurnLeaves && math.Abs(at-w/2) < width {
			return false
		}
		return !slices.ContainsFunc(all, func(o over) bool {
			return o.meets(at, width) || p.Table.TurnLeaves && o.meets(w-at, width)
		})
	}
	const step, most = 1.0, 2000 // mm, as it is marked out; more than any table is wide
	start := float64(int(y))
	for k := range most {
		for _, at := range []float64{start - float64(k)*step, start + float64(k)*step} {
			if free(at) {
				return at, true
			}
		}
	}
	return 0, false
}

// bridgeOver says how thick the wood is that a groove leaves over something whose upper side
// is so far under the top.
func (p Params) bridgeOver(upper float64) unit.Text {
	if left := upper - p.Depth; left > 0 {
		return unit.Say("leaves %s of wood over it", unit.Len(left))
	}
	return unit.Say("cuts %s into it", unit.Len(p.Depth-upper))
}

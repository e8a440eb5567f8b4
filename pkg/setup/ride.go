package setup

// How the rider's centre goes in each set-up: what a dry run by hand shows.

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
	"strapwork/pkg/template"
)

// A Ride is what the router does in one set-up.
type Ride struct {
	plan.SetUp
	Outline geom.Contour // of the panel as laid, counter-clockwise
	Ways    []Way        // in and round the set-up's tracks, in their order
}

// A Way is how the router goes in one track.
type Way struct {
	Opening geom.Contour // as laid, counter-clockwise
	// Path is the closed way of the rider's centre, and so of the bit's: out
	// along one wall and back along the other, clockwise, with the wall on the
	// left of travel. It begins where the cut does. Where the bit fills the
	// groove it is the centre line, out and back. A track that is left alone has
	// none.
	Path geom.Contour
}

// Rides returns the rides of all set-ups, in the order of work; contours are taken
// from the work's coordinates to another's by a similarity. The paths are those that
// the openings really allow, the openings shrunk by the rider.
func Rides(g groove.Groove, s template.Set, to geom.Similarity) []Ride {
	list := make([]Ride, len(s.Plan.SetUps))
	for i, u := range s.Plan.SetUps {
		panel, laid := s.Panels[u.Panel], u.Position.Similarity().Then(to)
		list[i] = Ride{SetUp: u, Outline: upright(laid, panel.Outline)}
		for k, t := range u.Tracks {
			o := panel.Openings[k]
			w := Way{Opening: upright(laid, o.Area.Loops()[0])}
			if !t.Spare {
				w.Path = path(g.Size, o, laid)
			}
			list[i].Ways = append(list[i].Ways, w)
		}
	}
	return list
}

// upright is a closed contour as laid, counter-clockwise again if the panel is
// turned over.
func upright(laid geom.Similarity, c geom.Contour) geom.Contour {
	if laid.Mirrors() {
		return laid.Contour(c).Reverse()
	}
	return laid.Contour(c)
}

func path(size groove.Size, o template.Opening, laid geom.Similarity) geom.Contour {
	line := laid.Contour(o.Cut.Line)
	free := o.Area.Shrink(size.RiderRadius).Transform(laid).Pieces()
	if size.Thin() || len(free) == 0 {
		there := line.Edges()
		return geom.Chain(true, append(there, line.Reverse().Edges()...)...)
	}
	round := free[0].Loops()[0].Reverse()
	nearest := 0
	for i, v := range round.Vertices {
		if v.Point.Dist(line.Start()) < round.Vertices[nearest].Point.Dist(line.Start()) {
			nearest = i
		}
	}
	return round.Rotate(nearest)
}

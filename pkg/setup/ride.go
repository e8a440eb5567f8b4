package setup

// How the rider's centre goes in each set-up: what a dry run by hand shows.

import (
	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/template"
)

// A Ride is what the router does in one set-up. Contours are as the panel is
// laid, in the work's coordinates.
type Ride struct {
	Number   int // from 1, in the order of work
	Panel    string
	Position template.Orientation
	Outline  geom.Contour // of the panel, counter-clockwise
	Tracks   []Track      // in the order of the panel's openings
}

// A Track is one opening and the way round it.
type Track struct {
	Name    string       // of the cut
	Opening geom.Contour // counter-clockwise
	// Path is the closed way of the rider's centre, and so of the bit's: out
	// along one wall and back along the other, clockwise, with the wall on the
	// left of travel. It begins where the cut does. Where the bit fills the
	// groove it is the centre line, out and back.
	Path  geom.Contour
	Spare bool // left alone, since other set-ups cut what it would; it has no path
}

// Rides returns the rides of all set-ups, in the order of Pictures. The paths
// are those that the openings really allow, the openings shrunk by the rider.
func Rides(g groove.Groove, s template.Set) []Ride {
	var list []Ride
	for _, u := range s.Work() {
		laid := u.Position.Similarity()
		r := Ride{Number: u.Number, Panel: u.Panel.ID, Position: u.Position, Outline: upright(laid, u.Panel.Outline)}
		for _, o := range u.Tracks {
			t := Track{Name: o.Cut.Name, Opening: upright(laid, o.Opening.Area.Loops()[0]), Spare: o.Spare}
			if !o.Spare {
				t.Path = path(g.Size, o.Opening, laid)
			}
			r.Tracks = append(r.Tracks, t)
		}
		list = append(list, r)
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

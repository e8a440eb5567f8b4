package motif

import (
	"math"

	"strapwork/pkg/geom"
)

// ownTail is the distance in mm along a strand from its free end within which
// the strand is near its own end without meeting itself.
const ownTail = 2 * NearJoint

// A tee is a free end of a shape that lies on the middle of a strand: on the
// piece host.
type tee struct {
	shape, side, host int
}

// findTees lists the free ends that lie within Joint of the middle of a
// strand, each once for all copies.
func (d *drawing) findTees() []tee {
	var all []tee
	var ground ground
	for i := range d.shapes {
		for side := range 2 {
			if d.shapes[i].contour.Closed {
				continue
			}
			end := d.pieceEnd(i, 0, side)
			if d.mates[end] != free || d.crowded[end] {
				continue
			}
			if ground.edges == nil {
				ground = d.ground()
			}
			at := d.node(d.shapes[i].end(side))
			if host, ok := ground.nearest(at, d.tail(end)); ok {
				all = append(all, tee{i, side, host})
			}
		}
	}
	return all
}

// ground is all edges of all pieces, to be searched.
type ground struct {
	edges  []geom.Edge
	piece  []int     // of each edge
	from   []float64 // and how far along its piece it begins
	middle []stump   // of each piece, what is not near a free end
	index  geom.Index
}

func (d *drawing) ground() ground {
	var g ground
	var boxes []geom.Box
	for i, p := range d.pieces {
		g.middle = append(g.middle, d.middle(i))
		along := 0.0
		for _, e := range p.contour.Edges() {
			g.edges, g.piece, g.from = append(g.edges, e), append(g.piece, i), append(g.from, along)
			boxes = append(boxes, e.Bounds())
			along += e.Length()
		}
	}
	g.index = geom.NewIndex(boxes)
	return g
}

// nearest is the piece nearest to a point, if one is within Joint of it that
// is not part of the tail.
func (g ground) nearest(at geom.Point, tail map[int]stump) (piece int, ok bool) {
	least := Joint
	piece = none
	g.index.Search(geom.Box{Min: at, Max: at}.Expand(Joint), func(i int) bool {
		q, t := g.edges[i].Nearest(at)
		gap, host := q.Dist(at), g.piece[i]
		along := g.from[i] + t*g.edges[i].Length()
		if s, own := tail[host]; own && s.holds(along) || !g.middle[host].holds(along) {
			return true
		}
		if gap < least || gap == least && (host < piece || piece == none) {
			least, piece = gap, host
		}
		return true
	})
	return piece, piece != none
}

// A stump is what belongs to a strand's tail of one piece: from, in mm along
// the piece, to its end or its start.
type stump struct {
	from, to float64
}

func (s stump) holds(along float64) bool { return along >= s.from && along <= s.to }

// middle is the stretch of a piece that other strands may end on. Within
// NearJoint of a free end they miss that end, and are no tee.
func (d *drawing) middle(piece int) stump {
	c := d.pieces[piece].contour
	s := stump{math.Inf(-1), math.Inf(1)}
	if !c.Closed && d.mates[2*piece] == free {
		s.from = NearJoint
	}
	if !c.Closed && d.mates[2*piece+1] == free {
		s.to = c.Length() - NearJoint
	}
	return s
}

// tail is the pieces within ownTail of a free end along its strand.
func (d *drawing) tail(end int) map[int]stump {
	tail := map[int]stump{}
	for left := ownTail; left > 0 && end != free; end = d.mates[end^1] {
		l := d.pieces[end/2].contour.Length()
		if _, again := tail[end/2]; again {
			break
		}
		s := stump{0, left}
		if end%2 == 1 {
			s = stump{l - left, math.Inf(1)}
		}
		tail[end/2] = s
		left -= l
	}
	return tail
}

// pin moves the tees' ends onto their hosts, as these are now drawn, and holds
// them there. It returns the greatest move in mm. Near a corner of the host an
// end goes to the corner, where it is no tee.
func (d *drawing) pin(tees []tee) float64 {
	most := 0.0
	for _, t := range tees {
		x := d.shapes[t.shape].end(t.side)
		c := &d.places.all[d.places.class[x]]
		at, to := d.place(x), d.foot(t)
		if gap := at.Dist(to); gap > asDrawn || c.pinned {
			most = max(most, gap)
			c.at = d.group.mean(c.keeps, d.group.back(d.places.lies[x], to))
		}
		c.pinned = true
	}
	return most
}

// foot is where a tee's end belongs.
func (d *drawing) foot(t tee) geom.Point {
	at := d.place(d.shapes[t.shape].end(t.side))
	host := d.pieces[t.host]
	edges := host.contour.Edges()
	best, least := at, math.Inf(1)
	for i, e := range edges {
		q, _ := e.Nearest(at)
		// To a corner within reach, whatever else is nearer.
		if next := i + 1; next < len(edges) || host.contour.Closed {
			if f := edges[next%len(edges)]; f.A.Near(at, Joint) && turn(e, f) > Smooth {
				return f.A
			}
		}
		if gap := q.Dist(at); gap < least {
			best, least = q, gap
		}
	}
	return best
}

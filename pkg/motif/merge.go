package motif

import (
	"slices"
	"strconv"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A piece is one copy of a shape, before it is joined to others.
type piece struct {
	shape   int
	move    int // the member of the group that makes it
	contour geom.Contour
	source  Source
}

// A drawing is a motif in the making.
type drawing struct {
	group   group
	shapes  []shape
	pieces  []piece
	mates   []int     // of each end of a piece, the end that it is joined to, or free
	crowded []bool    // of each end: it is in an error's company, and stays where it is
	crossed []meeting // of ends that aren't joined, where two joints are one place
	places  places
	tees    []tee
	found   *diag.Findings
}

// newDrawing reads the elements, and copies them: copies that fall on one
// another are one piece.
func newDrawing(m work.Drawing, found *diag.Findings) drawing {
	d := drawing{group: newGroup(m), found: found}
	for i, e := range m.Elements {
		found := found
		if e.Nth > 0 {
			found = &diag.Findings{} // said of the first that a group makes
		}
		c, ok := fitted(e, welded(e.Contour), d.group.size()*max(1, e.Of), found)
		if !ok {
			continue
		}
		if c.Len() == 0 || c.Length() < Joint {
			found.Errorf(e.Key, "element-short", "%s is shorter than %s", e.Name, unit.Len(Joint)).
				Hintf("leave it out, or check its end points and their units")
			continue
		}
		s := newShape(i-e.Nth, e, c)
		d.stabilize(&s)
		d.shapes = append(d.shapes, s)
	}
	d.dropDoubles()
	for i := range d.shapes {
		d.copyShape(i)
	}
	return d
}

// welded returns c without the edges that are too short to have a direction.
func welded(c geom.Contour) geom.Contour {
	var vs []geom.Vertex
	for i, v := range c.Vertices {
		if i < c.Len() && c.Edge(i).Length() < Same {
			continue // the next vertex takes its place
		}
		vs = append(vs, v)
	}
	return geom.Contour{Vertices: vs, Closed: c.Closed}
}

// stabilize finds the members of the group that move a shape onto itself. An
// open one whose ends meet is closed for it, since a copy of it that has its
// ends elsewhere is the same curve.
func (d *drawing) stabilize(s *shape) {
	c := newCurve(s.contour)
	of := []int{0}
	for a := 1; a < d.group.size(); a++ {
		if same(c, newCurve(d.group.moves[a].Contour(s.contour))) {
			of = append(of, a)
		}
	}
	if len(of) > 1 && !s.contour.Closed && s.contour.Start().Near(s.contour.End(), Joint) {
		*s = newShape(s.element, s.from, closedUp(s.contour))
	}
	s.keeps = d.group.closure(of)
	for _, a := range s.keeps {
		at := d.group.moves[a].Apply(s.contour.Start())
		s.turns = append(s.turns, !s.contour.Closed && at.Dist(s.contour.End()) < at.Dist(s.contour.Start()))
	}
}

// closedUp is the closed contour of an open one whose ends meet.
func closedUp(c geom.Contour) geom.Contour {
	vs := slices.Clone(c.Vertices[:len(c.Vertices)-1])
	vs[0].Point = c.Start().Lerp(c.End(), 0.5)
	return geom.Contour{Vertices: vs, Closed: true}
}

// copyShape makes the pieces of a shape: one for all members of the group that
// move it to the same place.
func (d *drawing) copyShape(i int) {
	s := &d.shapes[i]
	s.pieces = slices.Repeat([]int{none}, d.group.size())
	s.back = make([]bool, d.group.size())
	for a := range d.group.size() {
		if s.pieces[a] != none {
			continue
		}
		for k, keep := range s.keeps {
			b := d.group.times(a, keep)
			s.pieces[b], s.back[b] = len(d.pieces), s.turns[k]
		}
		number := a*max(1, s.from.Of) + s.from.Nth + 1
		d.pieces = append(d.pieces, piece{i, a, d.group.moves[a].Contour(s.contour), Source{
			Name: s.from.Name + "." + strconv.Itoa(number), Element: s.element, Copy: number,
			Mirrored: d.group.mirrored(a) != s.from.Mirrored, Open: s.from.Open, Kind: s.from.Kind, Key: s.from.Key, Line: s.from.Line,
		}})
	}
}

// none stands for no piece.
const none = -1

// pieceEnd is the number of an end of the piece onto which the member a of the
// group moves a shape. The ends of all open pieces are numbered: 2i is the
// start of piece i and 2i+1 its end, so that e^1 is the other end of the piece
// that e belongs to.
func (d *drawing) pieceEnd(shape, a, side int) int {
	s := &d.shapes[shape]
	if s.back[a] {
		side = 1 - side
	}
	return 2*s.pieces[a] + side
}

// dropDoubles leaves out the shapes that lie on a copy of an earlier one.
func (d *drawing) dropDoubles() {
	// What is the same has the same box, so only what has a corner of its box
	// in common is compared.
	type copied struct {
		shape int
		curve curve
	}
	var all []copied
	var corners []geom.Box
	for i, s := range d.shapes {
		for a := range d.group.size() {
			if a > 0 && len(s.keeps) == d.group.size() {
				break
			}
			c := newCurve(d.group.moves[a].Contour(s.contour))
			all = append(all, copied{i, c})
			corners = append(corners, geom.Box{Min: c.box.Min, Max: c.box.Min})
		}
	}
	index := geom.NewIndex(corners)
	double := make([]bool, len(d.shapes))
	for i, s := range d.shapes {
		own := newCurve(s.contour)
		index.Search(geom.Box{Min: own.box.Min, Max: own.box.Min}.Expand(2*Joint), func(k int) bool {
			double[i] = all[k].shape < i && !double[all[k].shape] && same(all[k].curve, own)
			if of := d.shapes[all[k].shape]; double[i] && of.element != s.element && s.from.Nth == 0 {
				d.found.Notef(s.from.Key, "drawn-twice", "%s lies on %s all along, within %s: the two are one", s.from.Name, of.from.Name, unit.Len(Joint))
			}
			return !double[i]
		})
	}
	var kept []shape
	for i, s := range d.shapes {
		if !double[i] {
			kept = append(kept, s)
		}
	}
	d.shapes = kept
}

// A curve is a contour that others are held against.
type curve struct {
	edges []geom.Edge
	boxes []geom.Box
	box   geom.Box
}

func newCurve(c geom.Contour) curve {
	cv := curve{edges: c.Edges(), box: geom.EmptyBox()}
	for _, e := range cv.edges {
		b := e.Bounds()
		cv.boxes = append(cv.boxes, b)
		cv.box = cv.box.Join(b)
	}
	return cv
}

// same reports whether a and b are one curve, wherever they start and
// whichever way they run.
func same(a, b curve) bool {
	return a.box.Min.Near(b.box.Min, 2*Joint) && a.box.Max.Near(b.box.Max, 2*Joint) &&
		liesOn(a, b, Joint) && liesOn(b, a, Joint)
}

// liesOn reports whether a runs on b to within tol. Five points of each edge
// are tried: two lines or circles that are not the same have at most two in
// common.
func liesOn(a, b curve, tol float64) bool {
	index := geom.NewIndex(b.boxes)
	near := func(p geom.Point) bool {
		hit := false
		index.Search(geom.Box{Min: p, Max: p}.Expand(tol), func(i int) bool {
			hit = b.edges[i].Dist(p) <= tol
			return !hit
		})
		return hit
	}
	for _, e := range a.edges {
		for _, t := range [5]float64{0, 0.25, 0.5, 0.75, 1} {
			if !near(e.At(t)) {
				return false
			}
		}
	}
	return true
}

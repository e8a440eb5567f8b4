package fromdxf

import (
	"math"
	"slices"
	"sort"

	"strapwork/pkg/drawing"
	"strapwork/pkg/dxf/tags"
	"strapwork/pkg/geom"
)

// maxDegree is the highest degree of a spline that is read: drawing programs write 3,
// seldom 2 or 5.
const maxDegree = 5

// splineClosed is a flag of SPLINE, group 70.
const splineClosed = 1

// asPolyline is what to do about a curve that can't be read.
const asPolyline = "in the program that drew it, turn it into a polyline of lines and arcs"

// spline reads SPLINE: 71 the degree, 40 the knots, 41 the weights, 10, 20, 30 the control
// points, 11 the points that it was fitted to, in the drawing's own axes. Whether it is
// closed is seen by its ends; group 70 says so too.
func (r *record) spline() shape {
	n, h, fitted := r.controls()
	degree := n.Degree
	settle(n.Knots)
	switch {
	case r.err != nil:
		return shape{}
	case len(n.Points) == 0 && fitted:
		r.fail(faultf(r.line, "save it with its control points, or turn it into a polyline",
			"SPLINE is given by the points that it was fitted to alone, which don't say how it runs between them"))
	case degree < 1 || degree > maxDegree:
		r.fail(faultf(r.line, asPolyline, "SPLINE has the degree %d: 1 to %d are read", degree, maxDegree))
	case len(n.Points) <= degree:
		r.fail(faultf(r.line, asPolyline, "SPLINE of degree %d has %d control points: it needs %d or more", degree, len(n.Points), degree+1))
	case len(n.Knots) != len(n.Points)+degree+1:
		r.fail(faultf(r.line, asPolyline, "SPLINE has %d knots: %d control points and the degree %d need %d",
			len(n.Knots), len(n.Points), degree, len(n.Points)+degree+1))
	case !slices.IsSorted(n.Knots) || n.Knots[degree] == n.Knots[len(n.Points)]:
		r.fail(faultf(r.line, asPolyline, "SPLINE has knots that don't rise"))
	case len(n.Weights) != 0 && (len(n.Weights) != len(n.Points) || slices.Min(n.Weights) <= 0):
		r.fail(faultf(r.line, asPolyline, "SPLINE needs a weight above 0 for each control point"))
	case !h.flat():
		return out(outOfPlane)
	}
	if r.err != nil {
		return shape{}
	}
	return r.joined(n, h.box.Size().Norm())
}

// controls gathers what the spline is made of, the heights of its control points, and
// whether it has points that it was fitted to.
func (r *record) controls() (n drawing.NURBS, h heights, fitted bool) {
	h, n.Degree = newHeights(), r.whole(71, 3)
	ys := 0 // how many points have theirs
	for _, t := range r.tags {
		last := len(n.Points) - 1
		switch t.Code {
		case 10:
			n.Points = append(n.Points, geom.Pt(r.value(t), 0))
		case 20:
			if ys++; last >= 0 {
				n.Points[last].Y = r.value(t)
			}
		case 30:
			if last >= 0 {
				h.add(n.Points[last], r.value(t))
			}
		case 40:
			n.Knots = append(n.Knots, r.value(t))
		case 41:
			n.Weights = append(n.Weights, r.value(t))
		case 11:
			fitted = true
		}
	}
	if ys != len(n.Points) {
		r.fail(tags.Errorf(r.line, "SPLINE has %d x and %d y of control points", len(n.Points), ys))
	}
	for _, p := range n.Points {
		h.box = h.box.Include(p)
	}
	return n, h, fitted
}

// settle makes one of knots that are one but for their last digits.
func settle(knots []float64) {
	for i := 1; i < len(knots); i++ {
		if math.Abs(knots[i]-knots[i-1]) <= tiny*(knots[len(knots)-1]-knots[0]) {
			knots[i] = knots[i-1]
		}
	}
}

// joined is the spline as a chain of pieces that are smooth within: it is cut where a knot
// is as often there as the degree, since the curve may have a corner.
func (r *record) joined(n drawing.NURBS, size float64) shape {
	var s shape
	for _, piece := range cutUp(n) {
		if allOne(piece.Points) {
			continue
		}
		seg := simplest(piece)
		if k := len(s.segments); k > 0 && !together(drawing.End(s.segments[k-1]), drawing.Start(seg), size) {
			r.fail(faultf(r.line, asPolyline, "SPLINE comes apart at a knot"))
			return shape{}
		}
		s.segments = append(s.segments, seg)
	}
	if len(s.segments) == 0 {
		return out(noLength)
	}
	a, b := drawing.Start(s.segments[0]), drawing.End(s.segments[len(s.segments)-1])
	s.closed = together(a, b, size)
	if r.whole(70, 0)&splineClosed != 0 && !a.Near(b, level*size) {
		s.doubt = "SPLINE is called closed, but its ends lie apart: it is read as open"
	}
	return s
}

func allOne(points []geom.Point) bool {
	return !slices.ContainsFunc(points, func(p geom.Point) bool { return p != points[0] })
}

// cutUp cuts a spline at the knots within it that are as often there as its degree: there
// it goes through a control point.
func cutUp(n drawing.NURBS) []drawing.NURBS {
	p, knots := n.Degree, n.Knots
	end := knots[len(n.Points)]
	var pieces []drawing.NURBS
	from := lastOf(knots, knots[p]) // the last knot where the piece begins
	for at := from + 1; ; {
		u := knots[at]
		next := lastOf(knots, u) + 1
		if u >= end || next-at >= p {
			pieces = append(pieces, part(n, from-p, at))
			from = next - 1
		}
		if u >= end {
			return pieces
		}
		at = next
	}
}

// lastOf is the place of the last of the knots that are u.
func lastOf(knots []float64, u float64) int {
	return sort.Search(len(knots), func(i int) bool { return knots[i] > u }) - 1
}

// part is the spline with the control points from first up to, without, last: a cut at
// each end leaves their knots as they are. Where one of these lies beyond the cut, and so
// bears on nothing, it is moved there.
func part(n drawing.NURBS, first, last int) drawing.NURBS {
	p := n.Degree
	q := drawing.NURBS{Degree: p, Points: n.Points[first:last:last], Knots: slices.Clone(n.Knots[first : last+p+1])}
	if len(n.Weights) > 0 {
		q.Weights = n.Weights[first:last:last]
	}
	m := len(q.Knots)
	q.Knots[0], q.Knots[m-1] = q.Knots[1], q.Knots[m-2]
	if w := q.Weights; len(w) > 0 && slices.Min(w) == slices.Max(w) {
		q.Weights = nil
	}
	return q
}

// simplest is a piece as a line or a Bezier curve where it is one.
func simplest(n drawing.NURBS) drawing.Segment {
	p := n.Degree
	switch {
	case p == 1: // cut at every knot
		return drawing.Line{A: n.Points[0], B: n.Points[1]}
	case n.Weights == nil && p <= 3 && len(n.Points) == p+1 && n.Knots[1] == n.Knots[p] && n.Knots[p+1] == n.Knots[2*p]:
		return drawing.Bezier{Points: n.Points}
	}
	return n
}

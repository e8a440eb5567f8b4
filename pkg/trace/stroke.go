package trace

import (
	"math"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// A stroke is a curve of the drawing on the work.
type stroke struct {
	drawing.Curve
	order  int          // in which it is painted
	points []geom.Point // along it, their chords within fine() of it
	length float64
	box    geom.Box
	part   bool // it is drawn again on a longer one
}

// fineShare is how much finer than the tolerance curves are sampled: what is measured on
// the samples is wrong by no more.
const fineShare = 0.02

func (t *tracer) fine() float64 { return t.p.Tolerance * fineShare }

// draw lays the curves on the work, without what has no length, and takes out those that
// are drawn again on others.
func (t *tracer) draw(curves []drawing.Curve, place drawing.Affine) {
	for i, c := range curves {
		s := stroke{Curve: c.Moved(place), order: i}
		if t.sample(&s); s.length <= t.p.Tolerance {
			t.pass("dots", c.Pos)
			continue
		}
		t.strokes = append(t.strokes, s)
	}
	if len(t.strokes) == 0 {
		t.fault("file", ruleEmpty, "what is drawn is shorter than the tolerance")
		return
	}
	t.dropRepeats()
}

// sample drops segments without length, and puts points along the others.
func (t *tracer) sample(s *stroke) {
	var segs []drawing.Segment
	s.box = geom.EmptyBox()
	for _, seg := range s.Segments {
		points := drawing.Sample(seg, t.fine())
		length := lengthOf(points)
		if length < noLength {
			continue
		}
		if len(s.points) > 0 {
			points = points[1:]
		}
		segs, s.points, s.length = append(segs, seg), append(s.points, points...), s.length+length
	}
	s.Segments = segs
	for _, p := range s.points {
		s.box = s.box.Include(p)
	}
}

// noLength is a length in mm that is none, whatever is asked: a tenth of what is written.
const noLength = 1e-7

func lengthOf(points []geom.Point) float64 {
	var sum float64
	for i := 1; i < len(points); i++ {
		sum += points[i].Dist(points[i-1])
	}
	return sum
}

// between is into how many parts each chord is cut for along.
const between = 4

// along are points along a stroke, on its chords too.
func (s stroke) along() []geom.Point {
	out := []geom.Point{s.points[0]}
	for i := 1; i < len(s.points); i++ {
		for k := range between {
			out = append(out, s.points[i-1].Lerp(s.points[i], float64(k+1)/between))
		}
	}
	return out
}

// A polyline answers how far points are from it.
type polyline struct {
	edges []geom.Edge
	index geom.Index
	box   geom.Box
}

func newPolyline(lines ...[]geom.Point) *polyline {
	p := &polyline{box: geom.EmptyBox()}
	var boxes []geom.Box
	for _, points := range lines {
		for i := 1; i < len(points); i++ {
			e := geom.Line(points[i-1], points[i])
			p.edges, boxes = append(p.edges, e), append(boxes, e.Bounds())
			p.box = p.box.Join(e.Bounds())
		}
	}
	p.index = geom.NewIndex(boxes)
	return p
}

// covers reports whether all points lie within tol of the polyline.
func (p *polyline) covers(points []geom.Point, tol float64) bool {
	for _, q := range points {
		hit := false
		p.index.Search(geom.Box{Min: q, Max: q}.Expand(tol), func(i int) bool {
			hit = hit || p.edges[i].Dist(q) <= tol
			return !hit
		})
		if !hit {
			return false
		}
	}
	return true
}

// dist is how far a point is from the polyline.
func (p *polyline) dist(q geom.Point) float64 {
	return p.index.Nearest(q, func(i int) float64 { return p.edges[i].Dist(q) })
}

// sideways is the sine of the angle from which a line isn't one's own but another that
// crosses it.
const sideways = 0.25

// distAlong is how far a point is from what of the polyline runs about in a direction, or
// against it.
func (p *polyline) distAlong(q, way geom.Point) float64 {
	return p.index.Nearest(q, func(i int) float64 {
		e := p.edges[i]
		if math.Abs(e.Tangent(0).Cross(way)) > sideways {
			return math.Inf(1)
		}
		return e.Dist(q)
	})
}

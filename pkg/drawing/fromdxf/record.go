package fromdxf

import (
	"math"
	"strings"

	"strapwork/pkg/drawing"
	"strapwork/pkg/dxf/tags"
	"strapwork/pkg/geom"
)

// maxTags is how many groups one entity may have: a spline as long as a drawing may be
// has some 250 000.
const maxTags = 16 * drawing.MaxCurves

// A record is one entity, or one entry of a table: a word in group 0, and the groups up to
// the next. Its values are asked for one by one; the first that is wrong or missing is
// kept in err.
type record struct {
	kind     string
	line     int // of the word
	tags     []tags.Tag
	vertices []vertex // of a POLYLINE
	err      error
}

// record reads the groups of a record whose word has been read; keep chooses among them.
// Left out are the groups of other programs (102 "{...", up to 102 "}"; from 1000 on to
// the end) and an object at its end (101).
func (p *parser) record(word tags.Tag, keep func(code int) bool) (*record, error) {
	r := &record{kind: word.Value, line: word.Line}
	foreign, over := false, false
	for {
		t, err := p.tags.Next()
		switch {
		case err != nil:
			return r, err
		case t.Code == 0:
			p.tags.Unread(t)
			return r, nil
		case t.Code == 101 || t.Code >= 1000:
			over = true
		case t.Code == 102:
			foreign = strings.HasPrefix(t.Value, "{")
		case foreign || over || !keep(t.Code):
		case len(r.tags) == maxTags:
			return r, tooMuch(t.Line, "%.40s has more than %d groups", r.kind, maxTags)
		default:
			r.tags = append(r.tags, t)
		}
	}
}

func keepAll(int) bool { return true }

// find is the last group of a code.
func (r *record) find(code int) (tags.Tag, bool) {
	for i := len(r.tags) - 1; i >= 0; i-- {
		if r.tags[i].Code == code {
			return r.tags[i], true
		}
	}
	return tags.Tag{}, false
}

// fail keeps the first error.
func (r *record) fail(err error) {
	if r.err == nil {
		r.err = err
	}
}

// text is a group's value, or what it is where it is left out.
func (r *record) text(code int, without string) string {
	if t, ok := r.find(code); ok {
		return strings.TrimSpace(t.Value)
	}
	return without
}

// whole is a group's value as a whole number, or what it is where it is left out.
func (r *record) whole(code, without int) int {
	t, ok := r.find(code)
	if !ok {
		return without
	}
	v, err := t.Integer()
	if err != nil {
		r.fail(err)
	}
	return v
}

// number is a group's value, or what it is where it is left out.
func (r *record) number(code int, without float64) float64 {
	if t, ok := r.find(code); ok {
		return r.value(t)
	}
	return without
}

// must is the value of a group that has to be there.
func (r *record) must(code int) float64 {
	if _, ok := r.find(code); !ok {
		r.fail(tags.Errorf(r.line, "%s has no group %d", r.kind, code))
	}
	return r.number(code, 0)
}

// point is the point whose x has the group code; its y has that plus 10.
func (r *record) point(code int) geom.Point { return geom.Pt(r.must(code), r.must(code+10)) }

// value is a tag's value as a number that may be a coordinate.
func (r *record) value(t tags.Tag) float64 {
	v, err := t.Number()
	if err == nil && math.Abs(v) > drawing.Farthest {
		err = tags.Errorf(t.Line, "%g is beyond %g", v, drawing.Farthest)
	}
	if err != nil {
		r.fail(err)
	}
	return v
}

// upright is how far an entity's plane may lean: as much as a few last digits.
const upright = 1e-6

// facing is the way that an entity's plane looks.
type facing int

const (
	up    facing = iota // the plane of the drawing
	down                // seen from behind: x runs the other way
	askew               // some other plane
)

// facing is the way in which the entity's own plane looks: group 210, 220, 230, the
// direction of extrusion. Coordinates of entities in a plane are in its own axes; by the
// arbitrary axis algorithm (DXF Reference, Object Coordinate Systems) those of (0, 0, -1)
// are -x, y.
func (r *record) facing() facing {
	x, y, z := r.number(210, 0), r.number(220, 0), r.number(230, 1)
	switch {
	case math.Hypot(x, y) > upright*math.Abs(z) || z == 0:
		return askew
	case z < 0:
		return down
	}
	return up
}

// level is how much points of an entity may differ in height, as a share of its size, and
// be flat: what is lost by looking from above is half its square.
const level = 1e-3

// heights gathers the heights of an entity's points.
type heights struct {
	box     geom.Box
	low, hi float64
}

func newHeights() heights { return heights{geom.EmptyBox(), math.Inf(1), math.Inf(-1)} }

func (h *heights) add(p geom.Point, z float64) {
	h.box, h.low, h.hi = h.box.Include(p), min(h.low, z), max(h.hi, z)
}

// flat reports whether the points have one height.
func (h *heights) flat() bool { return !(h.hi-h.low > level*h.box.Size().Norm()) }

package fromsvg

import (
	"math"
	"strings"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
)

// A view is a viewBox and how it is fitted into a viewport (SVG 1.1, sections 7.7 and
// 7.8).
type view struct {
	box   geom.Box   // empty where there is none
	none  bool       // stretched along x and y each by itself
	slice bool       // filling the viewport; else all of it is seen
	at    geom.Point // of the room left, by shares: 0 at the start, 1 at the end
}

// aligned are the values of preserveAspectRatio.
var aligned = map[string]geom.Point{
	"xminymin": geom.Pt(0, 0), "xmidymin": geom.Pt(0.5, 0), "xmaxymin": geom.Pt(1, 0),
	"xminymid": geom.Pt(0, 0.5), "xmidymid": geom.Pt(0.5, 0.5), "xmaxymid": geom.Pt(1, 0.5),
	"xminymax": geom.Pt(0, 1), "xmidymax": geom.Pt(0.5, 1), "xmaxymax": geom.Pt(1, 1),
}

// view reads an element's viewBox and preserveAspectRatio. A box without width or height
// is not drawn.
func (r *reader) view(n *node) (v view, drawn bool) {
	v = view{box: geom.EmptyBox(), at: geom.Pt(0.5, 0.5)}
	if d, ok := r.attr(n, "preserveAspectRatio"); ok {
		r.readAspect(d, &v)
	}
	d, ok := r.attr(n, "viewBox")
	if !ok || strings.TrimSpace(d.value) == "none" {
		return v, true
	}
	list, wrong := numbers(d.value, 4)
	if wrong == nil && len(list) != 4 {
		wrong = &fault{text: "a viewBox has four numbers: left, top, width, height"}
	}
	if wrong == nil && (list[2] < 0 || list[3] < 0) {
		wrong = &fault{text: "a viewBox can't have a width or height below 0"}
	}
	if wrong != nil {
		r.fault(d, wrong)
		return v, false
	}
	corner := geom.Pt(list[0], list[1])
	v.box = geom.Box{Min: corner, Max: corner.Add(geom.Pt(list[2], list[3]))}
	return v, list[2] > 0 && list[3] > 0
}

func (r *reader) readAspect(d declaration, v *view) {
	words := strings.Fields(strings.ToLower(d.value))
	if len(words) > 0 && words[0] == "defer" {
		words = words[1:]
	}
	if len(words) == 0 || len(words) > 2 {
		r.fault(d, &fault{text: "preserveAspectRatio is not understood"})
		return
	}
	at, known := aligned[words[0]]
	v.none = words[0] == "none"
	v.slice = len(words) == 2 && words[1] == "slice"
	if !known && !v.none || len(words) == 2 && words[1] != "slice" && words[1] != "meet" {
		r.fault(d, &fault{text: "preserveAspectRatio is not understood", hint: `write as in preserveAspectRatio="xMidYMid meet"`})
		return
	}
	if known {
		v.at = at
	}
}

// scales is how many units of the viewport a unit of the box is along x and y.
func (v view) scales(size geom.Point) (x, y float64) {
	box := v.box.Size()
	x, y = size.X/box.X, size.Y/box.Y
	switch {
	case v.none:
	case v.slice:
		x = max(x, y)
		y = x
	default:
		x = min(x, y)
		y = x
	}
	return x, y
}

// into maps the view's user space into a viewport with its corner at the origin, and says
// what percentages are of within.
func (v view) into(size geom.Point) (drawing.Affine, viewport) {
	if v.box.Empty() {
		return drawing.Identity(), viewport{size, true}
	}
	x, y := v.scales(size)
	box := v.box.Size()
	left := geom.Pt((size.X-box.X*x)*v.at.X, (size.Y-box.Y*y)*v.at.Y)
	return drawing.Shift(v.box.Min.Scale(-1)).Then(drawing.Stretch(x, y)).Then(drawing.Shift(left)), viewport{box, true}
}

// A page is what the outermost <svg> says of its size.
type page struct {
	width, height     length
	hasWidth, hasHigh bool // and not as a share of a window
}

// drawRoot draws the outermost <svg>.
func (r *reader) drawRoot(n *node) {
	v, drawn := r.view(n)
	if !drawn {
		r.pass("hidden", n)
		return
	}
	if d, ok := r.prop(n, "transform"); ok && strings.TrimSpace(d.value) != "none" {
		r.fault(d, &fault{text: "a transform of the whole drawing is not read", hint: "put all that is drawn into a <g> and give that the transform"})
		return
	}
	p := page{}
	p.width, p.hasWidth = r.pageLength(n, "width")
	p.height, p.hasHigh = r.pageLength(n, "height")
	base, port, paper := r.pageMap(v, p)
	r.out.Page = upright(paper)
	if s, drawn := r.below(n, state{m: base, port: port, style: initialStyle()}); drawn {
		r.group(n, s)
	}
}

// pageLength is the width or height of the page, if it is given otherwise than as a share
// of a window.
func (r *reader) pageLength(n *node, name string) (length, bool) {
	d, ok := r.prop(n, name)
	if !ok || strings.EqualFold(strings.TrimSpace(d.value), "auto") {
		return length{}, false
	}
	l, wrong := parseLength(d.value)
	if wrong != nil {
		r.fault(d, wrong)
		return length{}, false
	}
	return l, !l.relative && l.px > 0
}

// pageMap is the map from user space to the drawing's units, y still down, what
// percentages are of, and the paper in these units. The units are the viewBox's, or px
// where there is none; only where the page stretches the box unequally is a unit that of
// x. The file states their length only by a page in units that are lengths in the hand.
func (r *reader) pageMap(v view, p page) (drawing.Affine, viewport, geom.Box) {
	size := geom.Pt(p.width.px, p.height.px)
	both := p.hasWidth && p.hasHigh
	physical := (p.hasWidth || p.hasHigh) && (!p.hasWidth || p.width.physical) && (!p.hasHigh || p.height.physical)
	px := 1.0 // how many a unit of size is
	if physical && !v.box.Empty() {
		size, px = geom.Pt(p.width.mm, p.height.mm), 1/mmPerPx
	}
	if v.box.Empty() {
		if physical {
			r.out.Unit = mmPerPx
		}
		r.perUnit = 1
		if !both {
			return drawing.Identity(), viewport{}, geom.EmptyBox()
		}
		return drawing.Identity(), viewport{size, true}, geom.Box{Max: size}
	}
	box := v.box.Size()
	switch {
	case both:
	case p.hasWidth:
		size.Y = size.X * box.Y / box.X
	case p.hasHigh:
		size.X = size.Y * box.X / box.Y
	default:
		size = box
	}
	x, y := v.scales(size)
	r.perUnit = x * px
	if physical {
		r.out.Unit = x
	}
	base := drawing.Identity()
	if x != y {
		base = drawing.Stretch(1, y/x)
	}
	// The paper's corner, back in the drawing's units.
	corner := geom.Pt(v.box.Min.X, v.box.Min.Y*y/x)
	whole := size.Scale(1 / x)
	room := geom.Pt(beyond(whole.X, box.X), beyond(whole.Y, box.Y*y/x))
	corner = corner.Sub(geom.Pt(room.X*v.at.X, room.Y*v.at.Y))
	return base, viewport{box, true}, geom.Box{Min: corner, Max: corner.Add(whole)}
}

// beyond is a - b, without what rounding alone makes of two equal lengths.
func beyond(a, b float64) float64 {
	if same(geom.Pt(a, 0), geom.Pt(b, 0)) {
		return 0
	}
	return a - b
}

// upright is a box with y turned over.
func upright(b geom.Box) geom.Box {
	if b.Empty() {
		return b
	}
	return geom.Box{Min: geom.Pt(b.Min.X, 0-b.Max.Y), Max: geom.Pt(b.Max.X, 0-b.Min.Y)}
}

// nested is the map into a viewport within the drawing, with its corner at at.
func (r *reader) nested(n *node, s state, at, size geom.Point) (state, bool) {
	v, drawn := r.view(n)
	if !drawn || size.X == 0 || size.Y == 0 {
		return s, false
	}
	m, port := v.into(size)
	outer := drawing.Shift(at).Then(s.m)
	if overflow, _ := r.given(n, "overflow"); overflow != "visible" && overflow != "auto" {
		s.clips = append(s.clips[:len(s.clips):len(s.clips)], window{outer, size})
	}
	s.m, s.port = m.Then(outer), port
	return s, true
}

// A window is a viewport that hides what lies outside.
type window struct {
	m    drawing.Affine // from its corner to the drawing, y down
	size geom.Point
}

// shows says whether a curve, y down, lies all inside, or all outside.
func (w window) shows(c drawing.Curve) (inside, outside bool) {
	back, ok := w.m.Inverse()
	if !ok {
		return false, true
	}
	slack := 1e-9 * math.Max(w.size.X, w.size.Y)
	c = c.Moved(back)
	all := geom.Box{Max: w.size}.Expand(slack)
	holds := func(b geom.Box) bool { return all.Holds(b.Min) && all.Holds(b.Max) }
	if holds(frame(c.Segments)) { // which is known at once
		return true, false
	}
	box := c.Bounds()
	return holds(box), !all.Meets(box)
}

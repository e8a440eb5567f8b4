package trace

// Middles of bands whose edges are drawn. From places along the edges one looks across: a
// band is where the other edge lies as far off everywhere. Where bands cross, or meet at
// corners, there is nothing to see; their middles are led on over it (file bridge.go).

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/arcfit"
	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

const (
	// places along the edges from which one looks across, all in all.
	mostLooks = 8000
	// sameWidth is by how much of itself a band's width may vary.
	sameWidth = 0.04
	// leastShare is how much of the edges must be those of bands of one width: crossings
	// and corners hide some, and where most is hidden it isn't bands that were drawn.
	leastShare = 0.4
	ruleBands  = "drawing-bands"
)

// An across is what one sees from a place on an edge.
type across struct {
	mid   geom.Point
	width float64 // to the other edge; 0 where there is none to be taken
	step  float64 // length of edge that the place stands for
}

// An outline is the edges as they are drawn.
type outline struct {
	lines *polyline
	area  *polyline // of what is closed; nil if nothing is
	size  float64
	fine  float64 // how far chords lie from what is drawn
}

// selfHit is how many times as far as chords lie from their curve one looks at least: a
// place on the curve may see its own chord.
const selfHit = 20

// middles are the tracks in the middle of the bands.
func (t *tracer) middles() []track {
	if share := t.shared(); share > mostShared {
		t.fault("edges", ruleBands, "areas that lie side by side share %s of their edges: bands that are painted in parts have no edges of their own", percent(share)).
			Hintf("if one colour has whole bands, take that alone: %s; else draw the middles", t.write("color", t.quoted("#f0a04a")))
		return nil
	}
	o := t.outline()
	var rows [][]across
	var total float64
	for _, s := range t.strokes {
		total += s.length
	}
	spacing := max(total/mostLooks, t.p.Tolerance)
	for _, s := range t.strokes {
		for _, side := range [2]float64{1, -1} {
			rows = append(rows, o.look(s, side, spacing, t.fine())...)
		}
	}
	width, share := commonWidth(rows, total)
	if share < leastShare {
		t.noBands(width, share)
		return nil
	}
	t.rep.Width = width
	lines := thinned(t.chainsOf(rows, width, t.spread(rows, width)), width)
	t.seen = lines
	var tracks []track
	for _, l := range lines {
		tr, ok := t.track(l)
		if !ok {
			return nil
		}
		tracks = append(tracks, tr)
	}
	if len(tracks) == 0 {
		t.noBands(width, 0)
		return nil
	}
	return t.led(tracks, o)
}

// mostShared is how much of the edges may lie on others: bands that are cut where they go
// under touch what goes over there.
const mostShared = 0.35

// shared is how much of the edges lies on those of other strokes.
func (t *tracer) shared() float64 {
	var edges []geom.Edge
	var boxes []geom.Box
	var of []int
	for i, s := range t.strokes {
		for k := 1; k < len(s.points); k++ {
			e := geom.Line(s.points[k-1], s.points[k])
			edges, boxes, of = append(edges, e), append(boxes, e.Bounds()), append(of, i)
		}
	}
	index := geom.NewIndex(boxes)
	var on, all float64
	for k, e := range edges {
		all += e.Length()
		mid := e.Mid()
		index.Search(geom.Box{Min: mid, Max: mid}.Expand(t.p.Tolerance), func(j int) bool {
			if of[j] != of[k] && edges[j].Dist(mid) <= t.p.Tolerance && math.Abs(edges[j].Tangent(0).Cross(e.Tangent(0))) < sideways {
				on += e.Length()
				return false
			}
			return true
		})
	}
	return on / all
}

func (t *tracer) noBands(width, share float64) {
	f := t.fault("edges", ruleBands, "the drawing shows no bands of one width: the commonest, %s, is that of %s of its edges alone",
		unit.Len(width), percent(share))
	if width == 0 {
		f.Message = "the drawing shows no bands: nowhere is an edge beside another"
	}
	f.Hintf("leave %s out if its lines are the middles of bands; else draw the middles", map[bool]string{true: "--edges", false: "edges"}[t.p.Words.Flags])
}

func percent(share float64) string { return unit.Decimal(100*share, 0) + " %" }

func (t *tracer) outline() outline {
	var all, closed [][]geom.Point
	box := geom.EmptyBox()
	for _, s := range t.strokes {
		all = append(all, s.points)
		if s.Closed || s.points[0].Near(s.points[len(s.points)-1], t.p.Tolerance) {
			closed = append(closed, append(slices.Clone(s.points), s.points[0]))
		}
		box = box.Join(s.box)
	}
	o := outline{lines: newPolyline(all...), size: box.Size().Norm(), fine: t.fine()}
	if len(closed) > 0 {
		o.area = newPolyline(closed...)
	}
	return o
}

// look looks to one side from places along a stroke. Where a place sees nothing the row is
// broken.
func (o outline) look(s stroke, side, spacing, fine float64) (rows [][]across) {
	var row []across
	for i, seg := range s.Segments {
		if i > 0 && math.Abs(turnOf(heading(s.Segments[i-1], 1), heading(seg, 0))) > kinkTurn && len(row) > 0 {
			rows, row = append(rows, row), nil
		}
		places := drawing.Places(seg, fine)
		for i := 1; i < len(places); i++ {
			from, to := places[i-1], places[i]
			length := seg.At(from).Dist(seg.At(to))
			n := int(max(1, math.Ceil(length/spacing)))
			for k := range n {
				u := from + (to-from)*(float64(k)+0.5)/float64(n)
				a := o.across(seg.At(u), seg.Speed(u).Unit().Left().Scale(side))
				a.step = length / float64(n)
				if a.width == 0 && len(row) > 0 {
					rows, row = append(rows, row), nil
				} else if a.width > 0 {
					row = append(row, a)
				}
			}
		}
	}
	if len(row) > 0 {
		rows = append(rows, row)
	}
	return rows
}

// across looks from a place on an edge in a direction square to it. The middle must lie in
// what is enclosed, and nothing may be nearer to it than the two edges.
func (o outline) across(p, way geom.Point) across {
	if way == (geom.Point{}) {
		return across{}
	}
	start := selfHit * o.fine
	for reach := o.size / 128; reach <= o.size; reach *= 2 {
		d, ok := o.hit(p, way, start, reach)
		if !ok {
			continue
		}
		mid := p.Add(way.Scale(d / 2))
		if o.area != nil && !o.area.inside(mid) || o.lines.dist(mid) < d/2*(1-sameWidth/2) {
			return across{}
		}
		return across{mid: mid, width: d}
	}
	return across{}
}

// hit is how far from p in a direction the first line is, at least start and at most reach.
func (o outline) hit(p, way geom.Point, start, reach float64) (float64, bool) {
	q := p.Add(way.Scale(reach))
	ray := geom.Line(p, q)
	best := math.Inf(1)
	o.lines.index.Search(ray.Bounds(), func(i int) bool {
		e := o.lines.edges[i]
		v := e.B.Sub(e.A)
		d := way.Cross(v)
		if d == 0 {
			return true
		}
		w := e.A.Sub(p)
		along, on := w.Cross(v)/d, w.Cross(way)/d
		if along > start && along <= reach && on >= 0 && on <= 1 {
			best = min(best, along)
		}
		return true
	})
	return best, !math.IsInf(best, 1)
}

// inside reports whether a ray from p crosses the closed lines an odd number of times.
func (p *polyline) inside(q geom.Point) bool {
	in := false
	ray := geom.Box{Min: q, Max: geom.Pt(p.box.Max.X+1, q.Y)}
	p.index.Search(ray, func(i int) bool {
		a, b := p.edges[i].A, p.edges[i].B
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
		return true
	})
	return in
}

// commonWidth is the width that most of the edges have, and of how much of all edges.
func commonWidth(rows [][]across, total float64) (width, share float64) {
	var all []across
	for _, row := range rows {
		all = append(all, row...)
	}
	slices.SortFunc(all, func(a, b across) int { return cmp.Compare(a.width, b.width) })
	var best, sum float64
	from, bestFrom, bestTo := 0, 0, 0
	for to := range all {
		sum += all[to].step
		for all[to].width > all[from].width*(1+sameWidth) {
			sum -= all[from].step
			from++
		}
		if sum > best {
			best, bestFrom, bestTo = sum, from, to
		}
	}
	if len(all) == 0 || total == 0 {
		return 0, 0
	}
	// The middle of what is nearly the same, by length.
	half := 0.0
	for i := bestFrom; i <= bestTo; i++ {
		if half += all[i].step; half >= best/2 {
			width = all[i].width
			break
		}
	}
	return width, min(1, best/total)
}

// usualShare is the share of the places at bands whose width is as regular as the drawing
// is; what varies more is at their ends and crossings.
const usualShare = 0.85

// spread is by how much the bands' width varies, where they are seen well.
func (t *tracer) spread(rows [][]across, width float64) float64 {
	var off []float64
	for _, row := range rows {
		for _, a := range row {
			if d := math.Abs(a.width - width); d <= sameWidth*width {
				off = append(off, d)
			}
		}
	}
	slices.Sort(off)
	return max(t.p.Tolerance, 1.5*off[int(usualShare*float64(len(off)-1))])
}

// endShare is the share of a band's width that its middle is cut back by at the ends of
// what is seen: there one looks past the end of an edge.
const endShare = 0.1

// cutBack is a line without its ends.
func cutBack(line []geom.Point, by float64) []geom.Point {
	for range 2 {
		var run float64
		i := 1
		for ; i < len(line) && run < by; i++ {
			run += line[i].Dist(line[i-1])
		}
		line = slices.Clone(line[min(i-1, len(line)):])
		slices.Reverse(line)
	}
	return line
}

// leap is how many times as far as one goes along an edge the middle may go: where it goes
// farther it is another band's, or the other edge, where it is the longer one, shows it better.
const leap = 2.5

// chainsOf are the middles of the places that see a band of the width, but for a spread,
// in rows.
func (t *tracer) chainsOf(rows [][]across, width, spread float64) (lines [][]geom.Point) {
	for _, row := range rows {
		var line []geom.Point
		end := func() {
			if n := len(line); n > 8 && line[0].Dist(line[n-1]) > 3*lengthOf(line)/float64(n) {
				line = cutBack(line, endShare*width)
			}
			if lengthOf(line) > width/2 {
				lines = append(lines, line)
			}
			line = nil
		}
		for _, a := range row {
			off := math.Abs(a.width - width)
			if n := len(line); off > spread || n > 0 && a.mid.Dist(line[n-1]) > leap*(a.step+t.p.Tolerance) {
				end()
			}
			if off <= spread {
				line = append(line, a.mid)
			}
		}
		end()
	}
	return lines
}

// thinned keeps of middles that lie on one another, since both edges see them, one: the
// longest first, and of the others what lies elsewhere.
func thinned(lines [][]geom.Point, width float64) (kept [][]geom.Point) {
	slices.SortStableFunc(lines, func(a, b []geom.Point) int { return cmp.Compare(lengthOf(b), lengthOf(a)) })
	var pool geom.Pool
	var edges []geom.Edge
	near := func(p geom.Point) (hit bool) {
		pool.Search(geom.Box{Min: p, Max: p}.Expand(width/4), func(i int) bool {
			hit = edges[i].Dist(p) < width/4
			return !hit
		})
		return hit
	}
	for _, l := range lines {
		first := len(kept)
		var part []geom.Point
		end := func() {
			if lengthOf(part) > width/2 {
				kept = append(kept, part)
			}
			part = nil
		}
		for _, p := range l {
			if near(p) {
				end()
				continue
			}
			part = append(part, p)
		}
		end()
		for _, line := range kept[first:] {
			for i := 1; i < len(line); i++ {
				e := geom.Line(line[i-1], line[i])
				edges = append(edges, e)
				pool.Add(e.Bounds())
			}
		}
	}
	return kept
}

// track lays lines and arcs along a middle.
func (t *tracer) track(points []geom.Point) (track, bool) {
	n := len(points)
	closed := n > 8 && points[0].Dist(points[n-1]) <= 3*lengthOf(points)/float64(n)
	chain, result, err := arcfit.Fit(arcfit.Section{Points: points, Closed: closed, Loose: true}, t.fitting())
	if err != nil {
		return track{}, true
	}
	if !result.Met {
		t.shakes(t.strokes[0].Pos, result)
		return track{}, false
	}
	return track{edges: t.took(chain.Contour().Edges()), closed: closed, points: points}, true
}

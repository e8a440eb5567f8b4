package trace

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// finish joins the tracks into strands, lays them where they were asked to lie, and says
// what they are.
func (t *tracer) finish(tracks []track) Traced {
	t.filleted(tracks)
	contours := t.joined(tracks)
	out := t.placed(symmetric{turns: 1, part: contours})
	for _, s := range t.symmetries(contours) {
		if even, ok := t.even(s); ok {
			out = even
			break
		}
	}
	t.weave(&out)
	t.rep.lay(t.lay)
	t.report()
	out.Report = t.rep
	return out
}

// even is what was traced with a symmetry; not ok, and nothing done, where it would move
// farther than is asked, or doesn't become what it says.
func (t *tracer) even(s symmetric) (out Traced, ok bool) {
	rep, lay := t.rep, t.lay
	out = t.placed(s)
	ok = t.rep.Off <= max(t.p.Tolerance, rep.Off)+t.fine()
	if s.in != nil {
		in := axis{t.lay.Apply(s.in.through), s.in.angle + t.p.Size.Turn}
		ok = ok && out.reflected(in)
		t.rep.Mirrored, t.rep.Axis = true, in.angle
	}
	if s.turns > 1 {
		t.rep.Turns = s.turns
	}
	if !ok {
		t.rep, t.lay = rep, lay
	}
	return out, ok
}

// layOf is where things go from where they were traced, with a middle.
func (t *tracer) layOf(middle geom.Point) geom.Similarity {
	return geom.Shifting(middle.Scale(-1)).Then(turning(t.p.Size.Turn)).Then(geom.Shifting(t.p.Size.Center))
}

// placed lays what was traced where it was asked to lie, and measures it.
func (t *tracer) placed(s symmetric) Traced {
	out := Traced{Copies: s.turns, Center: t.p.Size.Center}
	t.lay = t.layOf(s.center)
	for i, c := range s.part {
		e := Element{Name: t.p.Words.Name, Contour: rounded(begun(t.lay.Contour(c)))}
		if i > 0 {
			e.Name = fmt.Sprintf("%s-%d", t.p.Words.Name, i+1)
		}
		out.Elements = append(out.Elements, e)
	}
	for _, s := range t.strokes {
		var points []geom.Point
		for _, seg := range s.Segments {
			points = append(points, drawing.Sample(seg, chordShare*t.p.Tolerance)...)
		}
		out.Drawn = append(out.Drawn, moved(points, t.lay))
	}
	for _, line := range t.seen {
		out.Seen = append(out.Seen, moved(line, t.lay))
	}
	t.measure(&out)
	return out
}

// report says what whoever drew it should look at, where it lies on the work.
func (t *tracer) report() {
	for _, p := range t.tight {
		p = t.lay.Apply(p)
		t.warn(ruleRound, "the corner at %s has no room for a fillet of %s, and stays sharp", at(p), unit.Len(t.p.Round)).
			SetAt(p.X, p.Y).Hintf("give a smaller radius: %s", t.write("round", unit.AtMost(t.p.Round/2).Typed().String()))
	}
	if len(t.coarse) > 0 {
		c := t.coarse[0]
		p := t.lay.Apply(c.at)
		f := t.warn(ruleCoarse, "%s in a row, from %s on, are no curve %s: such lines stay lines, with corners", unit.Count(c.lines, "line"), at(p), within(t.p.Tolerance)).
			SetAt(p.X, p.Y)
		if c.off > 0 {
			f.Hintf("a curve follows them within %s: %s", unit.AtLeast(c.off), t.write("tolerance", unit.AtLeast(c.off).Typed().String()))
		}
	}
	if k := t.rep.Kinks; len(k) > 0 && !t.p.Kinks {
		f := t.warn(ruleKinks, "the drawing has %s of %s degrees where curves meet, neither smooth nor surely a corner: taken as corners, the first at %s",
			unit.Count(len(k), "turn"), angles(k), at(k[0].At))
		f.SetAt(k[0].At.X, k[0].At.Y).Hintf("if they are meant to be smooth: %s", t.write("kinks", t.quoted("smooth")))
	}
	if t.p.Round > 0 {
		return
	}
	for _, c := range t.rep.Cusps {
		t.warn(ruleCusp, "the drawing turns back beside itself at %s, and no mitre closes such a point", at(c.At)).
			SetAt(c.At.X, c.At.Y).Hintf("give corners a radius, as in %s, or draw it wider", t.write("round", "3"))
	}
	if t.shapes() && !t.p.Edges {
		t.warn(ruleShapes, "the drawing paints areas and no lines: their outlines are followed").
			Hintf("if they are bands, %s follows their middles", t.write("edges", "true"))
	}
}

const (
	ruleKinks  = "drawing-kinks"
	ruleCoarse = "drawing-coarse"
	ruleCusp   = "drawing-cusp"
	ruleShapes = "drawing-shapes"
)

// shapes reports whether all that is drawn are areas.
func (t *tracer) shapes() bool {
	return !slices.ContainsFunc(t.strokes, func(s stroke) bool { return s.Stroked || !s.Filled })
}

// angles is from how many degrees to how many some turns are.
func angles(turns []Turn) string {
	lo, hi := math.Inf(1), 0.0
	for _, k := range turns {
		lo, hi = min(lo, k.Angle), max(hi, k.Angle)
	}
	a, b := unit.Decimal(lo*180/math.Pi, 1), unit.Decimal(hi*180/math.Pi, 1)
	if a == b {
		return a
	}
	return a + " to " + b
}

// turning is a turn by an angle; by quarters it is exact.
func turning(angle float64) geom.Similarity {
	if q := angle / (math.Pi / 2); q == math.Round(q) {
		return geom.TurningFraction(int(math.Mod(q, 4)), 4)
	}
	return geom.Turning(angle)
}

func moved(points []geom.Point, by geom.Similarity) []geom.Point {
	out := make([]geom.Point, len(points))
	for i, p := range points {
		out[i] = by.Apply(p)
	}
	return out
}

// joined is the tracks as the motif joins them: their ends on one another, smooth where
// they nearly are. Where the motif finds fault with them they stay as they are: whoever
// uses them hears of it.
func (t *tracer) joined(tracks []track) []geom.Contour {
	var d work.Drawing
	for _, tr := range tracks {
		d.Elements = append(d.Elements, work.Element{Kind: work.KindPath, Contour: geom.Chain(tr.closed, tr.edges...)})
	}
	d.Copies = 1
	m, found := motif.Build(d)
	var all []geom.Contour
	if found.HasErrors() {
		for _, e := range d.Elements {
			all = append(all, e.Contour)
		}
		return all
	}
	for _, s := range m.Strands {
		all = append(all, s.Contour)
	}
	return all
}

// begun is a contour that says the same from a better start: a circle from the right, and a
// closed chain from where one of its lines or arcs begins.
func begun(c geom.Contour) geom.Contour {
	if !c.Closed {
		return c
	}
	if len(runs(c)) == 1 && !c.Edge(0).IsLine() {
		return geom.Circle(c.Edge(0).Center(), c.Edge(0).Radius())
	}
	for i := range c.Len() {
		if turned := c.Rotate(i); len(runs(turned)) < len(runs(c)) {
			return turned
		}
	}
	return c
}

// decimals of coordinates in mm, and of bulges, that are written.
const (
	places = 1e6
	bulges = 1e12
)

// rounded is c with numbers that are the same on every machine.
func rounded(c geom.Contour) geom.Contour {
	out := geom.Contour{Closed: c.Closed, Vertices: make([]geom.Vertex, len(c.Vertices))}
	for i, v := range c.Vertices {
		out.Vertices[i] = geom.Vertex{Point: geom.Pt(roundTo(v.X, places), roundTo(v.Y, places)), Bulge: roundTo(v.Bulge, bulges)}
	}
	return out
}

// roundTo never gives -0.
func roundTo(x, parts float64) float64 { return math.Round(x*parts)/parts + 0 }

// weave counts what meets, and says what is over what.
func (t *tracer) weave(out *Traced) {
	var d work.Drawing
	for k := range out.Copies {
		for _, e := range out.Elements {
			d.Elements = append(d.Elements, work.Element{Name: e.Name, Kind: work.KindDrawing, Contour: out.Turned(e.Contour, k)})
		}
	}
	d.Copies = 1
	m, trouble := motif.Build(d)
	w, more := weave.Build(m, work.Weaving{FirstOver: true})
	out.Over = t.shows(m, w)
	shown, _ := weave.Build(m, work.Weaving{FirstOver: true, Drawn: out.Over})
	t.rep.Trouble = append(trouble, more...)
	t.rep.Strands, t.rep.Crossings, t.rep.Tees = len(m.Strands), len(w.Crossings), len(w.Tees)
	for _, s := range m.Strands {
		t.rep.Length += s.Length()
	}
	t.rep.measure(m)
	t.rep.beside(m)
	t.rep.Size = m.Bounds().Size()
	var differ, same []geom.Point
	for i, c := range shown.Crossings {
		if c.Visits[0].Over == w.Crossings[i].Visits[0].Over {
			same = append(same, c.At)
		} else {
			differ = append(differ, c.At)
		}
	}
	if out.First, out.Flips = true, differ; len(same) < len(differ) {
		out.First, out.Flips = false, same
	}
	t.rep.Shown = len(out.Over)
}

package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/work"
)

const (
	// shortest is the least length in mm of a line or an arc. Ends within it of
	// one another are one point to the motif, so what is shorter has no ends.
	shortest = 0.001
	// maxCopies is a copy at every degree.
	maxCopies = 360
	// turnSlack in radians makes a full turn of what is one but for rounding.
	turnSlack = 1e-9
	// radiusShort is by how much, in mm, an arc of a path may be too small for
	// its ends and be scaled up: no more than ends are moved to join.
	radiusShort = 0.05
)

func (r *reader) readMotif(top conf.Section) work.Drawing {
	t, ok := top.Sub("motif")
	m := work.Drawing{Copies: max(1, t.Count("copies")), Mirror: t.Flag("mirror")}
	var all []*drawn
	for _, k := range makers() {
		for _, s := range t.List(k.word, mostLegs) {
			all = append(all, &drawn{maker: k, t: s, key: s.Value.Key()})
		}
	}
	// The kinds were read one after the other; a strand starts at its
	// first-listed element, so the file's order counts.
	slices.SortStableFunc(all, func(a, b *drawn) int { return a.t.Value.Off - b.t.Value.Off })
	if len(all) == 0 && ok {
		r.Faultf(t.Value, conf.Missing, "the motif is empty").Hintf("add [[motif.line]], [[motif.arc]], [[motif.circle]], [[motif.path]] or [[motif.strand]]")
	}
	var groups []*drawn
	for _, s := range t.List("group", mostLegs) {
		groups = append(groups, &drawn{maker: maker{word: "group"}, t: s})
	}
	taken := r.nameAll(slices.Concat(all, groups))
	r.drawn, r.numbers = map[string]*drawn{}, map[string]work.Numbers{}
	for _, d := range all {
		d.wanted = wanted{kind: "element", name: d.name}
		r.drawn[d.name] = d
	}
	r.about = about(m.Copies, m.Mirror)
	in := r.group(groups)
	r.settlePoints()
	for _, d := range all {
		r.draw(d)
	}
	for _, d := range all {
		r.trim(d)
	}
	for _, g := range in {
		r.settleGroup(g)
	}
	for _, d := range all {
		m.Elements = append(m.Elements, r.elements(d, taken)...)
	}
	for _, d := range all {
		if n, ok := r.numbers[d.name]; ok && len(d.in.all()) > 0 {
			m.Numbers = append(m.Numbers, n.Placed(d.in.all()[0]))
		}
	}
	return r.boundLegs(t, m)
}

// draw is what a table draws, worked out when it is first wanted: a point or an arc may
// use it. Nothing where it is wrong, and reported.
func (r *reader) draw(d *drawn) []geom.Contour {
	if d.wanted.state != settled && r.enter(&d.wanted, d.t.Value, "give one of them numbers") {
		d.contours = slices.DeleteFunc(d.read(r, *d), func(c geom.Contour) bool {
			return slices.ContainsFunc(c.Vertices, func(v geom.Vertex) bool { return !v.Finite() })
		})
		r.leave(&d.wanted)
	}
	return d.contours
}

// A maker is a kind of table under [motif] that draws elements.
type maker struct {
	word string // of the table: "line" of [[motif.line]]
	kind work.ElementKind
	read func(r *reader, d drawn) []geom.Contour // nothing where it is wrong, and reported
}

// makers are all kinds: those by hand, and the pattern families.
func makers() []maker {
	all := []maker{
		{"line", work.KindLine, func(r *reader, d drawn) []geom.Contour { return one(r.line(d.t)) }},
		{"arc", work.KindArc, func(r *reader, d drawn) []geom.Contour { return one(r.arc(d)) }},
		{"circle", work.KindCircle, func(r *reader, d drawn) []geom.Contour { return one(r.circle(d.t)) }},
		{"path", work.KindPath, func(r *reader, d drawn) []geom.Contour { return r.outline(d.t) }},
		{"strand", work.KindStrand, func(r *reader, d drawn) []geom.Contour { return one(r.walk(d.t)) }},
		{"drawing", work.KindDrawing, func(r *reader, d drawn) []geom.Contour { return r.trace(&d) }},
	}
	for _, f := range families {
		all = append(all, maker{f.Name, work.KindPattern, func(r *reader, d drawn) []geom.Contour { return r.pattern(d, f) }})
	}
	return all
}

// drawn is one table of the motif.
type drawn struct {
	maker
	t    conf.Section
	key  diag.Key
	name string

	wanted   wanted
	contours []geom.Contour // as drawn; none before it is settled, and where it is wrong
	cuts     []cut          // where arcs go on from it
	in       *group         // nil for none
}

// nameAll gives every drawing a name of its own: the one in the file, or its
// kind, numbered from the second on. It returns the line of each name.
func (r *reader) nameAll(all []*drawn) map[string]int {
	taken := map[string]int{}
	for _, d := range all {
		n := d.t.Get("name")
		if n == nil {
			continue
		}
		d.name = r.name(d.t, n)
		if line, ok := taken[d.name]; ok && d.name != "" {
			r.Faultf(n, conf.Duplicate, "the name %q is used twice", n.Text).Hintf("the first is on line %d; give each element its own", line)
		}
		taken[d.name] = r.Line(n.Off)
	}
	count := map[string]int{}
	for _, d := range all {
		for d.name == "" {
			count[d.word]++
			d.name = free(taken, d.word, count[d.word])
		}
	}
	for _, d := range all {
		taken[d.name] = r.Line(d.t.Value.Off)
	}
	return taken
}

// free is the name with a number, none for the first; "" if that is taken.
func free(taken map[string]int, name string, n int) string {
	if n > 1 {
		name = fmt.Sprintf("%s-%d", name, n)
	}
	if _, ok := taken[name]; ok {
		return ""
	}
	return name
}

// name is an element's name. The n-th copy is called name.n, so a name holds
// no point.
func (r *reader) name(t conf.Section, n *conf.Value) string {
	s := t.Text("name")
	ok := strings.TrimSpace(s) == s && !strings.ContainsFunc(s, func(c rune) bool {
		return !unicode.IsLetter(c) && !unicode.IsDigit(c) && c != ' ' && c != '-' && c != '_'
	})
	if n.Kind == conf.KindString && (n.Text == "" || !ok) {
		r.Faultf(n, conf.BadValue, "an element cannot be called %q", n.Text).Hintf("use letters, digits, - and _")
	}
	return s
}

// elements are one drawing's: one element, or one for each subpath.
func (r *reader) elements(d *drawn, taken map[string]int) []work.Element {
	cs, copies := d.contours, d.in.all()
	keys := r.joining(d)
	var es []work.Element
	for i, n := 0, 1; i < len(cs); n++ {
		name := d.name
		if i > 0 {
			if name = free(taken, d.name, n); name == "" {
				continue
			}
			taken[name] = r.Line(d.t.Value.Off)
		}
		e := keys
		e.Name, e.Kind, e.Key, e.Line = name, d.kind, d.key, r.Line(d.t.Value.Off)
		if d.in != nil {
			e.Of = len(copies)
		}
		for k, move := range copies {
			e.Contour, e.Nth, e.Mirrored = move.Contour(cs[i]), k, move.Mirrors()
			es = append(es, e)
		}
		i++
	}
	return es
}

// joining reads the keys that say how an element meets others.
func (r *reader) joining(d *drawn) (e work.Element) {
	if d.kind == work.KindCircle || d.kind == work.KindPattern || d.kind == work.KindDrawing {
		return e
	}
	e.Open = d.t.Flag("open")
	e.Smooth = work.SmoothAsDrawn + 1 + work.Smooth(d.t.Word("smooth"))
	if d.kind == work.KindLine || d.kind == work.KindPath {
		e.Fit = d.t.Flag("fit")
	}
	return e
}

// decimal writes a number of the file with as many digits as matter.
func decimal(x float64) string { return strconv.FormatFloat(x, 'g', 7, 64) }

func one(c geom.Contour) []geom.Contour {
	if c.Len() == 0 {
		return nil // wrong, and reported
	}
	return []geom.Contour{c}
}

// line reads from and to, or points and closed.
func (r *reader) line(t conf.Section) geom.Contour {
	list := t.Get("points")
	if list == nil {
		for _, name := range [2]string{"closed", "round"} {
			if n := t.Get(name); n != nil {
				r.Errorf(n, ruleConflict, "%s goes with points", name).Hintf("write points = [[x, y], ...]")
			}
		}
		from, to := t.Require("from"), t.Require("to")
		if from == nil || to == nil {
			return geom.Contour{}
		}
		return r.straights([]*conf.Value{from, to}, false)
	}
	if t.Given("from") || t.Given("to") {
		r.Errorf(list, ruleConflict, "points and from, to are both given").Hintf("remove one of them")
	}
	closed := t.Flag("closed")
	least := 2
	if closed {
		least = 3
	}
	items, ok := r.Points(list, "points")
	switch {
	case !ok: // reported
	case len(items) < least:
		r.Faultf(list, conf.BadValue, "points needs at least %d points, not %d", least, len(items))
	default:
		return r.rounded(t, r.straights(items, closed))
	}
	return geom.Contour{}
}

// straights joins points by lines, none of them without length.
func (r *reader) straights(ns []*conf.Value, closed bool) geom.Contour {
	c := geom.Contour{Closed: closed}
	for i, n := range ns {
		what := "a point"
		if len(ns) == 2 && !closed {
			what = []string{"from", "to"}[i]
		}
		p := geom.Pt(r.Place(n, what))
		if i > 0 && p.Near(c.Vertices[i-1].Point, shortest) {
			r.Faultf(n, conf.BadValue, "the line's two ends coincide").Hintf("move one of them, or remove the line")
		}
		c.Vertices = append(c.Vertices, geom.Vertex{Point: p})
	}
	if n := len(ns) - 1; closed && c.Vertices[n].Near(c.Vertices[0].Point, shortest) {
		r.Faultf(ns[n], conf.BadValue, "the line's first and last point coincide").Hintf("closed = true draws the line back: leave out the last point")
	}
	return c
}

func (r *reader) circle(t conf.Section) geom.Contour {
	center, radius := t.Get("center"), t.Length("radius")
	if center == nil || math.IsNaN(radius) {
		return geom.Contour{} // reported
	}
	c := geom.Circle(point(t, "center"), radius)
	r.reach(c, t.Get("radius"))
	return c
}

// swept is the arc, closed if it makes a full turn. With a NaN among its
// measures, it is not made: that was reported.
func (r *reader) swept(center geom.Point, radius, start, sweep float64, t conf.Section) geom.Contour {
	if !center.Finite() || math.IsNaN(radius+start+sweep) {
		return geom.Contour{}
	}
	full := math.Abs(math.Abs(sweep)-2*math.Pi) <= turnSlack
	if full {
		sweep = math.Copysign(2*math.Pi, sweep)
	}
	c := geom.Chain(full, geom.Arc(center, radius, start, sweep)...)
	at := t.Get("radius")
	if at == nil {
		at = t.Get("through")
	}
	r.reach(c, at)
	return c
}

// reach refuses what extends beyond 100 m and what has no length.
func (r *reader) reach(c geom.Contour, at *conf.Value) {
	switch {
	case at == nil, r.tooFar(c.Bounds(), at, "the drawing"):
	case slices.ContainsFunc(c.Edges(), func(e geom.Edge) bool { return e.Length() < shortest }):
		r.Faultf(at, conf.BadValue, "this segment is shorter than %s", r.show(shortest)).Hintf("is the unit right? a bare number means %s here", r.Units.Name())
	}
}

// tooFar refuses what lies in a box that goes farther than any length may be.
func (r *reader) tooFar(b geom.Box, at *conf.Value, what string) bool {
	// So that what is not a number is too far as well.
	if max(-b.Min.X, -b.Min.Y, b.Max.X, b.Max.Y) <= conf.Farthest {
		return false
	}
	r.Faultf(at, conf.BadValue, "%s goes beyond 100 m", what).Hintf("is the unit right? a bare number means %s here", r.Units.Name())
	return true
}

package job

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

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

func (r *reader) readMotif(t *node) work.Drawing {
	m := work.Drawing{Copies: 1, Mirror: r.flagOr(t, "mirror", false)}
	if n := t.get("copies"); n != nil {
		m.Copies = r.copies(n)
	}
	var all []drawn
	for k := work.KindLine; k <= work.KindPath; k++ {
		if n := t.get(k.String()); n != nil {
			all = append(all, r.drawings(n, k)...)
		}
	}
	// The kinds were read one after the other; a strand starts at its
	// first-listed element, so the file's order counts.
	slices.SortStableFunc(all, func(a, b drawn) int { return a.t.off - b.t.off })
	if len(all) == 0 && t.def != absent {
		r.errorf(ruleMissing, t.off, "the motif is empty").Hintf("add [[motif.line]], [[motif.arc]], [[motif.circle]] or [[motif.path]]")
	}
	taken := r.nameAll(all)
	for _, d := range all {
		m.Elements = append(m.Elements, r.elements(d, taken)...)
	}
	return r.boundLegs(t, m)
}

func (r *reader) copies(n *node) int {
	if n.kind != nodeInteger {
		r.wrongType(n, "copies", "a whole number", "write how often the elements are repeated, such as 4")
		return 1
	}
	v := r.plain(n, "copies")
	if v < 1 || v > maxCopies {
		r.errorf(ruleValue, n.off, "copies must be 1 to %d, not %s", maxCopies, n.text)
		return 1
	}
	if math.IsNaN(v) {
		return 1
	}
	return int(v)
}

// drawn is one table of the motif.
type drawn struct {
	t    *node
	key  diag.Key
	kind work.ElementKind
	name string
}

// drawings are the tables of one kind.
func (r *reader) drawings(n *node, k work.ElementKind) []drawn {
	if n.kind != nodeList {
		r.wrongType(n, "motif."+k.String(), "a list of tables", fmt.Sprintf("write [[motif.%s]], with double brackets", k))
		return nil
	}
	var ds []drawn
	for i, t := range n.items {
		if t.kind != nodeTable {
			r.wrongType(t, "an element", "a table", fmt.Sprintf("write [[motif.%s]] and its keys below", k))
			continue
		}
		r.known("motif."+k.String(), t)
		ds = append(ds, drawn{t: t, key: diag.Key(fmt.Sprintf("motif.%s.%d", k, i+1)), kind: k})
	}
	return ds
}

// nameAll gives every drawing a name of its own: the one in the file, or its
// kind, numbered from the second on. It returns the line of each name.
func (r *reader) nameAll(all []drawn) map[string]int {
	taken := map[string]int{}
	for i, d := range all {
		n := d.t.get("name")
		if n == nil {
			continue
		}
		all[i].name = r.name(n)
		if line, ok := taken[all[i].name]; ok && all[i].name != "" {
			r.errorf(ruleDuplicate, n.off, "the name %q is used twice", n.text).Hintf("the first is on line %d; give each element its own", line)
		}
		taken[all[i].name] = r.src.line(n.off)
	}
	count := map[work.ElementKind]int{}
	for i := range all {
		for all[i].name == "" {
			count[all[i].kind]++
			all[i].name = free(taken, all[i].kind.String(), count[all[i].kind])
		}
	}
	for _, d := range all {
		taken[d.name] = r.src.line(d.t.off)
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
func (r *reader) name(n *node) string {
	s := r.text(n, "name")
	ok := strings.TrimSpace(s) == s && !strings.ContainsFunc(s, func(c rune) bool {
		return !unicode.IsLetter(c) && !unicode.IsDigit(c) && c != ' ' && c != '-' && c != '_'
	})
	if n.kind == nodeString && (n.text == "" || !ok) {
		r.errorf(ruleValue, n.off, "an element cannot be called %q", n.text).Hintf("use letters, digits, - and _")
	}
	return s
}

// elements reads one drawing: one element, or one for each subpath.
func (r *reader) elements(d drawn, taken map[string]int) []work.Element {
	var cs []geom.Contour
	switch d.kind {
	case work.KindLine:
		cs = one(r.line(d.t))
	case work.KindArc:
		cs = one(r.arc(d.t))
	case work.KindCircle:
		cs = one(r.circle(d.t))
	case work.KindPath:
		cs = r.outline(d.t)
	}
	keys := r.joining(d.t)
	var es []work.Element
	for i, n := 0, 1; i < len(cs); n++ {
		name := d.name
		if i > 0 {
			if name = free(taken, d.name, n); name == "" {
				continue
			}
			taken[name] = r.src.line(d.t.off)
		}
		e := keys
		e.Name, e.Kind, e.Contour, e.Key, e.Line = name, d.kind, cs[i], d.key, r.src.line(d.t.off)
		es = append(es, e)
		i++
	}
	return es
}

// joining reads the keys that say how an element meets others.
func (r *reader) joining(t *node) work.Element {
	e := work.Element{Open: r.flagOr(t, "open", false), Fit: r.flagOr(t, "fit", false)}
	if n := t.get("smooth"); n != nil {
		switch r.choice(n, "smooth", work.SmoothStart.String(), work.SmoothEnd.String(), work.SmoothBoth.String()) {
		case 0:
			e.Smooth = work.SmoothStart
		case 1:
			e.Smooth = work.SmoothEnd
		case 2:
			e.Smooth = work.SmoothBoth
		}
	}
	return e
}

// decimal writes a number of the file with as many digits as tell.
func decimal(x float64) string { return strconv.FormatFloat(x, 'g', 7, 64) }

func one(c geom.Contour) []geom.Contour {
	if c.Len() == 0 {
		return nil // wrong, and told
	}
	return []geom.Contour{c}
}

// line reads from and to, or points and closed.
func (r *reader) line(t *node) geom.Contour {
	list, from, to := t.get("points"), t.get("from"), t.get("to")
	if list == nil {
		if n := t.get("closed"); n != nil {
			r.errorf(ruleConflict, n.off, "closed goes with points").Hintf("write points = [[x, y], ...]")
		}
		from = r.required(t, "from", "write from = [x, y] and to = [x, y], or points = [[x, y], ...]")
		to = r.required(t, "to", "write to = [x, y]")
		if from == nil || to == nil {
			return geom.Contour{}
		}
		return r.straights([]*node{from, to}, false, t.off)
	}
	if from != nil || to != nil {
		r.errorf(ruleConflict, list.off, "points and from, to are both given").Hintf("take one of them away")
	}
	closed := r.flagOr(t, "closed", false)
	least := 2
	if closed {
		least = 3
	}
	switch {
	case !r.pointList(list, "points"): // told
	case len(list.items) < least:
		r.errorf(ruleValue, list.off, "points needs at least %d points, not %d", least, len(list.items))
	default:
		return r.straights(list.items, closed, list.off)
	}
	return geom.Contour{}
}

// straights joins points by lines, none of them without length.
func (r *reader) straights(ns []*node, closed bool, off int) geom.Contour {
	c := geom.Contour{Closed: closed}
	for i, n := range ns {
		what := "a point"
		if len(ns) == 2 && !closed {
			what = []string{"from", "to"}[i]
		}
		p := r.point(n, what)
		if i > 0 && p.Near(c.Vertices[i-1].Point, shortest) {
			r.errorf(ruleValue, n.off, "a line without length").Hintf("its two ends are the same point")
		}
		c.Vertices = append(c.Vertices, geom.Vertex{Point: p})
	}
	if n := len(ns) - 1; closed && c.Vertices[n].Near(c.Vertices[0].Point, shortest) {
		r.errorf(ruleValue, ns[n].off, "a line without length").Hintf("closed = true draws the line back: leave out the last point")
	}
	return c
}

func (r *reader) circle(t *node) geom.Contour {
	center := r.required(t, "center", "write center = [x, y]")
	radius := r.mustLength(t, "radius", positive, "write radius = 30")
	if center == nil {
		return geom.Contour{}
	}
	c := geom.Circle(r.point(center, "center"), radius)
	r.reach(c, t.get("radius"))
	return c
}

func (r *reader) arc(t *node) geom.Contour {
	center := r.required(t, "center", "write center = [x, y]")
	radius := r.mustLength(t, "radius", positive, "write radius = 30")
	start := r.mustAngle(t, "start", "write start = 0, in degrees counter-clockwise from +x")
	sweep := r.mustAngle(t, "sweep", "write sweep = 90, in degrees, counter-clockwise positive")
	switch {
	case sweep == 0:
		r.errorf(ruleValue, t.get("sweep").off, "sweep must not be 0")
	case math.Abs(sweep) > 2*math.Pi+turnSlack:
		r.errorf(ruleValue, t.get("sweep").off, "sweep is beyond a full turn").Hintf("at most 360 degrees either way")
	case radius*math.Abs(sweep) < shortest:
		r.errorf(ruleValue, t.get("sweep").off, "the arc is shorter than %s", r.show(shortest)).Hintf("angles are in degrees")
	case center == nil:
	default:
		return r.swept(r.point(center, "center"), radius, start, sweep, t)
	}
	return geom.Contour{}
}

// swept is the arc, closed if it makes a full turn. With a NaN among its
// measures, it is not made: that was told.
func (r *reader) swept(center geom.Point, radius, start, sweep float64, t *node) geom.Contour {
	if !center.Finite() || math.IsNaN(radius+start+sweep) {
		return geom.Contour{}
	}
	full := math.Abs(math.Abs(sweep)-2*math.Pi) <= turnSlack
	if full {
		sweep = math.Copysign(2*math.Pi, sweep)
	}
	c := geom.Chain(full, geom.Arc(center, radius, start, sweep)...)
	r.reach(c, t.get("radius"))
	return c
}

func (r *reader) mustAngle(t *node, key, hint string) float64 {
	if n := r.required(t, key, hint); n != nil {
		return r.angle(n, key)
	}
	return bad
}

// reach refuses what extends beyond 100 m and what has no length.
func (r *reader) reach(c geom.Contour, at *node) {
	b := c.Bounds()
	switch far := max(-b.Min.X, -b.Min.Y, b.Max.X, b.Max.Y); {
	case at == nil:
	case far > farthest:
		r.errorf(ruleValue, at.off, "the drawing goes beyond 100 m").Hintf("is the unit right? a bare number means %s here", r.units.Name())
	case slices.ContainsFunc(c.Edges(), func(e geom.Edge) bool { return e.Length() < shortest }):
		r.errorf(ruleValue, at.off, "an edge is shorter than %s", r.show(shortest))
	}
}

// outline reads path data; its numbers are in the file's units.
func (r *reader) outline(t *node) []geom.Contour {
	n := r.required(t, "d", `write d = "M 0 0 L 100 0"`)
	if n == nil {
		return nil
	}
	if n.kind != nodeString {
		r.wrongType(n, "d", "a text", `write d = "M 0 0 L 100 0"`)
		return nil
	}
	within := func(offset int) int {
		if n.textOff < 0 {
			return n.off
		}
		return n.textOff + offset
	}
	cs, scaled, err := geom.ParsePathScaling(n.text, radiusShort/r.units.InMM())
	var perr *geom.PathError
	if errors.As(err, &perr) {
		r.errorf(rulePath, within(perr.Offset), "d: %s", perr.Msg).Hintf("%s", perr.Hint)
		return nil
	}
	for _, s := range scaled {
		r.notef(ruleScaled, within(s.Offset), "d: the radius %s is too small for the arc's ends: taken as %s", decimal(s.From), decimal(s.Now))
	}
	if len(cs) == 0 {
		r.errorf(rulePath, n.off, "d draws nothing").Hintf(`write d = "M 0 0 L 100 0"`)
	}
	scale := geom.Scaling(r.units.InMM())
	for i, c := range cs {
		cs[i] = scale.Contour(c)
		r.reach(cs[i], n)
	}
	return cs
}

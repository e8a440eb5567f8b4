package job

// Groups: elements that are copied, sized and placed together, about an origin of their
// own.

import (
	"maps"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
)

// A group is one [[motif.group]].
type group struct {
	t      conf.Section
	name   string
	wanted wanted
	drawn  []*drawn
	groups []*group
	in     *group // the group that it is in; nil for none

	about  []geom.Similarity // how it turns and mirrors what is in it about its origin
	copies []geom.Similarity // what it makes of what is in it; none before it is settled, and where it is wrong
}

// about are the copies that turning about the origin makes, and then mirroring in the x
// axis before it, each in order.
func about(copies int, mirror bool) (all []geom.Similarity) {
	for k := range copies {
		all = append(all, geom.TurningFraction(k, copies))
	}
	for k := 0; k < copies && mirror; k++ {
		all = append(all, geom.MirrorX().Then(geom.TurningFraction(k, copies)))
	}
	return all
}

// group reads which elements are in which of the groups, which are named.
func (r *reader) group(tables []*drawn) (groups []*group) {
	for _, d := range tables {
		groups = append(groups, &group{
			t: d.t, name: d.name, wanted: wanted{kind: "group", name: d.name},
			about: about(max(1, d.t.Count("copies")), d.t.Flag("mirror")),
		})
	}
	r.members(groups)
	return groups
}

// members finds what is in each group: each element and each group in one at most.
func (r *reader) members(groups []*group) {
	byName := map[string]*group{}
	for _, g := range groups {
		byName[g.name] = g
	}
	for _, g := range groups {
		given := g.t.Require("of")
		if given == nil || !r.AtMost(given, "of", mostLegs) {
			continue
		}
		items := g.t.Items("of", 0)
		if given.Kind == conf.KindList && len(items) == 0 {
			r.Faultf(given, conf.BadValue, "of names nothing").Hintf("%s", g.t.Hint("of"))
		}
		for _, v := range items {
			r.member(g, v, byName)
		}
	}
}

// member puts what a name stands for into a group.
func (r *reader) member(g *group, v *conf.Value, groups map[string]*group) {
	if v.Kind != conf.KindString {
		r.Faultf(v, conf.WrongType, "of takes names of elements and groups, not %s", v.Kind).Hintf("%s", g.t.Hint("of"))
		return
	}
	d, h := r.drawn[v.Text], groups[v.Text]
	var other *group
	switch {
	case d != nil:
		other = d.in
	case h == nil:
		r.noMember(v, groups)
		return
	default:
		other = h.in
		if ring := g.within(h); ring != "" {
			r.Errorf(v, ruleConflict, "the group %s is in itself", h.name).Hintf("%s -> %s: take one of them out of the other", ring, h.name)
			return
		}
	}
	switch {
	case other != nil:
		r.Errorf(v, ruleConflict, "%s is in the group %s already", v.Text, other.name).
			Hintf("each is in one group at most; a group may be in another: of = [%q]", other.name)
	case d != nil:
		d.in = g
		g.drawn = append(g.drawn, d)
	default:
		h.in = g
		g.groups = append(g.groups, h)
	}
}

// within is the way down from h to g, which is h or in it; "" if it isn't.
func (g *group) within(h *group) string {
	way := g.name
	for ; g != h; way = g.name + " -> " + way {
		if g = g.in; g == nil {
			return ""
		}
	}
	return way
}

// noMember reports that there is neither an element nor a group of a name.
func (r *reader) noMember(v *conf.Value, groups map[string]*group) {
	names := append(slices.Sorted(maps.Keys(r.drawn)), slices.Sorted(maps.Keys(groups))...)
	hint := "there are: " + strings.Join(names[:min(len(names), mostPlaces)], ", ")
	if near := diag.Nearest(v.Text, names); near != "" {
		hint = "did you mean " + near + "?"
	}
	r.Faultf(v, conf.BadValue, "of: there is no element or group %q", v.Text).Hintf("%s", hint)
}

// settleGroup works out what a group makes of its members.
func (r *reader) settleGroup(g *group) {
	if g.wanted.state == settled || !r.enter(&g.wanted, g.t.Value, "take one of them out of the other") {
		return
	}
	defer r.leave(&g.wanted)
	for _, h := range g.groups {
		r.settleGroup(h)
	}
	at, turn, scale := geom.Point{}, g.t.Angle("turn"), g.t.Ratio("scale")
	if g.t.Given("at") {
		at = point(g.t, "at")
	}
	steps := r.repeats(g.t)
	if g.t.Given("size") {
		if g.t.Given("scale") {
			r.Errorf(g.t.Get("size"), ruleConflict, "scale and size are both given").Hintf("remove one of them")
			return
		}
		scale = r.fitted(g)
	}
	if !at.Finite() || math.IsNaN(turn+scale) || len(steps) == 0 || !r.boundCopies(g, len(g.about)*len(steps)) {
		return
	}
	for _, a := range g.about {
		placed := a.Then(geom.Scaling(scale)).Then(turning(turn))
		for _, by := range steps {
			g.copies = append(g.copies, placed.Then(geom.Shifting(at.Add(by))))
		}
	}
	r.boundReach(g)
}

// boundReach refuses a group that goes too far, as an element by itself is: a
// groove so long is never planned to its end.
func (r *reader) boundReach(g *group) {
	b := geom.EmptyBox()
	for _, c := range g.contents() {
		for _, move := range g.copies {
			b = b.Join(move.Contour(c).Bounds())
		}
	}
	if !b.Empty() && r.tooFar(b, g.t.Value, "the group") {
		g.copies = nil
	}
}

// turning turns about the origin; quarter turns are exact.
func turning(angle float64) geom.Similarity {
	quarters := angle / (math.Pi / 2)
	if k := math.Round(quarters); math.Abs(k-quarters) < turnSlack {
		return geom.TurningFraction(int(math.Mod(k, 4)), 4)
	}
	return geom.Turning(angle)
}

// repeats are by how much each repeat is moved, the first by nothing; none where that is
// wrong, and reported.
func (r *reader) repeats(t conf.Section) []geom.Point {
	v := t.Get("repeat")
	if v == nil {
		return []geom.Point{{}}
	}
	rows := []*conf.Value{v}
	if v.Kind == conf.KindList && len(v.Items) > 0 && v.Items[0].Kind == conf.KindList {
		rows = v.Items
	}
	if len(rows) > 2 {
		r.Faultf(v, conf.WrongType, "repeat takes one way, or two for a grid, not %d", len(rows)).Hintf("%s", t.Hint("repeat"))
		return nil
	}
	all := []geom.Point{{}}
	for _, row := range rows {
		if row.Kind != conf.KindList || len(row.Items) != 3 {
			r.Faultf(row, conf.WrongType, "repeat must be how often, and how far along x and y").Hintf("%s", t.Hint("repeat"))
			return nil
		}
		n := r.often(t, row.Items[0])
		step := geom.Pt(r.Length(row.Items[1], "repeat: dx", conf.Range{}, ""), r.Length(row.Items[2], "repeat: dy", conf.Range{}, ""))
		switch {
		case n == 0 || !step.Finite():
			return nil
		case n > 1 && step.Norm() < shortest:
			r.Faultf(row, conf.BadValue, "repeat: the repeats lie on one another").Hintf("%s", t.Hint("repeat"))
			return nil
		case n*len(all) > mostLegs:
			r.Faultf(row.Items[0], conf.BadValue, "repeat makes more than %d of the group", mostLegs).Hintf("fewer do")
			return nil
		}
		// The first way runs fastest.
		var next []geom.Point
		for k := range n {
			for _, p := range all {
				next = append(next, p.Add(step.Scale(float64(k))))
			}
		}
		all = next
	}
	return all
}

// often is how many repeats there are; 0 where that is wrong, and reported.
func (r *reader) often(t conf.Section, v *conf.Value) int {
	if v.Kind != conf.KindInteger {
		r.Faultf(v, conf.WrongType, "repeat: how often must be a whole number, not %s", v.Kind).Hintf("%s", t.Hint("repeat"))
		return 0
	}
	n := r.Length(v, "repeat", conf.Range{}, "") / r.Units.InMM()
	if !(n >= 1 && n <= mostLegs) {
		if !math.IsNaN(n) {
			r.Faultf(v, conf.BadValue, "repeat: how often must be 1 to %d, not %s", mostLegs, v.Text).Hintf("the first counts: %s", t.Hint("repeat"))
		}
		return 0
	}
	return int(math.Round(n))
}

// fitted is the scale at which a group's contents, copied about its origin, fit into the
// size that is asked for; NaN where they can't.
func (r *reader) fitted(g *group) float64 {
	size := point(g.t, "size")
	if !size.Finite() {
		return conf.Bad
	}
	if size.X <= 0 || size.Y <= 0 {
		r.Faultf(g.t.Get("size"), conf.BadValue, "size must be more than 0 both ways").Hintf("%s", g.t.Hint("size"))
		return conf.Bad
	}
	if !r.boundCopies(g, len(g.about)) {
		return conf.Bad
	}
	b := geom.EmptyBox()
	for _, c := range g.contents() {
		for _, a := range g.about {
			b = b.Join(a.Contour(c).Bounds())
		}
	}
	if b.Empty() {
		return conf.Bad // all in it is wrong, and reported
	}
	scale := math.Inf(1)
	if w := b.Size().X; w > shortest {
		scale = size.X / w
	}
	if h := b.Size().Y; h > shortest {
		scale = min(scale, size.Y/h)
	}
	return scale
}

// contents are the contours in a group, before it copies them.
func (g *group) contents() (all []geom.Contour) {
	for _, d := range g.drawn {
		all = append(all, d.contours...)
	}
	for _, h := range g.groups {
		inner := h.contents()
		for _, move := range h.copies {
			for _, c := range inner {
				all = append(all, move.Contour(c))
			}
		}
	}
	return all
}

// legs is how many lines and arcs are in a group, before it copies them.
func (g *group) legs() (n int) {
	for _, d := range g.drawn {
		for _, c := range d.contours {
			n += c.Len()
		}
	}
	for _, h := range g.groups {
		n += len(h.copies) * h.legs()
	}
	return n
}

// boundCopies refuses a group that makes too many lines and arcs.
func (r *reader) boundCopies(g *group, copies int) bool {
	if legs := max(1, g.legs()); legs*copies > mostLegs {
		r.Faultf(g.t.Value, conf.BadValue, "the group makes %d lines and arcs: more than %d", legs*copies, mostLegs).
			Hintf("at most %d copies, repeats and mirrored ones counted", mostLegs/max(1, g.legs()))
		return false
	}
	return true
}

// copies are what groups make of one of their members, in order: the innermost group's
// repeats, then its copies, then those of the group that it is in. Without a group that
// is the element itself; where a group is wrong, nothing.
func (g *group) all() []geom.Similarity {
	if g == nil {
		return []geom.Similarity{geom.Identity()}
	}
	var all []geom.Similarity
	for _, outer := range g.in.all() {
		for _, own := range g.copies {
			all = append(all, own.Then(outer))
		}
	}
	return all
}

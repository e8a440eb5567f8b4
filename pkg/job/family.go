package job

// Pattern families: a table each, placed and sized alike.

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/family"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

const (
	ruleFamily  = "bad-pattern"
	ruleTight   = "pattern-tight"
	ruleCrowded = "pattern-crowded"
	ruleWary    = "pattern-flat"
)

// A Family is one of the tables of patterns under [motif].
type Family struct {
	Name  string // the table's: "rings" of [[motif.rings]]
	About string // a line on what it draws
	Size  string // the key that says how large it is: "ring"
	Other string // another that may, in its place; "" if there is none
	keys  []conf.Key
	read  func(t conf.Section) family.Pattern // with a size of NaN where none is given
}

// families are all families, in the order in which they are listed.
var families = [...]Family{
	panelFamily, borderFamily, plaitFamily, ringPlaitFamily, fretFamily,
	ringsFamily, rosetteFamily, starFamily, loopsFamily, lobesFamily, foilFamily,
	guillocheFamily, latticeFamily,
}

// Families are all families, in the order in which they are listed.
func Families() []Family { return families[:] }

// FamilyNamed is the family of a name; where there is none, near is the name of one that
// was likely meant.
func FamilyNamed(name string) (f Family, near string, ok bool) {
	var names []string
	for _, f := range families {
		if f.Name == name {
			return f, "", true
		}
		names = append(names, f.Name)
	}
	return Family{}, diag.Nearest(strings.ToLower(name), names), false
}

// Keys are the keys of the family's table: its own, and then those that all have.
func (f Family) Keys() []conf.Key {
	return append(append([]conf.Key{nameKey}, f.keys...), placeKeys...)
}

// placeKeys say where a pattern lies, and how large it is.
var placeKeys = []conf.Key{
	{Name: "size", Is: conf.Point, Said: "from its measures", Quiet: true, Example: conf.Typed{"[300, 200]", "[12, 8]"}, Ask: "the width and height that it must fit into", Help: "the width and height that its centre lines must fit into, in place of its size"},
	{Name: "center", Is: conf.Place, Said: "the origin", Quiet: true, Example: conf.Typed{"[0, 0]"}, Help: "where its middle lies"},
	{Name: "turn", Is: conf.Angle, Default: conf.Typed{"0"}, Quiet: true, Example: conf.Typed{"45"}, Help: "how far it is turned about its middle, counter-clockwise"},
}

// sizeKey is the key that says how large a pattern is.
func sizeKey(name, help string, example conf.Typed) conf.Key {
	return conf.Key{Name: name, Is: conf.Length, Range: conf.Positive, Said: "for the job's rider", Quiet: true, Example: example, Help: help}
}

// familyKeys are the keys of [motif] that are families.
func familyKeys() []conf.Key {
	var keys []conf.Key
	for _, f := range families {
		keys = append(keys, conf.Key{Name: f.Name, Is: conf.List(0, conf.TableOf("motif."+f.Name)), Help: f.About})
	}
	return keys
}

func familyTables() []conf.Table {
	var tables []conf.Table
	for _, f := range families {
		tables = append(tables, conf.Table{Path: "motif." + f.Name, Keys: f.Keys()})
	}
	return tables
}

const (
	// usualRider in mm is the rider for which a pattern is sized where none is given: a
	// common template bushing (common practice).
	usualRider = 16
	// roomy is by how much the radius to which a pattern is sized is larger than what the
	// rider needs, as a share, and roomyWeb in mm by how much at least: as much as the
	// wood between two tracks, so that there are fewer set-ups.
	roomy    = 1.25
	roomyWeb = 8
)

// need is the smallest radius in mm of a curve that the job's rider follows; of a job
// whose router rides on nothing, or isn't known, one that most riders follow.
func (r *reader) need() (radius float64, known bool) {
	rt := r.router
	radius = rt.RiderDiameter/2 + max(0, r.inlay.Width-rt.Bit)/2
	if !rt.Guide.HasPanels() || !(radius > 0) {
		return usualRider / 2, false
	}
	return radius, true
}

// pattern reads a family's table.
func (r *reader) pattern(d drawn, f Family) []geom.Contour {
	size := f.sizeOf(d.t)
	if d.t.Given(size) && math.IsNaN(d.t.Length(size)) {
		return nil // reported, and once
	}
	p := f.read(d.t)
	if p == nil {
		return nil // reported
	}
	if both := r.sizedTwice(d.t, f); both {
		return nil
	}
	if !d.t.Given(size) {
		if p = r.sized(d.t, f, p); p == nil {
			return nil
		}
	}
	cs, err := p.Draw()
	if err != nil {
		r.misdrawn(d.t, err)
		return nil
	}
	if r.lost(d.t, size, cs) {
		return nil
	}
	r.remarkTight(d.t, f, p, cs)
	r.remarkCrowded(d.t, cs)
	r.remarkWary(d.t, p)
	at, turn := geom.Point{}, d.t.Angle("turn")
	if d.t.Given("center") {
		at = point(d.t, "center")
	}
	if !at.Finite() || math.IsNaN(turn) {
		return nil
	}
	place := geom.Turning(turn).Then(geom.Shifting(at))
	if n, ok := p.(family.Counted); ok {
		r.numbers[d.name] = numbersOf(n).Placed(place)
	}
	for i, c := range cs {
		cs[i] = place.Contour(c)
		r.reach(cs[i], d.t.Value)
	}
	return cs
}

// lost reports, and refuses, a pattern that is lost in its own groove: most likely its
// unit is wrong.
func (r *reader) lost(t conf.Section, size string, cs []geom.Contour) bool {
	box := geom.EmptyBox()
	for _, c := range cs {
		box = box.Join(c.Bounds())
	}
	across := max(box.Size().X, box.Size().Y)
	if !(across < leastAcross*r.inlay.Width) {
		return false
	}
	at := t.Get(size)
	if at == nil {
		at = t.Value
	}
	r.Errorf(at, ruleTight, "the whole pattern is %s across, and its groove %s wide", r.show(across), r.show(r.inlay.Width)).
		Hintf("make it larger; is the unit right? a bare number means %s here", r.Units.Name())
	return true
}

// leastAcross is how many widths of its groove a pattern measures at least: with less
// there is no wood between its strands.
const leastAcross = 4

// sizeOf is the key that says how large the table's pattern is.
func (f Family) sizeOf(t conf.Section) string {
	if f.Other != "" && t.Given(f.Other) {
		return f.Other
	}
	return f.Size
}

// sizedTwice reports a pattern whose size is given in two ways.
func (r *reader) sizedTwice(t conf.Section, f Family) bool {
	given := ""
	for _, key := range []string{f.Size, f.Other, "size"} {
		if key == "" || !t.Given(key) {
			continue
		}
		if given != "" {
			r.Errorf(t.Get(key), ruleConflict, "%s and %s are both given", given, key).Hintf("remove one of them")
			return true
		}
		given = key
	}
	return false
}

// sized gives a pattern the size that fits what the table asks for, else the job's rider.
func (r *reader) sized(t conf.Section, f Family, p family.Pattern) family.Pattern {
	if t.Given("size") {
		box := point(t, "size")
		size, ok := family.Fit(p, box)
		switch {
		case !box.Finite():
			return nil
		case ok:
			return p.Sized(size)
		}
		r.unfit(t, p, box)
		return nil
	}
	need, _ := r.need()
	least, ok := family.Least(p, need)
	if !ok {
		r.cantBe(t, p.Sized(roomy*need), "the job's rider can't follow this pattern at any size")
		return nil
	}
	size := least
	if at, ok := family.Least(p, roomyFor(need)); ok {
		size = at
	}
	size = r.roundUp(r.spread(p, size, need))
	r.sizes = append(r.sizes, size)
	why := "roomy for the rider, which needs " + unit.AtLeast(least).In(r.Units) + " or more"
	if family.Straight(p.Sized(size)) {
		why = "roomy for the rider, which follows straights of any size"
	}
	r.Notef(t.Value, conf.RuleAssumed, "[%s] assumed: %s %s, %s", t.Table.Path, f.Size, r.show(size), why)
	return p.Sized(size)
}

// roomyFor is the radius, or the distance of lines beside one another, for which a pattern
// is sized if the rider needs so much.
func roomyFor(need float64) float64 { return max(roomy*need, need+roomyWeb) }

// spread is a size, or a larger one at which no two crossings are so near to one another
// that strips would be cut into crumbs; of a pattern of straights, which any rider follows,
// none nearer than half the rider, and of lines side by side none that a panel has no room
// for, so that a few panels do.
func (r *reader) spread(p family.Pattern, size, need float64) float64 {
	apart := roomyCrossings * r.inlay.Width
	if family.Straight(p.Sized(size)) {
		apart = max(apart, need)
	}
	if t, ok := p.Sized(size).(family.Tracked); ok && t.Tracks() < roomyFor(need) {
		size *= roomyFor(need) / t.Tracks()
	}
	for range spreads {
		drawn, err := p.Sized(size).Draw()
		if err != nil {
			return size
		}
		nearest := family.Nearest(drawn)
		if !(nearest < apart) {
			return size
		}
		size *= apart / nearest
	}
	return size
}

const (
	// roomyCrossings is how far apart crossings are where the pattern's size isn't given, in
	// widths of the groove, and crowded how near to one another they may be without a
	// warning: at a width bands that cross squarely fill all between.
	roomyCrossings = 3
	crowded        = 1.5
	// spreads bounds how often a pattern is made larger for its crossings. Once does where
	// all of it grows with its size.
	spreads = 4
)

// roundUp is the next larger length that one would choose: whole millimetres, or 1/16 in.
func (r *reader) roundUp(mm float64) float64 {
	step := 1.0
	if r.Units == unit.Inch {
		step = unit.MMPerInch / 16
	}
	return math.Ceil(mm/step) * step
}

// cantBe says why no size does: what is wrong with the pattern at one, else why itself.
func (r *reader) cantBe(t conf.Section, p family.Pattern, why string) {
	if _, err := p.Draw(); err != nil {
		r.misdrawn(t, err)
		return
	}
	r.Errorf(t.Value, ruleFamily, "%s", why).Hintf("give its lengths in proportion, or leave them out")
}

// unfit says how large a pattern must be at least that doesn't fit into a box.
func (r *reader) unfit(t conf.Section, p family.Pattern, box geom.Point) {
	least, ok := family.SmallestBox(p)
	if !ok {
		r.cantBe(t, p.Sized(min(box.X, box.Y)), "no size of this pattern fits into that")
		return
	}
	others := "its other lengths"
	for _, key := range []string{"round", "radius"} {
		if t.Value.Get(key) != nil { // a family may lack it
			others = key
			break
		}
	}
	x, y := unit.AtLeast(least.X), unit.AtLeast(least.Y)
	r.Errorf(t.Get("size"), ruleFamily, "the pattern doesn't fit into that: with %s as given it is at least %s wide and %s high", others, x.In(r.Units), y.In(r.Units)).
		Hintf("leave %s out or make it smaller, or write a larger size: [%s, %s]", others, r.typed(x), r.typed(y))
}

// remarkWary warns of what the pattern itself is wary of.
func (r *reader) remarkWary(t conf.Section, p family.Pattern) {
	w, ok := p.(family.Wary)
	if !ok {
		return
	}
	if f := w.Wary(); f != nil {
		at := t.Get(f.Key)
		if at == nil {
			at = t.Value
		}
		r.Warnf(at, ruleWary, "%s: %s", f.Key, f.Text.In(r.Units)).Hintf("%s", f.Hint.In(r.Units))
	}
}

// misdrawn reports a pattern that can't be drawn, at the key that is to blame.
func (r *reader) misdrawn(t conf.Section, err error) {
	var f *family.Fault
	if !errors.As(err, &f) {
		return // a measure that was wrong by itself, and reported
	}
	at := t.Value
	key, item, _ := strings.Cut(f.Key, ".")
	if given := t.Get(key); given != nil {
		at = given
		if i, err := strconv.Atoi(item); err == nil && i <= len(given.Items) {
			at = given.Items[i-1]
		}
	}
	r.Errorf(at, ruleFamily, "%s: %s", key, f.Text.In(r.Units)).Hintf("%s", f.Hint.In(r.Units))
}

// remarkTight says which size the rider needs, where a pattern has curves that are too tight
// for it.
func (r *reader) remarkTight(t conf.Section, f Family, p family.Pattern, cs []geom.Contour) {
	need, known := r.need()
	tightest := family.Tightest(cs)
	if !known || tightest >= need*(1-tightSlack) {
		return
	}
	found := r.Warnf(t.Value, ruleTight, "its tightest curve has a radius of %s, and a rider of %s needs %s",
		r.show(tightest), r.show(r.router.RiderDiameter), unit.AtLeast(need).In(r.Units))
	key := f.sizeOf(t)
	least, ok := family.Least(p, need)
	switch {
	case ok && !t.Given("size"):
		found.Hintf("write %s = %s or more", key, r.typed(unit.AtLeast(least))).Propose(t.Path(key), unit.AtLeast(least))
	case !ok && t.Value.Get("round") != nil: // a family may lack it
		found.Hintf("write round = %s or more, or leave it out", r.typed(unit.AtLeast(need)))
	default:
		found.Hintf("make it larger, or use a rider of at most %s", unit.AtMost(2*tightest-r.inlay.Width+r.router.Bit).In(r.Units))
	}
}

// remarkCrowded warns of crossings that leave nothing of the strips between them.
func (r *reader) remarkCrowded(t conf.Section, cs []geom.Contour) {
	if nearest := family.Nearest(cs); nearest < crowded*r.inlay.Width {
		r.Warnf(t.Value, ruleCrowded, "its nearest two crossings are %s apart, where the groove is %s wide", r.show(nearest), r.show(r.inlay.Width)).
			Hintf("make it larger, or the groove narrower")
	}
}

// tightSlack is a share by which a curve may be tighter than the rider needs: rounding.
const tightSlack = 1e-9

package job

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// The defaults of [template] and [inlay].
var (
	defaultWeb    = preset{mm: 8, inch: 5.0 / 16}
	defaultMargin = preset{mm: 25, inch: 1}
	defaultWall   = preset{mm: 9, inch: 3.0 / 8}
	defaultFloor  = preset{mm: 3, inch: 1.0 / 8}
	defaultFrame  = preset{mm: 60, inch: 2 + 3.0/8}
	defaultPlay   = preset{mm: 0.1, inch: 0.004}
	// defaultProud is common practice: a few strokes of a scraper.
	defaultProud = preset{mm: 0.3, inch: 0.012}
)

const (
	// perNanometre rounds a sum of thicknesses to what was meant: 5.08, not
	// 5.080000000000001.
	perNanometre = 1e6
	// maxKerf in mm is more than any cutter for sheet; what suits a laser and what a
	// router is judged where the shop's profile is known.
	maxKerf = 50
)

func (r *reader) readWeave(t *node) work.Weaving {
	w := work.Weaving{FirstOver: true}
	if n := t.get("first"); n != nil {
		w.FirstOver = r.choice(n, "first", "over", "under") != 1
	}
	r.assume("weave", t, "first", `"over"`)
	if n := t.get("flip"); n != nil && r.pointList(n, "flip") && r.atMost(n, "flip", mostListed) {
		for i, p := range n.items {
			w.Flips = append(w.Flips, work.Flip{At: r.point(p, "a crossing of flip"), Key: diag.Key(fmt.Sprintf("weave.flip.%d", i+1))})
		}
	}
	return w
}

func (r *reader) readInlay(t *node) work.Inlay {
	in := work.Inlay{
		Depth:     r.mustLength(t, "depth", positive, "write the groove's depth, such as depth = "+r.either("3", `"1/8"`)),
		Proud:     r.presetOr(t, "proud", notNegative, defaultProud),
		Clearance: r.lengthOr(t, "clearance", notNegative, 0),
	}
	strips, width := t.get("strips"), t.get("width")
	switch {
	case t.def == absent:
		in.Width = bad
	case strips != nil && width != nil:
		r.errorf(ruleConflict, width.off, "strips and width are both given").Hintf("the strips make the width; take one of them away")
		in.Width = bad
	case strips == nil && width == nil && (slices.Contains(t.meant, "strips") || slices.Contains(t.meant, "width")):
		in.Width = bad // a misspelt one is told already
	case strips == nil && width == nil:
		r.errorf(ruleMissing, t.off, "neither strips nor width is given").
			Hintf("%s, or width = %s", r.stripsExample(), r.either("5", `"3/16"`))
		in.Width = bad
	case width != nil:
		in.Width = r.length(width, "width", positive)
		r.noEffect(t, "clearance", "width is the whole width of the groove")
		r.assume("inlay", t, "proud", r.usual(defaultProud))
	default:
		in.Strips, in.Width = r.strips(strips)
		in.Width = math.Round((in.Width+in.Clearance)*perNanometre) / perNanometre
		r.assume("inlay", t, "proud", r.usual(defaultProud), "clearance", r.show(0))
	}
	return in
}

// strips reads the stack and adds it up.
func (r *reader) strips(list *node) ([]work.Strip, float64) {
	example := r.stripsExample()
	if list.kind != nodeList {
		r.wrongType(list, "strips", "a list", example)
		return nil, bad
	}
	if len(list.items) == 0 {
		r.errorf(ruleValue, list.off, "strips is empty").Hintf("%s", example)
		return nil, bad
	}
	if !r.atMost(list, "strips", mostStrips) {
		return nil, bad
	}
	var ss []work.Strip
	var sum float64
	for _, t := range list.items {
		if t.kind != nodeTable {
			r.wrongType(t, "a strip", "a table", example)
			sum = bad
			continue
		}
		r.known("inlay.strips", t)
		s := work.Strip{Thickness: r.mustLength(t, "thickness", positive, "write thickness = "+r.either("0.9", `"1/32"`))}
		if n := r.required(t, "material", `write material = "holly"`); n != nil {
			if s.Material = r.text(n, "material"); n.kind == nodeString && n.text == "" {
				r.errorf(ruleValue, n.off, "material is empty")
			}
		}
		sum += s.Thickness
		ss = append(ss, s)
	}
	return ss, sum
}

func (r *reader) stripsExample() string {
	return `write strips = [{ material = "holly", thickness = ` + r.either("0.9", `"1/32"`) + ` }]`
}

func (r *reader) readRouter(t *node) work.Router {
	rt := work.Router{
		Bit:            r.mustLength(t, "bit", positive, `write the width of the slot it cuts, as measured: bit = "1/8 in"`),
		Flute:          r.lengthOr(t, "flute", positive, 0),
		Shank:          r.lengthOr(t, "shank", positive, 0),
		Base:           r.lengthOr(t, "base", positive, 0),
		Collar:         r.lengthOr(t, "collar", positive, 0),
		OffCenter:      r.lengthOr(t, "off_center", notNegative, 0),
		OffCenterGiven: t.get("off_center") != nil,
		Stickout:       r.lengthOr(t, "stickout", positive, 0),
		Nut:            r.lengthOr(t, "nut", positive, 0),
		NutLength:      r.lengthOr(t, "nut_length", positive, 0),
		Nose:           r.lengthOr(t, "nose", positive, 0),
		Plunge:         r.flagOr(t, "plunge", true),
	}
	if rt.Bit < leastBit {
		r.errorf(ruleValue, t.get("bit").off, "no bit is thinner than %s", unit.AtLeast(leastBit).In(r.units)).Hintf("is the unit right? a bare number means %s here", r.units.Name())
		rt.Bit = bad
	}
	if n := t.get("stickout"); n != nil && rt.Stickout > 0 && rt.Stickout < rt.Flute {
		out, flute := unit.Apart(rt.Stickout, rt.Flute)
		r.errorf(ruleValue, n.off, "a stickout of %s leaves flutes of %s in the collet", out.In(r.units), flute.In(r.units)).
			Hintf("measure it from the collet nut's face to the bit's tip, and flute as the cutting length alone")
	}
	guide := r.guide(t)
	if r.forProgram || work.Guide(guide) == work.GuideNone {
		return r.unguided(t, rt)
	}
	rt.Rider = bad
	if guide >= 0 {
		rt.Guide = work.Guide(guide)
		rt.Rider = r.rider(t, rt)
	}
	if t.def != absent {
		r.assume("router", t, "plunge", "true", "off_center", r.show(0))
	}
	return rt
}

// guide is what steers the router; -1 if that isn't known.
func (r *reader) guide(t *node) int {
	words := make([]string, work.GuideNone+1)
	for g := range words {
		words[g] = work.Guide(g).String()
	}
	n := t.get("guide")
	if n == nil && r.forProgram {
		return int(work.GuideNone)
	}
	if n = r.required(t, "guide", `write what rides the template: guide = "base", "bushing", "bearing" or "pivot"; or "none" for a machine's program without templates`); n != nil {
		return r.choice(n, "guide", words...)
	}
	return -1
}

// unguided is the router of a machine: a bit and what holds and turns it.
func (r *reader) unguided(t *node, rt work.Router) work.Router {
	for _, key := range []string{"rider", "base", "collar", "plunge", "off_center"} {
		r.idle(t, key, "a machine has no router on a template")
	}
	rt.Guide, rt.Rider, rt.Base, rt.Collar, rt.OffCenter, rt.OffCenterGiven, rt.Plunge = work.GuideNone, 0, 0, 0, 0, false, true
	return rt
}

// idle notes a key that has no effect since the guide is none; where a file is only
// read for its program, nothing is wrong with what is there for templates.
func (r *reader) idle(t *node, key, why string) {
	if !r.forProgram {
		r.noEffect(t, key, `guide is "none", and `+why)
	}
}

// rider is the diameter of what touches the template.
func (r *reader) rider(t *node, rt work.Router) float64 {
	n := t.get("rider")
	if rt.Guide != work.GuideBushing {
		r.noEffect(t, "collar", "the guide is no bushing")
	}
	switch rt.Guide {
	case work.GuideBase:
		r.noEffect(t, "base", "the rider is the base")
	case work.GuideBushing:
	case work.GuideBearing:
		if n == nil {
			r.assume("router", t, "rider", "as wide as the bit")
			return rt.Bit
		}
	case work.GuidePivot:
		if n != nil {
			r.errorf(ruleConflict, n.off, "a pivot has no rider").Hintf("take rider away")
		}
		return 0
	}
	return r.mustLength(t, "rider", positive, "write the diameter of what touches the template, as measured: rider = "+r.either("100", "4"))
}

func (r *reader) readTemplate(t *node, g work.Guide) work.Template {
	tp := work.Template{
		Web:    r.presetOr(t, "web", positive, defaultWeb),
		Margin: r.presetOr(t, "margin", notNegative, defaultMargin),
		Wall:   r.presetOr(t, "wall", positive, defaultWall),
		Floor:  r.presetOr(t, "floor", notNegative, defaultFloor),
		Frame:  r.presetOr(t, "frame", notNegative, defaultFrame),
		Play:   r.presetOr(t, "play", notNegative, defaultPlay),
		Turn:   r.flagOr(t, "turn", true),
		Flip:   r.flagOr(t, "flip", false),
	}
	if n := t.get("prefer"); n != nil {
		tp.Prefer = work.Prefer(max(0, r.choice(n, "prefer", "clean", "setups", "panels")))
	}
	said := []string{
		"web", r.usual(defaultWeb), "margin", r.usual(defaultMargin), "wall", r.usual(defaultWall), "frame", r.usual(defaultFrame),
		"play", r.usual(defaultPlay), "turn", "true", "flip", "false", "prefer", `"clean"`,
	}
	if g == work.GuideBase {
		said = append(said, "floor", r.usual(defaultFloor))
	} else {
		r.noEffect(t, "floor", "only a base stands on a floor")
		tp.Floor = 0
	}
	r.assume("template", t, said...)
	r.checkTemplate(t, tp, g)
	return tp
}

func (r *reader) checkTemplate(t *node, tp work.Template, g work.Guide) {
	if n := t.get("flip"); n != nil && tp.Flip && g == work.GuideBase && tp.Floor > 0 {
		r.errorf(ruleConflict, n.off, "a base-riding panel cannot be turned over: its floor would be on top").Hintf("write flip = false")
	}
	n := t.get("web")
	if n == nil {
		n = t.get("wall")
	}
	if n != nil && tp.Web < tp.Wall {
		r.warnf(ruleThinWeb, n.off, "a web of %s is thinner than the wall's %s and may break", r.show(tp.Web), r.show(tp.Wall)).
			Hintf("write web = %s", r.typed(unit.AtLeast(tp.Wall))).Propose("template.web", unit.AtLeast(tp.Wall))
	}
}

func (r *reader) readBoard(t *node) *work.Board {
	if t == nil {
		return nil
	}
	if t.kind != nodeTable {
		r.wrongType(t, "board", "a table", "write [board] on a line of its own, and its keys below")
		return nil
	}
	r.known("board", t)
	b := &work.Board{Thickness: r.mustLength(t, "thickness", positive, "write thickness = "+r.either("22", `"3/4"`))}
	if n := t.get("grain"); n != nil {
		b.Grain = r.angle(n, "grain")
	}
	r.assume("board", t, "grain", "along x", "origin", "in the middle")
	n := r.required(t, "size", "write size = [width, height]")
	if n == nil {
		return b
	}
	b.Size = r.point(n, "size")
	if b.Size.X <= 0 || b.Size.Y <= 0 {
		r.errorf(ruleValue, n.off, "size must be more than 0 both ways").Hintf("write the board's width and height: size = %s", r.either("[600, 400]", "[24, 16]"))
	}
	b.Origin = geom.Pt(b.Size.X/2, b.Size.Y/2)
	if n := t.get("origin"); n != nil {
		b.Origin = r.point(n, "origin")
	}
	return b
}

func (r *reader) readCutting(t *node) *Cutting {
	if t == nil {
		r.notef(ruleAssumed, top, "no [cutting]: outlines are drawn at true size, and the shop allows for the kerf")
		return nil
	}
	if t.kind != nodeTable {
		r.wrongType(t, "cutting", "a table", "write [cutting] on a line of its own, and its keys below")
		return nil
	}
	r.known("cutting", t)
	c := &Cutting{Kerf: r.lengthOr(t, "kerf", notNegative, 0), KerfGiven: t.get("kerf") != nil}
	if n := t.get("profile"); n != nil {
		if c.Profile = r.text(n, "profile"); n.kind == nodeString && n.text == "" {
			r.errorf(ruleValue, n.off, "profile is empty").Hintf("name a profile, or take the key away")
		}
	}
	if c.Kerf > maxKerf {
		n := t.get("kerf")
		r.errorf(ruleValue, n.off, "a kerf of %s is no kerf", r.show(c.Kerf)).Hintf("lasers burn %s: kerf = %s; a router's kerf is its cutter", r.either("0.1 to 0.3 mm", "0.004 to 0.012 in"), r.either("0.18", "0.007"))
	}
	n := r.required(t, "kerf_by", `write kerf_by = "me" to draw the outlines compensated, or "shop" if the shop does it: never both, never neither`)
	if n == nil {
		return c
	}
	switch r.choice(n, "kerf_by", "me", "shop") {
	case 0:
		c.KerfBy = work.KerfByMe
		if !c.KerfGiven {
			r.errorf(ruleMissing, n.off, `kerf_by = "me" needs the kerf`).Hintf("measure the cut's full width in a test cut: kerf = %s; a router's is the slot that its cutter makes", r.either("0.18", "0.007"))
		}
	case 1:
		c.KerfBy = work.KerfByShop
		r.noEffect(t, "kerf", "the shop allows for it")
	}
	return c
}

// fits checks lengths of different tables against each other. What was wrong
// by itself is NaN by now, and fits everything.
func (r *reader) fits(j *Job) {
	rt, in := j.Router, j.Inlay
	r.boundPasses(j)
	if rt.Bit > in.Width+geom.Coincident {
		r.fit("router", "bit", "the bit of %s is wider than the groove of %s", rt.Bit, in.Width).
			Hintf("use a narrower bit, or more strips")
	}
	if rt.Rider != 0 && rt.Rider < rt.Bit-geom.Coincident {
		r.fit("router", "rider", "the rider of %s is smaller than the bit of %s", rt.Rider, rt.Bit).
			Hintf("rider is a diameter, as is bit")
	}
	// A recut goes along the new walls only: each pass takes a bit's width.
	if j.Program != nil && j.Program.Widen > 2*rt.Bit {
		r.fit("program", "widen", "a recut that is %s wider leaves a rib on each side, as the bit has only %s", j.Program.Widen, rt.Bit).
			Hintf("groove the whole at the new width, with widen = 0").Propose("program.widen", unit.Len(0))
	}
	if j.Board != nil && in.Depth >= j.Board.Thickness {
		r.fit("inlay", "depth", "the groove's depth of %s goes through the board of %s", in.Depth, j.Board.Thickness).
			Hintf("leave wood under the groove: a depth of less than the board's thickness")
	}
}

// fit tells that two lengths, in mm, do not go together.
func (r *reader) fit(table, key, format string, a, b float64) *diag.Finding {
	as, bs := unit.Apart(a, b)
	return r.errorf(ruleFit, r.src.root.get(table).get(key).off, format, as.In(r.units), bs.In(r.units))
}

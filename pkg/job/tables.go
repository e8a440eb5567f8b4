package job

import (
	"fmt"
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

const (
	// perNanometre rounds a sum of thicknesses to what was meant: 5.08, not
	// 5.080000000000001.
	perNanometre = 1e6
	// maxKerf in mm is more than any cutter for sheet; what suits a laser and what a
	// router is judged where the shop's profile is known.
	maxKerf = 50
	// maxAllowance in mm is more than anybody trims off a strip.
	maxAllowance = 100
)

// bad is a length that is missing or wrong, and reported.
var bad = conf.Bad

// point is a key's place in mm.
func point(s conf.Section, key string) geom.Point { return geom.Pt(s.Point(key)) }

func (r *reader) readWeave(top conf.Section) work.Weaving {
	t, _ := top.Sub("weave")
	w := work.Weaving{FirstOver: t.Word("first") != 1, Breaks: t.Flag("breaks")}
	if !top.Given("table") {
		t.NoEffect("breaks", "the work doesn't come apart: breaks are only warned of")
	}
	t.Assume("")
	v := t.Get("flip")
	if v == nil {
		return w
	}
	if items, ok := r.Points(v, "flip"); ok && r.AtMost(v, "flip", mostListed) {
		for i, item := range items {
			at := geom.Pt(r.Place(item, "a crossing of flip"))
			w.Flips = append(w.Flips, work.Flip{At: at, Key: diag.Key(fmt.Sprintf("weave.flip.%d", i+1))})
		}
	}
	return w
}

func (r *reader) readInlay(top conf.Section) work.Inlay {
	t, ok := top.Sub("inlay")
	in := work.Inlay{Depth: t.Length("depth"), Proud: t.Length("proud"), Clearance: t.Length("clearance"), Width: bad}
	in.Laid, in.Allowance = work.Laid(max(0, t.Word("laid"))), t.Length("allowance")
	in.Glue = work.Glue(1 + t.Word("glue"))
	in.Forms = t.Flag("forms")
	strips, width := t.Get("strips"), t.Get("width")
	switch {
	case !ok: // reported
	case strips != nil && width != nil:
		r.widthTwice(t, strips, width)
	case strips == nil && width == nil && (t.Misspelt("strips") || t.Misspelt("width")): // reported
	case strips == nil && width == nil:
		r.Faultf(t.Value, conf.Missing, "neither strips nor width is given").
			Hintf("%s, or %s", t.Hint("strips"), format.Table("inlay").Key("width").Line(r.Units))
	case width != nil:
		in.Width = t.Length("width")
		t.NoEffect("clearance", "width is the whole width of the groove")
		t.NoEffect("laid", "the job names no strips")
		t.Assume("", "clearance")
	default:
		in.Strips, in.Width = r.strips(t, strips)
		in.Width = math.Round((in.Width+in.Clearance)*perNanometre) / perNanometre
		t.Assume("")
	}
	return in
}

// widthTwice reports strips and a width that are both given.
func (r *reader) widthTwice(t conf.Section, strips, width *conf.Value) {
	_, sum := r.strips(t, strips)
	if groove := t.Length("width"); sum > groove+geom.Coincident {
		together, wide := unit.Apart(sum, groove)
		r.Errorf(width, ruleFit, "the strips are %s together, thicker than the groove of %s", together.In(r.Units), wide.In(r.Units)).
			Hintf("remove width: the strips and clearance make it; or use thinner strips, and remove width too")
		return
	}
	r.Errorf(width, ruleConflict, "strips and width are both given").Hintf("the strips make the width; remove one of them")
}

// strips reads the lay-up and adds it up.
func (r *reader) strips(t conf.Section, list *conf.Value) ([]work.Strip, float64) {
	switch {
	case list.Kind != conf.KindList:
		t.WrongType("strips", "a list")
		return nil, bad
	case len(list.Items) == 0:
		r.Faultf(list, conf.BadValue, "strips is empty").Hintf("%s", t.Hint("strips"))
		return nil, bad
	}
	var ss []work.Strip
	var sum float64
	for _, strip := range t.List("strips", mostStrips) {
		s := work.Strip{Thickness: strip.Length("thickness"), Material: strip.Name("material"), Color: r.color(strip), Temper: r.textOf(strip, "temper"), BendsLike: r.textOf(strip, "bends_like")}
		r.checkMaterial(strip, "material", s.Material, s.Color)
		r.checkFormula(strip, "material", s.Material)
		sum += s.Thickness
		ss = append(ss, s)
	}
	if len(ss) == 0 {
		sum = bad
	}
	return ss, sum
}

// textOf is a text that may be left out but isn't empty.
func (r *reader) textOf(t conf.Section, key string) string {
	if !t.Given(key) {
		return ""
	}
	return t.Name(key)
}

func (r *reader) readRouter(top conf.Section) work.Router {
	t, ok := top.Sub("router")
	rt := work.Router{
		Bit: t.Length("bit"), Flute: t.Length("flute"), ShankDiameter: t.Length("shank"), BaseDiameter: t.Length("base"), Collar: t.Length("collar"),
		OffCenter: t.Length("off_center"), OffCenterGiven: t.Given("off_center"), Plunge: t.Flag("plunge"),
		Body: work.Body{Stickout: t.Length("stickout"), NutDiameter: t.Length("nut"), NutLength: t.Length("nut_length"), NoseDiameter: t.Length("nose")},
	}
	if rt.Stickout > 0 && rt.Stickout < rt.Flute {
		out, flute := unit.Apart(rt.Stickout, rt.Flute)
		r.Faultf(t.Get("stickout"), conf.BadValue, "a stickout of %s leaves flutes of %s in the collet", out.In(r.Units), flute.In(r.Units)).
			Hintf("measure it from the collet nut's face to the bit's tip, and flute as the cutting length alone")
	}
	guide := int(work.GuideNone)
	if r.purpose != toMill || t.Given("guide") {
		guide = t.Word("guide")
	}
	if r.purpose == toMill || work.Guide(guide) == work.GuideNone {
		return r.unguided(t, rt)
	}
	rt.RiderDiameter = bad
	if guide >= 0 {
		rt.Guide = work.Guide(guide)
		rt.RiderDiameter = r.rider(t, rt)
	}
	if ok {
		t.Assume(rt.Guide.String())
	}
	return rt
}

// unguided is the router of a machine: a bit and what holds and turns it.
func (r *reader) unguided(t conf.Section, rt work.Router) work.Router {
	for _, k := range t.Table.Keys {
		if len(k.For) > 0 {
			r.idle(t, k.Name, "a machine has no router on a template")
		}
	}
	rt.Guide, rt.RiderDiameter, rt.BaseDiameter, rt.Collar, rt.OffCenter, rt.OffCenterGiven, rt.Plunge = work.GuideNone, 0, 0, 0, 0, false, true
	return rt
}

// rider is the diameter of what touches the template.
func (r *reader) rider(t conf.Section, rt work.Router) float64 {
	t.Idle(rt.Guide.String())
	v := t.Get("rider")
	switch {
	case rt.Guide == work.GuidePivot && v != nil:
		r.Errorf(v, ruleConflict, "a pivot has no rider").Hintf("remove rider")
		return 0
	case rt.Guide == work.GuidePivot:
		return 0
	case rt.Guide == work.GuideBearing && v == nil:
		t.Assumed("rider as wide as the bit")
		return rt.Bit
	case t.Require("rider") == nil:
		return bad
	}
	return t.Length("rider")
}

func (r *reader) readTemplate(top conf.Section, g work.Guide) work.Template {
	t, _ := top.Sub("template")
	tp := work.Template{
		Web: t.Length("web"), Margin: t.Length("margin"), Wall: t.Length("wall"), Floor: t.Length("floor"),
		Frame: t.Length("frame"), Play: t.Length("play"), Turn: t.Flag("turn"), Flip: t.Flag("flip"),
		Prefer: work.Prefer(max(0, t.Word("prefer"))), Step: work.Stepped,
	}
	if t.Given("step") {
		tp.Step = t.Count("step")
	}
	if !g.TakesFloor() {
		tp.Floor = 0
	}
	t.Idle(g.String())
	t.Assume(g.String())
	r.checkTemplate(t, tp, g)
	return tp
}

func (r *reader) checkTemplate(t conf.Section, tp work.Template, g work.Guide) {
	if v := t.Get("flip"); v != nil && tp.Flip && !g.TurnsOver() && tp.Floor > 0 {
		r.Errorf(v, ruleConflict, "a base-riding panel cannot be turned over: its floor would be on top").Hintf("write flip = false")
	}
	v := t.Get("web")
	if v == nil {
		v = t.Get("wall")
	}
	if v != nil && tp.Web < tp.Wall {
		r.Warnf(v, ruleThinWeb, "a web of %s is thinner than the wall's %s and may break", r.show(tp.Web), r.show(tp.Wall)).
			Hintf("write web = %s", r.typed(unit.AtLeast(tp.Wall))).Propose("template.web", unit.AtLeast(tp.Wall))
	}
}

func (r *reader) readBoard(top conf.Section) *work.Board {
	t, ok := top.Sub("board")
	if !ok {
		return nil
	}
	b := &work.Board{Thickness: t.Length("thickness"), Grain: t.Angle("grain")}
	t.Assume("")
	v := t.Get("size")
	if v == nil {
		return b
	}
	b.Size = point(t, "size")
	if b.Size.X <= 0 || b.Size.Y <= 0 {
		r.Faultf(v, conf.BadValue, "size must be more than 0 both ways").Hintf("%s", t.Hint("size"))
	}
	b.Origin = geom.Pt(b.Size.X/2, b.Size.Y/2)
	if t.Given("origin") {
		b.Origin = point(t, "origin")
	}
	return b
}

func (r *reader) readCutting(top conf.Section) *Cutting {
	t, ok := top.Sub("cutting")
	if !ok {
		if !top.Given("cutting") {
			r.NoteAt(conf.Top, conf.RuleAssumed, "no [cutting]: outlines are drawn at true size, and the shop allows for the kerf")
		}
		return nil
	}
	c := &Cutting{Profile: t.Name("profile"), Kerf: t.Length("kerf"), KerfGiven: t.Given("kerf")}
	switch t.Word("kerf_by") {
	case 0:
		c.KerfBy = work.KerfByMe
		if !c.KerfGiven {
			r.Faultf(t.Get("kerf_by"), conf.Missing, `kerf_by = "me" needs the kerf`).Hintf("%s", t.Hint("kerf"))
		}
	case 1:
		c.KerfBy = work.KerfByShop
		t.NoEffect("kerf", "the shop allows for it")
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
	if rt.RiderDiameter != 0 && rt.RiderDiameter < rt.Bit-geom.Coincident {
		r.fit("router", "rider", "the rider of %s is smaller than the bit of %s", rt.RiderDiameter, rt.Bit).
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

// fit reports that two lengths, in mm, do not go together.
func (r *reader) fit(table, key, format string, a, b float64) *diag.Finding {
	as, bs := unit.Apart(a, b)
	return r.Errorf(r.Find(diag.Key(table+"."+key)), ruleFit, format, as.In(r.Units), bs.In(r.Units))
}

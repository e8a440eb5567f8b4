package job

import (
	"fmt"
	"math"
	"regexp"
	"slices"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/work"
)

// maxSections is more than any table has alike.
const maxSections = 100

// sectionName is what a section's name may be: it is part of a file's.
var sectionName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_-]*$`)

// readTable reads a table that comes apart; nil where there is none.
func (r *reader) readTable(top conf.Section) *work.Table {
	t, ok := top.Sub("table")
	if !ok {
		return nil
	}
	if top.Given("board") {
		r.Errorf(t.Value, ruleConflict, "the work is both a [board] and a [table]").Hintf("remove one of them")
	}
	out := &work.Table{
		Width: t.Length("width"), Thickness: t.Length("thickness"), Grain: t.Angle("grain"), Stable: t.Word("core") == 1,
		Groove: work.JointGroove(max(0, t.Word("groove"))), Gap: t.Length("gap"), Saw: t.Length("saw"),
		ByStation: t.Word("inlay") == 1, TurnLeaves: t.Flag("turn_leaves"), JointCrossings: t.Flag("joint_crossings"), Play: t.Length("play"),
	}
	out.Across = out.Width / 2
	if t.Given("across") {
		out.Across = t.Length("across")
	}
	out.Stations = r.stations(t)
	r.sections(t, out)
	for i, d := range t.List("dowel", mostListed) {
		out.Dowels = append(out.Dowels, r.dowel(d, out.Thickness, diag.Key(fmt.Sprintf("table.dowel.%d", i+1))))
	}
	if s, given := t.Sub("tongue"); given {
		out.Tongue = &work.Tongue{Thickness: s.Length("thickness"), Below: below(s, out.Thickness), Length: s.Length("length"), Key: "table.tongue"}
		s.Assume("")
	}
	out.HasPlay = t.Given("play") || len(out.Dowels) > 0 || out.Tongue != nil
	r.idleTable(t, out)
	t.Assume("", r.quietTable(out)...)
	return out
}

// quietTable are the keys that nothing is noted of where they aren't given.
func (r *reader) quietTable(t *work.Table) []string {
	if len(t.Stations) > 0 {
		return []string{"across"}
	}
	return nil
}

// idleTable notes keys that change nothing, and refuses what contradicts itself.
func (r *reader) idleTable(t conf.Section, out *work.Table) {
	if len(out.Stations) > 0 {
		t.NoEffect("across", "the stations are given")
	}
	if out.Groove != work.GrooveGap {
		t.NoEffect("gap", `groove isn't "gap"`)
		out.Gap = 0
	} else if out.Gap == 0 {
		r.Faultf(t.Get("groove"), conf.Missing, `groove = "gap" needs the gap`).Hintf(`write gap, as measured between the sections; or groove = "closed"`)
	}
	if out.Groove != work.GrooveClosed {
		t.NoEffect("saw", `an inlay is only sawn through with groove = "closed"`)
		out.Saw = 0
	}
	if v := t.Get("across"); v != nil && len(out.Stations) == 0 && out.Across > out.Width {
		r.Faultf(v, conf.BadValue, "across is beyond the table's width of %s", r.show(out.Width)).Hintf("%s", t.Hint("across"))
	}
}

// stations are the motif's places of one's own; none where they are on the joints.
func (r *reader) stations(t conf.Section) (all []geom.Point) {
	v := t.Get("stations")
	if v == nil {
		return nil
	}
	if v.Kind != conf.KindList {
		t.Word("stations")
		return nil
	}
	if len(v.Items) == 0 {
		r.Faultf(v, conf.BadValue, "stations is empty").Hintf("%s", t.Hint("stations"))
	}
	for _, s := range t.List("stations", mostListed) {
		at := geom.Pt(s.Length("x"), s.Length("y"))
		if n := slices.Index(all, at); n >= 0 {
			r.Errorf(s.Get("x"), ruleConflict, "stations %d and %d are at one place", n+1, len(all)+1).Hintf("remove one of them")
		}
		all = append(all, at)
	}
	return all
}

// sections reads the ends and the leaves.
func (r *reader) sections(t conf.Section, out *work.Table) {
	v := t.Require("section")
	list := t.List("section", maxSections)
	named := map[string]work.Section{}
	total := 0
	for i, s := range list {
		own := work.Section{
			Name: s.Name("name"), Length: s.Length("length"), Count: s.Count("count"), Loose: s.Flag("loose"), Round: s.Word("end") == 1,
			Key: diag.Key(fmt.Sprintf("table.section.%d", i+1)),
		}
		ends := i == 0 || i == len(list)-1
		total += own.Count
		switch {
		case own.Name != "" && !sectionName.MatchString(own.Name):
			r.Faultf(s.Get("name"), conf.BadValue, "the section's name %q can't be part of a file's name", own.Name).Hintf("letters, digits, - and _, such as \"leaf\"")
		case own.Loose && ends:
			r.Errorf(s.Get("loose"), ruleConflict, "an end of the table can't be left out").Hintf("remove loose: only sections between the first and the last come out")
		case own.Round && !ends:
			r.Errorf(s.Get("end"), ruleConflict, "only the first and the last section have a free end").Hintf(`remove end = "round"`)
		case own.Count > 1 && ends && len(list) > 1:
			r.Errorf(s.Get("count"), ruleConflict, "an end of the table is one section").Hintf("remove count, and give the sections between the ends tables of their own")
		case own.Round && own.Length < out.Width/2:
			r.Faultf(s.Get("length"), conf.BadValue, "a half round of the table's width is %s long, more than the section's %s", r.show(out.Width/2), r.show(own.Length)).
				Hintf("make the section longer, or its end square")
		}
		if o, again := named[own.Name]; again && math.Abs(o.Length-own.Length) > geom.Coincident {
			r.Errorf(s.Get("length"), ruleConflict, "two sections are named %q, and differ in length: sections of one name are alike", own.Name).Hintf("give this one another name")
		}
		named[own.Name] = own
		out.Sections = append(out.Sections, own)
	}
	switch {
	case v == nil || len(list) == 0:
	case total < 2:
		r.Faultf(v, conf.BadValue, "a table that comes apart has two sections or more").Hintf("write [board] in place of [table] for a top in one piece")
	case total > maxSections:
		r.Faultf(v, conf.BadValue, "the table has %d sections: more than %d", total, maxSections).Hintf("fewer do")
	}
}

// dowel reads one kind of pins.
func (r *reader) dowel(t conf.Section, thick float64, key diag.Key) work.Dowel {
	d := work.Dowel{Diameter: t.Length("diameter"), Below: below(t, thick), Length: t.Length("length"), In: work.Side(max(0, t.Word("in"))), Key: key}
	if v := t.Get("at"); v != nil {
		for _, item := range t.Items("at", 0) {
			d.At = append(d.At, r.Length(item, "at", conf.NotNegative, t.Hint("at")))
		}
		if v.Kind == conf.KindList && len(v.Items) == 0 {
			r.Faultf(v, conf.BadValue, "at is empty").Hintf("%s", t.Hint("at"))
		}
	}
	t.Assume("")
	return d
}

// below is how far under the top something lies: half-way down where it isn't given.
func below(t conf.Section, thick float64) float64 {
	if t.Given("below") {
		return t.Length("below")
	}
	return thick / 2
}

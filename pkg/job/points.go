package job

// Named points, and points that are worked out from others.

import (
	"maps"
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A spot is a named point of [points], worked out when it is first wanted.
type spot struct {
	key   string
	value *conf.Value
	state state
	at    geom.Point // in mm; not finite if it was wrong and told
}

// nowhere is what a point is that was wrong and told.
var nowhere = geom.Pt(conf.Bad, conf.Bad)

// readPoints takes in the names; their order does not matter.
func (r *reader) readPoints(top conf.Section) {
	r.points = map[string]*spot{}
	t, _ := top.Sub("points")
	if len(t.Value.Fields) > maxNames {
		r.Faultf(t.Value, conf.BadValue, "[points] has more than %d names", maxNames)
		return
	}
	for _, f := range t.Value.Fields {
		if err := unit.CheckName(f.Name); err != nil {
			r.FaultAt(f.Off, conf.BadValue, "%v", err).Hintf("use another name")
			continue
		}
		r.points[f.Name] = &spot{key: f.Name, value: f.Value}
	}
	for _, f := range t.Value.Fields {
		if p := r.points[f.Name]; p != nil {
			r.settlePoint(p)
		}
	}
}

func (r *reader) named(name string) bool { return r.points[name] != nil }

// pointOf is the point that a name or a table is.
func (r *reader) pointOf(v *conf.Value, what string) (x, y float64) {
	at := nowhere
	switch {
	case v.Kind == conf.KindTable:
		at = r.workedOut(v)
	case r.named(v.Text):
		at = r.settlePoint(r.points[v.Text])
	default:
		hint, names := "write [x, y], or name the point in [points]", slices.Sorted(maps.Keys(r.points))
		near := diag.Nearest(v.Text, names)
		if i := slices.IndexFunc(names, func(n string) bool { return strings.EqualFold(n, v.Text) }); i >= 0 {
			near = names[i]
		}
		if near != "" {
			hint = "did you mean " + near + "?"
		}
		r.Faultf(v, conf.BadValue, "%s: there is no point %q", what, v.Text).Hintf("%s", hint)
	}
	return at.X, at.Y
}

func (r *reader) settlePoint(p *spot) geom.Point {
	switch {
	case p.state == settled:
		return p.at
	case p.state == underway:
		var ring []string
		for _, q := range r.trail[slices.Index(r.trail, p):] {
			ring = append(ring, q.key)
		}
		r.Faultf(p.value, conf.BadValue, "the point %s is defined by itself", p.key).
			Hintf("%s -> %s: give one of them coordinates", strings.Join(ring, " -> "), p.key)
		return nowhere
	}
	r.trail = append(r.trail, p)
	if len(r.trail) > maxDeep {
		r.Faultf(p.value, conf.BadValue, "[points] are nested more than %d deep", maxDeep)
		p.at = nowhere
	} else {
		p.state = underway
		p.at = geom.Pt(r.Place(p.value, p.key))
	}
	p.state = settled
	r.trail = r.trail[:len(r.trail)-1]
	return p.at
}

// workedOut is the point that a table says: by distance and direction, or between two
// others.
func (r *reader) workedOut(v *conf.Value) geom.Point {
	if r.nested >= maxDeep {
		r.Faultf(v, conf.BadValue, "points are nested more than %d deep", maxDeep)
		return nowhere
	}
	r.nested++
	defer func() { r.nested-- }()
	t := r.As("points.NAME", v)
	between := t.Get("between")
	if between == nil {
		if at := t.Get("at"); at != nil {
			r.Errorf(at, ruleConflict, "at goes with between").Hintf(`write between = ["A", "B"]`)
			return nowhere
		}
		d, a := t.Require("r"), t.Require("a")
		if d == nil || a == nil {
			return nowhere
		}
		p := geom.Polar(t.Length("r"), t.Angle("a"))
		if t.Given("from") {
			p = p.Add(point(t, "from"))
		}
		return p
	}
	for _, name := range [3]string{"r", "a", "from"} {
		if t.Given(name) {
			r.Errorf(t.Get(name), ruleConflict, "%s doesn't go with between", name).Hintf("give r and a, or between and at")
			return nowhere
		}
	}
	ends := t.Items("between", 2)
	if len(ends) != 2 {
		return nowhere
	}
	a, b := geom.Pt(r.Place(ends[0], "between")), geom.Pt(r.Place(ends[1], "between"))
	if p := a.Lerp(b, t.Ratio("at")); p.Finite() {
		return p
	}
	return nowhere
}

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
	wanted
	value *conf.Value
	at    geom.Point // in mm; not finite if it was wrong and reported
}

// nowhere is what a point is that was wrong and reported.
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
		p := &spot{wanted: wanted{kind: "point", name: f.Name}, value: f.Value, at: nowhere}
		r.points[f.Name], r.spots = p, append(r.spots, p)
	}
}

// settlePoints works out all points, wanted or not.
func (r *reader) settlePoints() {
	for _, p := range r.spots {
		r.settlePoint(p)
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
	if p.state != settled && r.enter(&p.wanted, p.value, "give one of them coordinates") {
		p.at = geom.Pt(r.Place(p.value, p.name))
		r.leave(&p.wanted)
	}
	return p.at
}

// pointWays are the keys of each way of working a point out.
var pointWays = [3][]string{
	{"r", "a", "from"},
	{"between", "at"},
	{"meet", "near"},
}

// workedOut is the point that a table says: by distance and direction, between two
// others, or where two elements meet.
func (r *reader) workedOut(v *conf.Value) geom.Point {
	if r.nested >= maxDeep {
		r.Faultf(v, conf.BadValue, "points are nested more than %d deep", maxDeep)
		return nowhere
	}
	r.nested++
	defer func() { r.nested-- }()
	t := r.As("points.NAME", v)
	way := 0
	switch {
	case t.Given("meet"):
		way = 2
	case t.Given("between"):
		way = 1
	}
	for i, keys := range pointWays {
		for _, other := range keys {
			switch {
			case i == way || !t.Given(other):
				continue
			case way == 0 && i > 0:
				r.Errorf(t.Get(other), ruleConflict, "%s goes with %s", other, keys[0]).Hintf("%s", t.Hint(keys[0]))
			default:
				r.Errorf(t.Get(other), ruleConflict, "%s doesn't go with %s", other, pointWays[way][0]).Hintf("give r and a, or between and at, or meet and near")
			}
			return nowhere
		}
	}
	switch way {
	case 2:
		return r.met(t)
	case 1:
		return r.between(t)
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

// between is a point between two others.
func (r *reader) between(t conf.Section) geom.Point {
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

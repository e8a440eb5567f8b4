package job

// Arcs, as they are known: round a centre, by two ends and a radius, through three
// points, or tangent to two elements.

import (
	"math"
	"slices"

	"strapwork/pkg/conf"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// Which side of the way from one end to the other an arc bows out to.
const (
	bowLeft  = "left"
	bowRight = "right"
)

// arcWays are the keys of each way of giving an arc.
var arcWays = [4][]string{
	{"center", "radius", "start", "sweep", "end"},
	{"from", "to", "radius", "side", "long"},
	{"from", "through", "to"},
	{"tangent", "radius", "near", "long", "trim"},
}

func (r *reader) arc(d drawn) geom.Contour {
	t, way := d.t, 0
	switch {
	case t.Given("tangent"):
		way = 3
	case t.Given("through"):
		way = 2
	case t.Given("from"), t.Given("to"):
		way = 1
	}
	for _, other := range slices.Concat(arcWays[:]...) {
		if t.Given(other) && !slices.Contains(arcWays[way], other) {
			r.Errorf(t.Get(other), ruleConflict, "%s doesn't go with %s", other, arcWays[way][[4]int{0, 0, 1, 0}[way]]).
				Hintf("give center, radius, start and sweep or end; or from, to and radius; or from, through and to; or tangent and radius")
			return geom.Contour{}
		}
	}
	switch way {
	case 1:
		return r.arcBetween(t)
	case 2:
		return r.arcThrough(t)
	case 3:
		return r.arcTangent(d)
	}
	return r.arcAround(t)
}

// arcAround reads an arc from its centre.
func (r *reader) arcAround(t conf.Section) geom.Contour {
	ok := true
	for _, name := range [3]string{"center", "radius", "start"} {
		ok = t.Require(name) != nil && ok
	}
	var sweep float64
	if end := t.Get("end"); end != nil {
		if t.Given("sweep") {
			r.Errorf(end, ruleConflict, "sweep and end are both given").Hintf("remove one of them")
			return geom.Contour{}
		}
		if sweep = math.Mod(t.Angle("end")-t.Angle("start"), 2*math.Pi); sweep < 0 {
			sweep += 2 * math.Pi
		}
		if sweep < turnSlack || sweep > 2*math.Pi-turnSlack {
			r.Faultf(end, conf.BadValue, "start and end are the same direction").Hintf("write sweep = 360 for a whole turn")
			return geom.Contour{}
		}
	} else if t.Require("sweep") == nil {
		return geom.Contour{}
	} else {
		sweep = t.Angle("sweep")
	}
	if !ok {
		return geom.Contour{}
	}
	radius, start, at := t.Length("radius"), t.Angle("start"), t.Get("sweep")
	if at == nil {
		at = t.Get("end")
	}
	switch {
	case sweep == 0:
		r.Faultf(at, conf.BadValue, "sweep must not be 0").Hintf("%s", t.Hint("sweep"))
	case math.Abs(sweep) > 2*math.Pi+turnSlack:
		r.Faultf(at, conf.BadValue, "sweep is beyond a full turn").Hintf("at most 360 degrees either way")
	case radius*math.Abs(sweep) < shortest:
		r.Faultf(at, conf.BadValue, "the arc is shorter than %s", r.show(shortest)).Hintf("angles are in degrees")
	default:
		return r.swept(point(t, "center"), radius, start, sweep, t)
	}
	return geom.Contour{}
}

// ends reads where an arc starts and ends.
func (r *reader) ends(t conf.Section) (from, to geom.Point, ok bool) {
	a, b := t.Require("from"), t.Require("to")
	if a == nil || b == nil {
		return from, to, false
	}
	from, to = point(t, "from"), point(t, "to")
	if from.Dist(to) < shortest {
		r.Faultf(b, conf.BadValue, "the arc ends where it starts").Hintf("write [[motif.circle]] for a whole circle")
		return from, to, false
	}
	return from, to, from.Finite() && to.Finite()
}

// arcBetween reads an arc from its ends and its radius.
func (r *reader) arcBetween(t conf.Section) geom.Contour {
	given := t.Require("radius")
	radius, side, long := t.Length("radius"), t.Word("side"), t.Flag("long")
	from, to, ok := r.ends(t)
	if !ok || given == nil || math.IsNaN(radius) {
		return geom.Contour{}
	}
	half := from.Dist(to) / 2
	switch {
	case radius < half-radiusShort:
		r.Faultf(given, conf.BadValue, "radius is too small for an arc whose ends are %s apart", r.show(2*half)).
			Hintf("at least %s", r.typed(unit.AtLeast(half)))
		return geom.Contour{}
	case radius < half:
		r.NoteAt(given.Off, ruleScaled, "radius is too small for the arc's ends: taken as %s", r.show(half))
		radius = half
	}
	// Bowed out to the left it goes round clockwise; the shorter arc's centre is on the
	// other side.
	left, sweep := 1.0, 2*math.Asin(half/radius)
	if side == 1 {
		left = -1
	}
	off := -left * math.Sqrt(max(0, radius*radius-half*half))
	if long {
		off, sweep = -off, 2*math.Pi-sweep
	}
	center := from.Lerp(to, 0.5).Add(to.Sub(from).Unit().Left().Scale(off))
	return r.swept(center, radius, from.Sub(center).Angle(), -left*sweep, t)
}

// arcThrough reads an arc from three of its points.
func (r *reader) arcThrough(t conf.Section) geom.Contour {
	from, to, ok := r.ends(t)
	mid, through := point(t, "through"), t.Get("through")
	if !ok || !mid.Finite() {
		return geom.Contour{}
	}
	u, v := to.Sub(from), mid.Sub(from)
	bow := u.Unit().Cross(v) // to the left
	switch {
	case mid.Dist(from) < shortest, mid.Dist(to) < shortest:
		r.Faultf(through, conf.BadValue, "through is one of the arc's ends").Hintf("give a place between them")
		return geom.Contour{}
	case math.Abs(bow) < shortest:
		r.Faultf(through, conf.BadValue, "the three points lie in line").Hintf("write [[motif.line]] with from and to")
		return geom.Contour{}
	}
	// The centre is as far from all three: both differences are solved for it.
	d := 2 * u.Cross(v)
	uu, vv := u.Dot(u), v.Dot(v)
	center := from.Add(geom.Pt((v.Y*uu-u.Y*vv)/d, (u.X*vv-v.X*uu)/d))
	start := from.Sub(center).Angle()
	sweep := math.Mod(to.Sub(center).Angle()-start, 2*math.Pi)
	switch {
	case bow > 0 && sweep > 0:
		sweep -= 2 * math.Pi
	case bow < 0 && sweep < 0:
		sweep += 2 * math.Pi
	}
	return r.swept(center, center.Dist(from), start, sweep, t)
}

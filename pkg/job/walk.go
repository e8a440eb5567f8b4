package job

// Strands as one walks along them: straight on, round to the left or right, home.

import (
	"math"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/geom"
)

const ruleWalk = "bad-step"

// steps is what a hint says of the steps there are.
const steps = `steps are "straight 40", "straight to B", "left 90 radius 25", "right 90 radius 25", "tangent to C", "corner 45" and "close"`

// A walker is somewhere on a strand.
type walker struct {
	*reader
	start, at geom.Point
	set       geom.Point // the unit direction in which it set out
	ahead     geom.Point // and the one in which it goes now
	headed    bool       // they are known
	edges     []geom.Edge
	closed    bool
}

// walk reads a strand; nothing where a step can't be made, which is reported.
func (r *reader) walk(t conf.Section) geom.Contour {
	w := walker{reader: r, start: point(t, "start")}
	w.at = w.start
	if t.Given("heading") {
		w.head(geom.Polar(1, t.Angle("heading")))
	}
	given := t.Get("go")
	if given == nil {
		return geom.Contour{}
	}
	items := t.Items("go", 0)
	if given.Kind == conf.KindList && len(items) == 0 {
		r.Faultf(given, conf.BadValue, "go has no step").Hintf("%s", steps)
	}
	if !w.start.Finite() || !w.ahead.Finite() || !r.AtMost(given, "go", mostLegs) {
		return geom.Contour{}
	}
	for _, v := range items {
		switch {
		case v.Kind != conf.KindString:
			r.Faultf(v, conf.WrongType, "a step of go must be text, not %s", v.Kind).Hintf("%s", steps)
			return geom.Contour{}
		case w.closed:
			r.Errorf(v, ruleWalk, "the strand is closed before this step").Hintf(`write "close" last`)
			return geom.Contour{}
		case !w.step(v):
			return geom.Contour{}
		}
	}
	if len(w.edges) == 0 {
		return geom.Contour{}
	}
	c := geom.Chain(w.closed, w.edges...)
	r.reach(c, given)
	return c
}

func (w *walker) head(to geom.Point) {
	if !w.headed {
		w.set, w.headed = to, true
	}
	w.ahead = to
}

// after cuts a step behind a word that it must begin with; what is left has no spaces
// round it.
func after(v *conf.Value, word string) (*conf.Value, bool) {
	rest, ok := strings.CutPrefix(v.Text, word)
	if !ok || rest != "" && rest[0] != ' ' {
		return nil, false
	}
	from := len(v.Text) - len(strings.TrimLeft(rest, " "))
	return v.Part(from, len(strings.TrimRight(v.Text, " "))), true
}

// step makes one step, and reports whether it could.
func (w *walker) step(v *conf.Value) bool {
	if to, ok := after(v, "straight to"); ok {
		return w.straightTo(to)
	}
	if to, ok := after(v, "tangent to"); ok {
		at, ok := w.place(to)
		return ok && w.knows(v) && w.arcTo(v, at)
	}
	if rest, ok := after(v, "close"); ok && rest.Text == "" {
		return w.knows(v) && w.close(v)
	}
	if by, ok := after(v, "straight"); ok {
		length := w.Length(by, "straight", conf.Positive, `write "straight 40"`)
		if math.IsNaN(length) || !w.knows(v) {
			return false
		}
		w.line(w.at.Add(w.ahead.Scale(length)))
		return true
	}
	if by, ok := after(v, "corner"); ok {
		a := w.Degrees(by, "corner")
		if math.IsNaN(a) || !w.knows(v) {
			return false
		}
		w.ahead = w.ahead.Turn(a)
		return true
	}
	for _, side := range [2]string{"left", "right"} {
		if by, ok := after(v, side); ok {
			return w.knows(v) && w.round(v, by, side)
		}
	}
	w.Errorf(v, ruleWalk, "there is no step %q", v.Text).Hintf("%s", steps)
	return false
}

// knows says where no direction is given yet.
func (w *walker) knows(v *conf.Value) bool {
	if !w.headed {
		w.Errorf(v, ruleWalk, "the strand has no direction yet").Hintf(`write heading = 30, in degrees, counter-clockwise from +x; or begin with "straight to B"`)
	}
	return w.headed
}

// place is the point of a name in a step.
func (w *walker) place(v *conf.Value) (geom.Point, bool) {
	at := geom.Pt(w.pointOf(v, "go"))
	return at, at.Finite()
}

func (w *walker) line(to geom.Point) {
	w.edges = append(w.edges, geom.Line(w.at, to))
	w.at = to
}

// straightTo goes to a point that lies ahead.
func (w *walker) straightTo(v *conf.Value) bool {
	to, ok := w.place(v)
	if !ok {
		return false
	}
	way := to.Sub(w.at)
	switch {
	case way.Norm() < shortest:
		w.Errorf(v, ruleWalk, "the strand is at %s already", v.Text).Hintf("remove the step")
		return false
	case !w.headed:
		w.head(way.Unit())
	case w.ahead.Dot(way) < 0:
		w.Errorf(v, ruleWalk, "%s lies behind", v.Text).Hintf(`turn there first, with "left" or "right", or write "corner %s" first`, w.turnTo(way))
		return false
	}
	if off := w.ahead.Cross(way); math.Abs(off) > radiusShort {
		side := "left"
		if off < 0 {
			side = "right"
		}
		w.Errorf(v, ruleWalk, "%s is not straight ahead: the path passes it %s to the %s", v.Text, w.show(math.Abs(off)), side).
			Hintf(`write "tangent to %s", or "corner %s" first`, v.Text, w.turnTo(way))
		return false
	}
	w.line(to)
	return true
}

// turnTo is the corner, as it is typed, after which a way lies straight ahead.
func (w *walker) turnTo(way geom.Point) string {
	return decimal(math.Round(math.Atan2(w.ahead.Cross(way), w.ahead.Dot(way))*180/math.Pi*1e4) / 1e4)
}

// round goes round by an angle, on a radius.
func (w *walker) round(v, by *conf.Value, side string) bool {
	const word = " radius "
	i := strings.Index(by.Text, word)
	if i < 0 {
		w.Errorf(v, ruleWalk, "%s needs an angle and a radius", side).Hintf(`write "%s 90 radius 25"`, side)
		return false
	}
	angle := w.Degrees(by.Part(0, i), side)
	radius := w.Length(by.Part(i+len(word), len(by.Text)), "radius", conf.Positive, "write radius 25")
	switch {
	case math.IsNaN(angle) || math.IsNaN(radius):
		return false
	case angle <= 0 || angle > 2*math.Pi+turnSlack:
		w.Faultf(by, conf.BadValue, "%s must be more than 0 and at most 360 degrees", side).Hintf("the other way round is %s", map[string]string{"left": "right", "right": "left"}[side])
		return false
	case angle*radius < shortest:
		w.Faultf(by, conf.BadValue, "the arc is shorter than %s", w.show(shortest)).Hintf("angles are in degrees")
		return false
	}
	out := w.ahead.Left().Scale(-radius) // from the centre
	if side == "right" {
		out, angle = out.Scale(-1), -angle
	}
	center := w.at.Sub(out)
	w.edges = append(w.edges, geom.Arc(center, radius, out.Angle(), angle)...)
	w.at, w.ahead = center.Add(out.Turn(angle)), w.ahead.Turn(angle)
	return true
}

// arcTo goes round to a point, on the one arc that leads there.
func (w *walker) arcTo(v *conf.Value, to geom.Point) bool {
	way := to.Sub(w.at)
	bent := math.Atan2(w.ahead.Cross(way), w.ahead.Dot(way)) // half of what the arc turns by
	switch {
	case way.Norm() < shortest:
		w.Errorf(v, ruleWalk, "the strand is there already").Hintf("remove the step")
		return false
	case math.Pi-math.Abs(bent) < backSlack:
		w.Errorf(v, ruleWalk, "no arc leads straight back").Hintf(`go round first: "left 180 radius 25"`)
		return false
	case math.Abs(math.Sin(bent))*way.Norm() < straightBow:
		w.line(to)
		return true
	}
	radius := way.Norm() / (2 * math.Abs(math.Sin(bent)))
	center := w.at.Add(w.ahead.Left().Scale(math.Copysign(radius, bent)))
	w.edges = append(w.edges, geom.Arc(center, radius, w.at.Sub(center).Angle(), 2*bent)...)
	w.at, w.ahead = to, w.ahead.Turn(2*bent)
	return true
}

// straightBow is a bow in mm that is none.
const straightBow = 1e-9

// close goes home, so that the strand is smooth there: by the two arcs that take equal
// shares (a biarc: K. M. Bolton, "Biarc curves", Computer-Aided Design 7, 1975; recalled).
func (w *walker) close(v *conf.Value) bool {
	w.closed = true
	d := w.start.Sub(w.at)
	if d.Norm() <= radiusShort {
		return true // it is there: ends that near are joined
	}
	if math.Abs(w.ahead.Cross(d)) < straightBow && w.ahead.Dot(d) > 0 && w.ahead.Sub(w.set).Norm() < turnSlack {
		w.line(w.start)
		return true
	}
	// The joint lies half-way between the ends of two equal tangents, of this length.
	both := w.ahead.Add(w.set)
	a, b := 2*(1-w.ahead.Dot(w.set)), 2*d.Dot(both)
	length := d.Dot(d) / b
	if a > turnSlack {
		length = (math.Sqrt(b*b+4*a*d.Dot(d)) - b) / (2 * a)
	}
	if !(length > 0) || math.IsInf(length, 0) || length > conf.Farthest {
		w.Errorf(v, ruleWalk, "no two arcs lead back to the start from here").Hintf("go closer to the start first")
		return false
	}
	joint := w.at.Add(w.ahead.Scale(length)).Lerp(w.start.Sub(w.set.Scale(length)), 0.5)
	return w.arcTo(v, joint) && w.arcTo(v, w.start)
}

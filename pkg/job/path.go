package job

// Path data, with names, lengths and sums in braces, in multiples of a module if need be.

import (
	"errors"
	"math"

	"strapwork/pkg/conf"
	"strapwork/pkg/geom"
)

// outline reads path data; its numbers are in the file's units, or multiples of scale.
func (r *reader) outline(t conf.Section) []geom.Contour {
	n, module := t.Get("d"), r.Units.InMM()
	if t.Given("scale") {
		module = t.Length("scale")
	}
	if n == nil || math.IsNaN(module) {
		return nil
	}
	if n.Kind != conf.KindString {
		t.WrongType("d", "text")
		return nil
	}
	cs, scaled, err := geom.PathReader{Slack: radiusShort / module, Braced: func(text string, at int) (float64, error) {
		x := r.Expression(n.Part(at, at+len(text)), "d")
		if math.IsNaN(x) {
			return x, conf.ErrReported
		}
		return x * (r.Units.InMM() / module), nil // what is in braces is a length, and no multiple
	}}.Parse(n.Text)
	var perr *geom.PathError
	if errors.As(err, &perr) {
		hint := perr.Hint
		if perr.Curve {
			hint = "[[motif.drawing]] reads curves from a drawing's file; here, " + hint
		}
		r.ErrorAt(n.Within(perr.Offset), rulePath, "d: %s", perr.Msg).Hintf("%s", hint).Key = n.Key()
		return nil
	}
	if err != nil {
		return nil // reported
	}
	for _, s := range scaled {
		r.NoteAt(n.Within(s.Offset), ruleScaled, "d: the radius %s is too small for the arc's ends: taken as %s", decimal(s.From), decimal(s.Now))
	}
	if len(cs) == 0 {
		r.Errorf(n, rulePath, "d draws nothing").Hintf("%s", t.Hint("d"))
	}
	scale := geom.Scaling(module)
	for i, c := range cs {
		cs[i] = scale.Contour(c)
		r.reach(cs[i], n)
	}
	return cs
}

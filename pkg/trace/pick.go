package trace

import (
	"maps"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

const (
	ruleEmpty = "drawing-empty"
	ruleSize  = "drawing-size"
	rulePick  = "drawing-pick"
)

// pick takes the curves that were asked for.
func (t *tracer) pick(d drawing.Drawing) []drawing.Curve {
	t.rep.Passed = slices.Clone(d.Passed)
	layers, colors := map[string]bool{}, map[string]bool{}
	color := longColor(t.p.Color)
	var took []drawing.Curve
	for _, c := range d.Curves {
		t.rep.Read++
		layers[c.Layer], colors[c.Color] = true, true
		switch {
		case t.p.Layer != "" && !strings.EqualFold(t.p.Layer, c.Layer):
			t.pass("other layers", c.Pos)
		case color != "" && longColor(c.Color) != color:
			t.pass("other colours", c.Pos)
		case background(c, d.Page):
			t.pass("background", c.Pos)
		default:
			took = append(took, c)
		}
	}
	if len(took) > 0 {
		return took
	}
	switch {
	case len(d.Curves) == 0:
		t.fault("file", ruleEmpty, "the drawing holds no line").Hintf("%s", t.instead())
	case t.p.Layer != "" && !hasFold(layers, t.p.Layer):
		t.fault("layer", rulePick, "nothing is drawn on a layer %q", t.p.Layer).Hintf("%s", nearest("layers", t.p.Layer, layers))
	case color != "":
		t.fault("color", rulePick, "nothing is drawn in the colour %q", t.p.Color).Hintf("%s", nearest("colours", color, colors))
	default:
		t.fault("file", ruleEmpty, "the drawing holds nothing but a background")
	}
	return nil
}

// instead says what of the file was passed over, where there is no line.
func (t *tracer) instead() string {
	if len(t.rep.Passed) == 0 {
		return "is it the right file?"
	}
	return "it holds only " + passedWords(t.rep.Passed) + ": draw its lines over as paths, or have letters made into paths"
}

// passedWords lists what was passed over.
func passedWords(passed []drawing.Passed) string {
	var list []string
	for _, p := range passed {
		list = append(list, p.What+" ("+unit.Decimal(float64(p.Count), 0)+")")
	}
	return strings.Join(list, ", ")
}

func (t *tracer) pass(what string, pos diag.Position) {
	d := drawing.Drawing{Passed: t.rep.Passed}
	d.Pass(what, pos)
	t.rep.Passed = d.Passed
}

func hasFold(names map[string]bool, name string) bool {
	for n := range names {
		if strings.EqualFold(n, name) {
			return true
		}
	}
	return false
}

// mostNames is how many names a hint lists.
const mostNames = 12

// nearest is a hint with the name that was probably meant, or all that there are.
func nearest(what, name string, names map[string]bool) string {
	all := slices.DeleteFunc(slices.Sorted(maps.Keys(names)), func(n string) bool { return n == "" })
	if near := diag.Nearest(name, all); near != "" {
		return "did you mean " + near + "?"
	}
	if len(all) == 0 {
		return "the drawing names no " + what
	}
	more := ""
	if len(all) > mostNames {
		all, more = all[:mostNames], ", ..."
	}
	return what + " in it: " + strings.Join(all, ", ") + more
}

// longColor is a colour as #rrggbb.
func longColor(c string) string {
	c = strings.ToLower(strings.TrimSpace(c))
	if len(c) == 4 && c[0] == '#' {
		return string([]byte{'#', c[1], c[1], c[2], c[2], c[3], c[3]})
	}
	return c
}

// pageSlack is how far a background may be off the page, as a share of its size.
const pageSlack = 0.002

// background reports whether a curve is a rectangle as large as the page.
func background(c drawing.Curve, page geom.Box) bool {
	if page.Empty() || !c.Closed || len(c.Segments) < 3 {
		return false
	}
	slack := pageSlack * page.Size().Norm()
	for _, s := range c.Segments {
		if _, ok := s.(drawing.Line); !ok {
			return false
		}
		if !onFrame(s.At(0), page, slack) || !onFrame(s.At(0.5), page, slack) {
			return false
		}
	}
	b := c.Bounds()
	return b.Min.Near(page.Min, slack) && b.Max.Near(page.Max, slack)
}

// onFrame reports whether a point lies on a box's sides.
func onFrame(p geom.Point, b geom.Box, slack float64) bool {
	off := min(math.Abs(p.X-b.Min.X), math.Abs(p.X-b.Max.X), math.Abs(p.Y-b.Min.Y), math.Abs(p.Y-b.Max.Y))
	return off <= slack && b.Expand(slack).Holds(p)
}

// place is the map from the drawing onto the work.
func (t *tracer) place(d drawing.Drawing, curves []drawing.Curve) (drawing.Affine, bool) {
	box := geom.EmptyBox()
	for _, c := range curves {
		box = box.Join(c.Bounds())
	}
	size := box.Size()
	scale := 0.0
	s := t.p.Size
	switch {
	case !(max(size.X, size.Y) > 0):
		t.fault("file", ruleEmpty, "what is drawn has no length")
		return drawing.Affine{}, false
	case s.Width > 0 && size.X <= 0:
		t.fault("width", ruleSize, "what is drawn has no width").Hintf("say %s in its place", t.write("height", "200"))
		return drawing.Affine{}, false
	case s.Height > 0 && s.Width <= 0 && size.Y <= 0:
		t.fault("height", ruleSize, "what is drawn has no height").Hintf("say %s in its place", t.write("width", "300"))
		return drawing.Affine{}, false
	case s.Width > 0:
		scale = s.Width / size.X
	case s.Height > 0:
		scale = s.Height / size.Y
	case s.Unit > 0:
		scale = s.Unit
	default:
		scale = d.Unit
	}
	if scale == 0 {
		t.fault("width", ruleSize, "how large is the drawing? it states no unit, and measures %s by %s", bare(size.X), bare(size.Y)).
			Hintf(`say how wide it should be, as in %s; or what one unit of it is: %s`, t.write("width", "300"), t.write("unit", t.quoted("mm")))
		return drawing.Affine{}, false
	}
	if big := scale * max(size.X, size.Y); big > farthest {
		t.fault("width", ruleSize, "the drawing would be %s wide or high", unit.Len(big)).Hintf("the most is %s: is the unit right?", unit.Len(farthest))
		return drawing.Affine{}, false
	}
	t.rep.Unit = scale
	return drawing.Shift(box.Center().Scale(-1)).Then(drawing.Stretch(scale, scale)), true
}

// farthest is how large a drawing may become in mm: what a job may draw.
const farthest = 100e3

func (t *tracer) quoted(s string) string {
	if t.p.Words.Flags {
		return s
	}
	return `"` + s + `"`
}

// bare is a number in the drawing's units.
func bare(x float64) string {
	digits := 3
	for v := math.Abs(x); v >= 10 && digits > 0; v /= 10 {
		digits--
	}
	return unit.Decimal(x, max(digits, 1))
}

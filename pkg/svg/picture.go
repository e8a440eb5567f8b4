package svg

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// WritePicture writes p in true millimetres. A fill's label becomes its title,
// which browsers show and read out. The same picture gives the same bytes.
func WritePicture(w io.Writer, p sheet.Picture) error {
	if err := checkPicture(p); err != nil {
		return fmt.Errorf("svg: %s: %w", p.Title, err)
	}
	var b bytes.Buffer
	begin(&b, p.Title, p.Bounds)
	clips, px := 0, pixels(p)
	for _, f := range p.Fills {
		if f.Clip == nil {
			writeFill(&b, f, px)
			continue
		}
		clips++
		fmt.Fprintf(&b, "<clipPath id=\"clip%d\"><path d=\"%s\"/></clipPath>\n<g clip-path=\"url(#clip%d)\">\n", clips, path([]geom.Contour{geom.Rect(*f.Clip)}), clips)
		writeFill(&b, f, px)
		b.WriteString("</g>\n")
	}
	for _, t := range p.Texts {
		writeText(&b, t.At, t.Height, textAttrs(t), t.String)
	}
	b.WriteString("</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

// textAttrs says in which colour a text is, and how it lies, if not to the right of
// its place. SVG turns clockwise by degrees.
func textAttrs(t sheet.Text) string {
	attrs := fmt.Sprintf(" fill=\"%s\"", cmp.Or(t.Color, "#1a1a1a"))
	if t.Middle {
		attrs += " text-anchor=\"middle\""
	}
	if t.Turn != 0 {
		attrs += fmt.Sprintf(" transform=\"rotate(%s %s)\"", number(-t.Turn*180/math.Pi), point(t.At))
	}
	return attrs
}

// writeFill writes the closed loops as one filled area and the open ones,
// which have no inside, as lines.
func writeFill(b *bytes.Buffer, f sheet.Fill, px float64) {
	var closed, open []geom.Contour
	for _, c := range f.Loops {
		if c.Closed {
			closed = append(closed, c)
		} else {
			open = append(open, c)
		}
	}
	stroke := strokeOf(f, px)
	fill := f.Color
	if fill == "" {
		fill = "none"
	}
	writePath(b, closed, " fill=\""+fill+"\" fill-rule=\"evenodd\""+stroke, f.Label)
	if f.Stroke != "" {
		if !f.Flat {
			stroke += " stroke-linecap=\"round\""
		}
		writePath(b, open, " fill=\"none\""+stroke, f.Label)
	}
}

// pixels is how many of a screen's a mm of a picture is taken for where lines keep their
// width: those of a picture whose longer side is a thousand.
func pixels(p sheet.Picture) float64 {
	size := p.Bounds.Size()
	return 1000 / math.Max(size.X, size.Y)
}

// leastPixels is the width of the thinnest line that a screen shows whole.
const leastPixels = 0.8

// numbers writes a list of lengths, each so many times as long.
func numbers(list []float64, scale float64) string {
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = number(v * scale)
	}
	return strings.Join(words, " ")
}

// strokeOf is how a fill is stroked, in mm; a hair also in pixels of a screen, for readers
// that know style sheets. Others keep to the mm.
func strokeOf(f sheet.Fill, px float64) string {
	if f.Stroke == "" {
		return ""
	}
	join := "round"
	if f.Flat {
		join = "miter"
	}
	s := fmt.Sprintf(" stroke=\"%s\" stroke-width=\"%s\" stroke-linejoin=\"%s\"", f.Stroke, number(f.StrokeWidth), join)
	if len(f.Dash) > 0 {
		s += fmt.Sprintf(" stroke-dasharray=\"%s\"", numbers(f.Dash, 1))
	}
	if !f.Hair {
		return s
	}
	s += fmt.Sprintf(" style=\"vector-effect:non-scaling-stroke;stroke-width:%spx", unit.Decimal(math.Max(leastPixels, f.StrokeWidth*px), 2))
	if len(f.Dash) > 0 {
		s += ";stroke-dasharray:" + numbers(f.Dash, px)
	}
	return s + "\""
}

func writePath(b *bytes.Buffer, cs []geom.Contour, attrs, label string) {
	d := path(cs)
	if d == "" {
		return
	}
	if label == "" {
		fmt.Fprintf(b, "<path d=\"%s\"%s/>\n", d, attrs)
		return
	}
	fmt.Fprintf(b, "<path d=\"%s\"%s><title>%s</title></path>\n", d, attrs, text(label))
}

func checkPicture(p sheet.Picture) error {
	size := p.Bounds.Size()
	if !(size.X > 0 && size.Y > 0 && size.X <= maxCoordinate && size.Y <= maxCoordinate) || !p.Bounds.Min.Finite() {
		return fmt.Errorf("the picture's bounds %v hold nothing", p.Bounds)
	}
	for _, f := range p.Fills {
		if err := checkColors(f); err != nil {
			return err
		}
		for _, c := range f.Loops {
			if err := check(c); err != nil {
				return fmt.Errorf("%s: %w", f.Label, err)
			}
		}
	}
	for _, t := range p.Texts {
		if !t.At.Finite() || !(t.Height > 0) || math.IsInf(t.Height, 0) || math.IsNaN(t.Turn) || math.IsInf(t.Turn, 0) || t.Color != "" && !isColor(t.Color) {
			return fmt.Errorf("the text %.20q at (%g, %g) has the height %g, is turned by %g and of the colour %.20q", t.String, t.At.X, t.At.Y, t.Height, t.Turn, t.Color)
		}
	}
	return nil
}

func checkColors(f sheet.Fill) error {
	for _, c := range []string{f.Color, f.Stroke} {
		if c != "" && !isColor(c) {
			return fmt.Errorf("%s: the colour %.20q is not of the form #rrggbb", f.Label, c)
		}
	}
	if f.Stroke != "" && (!(f.StrokeWidth > 0) || math.IsInf(f.StrokeWidth, 0)) {
		return fmt.Errorf("%s: the stroke's width is %g mm", f.Label, f.StrokeWidth)
	}
	for _, d := range f.Dash {
		if !(d > 0) || math.IsInf(d, 0) {
			return fmt.Errorf("%s: the stroke has a dash of %g mm", f.Label, d)
		}
	}
	return nil
}

// isColor reports whether s is of the form #rrggbb.
func isColor(s string) bool {
	if len(s) != 7 || s[0] != '#' {
		return false
	}
	return strings.Trim(strings.ToLower(s[1:]), "0123456789abcdef") == ""
}

package svg

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// Options say how a sheet is drawn. The zero value draws everything, and a
// scale bar.
type Options struct {
	Bare    bool // leave out what has the role Note
	NoScale bool // leave out the scale bar
	Inches  bool // the scale bar is of 2 in, not of 50 mm
}

// A look is how a role is drawn. Roles differ in weight and dash as well as in
// hue, so that a grey print can be read too. The hues are those of the layers in
// DXF: nothing that is cut is blue or green, which many shops engrave.
type look struct {
	stroke, fill string
	width        float64   // mm
	dash         []float64 // mm
}

func lookOf(r sheet.Role) look {
	switch r {
	case sheet.Opening:
		return look{stroke: "#c8102e", fill: "#fbe8ea", width: 0.35}
	case sheet.Pin:
		return look{stroke: "#c8102e", fill: "none", width: 0.25, dash: []float64{1.2, 0.6}}
	case sheet.Edge:
		return look{stroke: "#a3148c", fill: "none", width: 0.6}
	case sheet.Mark:
		return look{stroke: "#0a6b3d", fill: "none", width: 0.2}
	case sheet.Note:
		return look{stroke: "#6b6b6b", fill: "none", width: 0.15, dash: []float64{3, 1, 0.5, 1}}
	}
	return look{stroke: "#000000", fill: "none", width: 0.1}
}

// Measures of the page round a part, mm.
const (
	margin     = 8.0 // round the drawing
	scaleDrop  = 9.0 // from the part to the bar
	scaleBelow = 6.5 // from the bar to the foot of its label
	labelSize  = 2.5 // height of capitals, ISO 3098's smallest usual size
)

// WriteSheet writes s in true millimetres, each role as a group with the
// role's word in lower case as its class, openings tinted so that the walls
// can be seen. Under the part, clear of it, is a bar to hold a rule against. The same sheet gives the same bytes.
func WriteSheet(w io.Writer, s sheet.Sheet, o Options) error {
	if o.Bare {
		s = s.Without(sheet.Note)
	}
	if err := checkSheet(s); err != nil {
		return fmt.Errorf("svg: %s: %w", s.Name, err)
	}
	part := s.Bounds()
	if part.Empty() {
		return fmt.Errorf("svg: %s: the sheet is empty", s.Name)
	}
	page := part
	if !o.NoScale {
		page = part.Include(geom.Pt(part.Min.X+barOf(o).long, part.Min.Y-scaleDrop-scaleBelow))
	}
	title := s.Title
	if title == "" {
		title = s.Name
	}
	var b bytes.Buffer
	begin(&b, title, page.Expand(margin))
	writeScreenStyle(&b)
	for _, r := range sheet.CutOrder() {
		writeRole(&b, s, r)
	}
	if !o.NoScale {
		writeScale(&b, geom.Pt(part.Min.X, part.Min.Y-scaleDrop), barOf(o))
	}
	b.WriteString("</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

func checkSheet(s sheet.Sheet) error {
	for _, l := range s.Lines {
		if !l.Role.Valid() {
			return fmt.Errorf("a line has the role %d, which does not exist", int(l.Role))
		}
		if err := check(l.Contour); err != nil {
			return fmt.Errorf("%s: %w", l.Role, err)
		}
	}
	for _, h := range s.Holes {
		if !h.Role.Valid() {
			return fmt.Errorf("a hole has the role %d, which does not exist", int(h.Role))
		}
		if !h.Center.Finite() || !(h.Radius > 0) || math.IsInf(h.Radius, 0) || h.Center.Norm()+h.Radius > maxCoordinate {
			return fmt.Errorf("%s: the hole at (%g, %g) of radius %g can't be drawn", h.Role, h.Center.X, h.Center.Y, h.Radius)
		}
	}
	return nil
}

// writeScreenStyle writes how wide lines are on a screen, the same at any size, for
// readers that know style sheets; others keep to the mm.
func writeScreenStyle(b *bytes.Buffer) {
	const pixels = 96 / 25.4 // to the mm, as CSS counts them
	b.WriteString("<style>path,circle{vector-effect:non-scaling-stroke}")
	for _, r := range sheet.CutOrder() {
		k := lookOf(r)
		fmt.Fprintf(b, ".%s{stroke-width:%spx", strings.ToLower(r.String()), unit.Decimal(math.Max(leastPixels, k.width*pixels), 2))
		if len(k.dash) > 0 {
			fmt.Fprintf(b, ";stroke-dasharray:%s", numbers(k.dash, pixels))
		}
		b.WriteString("}")
	}
	fmt.Fprintf(b, ".scale path{stroke-width:%spx}</style>\n", unit.Decimal(leastPixels, 2))
}

// writeRole writes everything of one role as a group.
func writeRole(b *bytes.Buffer, s sheet.Sheet, r sheet.Role) {
	var body bytes.Buffer
	area, rest := areaOf(s.Lines, r)
	if len(area) > 0 {
		fmt.Fprintf(&body, "<path d=\"%s\" fill-rule=\"evenodd\"/>\n", path(area))
	}
	for _, l := range rest {
		// Only a closed contour has an inside to tint.
		plain := ""
		if !l.Contour.Closed && lookOf(r).fill != "none" {
			plain = " fill=\"none\""
		}
		fmt.Fprintf(&body, "<path d=\"%s\"%s/>\n", path([]geom.Contour{l.Contour}), plain)
	}
	for _, h := range s.Holes {
		if h.Role == r {
			fmt.Fprintf(&body, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", number(h.Center.X), number(-h.Center.Y), number(h.Radius))
		}
	}
	if body.Len() == 0 {
		return
	}
	k := lookOf(r)
	dash := ""
	if len(k.dash) > 0 {
		dash = fmt.Sprintf(" stroke-dasharray=\"%s\"", numbers(k.dash, 1))
	}
	fmt.Fprintf(b, "<g class=\"%s\" fill=\"%s\" stroke=\"%s\" stroke-width=\"%s\" stroke-linejoin=\"round\" stroke-linecap=\"round\"%s>\n",
		strings.ToLower(r.String()), k.fill, k.stroke, number(k.width), dash)
	b.Write(body.Bytes())
	b.WriteString("</g>\n")
}

// areaOf are the closed contours of a filled role where some are holes in others, clockwise:
// together they have one inside. rest are its other lines.
func areaOf(lines []sheet.Line, r sheet.Role) (area []geom.Contour, rest []sheet.Line) {
	holes := false
	for _, l := range lines {
		if l.Role == r {
			rest = append(rest, l)
			holes = holes || l.Contour.Closed && l.Contour.Area() < 0
		}
	}
	if !holes || lookOf(r).fill == "none" {
		return nil, rest
	}
	closed := func(l sheet.Line) bool { return l.Contour.Closed }
	for _, l := range rest {
		if closed(l) {
			area = append(area, l.Contour)
		}
	}
	return area, slices.DeleteFunc(rest, closed)
}

// A bar is what a rule is held to.
type bar struct {
	long, tick float64 // its length, and from tick to tick, mm
	word       string
}

func barOf(o Options) bar {
	if o.Inches {
		return bar{50.8, 12.7, "2 in"}
	}
	return bar{50, 10, "50 mm"}
}

// writeScale writes the scale bar with its left end at p.
func writeScale(b *bytes.Buffer, p geom.Point, k bar) {
	var d strings.Builder
	fmt.Fprintf(&d, "M %s L %s", point(p), point(p.Add(geom.Pt(k.long, 0))))
	for i, n := 0, int(math.Round(k.long/k.tick)); i <= n; i++ {
		tick := 1.0
		if i == 0 || i == n {
			tick = 2
		}
		at := p.Add(geom.Pt(k.tick*float64(i), 0))
		fmt.Fprintf(&d, " M %s L %s", point(at), point(at.Add(geom.Pt(0, tick))))
	}
	b.WriteString("<g class=\"scale\">\n")
	fmt.Fprintf(b, "<path d=\"%s\" fill=\"none\" stroke=\"#1a1a1a\" stroke-width=\"0.2\"/>\n", d.String())
	writeText(b, geom.Pt(p.X, p.Y-1.5-labelSize), labelSize, " fill=\"#1a1a1a\"", "Scale check: "+k.word)
	b.WriteString("</g>\n")
}

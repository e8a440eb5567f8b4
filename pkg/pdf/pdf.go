// Package pdf writes pages as PDF (ISO 32000-1) at exact size: page boxes are
// the sheet's own, viewers are asked not to scale when printing, and the same
// pages give the same bytes.
//
// A library draws the pages. It is given straight lines and cubics only: its own
// arcs are 0.2 % too small. What it can't do is repaired in its output object by
// object (see finish.go): print scaling, embedded lettering, and a file that
// doesn't say when it was written.
package pdf

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/tdewolff/canvas"
	renderer "github.com/tdewolff/canvas/renderers/pdf"

	"strapwork/pkg/geom"
	"strapwork/pkg/paper"
)

const (
	// arcStep is the largest sweep, 15 degrees, of one cubic. The cubic that
	// meets an arc at its ends and its middle is at most 2/27 sin^6(t/4) /
	// cos^2(t/4) of the radius beyond it: 6e-9 at 15 degrees, which is 3e-6 mm
	// at R 500 (derived; 45 degrees would be 0.002 mm).
	arcStep = math.Pi / 12
	// maxSide in mm is the largest side of a page: 14,400 units of 1/72 in
	// (PDF Reference, appendix C).
	maxSide = 14400 * mmPerPoint
	// mmPerPoint is a unit of a page, 1/72 in.
	mmPerPoint = 25.4 / 72
)

// Write writes a document. It is an error if a page is larger than a PDF's page
// can be, or something on it has no finite place.
func Write(w io.Writer, d paper.Document) error {
	if len(d.Pages) == 0 {
		return fmt.Errorf("pdf: %s: there is no page", d.Title)
	}
	for i, p := range d.Pages {
		if err := check(p); err != nil {
			return fmt.Errorf("pdf: %s: page %d: %w", d.Title, i+1, err)
		}
	}
	faces, err := newFaces()
	if err != nil {
		return err
	}
	defer spare.Put(faces)
	var b bytes.Buffer
	first := d.Pages[0]
	r := renderer.New(&b, first.Width, first.Height, &renderer.Options{Compress: true})
	for i, p := range d.Pages {
		if i > 0 {
			r.NewPage(p.Width, p.Height)
		}
		drawPage(r, faces, p)
	}
	if err := r.Close(); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	out, err := finish(b.Bytes(), d.Title)
	if err != nil {
		return err
	}
	_, err = w.Write(out)
	return err
}

func check(p paper.Page) error {
	for _, side := range []float64{p.Width, p.Height} {
		// A micrometre is rounding.
		if !(side > 0 && side <= maxSide+0.001) {
			return fmt.Errorf("a side of %g mm can't be written", side)
		}
	}
	if !(p.ScaleX > 0 && p.ScaleY > 0) || math.IsInf(p.ScaleX+p.ScaleY, 0) {
		return fmt.Errorf("a scale of %g, %g can't be written", p.ScaleX, p.ScaleY)
	}
	finite := func(c geom.Contour) bool {
		for _, v := range c.Vertices {
			if !v.Point.Finite() || !(math.Abs(v.Bulge) <= 1) {
				return false
			}
		}
		return true
	}
	for _, s := range p.Strokes {
		if !finite(s.Contour) {
			return fmt.Errorf("a line has no finite place")
		}
	}
	for _, a := range p.Areas {
		for _, c := range a.Loops {
			if !finite(c) {
				return fmt.Errorf("an area has no finite place")
			}
		}
	}
	for _, t := range p.Texts {
		if !t.At.Finite() || !(t.Size > 0) || math.IsInf(t.Size, 0) {
			return fmt.Errorf("the lettering %q has no finite place", t.String)
		}
	}
	return nil
}

// drawPage draws areas, lines, lettering.
func drawPage(r *renderer.PDF, faces *faces, p paper.Page) {
	for _, a := range p.Areas {
		drawArea(r, p, a)
	}
	for i := 0; i < len(p.Strokes); {
		// Solid lines of one pen, which are many, are one path.
		n := 1
		for s := p.Strokes[i]; i+n < len(p.Strokes) && alike(s, p.Strokes[i+n]); {
			n++
		}
		drawStrokes(r, p, p.Strokes[i:i+n])
		i += n
	}
	for _, t := range p.Texts {
		drawText(r, faces, p, t)
	}
}

// drawArea fills an area and draws its boundary.
func drawArea(r *renderer.PDF, p paper.Page, a paper.Area) {
	path := &canvas.Path{}
	for _, c := range a.Loops {
		addContour(path, p, c)
	}
	if path.Empty() {
		return
	}
	if !a.Empty {
		// Never EvenOdd: the library writes an operator that doesn't exist.
		r.RenderPath(path, canvas.Style{Fill: paint(a.Color, a.Gray), FillRule: canvas.NonZero}, canvas.Identity)
	}
	if a.Pen.Width > 0 {
		r.RenderPath(path, styleOf(a.Pen, 0), canvas.Identity)
	}
}

func alike(a, b paper.Stroke) bool {
	return len(a.Pen.Dash) == 0 && len(b.Pen.Dash) == 0 && a.Pen.Width == b.Pen.Width && a.Pen.Gray == b.Pen.Gray && a.Pen.Color == b.Pen.Color
}

// drawStrokes draws lines of one pen.
func drawStrokes(r *renderer.PDF, p paper.Page, list []paper.Stroke) {
	pen := list[0].Pen
	if pen.Width <= 0 {
		return
	}
	path := &canvas.Path{}
	for _, s := range list {
		addContour(path, p, s.Contour)
	}
	if path.Empty() {
		return
	}
	r.RenderPath(path, styleOf(pen, list[0].Offset), canvas.Identity)
}

// styleOf is a pen in the library's terms; it takes dashes in widths of the
// line.
func styleOf(pen paper.Pen, offset float64) canvas.Style {
	style := canvas.Style{
		Stroke: paint(pen.Color, pen.Gray), StrokeWidth: pen.Width, FillRule: canvas.NonZero,
		StrokeCapper: canvas.ButtCap, StrokeJoiner: canvas.RoundJoin,
	}
	for _, d := range pen.Dash {
		style.Dashes = append(style.Dashes, d/pen.Width)
	}
	if len(pen.Dash) > 0 {
		style.DashOffset = offset / pen.Width
	}
	return style
}

// paint is a colour written as #rrggbb; where it is none, a grey from 0 to 1.
func paint(hex string, g float64) canvas.Paint {
	if rgb, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32); err == nil && len(hex) == len("#rrggbb") {
		return canvas.Paint{Color: color.RGBA{uint8(rgb >> 16), uint8(rgb >> 8), uint8(rgb), 255}}
	}
	v := uint8(math.Round(255 * math.Max(0, math.Min(1, g))))
	return canvas.Paint{Color: color.RGBA{v, v, v, 255}}
}

// addContour adds a contour to a path, scaled as the page says. An arc's cubics
// may be scaled differently along x and y: they are mapped by their points.
func addContour(path *canvas.Path, p paper.Page, c geom.Contour) {
	if c.Len() == 0 {
		return
	}
	on := func(q geom.Point) (x, y float64) { return q.X * p.ScaleX, q.Y * p.ScaleY }
	path.MoveTo(on(c.Start()))
	for _, e := range c.Edges() {
		if math.Abs(e.Bulge)*e.Chord()/2 < geom.Coincident {
			path.LineTo(on(e.B))
			continue
		}
		for _, q := range cubics(e) {
			x1, y1 := on(q[0])
			x2, y2 := on(q[1])
			x, y := on(q[2])
			path.CubeTo(x1, y1, x2, y2, x, y)
		}
	}
	if c.Closed {
		path.Close()
	}
}

// cubics are Bezier curves that follow an arc: for each its two control points
// and its end. The control points are 4/3 tan(t/4) of the radius along the
// tangents (common knowledge of computer graphics; exact in the middle).
func cubics(e geom.Edge) [][3]geom.Point {
	sweep := e.Sweep()
	n := int(math.Ceil(math.Abs(sweep)/arcStep - 1e-9)) // a full step needs one, whatever its rounding
	list := make([][3]geom.Point, 0, n)
	reach := 4.0 / 3 * math.Tan(math.Abs(sweep)/float64(n)/4) * e.Radius()
	at, dir := e.A, e.Tangent(0)
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		end, dirEnd := e.At(t), e.Tangent(t)
		if i == n {
			end = e.B
		}
		list = append(list, [3]geom.Point{at.Add(dir.Scale(reach)), end.Sub(dirEnd.Scale(reach)), end})
		at, dir = end, dirEnd
	}
	return list
}

// drawText draws a line of lettering.
func drawText(r *renderer.PDF, faces *faces, p paper.Page, t paper.Text) {
	text := paper.Legible(t.String)
	if text == "" {
		return
	}
	width := paper.Width(text, t.Size, t.Bold)
	from := 0.0
	switch t.Align {
	case paper.Left:
	case paper.Center:
		from = -width / 2
	case paper.Right:
		from = -width
	}
	m := canvas.Identity.Scale(p.ScaleX, p.ScaleY).Translate(t.At.X, t.At.Y).Rotate(t.Angle*180/math.Pi).Translate(from, 0)
	r.RenderText(canvas.NewTextLine(faces.face(t), text, canvas.Left), m)
}

package pdf_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/paper"
	"strapwork/pkg/pdf"
)

// A stroke is a line as an independent program reads it: in mm from the page's
// lower left corner, cubics with their control points.
type stroke struct {
	width  float64 // mm
	dashed bool
	curves [][4]geom.Point // straight ones with their control points on the line
}

// written is a document as a file.
func written(t testing.TB, d paper.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "pattern.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

const pointMM = 25.4 / 72 // PDF Reference, default user space

// traced are the lines of every page as MuPDF interprets the file.
func traced(t testing.TB, path string) (pages [][]stroke, sizes []geom.Point) {
	t.Helper()
	r := trace(t, path)
	return r.pages, r.sizes
}

// trace is all that MuPDF interprets the file as.
func trace(t testing.TB, path string) traceReader {
	t.Helper()
	out, err := witness.Run(witness.Program(t, "mutool", "mupdf-tools"), "trace", path)
	if err != nil {
		t.Fatal(err)
	}
	dec := xml.NewDecoder(bytes.NewReader(out))
	dec.Strict = false // MuPDF writes letters of texts unescaped
	r := traceReader{t: t}
	for {
		token, err := dec.Token()
		if err != nil {
			break
		}
		switch e := token.(type) {
		case xml.StartElement:
			r.start(e)
		case xml.EndElement:
			if e.Name.Local == "stroke_path" {
				r.on = nil
			}
		}
	}
	return r
}

type traceReader struct {
	t       testing.TB
	pages   [][]stroke
	sizes   []geom.Point
	letters [][]lettering // of every page
	trm     [6]float64    // from letters to what m maps, without the place
	m       [6]float64
	height  float64 // of the page, points
	on      *stroke
	at, beg geom.Point
}

func (r *traceReader) number(e xml.StartElement, name string) float64 {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			v, err := strconv.ParseFloat(a.Value, 64)
			if err != nil {
				r.t.Fatalf("%s=%q", name, a.Value)
			}
			return v
		}
	}
	return 0
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func numbers(t testing.TB, s string) []float64 {
	t.Helper()
	var list []float64
	for _, f := range strings.FieldsFunc(s, func(c rune) bool { return c == ' ' || c == ',' }) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		list = append(list, v)
	}
	return list
}

// place turns coordinates into mm from the lower left corner.
func (r *traceReader) place(x, y float64) geom.Point {
	px, py := r.m[0]*x+r.m[2]*y+r.m[4], r.m[1]*x+r.m[3]*y+r.m[5]
	return geom.Pt(px, r.height-py).Scale(pointMM)
}

func (r *traceReader) line(p geom.Point) {
	if r.on != nil {
		r.on.curves = append(r.on.curves, [4]geom.Point{r.at, r.at.Lerp(p, 1.0/3), r.at.Lerp(p, 2.0/3), p})
	}
	r.at = p
}

func (r *traceReader) start(e xml.StartElement) {
	switch e.Name.Local {
	case "page":
		box := numbers(r.t, attr(e, "mediabox"))
		r.pages = append(r.pages, nil)
		r.letters = append(r.letters, nil)
		r.sizes = append(r.sizes, geom.Pt(box[2], box[3]).Scale(pointMM))
	case "group":
		r.height = numbers(r.t, attr(e, "bbox"))[3]
	case "stroke_path":
		copy(r.m[:], numbers(r.t, attr(e, "transform")))
		page := &r.pages[len(r.pages)-1]
		*page = append(*page, stroke{width: r.number(e, "linewidth") * math.Abs(r.m[0]) * pointMM, dashed: attr(e, "dash_phase") != ""})
		r.on = &(*page)[len(*page)-1]
	case "fill_text", "span", "g":
		r.letter(e)
	case "moveto":
		r.at = r.place(r.number(e, "x"), r.number(e, "y"))
		r.beg = r.at
	case "lineto":
		r.line(r.place(r.number(e, "x"), r.number(e, "y")))
	case "curveto":
		c := [4]geom.Point{r.at}
		for i := 1; i <= 3; i++ {
			c[i] = r.place(r.number(e, fmt.Sprint("x", i)), r.number(e, fmt.Sprint("y", i)))
		}
		if r.on != nil {
			r.on.curves = append(r.on.curves, c)
		}
		r.at = c[3]
	case "closepath":
		r.line(r.beg)
	}
}

// drawn are the lines of one page as Poppler and Cairo interpret the file.
func drawn(t testing.TB, path string, page int) []stroke {
	t.Helper()
	n := strconv.Itoa(page)
	out, err := witness.Run(witness.Program(t, "pdftocairo", "poppler-utils"), "-svg", "-noshrink", "-nocenter", "-f", n, "-l", n, path, "-")
	if err != nil {
		t.Fatal(err)
	}
	var list []stroke
	height := 0.0
	dec := xml.NewDecoder(bytes.NewReader(out))
	for {
		token, err := dec.Token()
		if err != nil {
			break
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if e.Name.Local == "svg" {
			height = numbers(t, strings.TrimSuffix(attr(e, "height"), "pt"))[0]
		}
		style := styleOf(e)
		if e.Name.Local != "path" || style["stroke"] == "" || style["stroke"] == "none" || style["stroke-width"] == "" {
			continue
		}
		list = append(list, svgStroke(t, attr(e, "d"), attr(e, "transform"), style, height))
	}
	return list
}

// styleOf is how an element is drawn, by its style or its attributes.
func styleOf(e xml.StartElement) map[string]string {
	style := map[string]string{}
	for _, a := range e.Attr {
		style[a.Name.Local] = a.Value
	}
	for _, pair := range strings.Split(attr(e, "style"), ";") {
		if k, v, ok := strings.Cut(pair, ":"); ok {
			style[k] = v
		}
	}
	return style
}

func svgStroke(t testing.TB, d, transform string, style map[string]string, height float64) stroke {
	t.Helper()
	r := traceReader{t: t, height: height, m: [6]float64{1, 0, 0, 1, 0, 0}}
	if transform != "" {
		copy(r.m[:], numbers(t, strings.TrimSuffix(strings.TrimPrefix(transform, "matrix("), ")")))
	}
	width := numbers(t, style["stroke-width"])[0] * math.Abs(r.m[0]) * pointMM
	r.on = &stroke{width: width, dashed: style["stroke-dasharray"] != "" && style["stroke-dasharray"] != "none"}
	words := strings.Fields(d)
	next := func() geom.Point {
		v := numbers(t, words[0]+" "+words[1])
		words = words[2:]
		return r.place(v[0], v[1])
	}
	for len(words) > 0 {
		command := words[0]
		words = words[1:]
		switch command {
		case "M":
			r.at = next()
			r.beg = r.at
		case "L":
			r.line(next())
		case "C":
			c := [4]geom.Point{r.at, next(), next(), next()}
			r.on.curves = append(r.on.curves, c)
			r.at = c[3]
		case "Z":
			r.line(r.beg)
		default:
			t.Fatalf("path data %q", command)
		}
	}
	return *r.on
}

// at is a point of a cubic.
func at(c [4]geom.Point, t float64) geom.Point {
	u := 1 - t
	return c[0].Scale(u * u * u).Add(c[1].Scale(3 * u * u * t)).Add(c[2].Scale(3 * u * t * t)).Add(c[3].Scale(t * t * t))
}

// samples are points along what was read, at most step apart.
func samples(c [4]geom.Point, step float64) []geom.Point {
	n := 1 + int(c[0].Dist(c[3])*1.1/step)
	list := make([]geom.Point, 0, n+1)
	for i := 0; i <= n; i++ {
		list = append(list, at(c, float64(i)/float64(n)))
	}
	return list
}

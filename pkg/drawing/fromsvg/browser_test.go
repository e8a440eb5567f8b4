package fromsvg_test

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromsvg"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
)

//go:embed testdata/measure.js
var measureScript string

// seen is what the browser makes of one shape, see testdata/measure.js.
type seen struct {
	ID                         string
	Box                        [4]float64
	Map                        [6]float64
	Length                     float64
	Points                     [][2]float64
	Seen                       bool
	Fill, Stroke               string
	FillOpacity, StrokeOpacity float64
	Width, Dashes              string
}

// asked are the drawings that the browser is asked about: name and text.
func asked(t *testing.T) []snippet {
	t.Helper()
	list := snippets()
	for _, pattern := range []string{"testdata/*.svg", "../testdata/*.svg"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatal(pattern, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			list = append(list, snippet{name: filepath.Base(file), svg: withIDs(string(data)), apart: true})
		}
	}
	return list
}

var shapeTag = regexp.MustCompile(`<(path|rect|circle|ellipse|line|polyline|polygon)\b([^>]*)>`)

// withIDs gives every shape an id.
func withIDs(svg string) string {
	n := 0
	return shapeTag.ReplaceAllStringFunc(svg, func(tag string) string {
		if strings.Contains(tag, ` id="`) {
			return tag
		}
		n++
		name, rest, _ := strings.Cut(tag, " ")
		return fmt.Sprintf(`%s id="shape-%d" %s`, name, n, rest)
	})
}

// TestAgainstBrowser holds what is read of all snippets and drawings against chromium:
// boxes (getBBox), lengths (getTotalLength), points along each shape (getPointAtLength),
// how it is painted (getComputedStyle), and, where nothing is passed over, the picture as
// a whole, which shows what <use> draws.
func TestAgainstBrowser(t *testing.T) {
	ctx := witness.Browser(t, 800, 600)
	list := asked(t)
	files := map[string]string{"/": `<!DOCTYPE html><meta charset="utf-8"><body><script src="/measure.js"></script>`, "/measure.js": measureScript}
	read := make([]drawing.Drawing, len(list))
	var script strings.Builder
	script.WriteString("Promise.all([\n")
	for i, s := range list {
		d, findings := fromsvg.Read(s.name, []byte(s.svg))
		for _, f := range findings {
			t.Errorf("%s: %s", s.name, f.Text())
		}
		read[i] = d
		files[fmt.Sprintf("/%d.svg", i)] = s.svg
		w, h := 0, 0 // not compared
		if !s.apart {
			w, h, files[fmt.Sprintf("/%d-again.svg", i)] = picture(d)
		}
		fmt.Fprintf(&script, "look('/%[1]d.svg', '/%[1]d-again.svg', %[2]d, %[3]d),\n", i, w, h)
	}
	script.WriteString("]).then(JSON.stringify)")
	server := serve(t, files)
	if err := chromedp.Do(ctx, chromedp.Navigate(server)); err != nil {
		t.Fatal(err)
	}
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](script.String(), chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	var reported []struct {
		Fault  string
		Shapes []seen
		Unlike float64
	}
	if err := json.Unmarshal([]byte(text), &reported); err != nil {
		t.Fatal(err)
	}
	for i, s := range list {
		if reported[i].Fault != "" {
			t.Errorf("%s: the browser can't read it: %s", s.name, reported[i].Fault)
			continue
		}
		compare(t, s.name, read[i], reported[i].Shapes)
		// Edges are smoothed alike; what remains is how round things are made of chords, by
		// which the ends of dashes are elsewhere.
		if reported[i].Unlike > 0.012 {
			t.Errorf("%s: %.2f %% of what is drawn looks different", s.name, 100*reported[i].Unlike)
		}
	}
}

// serve serves files by their path and returns the address.
func serve(t *testing.T, files map[string]string) string {
	t.Helper()
	kinds := map[string]string{".svg": "image/svg+xml", ".js": "text/javascript", "": "text/html"}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		text, ok := files[r.URL.Path]
		if !ok {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", kinds[filepath.Ext(r.URL.Path)])
		fmt.Fprint(w, text)
	}))
	t.Cleanup(server.Close)
	return server.URL + "/"
}

// compare holds the curves of a drawing against the shapes that a browser sees.
func compare(t *testing.T, name string, d drawing.Drawing, shapes []seen) {
	t.Helper()
	curves := map[string][]drawing.Curve{}
	for _, c := range d.Curves {
		curves[c.ID] = append(curves[c.ID], c)
	}
	for _, s := range shapes {
		got := curves[s.ID]
		visible := s.Seen && s.Length > 0 && (paints(s.Fill, s.FillOpacity) || paints(s.Stroke, s.StrokeOpacity) && s.Width != "0px")
		if !visible || behind(d, s) {
			if len(got) > 0 {
				t.Errorf("%s: %s is not to be seen, and was read", name, s.ID)
			}
			continue
		}
		if len(got) == 0 {
			t.Errorf("%s: %s was not read", name, s.ID)
			continue
		}
		compareShape(t, name, d, got, s)
	}
}

// paints reports whether a computed paint leaves a mark.
func paints(value string, opacity float64) bool {
	return value != "none" && opacity > 0 && !(strings.HasPrefix(value, "rgba") && strings.HasSuffix(value, ", 0)"))
}

// behind reports whether a shape is a rectangle as large as the page: a background.
func behind(d drawing.Drawing, s seen) bool {
	page := d.Page.Size()
	return len(d.Passed) > 0 && strings.Contains(passed(d), "background") && math.Abs(s.Box[2]-page.X) < 1e-3 && math.Abs(s.Box[3]-page.Y) < 1e-3
}

// Chromium reckons in float32, 6e-8 of a coordinate for each of many steps, and measures curves along chords
// that are up to half a unit off: its lengths are short then, and its points stand
// elsewhere on the curve, but on it. Half a unit in a radius of 15 makes 1 %.
// Arcs of paths are cubic curves for it, 2.73e-4 of the radius off at most.
const (
	byFloat  = 2e-5
	byChords = 0.012
	byCubics = 2.8e-4
)

func compareShape(t *testing.T, name string, d drawing.Drawing, got []drawing.Curve, s seen) {
	t.Helper()
	user := drawing.Affine{A: s.Map[0], B: s.Map[1], C: s.Map[2], D: s.Map[3], E: s.Map[4], F: s.Map[5]}
	// A page that stretches the drawing unequally keeps x.
	stretch := drawing.Identity()
	if strings.HasPrefix(name, "page none") {
		stretch = drawing.Stretch(1, (100./60)/(300./60))
	}
	toOurs := user.Then(stretch).Then(drawing.Stretch(1, -1))
	back, ok := toOurs.Inverse()
	if !ok {
		t.Fatalf("%s: %s: no inverse", name, s.ID)
	}
	box, length := geom.EmptyBox(), 0.0
	var mine []drawing.Curve
	for _, c := range got {
		c = c.Moved(back)
		mine = append(mine, c)
		box = box.Join(c.Bounds())
		length += c.Length()
	}
	size := math.Abs(s.Box[0]) + math.Abs(s.Box[1]) + s.Box[2] + s.Box[3]
	want := geom.Box{Min: geom.Pt(s.Box[0], s.Box[1]), Max: geom.Pt(s.Box[0]+s.Box[2], s.Box[1]+s.Box[3])}
	// Bezier curves' boxes are ours to about a hundredth of their size.
	slack, off := byFloat, byFloat
	for _, c := range got {
		for _, segment := range c.Segments {
			switch segment.(type) {
			case drawing.Bezier:
				slack = 0.01
			case drawing.Ellipse:
				slack, off = max(slack, byCubics), byCubics
			}
		}
	}
	if !box.Min.Near(want.Min, slack*size) || !box.Max.Near(want.Max, slack*size) {
		t.Errorf("%s: %s: box %v, chromium's %v", name, s.ID, box, want)
	}
	short := byChords
	if straight(got) {
		short = byFloat
	}
	if math.Abs(length-s.Length) > short*s.Length {
		t.Errorf("%s: %s: length %v, chromium's %v", name, s.ID, length, s.Length)
	}
	var fine [][]geom.Point
	for _, c := range mine {
		for _, segment := range c.Segments {
			fine = append(fine, chords(segment))
		}
	}
	for i, p := range s.Points {
		at := pointAt(mine, length*(float64(i)+0.37)/float64(len(s.Points)))
		there := back.Apply(stretch.Then(drawing.Stretch(1, -1)).Apply(geom.Pt(p[0], p[1])))
		if away := offCurve(fine, there); away > off*size || !at.Near(there, 2*short*length+off*size) {
			t.Errorf("%s: %s: point %d of 12 is %v, chromium's %v, %v off the curve", name, s.ID, i, at, there, away)
		}
	}
	compareStyle(t, name, got[0], s, toOurs.Scale())
}

// straight reports whether curves are lines alone.
func straight(curves []drawing.Curve) bool {
	for _, c := range curves {
		for _, s := range c.Segments {
			if _, line := s.(drawing.Line); !line {
				return false
			}
		}
	}
	return true
}

// chords are points along a segment so near one another that between them it is
// straight: a whole circle is 1.4e-5 of its radius off.
func chords(s drawing.Segment) []geom.Point {
	steps := 600
	if _, line := s.(drawing.Line); line {
		steps = 1
	}
	points := []geom.Point{drawing.Start(s)}
	for i := range steps {
		points = append(points, s.At(float64(i+1)/float64(steps)))
	}
	return points
}

// offCurve is how far a point is from the nearest of curves, given as chords.
func offCurve(curves [][]geom.Point, p geom.Point) float64 {
	least := math.Inf(1)
	for _, points := range curves {
		for i, b := range points[1:] {
			a := points[i]
			d := b.Sub(a)
			along := max(0, min(1, p.Sub(a).Dot(d)/d.Dot(d)))
			least = math.Min(least, p.Dist(a.Lerp(b, along)))
		}
	}
	return least
}

// pointAt is the point at a length along curves one after another.
func pointAt(curves []drawing.Curve, at float64) geom.Point {
	var last drawing.Segment
	for _, c := range curves {
		for _, s := range c.Segments {
			length := drawing.Length(s)
			if at <= length {
				return s.At(parameter(s, at))
			}
			at -= length
			last = s
		}
	}
	return drawing.End(last)
}

// parameter is where on a segment a length ends, by halving: speeds differ.
func parameter(s drawing.Segment, length float64) float64 {
	const steps = 400
	sum := 0.0
	for i := range steps {
		step := s.Speed((float64(i)+0.5)/steps).Norm() / steps
		if sum+step >= length {
			return (float64(i) + (length-sum)/step) / steps
		}
		sum += step
	}
	return 1
}

var rgb = regexp.MustCompile(`^rgba?\((\d+), (\d+), (\d+)`)

// compareStyle holds how a shape is painted against the computed style.
func compareStyle(t *testing.T, name string, c drawing.Curve, s seen, scale float64) {
	t.Helper()
	stroked := paints(s.Stroke, s.StrokeOpacity) && s.Width != "0px"
	_, line := c.Segments[0].(drawing.Line)
	inside := len(c.Segments) > 1 || !line // a browser paints the fill of a single line too: nothing
	if filled := paints(s.Fill, s.FillOpacity) && inside; c.Stroked != stroked || c.Filled != filled {
		t.Errorf("%s: %s: stroked %v, filled %v; chromium: %s, %s", name, s.ID, c.Stroked, c.Filled, s.Stroke, s.Fill)
	}
	paint := s.Fill
	if stroked {
		paint = s.Stroke
	}
	want := ""
	if m := rgb.FindStringSubmatch(strings.TrimPrefix(paint, `url("#none") `)); m != nil {
		for _, part := range m[1:] {
			n, _ := strconv.Atoi(part)
			want += fmt.Sprintf("%02x", n)
		}
		want = "#" + want
	}
	if c.Color != want {
		t.Errorf("%s: %s: %q, chromium: %s", name, s.ID, c.Color, paint)
	}
	if !stroked {
		return
	}
	if c.Dashed != (s.Dashes != "none") {
		t.Errorf("%s: %s: dashed %v, chromium: %s", name, s.ID, c.Dashed, s.Dashes)
	}
	width, err := strconv.ParseFloat(strings.TrimSuffix(s.Width, "px"), 64)
	if err != nil {
		t.Errorf("%s: %s: width %s", name, s.ID, s.Width)
	}
	if name != "non-scaling line" && math.Abs(c.Width-width*scale) > 1e-4*width*scale {
		t.Errorf("%s: %s: width %v, chromium's %v", name, s.ID, c.Width, width*scale)
	}
}

// picture draws what was read as an SVG of its page, so many pixels wide and high.
func picture(d drawing.Drawing) (width, height int, svg string) {
	const wide = 300
	page := d.Page
	width, height = wide, int(math.Round(wide*page.Size().Y/page.Size().X))
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="%v %v %v %v" preserveAspectRatio="none">`+"\n",
		width, height, page.Min.X, -page.Max.Y, page.Size().X, page.Size().Y)
	for _, c := range d.Curves {
		fmt.Fprintf(&b, `<path fill="none" stroke="%s" stroke-width="%v" `, c.Color, c.Width)
		if c.Dashes != nil {
			fmt.Fprintf(&b, `stroke-dasharray="%s" stroke-dashoffset="%v" `, strings.Trim(fmt.Sprint(c.Dashes), "[]"), c.DashStart)
		}
		b.WriteString(`d="`)
		for i, s := range c.Segments {
			if start := drawing.Start(s); i == 0 {
				fmt.Fprintf(&b, "M%v %v", start.X, -start.Y)
			}
			steps := 60
			if _, line := s.(drawing.Line); line {
				steps = 1
			}
			for k := 1; k <= steps; k++ {
				p := s.At(float64(k) / float64(steps))
				fmt.Fprintf(&b, "L%v %v", p.X, -p.Y)
			}
		}
		if c.Closed {
			b.WriteString("z")
		}
		b.WriteString(`"/>` + "\n")
	}
	return width, height, b.String() + "</svg>\n"
}

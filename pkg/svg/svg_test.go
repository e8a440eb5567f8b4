package svg_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	_ "image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/sheet"
	"strapwork/pkg/svg"
)

// part is a panel of a box lid's template.
func part() sheet.Sheet {
	return sheet.Sheet{
		Name:  "A-wall",
		Title: "Box lid <pear & maple>, panel A",
		Lines: []sheet.Line{
			{Role: sheet.Edge, Contour: geom.Rect(geom.Box{Min: geom.Pt(-90, -70), Max: geom.Pt(90, 70)})},
			{Role: sheet.Opening, Contour: slot(geom.Turning(0.3).Then(geom.Shifting(geom.Pt(-5, -20))))},
			{Role: sheet.Opening, Contour: crescent()},
			{Role: sheet.Mark, Contour: geom.Contour{Vertices: []geom.Vertex{{Point: geom.Pt(-80, -60)}, {Point: geom.Pt(-76, -50)}, {Point: geom.Pt(-72, -60)}}}},
			{Role: sheet.Mark, Contour: geom.Contour{Vertices: []geom.Vertex{{Point: geom.Pt(-78.4, -56)}, {Point: geom.Pt(-73.6, -56)}}}},
			{Role: sheet.Note, Contour: geom.Contour{Vertices: []geom.Vertex{{Point: geom.Pt(0, -80)}, {Point: geom.Pt(0, 80)}}}},
		},
		Holes: []sheet.Hole{
			{Role: sheet.Pin, Center: geom.Pt(-80, 60), Radius: 2.5},
			{Role: sheet.Pin, Center: geom.Pt(80, 60), Radius: 2.5},
		},
	}
}

func slot(t geom.Similarity) geom.Contour {
	return t.Contour(geom.Contour{Closed: true, Vertices: []geom.Vertex{
		{Point: geom.Pt(45, -12), Bulge: 1},
		{Point: geom.Pt(45, 12)},
		{Point: geom.Pt(-45, 12), Bulge: 1},
		{Point: geom.Pt(-45, -12)},
	}})
}

// crescent has a clockwise arc of 90 degrees and a counter-clockwise one of
// 120 whose bulge is that of the DXF Reference's rule.
func crescent() geom.Contour {
	return geom.Contour{Closed: true, Vertices: []geom.Vertex{
		{Point: geom.Pt(-40, 45), Bulge: -math.Tan(math.Pi / 8)},
		{Point: geom.Pt(20, 45), Bulge: math.Tan(math.Pi / 6)},
	}}
}

func write(t *testing.T, s sheet.Sheet, o svg.Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := svg.WriteSheet(&b, s, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// An element is one element of a file that was read back.
type element struct {
	name  string
	class string // of the group that it is in
	attrs map[string]string
	text  string
}

func parse(t *testing.T, b []byte) []element {
	t.Helper()
	var out []element
	var open []int
	class := ""
	d := xml.NewDecoder(bytes.NewReader(b))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			e := element{name: tok.Name.Local, attrs: map[string]string{}}
			for _, a := range tok.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			if e.name == "g" {
				class = e.attrs["class"]
			}
			e.class = class
			open = append(open, len(out))
			out = append(out, e)
		case xml.EndElement:
			open = open[:len(open)-1]
			if tok.Name.Local == "g" {
				class = ""
			}
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].text += string(tok)
			}
		}
	}
}

func pick(es []element, name, class string) []element {
	var out []element
	for _, e := range es {
		if e.name == name && e.class == class {
			out = append(out, e)
		}
	}
	return out
}

// readPath turns path data back into contours in the drawing's own axes. The
// arc's centre is found as in SVG 1.1, appendix F.6.5, not from the bulge.
func readPath(t *testing.T, d string) []geom.Contour {
	t.Helper()
	var out []geom.Contour
	words := strings.Fields(d)
	num := func() float64 {
		if len(words) == 0 {
			t.Fatalf("path %q ends early", d)
		}
		v, err := strconv.ParseFloat(words[0], 64)
		if err != nil {
			t.Fatal(err)
		}
		words = words[1:]
		return v
	}
	at := func() geom.Point { x := num(); return geom.Pt(x, -num()) }
	for len(words) > 0 {
		cmd := words[0]
		words = words[1:]
		if cmd == "M" {
			out = append(out, geom.Contour{Vertices: []geom.Vertex{{Point: at()}}})
			continue
		}
		c := &out[len(out)-1]
		last := &c.Vertices[len(c.Vertices)-1]
		switch cmd {
		case "L":
			c.Vertices = append(c.Vertices, geom.Vertex{Point: at()})
		case "A":
			rx, ry, turn, large, sweep := num(), num(), num(), num(), num()
			if rx != ry || turn != 0 || large != 0 {
				t.Fatalf("arc %g %g %g %g", rx, ry, turn, large)
			}
			b := at()
			// F.6.5 for a circle, the long way spared: the half angle's sine is
			// half the chord over the radius. Sweep 1 is clockwise with y up.
			half := math.Asin(math.Min(1, last.Dist(b)/2/rx))
			last.Bulge = math.Tan(half / 2)
			if sweep == 1 {
				last.Bulge = -last.Bulge
			}
			c.Vertices = append(c.Vertices, geom.Vertex{Point: b})
		case "Z":
			c.Closed = true
			if v := c.Vertices; len(v) > 1 && v[len(v)-1].Point == v[0].Point {
				c.Vertices = v[:len(v)-1]
			}
		default:
			t.Fatalf("command %q", cmd)
		}
	}
	return out
}

// Everything that is drawn comes back where it was, by role.
func TestSheetReadBack(t *testing.T) {
	s := part()
	es := parse(t, write(t, s, svg.Options{}))
	for _, r := range sheet.Roles() {
		class := strings.ToLower(r.String())
		paths := pick(es, "path", class)
		for _, l := range s.Lines {
			if l.Role != r {
				continue
			}
			if len(paths) == 0 {
				t.Fatalf("%s: too few paths", r)
			}
			got := readPath(t, paths[0].attrs["d"])
			paths = paths[1:]
			if len(got) != 1 || got[0].Closed != l.Contour.Closed {
				t.Fatalf("%s: %v", r, got)
			}
			same(t, l.Contour, got[0])
		}
		circles := pick(es, "circle", class)
		for _, h := range s.Holes {
			if h.Role != r {
				continue
			}
			c := circles[0]
			circles = circles[1:]
			if c.attrs["cx"] != strconv.FormatFloat(h.Center.X, 'f', -1, 64) || c.attrs["cy"] != strconv.FormatFloat(-h.Center.Y, 'f', -1, 64) || c.attrs["r"] != "2.5" {
				t.Errorf("%s: circle %v", r, c.attrs)
			}
		}
		if len(paths)+len(circles) > 0 {
			t.Errorf("%s: too much", r)
		}
	}
}

// same holds what was read against what was meant: every vertex is there, and
// points all along it are on the other, within twice the rounding.
func same(t *testing.T, want, got geom.Contour) {
	t.Helper()
	const tol = 2e-5
	for _, v := range want.Vertices {
		found := false
		for _, w := range got.Vertices {
			found = found || v.Near(w.Point, tol)
		}
		if !found {
			t.Errorf("no vertex at %v in %v", v.Point, got)
		}
	}
	for i := range 101 {
		p, _ := got.At(got.Length() * float64(i) / 100)
		if q, _ := want.Nearest(p); !q.Near(p, tol) {
			t.Errorf("%v is %g away", p, q.Dist(p))
		}
	}
	if want.Closed && math.Abs(want.Area()-got.Area()) > tol*want.Length() {
		t.Errorf("area %g, want %g", got.Area(), want.Area())
	}
}

// The page is in millimetres, one unit each, and holds the part and its bar.
func TestSheetSize(t *testing.T) {
	for _, o := range []svg.Options{{}, {Bare: true}, {NoScale: true}} {
		es := parse(t, write(t, part(), o))
		root := es[0].attrs
		var box [4]float64
		for i, w := range strings.Fields(root["viewBox"]) {
			v, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatal(err)
			}
			box[i] = v
		}
		if root["width"] != strconv.FormatFloat(box[2], 'f', -1, 64)+"mm" || root["height"] != strconv.FormatFloat(box[3], 'f', -1, 64)+"mm" {
			t.Errorf("%+v: width %s, height %s, viewBox %v", o, root["width"], root["height"], box)
		}
		top := 80.0 // the note's
		if o.Bare {
			top = 70
		}
		if box[0] >= -90 || box[0]+box[2] <= 90 || box[1] >= -top || box[1]+box[3] <= 70 {
			t.Errorf("%+v: viewBox %v", o, box)
		}
		bars := pick(es, "path", "scale")
		if (len(bars) == 0) != o.NoScale || (len(pick(es, "path", "note")) == 0) != o.Bare {
			t.Errorf("%+v: %d bars", o, len(bars))
		}
		if o.NoScale {
			continue
		}
		bar := readPath(t, bars[0].attrs["d"])[0]
		if l := bar.Length(); math.Abs(l-50) > 1e-9 {
			t.Errorf("the bar is %g mm long", l)
		}
		if y := bar.Start().Y; y >= -70 || -y >= box[1]+box[3] {
			t.Errorf("the bar is at y %g", y)
		}
	}
	// A part narrower than its bar gets a page that holds the bar.
	small := sheet.Sheet{Holes: []sheet.Hole{{Role: sheet.Pin, Radius: 1}}}
	if b := write(t, small, svg.Options{}); !bytes.Contains(b, []byte(`width="66mm"`)) {
		t.Errorf("%s", b)
	}
}

func TestSheetTitleIsEscaped(t *testing.T) {
	es := parse(t, write(t, part(), svg.Options{}))
	if es[1].name != "title" || es[1].text != part().Title {
		t.Errorf("%+v", es[1])
	}
}

// Roles differ without their colour: no two have one weight and dash.
func TestRolesDifferInGrey(t *testing.T) {
	seen := map[string]string{}
	for _, g := range parse(t, write(t, part(), svg.Options{})) {
		if g.name != "g" || g.class == "scale" {
			continue
		}
		key := g.attrs["stroke-width"] + "/" + g.attrs["stroke-dasharray"]
		if other, met := seen[key]; met {
			t.Errorf("%s and %s are both %s", other, g.class, key)
		}
		seen[key] = g.class
	}
	if len(seen) != len(sheet.Roles()) {
		t.Errorf("%d roles drawn", len(seen))
	}
}

func TestNumbers(t *testing.T) {
	s := sheet.Sheet{Lines: []sheet.Line{{Role: sheet.Mark, Contour: geom.Contour{Vertices: []geom.Vertex{
		{Point: geom.Pt(-1e-9, 1e-9), Bulge: 1e-14}, {Point: geom.Pt(1.0/3, 100)}, {Point: geom.Pt(1e5, -2.0/3), Bulge: 1}, {Point: geom.Pt(1e5, -2.0/3+1e-9)},
	}}}}}
	b := write(t, s, svg.Options{})
	if bad := regexp.MustCompile(`[ "]-0[ "]|[0-9][eE][-+]?[0-9]|\.[0-9]{6}|NaN|Inf`).Find(b); bad != nil {
		t.Errorf("%q in %s", bad, b)
	}
	if !bytes.Contains(b, []byte("M 0 0 ")) || !bytes.Contains(b, []byte(" 0.33333 -100")) {
		t.Errorf("%s", b)
	}
	if !bytes.Equal(b, write(t, s, svg.Options{})) {
		t.Error("a second writing differs")
	}
}

func TestSheetRefuses(t *testing.T) {
	bad := []sheet.Sheet{
		{},
		{Lines: []sheet.Line{{Role: 9, Contour: slot(geom.Identity())}}},
		{Lines: []sheet.Line{{Contour: geom.Polygon(geom.Pt(math.NaN(), 0), geom.Pt(1, 1))}}},
		{Lines: []sheet.Line{{Contour: geom.Polygon(geom.Pt(2e6, 0), geom.Pt(1, 1))}}},
		{Lines: []sheet.Line{{Contour: geom.Contour{Vertices: []geom.Vertex{{Bulge: 2}, {Point: geom.Pt(1, 1)}}}}}},
		{Holes: []sheet.Hole{{Role: sheet.Pin}}},
		{Holes: []sheet.Hole{{Role: sheet.Pin, Radius: math.Inf(1)}}},
		{Holes: []sheet.Hole{{Role: -1, Radius: 1}}},
	}
	for i, s := range bad {
		if err := svg.WriteSheet(io.Discard, s, svg.Options{}); err == nil {
			t.Errorf("sheet %d is written", i)
		}
	}
}

// picture has a ring (an outer loop and a hole) in the upper left quarter, and
// a line of lettering.
func picture() sheet.Picture {
	ring := []geom.Contour{geom.Circle(geom.Pt(-20, 20), 15), geom.Circle(geom.Pt(-20, 20), 10).Reverse()}
	return sheet.Picture{
		Title:  "Guitar rosette",
		Bounds: geom.Box{Min: geom.Pt(-40, -40), Max: geom.Pt(40, 40)},
		Fills: []sheet.Fill{
			{Loops: ring, Color: "#000000", Label: `holly & "bronze"`},
			{Loops: []geom.Contour{{Vertices: []geom.Vertex{{Point: geom.Pt(0, -30), Bulge: 0.5}, {Point: geom.Pt(30, -30)}}}}, Color: "#ff0000", Stroke: "#7a4a1f", StrokeWidth: 0.5},
		},
	}
}

func TestPictureReadBack(t *testing.T) {
	p := picture()
	p.Texts = []sheet.Text{{At: geom.Pt(-38, -38), Height: 3, String: "1 < 2"}}
	var b bytes.Buffer
	if err := svg.WritePicture(&b, p); err != nil {
		t.Fatal(err)
	}
	es := parse(t, b.Bytes())
	if es[0].attrs["viewBox"] != "-40 -40 80 80" || es[0].attrs["width"] != "80mm" {
		t.Errorf("root %v", es[0].attrs)
	}
	paths := pick(es, "path", "")
	ring := readPath(t, paths[0].attrs["d"])
	if len(ring) != 2 || paths[0].attrs["fill"] != "#000000" || paths[0].attrs["stroke"] != "" {
		t.Fatalf("%v", paths[0])
	}
	for i, c := range p.Fills[0].Loops {
		same(t, c, ring[i])
	}
	if len(paths) != 2 || paths[1].attrs["fill"] != "none" || paths[1].attrs["stroke-width"] != "0.5" {
		t.Errorf("an open loop is filled: %v", paths)
	}
	titles := pick(es, "title", "")
	if len(titles) != 2 || titles[1].text != p.Fills[0].Label {
		t.Errorf("titles %v", titles)
	}
	if x := pick(es, "text", ""); len(x) != 1 || x[0].text != "1 < 2" || x[0].attrs["y"] != "38" {
		t.Errorf("text %v", x)
	}
}

// TestPictureDashesAndTurns: a turn is counter-clockwise here and clockwise in
// SVG (SVG 1.1, section 7.6), about the text's own place.
func TestPictureDashesAndTurns(t *testing.T) {
	p := picture()
	p.Fills[1].Dash = []float64{3, 1.5}
	p.Texts = []sheet.Text{{At: geom.Pt(10, 20), Height: 3, String: "A", Middle: true, Turn: math.Pi / 2}}
	var b bytes.Buffer
	if err := svg.WritePicture(&b, p); err != nil {
		t.Fatal(err)
	}
	es := parse(t, b.Bytes())
	paths, texts := pick(es, "path", ""), pick(es, "text", "")
	if paths[1].attrs["stroke-dasharray"] != "3 1.5" || paths[0].attrs["stroke-dasharray"] != "" {
		t.Errorf("dashes %v", paths)
	}
	if a := texts[0].attrs; a["transform"] != "rotate(-90 10 -20)" || a["text-anchor"] != "middle" {
		t.Errorf("text %v", a)
	}
}

func TestPictureRefuses(t *testing.T) {
	for name, change := range map[string]func(*sheet.Picture){
		"bounds": func(p *sheet.Picture) { p.Bounds = geom.EmptyBox() },
		"nan":    func(p *sheet.Picture) { p.Bounds.Max.X = math.NaN() },
		"colour": func(p *sheet.Picture) { p.Fills[0].Color = `red"/>` },
		"stroke": func(p *sheet.Picture) { p.Fills[1].Stroke = "#12345g" },
		"width":  func(p *sheet.Picture) { p.Fills[1].StrokeWidth = 0 },
		"loop":   func(p *sheet.Picture) { p.Fills[1].Loops[0].Vertices[0].Bulge = math.Inf(1) },
		"text":   func(p *sheet.Picture) { p.Texts = []sheet.Text{{String: "x"}} },
		"turn":   func(p *sheet.Picture) { p.Texts = []sheet.Text{{String: "x", Height: 3, Turn: math.NaN()}} },
		"dash":   func(p *sheet.Picture) { p.Fills[1].Dash = []float64{1, 0} },
	} {
		p := picture()
		change(&p)
		if err := svg.WritePicture(io.Discard, p); err == nil {
			t.Errorf("%s: written", name)
		}
	}
}

// An independent renderer finds the ring's area where it should be: which way
// is up, which way arcs turn, and how big a millimetre is.
func TestWitnessRenders(t *testing.T) {
	rsvg := witness.Program(t, "rsvg-convert", "librsvg2-bin")
	p := picture()
	p.Fills = p.Fills[:1]
	var b bytes.Buffer
	if err := svg.WritePicture(&b, p); err != nil {
		t.Fatal(err)
	}
	in := filepath.Join(t.TempDir(), "in.svg")
	out := in + ".png"
	if err := os.WriteFile(in, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	const perMM = 10 // 254 dots to the inch
	if _, err := witness.Run(rsvg, "-d", "254", "-p", "254", "-b", "white", "-o", out, in); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	if s := img.Bounds().Size(); s != image.Pt(80*perMM, 80*perMM) {
		t.Fatalf("the picture is %v", s)
	}
	var ink, x, y float64
	for i := range 80 * perMM {
		for j := range 80 * perMM {
			g, _, _, _ := img.At(i, j).RGBA()
			d := 1 - float64(g)/0xffff
			ink, x, y = ink+d, x+d*(float64(i)+0.5), y+d*(float64(j)+0.5)
		}
	}
	area, cx, cy := ink/perMM/perMM, x/ink/perMM-40, 40-y/ink/perMM
	// Ring: pi (15^2 - 10^2). Renderers are good to some thousandths of a pixel
	// along a rim of 157 mm, that is 1570 pixels.
	if want := math.Pi * 125; math.Abs(area-want) > 0.5 {
		t.Errorf("area %.3f, want %.3f", area, want)
	}
	if math.Abs(cx+20) > 0.02 || math.Abs(cy-20) > 0.02 {
		t.Errorf("centre (%.3f, %.3f), want (-20, 20)", cx, cy)
	}
}

// TestScreensKeepLinesWide: at any size a hair is drawn in pixels, which vector-effect
// asks for (SVG 2, section 8.13), a line that is as wide as a thing in mm; and the bar of a sheet
// in inches is 50.8 mm long.
func TestScreensKeepLinesWide(t *testing.T) {
	line := []geom.Contour{geom.Chain(false, geom.Line(geom.Pt(0, 0), geom.Pt(100, 0)))}
	p := sheet.Picture{Title: "lines", Bounds: geom.Box{Min: geom.Pt(0, -1), Max: geom.Pt(500, 1)}, Fills: []sheet.Fill{
		{Loops: line, Stroke: "#000000", StrokeWidth: 2, Hair: true, Dash: []float64{3, 1}, Label: "hair"},
		{Loops: line, Stroke: "#000000", StrokeWidth: 0.01, Hair: true, Label: "thin hair"},
		{Loops: line, Stroke: "#000000", StrokeWidth: 2, Label: "band"},
	}}
	var b bytes.Buffer
	if err := svg.WritePicture(&b, p); err != nil {
		t.Fatal(err)
	}
	var got []string
	for l := range strings.Lines(b.String()) {
		if _, style, ok := strings.Cut(l, "style=\""); ok {
			got = append(got, style[:strings.IndexByte(style, '"')])
		}
	}
	want := []string{"vector-effect:non-scaling-stroke;stroke-width:4px;stroke-dasharray:6 2", "vector-effect:non-scaling-stroke;stroke-width:0.8px"}
	if !slices.Equal(got, want) {
		t.Errorf("lines are drawn with %q, want %q", got, want)
	}
	b.Reset()
	s := sheet.Sheet{Name: "part", Lines: []sheet.Line{{Role: sheet.Edge, Contour: geom.Rect(geom.Box{Max: geom.Pt(100, 50)})}}}
	if err := svg.WriteSheet(&b, s, svg.Options{Inches: true}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "M 0 9 L 50.8 9") || !strings.Contains(b.String(), "Scale check: 2 in<") {
		t.Errorf("no bar of 2 in in %s", b.String())
	}
}

package fromsvg_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromsvg"
	"strapwork/pkg/geom"
)

// read reads a drawing that has no fault.
func read(t *testing.T, svg string) drawing.Drawing {
	t.Helper()
	d, findings := fromsvg.Read("t.svg", []byte(svg))
	if len(findings) > 0 {
		t.Fatal(findings)
	}
	return d
}

// TestUnits: a unit of the drawing is known only where the page is in units that are
// lengths in the hand, by the definitions of CSS Values 3, section 6.2 (1 in = 25.4 mm =
// 72 pt = 6 pc = 96 px; 1 mm = 4 Q); the page is the paper, in the drawing's units, y up.
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		root string
		unit float64
		page string // left, bottom, width, height; "" for none
	}{
		{``, 0, ""},
		{`viewBox="0 0 200 100"`, 0, "0 -100 200 100"},
		{`viewBox="-10 5 200 100"`, 0, "-10 -105 200 100"},
		{`width="200" height="100"`, 0, "0 -100 200 100"},
		{`width="200px" height="100px" viewBox="0 0 20 10"`, 0, "0 -10 20 10"},
		{`width="100%" height="100%" viewBox="0 0 20 10"`, 0, "0 -10 20 10"},
		{`width="100mm" height="50mm" viewBox="0 0 200 100"`, 0.5, "0 -100 200 100"},
		{`width="20cm" viewBox="0 0 400 100"`, 0.5, "0 -100 400 100"},
		{`height="5in" viewBox="0 0 400 127"`, 1, "0 -127 400 127"},
		{`width="100%" height="5in" viewBox="0 0 400 127"`, 1, "0 -127 400 127"},
		{`width="144pt" height="6pc" viewBox="0 0 50.8 25.4"`, 1, "0 -25.4 50.8 25.4"},
		{`width="400Q" height="400Q" viewBox="0 0 10 10"`, 10, "0 -10 10 10"},
		{`width="100mm" height="100" viewBox="0 0 10 10"`, 0, ""}, // half a length: to be asked for
		{`width="2in" height="1in"`, 25.4 / 96, "0 -96 192 96"},
		{`width="0" height="0" viewBox="0 0 20 10"`, 0, "0 -10 20 10"},
		{`style="width:50mm;height:auto" width="9" viewBox="0 0 100 10"`, 0.5, "0 -10 100 10"},
		// The box is fitted into the paper, which then is larger on two sides, or cuts it.
		{`width="100mm" height="100mm" viewBox="0 0 200 100"`, 0.5, "0 -150 200 200"},
		{`width="100mm" height="100mm" viewBox="0 0 200 100" preserveAspectRatio="xMinYMin"`, 0.5, "0 -200 200 200"},
		{`width="100mm" height="100mm" viewBox="0 0 200 100" preserveAspectRatio="xMinYMax"`, 0.5, "0 -100 200 200"},
		{`width="100mm" height="100mm" viewBox="0 0 200 100" preserveAspectRatio="xMaxYMid slice"`, 1, "100 -100 100 100"},
		// Stretched unequally the drawing keeps its x.
		{`width="100mm" height="100mm" viewBox="0 10 200 100" preserveAspectRatio="none"`, 0.5, "0 -220 200 200"},
	} {
		d := read(t, `<svg `+c.root+`/>`)
		page := ""
		if !d.Page.Empty() {
			size := d.Page.Size()
			page = fmt.Sprintf("%.6g %.6g %.6g %.6g", d.Page.Min.X, d.Page.Min.Y, size.X, size.Y)
		}
		if math.Abs(d.Unit-c.unit) > 1e-15 || c.page != "" && page != c.page || c.root == "" && page != "" {
			t.Errorf("<svg %s>: a unit of %v mm, page %s; want %v, %s", c.root, d.Unit, page, c.unit, c.page)
		}
	}
}

// TestPassesOver: what is no line to follow, or not seen, is counted by what it is.
func TestPassesOver(t *testing.T) {
	d := read(t, `<svg viewBox="0 0 100 100"><style>.no{display:none}</style>
		<defs><mask id="m"/><clipPath id="c"/><pattern id="p"/><marker id="k"/><filter id="f"/><text>never drawn</text></defs>
		<text>a</text><text>b</text><image/><foreignObject/><script/><path d="M0 0L9 9L9 0"><animate/></path>
		<g class="no"><text>not counted</text></g><g opacity="0"/><path visibility="hidden" d="M0 0L9 9L9 0"/><g transform="scale(0)"/>
		<path d="M5 5z"/><circle r="0"/><path fill="none" d="M0 0h9v9"/><path d="M0 0L9 9"/>
		<rect width="100%" height="100%"/><path d="M-1-1h102v102h-102z"/><path d="M200 200h9v9z"/>
		<switch><g systemLanguage="xx"/><g/><g/></switch><hatchery/><linearGradient/></svg>`)
	want := "mask, clipping path, pattern, marker, filter, script, animation, +text, image, foreign object, +++hidden, +zero-length, " +
		"+unpainted, +background, outside the page, +switched off, unknown element"
	if got := passed(d); got != want || len(d.Curves) != 1 {
		t.Errorf("%d curves, passed over:\n%s\nwant\n%s", len(d.Curves), got, want)
	}
}

// TestNoBackground: rectangles that are no background: smaller than the page, only a
// line, round, or not upright.
func TestNoBackground(t *testing.T) {
	for _, shape := range []string{
		`<rect width="99" height="100"/>`, `<rect width="100" height="100" fill="none" stroke="red"/>`,
		`<rect width="100" height="100" rx="5"/>`, `<path d="M0 0H100V100z"/>`, `<path d="M0 0H100V100H50V50z"/>`,
	} {
		if d := read(t, `<svg viewBox="0 0 100 100">`+shape+`</svg>`); len(d.Curves) != 1 {
			t.Errorf("%s: passed over as %s", shape, passed(d))
		}
	}
}

// TestWhatIsKnownOfACurve: its layer, id, place, colour, width, and what hides parts of
// it.
func TestWhatIsKnownOfACurve(t *testing.T) {
	d := read(t, `<svg viewBox="0 0 100 100"><mask id="m"/><defs><g id="pair"><path id="one" d="M1 1h9"/><path d="M1 2h9"/></g></defs>
<g><g id="outer" stroke="RED" stroke-width="2" transform="scale(3)"><g id="inner" mask="url(#m)">
 <path d="M1 1h5" stroke="#AbC"/></g><path id="p" clip-path="circle(3)" d="M2 2h5"/><path mask="url(#gone)" d="M3 3h5"/></g></g>
<use id="u" href="#pair" stroke="blue" fill="none"/><circle id="c" cx="50" cy="50" r="9" fill="rgb(0 128 0 / 50%)"/>
<svg width="50" height="50"><path id="cut" stroke="#000" d="M40 40h20"/></svg>
<path vector-effect="non-scaling-stroke" stroke="#000" stroke-width="4" transform="scale(5)" d="M1 9h3v1z"/></svg>`)
	var got strings.Builder
	for _, c := range d.Curves {
		fmt.Fprintf(&got, "%d:%d layer %q id %q %s width %g", c.Pos.Line, c.Pos.Col, c.Layer, c.ID, c.Color, math.Round(c.Width*1e9)/1e9)
		for _, flag := range []struct {
			is   bool
			name string
		}{{c.Closed, "closed"}, {c.Filled, "filled"}, {c.Stroked, "stroked"}, {c.Masked, "masked"}, {c.Dashed, "dashed"}} {
			if flag.is {
				got.WriteString(" " + flag.name)
			}
		}
		got.WriteString("\n")
	}
	const want = `3:2 layer "outer" id "" #aabbcc width 6 stroked masked
3:38 layer "outer" id "p" #ff0000 width 6 stroked masked
3:85 layer "outer" id "" #ff0000 width 6 stroked
1:61 layer "pair" id "one" #0000ff width 1 stroked
1:88 layer "pair" id "u" #0000ff width 1 stroked
4:53 layer "" id "c" #008000 width 0 closed filled
5:29 layer "" id "cut" #000000 width 1 stroked masked
6:1 layer "" id "" #000000 width 4 closed filled stroked
`
	if got.String() != want {
		t.Errorf("got\n%swant\n%s", got.String(), want)
	}
}

// TestTransformsStayExact: quarter turns and mirrors bring whole numbers to whole numbers,
// a circle under a similar map is a circle, and under any other an ellipse with the
// figures of its affine picture.
func TestTransformsStayExact(t *testing.T) {
	d := read(t, `<svg><g stroke="#000" fill="none"><path transform="rotate(90) scale(-1,1)" d="M3 4h5"/><circle transform="rotate(33) scale(-2 2)" r="5"/><circle transform="matrix(2 0 0 1 7 0)" r="5"/></g></svg>`)
	if l := d.Curves[0].Segments[0].(drawing.Line); l.A != geom.Pt(-4, 3) || l.B != geom.Pt(-4, 8) {
		t.Errorf("turned and mirrored: %v", l)
	}
	if e := d.Curves[1].Segments[0].(drawing.Ellipse); !e.IsCircle() || math.Abs(e.Major.Norm()-10) > 1e-12 {
		t.Errorf("a circle of radius 10: %v", e)
	}
	if e := d.Curves[2].Segments[0].(drawing.Ellipse); e.IsCircle() || e.Center != geom.Pt(7, 0) || e.Major.Norm() != 10 || e.Minor.Norm() != 5 {
		t.Errorf("an ellipse of half axes 10 and 5: %v", e)
	}
}

// TestTextOfAnyMaking: a byte order mark, other line ends, CDATA and comments in a style
// sheet, an encoding that is ASCII all the same, references, and words of other
// vocabularies change nothing.
func TestTextOfAnyMaking(t *testing.T) {
	for name, svg := range map[string]string{
		"mark":       "\ufeff<svg><path id='a' d='M0 0h1' stroke='red'/></svg>",
		"line ends":  "<svg>\r\n<path id='a'\r\n d='M0 0\r\nh1' stroke='red'/></svg>",
		"CDATA":      "<svg><style><![CDATA[ #a{stroke:]]>/* */<![CDATA[red} ]]></style><path id='a' d='M0 0h1'/></svg>",
		"hidden":     "<svg><style><!-- #a{} --> #a{stroke:red}</style><path id='a' d='M0 0h1'/></svg>",
		"encoding":   "<?xml version='1.0' encoding='iso-8859-15'?><svg><path id='a' d='M0 0h1' stroke='red'/></svg>",
		"references": "<svg><path id='&#97;' d='M0&#x20;0h1' stroke='r&#101;d'/></svg>",
		"prefixed":   "<s:svg xmlns:s='http://www.w3.org/2000/svg'><s:path id='a' d='M0 0h1' stroke='red'/></s:svg>",
		"foreign":    "<svg xmlns:e='http://example.org/e' e:width='x'><e:g><path/></e:g><path e:d='x' id='a' d='M0 0h1' stroke='red'/></svg>",
	} {
		if d := read(t, svg); len(d.Curves) != 1 || d.Curves[0].Color != "#ff0000" || d.Curves[0].ID != "a" {
			t.Errorf("%s: %+v", name, d.Curves)
		}
	}
}

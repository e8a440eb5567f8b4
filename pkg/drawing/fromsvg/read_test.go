package fromsvg_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromsvg"
)

// load reads a drawing of testdata, which must have no fault.
func load(t testing.TB, path string) drawing.Drawing {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	d, findings := fromsvg.Read(filepath.Base(path), data)
	for _, f := range findings {
		t.Error(f.Text())
	}
	return d
}

// passed is what was passed over, as one line.
func passed(d drawing.Drawing) string {
	var list []string
	for _, p := range d.Passed {
		list = append(list, strings.Repeat("+", p.Count-1)+p.What)
	}
	return strings.Join(list, ", ")
}

// TestReadsDrawings: what every drawing of testdata holds, counted in the files by hand
// (those of ../testdata are described in its README).
func TestReadsDrawings(t *testing.T) {
	for _, c := range []struct {
		file             string
		curves, segments int
		unit             float64
		passed           string
	}{
		{"../testdata/curves-to-fit.svg", 4, 1 + 1 + 2 + 3, 0, ""},
		{"../testdata/linked-rings-four-times.svg", 16, 3*4*2 + 4*2, 0, ""},
		{"../testdata/linked-rings-twice.svg", 4 + 6 + 6, 16, 0, ""},
		{"../testdata/looped-triangle-pt.svg", 1, 6, 25.4 / 72, ""},
		{"../testdata/panel-masks.svg", 3 + 3 + 6, 12, 0, "+mask, background"},
		{"../testdata/ring-guilloche-rounded.svg", 2, 16, 0, ""},
		{"../testdata/rosette-dashes.svg", 6, 12, 0, ""},
		{"../testdata/sinusoid-polylines-mm.svg", 2, 240, 1, ""},
		{"../testdata/solomon-symbol-cm.svg", 5, 3*6 + 2, 0.5, "clipping path"},
		{"../testdata/star-layers.svg", 2, 14, 1, "background, +hidden, text, zero-length"},
		{"../testdata/triquetra-bands.svg", 3, 18, 0, "background"},
		{"testdata/gi_triquetra.svg", 5, 41, 0, "background"},
		{"testdata/oc_pattern_arches.svg", 0, 0, 0, "pattern, background"},
		{"testdata/oc_solomons_knot.svg", 44, 219, 0, "switched off"},
	} {
		d := load(t, c.file)
		segments := 0
		for _, curve := range d.Curves {
			segments += len(curve.Segments)
		}
		if len(d.Curves) != c.curves || segments != c.segments || d.Unit != c.unit || passed(d) != c.passed {
			t.Errorf("%s: %d curves of %d segments, unit %v, passed over: %s", c.file, len(d.Curves), segments, d.Unit, passed(d))
		}
	}
}

// TestRefuses: each mistake is reported at its place, with a hint.
func TestRefuses(t *testing.T) {
	deep := strings.Repeat("<g>", 70) + strings.Repeat("</g>", 70)
	var laughs strings.Builder
	laughs.WriteString(`<path id="a0" d="M0 0h1v1"/>`)
	for i := range 9 {
		a, b := string(rune('0'+i)), string(rune('1'+i))
		laughs.WriteString(`<g id="a` + b + `">` + strings.Repeat(`<use href="#a`+a+`"/>`, 10) + `</g>`)
	}
	for _, c := range []struct{ name, svg, want string }{
		{"path", "<svg>\n <path d='M0 0 L10 x'/></svg>", `t.svg:2:20: error: a number is missing, there is "x"`},
		{"path after an entity", "<svg><path d='M0&#32;0\r\nL1'/></svg>", `t.svg:2:3: error: a number is missing, the value ends`},
		{"no move", `<svg><path d="L1 1"/></svg>`, `t.svg:1:15: error: a path begins with M`},
		{"flag", `<svg><path d="M0 0A1 1 0 2 0 1 1"/></svg>`, `t.svg:1:26: error: a flag of an arc is 0 or 1`},
		{"command", `<svg><path d="M0 0 K"/></svg>`, `t.svg:1:20: error: this is not a command of a path`},
		{"odd points", `<svg><polyline points="1 2 3"/></svg>`, `t.svg:1:29: error: the last point has no y`},
		{"negative", `<svg><circle r="-1"/></svg>`, `t.svg:1:17: error: r of <circle> can't be less than 0`},
		{"font unit", `<svg><circle r="1em"/></svg>`, `t.svg:1:18: error: the unit em is not a length that is read`},
		{"share of nothing", `<svg><circle r="5%"/></svg>`, `t.svg:1:17: error: a share of a page whose size is not given`},
		{"too far", `<svg><path d="M0 0H9e9"/></svg>`, `t.svg:1:20: error: the number 9e9 is too large`},
		{"too far by transforms", `<svg><g transform="scale(1e9)"><path d="M0 0H9e5V9"/></g></svg>`, `t.svg:1:32: error: <path> reaches too far out`},
		{"transform", `<svg><g transform="turn(3)"/></svg>`, `t.svg:1:20: error: turn(...) with 1 numbers is not a transform`},
		{"viewBox", `<svg viewBox="0 0 1"/>`, `t.svg:1:15: error: a viewBox has four numbers`},
		{"use of nothing", `<svg><path id="strand" d="M0 0h1"/><use href="#strnd"/></svg>`, `t.svg:1:47: error: <use> draws "strnd", and nothing has that id`},
		{"use of a file", `<svg><use href="other.svg#a"/></svg>`, `t.svg:1:17: error: <use> draws from another file`},
		{"use of itself", `<svg><g id="a"><use href="#a"/></g></svg>`, `t.svg:1:27: error: <use> draws "a", which it is a part of`},
		{"use of each other", `<svg><g id="a"><use href="#b"/></g><defs><g id="b"><use href="#a"/></g></defs></svg>`, `which it is a part of`},
		{"imported style", `<svg><style>@import "a.css";</style></svg>`, `t.svg:1:13: error: the drawing's style is in another file`},
		{"linked style", `<?xml-stylesheet href="a.css"?><svg/>`, `t.svg:1:1: error: the drawing's style is in another file`},
		{"entity", `<svg><desc>&lol;</desc></svg>`, `error: invalid character entity &lol;, besides the five of XML`},
		{"entities declared", `<!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>`, `t.svg:1:16: error: the drawing declares entities of its own`},
		{"not XML", `<svg><g></svg>`, `error: this is not XML: element <g> closed by </svg>`},
		{"twice", `<svg><circle r="1" r="2"/></svg>`, `t.svg:1:23: error: <circle> has r twice`},
		{"another root", `<html><svg/></html>`, `t.svg:1:1: error: the file begins with <html> and not with <svg>`},
		{"nothing", ``, `t.svg: error: there is no <svg> in the file`},
		{"packed", "\x1f\x8b\x08", `t.svg: error: the drawing is packed (gzip)`},
		{"UTF-16", "\xff\xfe<\x00s\x00", `t.svg: error: the drawing is written in UTF-16`},
		{"Latin-1", "<?xml version='1.0' encoding='ISO-8859-1'?><svg><desc>\xe9</desc></svg>", `t.svg:1:1: error: the drawing is written in ISO-8859-1`},
		{"deep", "<svg>" + deep + "</svg>", `error: elements are nested more than 64 deep`},
		{"points", "<svg><polyline points='" + strings.Repeat("1 1 2 2 ", 26000) + "'/></svg>", `error: the drawing has more than 50000 lines and curves`},
		{"laughs", "<svg>" + laughs.String() + "</svg>", `error: the drawing has more than 50000 lines and curves`},
		{"empty laughs", "<svg>" + strings.Replace(laughs.String(), `<path id="a0" d="M0 0h1v1"/>`, `<g id="a0"/>`, 1) + "</svg>", `error: <use> draws more than 200000 elements`},
	} {
		d, findings := fromsvg.Read("t.svg", []byte(c.svg))
		errors := 0
		for _, f := range findings {
			if f.Severity != diag.Error {
				continue
			}
			errors++
			if f.Hint == "" {
				t.Errorf("%s: no hint beside %v", c.name, f)
			}
		}
		if errors != 1 || !strings.Contains(findings[0].Error(), c.want) {
			t.Errorf("%s: got %v\nwant %s", c.name, findings, c.want)
		}
		if len(d.Curves) > 0 {
			t.Errorf("%s: curves all the same", c.name)
		}
	}
}

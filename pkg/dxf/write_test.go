package dxf_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"sync"
	"testing"

	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// Sixteen goroutines that write at once get the bytes that one gets alone.
func TestWriteConcurrently(t *testing.T) {
	for name, o := range variants() {
		want := write(t, part(), o)
		var wg sync.WaitGroup
		got := make([][]byte, 16)
		for i := range got {
			wg.Go(func() {
				var b bytes.Buffer
				if err := dxf.Write(&b, part(), o); err != nil {
					t.Error(err)
				}
				got[i] = b.Bytes()
			})
		}
		wg.Wait()
		for i := range got {
			if !bytes.Equal(got[i], want) {
				t.Errorf("%s: goroutine %d wrote other bytes", name, i)
			}
		}
	}
}

// Numbers have nine decimals and neither exponent nor a minus on zero.
func TestWriteNumbers(t *testing.T) {
	s := sheet.Sheet{Lines: []sheet.Line{{Role: sheet.Mark, Contour: geom.Contour{Vertices: []geom.Vertex{
		{Point: geom.Pt(-1e-10, math.Copysign(0, -1)), Bulge: -1e-12},
		{Point: geom.Pt(123456.5, -2.0/3)},
	}}}}}
	minusZero := regexp.MustCompile(`(?m)^-0(\.0*)?$`)
	exponent := regexp.MustCompile(`(?m)^-?[0-9.]+[eE][-+]`)
	for _, v := range []dxf.Version{dxf.R2000, dxf.R12} {
		b := write(t, s, dxf.Options{Version: v})
		if minusZero.Match(b) || exponent.Match(b) {
			t.Errorf("%v: %s", v, b)
		}
		if !bytes.Contains(b, []byte("\n10\n123456.500000000\n20\n-0.666666667\n")) {
			t.Errorf("%v: the second vertex isn't as expected:\n%s", v, b)
		}
		if bytes.Contains(b, []byte("\n42\n-")) {
			t.Errorf("%v: a bulge below the last decimal is written", v)
		}
	}
}

// What is cut first stands first and the edge last; notes follow, or are left
// out.
func TestWriteOrder(t *testing.T) {
	for _, v := range []dxf.Version{dxf.R2000, dxf.R12} {
		for _, bare := range []bool{false, true} {
			want := "OPENING PIN MARK EDGE NOTE"
			if bare {
				want = "OPENING PIN MARK EDGE"
			}
			_, entities, _ := strings.Cut(string(write(t, part(), dxf.Options{Version: v, Bare: bare})), "2\nENTITIES\n")
			var order []string
			for _, m := range regexp.MustCompile(`(?m)^8\n(\w+)$`).FindAllStringSubmatch(entities, -1) {
				if n := len(order); n == 0 || order[n-1] != m[1] {
					order = append(order, m[1])
				}
			}
			if got := strings.Join(order, " "); got != want {
				t.Errorf("%v: %s, want %s", v, got, want)
			}
		}
	}
}

// The title is a comment in ASCII that can't break out of its line.
func TestWriteTitle(t *testing.T) {
	s := part()
	s.Title = "Büchse\r\n0\nEOF " + strings.Repeat("x", 600)
	b := write(t, s, dxf.Options{})
	if !bytes.HasPrefix(b, []byte("999\nB\\U+00FCchse  0 EOF xxx")) {
		t.Errorf("begins %.60q", b)
	}
	for i, line := range strings.Split(string(b), "\n") {
		if len(line) > 255 {
			t.Errorf("line %d has %d characters", i+1, len(line))
		}
		for _, c := range line {
			if c > '~' || c < ' ' {
				t.Errorf("line %d holds %q", i+1, c)
			}
		}
	}
	read(t, b)
}

func TestWriteRefusesOptions(t *testing.T) {
	one := func(r sheet.Role, name string, color int) map[sheet.Role]dxf.Layer {
		return map[sheet.Role]dxf.Layer{r: {Name: name, Color: color}}
	}
	tests := []struct {
		o    dxf.Options
		want string
	}{
		{dxf.Options{Version: 7}, "version 7"},
		{dxf.Options{Units: 7}, "units 7"},
		{dxf.Options{Layers: one(9, "x", 1)}, "role 9"},
		{dxf.Options{Layers: one(sheet.Edge, "CUT\n0\nEOF", 1)}, `'\n'`},
		{dxf.Options{Layers: one(sheet.Edge, "Größe", 1)}, "'ö'"},
		{dxf.Options{Layers: one(sheet.Edge, "a|b", 1)}, "'|'"},
		{dxf.Options{Layers: one(sheet.Edge, " cut", 1)}, "spaces"},
		{dxf.Options{Layers: one(sheet.Edge, "cut here", 1), Version: dxf.R12}, "' '"},
		{dxf.Options{Layers: one(sheet.Edge, strings.Repeat("x", 32), 1), Version: dxf.R12}, "at most 31"},
		{dxf.Options{Layers: one(sheet.Edge, strings.Repeat("x", 256), 1)}, "at most 255"},
		{dxf.Options{Layers: one(sheet.Edge, "cut", 256)}, "colour 256"},
		{dxf.Options{Layers: one(sheet.Edge, "cut", -1)}, "colour -1"},
		{dxf.Options{Layers: one(sheet.Edge, "opening", 5)}, "case only"},
		{dxf.Options{Layers: one(sheet.Edge, "OPENING", 9)}, "colours"},
		{dxf.Options{Layers: one(sheet.Note, "EDGE", 1)}, "layer of its own"},
	}
	for _, tt := range tests {
		err := dxf.Write(&bytes.Buffer{}, part(), tt.o)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%+v: got %v, want %q", tt.o, err, tt.want)
		}
	}
}

func TestWriteRefusesGeometry(t *testing.T) {
	line := func(vs ...geom.Vertex) sheet.Sheet {
		return sheet.Sheet{Name: "B-wall", Lines: []sheet.Line{{Role: sheet.Opening, Contour: geom.Contour{Closed: true, Vertices: vs}}}}
	}
	hole := func(x, r float64) sheet.Sheet {
		return sheet.Sheet{Name: "B-wall", Holes: []sheet.Hole{{Role: sheet.Pin, Center: geom.Pt(x, 0), Radius: r}}}
	}
	a, b := geom.Vertex{Point: geom.Pt(0, 0)}, geom.Vertex{Point: geom.Pt(1, 0), Bulge: 1}
	nan, inf := math.NaN(), math.Inf(1)
	tests := map[string]sheet.Sheet{
		"one vertex":   line(a),
		"none":         line(),
		"nan":          line(a, geom.Vertex{Point: geom.Pt(nan, 0)}),
		"inf":          line(b, geom.Vertex{Point: geom.Pt(0, inf)}),
		"far":          line(b, geom.Vertex{Point: geom.Pt(0, 2e6)}),
		"bulge":        line(a, geom.Vertex{Point: geom.Pt(1, 0), Bulge: 1.5}),
		"nan bulge":    line(a, geom.Vertex{Point: geom.Pt(1, 0), Bulge: nan}),
		"hole nan":     hole(nan, 1),
		"no radius":    hole(0, 0),
		"lost radius":  hole(0, 1e-10),
		"negative":     hole(0, -1),
		"nan radius":   hole(0, nan),
		"big radius":   hole(0, inf),
		"role of line": {Lines: []sheet.Line{{Role: 12, Contour: geom.Polygon(a.Point, b.Point)}}},
		"role of hole": {Holes: []sheet.Hole{{Role: -1, Radius: 1}}},
	}
	for name, s := range tests {
		var out bytes.Buffer
		if err := dxf.Write(&out, s, dxf.Options{}); err == nil {
			t.Errorf("%s: written", name)
		} else if out.Len() > 0 {
			t.Errorf("%s: %d bytes came before the error", name, out.Len())
		}
	}
}

func Example() {
	s := sheet.Sheet{Name: "washer", Holes: []sheet.Hole{{Role: sheet.Pin, Center: geom.Pt(25.4, 0), Radius: 6.35}}}
	var b bytes.Buffer
	if err := dxf.Write(&b, s, dxf.Options{Version: dxf.R12, Units: dxf.Inches}); err != nil {
		fmt.Println(err)
	}
	d, err := dxf.Read(&b)
	fmt.Println(d.Version, d.Units, d.Circles, err)
	// Output: AC1009 in [{PIN {1 0} 0.25}] <nil>
}

// Every entity of release 2000 belongs to model space's record. (Lenient
// readers put a missing owner back without a word.)
func TestWriteOwners(t *testing.T) {
	b := string(write(t, part(), dxf.Options{}))
	record := regexp.MustCompile(`BLOCK_RECORD\n5\n([0-9A-F]+)\n(?:\d+\n.*\n){3}2\n\*Model_Space`).FindStringSubmatch(b)
	if record == nil {
		t.Fatal("no record of model space")
	}
	_, entities, _ := strings.Cut(b, "2\nENTITIES\n")
	entities, _, _ = strings.Cut(entities, "ENDSEC")
	all := regexp.MustCompile(`(?m)^0\n[A-Z]+\n5\n`).FindAllString(entities, -1)
	owned := regexp.MustCompile(`(?m)^0\n[A-Z]+\n5\n[0-9A-F]+\n330\n`+record[1]+`\n`).FindAllString(entities, -1)
	if len(all) != len(part().Lines)+len(part().Holes) || len(owned) != len(all) {
		t.Errorf("%d of %d entities are owned by model space", len(owned), len(all))
	}
}

package trace_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/drawing/from"
	"strapwork/pkg/trace"
)

// traceFile traces a drawing of package drawing's tests.
func traceFile(t *testing.T, file string, p trace.Params) (trace.Traced, string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "drawing", file))
	if err != nil {
		t.Fatal(err)
	}
	d, found := from.File(filepath.Base(file), data)
	if found.HasErrors() {
		t.Fatal(found)
	}
	p.Words.File = filepath.Base(file)
	got, found := trace.Trace(d, p)
	return got, found.Error()
}

// TestDrawings: what drawings of our own and of others become. Strands and crossings of
// ours are those of the figures that they were made from (pkg/drawing/testdata/README.md),
// of others' what one counts in them.
func TestDrawings(t *testing.T) {
	const others, own = "fromdxf/testdata/others/", "testdata/"
	for _, c := range []struct {
		file               string
		edges              bool
		strands, crossings int
		refused            string
	}{
		{file: own + "linked-rings-four-times.svg", strands: 4, crossings: 6},
		{file: own + "linked-rings-twice.svg", strands: 4, crossings: 6},
		{file: own + "looped-triangle-pt.svg", strands: 1, crossings: 3},
		{file: own + "panel-masks.svg", strands: 1, crossings: 7},
		{file: own + "ring-guilloche-rounded.svg", strands: 2, crossings: 8},
		{file: own + "rosette-dashes.svg", strands: 6, crossings: 30},
		{file: own + "solomon-symbol-cm.svg", strands: 2, crossings: 4},
		{file: own + "star-layers.svg", strands: 1, crossings: 14},
		{file: own + "triquetra-bands.svg", edges: true, strands: 1, crossings: 3},
		{file: "fromsvg/testdata/gi_triquetra.svg", edges: true, strands: 1, crossings: 3},
		{file: "fromsvg/testdata/oc_solomons_knot.svg", edges: true, refused: "bands that are painted in parts have no edges of their own"},
		{file: "fromsvg/testdata/oc_pattern_arches.svg", refused: "holds no line"},
		{file: others + "arcs-as-splines.dxf", strands: 3},
		{file: others + "array-rotated.dxf", strands: 6},
		{file: others + "blocks1.dxf", strands: 4, crossings: 8},
		{file: others + "circlesellipsesarcs.dxf", strands: 5},
		{file: others + "ellipticalarcs.dxf", strands: 9},
		{file: others + "lwpolylines.dxf", strands: 2},
		{file: others + "polylines.dxf", strands: 4}, // outlines of an a and a b
		{file: others + "splines.dxf", strands: 2},
	} {
		t.Run(filepath.Base(c.file), func(t *testing.T) {
			p := trace.Default()
			p.Size.Width, p.Edges = 180, c.edges
			if c.edges {
				p.Tolerance = 0.1
			}
			got, found := traceFile(t, c.file, p)
			if c.refused != "" {
				if !strings.Contains(found, c.refused) {
					t.Errorf("found %q, want %q", found, c.refused)
				}
				return
			}
			r := got.Report
			if r.Strands != c.strands || r.Crossings != c.crossings {
				t.Errorf("%d strands, %d crossings, want %d, %d: %v %v", r.Strands, r.Crossings, c.strands, c.crossings, found, r.Trouble)
			}
			// Chords of what it is held against are a fiftieth of the tolerance off.
			if r.Off > 1.02*p.Tolerance {
				t.Errorf("off the drawing by %v", r.Off)
			}
		})
	}
}

// TestSizeIsAsked: no size is guessed, and the hint has what the drawing measures in its
// own units.
func TestSizeIsAsked(t *testing.T) {
	p := trace.Default()
	_, found := traceFile(t, "testdata/solomon-symbol-cm.svg", p)
	if found != "" {
		t.Errorf("a drawing in cm: %s", found)
	}
	got, found := traceFile(t, "testdata/linked-rings-twice.svg", p)
	if !strings.Contains(found, "it states no unit, and measures 124 by 40") || len(got.Elements) > 0 {
		t.Errorf("a drawing without a unit: %q", found)
	}
}

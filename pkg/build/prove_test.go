package build

import (
	"bytes"
	"math"
	"os"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/sheet"
)

func built(t *testing.T, o Options, swaps ...string) Result {
	t.Helper()
	data, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer(swaps...).Replace(string(data))
	r := Kept(text).Build("triangle.toml", []byte(text), o)
	if r.Reached != Proved || !r.OK() {
		t.Fatalf("reached %v with\n%v", r.Reached, r.Findings)
	}
	return r
}

// wallsRead reads the walls' openings back from a result's files.
func wallsRead(t *testing.T, r Result) map[string][]geom.Contour {
	t.Helper()
	read := map[string][]geom.Contour{}
	for _, f := range r.Files {
		if f.Kind != DXF || f.Role != sheet.Wall.String() {
			continue
		}
		var err error
		if read[f.Panel], err = openings(f.Data, layout(r.Shop, Options{})); err != nil {
			t.Fatal(err)
		}
	}
	return read
}

// TestProofReadsWhatWasWritten proves drawings that were changed after they
// were made. An opening that is wider all round by d lets the rider stray by d
// to both sides (derived: closing(C grown by r + d) shrunk by r is C grown by
// d where the wall has no corner).
func TestProofReadsWhatWasWritten(t *testing.T) {
	for _, wider := range []float64{0.0005, 0.002, 0.1} {
		r := built(t, Options{})
		read := wallsRead(t, r)
		var grown []geom.Contour
		for _, c := range read["A"] {
			grown = append(grown, region.New(c).Grow(wider).Loops()...)
		}
		read["A"] = grown
		w := resume(r, Options{}).writer(r)
		w.prove(read)
		if math.Abs(w.Proof.OvercutMax-wider) > 1e-5 {
			t.Errorf("wider by %g: overcut %g", wider, w.Proof.OvercutMax)
		}
		if bad := wider > groove.Overcut; bad != w.Findings.HasErrors() {
			t.Errorf("wider by %g: %v", wider, w.Findings)
		}
	}
}

// TestKerfIsUndoneOnce: drawings that allow for the kerf, taken for true size,
// leave wood along both walls; those of true size, taken for compensated,
// overcut by half the kerf.
func TestKerfIsUndoneOnce(t *testing.T) {
	const half = 0.18 / 2
	me, shop := built(t, Options{}), built(t, Options{}, `kerf_by = "me"`, `kerf_by = "shop"`)
	if me.Kerf() != 2*half || shop.Kerf() != 0 {
		t.Fatalf("kerf %g and %g", me.Kerf(), shop.Kerf())
	}
	if me.Proof.UncutArea > 1e-4 || shop.Proof.UncutArea > 1e-4 {
		t.Errorf("left: %g and %g mm2", me.Proof.UncutArea, shop.Proof.UncutArea)
	}
	wrong := resume(shop, Options{}).writer(shop)
	wrong.prove(wallsRead(t, me))
	if wrong.Proof.UncutMax < half*0.9 || !wrong.Proof.Holds() {
		t.Errorf("compensated taken for true: %+v", wrong.Proof)
	}
	wrong = resume(me, Options{}).writer(me)
	wrong.prove(wallsRead(t, shop))
	if math.Abs(wrong.Proof.OvercutMax-half) > 1e-5 || !wrong.Findings.HasErrors() {
		t.Errorf("true taken for compensated: %+v", wrong.Proof)
	}
}

func TestOpeningsByLayer(t *testing.T) {
	square := func(half float64) geom.Contour {
		return geom.Rect(geom.Box{Min: geom.Pt(-half, -half), Max: geom.Pt(half, half)})
	}
	part := sheet.Sheet{Name: "A-wall", Lines: []sheet.Line{
		{Role: sheet.Opening, Contour: square(10)},
		{Role: sheet.Edge, Contour: square(50)},
		{Role: sheet.Note, Contour: square(60)},
	}}
	cut, own := dxf.Layer{Name: "CUT", Color: 1}, dxf.Layer{Name: "INSIDE", Color: 2}
	for name, layers := range map[string]map[sheet.Role]dxf.Layer{
		"none":    nil,
		"renamed": {sheet.Opening: own, sheet.Edge: cut},
		"shared":  {sheet.Opening: cut, sheet.Edge: cut},
	} {
		for _, units := range []dxf.Units{dxf.Millimetres, dxf.Inches} {
			layout := dxf.Options{Units: units, Layers: layers}
			var b bytes.Buffer
			if err := dxf.Write(&b, part, layout); err != nil {
				t.Fatal(err)
			}
			got, err := openings(b.Bytes(), layout)
			if err != nil || len(got) != 1 || math.Abs(got[0].Area()-400) > 1e-6 {
				t.Errorf("%s, %v: %v %v", name, units, got, err)
			}
		}
	}
	var b bytes.Buffer
	if err := dxf.Write(&b, part.Without(sheet.Opening), dxf.Options{}); err != nil {
		t.Fatal(err)
	}
	if got, err := openings(b.Bytes(), dxf.Options{}); err == nil {
		t.Errorf("openings without any: %v", got)
	}
}

// TestConsequencesAreNotTold: what follows from an earlier error is left out,
// what is true whatever else is wrong is reported.
func TestConsequencesAreNotReported(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil {
		t.Fatal(err)
	}
	// The ring of 6 mm is too tight for a rider of 90 mm whatever else there is.
	const ring = "\n[[motif.circle]]\nname = \"ring\"\ncenter = [0, 0]\nradius = 6\n"
	for name, c := range map[string]struct {
		add   string
		rules string
		stage Stage
	}{
		"sound":     {"", "", Planned},
		"tight":     {ring, "arc-tight", Grooved},
		"overlap":   {ring + "[[motif.line]]\nfrom = [-10, \"inner\"]\nto = [10, \"inner\"]\n", "arc-tight strands-overlap", Joined},
		"crowded":   {ring + "[[motif.line]]\nfrom = [\"reach\", \"inner\"]\nto = [\"reach + 9\", \"inner - 9\"]\n", "arc-tight ends-crowded", Read},
		"misspelt":  {ring + "nam = 1\n", "unknown-key", Unread},
		"flip":      {"\n[weave]\nflip = [[0, 0]]\n", "flip-nothing", Planned},
		"too large": {"#" + strings.Repeat("x", 9<<20), "job-too-large", Unread},
	} {
		r := Check("triangle.toml", []byte(string(data)+c.add), os.ReadFile, nil)
		reported := map[string]bool{}
		for _, f := range r.Findings {
			if f.Severity == diag.Error {
				reported[f.Rule] = true
			}
		}
		for _, rule := range strings.Fields(c.rules) {
			if !reported[rule] {
				t.Errorf("%s: %s is not told\n%v", name, rule, r.Findings)
			}
			delete(reported, rule)
		}
		if len(reported) > 0 || r.Reached != c.stage {
			t.Errorf("%s: reached %v, also reported %v\n%v", name, r.Reached, reported, r.Findings)
		}
		if len(r.Files) > 0 || len(r.Parts) > 0 {
			t.Errorf("%s: a check has drawn %d parts", name, len(r.Parts))
		}
	}
}

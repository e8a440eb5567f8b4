package dxf_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
	"strapwork/pkg/sheet"
)

// A report is what testdata/witness/dxf_audit.py prints for one file.
type report struct {
	File   string
	Errors []string
	Fixes  []string
	Header struct {
		Version     string     `json:"$ACADVER"`
		InsUnits    int        `json:"$INSUNITS"`
		Measurement int        `json:"$MEASUREMENT"`
		CodePage    string     `json:"$DWGCODEPAGE"`
		ExtMin      [3]float64 `json:"$EXTMIN"`
		ExtMax      [3]float64 `json:"$EXTMAX"`
	}
	Layers []struct {
		Name  string
		Color int
		Off   bool
	}
	Entities []struct {
		Type, Layer, Mode string
		Center            [2]float64
		Radius            float64
		Closed            bool
		Points            [][3]float64
		Arcs              [][6]float64 // edge, centre x, y, start, end, radius
	}
}

// nearly is twice half a unit in the ninth decimal: a file's number and ours
// are each off by at most half.
const nearly = 1e-9

// audit has ezdxf read and audit the files; any error or fix fails the test.
func audit(t *testing.T, files ...string) []report {
	t.Helper()
	python := witness.Python(t, "ezdxf")
	out, err := witness.Run(python, append([]string{witness.Script(t, "dxf_audit.py")}, files...)...)
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var rs []report
	if err := json.Unmarshal(out, &rs); err != nil {
		t.Fatal(err)
	}
	if len(rs) != len(files) {
		t.Fatalf("%d reports on %d files", len(rs), len(files))
	}
	return rs
}

func save(t *testing.T, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// ezdxf 0.18 reads every variant without an error or a fix, and finds in it
// the units, extents, layers and figures that were meant.
func TestWitnessReadsWhatWasMeant(t *testing.T) {
	for name, o := range variants() {
		t.Run(name, func(t *testing.T) {
			r := audit(t, save(t, name+".dxf", write(t, part(), o)))[0]
			checkHeader(t, r, o)
			checkLayers(t, r, o)
			checkEntities(t, r, o)
		})
	}
}

func checkHeader(t *testing.T, r report, o dxf.Options) {
	t.Helper()
	// DXF Reference: $INSUNITS 1 inches, 4 millimetres; $MEASUREMENT 0 English, 1 metric.
	units, measurement, k := 4, 1, 1.0
	if o.Units == dxf.Inches {
		units, measurement, k = 1, 0, 25.4
	}
	if h := r.Header; h.Version != o.Version.String() || h.InsUnits != units || h.Measurement != measurement || h.CodePage != "ANSI_1252" {
		t.Errorf("header %+v", h)
	}
	// The edge's arc has chord 120 and turns 90 degrees: its middle is
	// 60 tan(22.5 deg) beyond the chord. The note reaches down to -100.
	lo, hi := geom.Pt(-80, -100), geom.Pt(80+60*math.Tan(math.Pi/8), 60)
	if o.Bare {
		lo.Y = -60
	}
	want := [2][3]float64{{lo.X / k, lo.Y / k, 0}, {hi.X / k, hi.Y / k, 0}}
	got := [2][3]float64{r.Header.ExtMin, r.Header.ExtMax}
	// The arc's bulge is rounded by up to 5e-10, and its middle with it by 60
	// times that.
	if d := cmp.Diff(want, got, cmpopts.EquateApprox(0, 60*5e-10+nearly)); d != "" {
		t.Errorf("extents: %s", d)
	}
}

func checkLayers(t *testing.T, r report, o dxf.Options) {
	t.Helper()
	seen := map[string]bool{}
	for _, l := range r.Layers {
		seen[l.Name] = true
		if l.Off != (l.Name == "NOTE") {
			t.Errorf("layer %s: off is %v", l.Name, l.Off)
		}
		for _, own := range o.Layers {
			if l.Name == own.Name && l.Color != own.Color {
				t.Errorf("layer %s has colour %d, want %d", l.Name, l.Color, own.Color)
			}
		}
	}
	want := map[string]bool{"0": true, "MARK": true}
	for _, role := range []sheet.Role{sheet.Opening, sheet.Pin, sheet.Edge} {
		name := role.String()
		if own, ok := o.Layers[role]; ok {
			name = own.Name
		}
		want[name] = true
	}
	if !o.Bare {
		want["NOTE"] = true
	}
	for name := range want {
		if !seen[name] {
			t.Errorf("no layer %s", name)
		}
	}
}

func checkEntities(t *testing.T, r report, o dxf.Options) {
	t.Helper()
	s, k := part(), o.Units.MM()
	kind := map[dxf.Version]string{dxf.R2000: "LWPOLYLINE", dxf.R12: "POLYLINE"}[o.Version]
	i := 0
	for _, role := range sheet.CutOrder() {
		if role == sheet.Note && o.Bare {
			continue
		}
		layer := role.String()
		if own, ok := o.Layers[role]; ok {
			layer = own.Name
		}
		for _, l := range s.Lines {
			if l.Role != role {
				continue
			}
			e := r.Entities[i]
			if e.Type != kind || e.Layer != layer || e.Closed != l.Contour.Closed || len(e.Points) != len(l.Contour.Vertices) {
				t.Fatalf("entity %d is %+v, want %s on %s", i, e, kind, layer)
			}
			if o.Version == dxf.R12 && e.Mode != "AcDb2dPolyline" {
				t.Errorf("entity %d is a %s", i, e.Mode)
			}
			checkPoints(t, l.Contour, e.Points, k)
			checkArcs(t, l.Contour, e.Arcs, k)
			i++
		}
		for _, h := range s.Holes {
			if h.Role != role {
				continue
			}
			e := r.Entities[i]
			want := [3]float64{h.Center.X / k, h.Center.Y / k, h.Radius / k}
			if d := cmp.Diff(want, [3]float64{e.Center[0], e.Center[1], e.Radius}, cmpopts.EquateApprox(0, nearly)); e.Type != "CIRCLE" || e.Layer != layer || d != "" {
				t.Errorf("entity %d is %s on %s: %s", i, e.Type, e.Layer, d)
			}
			i++
		}
	}
	if i != len(r.Entities) {
		t.Errorf("%d entities, want %d", len(r.Entities), i)
	}
}

func checkPoints(t *testing.T, c geom.Contour, got [][3]float64, k float64) {
	t.Helper()
	var want [][3]float64
	for _, v := range c.Vertices {
		want = append(want, [3]float64{v.X / k, v.Y / k, v.Bulge})
	}
	if d := cmp.Diff(want, got, cmpopts.EquateApprox(0, nearly)); d != "" {
		t.Errorf("points: %s", d)
	}
}

// checkArcs holds the arcs that ezdxf makes of the bulges against the
// contour's: DXF Reference, LWPOLYLINE, group 42: the bulge is the tangent of
// a quarter of the included angle, positive when the arc goes counter-clockwise
// from its start to its end.
func checkArcs(t *testing.T, c geom.Contour, got [][6]float64, k float64) {
	t.Helper()
	n := 0
	for i, e := range c.Edges() {
		if e.IsLine() {
			continue
		}
		a := got[n]
		n++
		sweep := a[4] - a[3]
		for sweep < 0 {
			sweep += 2 * math.Pi
		}
		center := e.Center()
		want := [5]float64{float64(i), center.X / k, center.Y / k, math.Abs(4 * math.Atan(e.Bulge)), e.Radius() / k}
		// A bulge off by 5e-10 moves a centre by chord/4 times that over the
		// bulge squared: 120/4*5e-10/0.17 here, or 1e-7.
		if d := cmp.Diff(want, [5]float64{a[0], a[1], a[2], sweep, a[5]}, cmpopts.EquateApprox(0, 1e-7)); d != "" {
			t.Errorf("arc: %s", d)
		}
	}
	if n != len(got) {
		t.Errorf("%d arcs, want %d", len(got), n)
	}
}

// An empty drawing is still a valid one.
func TestWitnessReadsEmptySheet(t *testing.T) {
	for _, v := range []dxf.Version{dxf.R2000, dxf.R12} {
		r := audit(t, save(t, "empty.dxf", write(t, sheet.Sheet{Name: "none"}, dxf.Options{Version: v})))[0]
		if len(r.Entities) != 0 || r.Header.ExtMin[0] <= r.Header.ExtMax[0] {
			t.Errorf("%v: %+v", v, r)
		}
	}
}

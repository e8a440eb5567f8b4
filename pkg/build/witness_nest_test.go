package build_test

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/witness"
)

// What dxf_audit.py reports about a file.
type auditOutput struct {
	Errors, Fixes []string
	Header        map[string]any
	Entities      []struct {
		Type, Layer string
		Closed      bool
		Points      [][]float64
	}
}

// TestWitnessAuditsNestedSheets has ezdxf audit the sheets and find the parts on
// them: as many closed edges as there are parts, all on the bed, with no corner
// of one within the spacing of another's corners' box.
func TestWitnessAuditsNestedSheets(t *testing.T) {
	if testing.Short() {
		t.Skip("planning every job takes a while")
	}
	python := witness.Python(t, "ezdxf")
	const wood = 6.0 // mm, that is left between two parts
	for name, text := range jobs(t) {
		if strings.Contains(text, `guide = "pivot"`) {
			continue // one small bar
		}
		text = strings.Replace(text, `"laser-600x400"`, `"laser-900x600"`, 1)
		t.Run(name, func(t *testing.T) {
			r := built(t, name, text, build.Options{Nest: true})
			dir := t.TempDir()
			writeFiles(t, dir, r.Files)
			args := []string{witness.Script(t, "dxf_audit.py")}
			for _, s := range r.Sheets {
				args = append(args, filepath.Join(dir, "templates", s.Name+".dxf"))
			}
			out, err := witness.Run(python, args...)
			if err != nil {
				t.Fatalf("%v\n%.2000s", err, out)
			}
			var audits []auditOutput
			if err := json.Unmarshal(out, &audits); err != nil || len(audits) != len(r.Sheets) || len(audits) == 0 {
				t.Fatalf("%d sheets audited of %d: %v", len(audits), len(r.Sheets), err)
			}
			for i, a := range audits {
				if len(a.Errors)+len(a.Fixes) > 0 || a.Header["$ACADVER"] != dxf.R2000.String() {
					t.Errorf("%v: errors %v, fixes %v", a.Header, a.Errors, a.Fixes)
				}
				boxes := edgeBoxes(a)
				if len(boxes) != len(r.Sheets[i].Parts) {
					t.Errorf("%d edges, want %d", len(boxes), len(r.Sheets[i].Parts))
				}
				rim := geom.Box{Max: r.Sheets[i].Layout.Size}
				for k, b := range boxes {
					if !rim.Holds(b.Min) || !rim.Holds(b.Max) {
						t.Errorf("%v is not on the sheet of %v", b, rim.Max)
					}
					for _, c := range boxes[:k] {
						if b.Expand(wood - 1e-6).Meets(c) {
							t.Errorf("%v is too near %v", b, c)
						}
					}
				}
			}
		})
	}
}

// edgeBoxes are the boxes round the vertices of the closed edges, in mm.
func edgeBoxes(a auditOutput) []geom.Box {
	mm := 1.0
	if a.Header["$INSUNITS"] == 1.0 { // inches (DXF Reference)
		mm = 25.4
	}
	var boxes []geom.Box
	for _, e := range a.Entities {
		if e.Layer != "EDGE" || !e.Closed {
			continue
		}
		b := geom.EmptyBox()
		for _, p := range e.Points {
			b = b.Include(geom.Pt(p[0]*mm, p[1]*mm))
		}
		boxes = append(boxes, b)
	}
	return boxes
}

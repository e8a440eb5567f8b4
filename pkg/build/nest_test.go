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
	"strapwork/pkg/sheet"
)

// lengths is what a machine would follow in all DXF files whose path begins with
// a folder: the length of all contours by layer, and the number of holes.
func lengths(t *testing.T, r Result, folder string) map[string]float64 {
	t.Helper()
	sum := map[string]float64{}
	for _, f := range r.Files {
		if f.Kind != DXF || !strings.HasPrefix(f.Path, folder) {
			continue
		}
		d := readDXF(t, f.Data)
		for _, l := range d.Lines {
			sum[l.Layer] += l.Contour.Length()
		}
		for _, c := range d.Circles {
			sum[c.Layer+" holes"]++
		}
	}
	delete(sum, sheet.Note.String())
	return sum
}

// TestNestedSheetsHoldEveryPart: the sheets have what the single parts have, as
// often as they are wanted, and the proof comes out the same.
func TestNestedSheetsHoldEveryPart(t *testing.T) {
	single, nested := built(t, Options{}), built(t, Options{Nest: true})
	if len(nested.Sheets) == 0 || len(single.Sheets) > 0 {
		t.Fatalf("%d sheets, and %d without being asked", len(nested.Sheets), len(single.Sheets))
	}
	want := map[string]float64{}
	for _, p := range single.Parts {
		n := float64(p.Quantity)
		for _, l := range p.Sheet.Lines {
			if l.Role != sheet.Note {
				want[l.Role.String()] += n * l.Contour.Length()
			}
		}
		want["PIN holes"] += n * float64(len(p.Sheet.Holes))
	}
	got := lengths(t, nested, "templates/")
	if len(got) != len(want) {
		t.Errorf("layers %v, want %v", got, want)
	}
	for layer, n := range want {
		if math.Abs(got[layer]-n) > 1e-3 {
			t.Errorf("%s: %g, want %g", layer, got[layer], n)
		}
	}
	if d := math.Abs(single.Proof.UncutArea - nested.Proof.UncutArea); d > 1e-6 || nested.Proof.OvercutMax > 1e-6 {
		t.Errorf("proofs %+v and %+v", single.Proof, nested.Proof)
	}
	area, parts := 0.0, 0
	for _, s := range nested.Sheets {
		area, parts = area+s.Used, parts+len(s.Parts)
		if w := 1 - s.Used/(1300*900); math.Abs(s.Waste-w) > 1e-9 {
			t.Errorf("%s: waste %g, want %g", s.Name, s.Waste, w)
		}
	}
	for _, s := range single.SheetNeeds {
		area, parts = area-s.Area, parts-s.Parts
	}
	if math.Abs(area) > 1e-6 || parts != 0 {
		t.Errorf("sheets and stock differ by %g mm2 and %d parts", area, parts)
	}
}

// TestNestedPathsAreTrue: single parts and sheets lie in different folders, so
// that what goes to the shop is there once.
func TestNestedPathsAreTrue(t *testing.T) {
	for folder, r := range map[string]Result{
		"templates/": built(t, Options{}),
		"parts/":     built(t, Options{Nest: true}),
	} {
		paths := map[string]string{}
		for _, f := range r.Files {
			paths[f.Path] = f.Role
		}
		for _, p := range r.Parts {
			for _, end := range []string{".dxf", ".svg"} {
				if path := r.PartPath(p) + end; !strings.HasPrefix(path, folder) || paths[path] != p.Ply.String() {
					t.Errorf("%s has the role %q", path, paths[path])
				}
			}
		}
		for _, s := range r.Sheets {
			if paths["templates/"+s.Name+".dxf"] != "sheet" || paths["templates/"+s.Name+".svg"] != "sheet" {
				t.Errorf("%s is not written", s.Name)
			}
		}
		if paths["sheets.csv"] != "sheets" {
			t.Error("there is no list of sheets")
		}
	}
}

// TestProofReadsTheSheet has the proof read a sheet on which one part was moved
// against where it should be: 0.2 mm to the right shows as 0.2 mm of overcut.
func TestProofReadsTheSheet(t *testing.T) {
	r := built(t, Options{Nest: true})
	layout := layout(r.Shop, Options{})
	for _, moved := range []float64{0, 0.2} {
		read := onSheets{openings: map[string][]geom.Contour{}}
		for i, s := range r.Sheets {
			l := s.Layout
			for k := range l.Placed {
				if part := r.Parts[l.Placed[k].Item]; part.Ply == sheet.Wall && part.Panel == "A" {
					l.Placed[k].Back = l.Placed[k].Back.Then(geom.Shifting(geom.Pt(moved, 0)))
				}
			}
			if err := read.add(fileNamed(t, r, "templates/"+s.Name+".dxf"), layout, l, r.Parts); err != nil {
				t.Fatalf("sheet %d: %v", i+1, err)
			}
		}
		again := resume(r, Options{}).writer(r)
		again.prove(read.openings)
		if math.Abs(again.Proof.OvercutMax-moved) > 1e-5 || again.Findings.HasErrors() != (moved > 0) {
			t.Errorf("moved by %g: overcut %g, %v", moved, again.Proof.OvercutMax, again.Findings)
		}
	}
}

// TestSheetsThatAreNotAsLaidOut: an opening outside all parts, a part without
// its openings, and what is no drawing are reported.
func TestSheetsThatAreNotAsLaidOut(t *testing.T) {
	r := built(t, Options{Nest: true})
	layout := layout(r.Shop, Options{})
	first := r.Sheets[0]
	data := fileNamed(t, r, "templates/"+first.Name+".dxf")
	far := first.Layout
	far.Placed = append(far.Placed[:0:0], far.Placed...)
	for i := range far.Placed {
		far.Placed[i].Box = geom.Box{Min: geom.Pt(-9, -9), Max: geom.Pt(-8, -8)}
	}
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"no drawing": {[]byte("no drawing"), ""},
		"elsewhere":  {data, "is in no part"},
	} {
		read := onSheets{openings: map[string][]geom.Contour{}}
		if err := read.add(c.data, layout, far, r.Parts); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestNestWants: a bed of known size, and parts that fit on it.
func TestNestWants(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/looped-triangle.toml")
	if err != nil {
		t.Fatal(err)
	}
	for rule, swap := range map[string][2]string{
		"nest-bed":   {`profile = "laser-1300x900"`, ""},
		"nest-large": {"[cutting]", "[template]\nmargin = 125\n[cutting]"}, // panels of 897.3 mm fit on 900, but not with 6.18 round them
	} {
		r := Build("triangle.toml", []byte(strings.Replace(string(data), swap[0], swap[1], 1)), os.ReadFile, Options{Nest: true})
		reported := 0
		for _, f := range r.Findings {
			if f.Severity == diag.Error && f.Rule == rule {
				reported++
				if f.Hint == "" {
					t.Errorf("%s: no hint", rule)
				}
			}
		}
		if reported == 0 || len(r.Files) > 0 {
			t.Errorf("%s is told %d times, %d files\n%v", rule, reported, len(r.Files), r.Findings)
		}
	}
}

func fileNamed(t *testing.T, r Result, path string) []byte {
	t.Helper()
	for _, f := range r.Files {
		if f.Path == path {
			return f.Data
		}
	}
	t.Fatalf("%s is not written", path)
	return nil
}

func readDXF(t *testing.T, data []byte) dxf.Drawing {
	t.Helper()
	d, err := dxf.Read(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

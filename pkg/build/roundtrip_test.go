package build_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/drawing/from"
	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/trace"
)

// drawn is lines as a DXF file.
func drawn(t *testing.T, lines []geom.Contour) []byte {
	t.Helper()
	s := sheet.Sheet{Name: "groove"}
	for _, c := range lines {
		s.Lines = append(s.Lines, sheet.Line{Contour: c, Role: sheet.Mark})
	}
	var b bytes.Buffer
	if err := dxf.Write(&b, s, dxf.Options{}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// hidden are jobs whose edges don't show all of their motif: bands of the hall table run into one
// another at 11 degrees, and are one for many widths.
var hidden = map[string]bool{"hall-table": true}

// TestGrooveComesBack: the centre lines of a job, and the edges of its groove, drawn as a
// DXF file and traced, give the job's motif again: strands, crossings, tees and length.
func TestGrooveComesBack(t *testing.T) {
	names := []string{"box-ring", "looped-triangle", "box-lid", "hall-table", "rosette", "knot-lid", "guitar-rosette", "star-tray", "games-table"}
	if testing.Short() {
		names = names[:2]
	}
	for _, name := range names {
		job, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jobs", name+".toml"))
		if err != nil {
			t.Fatal(err)
		}
		r := build.NewGraph(os.ReadFile).Draw(name+".toml", job, false, build.Options{})
		var lines []geom.Contour
		var length float64
		for _, s := range r.Motif.Strands {
			lines, length = append(lines, s.Contour), length+s.Length()
		}
		for _, c := range []struct {
			what  string
			lines []geom.Contour
			edges bool
		}{
			{"centre lines", lines, false},
			{"edges", r.Groove.Area().Loops(), true},
		} {
			if c.edges && hidden[name] {
				continue
			}
			d, found := from.File(name+".dxf", drawn(t, c.lines))
			if found.HasErrors() {
				t.Fatal(found)
			}
			p := trace.Default()
			p.Edges = c.edges
			got, found := trace.Trace(d, p)
			rep := got.Report
			if found.HasErrors() || rep.Strands != len(r.Motif.Strands) || rep.Crossings != len(r.Weave.Crossings) || rep.Tees != len(r.Weave.Tees) {
				t.Errorf("%s, %s: %d strands, %d crossings, %d tees, want %d, %d, %d: %v %v", name, c.what, rep.Strands, rep.Crossings, rep.Tees,
					len(r.Motif.Strands), len(r.Weave.Crossings), len(r.Weave.Tees), found, rep.Trouble)
				continue
			}
			if off := math.Abs(rep.Length - length); off > 1e-4*length {
				t.Errorf("%s, %s: %.3f mm of centre line, want %.3f", name, c.what, rep.Length, length)
			}
			if rep.Off > p.Tolerance {
				t.Errorf("%s, %s: off by %v", name, c.what, rep.Off)
			}
		}
	}
}

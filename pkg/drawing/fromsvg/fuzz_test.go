package fromsvg_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromsvg"
	"strapwork/pkg/geom"
)

// patience bounds the reading of an input as small as fuzzing makes: the limits of what
// is read hold it to a second on a slow machine.
const patience = 20 * time.Second

// FuzzRead: no file panics or takes long; what is refused has no curves, and what is read
// can be reckoned with and is the same each time.
func FuzzRead(f *testing.F) {
	for _, s := range snippets() {
		f.Add([]byte(s.svg))
	}
	for _, pattern := range []string{"testdata/*.svg", "../testdata/*.svg"} {
		files, _ := filepath.Glob(pattern)
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			if len(data) < 5000 { // larger ones are slow to vary
				f.Add(data)
			}
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		begun := time.Now()
		d, findings := fromsvg.Read("t.svg", data)
		if took := time.Since(begun); took > patience {
			t.Errorf("reading took %v", took)
		}
		lines := bytes.Count(data, []byte("\n")) + 1
		for _, found := range findings {
			if found.Pos.Line > lines || found.Pos.Line < 0 || found.Message == "" {
				t.Errorf("a file of %d lines has %v", lines, found)
			}
		}
		if findings.HasErrors() {
			if len(d.Curves)+len(d.Passed) > 0 {
				t.Error("refused and read")
			}
			return
		}
		segments := 0
		for _, c := range d.Curves {
			segments += len(c.Segments)
			sound(t, c)
		}
		if segments > drawing.MaxCurves {
			t.Errorf("%d segments", segments)
		}
		if again, _ := fromsvg.Read("t.svg", data); len(again.Curves) != len(d.Curves) || passed(again) != passed(d) {
			t.Error("read otherwise a second time")
		}
	})
}

// sound holds that a curve is whole: its segments finite and joined end to start.
func sound(t *testing.T, c drawing.Curve) {
	t.Helper()
	if len(c.Segments) == 0 || !c.Filled && !c.Stroked || c.Pos.Line == 0 || math.IsNaN(c.Width) || c.Width < 0 {
		t.Errorf("curve %+v", c)
		return
	}
	box := c.Bounds()
	slack := 1e-6*(box.Size().Norm()+box.Min.Norm()) + 1e-12
	for i, s := range c.Segments {
		for _, p := range []geom.Point{s.At(0), s.At(0.5), s.At(1), s.Speed(0)} {
			if !p.Finite() {
				t.Fatalf("segment %v is not finite", s)
			}
		}
		after := c.Segments[(i+1)%len(c.Segments)]
		if joined := i+1 < len(c.Segments) || c.Closed; joined && !drawing.End(s).Near(drawing.Start(after), slack) {
			t.Errorf("segment %d ends at %v and the next begins at %v", i, drawing.End(s), drawing.Start(after))
		}
	}
}

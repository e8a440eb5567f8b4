package fromdxf_test

import (
	"bytes"
	"math"
	"os"
	"testing"

	"strapwork/pkg/drawing"
	"strapwork/pkg/drawing/fromdxf"
)

// FuzzRead: whatever the bytes, there is a drawing within the limits, of curves that hang
// together and can be sampled, or an error in a line of the file.
func FuzzRead(f *testing.F) {
	for _, file := range others(f) {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		// Short ones are tried more often: the header doesn't draw.
		f.Add(data[max(0, bytes.LastIndex(data, []byte("SECTION"))-4):])
	}
	f.Add(file(
		section("HEADER", 9, "$INSUNITS", 70, 1, 9, "$ACADVER", 1, "AC1015", 9, "$DWGCODEPAGE", 3, "ANSI_936"),
		tables(lineTypes(), layerEntry("Red", 62, -1, 6, dash, 370, 50)),
		blocks(blockOf("B", join(line(62, 0), []any{"CIRCLE", 10, 1, 20, 2, 40, 3, 230, -1})...)),
		section("ENTITIES", "INSERT", 2, "B", 10, 5, 20, 5, 41, 2, 42, -1, 50, 30, 70, 2, 71, 3, 44, 9, 45, 8, 230, -1),
	))
	f.Add(entities(spline(2, 5, 0, 0, 0, 4, 4, 9, 9, 9)...))
	f.Add(entities(append(spline(3, 6, 0, 0, 0, 0, 1, 2, 3, 3, 3, 3), 41, 1, 41, 2, 41, 1, 41, 2, 41, 1, 41, 2)...))
	f.Add(entities("LWPOLYLINE", 70, 1, 43, 2, 10, 0, 20, 0, 42, 0.5, 10, 5, 20, 0, 42, -3, "ELLIPSE", 10, 0, 20, 0, 11, 3, 21, 1, 40, 0.3, 41, 1, 42, 5))
	f.Add(entities("POLYLINE", 66, 1, 70, 4, "VERTEX", 70, 8, 10, 0, 20, 0, 42, 1, "VERTEX", 10, 5, 20, 0, "SEQEND", "ARC", 10, 0, 20, 0, 40, 1, 50, 300, 51, 20))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, found := fromdxf.Read("a.dxf", data)
		if found.HasErrors() {
			if last := bytes.Count(data, []byte("\n")) + 2; found[0].Pos.Line > last || len(d.Curves) != 0 {
				t.Errorf("%v in a file of %d lines, %d curves", found[0], last, len(d.Curves))
			}
			return
		}
		segments := 0
		for _, c := range d.Curves {
			segments += len(c.Segments)
			checkCurve(t, c)
		}
		if segments > drawing.MaxCurves {
			t.Errorf("%d segments", segments)
		}
	})
}

// checkCurve holds a curve that was read against what the model says of curves.
func checkCurve(t *testing.T, c drawing.Curve) {
	t.Helper()
	box := c.Bounds()
	size := box.Size().Norm()
	// Far from the origin, or on a large radius, numbers have fewer decimals.
	slack := 1e-6*size + 1e-14*math.Max(box.Min.Norm(), box.Max.Norm())
	for i, s := range c.Segments {
		if p := s.At(0.5); !p.Finite() || !box.Expand(1e-3*size+slack).Holds(p) {
			t.Errorf("%v: a point %v beyond %v", c.Pos, p, box)
		}
		if i > 0 && !drawing.End(c.Segments[i-1]).Near(drawing.Start(s), slack) {
			t.Errorf("%v: %v ends at %v, %v begins at %v", c.Pos, c.Segments[i-1], drawing.End(c.Segments[i-1]), s, drawing.Start(s))
		}
		if n := len(drawing.Sample(s, 1e-3*size+slack)); n > 64*drawing.MaxPlaces {
			t.Errorf("%v: %d points of %v", c.Pos, n, s)
		}
	}
	if a, b := drawing.Start(c.Segments[0]), drawing.End(c.Segments[len(c.Segments)-1]); c.Closed && !a.Near(b, slack) {
		t.Errorf("%v is closed from %v to %v", c.Pos, a, b)
	}
}

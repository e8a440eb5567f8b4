package fromdxf_test

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strapwork/pkg/drawing"
	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// TestOwnFilesComeBack: what pkg/dxf writes of random contours and holes, in each release
// and unit, is read with the same contours: vertices within the nine decimals of the file,
// and middles of arcs as far as these move them.
func TestOwnFilesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSheet(t)
		units := rapid.SampledFrom([]dxf.Units{dxf.Millimetres, dxf.Inches}).Draw(t, "units")
		for _, v := range []dxf.Version{dxf.R2000, dxf.R12} {
			var b bytes.Buffer
			if err := dxf.Write(&b, s, dxf.Options{Version: v, Units: units, Bare: true}); err != nil {
				t.Fatal(err)
			}
			d := read(t, "own.dxf", b.Bytes())
			if d.Unit != units.MM() || len(d.Curves) != len(s.Lines)+len(s.Holes) || len(d.Passed) != 0 {
				t.Fatalf("%v: a unit is %v, %d curves, passed over %v", v, d.Unit, len(d.Curves), d.Passed)
			}
			for _, c := range d.Curves {
				mm := c.Moved(drawing.Stretch(d.Unit, d.Unit))
				if !isOneOf(mm, s) {
					t.Errorf("%v: %+v isn't in the sheet", v, mm)
				}
			}
		}
	})
}

func drawSheet(t *rapid.T) sheet.Sheet {
	var s sheet.Sheet
	for range rapid.IntRange(1, 4).Draw(t, "lines") {
		// Places on a grid, each once: no edge is without length.
		n := rapid.IntRange(2, 7).Draw(t, "vertices")
		places := rapid.Permutation([]int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}).Draw(t, "places")
		c := geom.Contour{Closed: rapid.Bool().Draw(t, "closed")}
		for _, k := range places[:n] {
			c.Vertices = append(c.Vertices, geom.Vertex{
				Point: geom.Pt(float64(k%4)*100/3, float64(k/4)*70/3),
				Bulge: rapid.SampledFrom([]float64{0, 0, 1, -1, 0.2, -math.Pi / 7, 1e-3}).Draw(t, "bulge"),
			})
		}
		s.Lines = append(s.Lines, sheet.Line{Role: sheet.Opening, Contour: c})
	}
	for range rapid.IntRange(0, 3).Draw(t, "holes") {
		s.Holes = append(s.Holes, sheet.Hole{
			Role: sheet.Pin, Center: geom.Pt(rapid.Float64Range(-500, 500).Draw(t, "x"), 7), Radius: rapid.Float64Range(0.5, 90).Draw(t, "radius"),
		})
	}
	return s
}

// isOneOf reports whether a curve is a line or a hole of a sheet.
func isOneOf(c drawing.Curve, s sheet.Sheet) bool {
	// A unit in the ninth decimal of an inch, and 100 mm of chord by one of a bulge.
	const tol = 25.4e-9 + 100e-9
	for _, l := range s.Lines {
		edges := l.Contour.Edges()
		same := len(edges) == len(c.Segments) && c.Closed == l.Contour.Closed && c.Layer == fmt.Sprint(l.Role)
		for i := 0; same && i < len(edges); i++ {
			g := c.Segments[i]
			same = g.At(0).Near(edges[i].A, tol) && g.At(1).Near(edges[i].B, tol) && g.At(0.5).Near(edges[i].Mid(), tol)
		}
		if same {
			return true
		}
	}
	for _, h := range s.Holes {
		g, ok := c.Segments[0].(drawing.Ellipse)
		if ok && c.Closed && g.Center.Near(h.Center, tol) && math.Abs(g.Major.Norm()-h.Radius) < tol && math.Abs(g.Sweep) == 2*math.Pi {
			return true
		}
	}
	return false
}

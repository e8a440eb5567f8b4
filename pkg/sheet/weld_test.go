package sheet_test

import (
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// TestFaultyMarksAreLeftOut: what can't be engraved refuses no sheet.
func TestFaultyMarksAreLeftOut(t *testing.T) {
	line := func(xy ...float64) geom.Contour {
		var c geom.Contour
		for i := 0; i < len(xy); i += 2 {
			c.Vertices = append(c.Vertices, geom.Vertex{Point: geom.Pt(xy[i], xy[i+1])})
		}
		return c
	}
	edge := geom.Rect(geom.Box{Min: geom.Pt(-50, -50), Max: geom.Pt(50, 50)})
	s := sheet.Sheet{Name: "A-wall", Lines: []sheet.Line{
		{Role: sheet.Mark, Contour: line(0, 0, 10, 0, 10.0005, 0, 20, 0)},
		{Role: sheet.Edge, Contour: edge},
		{Role: sheet.Mark, Contour: line(5, 5, 5.001, 5)},
		{Role: sheet.Mark, Contour: line(1, 1, math.NaN(), 2)},
		{Role: sheet.Mark, Contour: geom.Circle(geom.Pt(9, 9), 3)},
	}}
	got, left := sheet.WithoutFaultyMarks(s)
	if len(left) != 3 || len(got.Lines) != 2 || got.Lines[0].Contour.Len() != 2 {
		t.Errorf("%d left out: %v; %v is drawn", len(left), left, got.Lines)
	}
	if faults := sheet.Check(got); len(faults) > 0 {
		t.Error(faults)
	}
}

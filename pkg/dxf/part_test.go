package dxf_test

import (
	"bytes"
	"math"
	"testing"

	"strapwork/pkg/dxf"
	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// part is a small panel of the walnut hall table: a slot with round ends, a
// crescent (so that bulges of both signs appear), two pins, a mark and a note.
func part() sheet.Sheet {
	slot := geom.Contour{Closed: true, Vertices: []geom.Vertex{
		{Point: geom.Pt(40, -10), Bulge: 1},
		{Point: geom.Pt(40, 10)},
		{Point: geom.Pt(-40, 10), Bulge: 1},
		{Point: geom.Pt(-40, -10)},
	}}
	crescent := geom.Contour{Closed: true, Vertices: []geom.Vertex{
		{Point: geom.Pt(-20, 30), Bulge: -math.Tan(math.Pi / 16)}, // 45 degrees, clockwise
		{Point: geom.Pt(20, 30), Bulge: math.Tan(math.Pi / 6)},    // 120 degrees, counter-clockwise
	}}
	edge := geom.Contour{Closed: true, Vertices: []geom.Vertex{
		{Point: geom.Pt(-80, -60)},
		{Point: geom.Pt(80, -60), Bulge: math.Tan(math.Pi / 8)}, // a quarter circle, outwards
		{Point: geom.Pt(80, 60)},
		{Point: geom.Pt(-80, 60)},
	}}
	arrow := geom.Contour{Vertices: []geom.Vertex{
		{Point: geom.Pt(-60, -40)}, {Point: geom.Pt(-50, -35)}, {Point: geom.Pt(-60, -30)},
	}}
	return sheet.Sheet{
		Name:  "A-wall",
		Title: "Panel A, wall: holly ⅛\" in walnut\nhall table",
		Lines: []sheet.Line{
			{Role: sheet.Edge, Contour: edge},
			{Role: sheet.Note, Contour: geom.Contour{Vertices: []geom.Vertex{{Point: geom.Pt(0, 0)}, {Point: geom.Pt(0, -100)}}}},
			{Role: sheet.Opening, Contour: slot},
			{Role: sheet.Mark, Contour: arrow},
			{Role: sheet.Opening, Contour: crescent},
		},
		Holes: []sheet.Hole{
			{Role: sheet.Pin, Center: geom.Pt(-70, 50), Radius: 2.5},
			{Role: sheet.Pin, Center: geom.Pt(70, 50), Radius: 1.0 / 3},
		},
	}
}

func write(t testing.TB, s sheet.Sheet, o dxf.Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := dxf.Write(&b, s, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// variants are the options that files are tried with.
func variants() map[string]dxf.Options {
	own := map[sheet.Role]dxf.Layer{
		sheet.Opening: {Name: "CUT-1", Color: 4},
		sheet.Pin:     {Name: "CUT-1", Color: 4},
		sheet.Edge:    {Name: "0", Color: 2},
	}
	return map[string]dxf.Options{
		"r2000-mm":     {},
		"r2000-in":     {Units: dxf.Inches},
		"r2000-bare":   {Bare: true},
		"r2000-layers": {Layers: own},
		"r12-mm":       {Version: dxf.R12},
		"r12-in":       {Version: dxf.R12, Units: dxf.Inches},
		"r12-layers":   {Version: dxf.R12, Layers: own, Bare: true},
	}
}

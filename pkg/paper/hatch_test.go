package paper

import (
	"math"
	"testing"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// plate is a plate of 200 x 100 mm with a slot of 60 x 10 mm and a hole of 4 mm, in
// lines that run either way round.
func plate(back bool) Drawing {
	d := Drawing{Title: "plate", Lines: []Drawn{
		{Use: Edge, Contour: geom.Rect(geom.Box{Max: geom.Pt(200, 100)})},
		{Use: Cut, Contour: geom.Rect(geom.Box{Min: geom.Pt(20, 40), Max: geom.Pt(80, 50)})},
		{Use: Cut, Contour: geom.Circle(geom.Pt(150, 50), 2)},
	}}
	if back {
		for i := range d.Lines {
			d.Lines[i].Contour = d.Lines[i].Contour.Reverse()
		}
	}
	return d
}

// All hatching lies in the waste: beyond the plate's edge or within what is cut
// out of it, never in the plate, near its line, and of every line there is some.
func TestHatchLiesInTheWaste(t *testing.T) {
	for _, back := range []bool{false, true} {
		counts := [3]int{}
		for _, e := range plate(back).hatch() {
			for _, p := range []geom.Point{e.A, e.B, e.Mid()} {
				switch {
				case p.X < 0 || p.Y < 0 || p.X > 200 || p.Y > 100:
					counts[0]++
				case p.X > 20 && p.X < 80 && p.Y > 40 && p.Y < 50:
					counts[1]++
				case p.Dist(geom.Pt(150, 50)) < 2:
					counts[2]++
				default:
					t.Errorf("hatching at %v, in the plate", p)
				}
				if p.X < -2.1 || p.Y < -2.1 || p.X > 202.1 || p.Y > 102.1 {
					t.Errorf("hatching at %v, far from the line", p)
				}
			}
		}
		// The edge is 600 mm long, the slot's 140 and the hole's 12.6 (derived): a
		// line every 2.4 mm or so, of three places each.
		for i, length := range []float64{600, 140, 12.6} {
			if n := float64(counts[i]) / 3; n < 0.8*math.Floor(length/hatchStep) || n > length/hatchStep+1 {
				t.Errorf("line %d, %v mm long, has %v hatches", i, length, n)
			}
		}
	}
}

// Hatching doesn't cross another line that is cut, however near it runs.
func TestHatchKeepsOffOtherLines(t *testing.T) {
	d := plate(false)
	d.Lines = append(d.Lines, Drawn{Use: FloorCut, Contour: geom.Rect(geom.Box{Min: geom.Pt(21, 41), Max: geom.Pt(79, 49)})})
	for _, e := range d.hatch() {
		for _, l := range d.Lines {
			for _, f := range l.Contour.Edges() {
				if len(geom.Crossings(e, f, geom.Coincident)) > 0 {
					t.Fatalf("the hatching from %v to %v crosses a line", e.A, e.B)
				}
			}
		}
	}
}

// A cutting line is the boldest of all, and what only helps to join sheets is grey.
func TestCutLineIsBoldest(t *testing.T) {
	for _, u := range uses() {
		within, beyond := u.waste()
		if cut := within || beyond; cut != (u.pen().Width == penCut.Width) || u.pen().Width > penCut.Width || cut && u.pen().Gray > 0 {
			t.Errorf("%v has a pen of %v", u, u.pen())
		}
	}
	for _, pen := range []Pen{penScale, penTrim, penCross, penBar, penBlock, penHatch, penLeader} {
		if pen.Width > penCut.Width/2 || pen.Gray < 0.25 {
			t.Errorf("%v is not light", pen)
		}
	}
}

// A floor with the wall's edge shares its sheets: its slots are drawn besides, the
// edge and holes once. One with another edge doesn't.
func TestFloorSharesTheWallsSheets(t *testing.T) {
	floor := plate(false)
	floor.Pieces = []Piece{{Name: "A-floor"}}
	floor.Lines[1].Contour = geom.Rect(geom.Box{Min: geom.Pt(25, 43), Max: geom.Pt(75, 47)})
	wall := plate(false)
	if !wall.WithFloor(floor) || len(wall.Lines) != 4 || wall.Lines[3].Use != FloorCut || len(wall.Pieces) != 1 {
		t.Errorf("%d lines, %v", len(wall.Lines), wall.Pieces)
	}
	other := plate(false)
	floor.Lines[0].Contour = geom.Rect(geom.Box{Max: geom.Pt(200, 99)})
	if other.WithFloor(floor) || len(other.Lines) != 3 {
		t.Error("a floor with another edge is on the wall's sheets")
	}
}

// Centres that are written alike, or lie within half a millimetre of one another,
// have one label; and so have the two ends of a narrow slot their radius.
func TestEqualLabelsOnce(t *testing.T) {
	d := Drawing{Title: "slots"}
	var lines []geom.Contour
	for _, at := range []geom.Point{geom.Pt(0, 0), geom.Pt(0.004, 0), geom.Pt(0.3, 0), geom.Pt(40, 0)} {
		lines = append(lines, geom.Circle(at, 5))
	}
	for _, c := range lines {
		d.Lines = append(d.Lines, Drawn{Use: Cut, Contour: c})
	}
	d.Lines = append(d.Lines, Drawn{Use: Edge, Contour: geom.Rect(geom.Box{Min: geom.Pt(-50, -50), Max: geom.Pt(90, 50)})})
	d.Measure("slots", lines, unit.MM)
	counts := map[string]int{}
	for _, l := range d.labelled() {
		counts[l.forms[0]]++
	}
	if want := 4; len(d.labelled()) != want || counts["centre (0, 0)"] != 1 || counts["centre (40, 0)"] != 1 || counts["\u00d8 10 mm"] != 2 {
		t.Errorf("%v", counts)
	}
}

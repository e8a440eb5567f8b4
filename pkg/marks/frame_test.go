package marks

import (
	"math"
	"testing"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
)

// On every frame an arrow to the work's upper edge says where the router's mark
// looks; no mark on it is nearer than a millimetre to a cut.
func TestFrameMarks(t *testing.T) {
	framed := 0
	everyJob(t, func(t *testing.T, m drawn) {
		if m.set.Frame == nil {
			return
		}
		framed++
		up := false
		set := m.marked
		for i, b := range set.Frame.Bars {
			if len(b.Marks) == 0 {
				t.Errorf("bar %d carries nothing", i)
			}
			var screws []region.Region
			for _, s := range m.set.Frame.Screws {
				screws = append(screws, region.Disc(s.At, fixture.ScrewHole/2))
			}
			wood := region.Subtract(b.Wood, region.Union(screws...))
			for _, c := range b.Marks {
				for k := range 21 {
					p, _ := c.At(c.Length() * float64(k) / 20)
					if wood.Locate(p) != region.Inside || wood.BoundaryDist(p) < 1 {
						t.Errorf("bar %d: a mark at %v is %g mm from a cut", i, p, wood.BoundaryDist(p))
					}
				}
				if d := c.End().Sub(c.Start()); c.Len() == 1 && math.Abs(d.X) < 1e-9 && d.Y > 0 {
					up = up || hasHead(b.Marks, c.End())
				}
			}
		}
		if !up {
			t.Error("no arrow points to the upper edge")
		}
	})
	if framed == 0 {
		t.Error("no job has a frame: nothing was tried")
	}
}

// hasHead reports whether some stroke is an arrow's head at tip: two edges that
// meet there and lead downwards on either side.
func hasHead(strokes []geom.Contour, tip geom.Point) bool {
	for _, c := range strokes {
		if c.Len() == 2 && c.Vertices[1].Near(tip, 1e-9) &&
			c.Start().Y < tip.Y && c.End().Y < tip.Y && (c.Start().X-tip.X)*(c.End().X-tip.X) < 0 {
			return true
		}
	}
	return false
}

// The words stand to the right of the arrow, and the arrow's head is above.
func TestFacingMark(t *testing.T) {
	for _, m := range facingMarks() {
		if len(m.strokes) < 10 {
			t.Fatalf("%d strokes: the words are missing", len(m.strokes))
		}
		if c := m.frames[0].Bounds().Center(); !c.Near(geom.Point{}, 1e-9) {
			t.Errorf("drawn about %v, not the origin", c)
		}
	}
}

package trace

import (
	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
)

// A Report says what was found in a drawing and what was made of it.
type Report struct {
	Read   int // curves
	Merged int // of them, those that lie on others
	Joined int // gaps in strands that were closed
	Passed []drawing.Passed
	Unit   float64 // mm to one unit of the drawing

	Corners []Turn
	Kinks   []Turn // turns that are neither smooth nor surely corners
	Cusps   []Turn // where a curve runs back beside itself

	Radius   float64 // the smallest radius of an arc, 0 where there is none
	RadiusAt geom.Point
	Shown    int // crossings at which the drawing shows what is over

	Off       float64 // the greatest deviation of all
	Length    float64 // of the centre lines
	Strands   int
	Crossings int
	Tees      int
	Turns     int     // the drawing falls on itself when it is turned by 360/Turns degrees; 0: by no turn
	Width     float64 // of the bands whose edges are drawn; 0 where none are

	// Trouble is what stands in the way of making a motif of it.
	Trouble diag.Findings
}

// A Turn is a place where a drawn line changes its direction at once.
type Turn struct {
	At    geom.Point
	Angle float64 // radians, above 0
	Pos   diag.Position
}

// lay moves all places.
func (r *Report) lay(by geom.Similarity) {
	for _, list := range [3][]Turn{r.Corners, r.Kinks, r.Cusps} {
		for i := range list {
			list[i].At = by.Apply(list[i].At)
		}
	}
}

// head is the report in a line.
func (r Report) head() string {
	return unit.Say("traced: %s, %s, %s of centre line; off the drawing by at most %s",
		unit.Count(r.Strands, "strand"), unit.Count(r.Crossings, "crossing"), unit.Len(r.Length).Rough(), unit.AtLeast(r.Off)).String()
}

// measure finds the tightest curve.
func (r *Report) measure(m motif.Motif) {
	for _, s := range m.Strands {
		for _, e := range s.Contour.Edges() {
			if !e.IsLine() && (r.Radius == 0 || e.Radius() < r.Radius-sameCircle) {
				r.Radius, r.RadiusAt = e.Radius(), e.Mid()
			}
		}
	}
}

package trace

import (
	"math"

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
	// Beside is the least distance at which two strands, or two stretches of one, run beside
	// one another, 0 where none do within 200 mm, and BesideAt is half-way between them.
	Beside   float64
	BesideAt geom.Point
	Shown    int // crossings at which the drawing shows what is over

	Off       float64 // the greatest deviation of all, and where
	OffAt     geom.Point
	Exact     bool       // it is none
	Size      geom.Point // width and height of the centre lines
	Length    float64    // of the centre lines
	Strands   int
	Crossings int
	Tees      int
	Turns     int     // the drawing falls on itself when it is turned by 360/Turns degrees; 0: by no turn
	Mirrored  bool    // it is its own reflection in a line through its middle,
	Axis      float64 // at this angle to x, radians
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
	for _, list := range [...][]Turn{r.Corners, r.Kinks, r.Cusps} {
		for i := range list {
			list[i].At = by.Apply(list[i].At)
		}
	}
}

// Lines are the report in sentences.
func (r Report) Lines() []unit.Text {
	lines := []unit.Text{
		unit.Say("%s, %s, %s of centre line", unit.Count(r.Strands, "strand"), unit.Count(r.Crossings, "crossing"), unit.Len(r.Length).Rough()),
		unit.Say("centre lines %s wide, %s high; a unit of the drawing is %s", unit.Len(r.Size.X).Rough(), unit.Len(r.Size.Y).Rough(), unit.Len(r.Unit)),
		r.read(),
	}
	if r.Width > 0 {
		lines = append(lines, unit.Say("middles of bands %s wide", unit.Len(r.Width)))
	}
	if r.Exact {
		lines = append(lines, unit.Say("all of it is drawn exactly"))
	} else {
		lines = append(lines, unit.Say("off the drawing by at most %s, at %s", unit.AtLeast(r.Off), at(r.OffAt)))
	}
	if r.Turns > 1 {
		lines = append(lines, unit.Say("the same after each turn by 1/%d", r.Turns))
	}
	if r.Mirrored {
		lines = append(lines, unit.Say("its own reflection in the line through its middle at %s degrees", unit.Decimal(math.Mod(r.Axis*180/math.Pi+360, 180), 3)))
	}
	if len(r.Corners)+len(r.Kinks)+len(r.Cusps)+r.Tees > 0 {
		lines = append(lines, unit.Say("%s, %s of 0.5 to 7 degrees, %s, %s", unit.Count(len(r.Corners), "corner"), unit.Count(len(r.Kinks), "turn"),
			unit.Count(len(r.Cusps), "cusp"), unit.Count(r.Tees, "end on another strand", "ends on other strands")))
	}
	if r.Radius > 0 {
		lines = append(lines, unit.Say("the tightest curve has a radius of %s, at %s: a rider of at most %s follows it", unit.AtMost(r.Radius), at(r.RadiusAt), unit.AtMost(2*r.Radius)))
	}
	if r.Beside > 0 {
		lines = append(lines, unit.Say("the closest stretches beside one another are %s apart, at %s: where a rider and the web beside it are wider, they go to different panels",
			unit.AtMost(r.Beside), at(r.BesideAt)))
	}
	switch {
	case r.Crossings > 0 && r.Shown == 0:
		lines = append(lines, unit.Say("over and under are not shown: they alternate"))
	case r.Crossings > 0:
		lines = append(lines, unit.Say("over and under are shown at %s", unit.Count(r.Shown, "crossing")))
	}
	return lines
}

// read says what was read and what wasn't.
func (r Report) read() unit.Text {
	text := unit.Say("%s read", unit.Count(r.Read, "curve"))
	if r.Merged > 0 {
		text = unit.Say("%s, %s drawn again on others", text, unit.Count(r.Merged, "of them is", "of them are"))
	}
	if r.Joined > 0 {
		text = unit.Say("%s; %s closed", text, unit.Count(r.Joined, "gap"))
	}
	if len(r.Passed) > 0 {
		text = unit.Say("%s; skipped: %s", text, passedWords(r.Passed))
	}
	return text
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

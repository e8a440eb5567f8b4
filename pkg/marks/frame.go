package marks

// Marks on the frame: where the mark on the router looks. The frame is the one
// part that never turns, so that is where a base that is a little off its
// spindle is shown which way round to stay.

import (
	"strconv"

	"strapwork/pkg/diag"
	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/lettering"
)

// facingWords stand beside the arrow; the shorter ones on a small frame.
var facingWords = []string{"Keep router's mark toward this edge", "router's mark this way"}

// facingMarks are the arrow towards the work's upper edge and the words beside
// it, drawn about the origin, the largest lettering first.
func facingMarks() []mark {
	var list []mark
	for _, said := range facingWords {
		for _, h := range []float64{8, 6, 5, leastLetter} {
			arrow := arrowMark(lettering.Arrow(geom.Pt(0, -h), geom.Pt(0, h), edgeHead*h))
			half := lettering.Width(said, h) / 2
			words := textMark(said, geom.Pt(half+h, 0), h, 0)
			list = append(list, arrow.with(words).boxed(0).centred())
		}
	}
	return list
}

// onFrame returns f with its marks. The facing mark goes on the wood above
// the opening if it has room there, else to the right or left of it, else
// anywhere; a bar also carries its number.
func onFrame(f *fixture.Frame, words labels) (*fixture.Frame, diag.Findings) {
	var found diag.Findings
	done := *f
	done.Bars = make([]fixture.Bar, len(f.Bars))
	copy(done.Bars, f.Bars)
	rooms := make([]*room, len(f.Bars))
	for i, b := range f.Bars {
		holes := make([]region.Region, 0, len(f.Screws))
		for _, s := range f.Screws {
			holes = append(holes, region.Disc(s.At, fixture.ScrewHole/2))
		}
		rooms[i] = roomOn(b.Wood, holes)
	}
	if !placeFacing(f, rooms) {
		found.Warnf("template.frame", ruleNoRoom, "the frame has no room for the words on the router's mark").
			Hintf("draw an arrow to the work's upper edge on it by hand; a larger template.frame makes room")
	}
	for i, r := range rooms {
		name := "frame"
		if len(rooms) > 1 {
			name += "-" + strconv.Itoa(i+1)
		}
		var choices []mark
		for _, lines := range [][]string{{words.title, name + "  " + words.revision}, {name + "  " + words.revision}, {name}} {
			choices = append(choices, textBlock(lines, 5).centred(), textBlock(lines, leastLetter).centred())
		}
		r.placeAnywhere(choices) // a name only: the drawing's file has it too
		done.Bars[i].Marks = r.lines()
	}
	return &done, found
}

// placeFacing places the facing mark on one of the bars.
func placeFacing(f *fixture.Frame, rooms []*room) bool {
	open := f.Opening.Bounds()
	above := func(p geom.Point) bool { return p.Y > open.Max.Y }
	beside := func(p geom.Point) bool { return p.X < open.Min.X || p.X > open.Max.X }
	anywhere := func(geom.Point) bool { return true }
	for _, in := range []func(geom.Point) bool{above, beside, anywhere} {
		for _, m := range facingMarks() {
			for _, r := range rooms {
				for _, p := range r.Anywhere(leastLetter) {
					if in(p.At) && p.Takes(m.frames...) && r.place(m.moved(geom.Shifting(p.At))) {
						return true
					}
				}
			}
		}
	}
	return false
}

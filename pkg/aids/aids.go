// Package aids draws shop aids: small parts, cut from the panels' offcuts, that help
// to set up, to try and to finish; and the pivot bar, which is a template's stead
// for rings and arcs, with its proof. Each is drawn about its own origin, not the
// motif's, and only where the job has a use for it.
//
// Lengths are mm.
package aids

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/groove"
	"strapwork/pkg/profile"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Names of the aids' sheets. A chisel guide's is ChiselGuide and its angle.
const (
	// TracingDisc has the rider's size and a pencil hole in its middle: it is
	// run round every track over the paper before a bit is near the board.
	TracingDisc = "aid-tracing-disc"
	// SubBase is a blank for a base that is true to the spindle. It is screwed
	// under the router, its pilot hole bored out with the job's own bit, and
	// then its rim is trimmed to the rider's diameter, swung round a pin of the
	// bit's diameter in that hole.
	SubBase = "aid-sub-base"
	// DepthGauge is a piece of the sheet that the router stands on while it
	// cuts, with room for bit and rider: laid on shims as thick as the groove
	// is deep, over a flat surface that the bit is let down to, it sets the depth.
	DepthGauge = "aid-depth-gauge"
	// ChiselGuide lies on the work outside a corner, its edges flush with the
	// groove's two outer walls, for the chisel's back to use.
	ChiselGuide = "aid-chisel"
)

// Sizes in mm, common practice.
const (
	pencilHole  = 2.0  // a lead in its holder
	pencilRim   = 3.0  // of sheet round the pencil's hole, less breaks out
	trimming    = 4.0  // that a sub-base is wider than the rider, for trimming
	gaugeSide   = 60.0 // of a depth gauge, for a base to stand on without tipping
	gaugeBorder = 20.0 // of sheet round a depth gauge's hole
)

// pilotShare is a sub-base's pilot hole, in diameters of the bit: a base that
// is off its spindle by less than a quarter of the bit still bores it all away.
const pilotShare = 0.5

// Params are what of a job its aids depend on.
type Params struct {
	Router   work.Router
	Template work.Template
	Depth    float64     // of the groove, mm
	Units    unit.System // in which sizes are said and engraved
}

// Draw draws the shop aids of a job whose panels left some places for the
// chisel; the cutter is the machine's, whose round cutter can't make a sharp
// inside corner. The outlines allow for kerf as those of panels do.
func Draw(p Params, g groove.Groove, left []proof.Leftover, cutter profile.Cutter, kerf float64) []sheet.Part {
	var parts []sheet.Part
	for _, draw := range []func(Params) (sheet.Part, bool){tracingDisc, subBase, depthGauge} {
		if part, ok := draw(p); ok {
			parts = append(parts, part)
		}
	}
	for _, c := range ChiselGuides(g, left) {
		parts = append(parts, aidPart(c.Name, c.title(p.Units), "CORNER "+strings.TrimPrefix(c.Name, ChiselGuide+"-"), p.floorOrWall(), c.outline(cutter)))
	}
	return sheet.Compensated(parts, kerf)
}

// aidPart puts an aid together; mark is engraved if there is room.
func aidPart(name, title, mark string, thickness float64, edge geom.Contour, pins ...sheet.Hole) sheet.Part {
	p := sheet.Part{Ply: sheet.Aid, Thickness: thickness, Quantity: 1, Sheet: sheet.Sheet{
		Name: name, Title: title, Lines: []sheet.Line{{Role: sheet.Edge, Contour: edge}}, Holes: pins,
	}}
	newEngraver(&p).text(mark, underneath(edge.Bounds().Size().Y/2)...)
	return p
}

func pinHole(at geom.Point, diameter float64) sheet.Hole {
	return sheet.Hole{Role: sheet.Pin, Center: at, Radius: diameter / 2}
}

// floorOrWall is the thickness of the thinner sheet that a job uses.
func (p Params) floorOrWall() float64 {
	if t := p.Template; t.Floor > 0 {
		return math.Min(t.Floor, t.Wall)
	}
	return p.Template.Wall
}

// tracingDisc is thin, so that the pencil reaches the paper. There is none for
// a rider so small that the disc would be all hole: most bearings.
func tracingDisc(p Params) (sheet.Part, bool) {
	d := p.Router.RiderDiameter
	if d < pencilHole+2*pencilRim {
		return sheet.Part{}, false
	}
	title := fmt.Sprintf("tracing disc, %s across like the rider, with a pencil hole", p.said(d))
	return aidPart(TracingDisc, title, "DISC "+p.number(d), p.floorOrWall(), geom.Circle(geom.Pt(0, 0), d/2), pinHole(geom.Pt(0, 0), pencilHole)), true
}

// subBase is thin too: it takes its thickness from the bit's reach.
func subBase(p Params) (sheet.Part, bool) {
	if !p.Router.Guide.RidesBase() {
		return sheet.Part{}, false
	}
	d, bit := p.Router.RiderDiameter, p.Router.Bit
	title := fmt.Sprintf("sub-base, blank: screw under the router, bore with the bit, trim to %s round a pin of %s", p.said(d), p.said(bit))
	return aidPart(SubBase, title, "SUB-BASE "+p.number(d), p.floorOrWall(), geom.Circle(geom.Pt(0, 0), (d+trimming)/2), pinHole(geom.Pt(0, 0), pilotShare*bit)), true
}

// depthGauge is of the sheet under the base: the floor's under a base that
// rides, which without a floor stands on the work and needs only the shims;
// else the wall's, with room for what hangs below the base.
func depthGauge(p Params) (sheet.Part, bool) {
	r, t := p.Router, p.Template
	stand := r.Guide.Stands(t.Floor)
	thickness, hole := t.Above(stand), math.Max(r.RiderDiameter, r.ShankDiameter)
	if r.Guide.RidesBase() {
		hole = math.Max(r.Bit, r.ShankDiameter)
	}
	if stand == work.OnBar || thickness == 0 { // the bar is its own gauge
		return sheet.Part{}, false
	}
	hole += 2 * template.ChipRoom
	half := math.Max(gaugeSide, hole+2*gaugeBorder) / 2
	title := fmt.Sprintf("depth gauge: lay on shims of %s, let the bit down through the hole", p.said(p.Shim()))
	square := geom.Rect(geom.Box{Min: geom.Pt(-half, -half), Max: geom.Pt(half, half)})
	return aidPart(DepthGauge, title, "SHIM "+p.number(p.Shim()), thickness, square, pinHole(geom.Pt(0, 0), hole)), true
}

// Shim is the thickness in mm of what a depth gauge, or a pivot bar, is laid on
// to set the bit: the groove's depth.
func (p Params) Shim() float64 { return p.Depth }

// said is a length as the job says it, and number the same without the unit, for which
// there is no room in what is engraved.
func (p Params) said(mm float64) string { return unit.Len(mm).In(p.Units) }

func (p Params) number(mm float64) string {
	return strings.TrimSuffix(p.said(mm), " "+p.Units.String())
}

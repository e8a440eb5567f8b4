package aids

// Chisel guides. What a bit leaves of a corner is pared away from above, the
// chisel's flat back leaning on a guide. The guide is a plate that lies on the
// work outside the groove; a notch in it has the groove's true shape there, so
// that its edges stand over both outer walls. Offcuts of the strips, stood in the
// groove against the walls, put it in place.

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/profile"
	"strapwork/pkg/proof"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// A ChiselRest is one chisel guide and the corners that it fits, laid face up or
// turned over.
type ChiselRest struct {
	Name   string // of its sheet
	Angle  float64
	Mitre  groove.Mitre     // the first corner that it fits
	Serves []proof.Leftover // what it is for
}

const (
	// guideReach is how long a guide's edges are, mm: a broad chisel's width.
	guideReach = 30.0
	// leastReach is under what length a guide isn't worth cutting.
	leastReach = 8.0
	// worthGuiding is the depth in mm of a leftover that wants a guide: half of
	// the gap that the eye sees. Less comes off with a touch.
	worthGuiding = 0.05
	// toolRadius is the radius in mm of the cutter that a routed part is
	// made with (common practice: 1/4 inch cutters), and past how far it
	// clears a corner's tip.
	toolRadius = 3.175
	toolPast   = 0.2
)

// ChiselGuides returns the guides for what is left: one for each shape of
// corner, to a tenth of a degree and of a millimetre of its walls' radii,
// sharpest first. The corners of square ends count as corners.
func ChiselGuides(g groove.Groove, left []proof.Leftover) []ChiselRest {
	byShape := map[string]*ChiselRest{}
	var shapes []string
	for _, l := range left {
		if l.Depth < worthGuiding {
			continue
		}
		m, ok := mitreAt(g, l.At)
		if !ok || guideLength(m) < leastReach {
			continue
		}
		key := mitreShape(m)
		if byShape[key] == nil {
			byShape[key] = &ChiselRest{Angle: m.Angle(), Mitre: m}
			shapes = append(shapes, key)
		}
		byShape[key].Serves = append(byShape[key].Serves, l)
	}
	slices.Sort(shapes)
	guides := make([]ChiselRest, 0, len(shapes))
	for _, key := range shapes {
		guides = append(guides, *byShape[key])
	}
	slices.SortStableFunc(guides, func(a, b ChiselRest) int { return tenths(a.Angle) - tenths(b.Angle) })
	nameGuides(guides)
	return guides
}

// mitreAt is the mitre of the corner, or of the end's corner, nearest to p.
func mitreAt(g groove.Groove, p geom.Point) (groove.Mitre, bool) {
	e := proof.NearestEnding(g, p)
	switch {
	case e.Strand < 0:
		return groove.Mitre{}, false
	case e.Corner != nil:
		return g.Mitre(*e.Corner)
	}
	for _, t := range g.Weave.Tees {
		if t.Strand == e.Strand && t.AtEnd == e.Last {
			return groove.Mitre{}, false // it runs on into its host
		}
	}
	ends := g.EndMitres(e.Strand, e.Last)
	if p.Dist(ends[1].Tip) < p.Dist(ends[0].Tip) {
		return ends[1], true
	}
	return ends[0], true
}

// mitreShape distinguishes mitres of different shape; mirror images are alike.
func mitreShape(m groove.Mitre) string {
	radius := func(bend float64) string {
		if bend == 0 {
			return "straight"
		}
		return fmt.Sprintf("%.1f", 1/bend)
	}
	b := m.Curvatures()
	return fmt.Sprintf("%04d %s %s", tenths(m.Angle()), radius(b[0]), radius(b[1]))
}

// tenths is an angle in tenths of a degree.
func tenths(angle float64) int { return int(math.Round(angle * 1800 / math.Pi)) }

// nameGuides names guides by their angles, and by number those whose angles
// are alike: "aid-chisel-90", "aid-chisel-90-2".
func nameGuides(guides []ChiselRest) {
	seen := map[int]int{}
	for i := range guides {
		t := tenths(guides[i].Angle)
		seen[t]++
		guides[i].Name = ChiselGuide + "-" + inTenths(t)
		if seen[t] > 1 {
			guides[i].Name += "-" + strconv.Itoa(seen[t])
		}
	}
}

func inTenths(tenths int) string {
	return unit.Decimal(float64(tenths)/10, 1)
}

func (c ChiselRest) title(u unit.System) string {
	walls := make([]string, 0, 2)
	for _, b := range c.Mitre.Curvatures() {
		if b != 0 {
			walls = append(walls, unit.Len(math.Round(10/math.Abs(b))/10).In(u))
		}
	}
	title := "chisel guide, " + inTenths(tenths(c.Angle)) + " degrees"
	if len(walls) > 0 {
		title += ", for walls of radius " + strings.Join(walls, " and ")
	}
	return title
}

// guideLength is how far from the tip a guide's edges can go: so far that a curved
// wall doesn't come back to the plate, nor two of them to each other.
func guideLength(m groove.Mitre) float64 {
	d := guideReach
	if b := m.Curvatures(); b[0] == 0 && b[1] == 0 {
		return d
	}
	for _, e := range [2]geom.Edge{m.In, m.Out} {
		if e.Bulge != 0 {
			d = math.Min(d, math.Min(e.Radius(), e.Chord()))
		}
	}
	return d
}

// outline is the guide about its tip, with the groove below: a disc less the
// groove. A round cutter comes in by the middle and takes the notch's tip away;
// the edges run towards the tip from both sides.
func (c ChiselRest) outline(cutter profile.Cutter) geom.Contour {
	m := c.Mitre
	place := geom.Shifting(m.Tip.Scale(-1)).Then(geom.Turning(math.Pi/2 - m.Outward().Angle()))
	plate := region.Disc(geom.Pt(0, 0), guideLength(m))
	notch := groove.Beside(groove.Beside(plate, place.Edge(m.In), m.Side), place.Edge(m.Out), m.Side)
	switch cutter {
	case profile.Router:
		way := geom.Chain(false, geom.Line(geom.Pt(0, toolPast-toolRadius), geom.Pt(0, -2*guideReach)))
		notch = region.Union(notch, region.Stroke(way, toolRadius))
	case profile.Laser:
	}
	return sheet.Weld(region.Subtract(plate, notch).Pieces()[0].Loops()[0])
}

package aids

// The pivot bar, for jobs of rings and arcs (guide = "pivot"): no panel is made.
// A bar screwed under the router swings about a pin in the work's centre. For
// each circle it has a pin hole at R + k from the bit's centre, which cuts the
// outer wall, and one at R - k, which cuts the inner (k is half of what the
// groove is wider than the bit); and others between where two swings would
// leave a ridge.

import (
	"math"
	"slices"
	"strconv"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/motif"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// PivotBar is the name of the pivot bar's sheet.
const PivotBar = "pivot-bar"

// PivotPin is the diameter in mm of the pin that the bar swings on (common
// practice: a drill's shank or a dowel pin).
const PivotPin = 3.0

// PadRadius is the radius in mm of the bar's end under a base whose size is not given
// (common practice).
const PadRadius = 45.0

// Sizes in mm, common practice where no reason is given.
const (
	barWeb    = 3.0   // of wood between two holes: as much as the pin is thick
	barRim    = 8.0   // of wood between a hole and the bar's edge
	barHalf   = 15.0  // half of the bar's least width, for it to stay straight
	overlap   = 0.9   // of the bit's width, the most from one swing to the next
	playLeast = 0.005 // a bit with less play to either side makes one swing
	// sameDistance is when two distances are one hole: far below what a shop
	// can hold, and above rounding.
	sameDistance = 1e-6
)

// A Pivot is the bar of a job and the circles that it swings. The bar is drawn
// with the bit's centre at the origin and its length along +x.
type Pivot struct {
	BitHole float64 // diameter: the bit's own, which so centres the bar while it is screwed on
	Holes   []PivotHole
	Circles []PivotCircle
	Outline geom.Contour // counter-clockwise
}

// A PivotHole is a hole for the pin.
type PivotHole struct {
	Label    string // "1", "2", ... from the bit outwards
	Distance float64
	At       geom.Point // at Distance from the bit's centre
}

// A PivotCircle is a circle of the motif, or the part of one, that is swung
// about one place of the pin. The pin's hole marks the work there, unless that
// wood is cut away or covered later, like a rosette's sound hole.
type PivotCircle struct {
	Center   geom.Point
	Radius   float64  // of the centre line
	Elements []string // the copies that lie on it: "ring.1"
	Full     bool     // a whole ring; else arcs, which are swung from end to end
	Holes    []int    // indices into the bar's holes, from the inner wall to the outer
	lines    []piece
}

// A piece is an edge of a strand.
type piece struct{ strand, edge int }

// NewPivot draws the bar. Straights, and circles too small for a hole beside
// the bit, are errors.
func NewPivot(want Params, g groove.Groove) (Pivot, diag.Findings) {
	var found diag.Findings
	p := Pivot{BitHole: g.Size.Bit, Circles: circlesOf(g, &found)}
	if found.HasErrors() {
		return p, found
	}
	var all []float64
	for _, c := range p.Circles {
		all = append(all, swingsAt(g.Size, c.Radius)...)
	}
	slices.Sort(all)
	all = slices.CompactFunc(all, func(a, b float64) bool { return math.Abs(a-b) <= sameDistance })
	for i, at := range placed(all) {
		p.Holes = append(p.Holes, PivotHole{Label: strconv.Itoa(i + 1), Distance: all[i], At: at})
	}
	for i := range p.Circles {
		for _, d := range swingsAt(g.Size, p.Circles[i].Radius) {
			p.Circles[i].Holes = append(p.Circles[i].Holes, slices.IndexFunc(all, func(x float64) bool { return math.Abs(x-d) <= sameDistance }))
		}
	}
	p.Outline = barOutline(p.Holes, want.Router.BaseDiameter/2)
	return p, found
}

// circlesOf lists the circles that the motif's elements lie on.
func circlesOf(g groove.Groove, found *diag.Findings) []PivotCircle {
	var list []PivotCircle
	reported := map[int]bool{}
	least := (g.Size.Bit+PivotPin)/2 + barWeb + g.Size.Offset()
	for i, s := range g.Motif.Strands {
		for k, e := range s.Contour.Edges() {
			src := g.Motif.Sources[s.Sources[k]]
			if e.Bulge != 0 && e.Radius() >= least-geom.Coincident {
				list = addToCircle(list, e, src.Name, piece{i, k})
				continue
			}
			if reported[src.Element] {
				continue
			}
			reported[src.Element] = true
			at := e.Mid()
			if e.Bulge == 0 {
				found.Errorf(src.Key, "pivot-straight", "%s is straight near %s, and a bar on a pin swings in circles only", src.Name, unit.Place{X: at.X, Y: at.Y}).SetAt(at.X, at.Y).
					Hintf(`write guide = %s and its rider in [router]; or draw arcs and circles only`, work.Either(work.Guides(work.Guide.HasPanels)))
				continue
			}
			f := found.Errorf(src.Key, "pivot-small", "%s near %s has a radius of %s: a pin hole of %s for it would leave less than %s of the bar beside the bit", src.Name, unit.Place{X: at.X, Y: at.Y}, unit.Len(e.Radius()), unit.Len(PivotPin), unit.Len(barWeb)).SetAt(at.X, at.Y).
				Hintf(`make the radius at least %s; or say guide = "bushing" or "bearing"`, unit.AtLeast(least))
			g.ProposeRadius(f, src, least)
		}
	}
	for i := range list {
		list[i].Full = isFull(g, list[i])
	}
	return list
}

func addToCircle(list []PivotCircle, e geom.Edge, name string, p piece) []PivotCircle {
	i := slices.IndexFunc(list, func(c PivotCircle) bool {
		return c.Center.Near(e.Center(), motif.Same) && math.Abs(c.Radius-e.Radius()) <= motif.Same
	})
	if i < 0 {
		i = len(list)
		list = append(list, PivotCircle{Center: e.Center(), Radius: e.Radius()})
	}
	c := &list[i]
	c.lines = append(c.lines, p)
	if !slices.Contains(c.Elements, name) {
		c.Elements = append(c.Elements, name)
	}
	return list
}

// isFull reports whether a circle is one whole ring: a closed strand that has no
// corner and no other edge.
func isFull(g groove.Groove, c PivotCircle) bool {
	s := g.Motif.Strands[c.lines[0].strand]
	return s.Contour.Closed && len(c.lines) == s.Contour.Len() && len(g.Corners(c.lines[0].strand)) == 0 &&
		!slices.ContainsFunc(c.lines, func(p piece) bool { return p.strand != c.lines[0].strand })
}

// swingsAt are the distances from the pin at which the bit is swung for a
// circle, from the inner wall to the outer.
func swingsAt(s groove.Size, radius float64) []float64 {
	k := s.Offset()
	if k < playLeast {
		return []float64{radius}
	}
	steps := max(1, int(math.Ceil(2*k/(overlap*s.Bit)-sameDistance)))
	list := make([]float64, steps+1)
	for i := range list {
		list[i] = radius - k + 2*k*float64(i)/float64(steps)
	}
	list[steps] = radius + k
	return list
}

// placed puts a hole at each distance from the bit, on the bar's middle line
// where there is room, else beside it, in the row where it stays clear of the
// others; always on the circle about the bit.
func placed(distances []float64) []geom.Point {
	const pitch = PivotPin + barWeb
	var list []geom.Point
	clear := func(p geom.Point) bool {
		return !slices.ContainsFunc(list, func(q geom.Point) bool { return p.Dist(q) < pitch })
	}
	for _, d := range distances {
		for row := 0; ; row++ {
			// 0, 1, -1, 2, -2: along the circle, a pitch apart.
			n := (row + 1) / 2
			if row%2 == 0 {
				n = -n
			}
			turn := 2 * math.Asin(math.Min(1, pitch/2/d)) * float64(n)
			if math.Abs(turn) > math.Pi || clear(geom.Polar(d, turn)) {
				list = append(list, geom.Polar(d, turn))
				break
			}
		}
	}
	return list
}

// barOutline is a bar round the holes, with a round pad under the router's base.
func barOutline(holes []PivotHole, base float64) geom.Contour {
	if base == 0 {
		base = PadRadius
	}
	room := PivotPin/2 + barRim
	box := geom.Box{Min: geom.Pt(0, -barHalf), Max: geom.Pt(base, barHalf)}
	for _, h := range holes {
		box = box.Join(geom.Box{Min: h.At, Max: h.At}.Expand(room))
	}
	return sheet.Weld(region.Union(region.Disc(geom.Pt(0, 0), base), region.New(geom.Rect(box))).Loops()[0])
}

// Part draws the bar, for outlines that allow for kerf.
func (p Pivot) Part(want Params, kerf float64) sheet.Part {
	s := sheet.Sheet{
		Name: PivotBar, Title: "pivot bar: the bit in hole 0, the pin in the others",
		Lines: []sheet.Line{{Role: sheet.Edge, Contour: p.Outline}},
		Holes: []sheet.Hole{pinHole(geom.Pt(0, 0), p.BitHole)},
	}
	for _, h := range p.Holes {
		s.Holes = append(s.Holes, pinHole(h.At, PivotPin))
	}
	bar := sheet.Part{Ply: sheet.PivotBar, Thickness: want.Template.Wall, Quantity: 1, Sheet: s}
	engrave := newEngraver(&bar)
	for i, h := range p.Holes {
		engrave.number(h.Label, s.Holes[i+1])
	}
	return sheet.Compensated([]sheet.Part{bar}, kerf)[0]
}

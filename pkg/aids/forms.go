package aids

// Bending forms and trimming holders, drawn from what package bend plans. A form has the
// radius of the strip's inner face; small and far-turning bends go round discs, others
// round blocks with an edge above and one below, each running out straight at both ends.
// In a holder a bent strip lies on an edge of its own radius, and the holder's ends,
// which stand at the cuts' angles, guide the saw or the chisel.

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"strapwork/pkg/bend"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

const (
	// FormName and HolderName begin the names of forms and holders: form-1, holder-1.
	FormName   = "form-"
	HolderName = "holder-"
)

// Sizes in mm, common practice.
const (
	leastForm   = 6.0             // radius of a form: what is smaller is a rod, or a drill's shank
	discRadius  = 60.0            // up to which a form is a disc, however little the bend turns
	turnRadius  = 120.0           // and if it turns by more than blocks do
	lead        = 25.0            // of straight at either end of an edge, for a clamp
	formBody    = 40.0            // of sheet between a block's two edges
	longest     = 240.0           // chord of a block's edge: what is longer is moved along it
	formScrew   = 4.0             // holes to screw a disc down by
	holderEdge  = 70.0            // that a bent strip lies on
	holderDepth = 35.0            // of sheet behind it
	leastHolder = 20.0            // radius: what is tighter is trimmed against the strip sheet
	holderHorn  = holderDepth / 3 // that a hollow holder stands up beyond its edge, for flat cuts
)

const (
	// mostTurn in radians is how far a block's edge turns, beyond which its ends would
	// point at one another: 140 degrees.
	mostTurn = 140 * math.Pi / 180
	// holderTurn likewise for a holder: 90 degrees.
	holderTurn = 90 * math.Pi / 180
	// mostEdges of forms and mostTrims of holders are drawn, those that serve most pieces.
	mostEdges = 12
	mostTrims = 12
	// oneRadius is the part by which two ends' radii may differ for one holder: the strip
	// is pressed on its edge.
	oneRadius = 0.08
)

// A Form is a part with edges that strips are bent round.
type Form struct {
	Name  string
	Edges []int // of the plan's, the one above first
}

// A Holder is a part with ends at which bent strips are trimmed.
type Holder struct {
	Name  string
	Trims []int // of the plan's, the one at the left first
}

// round reports whether an edge's form is a disc.
func round(e bend.Edge) bool {
	return e.Radius <= discRadius || e.Sweep > mostTurn && e.Radius <= turnRadius
}

// Forms says which edges are on which form. An edge too small for a form is on none, nor
// is one beyond those that are drawn.
func Forms(plan bend.Plan) []Form {
	var list []Form
	open := -1 // a block with room for another edge
	for i, e := range plan.Edges[:min(len(plan.Edges), mostEdges)] {
		switch {
		case Rod(e):
			continue
		case !round(e) && open >= 0:
			list[open].Edges = append(list[open].Edges, i)
			open = -1
			continue
		case !round(e):
			open = len(list)
		}
		list = append(list, Form{Edges: []int{i}})
	}
	for i := range list {
		list[i].Name = FormName + strconv.Itoa(i+1)
	}
	return list
}

// Holders says which ends are trimmed in which holder: two of nearly one radius in each.
func Holders(plan bend.Plan) []Holder {
	var list []Holder
	for i, t := range plan.Trims[:min(len(plan.Trims), mostTrims)] {
		if t.Radius < leastHolder {
			continue
		}
		k := slices.IndexFunc(list, func(h Holder) bool {
			o := plan.Trims[h.Trims[0]]
			return len(h.Trims) == 1 && o.Hollow == t.Hollow && math.Abs(o.Radius-t.Radius) <= oneRadius*min(o.Radius, t.Radius)
		})
		if k >= 0 {
			list[k].Trims = append(list[k].Trims, i)
			continue
		}
		list = append(list, Holder{Trims: []int{i}})
	}
	for i := range list {
		list[i].Name = HolderName + strconv.Itoa(i+1)
	}
	return list
}

// DrawForms draws forms and holders. They are of the wall's sheet: the thicker.
func DrawForms(p Params, plan bend.Plan, kerf float64) []sheet.Part {
	var parts []sheet.Part
	for _, f := range Forms(plan) {
		parts = append(parts, p.form(f, plan))
	}
	for _, h := range Holders(plan) {
		parts = append(parts, p.holder(h, plan))
	}
	return sheet.Compensated(parts, kerf)
}

func (p Params) form(f Form, plan bend.Plan) sheet.Part {
	var said []string
	for _, i := range f.Edges {
		said = append(said, fmt.Sprintf("R %s for %s", p.said(plan.Edges[i].Radius), uses(plan, plan.Edges[i])))
	}
	part := sheet.Part{Ply: sheet.Form, Thickness: p.Template.Wall, Quantity: 1, Sheet: sheet.Sheet{Name: f.Name, Title: "bending form: " + strings.Join(said, "; ")}}
	first := plan.Edges[f.Edges[0]]
	if round(first) {
		part.Sheet.Lines = []sheet.Line{{Role: sheet.Edge, Contour: geom.Circle(geom.Pt(0, 0), first.Radius)}}
		part.Sheet.Holes = discHoles(first.Radius)
	} else {
		edges := []bend.Edge{first}
		if len(f.Edges) > 1 {
			edges = append(edges, plan.Edges[f.Edges[1]])
		}
		part.Sheet.Lines = []sheet.Line{{Role: sheet.Edge, Contour: block(edges)}}
	}
	e := newEngraver(&part)
	box := part.Sheet.BoundsOf(sheet.Edge)
	for i, n := range f.Edges {
		edge := plan.Edges[n]
		at := geom.Pt(0, 0)
		if !round(first) {
			at.Y = box.Max.Y - aidLetters*2 // under its edge
			if i == 1 {
				at.Y = box.Min.Y + aidLetters*2
			}
		}
		e.apart("R "+p.number(edge.Radius), offCenter(around(at, box)))
		e.apart(strings.ToUpper(uses(plan, edge)), offCenter(around(at, box)))
	}
	e.apart(strings.ToUpper(f.Name), offCenter(around(geom.Pt(0, 0), box)))
	return part
}

// offCenter has places beside the origin first, since patterns show a disc's centre.
func offCenter(places []geom.Point) []geom.Point {
	on := func(p geom.Point) int {
		if math.Abs(p.Y) < aidLetters {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(places, func(a, b geom.Point) int { return on(a) - on(b) })
	return places
}

// uses says what is bent round an edge: "strip 2 low", "strips 1 and 3".
func uses(plan bend.Plan, e bend.Edge) string {
	var list []string
	for _, u := range e.Uses {
		stuff := plan.Stuff[plan.Bends[u.Bend].Stuff]
		text := "the lay-up"
		if len(stuff) == 1 {
			numbers := make([]string, len(stuff[0].Strips))
			for i, n := range stuff[0].Strips {
				numbers[i] = strconv.Itoa(n)
			}
			text = "strip " + strings.Join(numbers, " ")
			if len(numbers) > 1 {
				text = "strips " + strings.Join(numbers, " ")
			}
		}
		if u.Yield >= 0 {
			text += " " + [...]string{"low", "usual", "high"}[u.Yield]
		}
		if !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return strings.Join(list, ", ")
}

// discHoles are for two screws, which keep a disc from turning.
func discHoles(radius float64) []sheet.Hole {
	if radius < 5*formScrew {
		return nil // its marks need the room
	}
	return []sheet.Hole{pinHole(geom.Pt(-0.6*radius, 0), formScrew), pinHole(geom.Pt(0.6*radius, 0), formScrew)}
}

// formEdge is an edge from right to left with its straights, the top of its arc at the
// origin, and how far its ends are from the middle and below the top.
func formEdge(e bend.Edge) (edges []geom.Edge, half, rise float64) {
	turn := min(e.Sweep, mostTurn)
	if longest < 2*e.Radius {
		turn = min(turn, 2*math.Asin(longest/2/e.Radius))
	}
	center := geom.Pt(0, -e.Radius)
	arc := geom.Arc(center, e.Radius, math.Pi/2-turn/2, turn)
	out := geom.Polar(lead, -turn/2)
	right := arc[0].A.Add(out)
	left := geom.Pt(-right.X, right.Y)
	edges = append(edges, geom.Line(right, arc[0].A))
	edges = append(edges, arc...)
	return append(edges, geom.Line(arc[len(arc)-1].B, left)), right.X, -right.Y
}

// block is a part with an edge above and, if there is one, another below.
func block(edges []bend.Edge) geom.Contour {
	above, half, rise := formEdge(edges[0])
	up := geom.Shifting(geom.Pt(0, formBody/2+rise))
	outline := moved(above, up)
	if len(edges) == 1 {
		outline = append(outline, polyline(geom.Pt(-half, formBody/2), geom.Pt(-half, -formBody/2), geom.Pt(half, -formBody/2), geom.Pt(half, formBody/2))...)
		return geom.Chain(true, outline...)
	}
	below, wide, drop := formEdge(edges[1])
	down := geom.Shifting(geom.Pt(0, formBody/2+drop)).Then(geom.Turning(math.Pi))
	outline = append(outline, geom.Line(geom.Pt(-half, formBody/2), geom.Pt(-wide, -formBody/2)))
	outline = append(outline, moved(below, down)...)
	outline = append(outline, geom.Line(geom.Pt(wide, -formBody/2), geom.Pt(half, formBody/2)))
	return geom.Chain(true, outline...)
}

// moved moves edges.
func moved(edges []geom.Edge, to geom.Similarity) []geom.Edge {
	out := make([]geom.Edge, len(edges))
	for i, e := range edges {
		out[i] = to.Edge(e)
	}
	return out
}

func polyline(points ...geom.Point) []geom.Edge {
	var edges []geom.Edge
	for i := range points[1:] {
		edges = append(edges, geom.Line(points[i], points[i+1]))
	}
	return edges
}

// holder draws a holder.
func (p Params) holder(h Holder, plan bend.Plan) sheet.Part {
	first := plan.Trims[h.Trims[0]]
	radius, tips := first.Radius, [2]float64{first.Tip, math.Pi/2 + holderTurnOf(first.Radius)/2}
	if first.Hollow {
		tips[1] = math.Pi / 2
	}
	if len(h.Trims) > 1 {
		second := plan.Trims[h.Trims[1]]
		radius, tips[1] = min(radius, second.Radius), second.Tip
	}
	var said []string
	for i := range h.Trims {
		said = append(said, unit.Decimal(tips[i]*180/math.Pi, 1))
	}
	form := "round"
	if first.Hollow {
		form = "hollow"
	}
	part := sheet.Part{Ply: sheet.Holder, Thickness: p.Template.Wall, Quantity: 1, Sheet: sheet.Sheet{
		Name: h.Name, Title: fmt.Sprintf("trimming holder: %s, R %s, ends at %s degrees", form, p.said(tenth(radius)), strings.Join(said, " and ")),
		Lines: []sheet.Line{{Role: sheet.Edge, Contour: holderOutline(radius, tips, first.Hollow)}},
	}}
	e := newEngraver(&part)
	box := part.Sheet.BoundsOf(sheet.Edge)
	for i, s := range said {
		x := box.Min.X
		if i == 1 {
			x = box.Max.X
		}
		e.apart(s, around(geom.Pt(x, box.Max.Y), box))
	}
	e.apart("R "+p.number(tenth(radius)), around(box.Center(), box))
	e.apart(strings.ToUpper(h.Name), around(geom.Pt(box.Center().X, box.Min.Y), box))
	return part
}

// tenth is a length to the tenth of a millimetre, to which forms are made.
func tenth(mm float64) float64 { return math.Round(10*mm) / 10 }

// holderTurnOf is how far a holder's edge turns.
func holderTurnOf(radius float64) float64 { return min(holderEdge/radius, holderTurn) }

// holderOutline is a holder with an edge of a radius, round above its middle or hollow,
// and a tip at its left and its right end.
func holderOutline(radius float64, tips [2]float64, hollow bool) geom.Contour {
	turn := holderTurnOf(radius)
	half, rise := radius*math.Sin(turn/2), radius*(1-math.Cos(turn/2))
	wide := half + holderDepth/2
	side, ends := 1.0, -rise // how high the edge's ends are
	if hollow {
		side, ends = -1, rise
	}
	center := geom.Pt(0, -side*radius)
	above := region.New(geom.Rect(geom.Box{Min: geom.Pt(-wide, min(0, ends)), Max: geom.Pt(wide, rise+holderHorn)}))
	below := region.New(geom.Rect(geom.Box{Min: geom.Pt(-wide, min(0, ends)-holderDepth), Max: geom.Pt(wide, min(0, ends))}))
	r := region.Union(below, groove.Beside(above, geom.Circle(center, radius).Edge(0), side))
	slope := side * turn / 2
	for i, tip := range tips {
		// At the end the edge runs to the middle; the guide is turned by the tip from that,
		// into the holder.
		end, guide, keep := geom.Pt(half, ends), math.Pi-slope+tip, -1.0
		if i == 0 {
			end.X, guide, keep = -half, slope-tip, 1
		}
		line := geom.Line(end, end.Add(geom.Polar(1, guide)))
		if !hollow {
			r = groove.Beside(r, line, keep)
			continue
		}
		// What lies on the other side of the edge's hollow stays.
		beyond := r.Bounds().Include(end)
		if i == 0 {
			beyond.Max.X = end.X
		} else {
			beyond.Min.X = end.X
		}
		r = region.Subtract(r, groove.Beside(region.New(geom.Rect(beyond)), line, -keep))
	}
	return sheet.Weld(r.Pieces()[0].Loops()[0])
}

// Rod reports whether an edge is too small to be drawn: a rod is bent round.
func Rod(e bend.Edge) bool { return e.Radius < leastForm }

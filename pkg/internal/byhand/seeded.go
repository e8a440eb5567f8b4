package byhand

import (
	"fmt"
	"math"
	"math/rand/v2"

	"strapwork/pkg/geom"
	"strapwork/pkg/internal/plait"
)

var kinds = []struct {
	name string
	draw func(r *rand.Rand) sketch
}{
	{"looped-polygon", loopedPolygon},
	{"rings", rings},
	{"plait", plaited},
	{"star", star},
	{"knot-panel", knotPanel},
	{"round-border", roundBorder},
	{"straight-border", straightBorder},
	{"strands", strands},
	{"teardrops", teardrops},
}

// A sketch is a motif and the tool that it asks for.
type sketch struct {
	copies   int
	mirror   bool
	elements []Element
	tool     tool
}

// A tool rides the template. Its width is the groove's.
type tool struct {
	router string
	width  float64
}

// base, bushing and bearing are what may ride the template, by the tightest bend
// that they follow.
func base(r *rand.Rand) tool {
	d := float64(76 + 2*r.IntN(10))
	return tool{fmt.Sprintf("guide = \"base\"\nrider = \"%g mm\"\nbit = \"1/8 in\"\nflute = \"20 mm\"\nshank = \"1/4 in\"", d), 4 + r.Float64()}
}

func bushing(r *rand.Rand) tool {
	d := float64(8 + r.IntN(7))
	return tool{fmt.Sprintf("guide = \"bushing\"\nrider = \"%g mm\"\nbit = \"2 mm\"\nflute = \"12 mm\"\nshank = \"1/8 in\"\ncollar = \"5 mm\"\nbase = \"110 mm\"", d), 2.4 + r.Float64()}
}

func bearing(r *rand.Rand) tool {
	return tool{"guide = \"bearing\"\nbit = \"2.4 mm\"\nflute = \"6 mm\"\nshank = \"2.2 mm\"\nbase = \"110 mm\"", 2.6 + r.Float64()}
}

// Seeded draws a motif; the same seed draws the same. Kinds take turns, and every
// fifth job is in inches.
func Seeded(seed int) (kind string, d Drawing) {
	kind, s := sketched(seed)
	return kind, s.drawing(seed)
}

func sketched(seed int) (kind string, s sketch) {
	k := kinds[seed%len(kinds)]
	return k.name, k.draw(rand.New(rand.NewPCG(uint64(seed), 1)))
}

// drawing puts a head before a sketch; its last table is that of the templates.
func (s sketch) drawing(seed int) Drawing {
	d := Drawing{Inch: seed%5 == 4, Copies: max(1, s.copies), Mirror: s.mirror, Elements: s.elements}
	units := "mm"
	if d.Inch {
		units = "in"
	}
	d.Head = fmt.Sprintf(`title = "Seeded motif %d"
units = %q
[inlay]
depth = "2.5 mm"
width = "%.2f mm"
[router]
%s
[template]
web = "8 mm"
margin = "60 mm"
wall = "8 mm"
frame = 0
`, seed, units, s.tool.width, s.tool.router)
	return d
}

// between is a number of one decimal from low to high.
func between(r *rand.Rand, low, high float64) float64 {
	return math.Round((low+(high-low)*r.Float64())*10) / 10
}

// loopedPolygon has n sides that cross at the corners and are looped there. A
// loop turns by 360 degrees less the corner's turn of 360/n.
func loopedPolygon(r *rand.Rand) sketch {
	n := 3 + r.IntN(6)
	s := sketch{copies: n}
	tan := math.Tan(math.Pi / float64(n))
	var loop float64
	switch {
	case n < 5 && r.IntN(2) == 0:
		s.tool, loop = base(r), between(r, 52, 80)
	case r.IntN(2) == 0:
		s.tool, loop = bushing(r), between(r, 14, 30)
	default:
		s.tool, loop = bearing(r), between(r, 10, 30)
	}
	// Neighbouring loops' centres are 2 (inner + loop) tan(180/n) apart.
	inner := max((loop+between(r, 2, 12)*s.tool.width)/tan-loop, between(r, 0.5, 1)*loop)
	reach := (inner + loop) * tan
	s.elements = []Element{
		{Kind: Line, Name: "side", Points: []geom.Point{{X: -reach, Y: inner}, {X: reach, Y: inner}}},
		{Kind: Arc, Name: "loop", Center: geom.Pt(reach, inner+loop), Radius: loop, Start: 1.5 * math.Pi, Sweep: 2 * math.Pi * (1 - 1/float64(n))},
	}
	return s
}

// rings are linked round the origin, with rings about it.
func rings(r *rand.Rand) sketch {
	n := 6 + r.IntN(5)
	middle := between(r, 45, 75)
	link := middle * math.Sin(math.Pi/float64(n)) * (1.15 + 0.5*r.Float64())
	link = math.Round(link*10) / 10
	s := sketch{copies: n, tool: bushing(r), elements: []Element{
		{Kind: Circle, Name: "link", Center: geom.Pt(middle, 0), Radius: link},
	}}
	if r.IntN(2) == 0 {
		s.tool = bearing(r)
	}
	add := func(name string, radius float64) {
		s.elements = append(s.elements, Element{Kind: Circle, Name: name, Radius: radius})
	}
	if r.IntN(2) == 0 {
		add("through", middle*math.Cos(math.Pi/float64(n)))
	}
	if r.IntN(2) == 0 {
		add("inner", middle-link-s.tool.width-between(r, 3, 8))
	}
	if r.IntN(2) == 0 {
		add("outer", middle+link+s.tool.width+between(r, 3, 8))
	}
	return s
}

// stretched is a plait's strands, longer one way than the other.
func stretched(r *rand.Rand) [][]geom.Point {
	a, b := 2+r.IntN(3), 2+r.IntN(3)
	pitch, ratio := between(r, 36, 50), 0.8+0.4*r.Float64()
	var strands [][]geom.Point
	for _, line := range plait.Lines(a, b, pitch) {
		var pts []geom.Point
		for _, v := range line.Vertices {
			pts = append(pts, geom.Pt(v.X, v.Y*ratio))
		}
		strands = append(strands, pts)
	}
	return strands
}

// plaited has sharp corners.
func plaited(r *rand.Rand) sketch {
	s := sketch{tool: bushing(r)}
	if r.IntN(2) == 0 {
		s.tool = bearing(r)
	}
	for i, pts := range stretched(r) {
		s.elements = append(s.elements, Element{Kind: Line, Name: fmt.Sprintf("strand%d", i+1), Points: pts, Closed: true})
	}
	return s
}

// knotPanel is a plait with round corners.
func knotPanel(r *rand.Rand) sketch {
	s := sketch{tool: bearing(r)}
	bend := between(r, 7, 11)
	if r.IntN(2) == 0 {
		s.tool, bend = bushing(r), between(r, 9, 11)
	}
	for i, pts := range stretched(r) {
		s.elements = append(s.elements, rounded(fmt.Sprintf("strand%d-", i+1), pts, true, bend)...)
	}
	return s
}

// star is a star polygon {n/k} with round corners.
func star(r *rand.Rand) sketch {
	n := 5 + r.IntN(5)
	k := 2 + r.IntN((n-1)/2-1)
	s := sketch{copies: n, tool: bearing(r)}
	outer, bend := between(r, 60, 110), between(r, 6, 10)
	if r.IntN(2) == 0 {
		s.tool, bend = bushing(r), between(r, 10, 14)
	}
	// A side is 2 outer sin(pi k/n) long, and each of its bends takes away
	// bend tan(pi k/n): sharp points want a slighter star.
	for k > 1 && bend > 0.6*outer*math.Cos(math.Pi*float64(k)/float64(n)) {
		k--
	}
	point := func(i int) geom.Point { return geom.Polar(outer, 2*math.Pi*float64(i*k)/float64(n)) }
	// One side and the corner at its end; copies make the rest.
	s.elements = rounded("", []geom.Point{point(-1), point(0), point(1), point(2)}, false, bend)[2:4]
	return s
}

// roundBorder is two waves against one another round the origin.
func roundBorder(r *rand.Rand) sketch {
	n := 4 + r.IntN(2)
	s := sketch{copies: n, tool: bearing(r)}
	if r.IntN(2) == 0 {
		s.tool = bushing(r)
	}
	middle, high := between(r, 50, 60), between(r, 14, 18)
	for w, name := range []string{"wave-", "counter-"} {
		shift := math.Pi / float64(n) * float64(w)
		crest := func(i int) geom.Point {
			radius := middle + high
			if i%2 != 0 {
				radius = middle - high
			}
			return geom.Polar(radius, shift+math.Pi/float64(n)*float64(i))
		}
		pts := []geom.Point{crest(-1), crest(0), crest(1), crest(2), crest(3)}
		// Of line, arc, line, arc, ... the first line belongs to the copy before.
		s.elements = append(s.elements, rounded(name, pts, false, 8)[1:5]...)
	}
	if r.IntN(2) == 0 {
		s.elements = append(s.elements, Element{Kind: Circle, Name: "rim", Radius: middle + high + s.tool.width + between(r, 4, 9)})
	}
	return s
}

// straightBorder is two zigzags with round bends in a frame, their ends on it or
// free.
func straightBorder(r *rand.Rand) sketch {
	s := sketch{tool: bearing(r)}
	n, step, high := 3+r.IntN(4), between(r, 24, 34), between(r, 14, 20)
	for w, name := range []string{"zig-", "zag-"} {
		var pts []geom.Point
		for i := range n + 1 {
			y := high
			if (i+w)%2 != 0 {
				y = -high
			}
			pts = append(pts, geom.Pt(step*(float64(i)-float64(n)/2), y))
		}
		s.elements = append(s.elements, rounded(name, pts, false, between(r, 6, 9))...)
	}
	wide, tall := step*float64(n)/2+10, high+8+s.tool.width
	if r.IntN(2) == 0 { // a frame whose short sides the outer ends lie on
		wide = step * float64(n) / 2
	}
	s.elements = append(s.elements, Element{
		Kind: Line, Name: "frame", Closed: true,
		Points: []geom.Point{{X: -wide, Y: -tall}, {X: wide, Y: -tall}, {X: wide, Y: tall}, {X: -wide, Y: tall}},
	})
	return s
}

// strands are lines and arcs with free ends, one across, one on a tee, and
// sometimes a ring with a tee on it.
func strands(r *rand.Rand) sketch {
	s := sketch{tool: bushing(r)}
	if r.IntN(2) == 0 {
		s.tool = bearing(r)
	}
	at, dir := geom.Pt(-90, between(r, -20, 20)), between(r, -20, 20)*math.Pi/180
	run := func(name string, length float64) (mid geom.Point) {
		end := at.Add(geom.Polar(length, dir))
		s.elements = append(s.elements, Element{Kind: Line, Name: name, Points: []geom.Point{at, end}})
		mid, at = at.Lerp(end, 0.3+0.4*r.Float64()), end
		return mid
	}
	bend := func(name string, radius, sweep float64) {
		side := math.Copysign(math.Pi/2, sweep)
		c := at.Add(geom.Polar(radius, dir+side))
		s.elements = append(s.elements, Element{Kind: Arc, Name: name, Center: c, Radius: radius, Start: math.Mod(dir-side+4*math.Pi, 2*math.Pi), Sweep: sweep})
		at, dir = c.Add(geom.Polar(radius, dir-side+sweep)), dir+sweep
	}
	turn := between(r, 30, 110) * math.Pi / 180
	first := run("first", between(r, 40, 70))
	firstDir := dir
	bend("bend", between(r, 12, 30), turn)
	middle := run("middle", between(r, 40, 70))
	middleDir := dir
	bend("back", between(r, 12, 30), -turn*between(r, 0.5, 1.2))
	run("last", between(r, 20, 50))

	across := firstDir + between(r, 50, 130)*math.Pi/180
	arm := between(r, 20, 45)
	s.elements = append(s.elements, Element{
		Kind: Line, Name: "across",
		Points: []geom.Point{first.Sub(geom.Polar(arm, across)), first.Add(geom.Polar(arm*0.8, across))},
	})
	at, dir = middle, middleDir-between(r, 60, 120)*math.Pi/180
	run("tee", between(r, 20, 40))
	bend("hook", between(r, 10, 20), between(r, 40, 100)*math.Pi/180)
	if r.IntN(2) == 0 {
		c, radius := geom.Pt(-60, -90), between(r, 15, 25)
		at, dir = c.Add(geom.Pt(radius, 0)), between(r, -30, 30)*math.Pi/180
		s.elements = append(s.elements, Element{Kind: Circle, Name: "ring", Center: c, Radius: radius})
		run("spoke", between(r, 20, 40))
	}
	return s
}

// teardrops are mirrored halves: a straight from a corner on the axis, and an
// arc that comes back to the axis square.
func teardrops(r *rand.Rand) sketch {
	s := sketch{copies: 1 + r.IntN(4), mirror: true, tool: bearing(r)}
	radius, tip, c := between(r, 14, 26), between(r, 10, 30), between(r, 60, 90)
	if r.IntN(3) == 0 {
		s.tool = bushing(r)
	}
	theta := math.Pi - math.Acos(radius/(c+tip)) // of the place where straight and arc meet
	center := geom.Pt(c, 0)
	s.elements = []Element{
		{Kind: Line, Name: "straight", Points: []geom.Point{{X: -tip, Y: 0}, center.Add(geom.Polar(radius, theta))}},
		{Kind: Arc, Name: "round", Center: center, Radius: radius, Start: theta, Sweep: -theta},
	}
	if r.IntN(2) == 0 {
		s.elements = append(s.elements, Element{Kind: Circle, Name: "ring", Radius: c + between(r, -10, 10)})
	}
	return s
}

// rounded is a chain of straights with arcs of a radius for its corners, in
// order: line, arc, line, arc, ...; for a closed one the last corner is the
// first point's.
func rounded(name string, pts []geom.Point, closed bool, radius float64) []Element {
	n := len(pts)
	corner := func(i int) (from, to geom.Point, arc Element) {
		p := pts[i%n]
		in, out := p.Sub(pts[(i+n-1)%n]).Unit(), pts[(i+1)%n].Sub(p).Unit()
		turn := math.Atan2(in.Cross(out), in.Dot(out))
		cut := radius * math.Tan(math.Abs(turn)/2)
		side := math.Copysign(1, turn)
		from, to = p.Sub(in.Scale(cut)), p.Add(out.Scale(cut))
		c := from.Add(in.Left().Scale(side * radius))
		return from, to, Element{Kind: Arc, Name: fmt.Sprintf("%sbend%d", name, i), Center: c, Radius: radius, Start: math.Mod(from.Sub(c).Angle()+2*math.Pi, 2*math.Pi), Sweep: turn}
	}
	var list []Element
	at := pts[0]
	last := n - 2
	if closed {
		_, at, _ = corner(n)
		last = n - 1
	}
	for i := range last + 1 {
		to, after := pts[(i+1)%n], pts[(i+1)%n]
		var arc []Element
		if closed || i < last {
			from, out, bend := corner(i + 1)
			to, after, arc = from, out, []Element{bend}
		}
		list = append(list, Element{Kind: Line, Name: fmt.Sprintf("%sleg%d", name, i+1), Points: []geom.Point{at, to}})
		list = append(list, arc...)
		at = after
	}
	return list
}

package setup

// The rail that panels are stepped along: in each set-up's picture what lies round the
// panel, and in one picture of its own the whole board with every hole of the rail.

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"strapwork/pkg/fixture"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
	"strapwork/pkg/unit"
)

// Measures of pictures of rails, in heights of capitals.
const (
	besidePanel = 6.0 // of the rail, shown beyond either end of the panel
	tickLong    = 0.8
)

// along draws the rail as far as it is shown, its holes and splices, and the index plate
// with its pin.
func (d *drawing) along(r *fixture.Rail) {
	d.fill(frameShade, lineShade, 0.5, "rail", d.seen(region.New(r.Outline()))...)
	var joints, splices []geom.Contour
	for i, at := range r.Joints {
		joints = append(joints, geom.Chain(false, geom.Line(r.Place(at, 0), r.Place(at, r.Width))))
		splices = append(splices, d.seen(region.New(r.Splice(i)))...)
	}
	d.fill("", lineShade, 0.8, "joints of the rail", d.shown(joints)...)
	d.fill(wedgeShade, lineShade, 0.5, "splices", splices...)
	var holes []geom.Contour
	for _, h := range r.Holes {
		if h.SetUp != d.u.Number {
			holes = append(holes, geom.Circle(r.Place(h.At, r.Rows[h.Row]), r.Pin/2))
		}
	}
	d.fill(holeShade, lineShade, 0.5, "holes of the rail", d.shown(holes)...)
}

// plate is the index plate by which the panel is pinned in this set-up, as drawn.
func (d *drawing) plate() fixture.Plate {
	row := d.rail.Holes[d.u.Number-1].Row
	i := slices.IndexFunc(d.panel.Plates, func(p fixture.Plate) bool { return p.Row == row })
	return d.panel.Plates[i]
}

// includePlate shows all of it.
func (d *drawing) includePlate() {
	d.box = d.box.Join(upright(d.laid, d.plate().Outline()).Bounds())
}

// pin draws the index plate on the panel and the rail, and the pin in its hole.
func (d *drawing) pin(r *fixture.Rail) {
	h := r.Holes[d.u.Number-1]
	p := d.plate()
	d.fill(wedgeShade, lineShade, 0.8, "index plate "+p.Name, upright(d.laid, p.Outline()))
	for _, at := range p.Pins() {
		d.fill(holeShade, lineShade, 0.5, "", geom.Circle(d.laid.Apply(at), r.Pin/2))
	}
	d.fill(lineShade, pageShade, 0.5, "index pin", geom.Circle(r.Place(h.At, r.Rows[h.Row]), r.Pin/2))
}

// measureAlong shows what lies round the panel: some of the rail beyond its ends, and what
// the base passes over.
func (d *drawing) measureAlong() {
	size := d.box.Size()
	d.h = math.Max(leastText, textShare*math.Max(size.X, size.Y))
	laid := d.laid.Contour(d.panel.Outline)
	from := -fixture.Reach(laid, d.rail.Along.Scale(-1)) - d.rail.Zero.Dot(d.rail.Along) - besidePanel*d.h
	to := fixture.Reach(laid, d.rail.Along) - d.rail.Zero.Dot(d.rail.Along) + besidePanel*d.h
	for _, at := range []float64{math.Max(0, from), math.Min(d.rail.Length, to)} {
		for _, behind := range []float64{0, d.rail.Width} {
			d.box = d.box.Include(d.rail.Place(at, behind))
		}
	}
}

// within is what of an area lies within what is shown.
func (d *drawing) within(r region.Region) region.Region {
	return region.Intersect(r, region.New(geom.Rect(d.box)))
}

// axesShown are the work's axes as far as they are shown.
func (d *drawing) axesShown() []geom.Contour {
	var lines []geom.Contour
	for _, along := range []geom.Point{geom.Pt(1, 0), geom.Pt(0, 1)} {
		if a, b, ok := clip(d.box, geom.Point{}, along); ok {
			lines = append(lines, geom.Chain(false, geom.Line(a, b)))
		}
	}
	return lines
}

// rimShown are the board's edges as far as they are shown.
func (d *drawing) rimShown() []geom.Contour {
	var lines []geom.Contour
	for _, e := range geom.Rect(d.j.Board.Box()).Edges() {
		a, b, ok := clip(d.box, e.A, e.B.Sub(e.A).Unit())
		if !ok {
			continue
		}
		// The part of the line that is the edge's own.
		way, long := e.B.Sub(e.A).Unit(), e.Length()
		from, to := math.Max(0, a.Sub(e.A).Dot(way)), math.Min(long, b.Sub(e.A).Dot(way))
		if to-from > hairline {
			lines = append(lines, geom.Chain(false, geom.Line(e.A.Add(way.Scale(from)), e.A.Add(way.Scale(to)))))
		}
	}
	return lines
}

// shown are the contours that lie within what is shown.
func (d *drawing) shown(list []geom.Contour) []geom.Contour {
	var in []geom.Contour
	for _, c := range list {
		if box := c.Bounds(); d.box.Holds(box.Min) && d.box.Holds(box.Max) {
			in = append(in, c)
		}
	}
	return in
}

// holeNumbers writes the numbers of the set-ups in which this plate is pinned under the
// holes, behind the rail; the one of this set-up in a badge.
func (d *drawing) holeNumbers(r *fixture.Rail) {
	own := r.Holes[d.u.Number-1]
	box := d.box
	d.box = box.Include(r.Place(own.At, r.Width+(tickLong+2.2)*d.h))
	for _, h := range r.Holes {
		if h.Row != own.Row || !box.Holds(r.Place(h.At, r.Width-hairline)) {
			continue
		}
		d.tick(r, h)
		at := r.Place(h.At, r.Width+(tickLong+1.2)*d.h)
		if h.SetUp == d.u.Number {
			d.badge(at, h.SetUp)
			continue
		}
		d.text(at.Sub(geom.Pt(0, 0.4*d.h)), 0.8*d.h, true, strconv.Itoa(h.SetUp))
	}
}

// hairline in mm is nothing in a picture.
const hairline = 1e-3

// tick draws a tick at the rail's back, opposite a hole.
func (d *drawing) tick(r *fixture.Rail, h fixture.RailHole) {
	d.fill("", lineShade, 0.8, "tick", geom.Chain(false, geom.Line(r.Place(h.At, r.Width), r.Place(h.At, r.Width+tickLong*d.h))))
}

// Steps draws the whole board with the rail, every hole with its set-up's number, and where
// each panel lies in its first one. It is false where nothing is stepped.
func Steps(j Params, g groove.Groove, s template.Set) (sheet.Picture, bool) {
	r := s.Rail
	if r == nil {
		return sheet.Picture{}, false
	}
	d := newDrawing(j, g, s, plan.SetUp{}) // of none: no hole has a pin in it
	d.box = r.Outline().Bounds()
	if j.Board != nil {
		d.box = d.box.Join(j.Board.Box())
	}
	for _, u := range s.Plan.SetUps {
		d.box = d.box.Join(u.Position.Similarity().Contour(s.Panels[u.Panel].Outline).Bounds())
	}
	d.h = stepsLetters(r, d.box.Size())
	d.work()
	d.fill(grooveShade, "", 0, "groove", g.Area().Loops()...)
	d.along(r)
	d.boardRim()
	d.firstPlaces(s)
	bottom := d.rows(r)
	d.stepsWords(r, bottom)
	return d.p, true
}

// stepsLetters is how high capitals are: as in every picture, or as the steps leave room for
// the numbers.
func stepsLetters(r *fixture.Rail, size geom.Point) float64 {
	h := math.Max(leastText, textShare*math.Max(size.X, size.Y))
	wide := 0.8 * letterWide * float64(len(strconv.Itoa(len(r.Holes)))+1)
	for i, a := range r.Holes {
		for _, b := range r.Holes[:i] {
			if a.Row == b.Row {
				h = math.Min(h, math.Abs(a.At-b.At)/wide)
			}
		}
	}
	return math.Max(h, leastText)
}

// firstPlaces draws every panel's outline and index plates where it lies first.
func (d *drawing) firstPlaces(s template.Set) {
	seen := map[int]bool{}
	for _, u := range s.Plan.SetUps {
		if seen[u.Panel] {
			continue
		}
		seen[u.Panel] = true
		laid := u.Position.Similarity()
		d.fill("", lineShade, 1.2, "panel "+u.PanelID, upright(laid, s.Panels[u.Panel].Outline))
		d.p.Fills[len(d.p.Fills)-1].Dash = []float64{8 * d.stroke(), 4 * d.stroke()}
		for _, p := range s.Panels[u.Panel].Plates {
			d.fill(wedgeShade, lineShade, 0.5, "index plate", upright(laid, p.Outline()))
		}
	}
}

// rows writes the numbers of the set-ups under the rail, a line for each row of holes, each
// beginning with its panel's letter, and returns how far down they go.
func (d *drawing) rows(r *fixture.Rail) float64 {
	low := d.box.Min.Y
	named := map[int]bool{}
	for _, h := range r.Holes {
		d.tick(r, h)
		line := r.Width + (tickLong+1.2+1.7*float64(h.Row))*d.h
		at := r.Place(h.At, line).Sub(geom.Pt(0, 0.4*d.h))
		d.text(at, 0.8*d.h, true, strconv.Itoa(h.SetUp))
		if !named[h.Row] {
			named[h.Row] = true
			d.text(r.Place(-1.6*d.h, line).Sub(geom.Pt(0, 0.4*d.h)), 0.8*d.h, true, h.Panel)
		}
		low = math.Min(low, at.Y)
	}
	return low
}

// stepsWords writes the title above and the key below, and closes the page.
func (d *drawing) stepsWords(r *fixture.Rail, bottom float64) {
	left, right := d.box.Min.X, d.box.Max.X
	d.p.Title = fmt.Sprintf("the rail: %s, numbered by set-ups, all measured from its zero end", unit.Count(len(r.Holes), "hole"))
	top := d.taken().Max.Y + 2*d.h
	d.text(geom.Pt(left, top), 1.4*d.h, false, d.p.Title)
	if d.j.Title != "" {
		d.p.Title += " (" + d.j.Title + ")"
	}
	area := func(color, stroke string) func(geom.Box) {
		return func(b geom.Box) { d.fill(color, stroke, 0.8, "", geom.Rect(b)) }
	}
	var list []sample
	if d.j.Board != nil {
		list = append(list, sample{d.boardSample, "board (dashed) and grain direction"})
	}
	list = append(list,
		sample{area(frameShade, lineShade), fmt.Sprintf("rail, %s long", unit.Len(r.Length).In(d.j.Units))},
		sample{area(wedgeShade, lineShade), "index plates and splices"},
		sample{area("", lineShade), "panels, each in its first set-up"},
		sample{area(grooveShade, ""), "groove"},
	)
	y := d.key(list, geom.Pt(left, bottom-2.8*d.h), right)
	h := r.Nearest()
	for _, said := range []string{
		fmt.Sprintf("hole %d is %s from the zero end; hole %d, the furthest, %s: measure both before the first cut", h.SetUp, unit.Len(h.At).In(d.j.Units), r.Furthest().SetUp, unit.Len(r.Furthest().At).In(d.j.Units)),
		"check the last station by the story stick before cutting there; see stations.md",
	} {
		y = d.list([]string{said}, " ", geom.Pt(left, y-lineHigh*d.h), right)
	}
	d.page(geom.Box{Min: geom.Pt(left, y-0.3*d.h), Max: geom.Pt(right, top+1.4*d.h)})
}

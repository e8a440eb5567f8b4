package setup

// What is written round the drawing: which panel lies how, what is what, and
// the cuts in their order.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// letterWide is the width of a letter in heights of capitals, on average in the
// wider of common faces (measured on the lines of a picture in one of them: 0.69).
const letterWide = 0.74

// lineHigh is the distance of two lines of text, in heights of capitals.
const lineHigh = 2.1

func (d *drawing) width(s string, h float64) float64 { return letterWide * h * float64(len([]rune(s))) }

// upperEdge marks the edge that is up, above everything.
func (d *drawing) upperEdge(word string) {
	top := geom.Pt(d.box.Center().X, d.box.Max.Y+1.6*d.h)
	d.text(top, d.h, true, word)
	side := d.width(word, d.h)/2 + 1.5*d.h
	for _, x := range []float64{-side, side} {
		tail := top.Add(geom.Pt(x, -0.3*d.h))
		d.pointer("up", tail, tail.Add(geom.Pt(0, 2.2*d.h)), headWide*d.h, headLong*d.h)
	}
}

// A sample is one entry of the key: what a thing looks like, and what it is.
type sample struct {
	draw func(box geom.Box)
	word string
}

// words writes the title above and the key and the cuts below, and closes the
// page round everything.
func (d *drawing) words(framed bool) {
	left := d.box.Min.X
	title := d.caption()
	d.p.Title = title
	if d.j.Title != "" {
		d.p.Title += " (" + d.j.Title + ")"
	}
	y := d.box.Max.Y + 5.6*d.h
	d.text(geom.Pt(left, y), 1.4*d.h, false, title)
	right := math.Max(d.box.Max.X, left+d.width(title, 1.4*d.h))
	top := y + 1.4*d.h
	y = d.key(d.samples(framed), geom.Pt(left, d.box.Min.Y-2.8*d.h), right)
	y = d.list(d.order(), " ", geom.Pt(left, y-lineHigh*d.h), right)
	for _, s := range d.reminders() {
		y = d.list(strings.Fields(s), " ", geom.Pt(left, y-lineHigh*d.h), right)
	}
	d.page(geom.Box{Min: geom.Pt(left, y-0.3*d.h), Max: geom.Pt(right, top)})
}

// caption says which set-up it is, and how its panel lies.
func (d *drawing) caption() string {
	return fmt.Sprintf("set-up %d of %d: panel %s, %s", d.u.Number, d.of, d.panel.ID, d.u.Position.InWords(d.j.Units))
}

// page puts a white page under everything.
func (d *drawing) page(words geom.Box) {
	pad := 1.5
	if d.card {
		pad = cardPad
	}
	page := d.taken().Join(words).Expand(pad * d.h)
	d.p.Bounds = page
	d.p.Fills = append([]sheet.Fill{{Loops: []geom.Contour{geom.Rect(page)}, Color: pageShade}}, d.p.Fills...)
}

// taken is what drawing and lettering take up.
func (d *drawing) taken() geom.Box {
	box := d.box
	for _, f := range d.p.Fills {
		for _, c := range f.Loops {
			box = box.Join(c.Bounds())
		}
	}
	for _, t := range d.p.Texts {
		wide := d.width(t.String, t.Height)
		low := t.At
		if t.Middle {
			low.X -= wide / 2
		}
		box = box.Include(low).Include(low.Add(geom.Pt(wide, t.Height)))
	}
	return box
}

// order says which tracks the cuts' numbers are, runs of both at once: "cuts 3-5: tracks
// A1-A3".
func (d *drawing) order() []string {
	made := d.u.Made()
	var list []string
	for i := 0; i < len(made); {
		n := i + 1
		for n < len(made) && d.index(made[n])-d.index(made[i]) == n-i {
			n++
		}
		first, last := made[i], made[n-1]
		if n-i == 1 {
			list = append(list, fmt.Sprintf("cut %d: track %s;", first.Number, first.ID))
		} else {
			list = append(list, fmt.Sprintf("cuts %d-%d: tracks %s-%s;", first.Number, last.Number, first.ID, last.ID))
		}
		i = n
	}
	if n := len(list); n > 0 {
		list[n-1] = strings.TrimSuffix(list[n-1], ";")
	}
	return list
}

// index is which of the panel's tracks one is.
func (d *drawing) index(t plan.Track) int {
	return slices.IndexFunc(d.u.Tracks, func(o plan.Track) bool { return o.ID == t.ID })
}

// reminders are what must not be overlooked with the picture alone at hand.
func (d *drawing) reminders() []string {
	lines := append(d.twice(), "clockwise round each track, with the wall on the left of travel; never the other way round")
	if d.u.Position.Flip {
		lines = append(lines, "the panel is turned over: its marks face down")
	}
	if d.j.Table != nil {
		lines = append(lines, d.station())
	}
	if d.rail != nil {
		h := d.rail.Holes[d.u.Number-1]
		lines = append(lines, fmt.Sprintf("press the panel against the rail, and pin plate %s into hole %d, %s from the rail's zero end", h.Plate, h.SetUp, unit.Len(h.At).In(d.j.Units)))
	}
	switch {
	case d.baseRadius() <= 0:
		lines = append(lines, "router.base isn't in the job: where the base passes isn't drawn")
	case !d.sweeps():
		lines = append(lines, "the base stays within the track: leave room for the router's body and your hands")
	}
	return append(lines, "stop and retract the bit before lifting the router or moving a panel; see setup.md and the router's manual")
}

// station says which of a table's stations is drawn: a set-up is made at several.
func (d *drawing) station() string {
	if len(d.j.Table.Stations) == 0 {
		return "the upright axis is the joint; shown at station 1: see stations.md for the others, and for packing"
	}
	return "shown at station 1: see stations.md for the others"
}

// twice says what other set-ups make too: tracks that are left alone, and
// stretches that are cut again.
func (d *drawing) twice() []string {
	var lines []string
	for _, t := range d.u.Spare() {
		lines = append(lines, fmt.Sprintf("leave track %s alone (crossed out): %s", t.ID, d.elsewhere(t)))
	}
	for _, t := range d.u.Made() {
		if len(t.Elsewhere) > 0 {
			lines = append(lines, fmt.Sprintf("cut %d repeats part of another, which can widen it: %s", t.Number, d.elsewhere(t)))
		}
	}
	return lines
}

// elsewhere names the cuts of other set-ups along a track.
func (d *drawing) elsewhere(t plan.Track) string {
	var parts []string
	for _, o := range t.Elsewhere {
		long := ""
		if !t.Spare {
			long = unit.Format(math.Round(o.Length), d.j.Units) + " of "
		}
		parts = append(parts, fmt.Sprintf("%scut %d, set-up %d", long, o.Number, o.SetUp))
	}
	return strings.Join(parts, "; ")
}

// samples are the entries of the key.
func (d *drawing) samples(framed bool) []sample {
	area := func(color, stroke string) func(geom.Box) {
		return func(b geom.Box) { d.fill(color, stroke, 0.8, "", geom.Rect(b)) }
	}
	var list []sample
	if d.j.Board != nil {
		list = append(list, sample{d.boardSample, "board (dashed) and grain direction"})
	}
	if framed {
		list = append(list, sample{area(frameShade, lineShade), "frame and screw holes"}, sample{area(wedgeShade, lineShade), "wedges"})
	}
	if d.rail != nil {
		list = append(list, sample{area(frameShade, lineShade), "rail"}, sample{area(wedgeShade, lineShade), "index plate"},
			sample{func(b geom.Box) { d.mark(lineShade, pageShade, 1.2, "", geom.Circle(b.Center(), startRadius*d.h)) }, "index pin"})
	}
	list = append(list,
		sample{area(panelShade, lineShade), "panel " + d.panel.ID},
		sample{area(boardShade(d.j.Wood), lineShade), "track"},
		sample{area(grooveShade, ""), "groove"},
		sample{area(cutShade, ""), "cut in this set-up"},
		sample{func(b geom.Box) { d.badge(b.Center(), 1) }, "cut number"},
		sample{func(b geom.Box) { d.mark(lineShade, pageShade, 1.2, "", geom.Circle(b.Center(), startRadius*d.h)) }, "start: bit down, and up when back"},
		sample{func(b geom.Box) {
			d.mark(pageShade, lineShade, 1.4, "", d.bar(b.Center(), geom.Pt(1, 0), startRadius*d.h))
		}, "finish: cross over to the other wall, and back"},
	)
	if len(d.u.Spare()) > 0 {
		list = append(list, sample{func(b geom.Box) { d.cross(b.Center()) }, "leave alone: cut in another set-up"})
	}
	if d.sweeps() {
		list = append(list, sample{d.sweepSample, "the router's base, " + unit.Len(2*d.baseRadius()).In(d.j.Units) + ", passes here: no clamps"})
	}
	return list
}

func (d *drawing) boardSample(b geom.Box) {
	d.fill(boardShade(d.j.Wood), rimShade, 0.8, "", geom.Rect(b))
	along := geom.Polar(1, d.j.Board.Grain)
	var lines []geom.Contour
	for _, k := range []float64{-0.25, 0, 0.25} {
		p := b.Center().Add(along.Left().Scale(k * b.Size().Y))
		if from, to, ok := clip(b, p, along); ok {
			lines = append(lines, geom.Chain(false, geom.Line(from, to)))
		}
	}
	d.fill("", rimShade, 0.6, "", lines...)
}

func (d *drawing) sweepSample(b geom.Box) {
	y := b.Center().Y
	f := d.sweepLine([]geom.Contour{geom.Chain(false, geom.Line(geom.Pt(b.Min.X, y), geom.Pt(b.Max.X, y)))})
	f.Label = ""
	d.p.Fills = append(d.p.Fills, f)
}

// Measures of the key, in heights of capitals.
const (
	sampleWide = 2.6
	sampleGap  = 0.6 // between a sample and its word
	entryGap   = 2.0 // between two entries
)

// key writes samples in rows from at, no further than right where that can be,
// and returns the last row's base line.
func (d *drawing) key(list []sample, at geom.Point, right float64) float64 {
	x, y := at.X, at.Y
	for _, s := range list {
		wide := (sampleWide+sampleGap)*d.h + d.width(s.word, d.h)
		if x > at.X && x+wide > right {
			x, y = at.X, y-lineHigh*d.h
		}
		s.draw(geom.Box{Min: geom.Pt(x, y-0.25*d.h), Max: geom.Pt(x+sampleWide*d.h, y+1.25*d.h)})
		d.text(geom.Pt(x+(sampleWide+sampleGap)*d.h, y), d.h, false, s.word)
		x += wide + entryGap*d.h
	}
	return y
}

// list writes words in rows like key, with gap between two of them.
func (d *drawing) list(words []string, gap string, at geom.Point, right float64) float64 {
	y := at.Y
	var row []string
	flush := func() {
		d.text(geom.Pt(at.X, y), d.h, false, strings.Join(row, gap))
	}
	for _, w := range words {
		if line := strings.Join(append(row[:len(row):len(row)], w), gap); len(row) > 0 && at.X+d.width(line, d.h) > right {
			flush()
			row, y = nil, y-lineHigh*d.h
		}
		row = append(row, w)
	}
	flush()
	return y
}

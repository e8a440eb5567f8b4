package setup

// The small pictures of the cutting card, which is ticked off at the bench.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/groove"
	"strapwork/pkg/sheet"
	"strapwork/pkg/template"
)

// A Card is a set-up's picture for the cutting card.
type Card struct {
	SetUp   int           // its number
	Caption string        // which panel, and how it lies
	Picture sheet.Picture // in the work's coordinates, in mm
}

// Letters on the card are as high as these in mm on paper: capitals of the numbers, by the
// room that each cut has. 2.5 mm is read at arm's length in poor light, 1.8 the least that
// ISO 3098 has; dozens of cuts on a small panel leave no room for more than 1.6.
const (
	cardLetters     = 2.5
	cardLettersFew  = 2.0
	cardLettersMany = 1.6
	roomy           = 700.0 // mm² of the print for each cut, from which letters are largest
	crowded         = 200.0 // and under which they are smallest
	manyCuts        = 24    // from which tracks aren't named beside the numbers: the card's rows do
	cardRim         = 0.05  // of the panel's longer side: what is shown round it
	cardTop         = 3.6   // above that, in heights of capitals: which edge is up
	cardPad         = 0.5   // round everything, in heights of capitals
)

// Cards draws all set-ups of a job in the order of work for the cutting card: the panel
// with what lies round it, its cuts with their numbers, and which edge is up. The size is
// that at which a picture is printed, mm: letters and lines are as large as they need to
// be there. A job without panels has none.
func Cards(j Params, g groove.Groove, s template.Set, size geom.Point) []Card {
	var list []Card
	ideal := g.Area()
	for _, u := range s.Plan.SetUps {
		d := newDrawing(j, g, s, u)
		d.card = true
		d.box = d.laid.Contour(d.panel.Outline).Bounds()
		if d.rail != nil {
			d.includePlate()
		}
		long := d.box.Size()
		d.box = d.box.Expand(cardRim * math.Max(long.X, long.Y))
		d.h = letters(d.box.Size(), size, len(u.Made()))
		d.scene(ideal, s)
		d.cuts()
		d.upperEdge("panel " + d.panel.ID + ": " + u.Position.InWords(d.j.Units))
		d.page(d.box)
		d.p.Title = d.caption()
		list = append(list, Card{u.Number, d.p.Title, d.p})
	}
	return list
}

// letters is how high capitals are in a picture of what is so large and has so many cuts,
// for them to have their height where it is printed at a size.
func letters(shown, size geom.Point, cuts int) float64 {
	k := math.Min(size.X/shown.X, size.Y/shown.Y)
	high := cardLettersFew
	switch room := k * shown.X * k * shown.Y / math.Max(1, float64(cuts)); {
	case room >= roomy:
		high = cardLetters
	case room < crowded:
		high = cardLettersMany
	}
	// Printed at size/(shown + n h), a height of h is high.
	fit := func(shown, size, n float64) float64 { return high * shown / (size - n*high) }
	return math.Max(fit(shown.X, size.X, 2*cardPad), fit(shown.Y, size.Y, cardTop+2*cardPad))
}

// seen is what a picture shows of an area.
func (d *drawing) seen(r region.Region) []geom.Contour {
	if d.part() {
		r = region.Intersect(r, region.New(geom.Rect(d.box)))
	}
	return r.Loops()
}

// part reports whether a picture shows only what lies round its panel.
func (d *drawing) part() bool { return d.card || d.rail != nil }

// clipped cuts a box to what is shown, and reports whether there is anything left.
func (d *drawing) clipped(b *geom.Box) bool {
	b.Min = geom.Pt(math.Max(b.Min.X, d.box.Min.X), math.Max(b.Min.Y, d.box.Min.Y))
	b.Max = geom.Pt(math.Min(b.Max.X, d.box.Max.X), math.Min(b.Max.Y, d.box.Max.Y))
	return b.Min.X < b.Max.X && b.Min.Y < b.Max.Y
}

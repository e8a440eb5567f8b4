package paper

import (
	"math"
	"strings"

	"strapwork/pkg/geom"
)

// A caption says something about a place of the drawing. It is written near it
// where nothing else is, on the sheet of the cell that the place lies in.
type caption struct {
	at    geom.Point // what it is about
	first *Text      // as which it is written if that place is free
	forms []string   // from the whole to the shortest
	bold  bool
	of    subject
}

// A subject says what a label is about, where that matters.
type subject int

const (
	aPlace subject = iota
	aCentre
	aPart
)

// Name adds a part's name near it: a label whose shortest form is written however
// long its leader, and whatever lines that crosses.
func (d *Drawing) Name(at geom.Point, forms ...string) {
	d.labels = append(d.labels, caption{at: at, bold: true, forms: forms, of: aPart})
}

// Label adds lettering about a place: the first of the forms that finds room
// near it is written, with a leader if it had to move away. Forms go from the
// whole to the shortest; what none has room for is left to the tables.
func (d *Drawing) Label(at geom.Point, bold bool, forms ...string) {
	d.labels = append(d.labels, caption{at: at, bold: bold, forms: forms})
}

// labelOf is a text of the drawing as a label: moved if its own place isn't
// free, and shortened to what stands before a colon if there is no room for
// all of it, and that to the number at its end.
func labelOf(t Text) caption {
	l := caption{at: t.At, first: &t, forms: []string{t.String}, bold: t.Bold}
	if head, _, ok := strings.Cut(t.String, ":"); ok {
		l.forms = append(l.forms, head)
		if i := strings.LastIndexByte(head, ' '); i >= 0 && strings.Trim(head[i+1:], "0123456789") == "" {
			l.forms = append(l.forms, head[i+1:])
		}
	}
	return l
}

// labelled are all labels of a drawing, texts first.
func (d *Drawing) labelled() []caption {
	var list []caption
	for _, t := range d.Texts {
		list = append(list, labelOf(t))
	}
	return append(list, d.labels...)
}

// said is what became of a pattern's labels.
type said struct {
	leader bool // some label has a leader
	short  bool // some label isn't whole
	left   int  // so many found no room
}

// A spot is a place of lettering round a point: the offset to its base line,
// and for one that has moved away the leader's end and direction.
type spot struct {
	off   geom.Point
	align Align
	end   geom.Point
	away  float64 // of the leader's end; 0 for none
}

const (
	// nearby in mm is the distance from a point to the lettering beside it.
	nearby = 1.2
	// leadFrom in mm is where a leader begins, beyond its point's cross.
	leadFrom = 1.0
	// perLine is the detour in mm that is worth crossing one line less.
	perLine = 6.0
	// farWhole and farShort in mm bound the detour of labels: farther off, a
	// short label near its point is found more easily than the whole one.
	farWhole = 22.0
	farShort = 40.0
)

// spots are the places to try, in order: close to the point, then in rings
// about it.
func spots() []spot {
	const height = capHeight * small
	up, down := nearby, -nearby-height
	list := []spot{
		{off: geom.Pt(nearby, up), align: Left},
		{off: geom.Pt(-nearby, up), align: Right},
		{off: geom.Pt(nearby, down), align: Left},
		{off: geom.Pt(-nearby, down), align: Right},
		{off: geom.Pt(0, 2*up), align: Center},
		{off: geom.Pt(0, down-nearby), align: Center},
		{off: geom.Pt(2*nearby, -height/2), align: Left},
		{off: geom.Pt(-2*nearby, -height/2), align: Right},
	}
	const directions = 16
	for _, r := range []float64{2.8, 4, 6, 8.5, 11.5, 15, 19, 24, 30, 37} {
		for k := range directions {
			// From the upper right round.
			dir := geom.Polar(1, 2*math.Pi*float64((k+2)%directions)/directions)
			list = append(list, ringSpot(dir, r))
		}
	}
	return list
}

// ringSpot puts lettering beyond a leader's end.
func ringSpot(dir geom.Point, r float64) spot {
	const slant = 0.35 // sine of 20 degrees: the sides of lettering that a leader comes in at
	s := spot{end: dir.Scale(r), away: r, align: Center}
	s.off = s.end
	switch {
	case dir.X > slant:
		s.align, s.off.X = Left, s.off.X+apart
	case dir.X < -slant:
		s.align, s.off.X = Right, s.off.X-apart
	}
	switch {
	case dir.Y > slant && s.align == Center:
		s.off.Y += descent*small + apart
	case dir.Y < -slant && s.align == Center:
		s.off.Y -= capHeight*small + apart
	default:
		s.off.Y -= capHeight * small / 2
	}
	return s
}

// placeLabel writes a label where there is room for it, within a box, and
// reports whether there was.
func (t *tile) placeLabel(l caption, within geom.Box) bool {
	if l.first != nil && t.fits(*l.first, within) {
		t.put(*l.first)
		return true
	}
	for i, form := range l.forms {
		far := farWhole
		if i > 0 {
			far = farShort
		}
		if l.of == aPart && i == len(l.forms)-1 {
			far = math.Inf(1)
		}
		if text, s, ok := t.spotFor(l, form, within, far); ok {
			if s.away > 0 {
				t.lead(l.at, s)
				t.said.leader = true
			}
			t.put(text)
			t.said.short = t.said.short || i > 0
			return true
		}
	}
	return false
}

// spotFor finds the best place of one form of a label: the first close to its
// point (for a part's name under its middle), or else the one with the shortest leader, where every line that it
// crosses counts for so much of its length.
func (t *tile) spotFor(l caption, form string, within geom.Box, far float64) (Text, spot, bool) {
	var best Text
	var where spot
	cost := far
	found := false
	places := t.spots
	if l.of == aPart {
		places = append([]spot{{off: geom.Pt(0, -nearby-capHeight*small), align: Center}}, places...)
	}
	for _, s := range places {
		if s.away >= cost {
			break // farther ones cost more still
		}
		text := Text{At: l.at.Add(s.off), String: form, Size: small, Bold: l.bold, Align: s.align}
		if !t.fits(text, within) {
			continue
		}
		if s.away == 0 {
			return text, s, true
		}
		n, ok := t.room.Leads(leader(l.at, s))
		if c := s.away + perLine*float64(n); ok && c < cost {
			best, where, cost, found = text, s, c, true
		}
	}
	return best, where, found
}

// leader is the line from a point to its label.
func leader(at geom.Point, s spot) geom.Edge {
	return geom.Line(at.Add(s.end.Unit().Scale(leadFrom)), at.Add(s.end))
}

// fits reports whether lettering lies within a box and covers nothing.
func (t *tile) fits(text Text, within geom.Box) bool {
	b := textBox(text)
	return within.Holds(b.Min) && within.Holds(b.Max) && t.room.Free(geom.Rect(b))
}

// apart in mm is kept between lettering and what is beside it: a third of the
// letters' height, less than which runs together in print.
const apart = 0.5

// wordsApart in mm is kept between pieces of lettering side by side, twice the
// width of a space, so that two numbers aren't read as one.
const wordsApart = 1.5

// put writes lettering of the drawing's coordinates on the page and keeps its
// room.
func (t *tile) put(text Text) {
	b := textBox(text)
	b.Min.X, b.Max.X = b.Min.X-(wordsApart-apart), b.Max.X+(wordsApart-apart)
	t.room.Take(apart, geom.Rect(b))
	text.At = t.on(text.At)
	t.page.text(text)
}

// lead draws a leader, which comes before the drawing's lines so that it lies
// under them.
func (t *tile) lead(at geom.Point, s spot) {
	e := leader(at, s)
	t.room.Take(apart, line(e.A, e.B))
	t.leaders = append(t.leaders, Stroke{Pen: penLeader, Contour: moved(line(e.A, e.B), t.shift)})
}

// labels writes all that is said about places in the tile's cell.
func (t *tile) labels() {
	within := t.inside()
	for i, l := range t.about {
		if t.homes[i] == t.row*t.l.Cols+t.col && !t.placeLabel(l, within) {
			t.said.left++
		}
	}
}

// inside is the cell without the scales along its sides.
func (t *tile) inside() geom.Box { return t.cell.Expand(-tickLong - apart) }

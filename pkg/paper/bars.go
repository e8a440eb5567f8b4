package paper

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// A bar runs over as many tiles as it can, to measure how they were put
// together: drawn as a ladder of filled and empty steps, so that nobody takes
// it for a line to cut. It is broken where a line of the drawing crosses it.
type bar struct {
	from, to geom.Point // of its lower or left side
	in       geom.Point // to its other side
	step     float64
}

// barWidth in mm is that of a bar's steps.
const barWidth = 1.2

// The lengths in mm of a bar's steps and what its ends are multiples of: a
// rule's own numbers.
const (
	stepMM, wholeMM     = 50.0, 10.0
	stepInch, wholeInch = 2 * unit.MMPerInch, unit.MMPerInch
)

func (o Options) inches() bool { return o.Units == unit.Inch }

func (b bar) length() float64 { return b.from.Dist(b.to) }

func (b bar) up() bool { return b.in.X != 0 }

// across is where a bar lies on the other axis.
func (b bar) across() float64 {
	if b.up() {
		return b.from.X
	}
	return b.from.Y
}

// along is a point's place along a bar's axis.
func (b bar) along(p geom.Point) float64 {
	if b.up() {
		return p.Y
	}
	return p.X
}

func (b bar) box() geom.Box { return geom.Box{Min: b.from, Max: b.to.Add(b.in)} }

// spanOf is how far a box reaches along a bar's axis.
func (b bar) spanOf(h geom.Box) span { return span{from: b.along(h.Min), to: b.along(h.Max)} }

// reaches reports whether a bar is in the first and last cell of its lane.
func (b bar) reaches(l lane) bool {
	lo, hi := b.along(b.from), b.along(b.to)
	return lo < hi && lo <= b.along(l.first.Max)-barClear && hi >= b.along(l.last.Min)+barClear
}

// cost is what a bar crosses: lines, and more for those that run along it, in
// its steps.
func (b bar) cost(hits []span) float64 {
	lo, hi := b.along(b.from)-barApart, b.along(b.to)+barApart
	sum := 0.0
	for _, h := range hits {
		if run := math.Min(h.to, hi) - math.Max(h.from, lo); run >= 0 {
			sum += perCrossing * (1 + run/perRun)
		}
	}
	return sum
}

// between is the longest whole number of steps within lo and hi that begins on
// a whole number.
func between(lo, hi, whole, step float64) (from, to float64) {
	from = math.Ceil(lo/whole) * whole
	return from, from + math.Floor((hi-from)/step)*step
}

// parts are the stretches of one step that no line crosses.
func (b bar) parts(from, to float64, hits []span) []span {
	var list []span
	for _, h := range hits {
		if h.to+barGap <= from || h.from-barGap >= to {
			continue
		}
		if h.from-barGap > from {
			list = append(list, span{from, h.from - barGap})
		}
		from = math.Max(from, h.to+barGap)
	}
	if from < to {
		list = append(list, span{from, to})
	}
	return list
}

// bars draws what the window shows of the long bars, and names them.
func (t *tile) bars() {
	for i, b := range t.sheets.bars {
		hits := t.sheets.hits(b, 0, t.sheets.bars[:i])
		n := int(math.Round(b.length() / b.step))
		lo := b.along(b.from)
		for k := range n {
			for _, p := range b.parts(lo+float64(k)*b.step, lo+float64(k+1)*b.step, hits) {
				box := barAt(b.up(), p.from, p.to, b.across(), b.step).box()
				t.draw(penBar, geom.Rect(box))
				if k%2 == 0 {
					t.darken(box)
				}
			}
		}
		for _, end := range []geom.Point{b.from, b.to} {
			t.draw(penCross, line(end.Sub(b.in.Scale(1.5)), end.Add(b.in.Scale(2.5))))
		}
		t.room.Take(apart, geom.Rect(b.box().Expand(apart)))
	}
	for _, b := range t.sheets.bars {
		t.nameBar(b)
	}
}

// darken fills what the window shows of a box.
func (t *tile) darken(b geom.Box) {
	b.Min = geom.Pt(math.Max(b.Min.X, t.window.Min.X), math.Max(b.Min.Y, t.window.Min.Y))
	b.Max = geom.Pt(math.Min(b.Max.X, t.window.Max.X), math.Min(b.Max.Y, t.window.Max.Y))
	if b.Min.X < b.Max.X && b.Min.Y < b.Max.Y {
		t.page.fill(grayBar, moved(geom.Rect(b), t.shift))
	}
}

// nameBar says a bar's length at its ends that lie in the tile's cell: close to
// the end, or farther along it, on either side of it, where it covers nothing.
func (t *tile) nameBar(b bar) {
	const along = 4.0 // mm from one place to the next
	length := t.o.length(b.length())
	dir := b.to.Sub(b.from).Unit()
	for _, end := range []struct {
		at  geom.Point
		way geom.Point
		as  Align
	}{{b.from, dir, Left}, {b.to, dir.Scale(-1), Right}} {
		if !t.cell.Holds(end.at) {
			continue
		}
		for _, say := range []string{"assembly check: " + length + " between the end marks", "check: " + length, length} {
			if t.nameAlong(b, say, end.at.Add(end.way.Scale(2)), end.way.Scale(along), end.as) {
				break
			}
		}
	}
}

// nameAlong writes a bar's name at the first free place along it.
func (t *tile) nameAlong(b bar, say string, at, by geom.Point, as Align) bool {
	in := b.to.Sub(b.from).Unit()
	sides := barSides(b, in.Left())
	for within := t.inside(); within.Holds(at); at = at.Add(by) {
		for _, off := range sides {
			text := Text{At: at.Add(off), String: say, Size: small, Angle: in.Angle(), Align: as}
			if t.fits(text, within) {
				t.put(text)
				return true
			}
		}
	}
	return false
}

// barSides are the offsets of a name's base line to both sides of a bar.
func barSides(b bar, left geom.Point) []geom.Point {
	const off = 2.5
	width := b.in.Dot(left)
	return []geom.Point{
		left.Scale(off + math.Max(0, width)),
		left.Scale(math.Min(0, width) - off - capHeight*small),
	}
}

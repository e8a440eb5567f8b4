package paper

import (
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// A lane is a run of cells along which a bar can be laid.
type lane struct {
	first, last geom.Box // its cells at the lower or left end and at the other
	up          bool     // runs in y
}

// lanes are the longest runs of cells that are there, of all rows or columns.
func (s *sheets) lanes(up bool) []lane {
	lines, places := s.l.Rows, s.l.Cols
	if up {
		lines, places = places, lines
	}
	cell := func(line, place int) (row, col int) {
		if up {
			return s.l.Rows - 1 - place, line
		}
		return line, place
	}
	var list []lane
	best := 1
	for i := range lines {
		for a := 0; a < places; a++ {
			b := a
			for b < places && s.l.Has(cell(i, b)) {
				b++
			}
			if b-a > best {
				best, list = b-a, nil
			}
			if b-a == best && best > 1 {
				list = append(list, lane{first: s.l.Cell(cell(i, a)), last: s.l.Cell(cell(i, b-1)), up: up})
			}
			a = b
		}
	}
	return list
}

// A span is a stretch along a bar where something is drawn.
type span struct{ from, to float64 }

const (
	// barClear in mm is kept between a bar's ends and the cells' sides, past the
	// scales, their numbers and the crosses, and barAside between its length and
	// them.
	barClear, barAside = 14.0, 10.0
	// barApart in mm is kept between a bar and what runs beside it.
	barApart = 3.0
	// barGap in mm is left out of a bar before and after a line that crosses it,
	// so that the line is seen.
	barGap = 0.8
	// barShorter is by how many steps at each end a bar may be shorter than
	// there is room for, to keep off lines, and barKept what share of it stays.
	barShorter, barKept = 2, 0.75
	// perCrossing is how many steps shorter a bar may be to cross one line less.
	perCrossing = 1.5
	// perRun in mm counts as one more line, where a line runs along a bar.
	perRun = 5.0
)

// longBars lays a bar along the longest row and the longest column of pages,
// where it crosses as little of the drawing as it can.
func (s *sheets) longBars() []bar {
	var bars []bar
	for _, up := range []bool{false, true} {
		best, found := math.Inf(1), bar{}
		for _, l := range s.lanes(up) {
			if b, cost := s.bestBar(l, bars, best); cost < best {
				best, found = cost, b
			}
		}
		if !math.IsInf(best, 1) {
			bars = append(bars, found)
		}
	}
	return bars
}

// bestBar is the bar that costs least in one lane, if that is below most: the
// places across are tried in order, from below, or from the right, away from
// the sheets' labels.
func (s *sheets) bestBar(l lane, others []bar, most float64) (bar, float64) {
	step, whole := s.steps()
	lo, hi := l.first.Min.X, l.last.Max.X
	from, to := l.first.Min.Y+barAside, l.first.Max.Y-barAside
	shift := whole / 4 // finer than which hardly saves a crossing
	if l.up {
		lo, hi = l.first.Min.Y, l.last.Max.Y
		from, to = l.first.Max.X-barAside, l.first.Min.X+barAside
		shift = -shift
	}
	lo, hi = between(lo+barClear, hi-barClear, whole, step)
	var best bar
	for k := 0; float64(k)*shift*shift <= (to-from)*shift; k++ {
		b := barAt(l.up, lo, hi, from+float64(k)*shift, step)
		hits := s.hits(b, barApart, others)
		for _, cut := range shortenings() {
			short := barAt(l.up, lo+float64(cut[0])*step, hi-float64(cut[1])*step, b.across(), step)
			if !short.reaches(l) || short.length() < barKept*(hi-lo) {
				continue
			}
			if c := short.cost(hits) + float64(cut[0]+cut[1]); c < most {
				best, most = short, c
			}
		}
	}
	return best, most
}

// steps are the length of a bar's steps, and what its ends are multiples of.
func (s *sheets) steps() (step, whole float64) {
	if s.o.inches() {
		return stepInch, wholeInch
	}
	return stepMM, wholeMM
}

// shortenings are the steps to leave out at both ends, fewest first.
func shortenings() [][2]int {
	var list [][2]int
	for sum := range 2*barShorter + 1 {
		for a := range sum + 1 {
			if a <= barShorter && sum-a <= barShorter {
				list = append(list, [2]int{a, sum - a})
			}
		}
	}
	return list
}

func barAt(up bool, from, to, across, step float64) bar {
	if up {
		return bar{from: geom.Pt(across, from), to: geom.Pt(across, to), in: geom.Pt(barWidth, 0), step: step}
	}
	return bar{from: geom.Pt(from, across), to: geom.Pt(to, across), in: geom.Pt(0, barWidth), step: step}
}

// hits are the stretches of a bar, from its start, where something is drawn
// within a distance of it.
func (s *sheets) hits(b bar, near float64, others []bar) []span {
	box := b.box().Expand(near)
	var list []span
	take := func(h geom.Box) { list = append(list, b.spanOf(h)) }
	for _, l := range s.d.Lines {
		for _, p := range l.Contour.Within(box) {
			take(p.Contour.Bounds())
		}
	}
	for _, p := range s.d.Points {
		if q := pointBox(p); q.Meets(box) {
			take(q)
		}
	}
	for _, o := range others {
		if q := o.box(); q.Meets(box) {
			take(q)
		}
	}
	slices.SortStableFunc(list, func(a, b span) int {
		switch {
		case a.from < b.from:
			return -1
		case a.from > b.from:
			return 1
		}
		return 0
	})
	return list
}

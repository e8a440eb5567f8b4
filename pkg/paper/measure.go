package paper

import (
	"math"
	"slices"
	"strconv"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// same is the distance in mm within which two places or radii are dimensioned
// as one: a tenth of what is written.
const same = 0.001

const (
	// together in mm is how near to one another centres have one label: their
	// crosses are one in print.
	together = 0.5
	// sameRadius in mm is how near to one another arcs of one radius have one
	// label: both ends of a slot, say.
	sameRadius = 12.0
)

// says reports whether a drawing has a label already that is as good as a new
// one: the same near by, or the same centre.
func (d *Drawing) says(say string, at geom.Point, near float64) bool {
	return slices.ContainsFunc(d.labels, func(l caption) bool {
		close := l.at.Near(at, near)
		if l.of == aCentre {
			return l.forms[0] == say || close && near == together
		}
		return close && l.forms[0] == say
	})
}

// Measure dimensions lines for laying out without a printer: the places where
// their straights and arcs meet or end, numbered, and the arcs' centres with
// their radii. They are labels of the drawing, and all of them are in two
// tables, which say what they are of. Numbers go on from those before.
func (d *Drawing) Measure(of string, lines []geom.Contour, u unit.System) {
	m := &measured{d: d, u: u, of: of}
	for _, c := range lines {
		m.contour(c)
	}
	m.arcTable()
	m.pointTable()
	m.label()
	d.points += len(m.points)
}

// measured collects what is dimensioned.
type measured struct {
	d      *Drawing
	u      unit.System
	of     string
	points []geom.Point
	arcs   []arc
	radii  []centre
}

// An arc is a stretch of a circle from one numbered point to another.
type arc struct {
	from, to int // points, counted from 0; -1 for a full circle
	center   geom.Point
	radius   float64
	mid      geom.Point
	ccw      bool
}

// A centre is a point with the radii of the arcs about it.
type centre struct {
	at    geom.Point
	radii []float64
}

// contour takes in one line. Edges that run on along one circle or straight
// line are one.
func (m *measured) contour(c geom.Contour) {
	n := c.Len()
	if n == 0 {
		return
	}
	start := 0
	if c.Closed {
		for start < n && continues(c.Edge((start+n-1)%n), c.Edge(start)) {
			start++
		}
	}
	if start == n {
		m.circle(c.Edge(0))
		return
	}
	from := m.point(c.Edge(start).A)
	for i := 0; i < n; {
		first := c.Edge((start + i) % n)
		length, k := first.Length(), 1
		for i+k < n && continues(c.Edge((start+i+k-1)%n), c.Edge((start+i+k)%n)) {
			length += c.Edge((start + i + k) % n).Length()
			k++
		}
		to := m.point(c.Edge((start + i + k - 1) % n).B)
		if !first.IsLine() {
			m.arc(arc{
				from: from, to: to, center: first.Center(), radius: first.Radius(),
				mid: first.At(length / 2 / first.Length()), ccw: first.Bulge > 0,
			})
		}
		from = to
		i += k
	}
}

// continues reports whether f runs on along e's line or circle.
func continues(e, f geom.Edge) bool {
	switch {
	case e.IsLine() != f.IsLine():
		return false
	case e.IsLine():
		return math.Abs(e.Tangent(1).Cross(f.Tangent(0)))*f.Length() < same && e.Tangent(1).Dot(f.Tangent(0)) > 0
	}
	return e.Bulge*f.Bulge > 0 && e.Center().Near(f.Center(), same) && math.Abs(e.Radius()-f.Radius()) < same
}

func (m *measured) circle(e geom.Edge) {
	if !e.IsLine() {
		m.arc(arc{from: -1, to: -1, center: e.Center(), radius: e.Radius(), mid: e.Mid(), ccw: true})
	}
}

// point is the number of a place, which is new or known.
func (m *measured) point(p geom.Point) int {
	for i, q := range m.points {
		if p.Near(q, same) {
			return i
		}
	}
	m.points = append(m.points, p)
	return len(m.points) - 1
}

func (m *measured) arc(a arc) {
	m.arcs = append(m.arcs, a)
	for i := range m.radii {
		if c := &m.radii[i]; c.at.Near(a.center, same) {
			if !slices.ContainsFunc(c.radii, func(r float64) bool { return math.Abs(r-a.radius) < same }) {
				c.radii = append(c.radii, a.radius)
			}
			return
		}
	}
	m.radii = append(m.radii, centre{at: a.center, radii: []float64{a.radius}})
}

func (m *measured) arcTable() {
	t := Table{Title: m.title("arcs"), Head: []string{"radius", "centre (x, y)", "points", "turning"}}
	for _, a := range m.arcs {
		row := []string{"R " + Length(a.radius, m.u), Place(a.center, m.u), "full circle", "\u00d8 " + Length(2*a.radius, m.u)}
		if a.from >= 0 {
			row[2], row[3] = m.number(a.from)+" to "+m.number(a.to), "clockwise"
			if a.ccw {
				row[3] = "counter-clockwise"
			}
		}
		t.Rows = append(t.Rows, row)
	}
	m.d.Tables = append(m.d.Tables, t)
}

// pointTable lists the points.
func (m *measured) pointTable() {
	t := Table{Title: m.title("points where lines and arcs meet or end"), Head: []string{"point", "(x, y)"}}
	for i, p := range m.points {
		t.Rows = append(t.Rows, []string{m.number(i), Place(p, m.u)})
	}
	m.d.Tables = append(m.d.Tables, t)
}

// title is a table's, with what it is of.
func (m *measured) title(what string) string { return m.of + ": " + what }

// number is a point's, from 1.
func (m *measured) number(i int) string { return strconv.Itoa(m.d.points + i + 1) }

// label writes on the drawing: centres first, since they are found nowhere
// else, then radii, then points.
func (m *measured) label() {
	all := m.d.Bounds()
	for _, c := range m.radii {
		// A centre off the part is in the table alone, and one of several that lie
		// together, or are written alike, has the label of all.
		say := "centre " + Place(c.at, m.u)
		if all.Expand(-crossArm).Holds(c.at) && !m.d.says(say, c.at, together) {
			m.d.Points = append(m.d.Points, c.at)
			m.d.labels = append(m.d.labels, caption{at: c.at, forms: []string{say}, of: aCentre})
		}
	}
	for _, a := range m.arcs {
		say := "R " + Length(a.radius, m.u)
		if a.from < 0 {
			say = "\u00d8 " + Length(2*a.radius, m.u)
		}
		if !m.d.says(say, a.mid, sameRadius) {
			m.d.Label(a.mid, false, say)
		}
	}
	for i, p := range m.points {
		m.d.Points = append(m.d.Points, p)
		m.d.Label(p, false, m.number(i)+" "+Place(p, m.u), m.number(i))
	}
}

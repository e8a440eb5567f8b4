package paper

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// same is the distance in mm within which two places or radii are dimensioned
// as one: a tenth of what is written.
const same = 0.001

// Measure dimensions lines for laying out without a printer: the places where
// their straights and arcs meet or end, numbered, and the arcs' centres with
// their radii. They are labels of the drawing, and all of them are in two
// tables.
func (d *Drawing) Measure(lines []geom.Contour, u unit.System) {
	m := &measured{d: d, u: u}
	for _, c := range lines {
		m.contour(c)
	}
	m.arcTable()
	m.pointTable()
	m.label()
}

// measured collects what is dimensioned.
type measured struct {
	d      *Drawing
	u      unit.System
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
	t := Table{Title: "Arcs", Head: []string{"radius", "centre (x, y)", "from point", "to point", "turning"}}
	for _, a := range m.arcs {
		row := []string{"R " + Length(a.radius, m.u), Place(a.center, m.u), "full circle", "", "Ø " + Length(2*a.radius, m.u)}
		if a.from >= 0 {
			row[2], row[3], row[4] = fmt.Sprint(a.from+1), fmt.Sprint(a.to+1), "clockwise"
			if a.ccw {
				row[4] = "counter-clockwise"
			}
		}
		t.Rows = append(t.Rows, row)
	}
	m.d.Tables = append(m.d.Tables, t)
}

// pointTable lists the points, several side by side.
func (m *measured) pointTable() {
	const abreast = 3
	t := Table{Title: "Points where lines and arcs meet or end, from the motif's origin, x to the right and y up"}
	for range abreast {
		t.Head = append(t.Head, "point", "(x, y) in "+m.u.Name())
	}
	deep := (len(m.points) + abreast - 1) / abreast
	for i := range deep {
		var row []string
		for k := i; k < deep*abreast; k += deep {
			if k < len(m.points) {
				row = append(row, fmt.Sprint(k+1), Place(m.points[k], m.u))
			} else {
				row = append(row, "", "")
			}
		}
		t.Rows = append(t.Rows, row)
	}
	m.d.Tables = append(m.d.Tables, t)
}

// label writes on the drawing: centres first, since they are found nowhere
// else, then radii, then points.
func (m *measured) label() {
	all := m.d.Bounds()
	for _, c := range m.radii {
		// A centre off the part is in the table alone.
		if !all.Expand(-crossArm).Holds(c.at) {
			continue
		}
		m.d.Points = append(m.d.Points, c.at)
		m.d.Label(c.at, false, "centre "+Place(c.at, m.u), "centre")
	}
	for _, a := range m.arcs {
		if a.from < 0 {
			m.d.Label(a.mid, false, "\u00d8 "+Length(2*a.radius, m.u))
		} else {
			m.d.Label(a.mid, false, "R "+Length(a.radius, m.u))
		}
	}
	for i, p := range m.points {
		m.d.Points = append(m.d.Points, p)
		m.d.Label(p, false, fmt.Sprintf("%d %s", i+1, Place(p, m.u)), fmt.Sprint(i+1))
	}
}

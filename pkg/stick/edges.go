package stick

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/paper"
	"strapwork/pkg/table"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// alike is within what in mm the marks of edges may differ that have one stick: what is
// read back of a drawing, and far less than a knife holds.
const alike = 0.01

// An edge is a kind's edge with its passings.
type edge struct {
	name     string
	passings []Row
	axes     []float64
}

// OfTable are the sticks of a table's edges: one for all that have the same passings. cuts
// are its kinds of sections, with what they run on past their edges; lost are passings
// whose groove has no edge on the joint.
func OfTable(t table.Table, cuts []table.Cut, p Params) (sticks []Stick, lost []string) {
	var groups []edge
	for k, kind := range t.Kinds {
		for _, side := range [2]work.Side{work.Left, work.Right} {
			e := edge{name: kind.Name + "." + side.String(), axes: axes(t, k, side)}
			for _, q := range t.Of(k, side) {
				row, ok := rowOf(t, cuts[k], q)
				if !ok {
					lost = append(lost, fmt.Sprintf("%s at %s", e.name, unit.Len(q.Y).In(p.Units)))
				}
				row.Number = len(e.passings) + 1
				e.passings = append(e.passings, row)
			}
			groups = add(groups, e)
		}
	}
	for i, g := range groups {
		s := g.stick(t, p)
		if len(groups) > 1 {
			s.Name = fmt.Sprintf("%s-%d", s.Name, i+1)
		}
		s.Table = s.table(p)
		sticks = append(sticks, s)
	}
	return sticks, lost
}

// add adds an edge to those that it is alike with; one that nothing passes has no stick.
func add(groups []edge, e edge) []edge {
	if len(e.passings) == 0 {
		return groups
	}
	i := slices.IndexFunc(groups, func(g edge) bool {
		return slices.EqualFunc(g.passings, e.passings, func(a, b Row) bool {
			near := func(u, v float64) bool { return math.Abs(u-v) <= alike }
			return near(a.Middle, b.Middle) && near(a.Wall[0], b.Wall[0]) && near(a.Wall[1], b.Wall[1]) && slices.EqualFunc(a.Strips, b.Strips, near)
		})
	})
	if i < 0 {
		i = len(groups)
		groups = append(groups, edge{passings: slices.Clone(e.passings)})
	}
	g := &groups[i]
	for k := range g.passings {
		g.passings[k].Edges = append(g.passings[k].Edges, e.name)
		if q := e.passings[k]; math.Abs(q.Angle) > math.Abs(g.passings[k].Angle) {
			g.passings[k].Angle = q.Angle
		}
	}
	for _, y := range e.axes {
		if !slices.ContainsFunc(g.axes, func(o float64) bool { return math.Abs(o-y) <= alike }) {
			g.axes = append(g.axes, y)
		}
	}
	return groups
}

// stick is what marks a group of edges.
func (g edge) stick(t table.Table, p Params) Stick {
	s := Stick{Name: "story-stick", Title: "STORY STICK", Length: t.Table.Width, Ends: [2]string{"FRONT", "BACK"}, Rows: g.passings}
	s.Says = []string{
		"**The story stick:** lay it along the joint on either side, face up, its FRONT end flush with the front edge, and knife from its marks; or hold the cut grooves and the laid strips to them.",
		"Long marks are the groove's edges, the longest its middle, short ones the strips' sides, and the dashed line is the frame's axis. A mark that would lie on another begins behind it.",
		"With a machine, measure from what it takes its Y zero from.",
	}
	number := func(mm float64) string { return paper.Number(mm, p.Units) }
	for _, y := range g.axes {
		s.Marks = append(s.Marks, Mark{y, Axis})
		s.Labels = append(s.Labels, Label{y, []string{"AXIS", number(y)}})
	}
	for _, r := range g.passings {
		s.Marks = append(s.Marks, Mark{r.Wall[0], Wall}, Mark{r.Wall[1], Wall}, Mark{r.Middle, Centre})
		for _, y := range r.Strips {
			s.Marks = append(s.Marks, Mark{y, Strip})
		}
		angle := unit.Decimal(r.Angle*180/math.Pi, 1) + " deg"
		s.Labels = append(s.Labels, Label{r.Middle, []string{fmt.Sprint(r.Number), number(r.Middle), angle}})
	}
	slices.SortStableFunc(s.Labels, func(a, b Label) int { return cmp.Compare(a.At, b.At) })
	return s
}

// axes are where the frame's axis lies on an edge of a kind: y of the stations at which it is
// grooved.
func axes(t table.Table, kind int, side work.Side) (list []float64) {
	for _, s := range t.Stations {
		for _, i := range s.Sections {
			next := i - 1
			if side == work.Right {
				next = i + 1
			}
			on := s.Edge && s.Side == side || slices.Contains(s.Sections, next)
			if t.Sections[i].Kind == kind && on && !slices.Contains(list, s.At.Y) {
				list = append(list, s.At.Y)
			}
		}
	}
	return list
}

// rowOf measures a passing: where its groove's edges and its strips' sides meet the joint,
// exactly, on curves too; reports whether all do.
func rowOf(t table.Table, c table.Cut, q table.Passing) (r Row, ok bool) {
	r = Row{Middle: q.Y, Angle: q.Angle}
	x := 0.0
	if q.Side == work.Right {
		x = t.Kinds[q.Kind].Length
	}
	line := around(t, c, q)
	ok = line.Len() > 0
	meet := func(o float64) float64 {
		y, met := meets(line, o, x, q)
		ok = ok && met
		return y
	}
	half := t.Groove / 2
	r.Wall = [2]float64{meet(-half), meet(half)}
	total := 0.0
	for _, s := range q.Strips {
		total += s.Thickness
	}
	at := -total / 2
	for i, s := range q.Strips {
		if i == 0 {
			r.Strips = append(r.Strips, meet(at))
		}
		at += s.Thickness
		r.Strips = append(r.Strips, meet(at))
	}
	return r, ok
}

// around is the strand about a passing, as it runs with x.
func around(t table.Table, c table.Cut, q table.Passing) geom.Contour {
	i := slices.IndexFunc(c.Of, func(o table.Place) bool { return o.Stretch == q.Stretch })
	if i < 0 {
		return geom.Contour{}
	}
	s := c.Motif.Strands[i]
	at := c.Runs[i][0]
	if q.AtEnd {
		at = s.Length() - c.Runs[i][1]
	}
	// All of the groove's width passes the joint within this.
	reach := t.Groove*math.Abs(math.Tan(q.Angle)) + 2*t.Groove
	line := s.Contour.Sub(math.Max(0, at-reach), math.Min(s.Length(), at+reach))
	if _, along := s.Contour.At(at); along.X < 0 {
		line = line.Reverse()
	}
	return line
}

// meets is where the parallel of a line at an offset to its left, towards the back, meets
// x, nearest to where a straight one would.
func meets(line geom.Contour, offset, x float64, q table.Passing) (best float64, ok bool) {
	want := q.Y + offset/math.Cos(q.Angle)
	box := line.Bounds().Expand(math.Abs(offset) + motif.Joint)
	across := geom.Line(geom.Pt(x, box.Min.Y), geom.Pt(x, box.Max.Y))
	for _, e := range line.Parallel(offset, geom.Mitre).Edges() {
		for _, m := range geom.Crossings(e, across, geom.Coincident) {
			if !ok || math.Abs(m.At.Y-want) < math.Abs(best-want) {
				best, ok = m.At.Y, true
			}
		}
	}
	return best, ok
}

package report

import (
	"math"
	"slices"

	"strapwork/pkg/build"
	"strapwork/pkg/table"
	"strapwork/pkg/work"
)

// weaveFacts is what passes the joints of a table, over and under in all its arrangements, and
// these.
type weaveFacts struct {
	Breaks       []string // where over and under fail to alternate
	Edges        []string // those that meet others: "leaf.left"
	Rows         []passingFacts
	Strips       bool // the job names them
	Arranged     num  // how many arrangements there are
	Arrangements []arrangementFacts
}

// passingFacts are passings of edges that meet.
type passingFacts struct {
	Y      num
	Angle  num // degrees from square to the joint, positive where y grows with x
	Strips []string
	Next   []string // by edge: "over" or "under" at the next crossing beyond it; "" where it has no such passing
}

// arrangementFacts is an arrangement that there is room to say.
type arrangementFacts struct {
	Name, Picture string // its path; "" for none
	Length        num
	Sections      []string
}

// ruleBreak is the rule of findings on over and under.
const ruleBreak = "weave-break"

// alikePassing is how far passings of one row may lie apart, mm: they are joints that meet.
const alikePassing = 0.005

func newWeaveFacts(r build.Result, found []findingJSON) *weaveFacts {
	t := r.Table
	if t == nil {
		return nil
	}
	f := &weaveFacts{Arranged: num(t.Arranged), Strips: len(r.Job.Inlay.Strips) > 1}
	for _, d := range found {
		if d.Rule == ruleBreak {
			f.Breaks = append(f.Breaks, d.Message)
		}
	}
	for _, p := range t.Passings {
		f.add(t, p)
	}
	slices.SortStableFunc(f.Rows, func(a, b passingFacts) int {
		if a.Y < b.Y {
			return -1
		}
		return 1
	})
	for i := range f.Rows {
		f.Rows[i].Next = append(f.Rows[i].Next, make([]string, len(f.Edges)-len(f.Rows[i].Next))...)
	}
	for i, a := range t.Shown(table.MostShown) {
		one := arrangementFacts{Name: t.Called(a), Length: num(t.LengthOf(a)), Sections: each(t.Used(a), t.NameOf)}
		if path := build.ArrangementPath(i + 1); hasFile(r, path) {
			one.Picture = path
		}
		f.Arrangements = append(f.Arrangements, one)
	}
	return f
}

// add adds a passing to the row of those that it meets, in the column of its edge.
func (f *weaveFacts) add(t *table.Table, p table.Passing) {
	name := t.Kinds[p.Kind].Name + "." + p.Side.String()
	edge := slices.Index(f.Edges, name)
	if edge < 0 {
		edge, f.Edges = len(f.Edges), append(f.Edges, name)
	}
	strips := each(p.Strips, func(s work.Strip) string { return s.Material })
	const sameAngle = 0.05 // degrees: as they are printed
	angle := p.Angle * 180 / math.Pi
	row := slices.IndexFunc(f.Rows, func(o passingFacts) bool {
		return math.Abs(float64(o.Y)-p.Y) < alikePassing && math.Abs(float64(o.Angle)-angle) < sameAngle && slices.Equal(o.Strips, strips) && (len(o.Next) <= edge || o.Next[edge] == "")
	})
	if row < 0 {
		row, f.Rows = len(f.Rows), append(f.Rows, passingFacts{Y: num(p.Y), Angle: num(angle), Strips: strips})
	}
	next := &f.Rows[row].Next
	for len(*next) <= edge {
		*next = append(*next, "")
	}
	(*next)[edge] = map[bool]string{true: "over", false: "under"}[p.Over]
}

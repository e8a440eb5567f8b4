package stick

import (
	"fmt"
	"strings"

	"strapwork/pkg/paper"
)

// A Station is where a panel lies that is stepped along a rail, from the rail's zero end.
type Station struct {
	SetUp int // counted from 1
	Panel string
	At    float64    // of the hole that it is pinned in
	Sides [2]float64 // of the panel
}

// OfSteps is the stick of a rail: where every panel is pinned and where its sides lie. It is
// for printing: one cut on the rail's own machine would share the error that it is to show.
func OfSteps(length float64, stations []Station, p Params) Stick {
	s := Stick{
		Name: "story-stick-rail", Title: "STORY STICK OF THE RAIL", Length: length, Ends: [2]string{"ZERO END", ""}, Paper: true,
		Says: []string{
			"**The story stick of the rail:** lay it along the rail, its zero end flush with the rail's, and hold each station to it before a cut, the last one first. Long marks are a panel's sides, the longest the middle of the hole that it is pinned in.",
			"Print it, or mark a batten from the table with a steel rule, all from the zero end: one cut on the machine that cut the rail shares its error of scale.",
		},
	}
	number := func(mm float64) string { return paper.Number(mm, p.Units) }
	table := paper.Table{Title: s.Name + ": from the zero end", Head: []string{"set-up", "panel", "pin", "sides"}}
	at := map[float64]int{} // labels by place
	for _, q := range stations {
		for _, m := range []Mark{{q.At, Centre}, {q.Sides[0], Wall}, {q.Sides[1], Wall}} {
			if m.At > off && m.At < length-off { // a side may stand out beyond the rail
				s.Marks = append(s.Marks, m)
			}
		}
		table.Rows = append(table.Rows, []string{fmt.Sprint(q.SetUp), q.Panel, number(q.At), number(q.Sides[0]) + " to " + number(q.Sides[1])})
		says := fmt.Sprintf("%s %d", q.Panel, q.SetUp)
		if i, known := at[q.At]; known {
			s.Labels[i].Lines[0] = strings.Join([]string{s.Labels[i].Lines[0], says}, ", ")
			continue
		}
		at[q.At] = len(s.Labels)
		s.Labels = append(s.Labels, Label{q.At, []string{says, number(q.At) + " " + p.Units.String()}})
	}
	s.Table = table
	return s
}

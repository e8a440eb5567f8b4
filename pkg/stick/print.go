package stick

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/paper"
	"strapwork/pkg/unit"
)

// Pattern is a stick in one piece to be printed at full size, with a table of what it bears.
func Pattern(s Stick, p Params) paper.Drawing {
	whole, _ := Draw(s, p)
	d := paper.FromSheet(whole)
	d.Title = s.Name
	d.Pieces = []paper.Piece{{Name: s.Name, Drawn: 1}}
	d.Tables = append(d.Tables, s.Table)
	d.Notes = append(d.Notes, s.Says...)
	return d
}

// table lists what a joint's stick bears.
func (s Stick) table(p Params) paper.Table {
	t := paper.Table{Title: s.Name + ": from the front edge", Head: []string{"no.", "edges", "middle", "groove", "strips' sides", "angle"}}
	number := func(mm float64) string { return paper.Number(mm, p.Units) }
	for _, r := range s.Rows {
		var strips []string
		for _, y := range r.Strips {
			strips = append(strips, number(y))
		}
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(r.Number), strings.Join(r.Edges, ", "), number(r.Middle), number(r.Wall[0]) + " to " + number(r.Wall[1]),
			strings.Join(strips, ", "), unit.Decimal(r.Angle*180/math.Pi, 1) + "\u00b0",
		})
	}
	return t
}

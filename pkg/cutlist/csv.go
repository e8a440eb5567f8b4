package cutlist

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"strapwork/pkg/unit"
)

// Columns are the head of the list as a table.
const Columns = "piece,strand,strip,material,thickness_mm,left_mm,middle_mm,right_mm,end1,end1_deg,end2,end2_deg,bend_mm,section"

// CSV is the list as a table, a row for each piece: lengths in mm without allowance,
// degrees counter-clockwise from the strand's direction to the cut, all to six places; of a
// table the section.
// RFC 4180, but for lines that end as elsewhere here.
func (l List) CSV() []byte {
	rows := [][]string{strings.Split(Columns, ",")}
	for _, p := range l.Pieces {
		row := []string{
			strconv.Itoa(p.Number), p.Name, strconv.Itoa(p.Strip), p.Material,
			places(p.Thickness), places(p.Left), places(p.Middle), places(p.Right),
		}
		for _, e := range p.Ends {
			row = append(row, e.Kind.String(), places(e.Angle*180/math.Pi))
		}
		rows = append(rows, append(row, places(p.Bend), p.Section))
	}
	var b bytes.Buffer
	_ = csv.NewWriter(&b).WriteAll(rows) // to a buffer, which takes everything
	return b.Bytes()
}

// places is a number with six places.
func places(v float64) string {
	const n = 6
	text := unit.Decimal(v, n)
	whole, after, _ := strings.Cut(text, ".")
	return whole + "." + after + strings.Repeat("0", n-len(after))
}

package stick

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// Parts are a stick as it is cut: in one piece, or where that is longer than the bed in as
// many as are needed, to be laid end to end on a straight batten. At each such joint a mark
// on either piece is as far from the other as the bar is long, to be held to a rule. There
// are none where the bed is too narrow.
func Parts(s Stick, p Params) (parts []sheet.Part, left []string) {
	cuts, ok := s.cuts(p)
	if !ok {
		return nil, nil
	}
	n := len(cuts) - 1
	whole, left := draw(s, p, cuts[1:n])
	for i := range n {
		part := sheet.Part{Ply: sheet.Stick, Thickness: p.Thickness, Quantity: 1, Sheet: piece(whole, cuts[i], cuts[i+1])}
		if n > 1 {
			part.Sheet.Name = fmt.Sprintf("%s-part-%d", s.Name, i+1)
			part.Sheet.Title = fmt.Sprintf("%s, part %d of %d: lay them end to end on a straight batten, the marks either side of a joint %s apart", s.Title, i+1, n, unit.Len(p.Bar()).In(p.Units))
		}
		parts = append(parts, part)
	}
	return sheet.Compensated(parts, p.Kerf), left
}

// shortest in mm is a piece that is still worth laying to another.
const shortest = 150

// cuts are where a stick begins, is cut, and ends.
func (s Stick) cuts(p Params) (all []float64, ok bool) {
	if p.Bed == (geom.Point{}) {
		return []float64{0, s.Length}, true
	}
	long, wide := math.Max(p.Bed.X, p.Bed.Y), math.Min(p.Bed.X, p.Bed.Y)
	if wide < Width {
		return nil, false
	}
	if s.Length <= long {
		return []float64{0, s.Length}, true
	}
	for n := math.Ceil(s.Length / long); s.Length/n >= shortest; n++ {
		if all, ok = s.divided(n, long); ok {
			return all, true
		}
	}
	return nil, false
}

// divided cuts a stick in n pieces of about one length, none longer than the bed, clear of
// all marks.
func (s Stick) divided(n, long float64) (all []float64, ok bool) {
	all = []float64{0}
	for i := 1.0; i < n; i++ {
		at, found := s.clearOf(s.Length * i / n)
		if !found {
			return nil, false
		}
		all = append(all, at)
	}
	all = append(all, s.Length)
	for i := range len(all) - 1 {
		if d := all[i+1] - all[i]; d > long || d <= 0 {
			return nil, false
		}
	}
	return all, true
}

// clearOf is the place nearest to another that keeps off all marks.
func (s Stick) clearOf(x float64) (float64, bool) {
	const step, keep = 1.0, 5.0
	for k := 0.0; k < shortest; k += step {
		for _, at := range [...]float64{x - k, x + k} {
			if !slices.ContainsFunc(s.Marks, func(m Mark) bool { return math.Abs(m.At-at) <= keep }) {
				return at, true
			}
		}
	}
	return 0, false
}

// piece is what of a stick lies between two cuts.
func piece(whole sheet.Sheet, from, to float64) sheet.Sheet {
	out := sheet.Sheet{Name: whole.Name, Title: whole.Title}
	for _, l := range whole.Lines {
		if l.Role == sheet.Edge {
			l.Contour = geom.Rect(geom.Box{Min: geom.Pt(from, 0), Max: geom.Pt(to, Width)})
			out.Lines = append(out.Lines, l)
			continue
		}
		if b := l.Contour.Bounds(); b.Min.X >= from && b.Max.X <= to {
			out.Lines = append(out.Lines, l)
		}
	}
	return out
}

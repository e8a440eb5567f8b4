package sheet

import "strapwork/pkg/geom"

// Weld returns c with edges shorter than a speck, twice MinEdge, drawn together,
// so that a machine can follow what is left: see geom.Contour.Welded.
func Weld(c geom.Contour) geom.Contour { return c.Welded(MinEdge) }

// Drawn returns an open line as a machine can draw it, without specks, and
// whether anything is left of it.
func Drawn(c geom.Contour) (geom.Contour, bool) {
	if c.Len() == 0 {
		return c, false
	}
	c = Weld(c)
	return c, c.Len() > 1 || c.Edge(0).Length() >= MinEdge
}

// WithoutFaultyMarks returns s with its marks as a machine can draw them, and
// the faults of those that it can't draw, which are left out.
func WithoutFaultyMarks(s Sheet) (Sheet, Faults) {
	var left Faults
	done := Sheet{Name: s.Name, Title: s.Title, Holes: s.Holes}
	for _, l := range s.Lines {
		if l.Role == Mark {
			var own Faults
			if checkNumbers(&own, l) {
				l.Contour, _ = Drawn(l.Contour)
				checkLine(&own, l)
			}
			if len(own) > 0 {
				left = append(left, own[0])
				continue
			}
		}
		done.Lines = append(done.Lines, l)
	}
	return done, left
}

package setup

// The board that is worked on.

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// boardShade and grainShade are of the board's hue, and so pale that all else is seen on
// them, whatever the wood.
func boardShade(w work.Wood) string { return wood.BoardColor(w).Tint(79, 93, 12).Hex() }
func grainShade(w work.Wood) string { return wood.BoardColor(w).Tint(70, 84, 16).Hex() }

// work draws the board with its grain; nothing where the job has none.
func (d *drawing) work() {
	b := d.j.Board
	if b == nil {
		return
	}
	box := b.Box()
	if d.part() && !d.clipped(&box) {
		return
	}
	d.fill(boardShade(d.j.Wood), lineShade, 1, "board", geom.Rect(box))
	d.fill("", grainShade(d.j.Wood), 0.8, "grain", grain(box, b.Grain)...)
}

// boardRim draws the board's outline over the frame and the panel, which may
// reach beyond it.
func (d *drawing) boardRim() {
	if d.j.Board == nil || d.card {
		return
	}
	s := d.stroke()
	rim := []geom.Contour{geom.Rect(d.j.Board.Box())}
	if d.rail != nil {
		rim = d.rimShown()
	}
	d.p.Fills = append(d.p.Fills, sheet.Fill{
		Loops: rim, Stroke: rimShade, StrokeWidth: 1.2 * s, Hair: true, Dash: []float64{16 * s, 5 * s}, Label: "edge of the board",
	})
}

// grainLines is the number of lines that hint at the grain.
const grainLines = 16

// grain is lines across a box in a direction.
func grain(box geom.Box, angle float64) []geom.Contour {
	along := geom.Polar(1, angle)
	across := along.Left()
	long := box.Size().Norm()
	var lines []geom.Contour
	for i := range grainLines {
		off := ((float64(i)+0.5)/grainLines - 0.5) * long
		p := box.Center().Add(across.Scale(off))
		if a, b, ok := clip(box, p, along); ok {
			lines = append(lines, geom.Chain(false, geom.Line(a, b)))
		}
	}
	return lines
}

// clip returns the part of the line through p along a unit vector that lies in
// a box (the slab method: Kay and Kajiya 1986).
func clip(box geom.Box, p, along geom.Point) (a, b geom.Point, ok bool) {
	from, to := math.Inf(-1), math.Inf(1)
	for _, s := range [2][4]float64{{p.X, along.X, box.Min.X, box.Max.X}, {p.Y, along.Y, box.Min.Y, box.Max.Y}} {
		if math.Abs(s[1]) < geom.Coincident {
			if s[0] <= s[2] || s[0] >= s[3] {
				return a, b, false
			}
			continue
		}
		t, u := (s[2]-s[0])/s[1], (s[3]-s[0])/s[1]
		from, to = math.Max(from, math.Min(t, u)), math.Min(to, math.Max(t, u))
	}
	if to-from < geom.Coincident {
		return a, b, false
	}
	return p.Add(along.Scale(from)), p.Add(along.Scale(to)), true
}

package fullsize

import (
	"fmt"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/paper"
	"strapwork/pkg/unit"
)

// leadIn is how much in mm of what comes before and after a bend is drawn with it: enough
// to lay a straight against.
const leadIn = 25.0

// Views are a bent piece as it is laid, within a room: all of it where there is room for it,
// else bend by bend, with what leads into each. Of a bend that is larger than the room a
// stretch is drawn, since any stretch of one radius is alike.
func (f Figure) views(room geom.Point, u unit.System) (all []paper.View) {
	if len(f.Laid) == 0 {
		return nil
	}
	if size := boundsOf(f.Laid).Size(); size.X <= room.X && size.Y <= room.Y {
		return []paper.View{{Lines: draw(paper.Strip, slices.Concat(f.Laid, f.Joints)...)}}
	}
	for _, b := range f.bends() {
		lines, part := f.view(b, room)
		say := b.words(u)
		if part {
			say += ": a stretch of it"
		}
		all = append(all, paper.View{Say: say, Lines: lines})
	}
	return all
}

// A bend is a stretch of one radius of a piece's middle line.
type bend struct {
	edges    []geom.Edge
	from, to float64 // along the middle line
	radius   float64
}

func (b bend) words(u unit.System) string {
	return fmt.Sprintf("R %s, from %s to %s along the middle", radius(b.radius, u), bare(b.from, u), length(b.to, u))
}

// bends are those of a piece.
func (f Figure) bends() (all []bend) {
	i, at := 0, 0.0
	for _, s := range f.Piece.Segments {
		var edges []geom.Edge
		end := at + s.Length
		for ; i < len(f.Middle) && at < end-geom.Coincident; i++ {
			edges = append(edges, f.Middle[i])
			at += f.Middle[i].Length()
		}
		if s.Radius != 0 {
			all = append(all, bend{edges, end - s.Length, end, math.Abs(s.Radius)})
		}
		at = end
	}
	return all
}

// view draws one bend, its middle along x, or of what is larger than the room a part.
func (f Figure) view(b bend, room geom.Point) (lines []paper.Drawn, part bool) {
	whole := geom.Chain(false, b.edges...)
	mid, way := whole.At(whole.Length() / 2)
	turn := geom.Shifting(mid.Scale(-1)).Then(geom.Turning(-way.Angle()))
	box := turn.Contour(whole).Bounds().Expand(f.Piece.Thickness)
	half := room.Scale(0.5)
	part = box.Size().X > room.X || box.Size().Y > room.Y
	lead := geom.Pt(leadIn, 0)
	box.Min, box.Max = box.Min.Sub(lead), box.Max.Add(lead)
	box.Min.X, box.Max.X = math.Max(box.Min.X, -half.X), math.Min(box.Max.X, half.X)
	if box.Size().Y > room.Y { // keep the middle of the bend, which is at the top or at the bottom
		if box.Max.Y > -box.Min.Y {
			box.Max.Y = box.Min.Y + room.Y
		} else {
			box.Min.Y = box.Max.Y - room.Y
		}
	}
	for _, c := range slices.Concat(f.Laid, f.Joints) {
		for _, q := range turn.Contour(c).Within(box) {
			lines = append(lines, paper.Drawn{Use: paper.Strip, Contour: q.Contour})
		}
	}
	return lines, part
}

func boundsOf(lines []geom.Contour) geom.Box {
	box := geom.EmptyBox()
	for _, c := range lines {
		box = box.Join(c.Bounds())
	}
	return box
}

func draw(use paper.Use, lines ...geom.Contour) (list []paper.Drawn) {
	for _, c := range lines {
		list = append(list, paper.Drawn{Use: use, Contour: c})
	}
	return list
}

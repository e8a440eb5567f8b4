package build

import (
	"cmp"
	"fmt"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/nest"
	"strapwork/pkg/paper"
	"strapwork/pkg/sheet"
	"strapwork/pkg/unit"
)

// A partSheetIn is parts that share sheets: one, or a wall and its floor, or small
// ones each with its places on one sheet.
type partSheetIn struct {
	Parts  []sheet.Part
	Places []nest.Placed // of small parts, in the order in which they are drawn
	Units  unit.System
	On     paper.Options
}

// sharedSheets says which parts share sheets. A floor has its wall's outline and
// holes, and slots of its own within the wall's openings: on the wall's sheets it
// costs no page. Parts that fit on one sheet with others are on one.
func sharedSheets(parts []sheet.Part, o paper.Options) []partSheetIn {
	var list []partSheetIn
	var small []sheet.Part
	bed := nest.Options{Bed: paper.Bed(o.Paper, o.Units), Spacing: smallApart}
	for _, p := range parts {
		switch {
		case slices.Contains([]sheet.Ply{sheet.Key, sheet.Wedge, sheet.Aid, sheet.Form, sheet.Holder, sheet.Splice, sheet.Index}, p.Ply) && bed.Fits(p.Sheet):
			small = append(small, p)
		case p.Ply == sheet.Floor && shareWith(list, p):
		default:
			list = append(list, partSheetIn{Parts: []sheet.Part{p}, Units: o.Units, On: o})
		}
	}
	for _, l := range packSmall(small, bed) {
		list = append(list, partSheetIn{Parts: small, Places: l.Placed, Units: o.Units, On: o})
	}
	return list
}

// shareWith puts a floor with the wall of the same outline, if there is one.
func shareWith(list []partSheetIn, floor sheet.Part) bool {
	for i := range list {
		wall := list[i].Parts[0]
		if len(list[i].Parts) > 1 || wall.Ply != sheet.Wall || wall.Panel != floor.Panel {
			continue
		}
		if d := drawingOf(wall); d.WithFloor(drawingOf(floor)) {
			list[i].Parts = append(list[i].Parts, floor)
			return true
		}
	}
	return false
}

// smallApart in mm is between small parts on one sheet: room for scissors, and for
// lettering.
const smallApart = 12.0

// packSmall puts small parts on as few sheets as hold one of each, and as many of
// each as are to be made where there is room: glued down as they lie, they are all
// sawn in one go. What is missing is made with the first as a template.
func packSmall(parts []sheet.Part, bed nest.Options) []nest.Layout {
	items := make([]nest.Item, len(parts))
	for i, p := range parts {
		items[i] = nest.Item{Sheet: p.Sheet, Quantity: min(1, p.Quantity)}
	}
	best, _ := nest.Pack(items, bed)
	for i, p := range parts {
		for items[i].Quantity < p.Quantity {
			items[i].Quantity++
			more, _ := nest.Pack(items, bed)
			if len(more) > len(best) {
				items[i].Quantity--
				break
			}
			best = more
		}
	}
	return best
}

// drawingOf is the pattern of one part.
func drawingOf(p sheet.Part) paper.Drawing {
	d := paper.FromSheet(p.Sheet)
	d.Pieces = []paper.Piece{{Name: p.Sheet.Name, Make: p.Quantity, Drawn: 1, Thickness: p.Thickness}}
	return d
}

// trueSize is said of all patterns of parts.
const trueSize = "**True size:** cut on the lines' centres. No width of cut is allowed for."

// printPart prints the pattern of a part, or of some that share sheets, dimensioned.
func printPart(in partSheetIn) (pattern, diag.Findings) {
	if in.Places != nil {
		return printOn(in.On, smallParts(in))
	}
	wall := drawingOf(in.Parts[0])
	d := wall
	if len(in.Parts) > 1 {
		d.WithFloor(drawingOf(in.Parts[1]))
		d.Title = "panel " + in.Parts[0].Panel + ", wall (solid) and floor (dashed)"
		nameSlots(&d)
	}
	d.Measure(wall.Title, cutOf(d, paper.Cut, paper.Edge), in.Units)
	if len(in.Parts) > 1 {
		d.Measure(in.Parts[1].Sheet.Title, cutOf(d, paper.FloorCut), in.Units)
	}
	d.Notes = append(d.Notes, trueSize)
	return printOn(in.On, d)
}

// cutOf are the lines of a drawing of some uses.
func cutOf(d paper.Drawing, uses ...paper.Use) []geom.Contour {
	var lines []geom.Contour
	for _, l := range d.Lines {
		if slices.Contains(uses, l.Use) {
			lines = append(lines, l.Contour)
		}
	}
	return lines
}

// namedEvery in mm is how often the floor's slots are named.
const namedEvery = 150.0

// nameSlots says along the floor's slots that they are the floor's.
func nameSlots(d *paper.Drawing) {
	for _, l := range d.Lines {
		if l.Use != paper.FloorCut {
			continue
		}
		length := l.Contour.Length()
		n := max(2, int(length/namedEvery))
		for i := range n {
			at, _ := l.Contour.At((float64(i) + 0.5) * length / float64(n))
			d.Label(at, true, "floor only", "floor")
		}
	}
}

// smallParts is one sheet with small parts.
func smallParts(in partSheetIn) paper.Drawing {
	d := paper.Drawing{Title: "small parts", Clear: smallApart * 2 / 3, Notes: []string{trueSize}}
	first := nameSmall(&d, in)
	for i, at := range in.Places {
		p := in.Parts[at.Item]
		part := drawingOf(p)
		if first[i] {
			part.Measure(p.Sheet.Name, cutOf(part, paper.Cut, paper.Edge), in.Units)
		}
		d.Add(part, at.At)
	}
	return d
}

// nameSmall names small parts and counts them, and says which are the first of
// their kind: those say how many are made. The narrowest has its name first, since
// it has the least room for it, and all before measures, which are in the tables too.
func nameSmall(d *paper.Drawing, in partSheetIn) (first []bool) {
	first = make([]bool, len(in.Places))
	order := make([]int, len(in.Places))
	for i, at := range in.Places {
		order[i] = i
		piece := drawingOf(in.Parts[at.Item]).Pieces[0]
		k := slices.IndexFunc(d.Pieces, func(q paper.Piece) bool { return q.Name == piece.Name })
		if first[i] = k < 0; first[i] {
			d.Pieces = append(d.Pieces, piece)
		} else {
			d.Pieces[k].Drawn++
		}
	}
	wide := func(i int) float64 { return in.Places[i].Box.Size().X }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(wide(a), wide(b)) })
	for _, i := range order {
		at := in.Places[i]
		p := in.Parts[at.Item]
		below := geom.Pt(at.Box.Center().X, at.Box.Min.Y-2) // the hatching
		if first[i] {
			d.Name(below, fmt.Sprintf("%s: sheet %s, make %d", p.Sheet.Name, both(p.Thickness, in.Units), p.Quantity), p.Sheet.Name)
		} else {
			d.Name(below, p.Sheet.Name)
		}
	}
	return first
}

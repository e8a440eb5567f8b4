// Package nest puts parts on sheets of a machine's bed, several to a sheet.
//
// Method: shelves, first fit, in the order of decreasing height (Coffman,
// Garey, Johnson and Tarjan, "Performance bounds for level-oriented
// two-dimensional packing algorithms", SIAM Journal on Computing 9, 1980). Each
// part is the box round it. Parts may be turned by a quarter, since sheet for
// templates has no grain that matters; they are never turned over, for their
// letters would be on the wrong side. A shelf runs along a sheet's x axis.
//
// Lengths are mm. A sheet's origin is its lower left corner.
package nest

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// An Item is a part to be put on sheets, and how many of it are wanted.
type Item struct {
	Sheet     sheet.Sheet
	Thickness float64
	Quantity  int
}

// Options are the sheets' size, and the least distance of parts from one
// another. Half of that is kept from the sheet's rim.
type Options struct {
	Bed     geom.Point
	Spacing float64
}

// A Placed is one copy of an item on a sheet.
type Placed struct {
	Item int             // index in the items
	Copy int             // from 0
	At   geom.Similarity // takes the part as drawn to the sheet
	Back geom.Similarity // and undoes that
	Box  geom.Box        // that all of it but notes lies in
	Turn bool            // it lies turned by a quarter, counter-clockwise
}

// A Layout is one sheet and what is on it.
type Layout struct {
	Thickness float64
	Size      geom.Point
	Placed    []Placed // by shelf from the lowest, on each from the left
}

// grid is what places are multiples of, in mm. A part's coordinates then keep
// their decimals in a file, and undoing the place gives them back to the last.
const grid = 0.01

// cutRoles are the roles that a machine follows; notes may reach beyond.
func cutRoles() []sheet.Role {
	return []sheet.Role{sheet.Opening, sheet.Pin, sheet.Edge, sheet.Mark}
}

// Box is the smallest box round what a machine cuts and marks of a part.
func Box(s sheet.Sheet) geom.Box { return s.BoundsOf(cutRoles()...) }

// Fits reports whether a part fits on a sheet by itself, upright or turned.
func (o Options) Fits(s sheet.Sheet) bool {
	return o.lies(o.room(Box(s).Size())) || o.lies(o.room(turned(Box(s).Size())))
}

// room is what a box of a size takes up, with its share of the spacing and what
// it may be moved to come to lie on the grid.
func (o Options) room(size geom.Point) geom.Point {
	return geom.Pt(onGrid(size.X+o.Spacing+grid), onGrid(size.Y+o.Spacing+grid))
}

// onGrid is the least multiple of the grid that is no less than v, but for what
// rounding may have added to it.
func onGrid(v float64) float64 { return math.Ceil(v/grid-geom.Coincident) * grid }

func turned(p geom.Point) geom.Point { return geom.Pt(p.Y, p.X) }

// lies reports whether room fits on a sheet as it is.
func (o Options) lies(room geom.Point) bool {
	return room.X <= o.Bed.X+geom.Coincident && room.Y <= o.Bed.Y+geom.Coincident
}

// Pack puts all copies of all items on as few sheets as shelves allow, those of
// one thickness together, the thickest sheet first. Items that fit on no sheet,
// and those that have nothing to be cut, are left out and reported by their index.
// The same items give the same sheets.
func Pack(items []Item, o Options) (layouts []Layout, left []int) {
	var thicknesses []float64
	for i, it := range items {
		if box := Box(it.Sheet); box.Empty() || !o.Fits(it.Sheet) {
			left = append(left, i)
			continue
		}
		if it.Quantity > 0 && !slices.Contains(thicknesses, it.Thickness) {
			thicknesses = append(thicknesses, it.Thickness)
		}
	}
	slices.SortFunc(thicknesses, func(a, b float64) int { return cmp.Compare(b, a) })
	for _, t := range thicknesses {
		var pieces []piece
		for i, it := range items {
			if it.Thickness == t && !slices.Contains(left, i) {
				pieces = append(pieces, o.pieces(i, it)...)
			}
		}
		layouts = append(layouts, o.best(t, pieces)...)
	}
	return layouts, left
}

// A piece is one copy of an item before it has a place.
type piece struct {
	item, copy int
	box        geom.Box
	room       geom.Point // upright
}

func (o Options) pieces(i int, it Item) []piece {
	var list []piece
	for k := range it.Quantity {
		box := Box(it.Sheet)
		list = append(list, piece{i, k, box, o.room(box.Size())})
	}
	return list
}

// best packs pieces lying down, which makes shelves low, and standing, which
// makes them few, and returns what takes fewer sheets, or else the less of the
// last one.
func (o Options) best(thickness float64, pieces []piece) []Layout {
	lying, standing := o.shelve(pieces, false), o.shelve(pieces, true)
	best := lying
	if len(standing) < len(lying) ||
		len(standing) == len(lying) && top(standing) < top(lying)-geom.Coincident {
		best = standing
	}
	layouts := make([]Layout, len(best))
	for i, b := range best {
		layouts[i] = Layout{Thickness: thickness, Size: o.Bed, Placed: o.place(b)}
	}
	return layouts
}

// A laid is a piece that is turned or not.
type laid struct {
	piece
	turn bool
}

func (l laid) size() geom.Point {
	if l.turn {
		return turned(l.room)
	}
	return l.room
}

// A shelf is a row of pieces.
type shelf struct {
	height, width float64 // height of its first piece; width that is taken
	laid          []laid
}

// A stack is the shelves of one sheet, the lowest first.
type stack []shelf

func (s stack) height() float64 {
	h := 0.0
	for _, f := range s {
		h += f.height
	}
	return h
}

func top(stacks []stack) float64 {
	if len(stacks) == 0 {
		return 0
	}
	return stacks[len(stacks)-1].height()
}

// shelve packs pieces on shelves, each on the first where it fits.
func (o Options) shelve(pieces []piece, standing bool) []stack {
	list := make([]laid, len(pieces))
	for i, p := range pieces {
		list[i] = o.lay(p, standing)
	}
	slices.SortStableFunc(list, func(a, b laid) int {
		return cmp.Or(cmp.Compare(b.size().Y, a.size().Y), cmp.Compare(b.size().X, a.size().X))
	})
	var stacks []stack
	for _, l := range list {
		if !o.onShelf(stacks, l) {
			stacks = o.newShelf(stacks, l)
		}
	}
	return stacks
}

// lay turns a piece so that it lies or stands, if the sheet is large enough for
// that, else the other way.
func (o Options) lay(p piece, standing bool) laid {
	upright := p.room.Y > p.room.X
	l := laid{p, upright != standing}
	if p.room.X == p.room.Y {
		l.turn = false
	}
	if !o.lies(l.size()) {
		l.turn = !l.turn
	}
	return l
}

// onShelf puts l on the first shelf that has room for it, standing rather than
// lying, and reports whether there is one.
func (o Options) onShelf(stacks []stack, l laid) bool {
	other := laid{l.piece, !l.turn}
	ways := []laid{l, other}
	if other.size().Y > l.size().Y {
		ways = []laid{other, l}
	}
	for _, s := range stacks {
		for i := range s {
			for _, w := range ways {
				if w.size().Y <= s[i].height+geom.Coincident && s[i].width+w.size().X <= o.Bed.X+geom.Coincident {
					s[i].width += w.size().X
					s[i].laid = append(s[i].laid, w)
					return true
				}
			}
		}
	}
	return false
}

// newShelf puts l on a new shelf of the first sheet that has room for one.
func (o Options) newShelf(stacks []stack, l laid) []stack {
	f := shelf{height: l.size().Y, width: l.size().X, laid: []laid{l}}
	for i, s := range stacks {
		if s.height()+f.height <= o.Bed.Y+geom.Coincident {
			stacks[i] = append(s, f)
			return stacks
		}
	}
	return append(stacks, stack{f})
}

// place gives a sheet's pieces their places.
func (o Options) place(s stack) []Placed {
	var list []Placed
	y := 0.0
	for _, f := range s {
		x := 0.0
		for _, l := range f.laid {
			list = append(list, l.at(geom.Pt(x+o.Spacing/2, y+o.Spacing/2)))
			x += l.size().X
		}
		y += f.height
	}
	return list
}

// at places a piece with the lower left corner of its box at p, or less than a
// grid's step to the right of and above it.
func (l laid) at(p geom.Point) Placed {
	turn := geom.Identity()
	back := geom.Identity()
	if l.turn {
		turn, back = geom.TurningFraction(1, 4), geom.TurningFraction(-1, 4)
	}
	box := turn.Contour(geom.Rect(l.box)).Bounds()
	shift := p.Sub(box.Min)
	shift = geom.Pt(onGrid(shift.X), onGrid(shift.Y))
	return Placed{
		Item: l.item, Copy: l.copy, Turn: l.turn,
		At:   turn.Then(geom.Shifting(shift)),
		Back: geom.Shifting(shift.Scale(-1)).Then(back),
		Box:  geom.Box{Min: box.Min.Add(shift), Max: box.Max.Add(shift)},
	}
}

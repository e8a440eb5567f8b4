package paper

import (
	"math"

	"strapwork/pkg/geom"
	"strapwork/pkg/sheet"
)

// What stands side by side on a sheet of running text: a picture and the text that
// belongs to it, and the parts of a narrow table.

// A beside is a picture at the right of the text.
type beside struct {
	page   int     // that it is on, counted from 1; 0 for none
	left   float64 // where the text ends
	bottom float64
}

const (
	besideShare = 0.44 // of the text's width, for a picture
	besideMost  = 70.0 // of its height, mm
	// besideLargest is the share of a picture whose letters need it.
	besideLargest = 0.62
	besideGap     = 5.0 // mm between text and picture
	tableGap      = 8.0 // mm between parts of a table
	partLeast     = 3   // rows of a part
)

// isBeside reports whether the next line stands beside a picture.
func (f *flow) isBeside() bool {
	return f.pic.page == len(f.pages) && f.y > f.pic.bottom
}

// under goes on below a picture.
func (f *flow) under() {
	if f.isBeside() {
		f.y = f.pic.bottom
	}
}

// setBeside draws a picture at the right of what comes next.
func (f *flow) setBeside(pic sheet.Picture) {
	f.under()
	room, size := f.area(), pic.Bounds.Size()
	k := math.Min(besideShare*room.Size().X/size.X, besideMost/size.Y)
	for _, t := range pic.Texts { // larger, where letters would be too small to read
		k = math.Max(k, math.Min(leastLetter/t.Height, besideLargest*room.Size().X/size.X))
	}
	f.room(size.Y * k)
	at := geom.Pt(room.Max.X-size.X*k, f.y-size.Y*k)
	f.page().drawPicture(pic, at, k)
	f.pic = beside{page: len(f.pages), left: at.X - besideGap, bottom: at.Y - medium}
}

// abreast is how many parts of a table with these columns stand side by side: one
// where a cell would have to be broken.
func (f *flow) abreast(cols []float64, rows [][]string, size float64) int {
	n := int((f.area().Size().X + tableGap) / (total(cols) + tableGap))
	for _, r := range rows {
		if rowHeight(r, cols, size) > size*lead+rowGap {
			return 1
		}
	}
	return max(1, min(n, len(rows)/partLeast))
}

// tables writes a table in n parts side by side, as long as each other, page by page.
func (f *flow) tables(head []string, rows [][]string, cols []float64, size float64, n int) {
	high := size*lead + rowGap
	for len(rows) > 0 {
		headHigh := rowHeight(head, cols, size)
		f.room(headHigh + math.Min(partLeast, math.Ceil(float64(len(rows))/float64(n)))*high)
		fit := int((f.y-f.area().Min.Y-headHigh)/high + rounding)
		part := min(fit, (len(rows)+n-1)/n)
		top, low := f.y, f.y
		for i := range n {
			f.y = top
			left := float64(i) * (total(cols) + tableGap)
			from, to := min(i*part, len(rows)), min((i+1)*part, len(rows))
			if from == to {
				break
			}
			f.rowAt(left, head, cols, size, true)
			for _, r := range rows[from:to] {
				f.rowAt(left, r, cols, size, false)
			}
			low = math.Min(low, f.y)
		}
		f.y = low
		rows = rows[min(n*part, len(rows)):]
	}
	f.skip(size * 0.6)
}

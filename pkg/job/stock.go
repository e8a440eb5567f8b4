package job

import (
	"fmt"
	"slices"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/work"
)

// stripKeys are the keys of [stock] that are of strips; the others are of clamps.
var stripKeys = []string{"board", "kerf", "sanding", "spares", "match"}

// readStock reads what strips are cut from, and how the board is held: nil where it says
// nothing of that.
func (r *reader) readStock(top conf.Section, in work.Inlay) (work.Stock, *work.Clamping) {
	t, ok := top.Sub("stock")
	s := work.Stock{Kerf: t.Length("kerf"), Sanding: t.Length("sanding"), Spares: t.Ratio("spares"), Match: t.Flag("match")}
	for i, b := range t.List("board", mostListed) {
		s.Boards = append(s.Boards, r.stockBoard(b, diag.Key(fmt.Sprintf("stock.board.%d", i+1))))
	}
	if !ok {
		return s, nil
	}
	quiet := []string{"clearance"}
	var c *work.Clamping
	switch {
	case t.Given("clamp"):
		c, quiet = &work.Clamping{Clearance: t.Length("clearance")}, nil
		for i, own := range t.List("clamp", mostListed) {
			c.Clamps = append(c.Clamps, r.clamp(own, diag.Key(fmt.Sprintf("stock.clamp.%d", i+1))))
		}
	case t.Given("clearance") || !slices.ContainsFunc(stripKeys, t.Given):
		c = &work.Clamping{Clearance: t.Length("clearance")}
		t.NoEffect("clearance", "there are no clamps")
	}
	r.idleStock(t, in)
	if len(s.Boards) == 0 {
		quiet = append(quiet, "kerf", "sanding", "spares")
	}
	t.Assume("", quiet...)
	return s, c
}

// idleStock notes keys of [stock] that change nothing.
func (r *reader) idleStock(t conf.Section, in work.Inlay) {
	switch {
	case len(in.Strips) == 0:
		for _, key := range stripKeys {
			t.NoEffect(key, "the job names no strips")
		}
	case !t.Given("board"):
		t.NoEffect("sanding", "there is no [[stock.board]]")
		t.NoEffect("match", "there is no [[stock.board]]")
	case in.Laid == work.LaidSandwich:
		t.NoEffect("match", "a lay-up that is glued first is cut as one")
	}
}

// Bounds of how large boards are in mm, what they are said to cost and how many there are: more is a slip of
// the pen.
const (
	maxBoard  = 20_000
	maxPrice  = 1_000_000
	maxBoards = 10_000
)

func (r *reader) stockBoard(t conf.Section, key diag.Key) work.StockBoard {
	return work.StockBoard{
		Material: t.Name("material"), Length: t.Length("length"), Width: t.Length("width"), Thickness: t.Length("thickness"),
		Price: t.Number("price"), Count: t.Count("count"), Key: key,
	}
}

func (r *reader) clamp(t conf.Section, key diag.Key) work.Clamp {
	c := work.Clamp{Box: geom.EmptyBox(), Key: key}
	c.Box = c.Box.Include(point(t, "from")).Include(point(t, "to"))
	if w, h := c.Box.Max.X-c.Box.Min.X, c.Box.Max.Y-c.Box.Min.Y; w <= 0 || h <= 0 {
		r.Faultf(t.Get("to"), conf.BadValue, "the clamp's corners make no rectangle: it is %s by %s", r.show(w), r.show(h)).
			Hintf("from and to are opposite corners, as [x, y]")
	}
	c.Height = t.Length("height")
	return c
}

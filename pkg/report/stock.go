package report

import (
	"strapwork/pkg/build"
	"strapwork/pkg/stock"
	"strapwork/pkg/work"
)

// useful is how long in mm what is left of a strip must be to be listed: some pieces are as
// short, and fingers need as much to hold (common practice).
const useful = 50

// gauged is by how much in mm a board may be thicker than the strip and still pass for it.
const gauged = 0.02

// stockJSON is what the strips are cut from. Pieces' lengths are those to which they are cut, with
// the allowance; boards and strips count from 1.
type stockJSON struct {
	Kerf      num            `json:"kerf"`
	Sanding   num            `json:"sanding"`
	Spares    num            `json:"spares"`
	Height    num            `json:"height"` // of the strips
	Layup     num            `json:"layup,omitempty"`
	Layups    []stickJSON    `json:"layups,omitempty"` // how those are cut that are glued first
	Materials []materialJSON `json:"materials"`

	Cost   num  `json:"-"` // of all boards that have prices
	Match  bool `json:"-"`
	Given  bool `json:"-"` // the job has boards
	Wanted bool `json:"-"` // and one isn't there that is wanted
}

type materialJSON struct {
	Name   string           `json:"material"`
	Strips []stripStockJSON `json:"strips"`
	Boards []ripJSON        `json:"boards,omitempty"`
	Buy    []buyJSON        `json:"buy,omitempty"`
	By     string           `json:"by,omitempty"` // what is least: "price" or "boards"
	Cost   num              `json:"cost,omitempty"`
	Bound  num              `json:"bound,omitempty"` // no plan costs less
	Proved bool             `json:"proved,omitempty"`

	Kinds     []giving    `json:"-"`
	Choice    bool        `json:"-"` // there are several kinds of boards of it
	ForLayups bool        `json:"-"` // its strips are cut for these, and not to pieces
	Cut       []stickJSON `json:"-"` // all strips of it, by board
}

type stripStockJSON struct {
	Thickness num         `json:"thickness"`
	Pieces    int         `json:"pieces"`
	Spares    int         `json:"spares"`
	Length    num         `json:"length"` // of all pieces and spares, with a kerf each
	Sticks    []stickJSON `json:"sticks,omitempty"`

	Area num `json:"-"` // of sheet as thick as the strip that they take
}

// stickJSON is a strip as long as its board, and what is cut from it.
type stickJSON struct {
	Number int       `json:"number"`          // through the material, or of a lay-up
	Board  int       `json:"board,omitempty"` // of the material's, from 1
	Cuts   []cutFrom `json:"cuts"`
	Left   num       `json:"left"`

	Thickness num  `json:"-"`
	Useful    bool `json:"-"`
}

type cutFrom struct {
	Length num   `json:"length"`
	Pieces []int `json:"pieces"` // 0: a spare one
	Spare  int   `json:"-"`      // how many of those
	Own    []int `json:"-"`      // the others
}

type ripJSON struct {
	Of     int         `json:"of"`     // which of the job's boards, from 1
	Ripped string      `json:"ripped"` // off its "edge" or its "face"
	Slices []sliceJSON `json:"slices"`

	Number int `json:"-"`
}

type sliceJSON struct {
	Thickness num `json:"thickness"`
	Count     int `json:"count"`
	Each      int `json:"each"`   // strips that each is slit to
	Strips    int `json:"strips"` // that are cut to pieces

	Sawn  num  `json:"-"` // how thick it is ripped; 0 where it isn't
	Thin  bool `json:"-"` // it isn't, and is thicker than the strip
	Spare int  `json:"-"` // strips that are left whole
}

type buyJSON struct {
	Of    int `json:"of"`
	Count int `json:"count"`
	Price num `json:"price,omitempty"`

	Length    num `json:"-"`
	Width     num `json:"-"`
	Thickness num `json:"-"`
}

// giving is what a kind of board gives.
type giving struct {
	Length, Width, Thickness num
	Yields                   []yieldFacts
}

type yieldFacts struct {
	Thickness  num // of the strip
	Edge, Face stock.Yield
}

func newBoards(r build.Result) *stockJSON {
	if len(r.Stock.Materials) == 0 {
		return nil
	}
	in := r.Job.Stock
	out := &stockJSON{
		Kerf: num(in.Kerf), Sanding: num(in.Sanding), Spares: num(in.Spares), Height: num(r.List.Height),
		Layup: num(r.Stock.Layup), Match: in.Match && r.Stock.Layup == 0, Given: len(in.Boards) > 0,
	}
	for _, s := range r.Stock.Layups {
		out.Layups = append(out.Layups, newStick(s, len(out.Layups)+1, 0))
	}
	for _, m := range r.Stock.Materials {
		own := newMaterial(m, in, r.List.Height)
		own.ForLayups = out.Layup > 0
		out.Materials = append(out.Materials, own)
		out.Wanted = out.Wanted || len(m.Boards) == 0
		if m.Priced {
			out.Cost += num(m.Cost)
		}
	}
	return out
}

func newMaterial(m stock.Material, in work.Stock, height float64) materialJSON {
	out := materialJSON{Name: m.Name, Cost: num(m.Cost), Bound: num(m.Bound), Choice: m.Kinds > 1}
	if len(m.Boards) > 0 {
		out.By, out.Proved = "boards", m.Proved()
		if m.Priced {
			out.By = "price"
		}
	}
	number := 0
	for _, s := range m.Strips {
		own := stripStockJSON{Thickness: num(s.Thickness), Pieces: s.Pieces, Spares: s.Spares, Length: num(s.Length), Area: num(s.Length * (height + in.Kerf))}
		for _, k := range s.Sticks {
			number++
			own.Sticks = append(own.Sticks, newStick(k, number, s.Thickness))
		}
		out.Strips, out.Cut = append(out.Strips, own), append(out.Cut, own.Sticks...)
	}
	for _, b := range m.Bought {
		of := in.Boards[b.Of]
		out.Buy = append(out.Buy, buyJSON{Of: b.Of + 1, Count: b.Count, Price: num(b.Price), Length: num(of.Length), Width: num(of.Width), Thickness: num(of.Thickness)})
		kind := giving{Length: num(of.Length), Width: num(of.Width), Thickness: num(of.Thickness)}
		for _, s := range m.Strips {
			y := yieldFacts{Thickness: num(s.Thickness)}
			y.Edge, y.Face = stock.Yields(in, of, s.Thickness, height)
			kind.Yields = append(kind.Yields, y)
		}
		out.Kinds = append(out.Kinds, kind)
	}
	for i, b := range m.Boards {
		out.Boards = append(out.Boards, newRip(b, i+1, m, in))
	}
	return out
}

// newRip is how a board is ripped: in one slice that isn't sawn if it is as thick as that.
func newRip(b stock.Board, number int, m stock.Material, in work.Stock) ripJSON {
	out := ripJSON{Of: b.Of + 1, Ripped: b.Way.String(), Number: number}
	all := 0
	for _, s := range b.Slices {
		all += s.Count
	}
	across := in.Boards[b.Of].Thickness
	if b.Way == stock.OffEdge {
		across = in.Boards[b.Of].Width
	}
	for _, s := range b.Slices {
		t := m.Strips[s.Strip].Thickness
		own := sliceJSON{Thickness: num(t), Count: s.Count, Each: s.Each, Strips: s.Strips, Spare: s.Count*s.Each - s.Strips}
		if across > t+in.Kerf+2*in.Sanding || all > 1 {
			own.Sawn = num(t + 2*in.Sanding)
		}
		own.Thin = own.Sawn == 0 && across-t > gauged
		out.Slices = append(out.Slices, own)
	}
	return out
}

func newStick(s stock.Stick, number int, thickness float64) stickJSON {
	out := stickJSON{Number: number, Board: s.Board, Left: num(s.Left), Thickness: num(thickness), Useful: s.Left >= useful}
	for _, c := range s.Cuts {
		own := cutFrom{Length: num(c.Length), Pieces: c.Pieces}
		for _, n := range c.Pieces {
			if n == 0 {
				own.Spare++
			} else {
				own.Own = append(own.Own, n)
			}
		}
		out.Cuts = append(out.Cuts, own)
	}
	return out
}

package stock

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// some are pieces of one run for each list of lengths.
func some(material string, thickness float64, runs ...[]float64) (list []Piece) {
	for r, lengths := range runs {
		for _, l := range lengths {
			list = append(list, Piece{Run: Run{r, 1}, Material: material, Thickness: thickness, Length: l})
		}
	}
	return numbered(list)
}

func numbered(list []Piece) []Piece {
	for i := range list {
		list[i].Number = i + 1
	}
	return list
}

// made plans, and holds the plan to what is wanted of it: every piece is cut once, no stick has more on it
// than its board is long, no board gives more than it is wide and thick.
func made(t *testing.T, p Params) (Plan, diag.Findings) {
	t.Helper()
	plan, found := Make(p, nil)
	if found.HasErrors() {
		return plan, found
	}
	seen := map[int]int{}
	for _, m := range plan.Materials {
		got := make([]map[int]int, len(m.Boards)) // strips of each board, by kind
		for i, s := range m.Strips {
			for _, k := range s.Sticks {
				b := p.Stock.Boards[k.Of]
				if m.Boards[k.Board-1].Of != k.Of {
					t.Fatalf("a strip of board %d is from one of another kind", k.Board)
				}
				if got[k.Board-1] == nil {
					got[k.Board-1] = map[int]int{}
				}
				got[k.Board-1][i]++
				used := -p.Stock.Kerf
				for _, c := range k.Cuts {
					for _, n := range c.Pieces {
						used += c.Length + p.Stock.Kerf
						seen[n]++
						if n > 0 && len(p.Layup) == 0 && (p.Pieces[n-1].Thickness != s.Thickness || c.Length < p.Pieces[n-1].Length-1e-9 || c.Length > p.Pieces[n-1].Length+0.1) {
							t.Errorf("piece %d is cut to %v from a strip of %v", n, c.Length, s.Thickness)
						}
					}
				}
				if used > b.Length+1e-6 {
					t.Errorf("%v is cut from a strip of %v", used, b.Length)
				}
			}
		}
		for n, b := range m.Boards {
			of := p.Stock.Boards[b.Of]
			across, slit := of.Width, of.Thickness
			if b.Way == OffFace {
				across, slit = slit, across
			}
			used := -p.Stock.Kerf - 2*p.Stock.Sanding
			for _, s := range b.Slices {
				used += float64(s.Count) * (m.Strips[s.Strip].Thickness + p.Stock.Kerf + 2*p.Stock.Sanding)
				if tall := float64(s.Each)*(p.Height+p.Stock.Kerf) - p.Stock.Kerf; tall > slit+0.01 {
					t.Errorf("board %d: %d strips of a slice take %v of %v", n+1, s.Each, tall, slit)
				}
				if s.Strips != got[n][s.Strip] || s.Strips > s.Count*s.Each {
					t.Errorf("board %d: %d of %d strips are said to be cut, and are %d", n+1, s.Strips, s.Count*s.Each, got[n][s.Strip])
				}
			}
			if used > across+0.01 {
				t.Errorf("board %d: slices take %v of %v", n+1, used, across)
			}
		}
		if len(m.Boards) > 0 && m.Bound > m.Cost {
			t.Errorf("%v costs %v, and is proved to cost %v", m.Name, m.Cost, m.Bound)
		}
	}
	for _, q := range p.Pieces {
		if len(p.Layup) == 0 && len(plan.Materials) > 0 && len(plan.Materials[0].Boards) > 0 && seen[q.Number] != 1 {
			t.Errorf("piece %d is cut %d times", q.Number, seen[q.Number])
		}
	}
	return plan, found
}

func boards(list ...work.StockBoard) []work.StockBoard {
	for i := range list {
		list[i].Key = diag.Key("stock.board." + string(rune('1'+i)))
	}
	return list
}

// TestYields: worked out by hand. A board of 60 x 12, strips 2 thick and 3 high, kerf 1, sanding
// 0.5 a face: a slice takes 2 and 2 between two, so (60 + 2) / 4 = 15 off the edge, each slit to
// (12 + 1) / 4 = 3; off the face (12 + 2) / 4 = 3, each slit to (60 + 1) / 4 = 15. Veneer 2 thick
// is one slice, and so is what is 2.3 thick.
func TestYields(t *testing.T) {
	s := work.Stock{Kerf: 1, Sanding: 0.5}
	for _, c := range []struct {
		width, thickness           float64
		edge, each, face, faceEach int
	}{
		{60, 12, 15, 3, 3, 15},
		{100, 2, 25, 0, 1, 25},
		{100, 2.3, 25, 0, 1, 25},
		{100, 1.9, 25, 0, 0, 25},
		{100, 3, 25, 1, 1, 25},
		{2.9, 12, 1, 3, 3, 0},
	} {
		b := work.StockBoard{Length: 500, Width: c.width, Thickness: c.thickness}
		edge, face := Yields(s, b, 2, 3)
		if edge.Slices != c.edge || edge.Each != c.each || face.Slices != c.face || face.Each != c.faceEach {
			t.Errorf("%v x %v: %+v %+v", c.width, c.thickness, edge, face)
		}
	}
}

// TestPlan: closed counts. Ten pieces of 100 with a kerf of 1 from boards of 302: three a strip, so
// four strips; a board gives two, so two boards.
func TestPlan(t *testing.T) {
	p := Params{
		Stock:  work.Stock{Kerf: 1, Boards: boards(work.StockBoard{Material: "Holly", Length: 302, Width: 7, Thickness: 2, Price: 4.5})},
		Height: 3, Pieces: some("holly", 2, []float64{100, 100, 100, 100, 100}, []float64{100, 100, 100, 100, 100}),
	}
	plan, found := made(t, p)
	m := plan.Materials[0]
	if len(found) > 0 || len(m.Strips[0].Sticks) != 4 || len(m.Boards) != 2 || m.Cost != 9 || !m.Proved() || !m.Priced || m.Boards[0].Way != OffFace {
		t.Errorf("%v, %+v", found, m)
	}
	if m.Strips[0].Length != 1010 || m.Bought[0] != (Bought{0, 2, 9}) {
		t.Errorf("%+v", m)
	}
	p.Stock.Spares = 0.1
	if plan, _ = made(t, p); plan.Materials[0].Strips[0].Spares != 1 {
		t.Errorf("of ten pieces one in ten is spare, not %d", plan.Materials[0].Strips[0].Spares)
	}
	p.Stock.Boards[0].Count = 1
	if _, found = made(t, p); len(found) != 1 || found[0].Rule != ruleFew {
		t.Errorf("one board is too few: %v", found)
	}
	p.Stock.Boards = nil
	if plan, found = made(t, p); len(found) > 0 || len(plan.Materials[0].Boards) != 0 || plan.Materials[0].Strips[0].Length != 1111 {
		t.Errorf("without boards: %v %+v", found, plan)
	}
}

// TestThicknessesShareABoard: three strips of 2 and two of 4 with a kerf of 1 take 3 x 3 + 2 x 5 - 1
// = 18 of a width.
func TestThicknessesShareABoard(t *testing.T) {
	for width, want := range map[float64]int{18: 1, 17.9: 2} {
		p := Params{
			Stock:  work.Stock{Kerf: 1, Boards: boards(work.StockBoard{Material: "pear", Length: 100, Width: width, Thickness: 3})},
			Height: 3, Pieces: numbered(append(some("pear", 2, []float64{90, 90, 90}), some("pearwood", 4, []float64{80, 80})...)),
		}
		plan, found := made(t, p)
		if m := plan.Materials[0]; len(found) > 0 || len(plan.Materials) != 1 || len(m.Boards) != want || !m.Proved() {
			t.Errorf("%v wide: %v %+v", width, found, m)
		}
	}
}

// TestTheCheaperBoard: one small board does what a large one does, and for many the large one is
// cheaper by the strip.
func TestTheCheaperBoard(t *testing.T) {
	small := work.StockBoard{Material: "bronze", Length: 300, Width: 8, Thickness: 1, Price: 3}
	large := work.StockBoard{Material: "bronze", Length: 600, Width: 100, Thickness: 1, Price: 20}
	for n, want := range map[int]float64{4: 3, 8: 6, 40: 20} {
		p := Params{Stock: work.Stock{Kerf: 0.5, Boards: boards(large, small)}, Height: 3, Pieces: some("bronze", 1, make([]float64, n))}
		for i := range p.Pieces {
			p.Pieces[i].Length = 145
		}
		plan, found := made(t, p)
		if m := plan.Materials[0]; len(found) > 0 || m.Cost != want || !m.Proved() {
			t.Errorf("%d pieces: %v, cost %v, bound %v, want %v", n, found, m.Cost, m.Bound, want)
		}
	}
}

// TestMatch: two runs of three pieces; each board gives four strips of one piece each. In the fewest boards they
// are mixed; matched, each run has its own.
func TestMatch(t *testing.T) {
	p := Params{
		Stock:  work.Stock{Kerf: 1, Boards: boards(work.StockBoard{Material: "holly", Length: 100, Width: 15, Thickness: 2})},
		Height: 3, Pieces: some("holly", 2, []float64{90, 90, 90}, []float64{90, 90, 90}, []float64{90, 90}),
	}
	plan, _ := made(t, p)
	if m := plan.Materials[0]; len(m.Boards) != 2 || !m.Proved() {
		t.Fatalf("%+v", m)
	}
	p.Stock.Match = true
	plan, found := made(t, p)
	if m := plan.Materials[0]; len(found) > 0 || len(m.Boards) != 3 || m.Bound != 2 {
		t.Errorf("%v, %+v", found, m)
	}
	p.Pieces = some("holly", 2, []float64{90, 90, 90, 90, 90})
	if _, found = made(t, p); len(found) != 1 || found[0].Rule != ruleMatch {
		t.Errorf("a run of more than a board: %v", found)
	}
}

// TestSandwich: lay-ups as long as the shorter of the two boards, 300: of pieces of 140 two each, so
// two lay-ups; the longer board gives two strips for them in one.
func TestSandwich(t *testing.T) {
	p := Params{
		Stock: work.Stock{Kerf: 1, Boards: boards(
			work.StockBoard{Material: "holly", Length: 601, Width: 3, Thickness: 2},
			work.StockBoard{Material: "ebony", Length: 300, Width: 3, Thickness: 1},
		)},
		Height: 3, Pieces: some("holly/ebony", 3, []float64{140, 140, 140}),
		Layup: []work.Strip{{Material: "holly", Thickness: 2}, {Material: "ebony", Thickness: 1}},
	}
	plan, found := made(t, p)
	if len(found) > 0 || plan.Layup != 300 || len(plan.Layups) != 2 {
		t.Fatalf("%v %+v", found, plan)
	}
	if h, e := plan.Materials[0], plan.Materials[1]; len(h.Boards) != 1 || len(e.Boards) != 2 || !h.Proved() || !e.Proved() {
		t.Errorf("%+v %+v", h, e)
	}
}

// TestSandwichOfOddBoards: a board of 15 3/4 in, 400.05 mm, holds a lay-up as long as itself.
func TestSandwichOfOddBoards(t *testing.T) {
	p := Params{
		Stock:  work.Stock{Kerf: 1, Boards: boards(work.StockBoard{Material: "holly", Length: 15.75 * 25.4, Width: 3, Thickness: 2})},
		Height: 3, Pieces: some("holly", 2, []float64{140, 140, 140}),
		Layup: []work.Strip{{Material: "holly", Thickness: 2}},
	}
	if plan, found := made(t, p); len(found) > 0 || plan.Layup != 400 || len(plan.Materials[0].Boards) != 2 {
		t.Errorf("%v %+v", found, plan)
	}
}

// TestBadStock: what is wrong is said, with the piece and what would do.
func TestBadStock(t *testing.T) {
	for _, c := range []struct {
		b    work.StockBoard
		want string
	}{
		{work.StockBoard{Material: "holly", Length: 80, Width: 50, Thickness: 10}, "error: no board is long enough for piece 2, a strip of holly cut to 90.5 mm: the longest is 80 mm"},
		{work.StockBoard{Material: "holly", Length: 200, Width: 50, Thickness: 1.5}, "error: no board of holly gives strips 2 mm thick and 3 mm high"},
		{work.StockBoard{Material: "holy", Length: 200, Width: 50, Thickness: 5}, `error: "holy" is a material that no strip is of and that isn't known`},
		{work.StockBoard{Material: "ebony", Length: 200, Width: 50, Thickness: 5}, "warning: no strip is of ebony, so that this board isn't used"},
	} {
		p := Params{Stock: work.Stock{Kerf: 1, Boards: boards(c.b)}, Height: 3, Pieces: some("holly", 2, []float64{70, 90.5})}
		_, found := made(t, p)
		found = found.In(unit.MM)
		if len(found) != 1 || !strings.Contains(found[0].Severity.String()+": "+found[0].Message, c.want) || found[0].Hint == "" || !strings.HasPrefix(string(found[0].Key), "stock.board.1") {
			t.Errorf("got %v, want %s", found, c.want)
		}
	}
}

// TestManyPieces: 2,000 pieces in three thicknesses on about 60 boards come within one board of the bound.
func TestManyPieces(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 1))
	p := Params{Stock: work.Stock{Kerf: 0.8, Sanding: 0.1, Boards: boards(work.StockBoard{Material: "holly", Length: 900, Width: 10, Thickness: 6})}, Height: 3.3}
	for i := range 2000 {
		p.Pieces = append(p.Pieces, Piece{Run: Run{i / 20, 1}, Material: "holly", Thickness: []float64{1, 1.5, 2.4}[i%3], Length: 30 + math.Round(r.Float64()*2500)/10})
	}
	p.Pieces = numbered(p.Pieces)
	plan, found := made(t, p)
	m := plan.Materials[0]
	t.Logf("%d boards, bound %v, %d sticks", len(m.Boards), m.Bound, len(m.Strips[0].Sticks)+len(m.Strips[1].Sticks)+len(m.Strips[2].Sticks))
	if len(found) > 0 || m.Cost > m.Bound+1 {
		t.Errorf("%v: %v boards, bound %v", found, m.Cost, m.Bound)
	}
}

// TestManyBaskets: of 40 kinds of boards there are more choices that cost too little than can be
// looked through, C(70, 30); that is given up.
func TestManyBaskets(t *testing.T) {
	prices := slices.Repeat([]int{1}, 40)
	if _, ok := baskets(prices, 30, 31); ok {
		t.Error("all of them were looked through")
	}
	if all, ok := baskets(prices[:2], 2, 4); !ok || len(all) != 7 { // 0+2, 1+1, 2+0 and 0+3, 1+2, 2+1, 3+0
		t.Errorf("%v %v", all, ok)
	}
}

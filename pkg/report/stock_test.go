package report

import (
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/cutlist"
	"strapwork/pkg/job"
	"strapwork/pkg/stock"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// stocked are the facts of strips of two thicknesses of holly and one of bronze: two of 300 and
// so many of 140 each.
func stocked(t *testing.T, s work.Stock, short int, layup bool) *stockJSON {
	t.Helper()
	p := stock.Params{Stock: s, Height: 3}
	layers := []work.Strip{{Material: "holly", Thickness: 1}, {Material: "bronze", Thickness: 1.2}, {Material: "holly", Thickness: 2}}
	for i, l := range layers {
		for n := range 2 + short {
			length := 140.0
			if n < 2 {
				length = 300
			}
			p.Pieces = append(p.Pieces, stock.Piece{Number: len(p.Pieces) + 1, Run: stock.Run{Strip: i + 1}, Material: l.Material, Thickness: l.Thickness, Length: length})
		}
	}
	if layup {
		p.Layup, p.Pieces = layers, p.Pieces[:2+short]
	}
	plan, found := stock.Make(p, nil)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return newBoards(build.Result{Job: &job.Job{Stock: s}, List: cutlist.List{Height: 3}, Stock: plan})
}

// stocks are facts of stock as jobs have them.
func stocks(t *testing.T) []*stockJSON {
	board := work.StockBoard{Material: "holly", Length: 600, Width: 20, Thickness: 6, Price: 4}
	small := work.StockBoard{Material: "holly", Length: 310, Width: 8, Thickness: 6, Price: 2}
	sheet := work.StockBoard{Material: "bronze", Length: 610, Width: 8, Thickness: 1.2}
	var all []*stockJSON
	for _, s := range []work.Stock{
		{Kerf: 1},
		{Kerf: 1, Sanding: 0.1, Spares: 0.5, Boards: []work.StockBoard{board, sheet}},
		{Kerf: 1, Match: true, Boards: []work.StockBoard{small, board}},
		{Kerf: 1, Boards: []work.StockBoard{{Material: "holly", Length: 600, Width: 2, Thickness: 40}, {Material: "bronze", Length: 600, Width: 90, Thickness: 1.5}}},
	} {
		all = append(all, stocked(t, s, 12, false))
	}
	all = append(all, stocked(t, work.Stock{Kerf: 1, Boards: []work.StockBoard{board, sheet}}, 3, true))
	open := stocked(t, work.Stock{Kerf: 1, Match: true, Boards: []work.StockBoard{board, sheet}}, 12, false)
	for i := range open.Materials { // what no small job leaves open
		open.Materials[i].Proved, open.Materials[i].Bound = false, 1
	}
	mixed := stocked(t, work.Stock{Kerf: 1, Boards: []work.StockBoard{board, small}}, 3, false)
	m := &mixed.Materials[0] // as if both kinds were taken, of which one gives no strips of one thickness
	m.Buy, m.Kinds = append(m.Buy, m.Buy...), append(m.Kinds, giving{Yields: make([]yieldFacts, 1)})
	return append(all, open, mixed)
}

// TestStockIsPrinted: the sheet says what to buy, how it is ripped, what is cut from it and what is left.
func TestStockIsPrinted(t *testing.T) {
	all := stocks(t)
	for i, wants := range [][]string{
		{"| holly | 1 thick, 3 high | 14 | 2.29 m | 92 cm² of sheet or veneer 1 thick |", "as [[stock.board]]"},
		{"one spare to 2 pieces", "14 + 7 spare", "x 1.2: 1 slice of 2 strips off its face: 2.", "not: it is as thick as the strip", "no fewer boards do", "2 off the face, 1.2 thick; sand to 1", "| board | thick | cut, mm: pieces | left |"},
		{"The strips of one run come from one board."},
		{"600 x 2 x 40, strips 1 thick: 1 slice of 10 strips off its edge: 10.", "not: thin it to 1.2"},
		{"Lay-ups are glued 600 mm long", "| 1 | 300.0: 1; 140.0: 3, 4 |", "cut, mm: lay-ups"},
		{"ruled out, and nothing between was found"},
		{"no choice of these boards costs less"},
	} {
		text, err := printed(unit.MM, "strips-stock", &facts{manifest: manifest{Boards: all[i]}})
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("%d: no %q in\n%s", i, want, text)
			}
		}
	}
}

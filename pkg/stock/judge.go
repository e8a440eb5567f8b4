package stock

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/wood"
	"strapwork/pkg/work"
)

// Rules of findings.
const (
	ruleMaterial = "stock-material"
	ruleShort    = "board-too-short"
	ruleSmall    = "board-too-small"
	ruleFew      = "boards-too-few"
	ruleMatch    = "stock-match"
)

// checkMaterials reports boards of what no strip is of.
func (w *planner) checkMaterials(pieces []Piece) {
	names := materials(pieces)
	for _, b := range w.Stock.Boards {
		if len(names) == 0 || slices.ContainsFunc(names, func(n string) bool { return called(n) == called(b.Material) }) {
			continue
		}
		if _, ok := wood.Find(b.Material); ok {
			w.found.Warnf(b.Key+".material", ruleMaterial, "no strip is of %s, so that this board isn't used", b.Material).
				Hintf("strips are of %s", strings.Join(names, ", "))
			continue
		}
		f := w.found.Errorf(b.Key+".material", ruleMaterial, "%q is a material that no strip is of and that isn't known", b.Material)
		if near := diag.Nearest(strings.ToLower(b.Material), names); near != "" {
			f.Hintf("did you mean %q? Strips are of %s", near, strings.Join(names, ", "))
		} else {
			f.Hintf("name it as [inlay] strips does: %s", strings.Join(names, ", "))
		}
	}
}

// suits reports strips that no board gives, and pieces that none is long enough for.
func (w *planner) suits(m Material, own [][]Piece, boards []int) bool {
	ok := true
	for i, s := range m.Strips {
		var long float64
		for _, k := range boards {
			if b := w.Stock.Boards[k]; w.share(b, s.Thickness, true) > 0 {
				long = math.Max(long, b.Length)
			}
		}
		if long == 0 {
			ok = false
			w.found.Errorf(w.Stock.Boards[boards[0]].Key, ruleSmall, "no board of %s gives strips %s thick and %s high", m.Name, unit.Len(s.Thickness), unit.Len(w.height)).
				Hintf("a board must be that thick and that wide at least, one way or the other: thickness = %s and width = %s or more", unit.AtLeast(s.Thickness).Typed(), unit.AtLeast(w.height).Typed())
			continue
		}
		ok = w.long(own[i], long, "strip of "+m.Name, w.Stock.Boards[boards[0]].Key) && ok
	}
	return ok
}

// long reports the pieces that are longer than the longest board.
func (w *planner) long(pieces []Piece, board float64, of string, key diag.Key) bool {
	var list []string
	most := 0.0
	for _, p := range pieces {
		if up(p.Length, tenth) <= down(board, tenth) {
			continue
		}
		if most = math.Max(most, float64(up(p.Length, tenth))/tenth); p.Number > 0 {
			list = append(list, fmt.Sprint(p.Number))
		}
	}
	if most == 0 {
		return true
	}
	const shown = 5
	if n := len(list); n > shown {
		list = append(list[:shown:shown], fmt.Sprintf("%d more", n-shown))
	}
	what := "pieces"
	if len(list) == 1 {
		what = "piece"
	}
	w.found.Errorf(key, ruleShort, "no board is long enough for %s %s, a %s cut to %s: the longest is %s", what, strings.Join(list, ", "), of, unit.AtLeast(most), unit.AtMost(board)).
		Hintf("give a board with length = %s or more, or take the boards of it out of the job to see what to buy", unit.AtLeast(most).Typed())
	return false
}

// checkCount warns of boards of which more are taken than there are.
func (w *planner) checkCount(m Material) {
	for _, t := range m.Bought {
		if b := w.Stock.Boards[t.Of]; b.Count > 0 && t.Count > b.Count {
			w.found.Warnf(b.Key+".count", ruleFew, "the strips of %s take %s, and there are %d", m.Name, unit.Count(t.Count, "such board"), b.Count).
				Hintf("buy %d more, or write count = %d once you have them", t.Count-b.Count, t.Count)
		}
	}
	if w.Stock.Match && len(m.Boards) > 0 && !w.keeps(m) {
		w.found.Warnf("stock.match", ruleMatch, "the strips of %s can't be kept to one board for each run, since a run takes more than that", m.Name).
			Hintf("they are cut from the fewest boards; give a larger board to match them")
	}
}

// keeps reports whether each run is from one board.
func (w *planner) keeps(m Material) bool {
	run := map[int]Run{}
	for _, p := range w.Pieces {
		run[p.Number] = p.Run
	}
	from := map[Run]int{}
	for _, s := range m.Strips {
		for _, k := range s.Sticks {
			for _, c := range k.Cuts {
				for _, n := range c.Pieces {
					if r, ok := run[n]; ok && len(w.Layup) == 0 {
						if was := from[r]; was != 0 && was != k.Board {
							return false
						}
						from[r] = k.Board
					}
				}
			}
		}
	}
	return true
}

// Yields are what a board gives of strips of a thickness, off the edge and off the face.
func Yields(s work.Stock, b work.StockBoard, thickness, height float64) (edge, face Yield) {
	own := saw{s.Kerf, s.Sanding, height}
	return own.yield(b, thickness, OffEdge), own.yield(b, thickness, OffFace)
}

package dryrun

// From patches that are gouged to places: those that hang together are one.

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"strapwork/pkg/diag"
)

// mostWorst is how many of a place's patches have their gouge measured, those
// first where a point of the rim was found furthest out.
const mostWorst = 4

// gougePlace is patches that hang together.
type gougePlace struct {
	Spot
	col   int32
	worst []*gouged
}

// places are what is gouged, by the first line that does it. The first of them
// and the worst are measured.
func (g *gouger) places() []gougePlace {
	keys := slices.SortedFunc(maps.Keys(g.patches), func(a, b [2]int32) int {
		return cmp.Or(cmp.Compare(a[1], b[1]), cmp.Compare(a[0], b[0]))
	})
	var list []gougePlace
	done := map[[2]int32]bool{}
	for _, k := range keys {
		if !done[k] {
			list = append(list, newPlace(g.joined(k, done)))
		}
	}
	slices.SortStableFunc(list, func(a, b gougePlace) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.col, b.col))
	})
	worst := 0
	for i := range list {
		if list[i].Amount > list[worst].Amount {
			worst = i
		}
	}
	for i := range list {
		if i < toldMost || i == worst {
			list[i].measure(g.wall)
		}
	}
	return list
}

// joined lists the patches that hang together with one, it first.
func (g *gouger) joined(k [2]int32, done map[[2]int32]bool) []*gouged {
	var list []*gouged
	done[k] = true
	for queue := [][2]int32{k}; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		list = append(list, g.patches[at])
		for dy := int32(-1); dy <= 1; dy++ {
			for dx := int32(-1); dx <= 1; dx++ {
				n := [2]int32{at[0] + dx, at[1] + dy}
				if g.patches[n] != nil && !done[n] {
					done[n] = true
					queue = append(queue, n)
				}
			}
		}
	}
	return list
}

func newPlace(patches []*gouged) gougePlace {
	var p gougePlace
	for _, g := range patches {
		if p.Line == 0 || int(g.first) < p.Line {
			p.Line, p.col = int(g.first), g.firstCol
		}
		p.Moves += g.moves
		p.Depth = max(p.Depth, g.depth)
		if g.worst.amount > p.Amount {
			p.Amount, p.At = g.worst.amount, g.worst.at
		}
	}
	slices.SortStableFunc(patches, func(a, b *gouged) int { return cmp.Compare(b.worst.amount, a.worst.amount) })
	p.worst = patches[:min(len(patches), mostWorst)]
	return p
}

// measure finds by areas how far the worst moves really go beyond the groove.
func (p *gougePlace) measure(w *wall) {
	for i, g := range p.worst {
		o, cut := w.measure(g.path)
		if i == 0 || o.amount > p.Amount {
			p.Amount, p.At, p.Area, p.Loops = o.amount, o.at, cut.Area(), cut.Loops()
		}
	}
}

// tellGouges takes the gouges into the report.
func (j *judge) tellGouges() {
	fs := &j.report.Findings
	for i, p := range j.gouger.places() {
		j.report.Gouges = append(j.report.Gouges, p.Spot)
		if p.Amount > j.report.GougeMax.Amount {
			j.report.GougeMax = p.Spot
		}
		if i < toldMost {
			pos := diag.Position{File: j.tally.file, Line: p.Line, Col: int(p.col)}
			fs.Errorf(pos, "gouge", "cuts %s mm beyond the groove at %s, %s mm deep%s", fine(p.Amount), place(p.At), mm(p.Depth), andMore(p.Moves)).
				Hintf("%s", j.gougeHint()).SetAt(p.At.X, p.At.Y)
		}
	}
	if n := len(j.report.Gouges) - toldMost; n > 0 {
		j.tellMorePlaces("gouge", n)
	}
}

// tellMorePlaces counts the places of one rule that are not told.
func (j *judge) tellMorePlaces(rule string, n int) {
	fs := &j.report.Findings
	pos := diag.Position{File: j.tally.file, Line: max(1, int(j.lastLine))}
	fs.Errorf(pos, rule, "%s more of this kind (%s) are not told", count(n, "place"), rule).
		Hintf("mend those above and run it again")
}

func (j *judge) gougeHint() string {
	if s := j.scaleHint(); s != "" {
		return s[len("; "):]
	}
	return fmt.Sprintf("look at that line's X, Y, I and J words, at the zero, and whether the bit's slot of %s mm is the one meant", mm(j.w.Bit.Slot))
}

// fine is a small length for a message, to a ten-thousandth.
func fine(v float64) string { return decimals(v, 4) }

package dryrun

// From patches that are gouged to places: those that hang together are one.

import (
	"cmp"
	"maps"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

const (
	// mostMeasured bounds how many paths of a place have what they cut measured,
	// those that were found to go furthest. Only a program that is nearly all at
	// fault has so many.
	mostMeasured = 500

	// longAs is for how many short paths a long one counts: long ones cross each
	// other, which makes areas dear.
	longAs = 20
)

// mostWorst is how many places are measured because they may be the worst, reported
// or not.
const mostWorst = 5

// gougePlace is patches that hang together.
type gougePlace struct {
	Deviation
	col     int32
	measure bool
	paths   []badPath // the strokes that gouge there
	blend   float64   // the most by which the machine may leave one of them
}

// places are what is gouged, by the first line that does it. The first of them
// and the worst are measured.
func (g *gouger) places() []*gougePlace {
	keys := slices.SortedFunc(maps.Keys(g.patches), func(a, b [2]int32) int {
		return cmp.Or(cmp.Compare(a[1], b[1]), cmp.Compare(a[0], b[0]))
	})
	var list []*gougePlace
	for _, k := range keys {
		if g.patches[k].place == nil {
			list = append(list, g.join(k))
		}
	}
	if len(list) == 0 {
		return nil
	}
	slices.SortStableFunc(list, func(a, b *gougePlace) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.col, b.col))
	})
	for i, p := range list {
		p.measure = i < reportedMost
	}
	worst := slices.Clone(list)
	slices.SortStableFunc(worst, func(a, b *gougePlace) int { return cmp.Compare(b.Amount, a.Amount) })
	for _, p := range worst[:min(len(worst), mostWorst)] {
		p.measure = true
	}
	g.measure(list)
	return list
}

// join makes a place of a patch and all that hang together with it.
func (g *gouger) join(k [2]int32) *gougePlace {
	p := &gougePlace{}
	g.patches[k].place = p
	for queue := [][2]int32{k}; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		p.take(g.patches[at])
		for dy := int32(-1); dy <= 1; dy++ {
			for dx := int32(-1); dx <= 1; dx++ {
				n := [2]int32{at[0] + dx, at[1] + dy}
				if q := g.patches[n]; q != nil && q.place == nil {
					q.place = p
					queue = append(queue, n)
				}
			}
		}
	}
	return p
}

// take counts what a patch suffers.
func (p *gougePlace) take(g *gouged) {
	if p.Line == 0 || int(g.first) < p.Line {
		p.Line, p.col = int(g.first), g.firstCol
	}
	p.Moves += g.moves
	p.Depth = max(p.Depth, g.depth)
	if g.worst.amount > p.Amount {
		p.Amount, p.At = g.worst.amount, g.worst.at
	}
}

// measure finds by areas what is cut beyond the groove in those places that
// want it.
func (g *gouger) measure(list []*gougePlace) {
	for i := range g.table.n {
		s := g.table.at(i)
		if s.gouge == 0 {
			continue
		}
		p := g.patches[g.patch(g.bad[s.gouge-1].at)].place
		if p.measure {
			p.paths = append(p.paths, badPath{int32(i), g.bad[s.gouge-1].amount})
			p.blend = max(p.blend, float64(s.blend))
		}
	}
	for _, p := range list {
		p.AtLeast = true
		if !p.measure {
			continue
		}
		paths, all := g.worst(p.paths)
		o, cut := g.wallFor(p.blend).measure(paths...)
		p.Area, p.Loops, p.AtLeast = cut.Area(), cut.Loops(), !all
		if o.amount > p.Amount {
			p.Amount, p.At = o.amount, o.at
		}
	}
}

// badPath is a stroke that gouges, and by how much at least.
type badPath struct {
	number int32
	amount float64
}

// worst are the paths of a place, or as many of the worst of them as are
// measured, in their order.
func (g *gouger) worst(paths []badPath) (edges []geom.Edge, all bool) {
	slices.SortFunc(paths, func(a, b badPath) int {
		return cmp.Or(cmp.Compare(b.amount, a.amount), cmp.Compare(a.number, b.number))
	})
	n := 0
	for cost := 0; n < len(paths) && cost < mostMeasured; n++ {
		if cost++; !isSmall(g.table.at(int(paths[n].number)).Edge) {
			cost += longAs - 1
		}
	}
	all = n == len(paths)
	paths = paths[:n]
	slices.SortFunc(paths, func(a, b badPath) int { return cmp.Compare(a.number, b.number) })
	var f fuser
	for _, p := range paths {
		f.add(g.table.at(int(p.number)).Edge)
	}
	f.flush()
	return f.out, all
}

// reportGouges takes the gouges into the report.
func (j *judge) reportGouges() {
	fs := &j.report.Findings
	for i, p := range j.gouger.places() {
		j.report.Gouges = append(j.report.Gouges, p.Deviation)
		if p.Amount > j.report.GougeMax.Amount {
			j.report.GougeMax = p.Deviation
		}
		if i < reportedMost {
			pos := diag.Position{File: j.tally.file, Line: p.Line, Col: int(p.col)}
			fs.ErrorAt(pos, "gouge", "cuts %s%s beyond the groove at %s, %s deep%s", atLeast(p.AtLeast), unit.Len(p.Amount), place(p.At), unit.Len(p.Depth), andMore(p.Moves)).
				Hintf("%s", j.gougeHint()).SetAt(p.At.X, p.At.Y)
		}
	}
	if n := len(j.report.Gouges) - reportedMost; n > 0 {
		j.reportMorePlaces("gouge", n)
	}
}

// reportMorePlaces counts the places of one rule that are not reported.
func (j *judge) reportMorePlaces(rule string, n int) {
	fs := &j.report.Findings
	pos := diag.Position{File: j.tally.file, Line: max(1, int(j.lastLine))}
	fs.ErrorAt(pos, rule, "%s more of this kind (%s) not shown", unit.Count(n, "place"), rule).
		Hintf("fix those above and run it again")
}

func (j *judge) gougeHint() unit.Text {
	if guess := j.otherwise(); guess.String() != "" {
		return guess
	}
	return unit.Say("check that line's X, Y, I and J words, the zero, and that the bit's slot of %s is the one meant", unit.Len(j.w.Bit.Slot))
}

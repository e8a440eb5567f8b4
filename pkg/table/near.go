package table

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

const (
	steepest = 75 * math.Pi / 180 // a passing beyond it is refused: its groove has hardly an edge
	steep    = 60 * math.Pi / 180 // a passing beyond it is hard to keep from breaking out

	// crossingClear is how far in mm a crossing's overlap stays from a joint, unless it may lie
	// on it: a shorter end of the upper strip breaks off (common practice).
	crossingClear = 2.0
)

// near reports what comes too close to a joint, or passes it too slantingly.
func (t *Table) near(found *diag.Findings) {
	turns := t.nearings()
	t.comesNear(turns, found)
	t.passSteeply(turns, found)
	t.roundEnds(found)
	said := map[string]bool{} // crossings of the motif, which stand at every station
	for n := range t.Sections {
		t.crossNear(n, said, found)
	}
}

// passSteeply reports the passing that is the most slanting, if it is too slanting, and how
// many more are, but for those of strands that turn back beside the joint: turns are these.
func (t Table) passSteeply(turns []nearing, found *diag.Findings) {
	var worst Passing
	count := 0
	seen := map[string]bool{} // places of the motif, which stand at every station
	for _, p := range t.Passings {
		a := math.Abs(p.Angle)
		if a < steep+angleMeet || t.turnsBack(p, turns) {
			continue
		}
		if a > math.Abs(worst.Angle)+angleMeet {
			worst = p
		}
		if here := motif.Place(t.place(p)).String(); !seen[here] {
			seen[here] = true
			count++
		}
	}
	if count == 0 {
		return
	}
	at, more := t.place(worst), ""
	if count > 1 {
		more = "; " + unit.Count(count, "passing") + " in all are at more than 60"
	}
	const hint = "turn or move the motif so that its strands pass joints at 60 degrees or less"
	e := t.edgeName(edge{worst.Kind, worst.Side, false})
	if math.Abs(worst.Angle) > steepest+angleMeet {
		found.Errorf("table", ruleAngle, "a strand passes %s %s from the front at %s degrees from square: more than 75 degrees%s", e, unit.Len(worst.Y), degrees(math.Abs(worst.Angle)), more).
			SetAt(at.X, at.Y).Hintf(hint)
		return
	}
	found.Warnf("table", ruleAngle, "a strand passes %s %s from the front at %s degrees from square: the groove's edge is sharp there, and breaks out%s", e, unit.Len(worst.Y), degrees(math.Abs(worst.Angle)), more).
		SetAt(at.X, at.Y).Hintf("clamp scrap to the edge; or " + hint)
}

// place is a passing's in the motif's coordinates at the station nearest to it.
func (t Table) place(p Passing) geom.Point {
	n := t.Kinds[p.Kind].First
	left, right := t.Ends(n)
	at := geom.Pt(left, p.Y)
	if p.Side == work.Right {
		at.X = right
	}
	return t.inMotif(at)
}

// inMotif is a place of the top in the motif's coordinates, at the nearest station.
func (t Table) inMotif(at geom.Point) geom.Point {
	best, least := geom.Point{}, math.Inf(1)
	for _, s := range t.Stations {
		if d := s.At.Dist(at); d < least {
			best, least = s.At, d
		}
	}
	return at.Sub(best)
}

// A nearing is where a strand turns back, or ends, too near a joint.
type nearing struct {
	strand int
	off    float64 // from the joint to the band's side; negative where the band lies over it
	turningPoint
}

// turnsBack reports whether a passing's strand goes on from there, or comes, nearly straight
// where it turns back beside the joint.
func (t Table) turnsBack(p Passing, turns []nearing) bool {
	const straight = 1.05 // of a way to the distance: an arc of 60 degrees has as much
	strand, s, at := t.passes(p)
	own := t.Top.Strands[strand]
	for _, c := range turns {
		way := math.Abs(c.s - wrapped(own, s))
		if own.Contour.Closed {
			way = min(way, own.Length()-way)
		}
		if c.strand == strand && way <= straight*at.Dist(c.at) {
			return true
		}
	}
	return false
}

// nearings are where strands turn back, or end, so near a joint that their bands are within
// clear of it or over it.
func (t Table) nearings() (all []nearing) {
	for n, s := range t.Top.Strands {
		for _, p := range turningPoints(s) {
			for _, x := range t.Joints {
				if d := math.Abs(p.at.X-x) - t.Groove/2; d < t.clear()-geom.Coincident {
					all = append(all, nearing{n, d, p})
				}
			}
		}
	}
	return all
}

// comesNear reports the nearest of them, and where else it is so.
func (t Table) comesNear(turns []nearing, found *diag.Findings) {
	if len(turns) == 0 {
		return
	}
	seen := map[string]bool{} // places of the motif, which stand at every station
	var places []geom.Point
	worst := slices.MinFunc(turns, func(a, b nearing) int {
		if math.Abs(a.off-b.off) < likeness {
			return 0
		}
		return cmp.Compare(a.off, b.off)
	})
	for _, c := range append([]nearing{worst}, turns...) {
		at := t.inMotif(c.at)
		if here := motif.Place(at).String(); !seen[here] {
			seen[here] = true
			places = append(places, at)
		}
	}
	name, at, more := t.Top.NameAt(worst.strand, worst.s), places[0], ""
	if len(places) > 1 {
		more = "; " + unit.Count(len(places), "such place") + " in all"
	}
	f := found.Errorf("table", ruleNear, "%s comes within %s of a joint at %s without crossing it: at least %s must be left%s", name, unit.AtMost(math.Max(0, worst.off)), motif.Place(at), unit.AtLeast(t.clear()), more).
		SetAt(at.X, at.Y).Hintf("move the motif by %s along the table, or change it there", unit.AtLeast(t.clear()-worst.off))
	for _, p := range places[1:] {
		f.AlsoAt(p.X, p.Y)
	}
}

// A turning point is where a strand stops nearing a joint: a vertical tangent, a corner, or
// a free end.
type turningPoint struct {
	at geom.Point
	s  float64
}

func turningPoints(s motif.Strand) (all []turningPoint) {
	n := s.Contour.Len()
	for i := range n {
		e := s.Contour.Edge(i)
		if !e.IsLine() {
			for _, sign := range [2]float64{-1, 1} {
				p := e.Center().Add(geom.Pt(sign*e.Radius(), 0))
				if f := e.Param(p); f > 0 && f < 1 && e.At(f).Near(p, geom.Coincident) {
					all = append(all, turningPoint{p, s.Offsets()[i] + f*e.Length()})
				}
			}
		}
		prev := i - 1
		switch {
		case prev < 0 && !s.Contour.Closed:
			all = append(all, turningPoint{e.A, 0})
			continue
		case prev < 0:
			prev = n - 1
		}
		if before, after := leans(s.Contour.Edge(prev), 1), leans(e, 0); before*after <= 0 && math.Abs(before)+math.Abs(after) > tiny {
			all = append(all, turningPoint{e.A, s.Offsets()[i]})
		}
	}
	if !s.Contour.Closed {
		all = append(all, turningPoint{s.Contour.End(), s.Length()})
	}
	return all
}

// leans is how an edge goes along the table at one of its ends, 0 or 1: a curve that is square
// to the table there, how it goes just inside.
func leans(e geom.Edge, end float64) float64 {
	const inside = 0.01
	if x := e.Tangent(end).X; math.Abs(x) > tiny || e.IsLine() {
		return x
	}
	return e.Tangent(math.Abs(end - inside)).X
}

// roundEnds reports bands that come too near a half round.
func (t Table) roundEnds(found *diag.Findings) {
	r := t.Table.Width / 2
	for n := range t.Sections {
		kind := t.KindOf(n)
		left, right := t.Ends(n)
		for side, round := range kind.Round {
			if !round {
				continue
			}
			mid := geom.Pt(left+r, r)
			if work.Side(side) == work.Right {
				mid.X = right - r
			}
			for _, st := range t.Sections[n].Stretches {
				own := part("", t.Top.Strands[st.Strand], st.From, st.To)
				far, at := 0.0, geom.Point{}
				for _, e := range own.Contour.Edges() {
					for _, p := range furthest(e, mid) {
						if beyond := work.Side(side) == work.Left && p.X < mid.X || work.Side(side) == work.Right && p.X > mid.X; beyond && p.Dist(mid) > far {
							far, at = p.Dist(mid), p
						}
					}
				}
				if over := far + t.Groove/2 + t.clear() - r; over > geom.Coincident {
					at = t.inMotif(at)
					found.Errorf(kind.Key+".end", ruleReach, "the motif comes to %s from the round end of %s at %s: at least %s must be left", unit.Len(r-far-t.Groove/2), kind.Name, motif.Place(at), unit.AtLeast(t.clear())).
						SetAt(at.X, at.Y).Hintf("make %s longer by %s, or the motif smaller", kind.Name, unit.AtLeast(over))
					return
				}
			}
		}
	}
}

// furthest are the points of an edge that may be the furthest from a place.
func furthest(e geom.Edge, from geom.Point) []geom.Point {
	all := []geom.Point{e.A, e.B}
	if e.IsLine() || e.Center() == from {
		return all
	}
	p := e.Center().Add(e.Center().Sub(from).Unit().Scale(e.Radius()))
	if f := e.Param(p); f > 0 && f < 1 {
		all = append(all, p)
	}
	return all
}

// crossNear reports crossings whose overlap comes too close to a joint, or marks those that
// may lie across it.
func (t *Table) crossNear(n int, said map[string]bool, found *diag.Findings) {
	for i := range t.Sections[n].Crossings {
		c := &t.Sections[n].Crossings[i]
		top := t.Weave.Crossings[c.Top]
		half := t.overlap(top)
		for j, x := range t.Joints {
			d := math.Abs(top.At.X-x) - half
			if d >= crossingClear-geom.Coincident {
				continue
			}
			if t.Table.JointCrossings {
				if d < 0 {
					c.Joint = j
				}
				continue
			}
			at := t.inMotif(top.At)
			away := "right"
			if top.At.X < x {
				away = "left"
			}
			if here := motif.Place(at).String(); !said[here] {
				said[here] = true
				found.Errorf("table", ruleCrossing, "the crossing at %s lies %s a joint: its overlap must stay %s clear of it", motif.Place(at), apart(d), unit.Len(crossingClear)).
					SetAt(at.X, at.Y).Hintf("move it by %s to the %s; or write joint_crossings = true, and the upper strips end at the joint like the rest", unit.AtLeast(crossingClear-d), away)
			}
		}
	}
}

// apart says how far something is from a joint.
func apart(d float64) unit.Text {
	if d <= 0 {
		return unit.Say("across")
	}
	return unit.Say("%s from", unit.AtMost(d))
}

// overlap is how far to either side of a crossing its two bands lie over one another, along
// the table.
func (t Table) overlap(c weave.Crossing) float64 {
	var sum float64
	for _, v := range c.Visits {
		_, u := t.Top.Strands[v.Strand].Contour.At(v.S)
		sum += math.Abs(u.X)
	}
	return t.Groove / 2 / math.Sin(math.Max(c.Angle, angleMeet)) * sum
}

// MostShown is how many arrangements are drawn.
const MostShown = 12

// Shown are the arrangements of which pictures are made: all, or where there are more than
// most the one without leaves, the one with all, and what lies evenly between.
func (t Table) Shown(most int) (list []Arrangement) {
	n := len(t.Arrangements)
	if n <= most {
		return slices.Clone(t.Arrangements)
	}
	for i := range most {
		list = append(list, t.Arrangements[i*(n-1)/(most-1)])
	}
	return list
}

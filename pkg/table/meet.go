package table

import (
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// Meet is how far apart in mm the passings of two edges may lie that ought to be alike: as
// computed they differ by rounding only.
const Meet = 1e-6

// joinedMeet is that where ends of different stations were joined: each by half of what they
// may be apart.
const joinedMeet = 0.05

// An edge is one that can meet others. A turned leaf's are its own, end for end.
type edge struct {
	kind   int
	side   work.Side // as it lies
	turned bool
}

// pairs are the edges that can meet, the right one of a section with the left one of the
// next, each pair once, in the order of the table.
func (t Table) pairs() (all [][2]edge) {
	seen := map[[2]edge]bool{}
	for i := range t.Sections {
		for j := i + 1; j < len(t.Sections); j++ {
			for _, a := range t.ways(i) {
				for _, b := range t.ways(j) {
					p := [2]edge{{t.Sections[i].Kind, work.Right, a}, {t.Sections[j].Kind, work.Left, b}}
					if !seen[p] {
						seen[p] = true
						all = append(all, p)
					}
				}
			}
			if !t.KindOf(j).Loose {
				break
			}
		}
	}
	return all
}

// ways are how a section can be put in.
func (t Table) ways(section int) []bool {
	if t.Table.TurnLeaves && t.KindOf(section).Loose {
		return []bool{false, true}
	}
	return []bool{false}
}

// on are the passings of an edge as it lies, from the front.
func (t Table) on(e edge) []Passing {
	if !e.turned {
		return t.Of(e.kind, e.side)
	}
	list := t.Of(e.kind, e.side.Other())
	slices.Reverse(list)
	for i := range list {
		p := &list[i]
		p.Side, p.Y, p.Curvature = e.side, t.Table.Width-p.Y, -p.Curvature
		p.Strips = slices.Clone(p.Strips)
		slices.Reverse(p.Strips)
	}
	return fromFront(list)
}

// meet reports the first edges that would have to be alike and aren't, and how many more are not:
// what makes one differ makes others.
func (t *Table) meet(found *diag.Findings) {
	pairs := t.pairs()
	mates := map[edge][]edge{} // by what they can meet
	var order []edge
	for _, p := range pairs {
		for k := range p {
			if mates[p[1-k]] == nil {
				order = append(order, p[1-k])
			}
			mates[p[1-k]] = append(mates[p[1-k]], p[k])
		}
	}
	var all diag.Findings
	said := map[[2]edge]bool{}
	for _, e := range order {
		list := mates[e]
		for _, other := range list[1:] {
			if p := [2]edge{list[0], other}; !said[p] {
				said[p] = true
				t.compare(list[0], other, &all)
			}
		}
	}
	if len(all) > 1 {
		all[0].Addf("; %s of edges in all differ", unit.Count(len(all), "pair"))
	}
	found.Add(all[:min(1, len(all))]...)
}

// compare reports where two edges that meet the same one differ.
func (t Table) compare(a, b edge, found *diag.Findings) {
	p, q := t.on(a), t.on(b)
	near := Meet
	if len(t.Table.Stations) > 0 || t.moved {
		near = joinedMeet
	}
	for i := range max(len(p), len(q)) {
		var what unit.Text
		var at Passing
		strips := false
		switch {
		case i >= len(p):
			at, what = q[i], unit.Say("only %s has it", t.edgeName(b))
		case i >= len(q):
			at, what = p[i], unit.Say("only %s has it", t.edgeName(a))
		case math.Abs(p[i].Y-q[i].Y) > near:
			at, what = p[i], unit.Say("on %s it lies %s from the front", t.edgeName(b), unit.Len(q[i].Y))
		case math.Abs(p[i].Angle-q[i].Angle) > angleMeet:
			at, what = p[i], unit.Say("it passes there at %s degrees, on %s at %s", degrees(p[i].Angle), t.edgeName(b), degrees(q[i].Angle))
		case math.Abs(p[i].Curvature-q[i].Curvature) > bendMeet:
			at, what = p[i], unit.Say("its curve differs from that on %s", t.edgeName(b))
		case !slices.EqualFunc(p[i].Strips, q[i].Strips, sameStrip):
			strips = true
			at, what = p[i], unit.Say("its strips lie in the other order than on %s", t.edgeName(b))
		default:
			continue
		}
		found.Errorf(t.Kinds[a.kind].Key, ruleMeet, "the strands don't meet in every arrangement: the one that passes %s %s from the front does not match: %s",
			t.edgeName(a), unit.Len(at.Y), what).
			Hintf("%s", t.alikeHint(a.turned || b.turned, strips))
		return
	}
}

// alikeHint is what makes edges alike: of leaves that are turned end for end, of strips that
// lie in the other order then, or of stations of one's own.
func (t Table) alikeHint(turned, strips bool) unit.Text {
	const without = "; or leave turn_leaves out"
	switch {
	case !turned:
		return unit.Say("lay the motif alike on all joints: stations = \"joints\"")
	case strips:
		return unit.Say("make the lay-up the same from both of its sides" + without)
	case math.Abs(t.Table.Across-t.Table.Width/2) > Meet && len(t.Table.Stations) == 0:
		return unit.Say("lay the motif's origin in the middle of the joints, across = %s, and make the motif the same end for end"+without, unit.Len(t.Table.Width/2).Typed())
	}
	return unit.Say("make the motif the same end for end: [motif] copies = 2, its middle in the middle of the joints" + without)
}

// Angles in radians and curvatures in 1/mm that are one: far above rounding, far below what
// anybody sees.
const (
	angleMeet = 1e-4
	bendMeet  = 1e-5
)

func sameStrip(a, b work.Strip) bool {
	return a.Material == b.Material && math.Abs(a.Thickness-b.Thickness) < geom.Coincident
}

// edgeName is an edge in a sentence.
func (t Table) edgeName(e edge) string {
	s := "the " + e.side.String() + " edge of " + t.Kinds[e.kind].Name
	if e.turned {
		s += ", turned end for end,"
	}
	return s
}

// degrees is an angle for people.
func degrees(a float64) string { return unit.Decimal(a*180/math.Pi, 1) }

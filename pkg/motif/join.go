package motif

// Joining is a matching of ends. Ends within Joint of one another are gathered
// through a spatial index; two make a joint, four make two where only one way
// of pairing them is smooth, all else is an error. What meets is carried over
// to every copy, so that copies are joined alike. Strands are then followed
// from end to end.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// free is the mate of an end that is joined to nothing.
const free = -1

// A link is a piece as a strand runs through it.
type link struct {
	piece    int
	reversed bool
}

// join finds the mate of each end. It returns the ends that nearly meet, one of
// them alone.
func (d *drawing) join() (near [][2]int) {
	places, numbers := d.ends()
	group := make([]int, 2*len(d.pieces)) // of each end: the lowest end of its group, by union
	for i := range group {
		group[i] = i
	}
	done := map[meeting]bool{}
	geom.NewIndex(places).Pairs(NearJoint, func(i, j int) bool {
		a, b := numbers[i], numbers[j]
		switch gap := places[i].Min.Dist(places[j].Min); {
		case gap <= Joint:
			d.everywhere(d.meeting(a, b), done, func(a, b int) { unite(group, a, b) })
		case gap <= NearJoint:
			near = append(near, [2]int{min(a, b), max(a, b)})
		}
		return true
	})
	members := map[int][]int{}
	for _, e := range numbers {
		r := root(group, e)
		members[r] = append(members[r], e)
	}
	d.crowded = make([]bool, 2*len(d.pieces))
	d.mates = slices.Repeat([]int{free}, 2*len(d.pieces))
	done = map[meeting]bool{}
	var crowds [][]int
	for _, e := range numbers { // in order, which the map has not
		m := members[e]
		pairs, ok := d.pairUp(m)
		if !ok {
			crowds = append(crowds, m)
			for _, c := range m {
				d.crowded[c] = true
			}
		}
		if len(pairs) == 2 {
			// The two strands cross, at one place.
			d.crossed = append(d.crossed, d.meeting(pairs[0][0], pairs[1][0]))
		}
		for _, p := range pairs {
			d.everywhere(d.meeting(p[0], p[1]), done, func(a, b int) {
				if d.mates[a] == free && d.mates[b] == free {
					d.mates[a], d.mates[b] = b, a
				}
			})
		}
	}
	d.reportCrowds(crowds)
	alone := func(e int) bool { return len(members[root(group, e)]) == 1 }
	return slices.DeleteFunc(near, func(n [2]int) bool { return !alone(n[0]) && !alone(n[1]) })
}

// A meeting is that of two ends, wherever the copies are: an end of one shape,
// and that of another moved by a member of the group.
type meeting struct {
	shape, side int
	by          int
	other, end  int
}

func (d *drawing) meeting(a, b int) meeting {
	p, q := d.pieces[a/2], d.pieces[b/2]
	return meeting{p.shape, a % 2, d.group.times(d.group.inverse(p.move), q.move), q.shape, b % 2}
}

// reverse is the same meeting seen from the other end.
func (m meeting) reverse(g group) meeting {
	return meeting{m.other, m.end, g.inverse(m.by), m.shape, m.side}
}

// everywhere calls do for each copy of a meeting, unless it was done.
func (d *drawing) everywhere(m meeting, done map[meeting]bool, do func(a, b int)) {
	if done[m] || done[m.reverse(d.group)] {
		return
	}
	done[m] = true
	for k := range d.group.size() {
		a, b := d.pieceEnd(m.shape, k, m.side), d.pieceEnd(m.other, d.group.times(k, m.by), m.end)
		if a != b {
			do(a, b)
		}
	}
}

// pairUp makes joints of a group of ends; not ok where there is no way, or
// more than one.
func (d *drawing) pairUp(ends []int) (joints [][2]int, ok bool) {
	switch len(ends) {
	case 0, 1:
		return nil, true
	case 2:
		return [][2]int{{ends[0], ends[1]}}, true
	case 4:
		if ways := d.smoothWays(ends); len(ways) == 1 && !d.chained(ends) {
			return ways[0], true
		}
	}
	return nil, false
}

// smoothWays are the ways in which four ends make two smooth continuations.
func (d *drawing) smoothWays(e []int) (ways [][][2]int) {
	for _, w := range [3][][2]int{
		{{e[0], e[1]}, {e[2], e[3]}}, {{e[0], e[2]}, {e[1], e[3]}}, {{e[0], e[3]}, {e[1], e[2]}},
	} {
		if d.smooth(w[0]) && d.smooth(w[1]) {
			ways = append(ways, w)
		}
	}
	return ways
}

// smooth reports whether a strand would go on smoothly from one end to another.
func (d *drawing) smooth(joint [2]int) bool {
	return turn(d.lastEdge(joint[0]), d.lastEdge(joint[1]).Reverse()) <= Smooth
}

// lastEdge is the edge at an end, run towards that end.
func (d *drawing) lastEdge(end int) geom.Edge {
	c := d.pieces[end/2].contour
	if end%2 == 0 {
		return c.Edge(0).Reverse()
	}
	return c.Edge(c.Len() - 1)
}

// chained reports whether some ends are further apart than they may be moved,
// and only hang together by those between.
func (d *drawing) chained(ends []int) bool {
	for i, a := range ends {
		for _, b := range ends[:i] {
			if d.at(a).Dist(d.at(b)) > Joint+oneCurve {
				return true
			}
		}
	}
	return false
}

// ends returns the ends of the open pieces as boxes of no size, and the
// number of each.
func (d *drawing) ends() (places []geom.Box, numbers []int) {
	for i, p := range d.pieces {
		if p.contour.Closed {
			continue
		}
		for side, at := range [2]geom.Point{p.contour.Start(), p.contour.End()} {
			places = append(places, geom.Box{Min: at, Max: at})
			numbers = append(numbers, 2*i+side)
		}
	}
	return places, numbers
}

func root(group []int, e int) int {
	for group[e] != e {
		group[e] = group[group[e]]
		e = group[e]
	}
	return e
}

func unite(group []int, a, b int) {
	a, b = root(group, a), root(group, b)
	group[max(a, b)] = min(a, b)
}

// at is where an end lies.
func (d *drawing) at(end int) geom.Point {
	c := d.pieces[end/2].contour
	if end%2 == 0 {
		return c.Start()
	}
	return c.End()
}

// reportCrowds reports each place where three or more ends meet; places that
// are copies of one another are one finding.
func (d *drawing) reportCrowds(crowds [][]int) {
	for _, alike := range d.byElements(crowds) {
		first := alike[0]
		p, pos := d.at(first[0]), d.pieces[first[0]/2].source.Key
		if d.chained(first) {
			f := d.found.Errorf(pos, "ends-chained", "%d ends lie near %s, each within %s of the next but not all of one another: %s%s",
				len(first), Place(p), unit.Len(Joint), d.names(first), elsewhere(len(alike)-1)).
				SetAt(p.X, p.Y).
				Hintf("give those that are meant to meet the same end point, and set the others apart")
			d.alsoAt(f, alike)
			continue
		}
		f := d.found.Errorf(pos, "ends-crowded", "%d ends meet at %s: %s%s",
			len(first), Place(p), d.names(first), elsewhere(len(alike)-1)).SetAt(p.X, p.Y)
		d.alsoAt(f, alike)
		if len(first) != 4 {
			f.Hintf("a strand can go on to one other only: make two of them one path, or let the third end elsewhere")
			continue
		}
		ways := d.smoothWays(first)
		if len(ways) < 2 {
			f.Hintf("a strand can go on to one other only: make two of them one path, or let them meet smoothly, to %.1f degrees, two and two", Smooth*degrees)
			continue
		}
		f.Hintf("they could be joined as %s, or as %s: make one path of those that belong together", d.wayName(ways[0]), d.wayName(ways[1]))
	}
}

// degrees in a radian.
const degrees = 180 / math.Pi

// wayName names the two continuations of a way to pair four ends.
func (d *drawing) wayName(way [][2]int) string {
	name := func(e int) string { return d.pieces[e/2].source.Name }
	return fmt.Sprintf("%s with %s and %s with %s", name(way[0][0]), name(way[0][1]), name(way[1][0]), name(way[1][1]))
}

// reportNear reports free ends that nearly meet another end.
func (d *drawing) reportNear(near [][2]int) {
	var pairs [][]int
	tees := map[[2]int]bool{}
	for _, t := range d.tees {
		tees[[2]int{t.shape, t.side}] = true
	}
	isTee := func(e int) bool { return tees[[2]int{d.pieces[e/2].shape, e % 2}] }
	for _, n := range near {
		a, b := n[0], n[1]
		// The two ends of a piece no longer than twice the gap are simply its
		// ends, not a ring that fails to close.
		stub := a/2 == b/2 && d.pieces[a/2].contour.Length() <= 2*d.at(a).Dist(d.at(b))
		if !stub && !d.pieces[a/2].source.Open && !d.pieces[b/2].source.Open && !isTee(a) && !isTee(b) {
			pairs = append(pairs, []int{a, b})
		}
	}
	slices.SortFunc(pairs, slices.Compare)
	for _, alike := range d.byElements(pairs) {
		a, b := alike[0][0], alike[0][1]
		p, q := d.at(a), d.at(b)
		f := d.found.Errorf(d.pieces[a/2].source.Key, "ends-near", "ends are %s apart, at %s and %s, too far to join: %s%s",
			unit.Len(p.Dist(q)), Place(p), Place(q), d.names(alike[0]), elsewhere(len(alike)-1)).
			SetAt(p.X, p.Y).
			Hintf("give both the same end point (ends join within %s), or write open = true in one of the elements if they are meant to stay apart", unit.AtMost(Joint))
		d.alsoAt(f, alike)
	}
}

// byElements gathers groups of ends that are copies of one another, in the
// order of the first of each.
func (d *drawing) byElements(groups [][]int) [][][]int {
	index := map[string]int{}
	var all [][][]int
	for _, g := range groups {
		var of []string
		for _, e := range g {
			of = append(of, fmt.Sprint(d.pieces[e/2].source.Element, e%2))
		}
		slices.Sort(of)
		key := strings.Join(of, ",")
		i, ok := index[key]
		if !ok {
			i = len(all)
			index[key] = i
			all = append(all, nil)
		}
		all[i] = append(all[i], g)
	}
	return all
}

// mostNames is how many elements are named at one place: copies turned about a point may
// end there by the hundred, and more names than these help nobody to find it.
const mostNames = 12

// names lists the elements that ends belong to, with their lines.
func (d *drawing) names(ends []int) string {
	var list []string
	for _, e := range ends {
		if n := d.pieces[e/2].source.String(); !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	if more := len(list) - mostNames; more > 1 {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:mostNames], ", "), more)
	}
	return strings.Join(list, ", ")
}

// alsoAt adds the places of all groups of ends but the first.
func (d *drawing) alsoAt(f *diag.Finding, alike [][]int) {
	for _, ends := range alike[1:] {
		p := d.at(ends[0])
		f.AlsoAt(p.X, p.Y)
	}
}

func elsewhere(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return ", and at one more place like it"
	}
	return fmt.Sprintf(", and at %d more places like it", n)
}

// follow returns the strand that piece i is the first of, in the direction of
// that piece, and whether it is closed; then it begins with piece i.
func (d *drawing) follow(i int) (links []link, closed bool) {
	if d.pieces[i].contour.Closed {
		return []link{{piece: i}}, true
	}
	links = []link{{piece: i}}
	for e := d.mates[2*i+1]; e != free; e = d.mates[e^1] {
		if e == 2*i {
			return links, true
		}
		links = append(links, link{e / 2, e%2 == 1})
	}
	var before []link
	for e := d.mates[2*i]; e != free; e = d.mates[e^1] {
		before = append(before, link{e / 2, e%2 == 0})
	}
	slices.Reverse(before)
	return append(before, links...), false
}

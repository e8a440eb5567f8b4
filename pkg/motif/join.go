package motif

// Joining is a matching of ends. The ends of all open pieces are numbered: 2i
// is the start of piece i and 2i+1 its end, so that e^1 is the other end of
// the piece that e belongs to. Ends within Joint of each other are gathered
// through a spatial index; two make a joint, more are an error. Strands are
// then followed from end to end.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
)

// free is the mate of an end that is joined to nothing.
const free = -1

// A link is a piece as a strand runs through it.
type link struct {
	piece    int
	reversed bool
}

// joints returns, for each end, the end that it is joined to, or free.
func joints(pieces []piece, found *diag.Findings) []int {
	places, numbers := ends(pieces)
	group := make([]int, 2*len(pieces)) // of each end: the lowest end of its group, by union
	for i := range group {
		group[i] = i
	}
	var near [][2]int
	geom.NewIndex(places).Pairs(NearJoint, func(i, j int) bool {
		switch d := places[i].Min.Dist(places[j].Min); {
		case d <= Joint:
			unite(group, numbers[i], numbers[j])
		case d <= NearJoint:
			near = append(near, [2]int{numbers[i], numbers[j]})
		}
		return true
	})
	members := map[int][]int{}
	for _, e := range numbers {
		r := root(group, e)
		members[r] = append(members[r], e)
	}
	mates := make([]int, 2*len(pieces))
	for i := range mates {
		mates[i] = free
	}
	var crowds [][]int
	for _, e := range numbers { // in order, which the map has not
		switch m := members[e]; {
		case len(m) == 2:
			mates[m[0]], mates[m[1]] = m[1], m[0]
		case len(m) > 2:
			crowds = append(crowds, m)
		}
	}
	reportCrowds(pieces, crowds, found)
	reportNear(pieces, near, members, group, found)
	return mates
}

// ends returns the ends of the open pieces as boxes of no size, and the
// number of each.
func ends(pieces []piece) (places []geom.Box, numbers []int) {
	for i, p := range pieces {
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
func at(pieces []piece, end int) geom.Point {
	c := pieces[end/2].contour
	if end%2 == 0 {
		return c.Start()
	}
	return c.End()
}

// reportCrowds tells of each place where three or more ends meet; places that
// are copies of one another are one finding.
func reportCrowds(pieces []piece, crowds [][]int, found *diag.Findings) {
	for _, alike := range byElements(pieces, crowds) {
		first := alike[0]
		p := at(pieces, first[0])
		found.Errorf(pieces[first[0]/2].source.Pos, "ends-crowded", "%d ends meet at %s: %s%s",
			len(first), Place(p), names(pieces, first), elsewhere(len(alike)-1)).
			SetAt(p.X, p.Y).
			Hintf("a strand can go on in one way only: make two of them one path, or let the third end elsewhere")
	}
}

// reportNear tells of free ends that nearly meet another end.
func reportNear(pieces []piece, near [][2]int, members map[int][]int, group []int, found *diag.Findings) {
	alone := func(e int) bool { return len(members[root(group, e)]) == 1 }
	var pairs [][]int
	for _, n := range near {
		a, b := min(n[0], n[1]), max(n[0], n[1])
		// The two ends of a piece no longer than twice the gap are simply its
		// ends, not a ring that fails to close.
		stub := a/2 == b/2 && pieces[a/2].contour.Length() <= 2*at(pieces, a).Dist(at(pieces, b))
		if (alone(a) || alone(b)) && !stub {
			pairs = append(pairs, []int{a, b})
		}
	}
	slices.SortFunc(pairs, slices.Compare)
	for _, alike := range byElements(pieces, pairs) {
		a, b := alike[0][0], alike[0][1]
		p := at(pieces, a)
		found.Warnf(pieces[a/2].source.Pos, "ends-near", "ends are %s mm apart at %s, too far to join: %s%s",
			number(p.Dist(at(pieces, b))), Place(p), names(pieces, alike[0]), elsewhere(len(alike)-1)).
			SetAt(p.X, p.Y).
			Hintf("give both the same end point; ends join within %g mm", Joint)
	}
}

// byElements gathers groups of ends that are copies of one another, in the
// order of the first of each.
func byElements(pieces []piece, groups [][]int) [][][]int {
	index := map[string]int{}
	var all [][][]int
	for _, g := range groups {
		var of []string
		for _, e := range g {
			of = append(of, fmt.Sprint(pieces[e/2].source.Element, e%2))
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

// names lists the elements that ends belong to, with their lines.
func names(pieces []piece, ends []int) string {
	var list []string
	for _, e := range ends {
		if n := pieces[e/2].source.String(); !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	return strings.Join(list, ", ")
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
func follow(pieces []piece, mates []int, i int) (links []link, closed bool) {
	if pieces[i].contour.Closed {
		return []link{{piece: i}}, true
	}
	links = []link{{piece: i}}
	for e := mates[2*i+1]; e != free; e = mates[e^1] {
		if e == 2*i {
			return links, true
		}
		links = append(links, link{e / 2, e%2 == 1})
	}
	var before []link
	for e := mates[2*i]; e != free; e = mates[e^1] {
		before = append(before, link{e / 2, e%2 == 0})
	}
	slices.Reverse(before)
	return append(before, links...), false
}

// strand chains the links. Joined ends that differ within Joint both move to
// the middle between them; corners are judged on the edges as they were drawn,
// for moving an end would turn a short edge.
func strand(id string, pieces []piece, links []link, closed bool) Strand {
	var edges []geom.Edge
	var sources []int
	for _, l := range links {
		c := pieces[l.piece].contour
		if l.reversed {
			c = c.Reverse()
		}
		for _, e := range c.Edges() {
			edges = append(edges, e)
			sources = append(sources, l.piece)
		}
	}
	c := geom.Chain(closed, edges...)
	corner := make([]bool, len(c.Vertices))
	for i := range edges {
		prev := i - 1
		if i == 0 {
			if !closed {
				continue
			}
			prev = len(edges) - 1
		}
		corner[i] = turn(edges[prev], edges[i]) > Smooth
		if edges[prev].B != edges[i].A {
			c.Vertices[i].Point = edges[prev].B.Lerp(edges[i].A, 0.5)
		}
	}
	return NewStrand(id, c, sources, corner)
}

// turn is the angle in [0, pi] by which the direction of travel turns from
// the end of e to the start of f.
func turn(e, f geom.Edge) float64 {
	u, v := e.Tangent(1), f.Tangent(0)
	return math.Atan2(math.Abs(u.Cross(v)), u.Dot(v))
}

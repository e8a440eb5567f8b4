package motif

import (
	"strapwork/pkg/geom"
)

// places are where the shapes' nodes lie once ends are joined. Nodes that are
// one place, here or in another copy, make a class: one point stands for all
// of them, and what the group makes of it is exact in every copy.
type places struct {
	parent []int // of each node, by union
	by     []int // the member of the group that moves the parent's place to the node's
	loops  map[int][]int
	class  []int // of each node, once they are all united
	lies   []int // and the member that moves the class's point onto the node
	all    []class
	drawn  []geom.Point // of each node
}

// A class is the nodes that one point stands for.
type class struct {
	at     geom.Point
	keeps  []int // the members of the group under which the point must stay where it is
	pinned bool  // the end of a strand on another, which holds it
}

// asDrawn is the spread in mm of a class's nodes under which they are where
// they were drawn: the rounding of expressions, at 100 m. Nothing is moved for it, so
// that a motif drawn exactly keeps its numbers to the last digit.
const asDrawn = 1e-9

// newPlaces unites the nodes that are joined, and those that one copy of a
// shape has in common with another.
func (d *drawing) newPlaces() {
	p := &d.places
	p.loops = map[int][]int{}
	for i := range d.shapes {
		s := &d.shapes[i]
		s.first = len(p.parent)
		for k := range s.nodes() {
			p.parent, p.by = append(p.parent, len(p.parent)), append(p.by, 0)
			p.drawn = append(p.drawn, s.drawn(k))
		}
	}
	for i := range d.shapes {
		d.uniteKept(&d.shapes[i])
	}
	met := d.crossed
	for e, mate := range d.mates {
		if mate > e {
			met = append(met, d.meeting(e, mate))
		}
	}
	for _, m := range met {
		p.unite(d.group, d.shapes[m.shape].end(m.side), d.shapes[m.other].end(m.end), m.by)
	}
	d.classify()
}

// uniteKept unites the nodes of a shape that a member of the group moves onto
// one another.
func (d *drawing) uniteKept(s *shape) {
	for _, a := range s.keeps[1:] {
		for k := range s.nodes() {
			to := d.group.moves[a].Apply(s.drawn(k))
			for j := range s.nodes() {
				if s.drawn(j).Near(to, 2*Joint) {
					d.places.unite(d.group, s.first+j, s.first+k, a)
					break
				}
			}
		}
	}
}

// find is the root of a node, and the member that moves the root's place to the
// node's.
func (p *places) find(g group, x int) (root, by int) {
	for p.parent[x] != x {
		by = g.times(by, p.by[x])
		x = p.parent[x]
	}
	return x, by
}

// unite says that the node x lies where the member a moves the node y.
func (p *places) unite(g group, x, y, a int) {
	r, byX := p.find(g, x)
	q, byY := p.find(g, y)
	back := g.times(g.inverse(byX), g.times(a, byY)) // from q to r
	if r == q {
		if back != 0 {
			p.loops[r] = append(p.loops[r], back)
		}
		return
	}
	p.parent[r], p.by[r] = q, back
	for _, b := range p.loops[r] {
		p.loops[q] = append(p.loops[q], g.times(g.inverse(back), g.times(b, back)))
	}
}

// classify gives each class its point: the average of where its nodes were
// drawn.
func (d *drawing) classify() {
	p, g := &d.places, d.group
	number := map[int]int{}
	var members [][]int
	p.class, p.lies = make([]int, len(p.parent)), make([]int, len(p.parent))
	for x := range p.parent {
		r, by := p.find(g, x)
		k, ok := number[r]
		if !ok {
			k = len(p.all)
			number[r] = k
			p.all = append(p.all, class{keeps: g.closure(p.loops[r])})
			members = append(members, nil)
		}
		p.class[x], p.lies[x] = k, by
		members[k] = append(members[k], x)
	}
	for k := range p.all {
		c := &p.all[k]
		var sum geom.Point
		for _, x := range members[k] {
			sum = sum.Add(g.mean(c.keeps, g.back(p.lies[x], p.drawn[x])))
		}
		c.at = sum.Scale(1 / float64(len(members[k])))
	}
}

// place is where a node's class has it.
func (d *drawing) place(x int) geom.Point {
	p := &d.places
	return d.group.moves[p.lies[x]].Apply(p.all[p.class[x]].at)
}

// node is where a node lies now: where it was drawn, if that is the same.
func (d *drawing) node(x int) geom.Point {
	p := &d.places
	at := d.place(x)
	if at.Near(p.drawn[x], asDrawn) {
		return p.drawn[x]
	}
	return at
}

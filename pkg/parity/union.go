package parity

// A union knows of each bit how it stands to the root of its set.
type union struct {
	parent []int
	differ []bool // from the parent
}

func newUnion(n int) union {
	u := union{make([]int, n), make([]bool, n)}
	for i := range u.parent {
		u.parent[i] = i
	}
	return u
}

// find returns a bit's root and whether the two differ.
func (u union) find(v int) (int, bool) {
	root, differ := v, false
	for u.parent[root] != root {
		differ = differ != u.differ[root]
		root = u.parent[root]
	}
	for rest := differ; u.parent[v] != root && v != root; {
		next, step := u.parent[v], u.differ[v]
		u.parent[v], u.differ[v] = root, rest
		v, rest = next, rest != step
	}
	return root, differ
}

// join puts two bits into one set and reports whether they now stand to one
// another as asked: where they were in one already they may not. The root is
// the smaller of the two.
func (u union) join(a, b int, odd bool) bool {
	p, da := u.find(a)
	q, db := u.find(b)
	if p == q {
		return (da != db) == odd
	}
	if q < p {
		p, q = q, p
	}
	u.parent[q], u.differ[q] = p, (da != db) != odd
	return true
}

// spread gives each connected part its bits, the first of them false, and
// reports whether all that is asked holds.
func spread(n int, edges []edge) ([]bool, bool) {
	u := newUnion(n)
	even := true
	for _, e := range edges {
		even = u.join(e.a, e.b, e.odd) && even
	}
	bits := make([]bool, n)
	for v := range bits {
		_, bits[v] = u.find(v)
	}
	return bits, even
}

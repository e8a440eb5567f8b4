package arcfit

import (
	"math"

	"strapwork/pkg/geom"
)

// A sampled is a section as it is fitted: points along it, each with a share of the length that
// it stands for. Coordinates are from the section's middle.
type sampled struct {
	points []geom.Point
	weight []float64 // they add up to 1
	at     []float64 // length along the section to each point
	length float64
	closed bool
	drawn  []geom.Point // all points of the section
	before []int        // how many of them come before each point
}

// Bounds of the work, and why.
const (
	// enough is how many points along a section say all: some 60 for each of 32 pieces.
	enough = 2000
	// within is the share of weight of a point within a drawn chord: the vertices are where
	// the drawn curve was, a chord only says that nothing else happens between.
	within = 0.25
	// fine is into how many steps a section is cut at least, so that a line drawn as one
	// chord has points.
	fine = 400
	// places is among how many places joints are looked for at most, and perPiece how many
	// there are for each.
	places   = 360
	perPiece = 16
)

// sample takes the points of a section, without those that repeat the one before, and more
// within long chords; times as many as are enough for few pieces. An error says that there is no curve.
func sample(s Section, times int) (sampled, geom.Point, error) {
	points, err := distinct(s)
	if err != nil {
		return sampled{}, geom.Point{}, err
	}
	box := geom.EmptyBox()
	for _, p := range points {
		box = box.Include(p)
	}
	middle := box.Center()
	n := len(points)
	chords := n - 1
	if s.Closed {
		chords = n
	}
	var length float64
	for i := range chords {
		length += points[i].Dist(points[(i+1)%n])
	}
	out := sampled{length: length, closed: s.Closed}
	for _, p := range points {
		out.drawn = append(out.drawn, p.Sub(middle))
	}
	stride := max(1, (n+times*enough-1)/(times*enough))
	vertex := []bool{}
	add := func(p geom.Point, at float64, isVertex bool, before int) {
		out.points, out.at = append(out.points, p.Sub(middle)), append(out.at, at)
		vertex, out.before = append(vertex, isVertex), append(out.before, before)
	}
	var at float64
	for i := range chords {
		a, b := points[i], points[(i+1)%n]
		if i%stride == 0 {
			add(a, at, true, i)
		}
		chord := a.Dist(b)
		parts := int(math.Ceil(chord*float64(times*fine)/length - roundOff))
		for j := 1; j < parts; j++ {
			u := float64(j) / float64(parts)
			add(a.Lerp(b, u), at+float64(u*chord), false, i+1)
		}
		at += chord
	}
	if !s.Closed {
		add(points[n-1], at, true, n-1)
	}
	out.weigh(vertex)
	return out, middle, nil
}

// weigh gives each point the half of the way to both its neighbours.
func (s *sampled) weigh(vertex []bool) {
	n := len(s.points)
	s.weight = make([]float64, n)
	var sum float64
	for i := range n {
		before, after := 0.0, s.length
		if i > 0 {
			before = s.at[i-1]
		} else if s.closed {
			before = s.at[n-1] - s.length
		}
		if i+1 < n {
			after = s.at[i+1]
		}
		s.weight[i] = (after - before) / 2
		if !vertex[i] {
			s.weight[i] *= within
		}
		sum += s.weight[i]
	}
	for i := range s.weight {
		s.weight[i] /= sum
	}
}

// distinct is a section's points without repetitions.
func distinct(s Section) ([]geom.Point, error) {
	var points []geom.Point
	for _, p := range s.Points {
		if !p.Finite() {
			return nil, ErrFinite
		}
		if len(points) == 0 || !p.Near(points[len(points)-1], geom.Coincident) {
			points = append(points, p)
		}
	}
	for s.Closed && len(points) > 1 && points[0].Near(points[len(points)-1], geom.Coincident) {
		points = points[:len(points)-1]
	}
	switch {
	case len(points) < 2:
		return nil, ErrPoint
	case s.Closed && len(points) < 3:
		return nil, ErrFlat
	}
	return points, nil
}

// rotate begins a closed section at its i-th point.
func (s sampled) rotate(i int) sampled {
	if i == 0 {
		return s
	}
	n := len(s.points)
	out := sampled{length: s.length, closed: s.closed}
	for j := range n {
		k := (i + j) % n
		at := s.at[k] - s.at[i]
		if k < i {
			at += s.length
		}
		out.points = append(out.points, s.points[k])
		out.weight = append(out.weight, s.weight[k])
		out.at = append(out.at, at)
	}
	return out
}

// A table has, for each pair of places along a section, how far the one circle that fits best
// lies from the points between them.
type table struct {
	s      sampled
	index  []int       // of the points at the places; one more than the last at the end
	square [][]float64 // weighted sum of squares, [i][j-i-1] from place i to place j
	mean   [][]float64 // mean square
}

// tabulate makes the table for about so many pieces.
func tabulate(s sampled, pieces int) table {
	n := len(s.points)
	count := min(places, perPiece*(pieces+2), n-1)
	t := table{s: s}
	// Places are evenly far apart along the section.
	next := 0.0
	for i := range n {
		if s.at[i] >= next-roundOff*s.length {
			t.index = append(t.index, i)
			next = s.length * float64(len(t.index)) / float64(count)
		}
	}
	end := n - 1
	if s.closed {
		end = n
	}
	if t.index[len(t.index)-1] != end {
		t.index = append(t.index, end)
	}
	m := len(t.index)
	t.square, t.mean = make([][]float64, m), make([][]float64, m)
	for i := range m - 1 {
		t.square[i], t.mean[i] = make([]float64, m-i-1), make([]float64, m-i-1)
		sum := moments{origin: s.point(t.index[i])}
		at := t.index[i]
		for j := i + 1; j < m; j++ {
			for ; at < t.index[j]; at++ {
				sum.add(s.points[at], s.weight[at])
			}
			with := sum
			with.add(s.point(at), s.weight[at%n])
			c := with.fit(s.point(at).Sub(s.point(t.index[i])))
			t.square[i][j-i-1], t.mean[i][j-i-1] = c.square*with.w, c.square
		}
	}
	return t
}

// point is the i-th point; of a closed section the first follows the last.
func (s sampled) point(i int) geom.Point { return s.points[i%len(s.points)] }

// bests are the joints for each number of pieces, by both measures.
type bests struct {
	s             sampled
	sum, greatest [][]int
}

func (t table) bests(most int) *bests {
	return &bests{t.s, t.joints(most, false), t.joints(most, true)}
}

// joints are, for each number of pieces up to most, the places between which so many circles
// fit best, by dynamic programming: with the least sum of squares, or with the least greatest
// mean square. They are indices of points, from the first to the last.
func (t table) joints(most int, greatest bool) [][]int {
	const tied = 1e-6 // of a cost: what is alike to this is so by symmetry, and which is taken mustn't hang on a last digit
	const far = 4     // sums of squares only grow with a stretch, means nearly so
	m := len(t.index)
	cost := make([]float64, m) // of the best way to each place with so many pieces
	for j := 1; j < m; j++ {
		cost[j] = t.cost(0, j, greatest)
	}
	cost[0] = math.Inf(1)
	from := [][]int32{make([]int32, m)}
	out := [][]int{nil}
	for n := 1; ; n++ {
		out = append(out, t.trace(from, n))
		if n == most || n >= m-1 {
			return out
		}
		next, back := make([]float64, m), make([]int32, m)
		for j := range m {
			next[j] = math.Inf(1)
			// The longer a last piece, the worse a circle fits it; so it can be left at that.
			for i := j - 1; i >= n; i-- {
				c := t.cost(i, j, greatest)
				if c > far*next[j] {
					break
				}
				if greatest {
					c = max(c, cost[i])
				} else {
					c += cost[i]
				}
				if c < float64(next[j]*(1-tied)) {
					next[j], back[j] = c, int32(i)
				}
			}
		}
		cost, from = next, append(from, back)
	}
}

func (t table) cost(i, j int, greatest bool) float64 {
	if greatest {
		return t.mean[i][j-i-1]
	}
	return t.square[i][j-i-1]
}

// trace reads the joints of the best way with n pieces.
func (t table) trace(from [][]int32, n int) []int {
	out := make([]int, n+1)
	j := len(t.index) - 1
	out[n] = t.index[j]
	for k := n - 1; k >= 0; k-- {
		j = int(from[k][j])
		out[k] = t.index[j]
	}
	return out
}

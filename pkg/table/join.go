package table

import (
	"math"
	"slices"
	"strconv"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
)

// A joiner joins strands of different stations whose free ends meet.
type joiner struct {
	sources []motif.Source
	strands []motif.Strand
	station []int
	moved   bool // ends that lay apart were joined
}

func (j *joiner) add(station int, s motif.Strand) {
	j.strands = append(j.strands, s)
	j.station = append(j.station, station)
}

// An end of a strand: 2i its start, 2i + 1 its end.
type end int

func (j *joiner) at(e end) geom.Point {
	c := j.strands[e/2].Contour
	if e%2 == 1 {
		return c.End()
	}
	return c.Start()
}

// mates are the ends that meet an end of another station, and no third: -1 for none.
func (j *joiner) mates() []end {
	n := 2 * len(j.strands)
	mate := make([]end, n)
	count := make([]int, n)
	for i := range mate {
		mate[i] = -1
	}
	open := func(e end) bool { return !j.strands[e/2].Contour.Closed }
	for a := end(0); int(a) < n; a++ {
		for b := a + 1; int(b) < n; b++ {
			if open(a) && open(b) && j.at(a).Near(j.at(b), motif.Joint) {
				count[a]++
				count[b]++
				mate[a], mate[b] = b, a
			}
		}
	}
	for e := range mate {
		if m := mate[e]; m >= 0 && (count[e] > 1 || count[m] > 1 || j.station[e/2] == j.station[m/2]) {
			mate[e] = -1
		}
	}
	for e, m := range mate { // mates that lost theirs
		if m >= 0 && mate[m] != end(e) {
			mate[e] = -1
		}
	}
	return mate
}

// join is the motif of all strands. A chain runs as its first strand does.
func (j *joiner) join() motif.Motif {
	out := motif.Motif{Sources: j.sources}
	mate := j.mates()
	used := make([]bool, len(j.strands))
	for i := range j.strands {
		if used[i] {
			continue
		}
		first := j.firstOf(end(2*i), mate)
		var parts []motif.Strand
		e, closed := first, false
		for {
			used[e/2] = true
			s := j.strands[e/2]
			if e%2 == 1 {
				s = reversed(s)
			}
			parts = append(parts, s)
			next := mate[e^1]
			if next < 0 {
				break
			}
			j.moved = j.moved || !j.at(next).Near(j.at(e^1), tiny)
			if used[next/2] {
				closed = true
				break
			}
			e = next
		}
		id := "s" + strconv.Itoa(len(out.Strands)+1)
		out.Strands = append(out.Strands, chained(id, parts, closed))
	}
	return out
}

// firstOf goes back from a strand's start to where its chain begins; where it comes round
// to that start again it is closed, and begins there.
func (j *joiner) firstOf(start end, mate []end) end {
	e := start
	for mate[e] >= 0 {
		e = mate[e] ^ 1
		if e == start {
			break
		}
	}
	return e
}

// chained is one strand of several; where two meet the place is half-way between.
func chained(id string, parts []motif.Strand, closed bool) motif.Strand {
	if len(parts) == 1 && !closed {
		p := parts[0]
		return motif.NewStrand(id, p.Contour, p.Sources, p.Corner)
	}
	var edges []geom.Edge
	var sources []int
	var corner []bool
	for n, p := range parts {
		own := p.Contour.Edges()
		if prev := len(edges) - 1; n > 0 || closed {
			if n == 0 {
				last := parts[len(parts)-1].Contour.Edges()
				corner = append(corner, turns(last[len(last)-1], own[0]))
			} else {
				at := edges[prev].B.Lerp(own[0].A, 0.5)
				corner = append(corner, turns(edges[prev], own[0]))
				edges[prev].B, own[0].A = at, at
			}
		} else {
			corner = append(corner, false)
		}
		corner = append(corner, p.Corner[1:len(own)]...)
		edges = append(edges, own...)
		sources = append(sources, p.Sources...)
	}
	if closed {
		at := edges[len(edges)-1].B.Lerp(edges[0].A, 0.5)
		edges[len(edges)-1].B, edges[0].A = at, at
	} else {
		corner = append(corner, false)
	}
	return motif.NewStrand(id, geom.Chain(closed, edges...), sources, corner)
}

// turns reports whether a chain has a corner between two edges.
func turns(e, f geom.Edge) bool {
	u, v := e.Tangent(1), f.Tangent(0)
	return math.Atan2(math.Abs(u.Cross(v)), u.Dot(v)) > motif.Smooth
}

// reversed is a strand that runs the other way.
func reversed(s motif.Strand) motif.Strand {
	sources, corner := slices.Clone(s.Sources), slices.Clone(s.Corner)
	slices.Reverse(sources)
	slices.Reverse(corner)
	if s.Contour.Closed { // a closed contour's first vertex stays the first
		corner = append(corner[len(corner)-1:], corner[:len(corner)-1]...)
	}
	return motif.NewStrand(s.ID, s.Contour.Reverse(), sources, corner)
}

// part is the stretch of a strand from s0 to s1 along it, open, with its sources. On a
// closed strand the distances may lie beyond its ends, on an open one they are held
// within it.
func part(id string, s motif.Strand, s0, s1 float64) motif.Strand {
	l := s.Length()
	var edges []geom.Edge
	var sources []int
	var corner []bool
	first, last := 0, 0
	if s.Contour.Closed {
		first, last = int(math.Floor(s0/l)), int(math.Floor(s1/l))
	}
	for lap := first; lap <= last; lap++ {
		for i := range s.Contour.Len() {
			from, to := s.Offsets()[i]+float64(lap)*l, s.Offsets()[i+1]+float64(lap)*l
			a, b := math.Max(from, s0), math.Min(to, s1)
			if b-a <= tiny {
				continue
			}
			e := s.Contour.Edge(i)
			if t0, t1 := (a-from)/(to-from), (b-from)/(to-from); t0 > 0 || t1 < 1 {
				e = e.Part(t0, t1)
			}
			corner = append(corner, len(edges) > 0 && s.Corner[i])
			edges = append(edges, e)
			sources = append(sources, s.Sources[i])
		}
	}
	return motif.NewStrand(id, geom.Chain(false, edges...), sources, append(corner, false))
}

// tiny is a length in mm that is nothing but rounding.
const tiny = 1e-9

package table

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
)

// A piece is a part of a strand of the top within a section.
type piece struct {
	strand   int
	section  int
	from, to float64
	joints   [2]int // that it ends on, at from and at to; -1 for none
}

// cut cuts the top's strands at the joints.
func (t Table) cut() (pieces []piece) {
	for i, s := range t.Top.Strands {
		pieces = append(pieces, t.cutStrand(i, s)...)
	}
	return pieces
}

// cutStrand cuts one strand. What lies beyond a joint by no more than ends are joined by
// is no piece: the strand ends on the joint.
func (t Table) cutStrand(n int, s motif.Strand) []piece {
	l := s.Length()
	at := []mark{}
	for i := range s.Contour.Len() {
		e := s.Contour.Edge(i)
		for j, x := range t.Joints {
			for _, f := range meets(e, x) {
				at = append(at, mark{s.Offsets()[i] + f*e.Length(), j})
			}
		}
	}
	slices.SortFunc(at, func(a, b mark) int { return cmp.Compare(a.s, b.s) })
	at = slices.CompactFunc(at, func(a, b mark) bool { return a.joint == b.joint && math.Abs(b.s-a.s) < geom.Coincident })
	if s.Contour.Closed && len(at) > 1 && at[0].s+l-at[len(at)-1].s < geom.Coincident {
		at = at[:len(at)-1]
	}
	if len(at) == 0 {
		return []piece{{n, t.sectionAt(s.Contour.Bounds().Center().X), 0, l, [2]int{-1, -1}}}
	}
	var all []piece
	add := func(from, to mark) {
		if to.s-from.s < tiny {
			return
		}
		mid, _ := s.Contour.At((from.s + to.s) / 2)
		if n := len(all); n > 0 && all[n-1].section == t.sectionAt(mid.X) && from.joint >= 0 {
			all[n-1].to, all[n-1].joints[1] = to.s, to.joint // it touches the joint
			return
		}
		all = append(all, piece{n, t.sectionAt(mid.X), from.s, to.s, [2]int{from.joint, to.joint}})
	}
	if s.Contour.Closed {
		for i, a := range at {
			b := at[(i+1)%len(at)]
			if i == len(at)-1 {
				b.s += l
			}
			add(a, b)
		}
		if k := len(all); k > 1 && all[0].section == all[k-1].section { // it touches there
			all[0].from, all[0].joints[0] = all[k-1].from-l, all[k-1].joints[0]
			all = all[:k-1]
		}
		if len(all) == 1 {
			all[0].from, all[0].to, all[0].joints = 0, l, [2]int{-1, -1}
		}
		return all
	}
	add(mark{0, -1}, at[0])
	for i := 1; i < len(at); i++ {
		add(at[i-1], at[i])
	}
	add(at[len(at)-1], mark{l, -1})
	return t.trimmed(all)
}

// trimmed drops an open strand's first and last piece where they are mere spurs past a
// joint; what they hung on is then a strand's own end.
func (t Table) trimmed(all []piece) []piece {
	spur := func(p piece, own int) bool {
		return p.to-p.from <= motif.Joint && p.joints[own] < 0 && p.joints[1-own] >= 0
	}
	if len(all) > 1 && spur(all[0], 0) {
		all = all[1:]
		all[0].joints[0] = -1
	}
	if n := len(all); n > 1 && spur(all[n-1], 1) {
		all = all[:n-1]
		all[n-2].joints[1] = -1
	}
	return all
}

// A mark is a place along a strand where it meets a joint; joint is -1 at its own ends.
type mark struct {
	s     float64
	joint int
}

// meets are the fractions along an edge at which it meets the line x.
func meets(e geom.Edge, x float64) (all []float64) {
	if e.IsLine() {
		if d := e.B.X - e.A.X; d != 0 {
			if f := (x - e.A.X) / d; f >= 0 && f <= 1 {
				all = append(all, f)
			}
		}
		return all
	}
	c, r := e.Center(), e.Radius()
	d := x - c.X
	if math.Abs(d) > r {
		return nil
	}
	up := math.Sqrt(r*r - d*d)
	for _, y := range [2]float64{c.Y - up, c.Y + up} {
		p := geom.Pt(x, y)
		f := e.Param(p)
		if f >= 0 && f <= 1 && e.At(f).Near(p, geom.Coincident) {
			all = append(all, f)
		}
	}
	return all
}

// sectionAt is the section at x, all leaves in.
func (t Table) sectionAt(x float64) int {
	i, _ := slices.BinarySearchFunc(t.Joints, x, func(j, x float64) int { return cmp.Compare(j, x) })
	return i
}

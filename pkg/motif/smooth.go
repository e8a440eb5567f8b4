package motif

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/geom"
)

// makeTangent makes smooth bends tangent. Those that hang together are one
// system. Where that would move anything by more than Joint, the bends that
// cost most are left as they are and the rest is tried again; bends that the
// job asks to be smooth may move things further. It returns the runs that
// those have moved.
func (d *drawing) makeTangent(all []bend) (asked []moved) {
	u := d.newUnknowns()
	var smooth []bend
	for _, b := range all {
		if b.drawn <= Smooth || b.asked {
			smooth = append(smooth, b)
		}
	}
	for _, s := range d.systems(&u, smooth) {
		if s.tangent() {
			continue
		}
		before := s.state()
		for range attempts {
			done := len(s.bends) == 0 || s.solve() && (s.asked() || d.furthest(s.arms()).by <= Joint)
			if done {
				break
			}
			s.restore(before)
			s.bends = s.cheaper()
		}
		if s.asked() {
			asked = append(asked, d.furthest(s.arms()))
		}
	}
	return asked
}

// systems parts bends into those that have nothing to do with one another.
func (d *drawing) systems(u *unknowns, bends []bend) []system {
	group := make([]int, len(bends))
	first := map[int]int{} // of each unknown: a bend that it is in
	one := system{d: d, u: u}
	for i, b := range bends {
		group[i] = i
		_, row := one.residual(b)
		for _, t := range row {
			if j, ok := first[t.unknown]; ok {
				unite(group, i, j)
			} else {
				first[t.unknown] = i
			}
		}
	}
	number := map[int]int{}
	var all []system
	for i, b := range bends {
		r := root(group, i)
		if r == i {
			number[r] = len(all)
			all = append(all, one)
		}
		s := &all[number[r]]
		s.bends = append(s.bends, b)
	}
	return all
}

// tangent reports whether all bends are tangent already.
func (s system) tangent() bool {
	for _, b := range s.bends {
		if off, _ := s.residual(b); math.Abs(off) > tangentTo {
			return false
		}
	}
	return true
}

// asked reports whether the job asks for one of the bends to be smooth.
func (s system) asked() bool {
	return slices.ContainsFunc(s.bends, func(b bend) bool { return b.asked })
}

// cheaper is the bends without those that cost more than half of what the
// dearest costs.
func (s system) cheaper() []bend {
	costs := make([]float64, len(s.bends))
	for i, b := range s.bends {
		costs[i] = s.cost(b)
	}
	dearest := slices.Max(costs)
	var kept []bend
	for i, b := range s.bends {
		if costs[i] <= dearest/2 {
			kept = append(kept, b)
		}
	}
	return kept
}

// cost is about how far a bend's own kink alone would have things moved, in mm: the
// least weighted change that takes it away, if the two arms' pulls at the point where
// they meet were two things.
func (s system) cost(b bend) float64 {
	off, row := s.residual(b)
	var give float64
	for _, t := range row {
		give += t.by * t.by / s.u.weight[t.unknown]
	}
	return math.Abs(off) / math.Sqrt(give)
}

// arms are the runs that meet at the bends, each once.
func (s system) arms() []arm {
	var all []arm
	for _, b := range s.bends {
		for _, a := range b.arms {
			all = append(all, arm{shape: a.shape, run: a.run})
		}
	}
	slices.SortFunc(all, func(a, b arm) int { return cmp.Or(cmp.Compare(a.shape, b.shape), cmp.Compare(a.run, b.run)) })
	return slices.Compact(all)
}

// A state is the places and sweeps that a system may change.
type state struct {
	at     map[int]geom.Point // of classes
	sweeps map[arm]float64
}

func (s system) state() state {
	st := state{map[int]geom.Point{}, map[arm]float64{}}
	for _, b := range s.bends {
		_, row := s.residual(b)
		for _, t := range row {
			if k := t.unknown / 2; t.unknown < 2*len(s.d.places.all) {
				st.at[k] = s.d.places.all[k].at
			}
			for _, a := range s.u.runs[t.unknown] {
				st.sweeps[a] = s.d.shapes[a.shape].sweeps[a.run]
			}
		}
	}
	return st
}

func (s system) restore(st state) {
	for k, at := range st.at {
		s.d.places.all[k].at = at
	}
	for a, sweep := range st.sweeps {
		s.d.shapes[a.shape].sweeps[a.run] = sweep
	}
}

// A moved is the point of the motif that was moved most, of some.
type moved struct {
	by    float64    // mm
	at    geom.Point // where it was drawn
	shape int
}

// furthest is what was moved most along some runs: their ends and three points
// between.
func (d *drawing) furthest(runs []arm) moved {
	most := moved{shape: none}
	for _, a := range runs {
		s := &d.shapes[a.shape]
		from, to := s.ends(a.run)
		r := s.runs[a.run]
		for _, t := range [5]float64{0, 0.5, 1, 0.25, 0.75} {
			p := bent(d.places.drawn[from], d.places.drawn[to], r.sweep, t)
			q := bent(d.node(from), d.node(to), s.sweeps[a.run], t)
			if by := p.Dist(q); by > most.by {
				most = moved{by, p, a.shape}
			}
		}
	}
	return most
}

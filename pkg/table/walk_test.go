package table_test

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/table"
)

// A walk goes along every strand of an arrangement as somebody would who looks at the table:
// sections laid side by side, strands followed from section to section by where they come
// out at the edge. It knows the sections' stretches and crossings and nothing of what was
// asked of them.
type walk struct {
	t    table.Table
	kind [][]run // by kind: its stretches
	on   []int   // the top's crossings on its first joint itself, which are no section's
}

// A run is a stretch as it is walked.
type run struct {
	over []pass        // crossings in order
	ends [2]geom.Point // in the section
	dirs [2]geom.Point // along the strand there
	ring bool
}

// A pass is one passage: of a kind's crossing, and which of the two. Of a crossing on the
// joint itself kind is -1 and crossing the top's.
type pass struct{ kind, crossing, passage int }

// A step is a pass, and by which joints one came to it from the one before.
type step struct {
	pass
	joints []string
}

// A slip is two passes that follow one another and don't alternate.
type slip struct {
	a, b pass
	via  string
}

func newWalk(t table.Table) walk {
	w := walk{t: t, kind: make([][]run, len(t.Kinds))}
	for _, c := range t.Sections[0].Crossings {
		if w.liesOn(c) {
			w.on = append(w.on, c.Top)
		}
	}
	for k, kind := range t.Kinds {
		left, _ := t.Ends(kind.First)
		for _, st := range t.StretchesOf(k) {
			c := t.Top.Strands[st.Strand].Contour
			l := c.Length()
			var r run
			for e, s := range [2]float64{st.From, st.To} {
				p, _ := c.At(s)
				r.ends[e] = p.Sub(geom.Pt(left, 0))
				_, r.dirs[e] = c.At(s + (0.01 - 0.02*float64(e))) // within: a corner may be on the joint
			}
			r.ring = c.Closed && math.Abs(st.To-st.From-l) < 1e-6
			type found struct {
				s float64
				p pass
			}
			var all []found
			for n, x := range t.CrossingsOf(k) {
				if w.liesOn(x) {
					continue
				}
				for passage, v := range t.Weave.Crossings[x.Top].Visits {
					for lap := -1.0; lap <= 1; lap++ {
						s := v.S + lap*l
						if v.Strand == st.Strand && s > st.From-1e-6 && s < st.To+1e-6 && (c.Closed || lap == 0) && !(r.ring && s > st.To-1e-6) {
							all = append(all, found{s, pass{k, n, passage}})
						}
					}
				}
			}
			sort.Slice(all, func(i, j int) bool { return all[i].s < all[j].s })
			for _, f := range all {
				r.over = append(r.over, f.p)
			}
			w.kind[k] = append(w.kind[k], r)
		}
	}
	return w
}

// liesOn reports whether a crossing lies on a joint itself.
func (w walk) liesOn(c table.Crossing) bool {
	return c.Joint >= 0 && math.Abs(w.t.Weave.Crossings[c.Top].At.X-w.t.Joints[c.Joint]) < 0.001
}

// onJoint is the passage by which a strand that comes to a joint at y in a direction crosses
// another on the joint itself.
func (w walk) onJoint(y float64, along geom.Point) (pass, bool) {
	for _, i := range w.on {
		c := w.t.Weave.Crossings[i]
		if math.Abs(c.At.Y-y) > 0.01 {
			continue
		}
		var bend [2]float64
		for k, v := range c.Visits {
			_, u := w.t.Top.Strands[v.Strand].Contour.At(v.S)
			bend[k] = math.Abs(u.Cross(along))
		}
		if bend[0] < bend[1] {
			return pass{-1, i, 0}, true
		}
		return pass{-1, i, 1}, true
	}
	return pass{}, false
}

// over is what the table says of a passage.
func (w walk) over(p pass) bool {
	if p.kind < 0 {
		return w.t.Weave.Crossings[p.crossing].Visits[p.passage].Over
	}
	return w.t.Weave.Crossings[w.t.CrossingsOf(p.kind)[p.crossing].Top].Visits[p.passage].Over
}

// chains are the crossings along every strand of an arrangement, in order; a closed one's
// first again at its end.
func (w walk) chains(a table.Arrangement) [][]step {
	type placed struct {
		run
		section int
		ends    [2]geom.Point // x from the section's left edge, as it lies
	}
	var all []placed
	for n, s := range a.Sections {
		for _, r := range w.kind[s.Kind] {
			p := placed{run: r, section: n, ends: r.ends}
			if s.Turned {
				for e := range p.ends {
					p.ends[e] = geom.Pt(w.t.Kinds[s.Kind].Length-r.ends[e].X, w.t.Table.Width-r.ends[e].Y)
				}
			}
			all = append(all, p)
		}
	}
	mate := map[[2]int][2]int{}
	for i, p := range all {
		for e, q := range p.ends {
			if p.ring || math.Abs(q.X-w.t.Kinds[a.Sections[p.section].Kind].Length) > 1e-6 {
				continue
			}
			best, least := [2]int{-1}, 0.06
			for j, o := range all {
				for f, r := range o.ends {
					// Where two pass at one place each goes straight on.
					bend := math.Abs(p.dirs[e].Cross(o.dirs[f]))
					if d := math.Abs(r.Y-q.Y) + bend/100; !o.ring && o.section == p.section+1 && math.Abs(r.X) < 1e-6 && d < least {
						best, least = [2]int{j, f}, d
					}
				}
			}
			if best[0] >= 0 {
				mate[[2]int{i, e}], mate[best] = best, [2]int{i, e}
			}
		}
	}
	var chains [][]step
	seen := make([]bool, len(all))
	follow := func(i, from int) {
		var chain []step
		var joints []string
		for first := i; ; {
			seen[i] = true
			list := slices.Clone(all[i].over)
			if from == 1 {
				slices.Reverse(list)
			}
			for _, p := range list {
				chain = append(chain, step{p, joints})
				joints = nil
			}
			next, ok := mate[[2]int{i, 1 - from}]
			if !ok && !all[i].ring {
				break
			}
			if ok {
				y := all[i].ends[1-from].Y
				joints = append(slices.Clip(joints), fmt.Sprintf("%.2f", y))
				if p, on := w.onJoint(y, all[i].dirs[1-from]); on {
					chain = append(chain, step{p, joints})
					joints = nil
				}
			}
			if all[i].ring || next[0] == first {
				if len(chain) > 0 {
					chain = append(chain, step{chain[0].pass, append(joints, chain[0].joints...)})
				}
				break
			}
			i, from = next[0], next[1]
		}
		chains = append(chains, chain)
	}
	for i := range all { // from free ends first
		for e := range 2 {
			if _, ok := mate[[2]int{i, e}]; !ok && !seen[i] && !all[i].ring {
				follow(i, e)
			}
		}
	}
	for i := range all {
		if !seen[i] {
			follow(i, 0)
		}
	}
	return chains
}

// follow lists what follows what in any arrangement: each pair of passages over the same
// joints once.
func (w walk) follow() (list []slip) {
	seen := map[slip]bool{}
	for _, a := range w.t.Arrangements {
		for _, c := range w.chains(a) {
			for i := 1; i < len(c); i++ {
				p, q := c[i-1].pass, c[i].pass
				if p.kind > q.kind || p.kind == q.kind && (p.crossing > q.crossing || p.crossing == q.crossing && p.passage > q.passage) {
					p, q = q, p
				}
				joints := slices.Clone(c[i].joints)
				slices.Sort(joints)
				if s := (slip{p, q, strings.Join(joints, " ")}); !seen[s] {
					seen[s] = true
					list = append(list, s)
				}
			}
		}
	}
	return list
}

// breaks are those of what follows one another that are both over, or both under.
func breaks(list []slip, over func(pass) bool) (broken []slip) {
	for _, s := range list {
		if over(s.a) == over(s.b) {
			broken = append(broken, s)
		}
	}
	return broken
}

// slips are the breaks of the table as it is woven.
func slips(t table.Table) []slip {
	w := newWalk(t)
	return breaks(w.follow(), w.over)
}

package plan

// Each stretch of groove is cut once, where that can be. A panel's openings are
// there in all of its positions, needed or not: of seven equal stretches in a
// ring three can share a panel, which laid three times cuts nine. A cut that
// others make whole is spare, and its opening is left alone. What is cut in part
// by two is cut twice there, and reported.

import (
	"math"
	"slices"
	"strings"

	"strapwork/pkg/groove"
)

// sameStretch is the length in mm of strand that is nothing when stretches are
// compared: an atom's image is out by no more than sameAtom at either end.
const sameStretch = 2 * sameAtom

// A use is an opening in a set-up.
type use struct{ setUp, opening int }

// once finds the spare cuts, and lists what is cut more than once for all that.
// A set-up without a cut is dropped.
func (p *Plan) once(g *groove.Groove) {
	o := onces{p: p, g: g, byStrand: map[int][]use{}}
	for i, u := range p.SetUps {
		for k, t := range u.Tracks {
			o.byStrand[t.Cut.Strand] = append(o.byStrand[t.Cut.Strand], use{i, k})
		}
	}
	// What comes last is spare first. Panels' first set-ups, which give openings
	// their names, are left as they are where it can be.
	for _, first := range [2]bool{false, true} {
		for i := len(p.SetUps) - 1; i >= 0; i-- {
			if (i == 0 || p.SetUps[i].Panel != p.SetUps[i-1].Panel) == first {
				o.spare(i, first)
			}
		}
	}
	p.dropIdle()
}

// onces is the work of once.
type onces struct {
	p        *Plan
	g        *groove.Groove
	byStrand map[int][]use
}

func (o *onces) track(u use) *Track { return &o.p.SetUps[u.setUp].Tracks[u.opening] }

func (o *onces) cut(u use) groove.Cut { return o.track(u).Cut }

// spare finds the spare cuts of a set-up. keep asks that one cut is left, and
// that what is spare is made whole by one other.
func (o *onces) spare(setUp int, keep bool) {
	up := &o.p.SetUps[setUp]
	left := len(up.Tracks)
	for k := range up.Tracks {
		t := &up.Tracks[k]
		if t.Spare {
			left--
			continue
		}
		if keep && left == 1 {
			return
		}
		rest := []span{{t.Cut.From.S, t.Cut.To.S}}
		for _, v := range o.byStrand[t.Cut.Strand] {
			if v.setUp == setUp || o.track(v).Spare {
				continue
			}
			if less := o.without(rest, v); !keep || len(less) == 0 {
				rest = less
			}
		}
		if len(rest) == 0 {
			t.Spare = true
			left--
		}
	}
}

// A span is a stretch of a strand between two distances along it.
type span struct{ from, to float64 }

// without takes from stretches of a strand what a cut makes of them, lap by lap.
func (o *onces) without(list []span, u use) []span {
	c := o.cut(u)
	length := o.g.Motif.Strands[c.Strand].Length()
	for lap := -2.0; lap <= 2; lap++ {
		if lap != 0 && !o.g.Motif.Strands[c.Strand].Contour.Closed {
			continue
		}
		var rest []span
		for _, s := range list {
			from, to := math.Max(s.from, c.From.S+lap*length), math.Min(s.to, c.To.S+lap*length)
			if to-from <= sameStretch {
				rest = append(rest, s)
				continue
			}
			for _, left := range [2]span{{s.from, from}, {to, s.to}} {
				if left.to-left.from > sameStretch {
					rest = append(rest, left)
				}
			}
		}
		list = rest
	}
	return list
}

// shared is the length that two cuts of one strand have in common.
func (o *onces) shared(a, b use) float64 {
	c := o.cut(a)
	whole := c.To.S - c.From.S
	for _, s := range o.without([]span{{c.From.S, c.To.S}}, b) {
		whole -= s.to - s.from
	}
	return whole
}

// dropIdle drops set-ups in which every cut is spare, and their positions.
func (p *Plan) dropIdle() {
	idle := func(u SetUp) bool { return len(u.Made()) == 0 }
	for _, u := range p.SetUps {
		if idle(u) {
			q := &p.Panels[u.Panel]
			q.Positions = slices.DeleteFunc(slices.Clone(q.Positions), func(pos Orientation) bool { return pos == u.Position })
		}
	}
	p.SetUps = slices.DeleteFunc(p.SetUps, idle)
}

// reportShared lists the overlaps of named cuts, and gives spare cuts the names of
// those that make them.
func (p *Plan) reportShared(g *groove.Groove) {
	o := onces{p: p, g: g, byStrand: map[int][]use{}}
	for i, u := range p.SetUps {
		for k, t := range u.Tracks {
			if !t.Spare {
				o.byStrand[t.Cut.Strand] = append(o.byStrand[t.Cut.Strand], use{i, k})
			}
		}
	}
	for i, u := range p.SetUps {
		for k := range u.Tracks {
			o.report(use{i, k})
		}
	}
}

func (o *onces) report(u use) {
	t := o.track(u)
	rest := []span{{t.Cut.From.S, t.Cut.To.S}}
	var names []string
	for _, v := range o.byStrand[t.Cut.Strand] {
		if v.setUp == u.setUp || !t.Spare && v.setUp > u.setUp || len(rest) == 0 {
			continue
		}
		if l := o.shared(u, v); l > sameStretch {
			t.Elsewhere = append(t.Elsewhere, Overlap{SetUp: v.setUp + 1, Cut: o.cut(v).Name, Length: l})
			names = append(names, o.cut(v).Name)
			rest = o.without(rest, v)
		}
	}
	if t.Spare {
		t.Cut.Name = strings.Join(names, " and ")
	}
}

package plan

// Each stretch of groove is cut once, where that can be. A panel's openings are
// there in all of its positions, needed or not: of seven equal stretches in a
// ring three can share a panel, which laid three times cuts nine. A cut that
// others make whole is spare, and its opening is left alone. What is cut in part
// by two is cut twice there, and told.

import (
	"math"
	"slices"
	"strings"

	"strapwork/pkg/groove"
)

// An Overlap is a stretch of a cut that the cut of another set-up makes too.
type Overlap struct {
	SetUp  int // the other's index among the plan's set-ups
	Cut    string
	Length float64 // mm along the strand
}

// A Share says what of an opening's cut other set-ups cut.
type Share struct {
	Spare bool      // all of it: the opening is left alone in this set-up
	With  []Overlap // the cuts that do, of a cut that isn't spare those of earlier set-ups only
}

// Share is what an opening of a set-up shares with other set-ups: mostly nothing.
func (u SetUp) Share(opening int) Share {
	if opening < len(u.Shared) {
		return u.Shared[opening]
	}
	return Share{}
}

// sameStretch is the length in mm of strand that is nothing when stretches are
// compared: an atom's image is out by no more than sameAtom at either end.
const sameStretch = 2 * sameAtom

// A use is an opening in a set-up.
type use struct{ setUp, opening int }

// once finds the spare cuts, and lists what is cut more than once for all that.
// A set-up without a cut is dropped.
func (p *Plan) once(g *groove.Groove) {
	o := onces{p: p, g: g, byStrand: map[int][]use{}}
	for i := range p.SetUps {
		u := &p.SetUps[i]
		u.Shared = make([]Share, len(u.Cuts))
		for k, c := range u.Cuts {
			o.byStrand[c.Strand] = append(o.byStrand[c.Strand], use{i, k})
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

func (o *onces) cut(u use) groove.Cut { return o.p.SetUps[u.setUp].Cuts[u.opening] }

// spare finds the spare cuts of a set-up. keep asks that one cut is left, and
// that what is spare is made whole by one other.
func (o *onces) spare(setUp int, keep bool) {
	up := &o.p.SetUps[setUp]
	left := len(up.Cuts)
	for k, c := range up.Cuts {
		if keep && left == 1 {
			return
		}
		rest := []span{{c.From.S, c.To.S}}
		for _, v := range o.byStrand[c.Strand] {
			if v.setUp == setUp || o.p.SetUps[v.setUp].Shared[v.opening].Spare {
				continue
			}
			if less := o.without(rest, v); !keep || len(less) == 0 {
				rest = less
			}
		}
		if len(rest) == 0 {
			up.Shared[k].Spare = true
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
	idle := func(u SetUp) bool {
		return !slices.ContainsFunc(u.Shared, func(s Share) bool { return !s.Spare })
	}
	for _, u := range p.SetUps {
		if idle(u) {
			q := &p.Panels[u.Panel]
			q.Positions = slices.DeleteFunc(slices.Clone(q.Positions), func(pos Orientation) bool { return pos == u.Position })
		}
	}
	p.SetUps = slices.DeleteFunc(p.SetUps, idle)
}

// tellShared lists the overlaps of named cuts, and gives spare cuts the names of
// those that make them.
func (p *Plan) tellShared(g *groove.Groove) {
	o := onces{p: p, g: g, byStrand: map[int][]use{}}
	for i, u := range p.SetUps {
		for k, c := range u.Cuts {
			if !u.Share(k).Spare {
				o.byStrand[c.Strand] = append(o.byStrand[c.Strand], use{i, k})
			}
		}
	}
	for i := range p.SetUps {
		for k := range p.SetUps[i].Cuts {
			o.tell(use{i, k})
		}
	}
}

func (o *onces) tell(u use) {
	up := &o.p.SetUps[u.setUp]
	if u.opening >= len(up.Shared) {
		return
	}
	share, c := &up.Shared[u.opening], &up.Cuts[u.opening]
	rest := []span{{c.From.S, c.To.S}}
	var names []string
	for _, v := range o.byStrand[c.Strand] {
		if v.setUp == u.setUp || !share.Spare && v.setUp > u.setUp || len(rest) == 0 {
			continue
		}
		if l := o.shared(u, v); l > sameStretch {
			share.With = append(share.With, Overlap{SetUp: v.setUp, Cut: o.cut(v).Name, Length: l})
			names = append(names, o.cut(v).Name)
			rest = o.without(rest, v)
		}
	}
	if share.Spare {
		c.Name = strings.Join(names, " and ")
	}
}

package inlay

import (
	"cmp"
	"math"
	"slices"
)

// A stretch of a strand lies between two corners, ends or unders: one piece of
// each strip.
type stretch struct {
	arm      *arm
	from, to float64   // stations of the arm
	cuts     [2]*under // what cuts its ends; nil for the arm's own ends
	parted   [2]bool   // it ends there for the measuring alone: it goes on
	others   []*under  // further unders that reach into it, and its own if they are odd
}

func (s stretch) length() float64 { return s.to - s.from }

// A mark is an under at its station on an arm.
type mark struct {
	s float64
	c *under
}

// marks returns the unders of each arm, in order.
func (t *track) marks() [][]mark {
	all := make([][]mark, len(t.arms))
	for _, c := range t.unders {
		i, shift := t.find(c.s)
		all[i] = append(all[i], mark{c.s + shift, c})
	}
	for _, ms := range all {
		slices.SortStableFunc(ms, func(a, b mark) int { return cmp.Compare(a.s, b.s) })
	}
	return all
}

// split cuts the arms of a track into stretches.
func (b *builder) split(t *track) {
	for i, marks := range t.marks() {
		if a := &t.arms[i]; a.ring {
			t.splitRing(a, marks)
		} else {
			b.splitArm(t, a, marks)
		}
	}
}

func (t *track) splitRing(a *arm, marks []mark) {
	if len(marks) == 0 {
		t.stretches = append(t.stretches, stretch{arm: a, to: a.lap()})
		return
	}
	for i, m := range marks {
		m.c.split, m.c.next = true, i
		next := mark{marks[0].s + a.lap(), marks[0].c}
		if i+1 < len(marks) {
			next = marks[i+1]
		}
		t.stretches = append(t.stretches, stretch{arm: a, from: m.s, to: next.s, cuts: [2]*under{m.c, next.c}})
	}
}

// splitArm cuts an arm at its unders. One that lies within a corner's mitre
// does not split: the corner does.
func (b *builder) splitArm(t *track, a *arm, marks []mark) {
	first, last := b.plain(a)
	st := stretch{arm: a, from: a.begin()}
	for _, m := range marks {
		m.c.next = len(t.stretches)
		switch {
		case m.c.tee && m.s == a.begin():
			m.c.split, st.cuts[0] = true, m.c
		case m.c.tee:
			m.c.split, st.cuts[1] = true, m.c
			m.c.next++ // there is none after it
		case m.s > first && m.s < last:
			st.to, st.cuts[1] = m.s, m.c
			t.stretches = append(t.stretches, st)
			st = stretch{arm: a, from: m.s, cuts: [2]*under{m.c, nil}}
			m.c.split, m.c.next = true, len(t.stretches)
		}
	}
	st.to = a.end()
	t.stretches = append(t.stretches, st)
}

// plain returns the stations between which all strips of an arm are there,
// none of them cut short by a mitre.
func (b *builder) plain(a *arm) (first, last float64) {
	first, last = a.begin(), a.end()
	for k := range b.lines.strips() {
		first, last = math.Max(first, a.start[k]), math.Min(last, a.finish[k])
	}
	return first, last
}

// markReach gives every stretch the unders that reach into it beyond those that
// plainly cut its ends.
func (b *builder) markReach(t *track) {
	for _, c := range t.unders {
		t.far = math.Max(t.far, c.most())
		if c.split {
			t.walk(c, c.next, 1, 0)
			t.walk(c, c.next-1, -1, 0)
			continue
		}
		st := t.stretches[c.next]
		_, shift := t.find(c.s)
		t.walk(c, c.next, 1, st.from-c.s-shift)
		t.walk(c, c.next, -1, c.s+shift-st.to)
	}
}

// walk goes along the stretches from number i in the direction dir, as far as
// c reaches; the first one begins at the given distance from c.
func (t *track) walk(c *under, i, dir int, distance float64) {
	reach := c.reach[(dir+1)/2]
	for range t.stretches {
		if t.closed {
			i = (i + len(t.stretches)) % len(t.stretches)
		}
		if i < 0 || i >= len(t.stretches) || distance >= reach-stationTie {
			return
		}
		st := &t.stretches[i]
		own := c == st.cuts[(1-dir)/2]
		if (!own || c.odd) && !slices.Contains(st.others, c) {
			st.others = append(st.others, c)
		}
		distance += st.length()
		i += dir
	}
}

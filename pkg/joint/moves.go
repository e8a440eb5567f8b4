package joint

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/season"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// MoveLimit is how far in mm a strand may be out at a joint because of the seasons before it
// is reported: what the eye begins to see (common practice).
const MoveLimit = 0.1

// A Move is a passing of a leaf that is stored elsewhere than the table stands.
type Move struct {
	Passing
	By float64 // how far it is out along the joint, without a sign: either may be the wetter one
}

// Moves is how sections move along a joint where a leaf has one moisture of the job's and the
// table the other.
type Moves struct {
	Held   float64 // the place along the joint where sections are held against one another
	Middle bool    // that is the middle, more or less
	Whole  float64 // what a section as wide as the table gains
	All    []Move  // the passings that differ, from the front; none where nothing moves
	Worst  int     // which of them moves most
}

// Any reports whether something can be seen.
func (m Moves) Any() bool { return len(m.All) > 0 && m.All[m.Worst].By > MoveLimit }

// heldAt is where a table's sections are held against one another: in the middle of all pins,
// and without pins at the front edge, where they are lined up by hand.
func heldAt(t work.Table) float64 {
	sum, n := 0.0, 0
	for _, d := range t.Dowels {
		for _, at := range d.At {
			sum, n = sum+at, n+1
		}
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}

// newMoves works out how far every passing moves. What the wood gains across its grain moves a
// place along the joint by the square of the cosine of the grain's angle: once for how much of
// the grain lies along the joint, once for how much of the movement does (derived).
func newMoves(p Params) (m Moves) {
	t, c := p.Table, p.Change
	loose := slices.ContainsFunc(t.Sections, func(s work.Section) bool { return s.Loose })
	if c == nil || t.Stable || !loose {
		return m
	}
	const middle = 1.0 / 20 // of the width: what is left then differs by a tenth
	m.Held = heldAt(t)
	m.Middle = math.Abs(m.Held-t.Width/2) < middle*t.Width
	along := math.Cos(t.Grain) * math.Cos(t.Grain)
	moved := func(y float64) float64 {
		return math.Abs(season.Movement(y*along, c.Coefficient, c.Moisture[1]-c.Moisture[0]))
	}
	if m.Whole = moved(t.Width); m.Whole < alike {
		return m
	}
	for _, e := range p.Edges {
		for _, q := range e.Passings {
			same := func(o Move) bool { return o.Strand == q.Strand && math.Abs(o.Y-q.Y) < alike }
			if !slices.ContainsFunc(m.All, same) {
				m.All = append(m.All, Move{q, moved(q.Y - m.Held)})
			}
		}
	}
	slices.SortStableFunc(m.All, func(a, b Move) int { return cmp.Compare(a.Y, b.Y) })
	for i, o := range m.All {
		if o.By > m.All[m.Worst].By+alike {
			m.Worst = i
		}
	}
	return m
}

// report warns of what can be seen.
func (m Moves) report(p Params, found *diag.Findings) {
	if !m.Any() {
		return
	}
	n := 0
	for _, o := range m.All {
		if o.By > MoveLimit {
			n++
		}
	}
	c, worst := p.Change, m.All[m.Worst]
	percent := func(v float64) string { return unit.Decimal(v, 1) }
	f := found.Warnf(c.Key, "joint-season", "a leaf kept at %s %% of moisture while the table comes to %s %% no longer meets it: %s, %s, is out by %s along the joint, and %s of %d move by more than %s",
		percent(c.Moisture[0]), percent(c.Moisture[1]), worst.Strand, fromFront(worst.Y), unit.AtLeast(season.Known(worst.By)), unit.Count(n, "passing"), len(m.All), unit.Len(MoveLimit))
	p.setAt(f, worst.Y)
	line := ""
	switch pinned := len(p.Table.Dowels) > 0; {
	case m.Middle:
	case pinned:
		line = " set the pins evenly about the middle of the joint, where the sections are then held;"
	default:
		line = " line the sections up at their middle and not at the front, which halves it;"
	}
	f.Hintf(`keep the leaves in the same air as the table;%s or veneer a sheet that doesn't move: core = "stable"`, line)
	f.Propose("table.core", unit.Say("%q", "stable"))
}

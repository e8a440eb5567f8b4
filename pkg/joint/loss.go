package joint

import (
	"cmp"
	"math"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

const (
	// Seen is how far in mm a strand may be out at a joint before it is reported: less than
	// the tenth that the eye begins to see (common practice), so that something is left for
	// what the joint itself is out by.
	Seen = 0.05
	// alike is how far in mm two amounts or places may differ and be printed as one.
	alike = 0.005
)

// Mismatch is how far in mm the right-hand part of a strand lies toward +y of the left-hand
// one, where the two are brought together after loss mm of length between them are gone: a gap
// that is closed, or what a saw and a plane took. The left-hand part ends at p; the right-hand
// one is the same line, or circle, loss further on. It is not ok where the circle turns back
// before that, and there is no right-hand part.
//
// A line has loss tan(angle). A circle's y(x + loss) - y(x) is worked out from the sines of its
// angles, which grow by curvature times loss: (sin a + sin b) / (cos a + cos b) times loss,
// which for a straight strand is the same tangent (derived).
func Mismatch(p Passing, loss float64) (off float64, ok bool) {
	before := math.Sin(p.Angle)
	after := before + p.Curvature*loss
	if math.Abs(after) >= 1 {
		return 0, false
	}
	return loss * (before + after) / (math.Cos(p.Angle) + math.Sqrt(1-after*after)), true
}

// An Off is a passing that is out after a loss.
type Off struct {
	Passing
	By   float64 // toward +y, of the part on the right
	Gone bool    // the strand turns back within what is lost: its parts don't meet at all
}

// Safe reports whether nobody sees it.
func (o Off) Safe() bool { return !o.Gone && math.Abs(o.By) < Seen }

// Loss is what is lost between sections when they close, and what that does.
type Loss struct {
	By    float64 // mm along x; 0 where nothing is lost
	Gap   bool    // it was a gap, and not a saw's
	Offs  []Off   // the passings that differ, from the front; none where nothing is lost
	Worst int     // which of Offs is out most
	Shift float64 // of the right-hand section toward +y, which puts the worst one right as well as others with its angle
	Fixed int     // how many are safe then
	Left  float64 // how far the others are out then
}

// Any reports whether something can be seen.
func (l Loss) Any() bool { return len(l.Offs) > 0 && !l.Offs[l.Worst].Safe() }

// Unsafe is how many passings are out so far that it is seen.
func (l Loss) Unsafe() (n int) {
	for _, o := range l.Offs {
		if !o.Safe() {
			n++
		}
	}
	return n
}

// newLoss works out what every passing is out by. They are those of left edges: what is lost
// lies to the right of the joint's line, where the section on the right would have it.
func newLoss(p Params) (l Loss) {
	switch p.Table.Groove {
	case work.GrooveClosed:
		l.By = p.Table.Saw
	case work.GrooveGap:
		if l.Gap = true; !p.Drawn {
			l.By = p.Table.Gap
		}
	case work.GrooveApart:
	}
	if l.By <= 0 {
		return l
	}
	for _, e := range p.Edges {
		if e.Side != work.Left {
			continue
		}
		for _, q := range e.Passings {
			by, ok := Mismatch(q, l.By)
			l.add(Off{Passing: q, By: by, Gone: !ok})
		}
	}
	slices.SortStableFunc(l.Offs, func(a, b Off) int { return cmp.Compare(a.Y, b.Y) })
	l.judge()
	return l
}

// add adds a passing unless another edge has the same.
func (l *Loss) add(o Off) {
	same := func(q Off) bool {
		return q.Gone == o.Gone && math.Abs(q.Y-o.Y) < alike && math.Abs(q.By-o.By) < alike && q.Strand == o.Strand
	}
	if !slices.ContainsFunc(l.Offs, same) {
		l.Offs = append(l.Offs, o)
	}
}

// judge finds the worst, and what a shift would do.
func (l *Loss) judge() {
	size := func(o Off) float64 {
		if o.Gone {
			return math.Inf(1)
		}
		return math.Abs(o.By)
	}
	for i, o := range l.Offs {
		if size(o) > size(l.Offs[l.Worst])+alike {
			l.Worst = i
		}
	}
	if len(l.Offs) == 0 || l.Offs[l.Worst].Gone {
		return
	}
	l.Shift = -l.Offs[l.Worst].By
	for _, o := range l.Offs {
		if left := math.Abs(o.By + l.Shift); left < Seen {
			l.Fixed++
		} else {
			l.Left = max(l.Left, left)
		}
	}
}

// Shown is the size of an amount as anybody can see it: to a hundredth of a millimetre.
func Shown(by float64) unit.Quantity { return unit.Len(math.Round(math.Abs(by)*100) / 100) }

// report warns of what can be seen.
func (l Loss) report(p Params, found *diag.Findings) {
	if !l.Any() {
		return
	}
	key, lost := diag.Key("table.saw"), "saw and plane take %s at the joint"
	if l.Gap {
		key, lost = "table.gap", "the gap of %s is lost when the sections close"
	}
	worst := l.Offs[l.Worst]
	what := unit.Say("%s, %s, is out by %s, its right-hand part %s", worst.Strand, fromFront(worst.Y), Shown(worst.By), toward(worst.By))
	if worst.Gone {
		what = unit.Say("%s, %s, turns back within that, and its two parts don't meet", worst.Strand, fromFront(worst.Y))
	}
	f := found.Warnf(key, "joint-mismatch", "%s: %s; %s", unit.Say(lost, unit.Len(l.By)), what, l.howMany())
	p.setAt(f, worst.Y)
	f.Hintf("%s; or glue a lipping %s thick, all that is lost, to one of the two edges%s", l.instead(), unit.Len(l.By), l.shifted())
	if l.Gap {
		f.Propose("table.groove", unit.Say("%q", work.GrooveClosed))
	} else {
		f.Propose(key, unit.Len(0))
	}
}

// howMany says how many passings can be seen to be out.
func (l Loss) howMany() string {
	if len(l.Offs) == 1 {
		return "nothing else passes there"
	}
	return unit.Count(l.Unsafe(), "passing") + " of " + unit.Grouped(len(l.Offs)) + " can be seen to be out"
}

// instead is how nothing is lost.
func (l Loss) instead() string {
	if l.Gap {
		return `clamp the sections tight together: groove = "closed"`
	}
	return "inlay each side by itself, so that nothing is sawn: saw = 0"
}

// shifted is what a shift along the joint would do.
func (l Loss) shifted() unit.Text {
	by := unit.Say("%s %s", Shown(l.Shift), toward(l.Shift))
	switch {
	case l.Shift == 0:
		return unit.Say("")
	case l.Fixed == len(l.Offs):
		return unit.Say("; or move the right-hand section by %s along the joint, which puts every passing right", by)
	}
	return unit.Say("; a shift along the joint can't put all right: by %s it puts that one right and leaves others out by up to %s", by, Shown(l.Left))
}

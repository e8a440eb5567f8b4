package report

// What the grooves may be out by, and what would help most.

import (
	"fmt"
	"math"

	"strapwork/pkg/budget"
	"strapwork/pkg/work"
)

// Decimals of the budget: a hundredth of a millimetre, a ten-thousandth of an
// inch.
const (
	budgetMM = 2
	budgetIn = 4
)

// out is a figure of the budget, in the job's units without naming them; empty
// for nothing.
func (w words) out(mm float64) string {
	if mm == 0 {
		return ""
	}
	return w.digits(mm, budgetMM, budgetIn)
}

// budget writes the section.
func (b *bench) budget() {
	all := budgetOf(b.r)
	wander, widen, deepen := all.Sum(budget.Wander), all.Sum(budget.Widen), all.Sum(budget.Deepen)
	b.heading("What the grooves may be out by")
	b.para("Before anything goes wrong: by how much a groove may **wander** from where the others ask for it, and come out **wider or narrower** than planned, before tape and file. Figures are plus or minus, in %s. Those marked * nobody told; they are what is usual.%s", b.unit(), b.alike())
	var rows [][]string
	for _, t := range all.Terms {
		if t.Worst(budget.Wander) == 0 && t.Worst(budget.Widen) == 0 {
			continue
		}
		rows = append(rows, []string{b.term(t), b.out(t.Worst(budget.Wander)), b.out(t.Worst(budget.Widen))})
	}
	rows = append(rows,
		[]string{"**worst case: all of it, the same way**", "**" + b.out(wander.Worst) + "**", "**" + b.out(widen.Worst) + "**"},
		[]string{"**likely: root of the sum of squares**", "**" + b.out(wander.RSS) + "**", "**" + b.out(widen.RSS) + "**"})
	b.table([]string{"what", "wander", "width"}, rows)
	b.cure("What would help most against wandering", all, budget.Wander)
	b.cure("Against wrong widths", all, budget.Widen)
	if wander.Most == budget.Moisture && !b.swung() {
		b.item("Parts that are cut from one sheet, and lie together until they are used, swell together: then the grooves still meet, and it is the whole pattern that is larger or smaller.")
	}
	if deepen.Worst > 0 {
		b.item("In depth: sheet is %s thicker or thinner than its name. It changes nothing else: %s.", b.size(deepen.Worst), deepen.Most.Cure())
	}
	if w := b.turnedWith(); w != "" {
		b.item("%s", w)
	}
	b.gap()
}

// alike says what is not counted, because it moves everything alike.
func (b *bench) alike() string {
	if b.j.Router.Guide == work.GuidePivot {
		return ""
	}
	return " What shifts the whole pattern alike is not counted: it does no harm, as long as the panel is pressed into the same corner and the mark faces the same way each time."
}

// cure says what would help most, and how much would be left.
func (b *bench) cure(head string, all budget.Budget, e budget.Effect) {
	s := all.Sum(e)
	if s.RSS == 0 {
		return
	}
	b.item("%s: %s. In the likely case %s would be left of %s.", head, s.Most.Cure(), b.figure(all.Without(s.Most).Sum(e).RSS), b.figure(s.RSS))
}

// figure is a figure of the budget with its unit.
func (w words) figure(mm float64) string {
	return w.both(w.digits(mm, budgetMM, budgetIn)+" "+w.u.String(), fixed(mm, budgetMM)+" mm")
}

// term says what a term is.
func (b *bench) term(t budget.Term) string {
	from := b.size(t.From)
	if t.Source == budget.Moisture {
		from = fixed(t.From, 1) + " per cent"
	}
	if t.Assumed {
		from += "*"
	}
	switch t.Source {
	case budget.Seat:
		return "a panel finds its corner again within " + from
	case budget.Outline:
		return "two edges of each panel, cut to " + from
	case budget.Walls:
		return "two walls of a track, each cut to " + from
	case budget.Kerf:
		return "the kerf, known to " + from
	case budget.OffCenter:
		return fmt.Sprintf("%s off centre by %s, its mark held to %s", b.rider(), from, degrees(math.Round(budget.FacingHeld*180/math.Pi)))
	case budget.Moisture:
		return "sheet moving with " + from + " of moisture"
	case budget.Rider:
		return b.rider() + ", measured to " + from
	case budget.Bit:
		return "the bit's slot, measured to " + from
	case budget.Sheet:
		return "sheet thickness, to " + from
	case budget.Holes:
		return "two holes of the bar, each bored to " + from
	case budget.Pin:
		return "play of the pin in its holes, " + from
	}
	return t.Source.String()
}

// turnedWith warns of the one mistake that the budget leaves out: a router that
// is turned along with a turned panel.
func (b *bench) turnedWith() string {
	if b.j.Router.Guide == work.GuideBearing || b.j.Router.Guide == work.GuidePivot {
		return ""
	}
	worst := 0.0
	for _, s := range b.order {
		for _, o := range b.order {
			worst = math.Max(worst, math.Abs(math.Sin((s.Position.TurnDeg-o.Position.TurnDeg)*math.Pi/360)))
		}
	}
	e := b.j.Router.OffCenter
	if e == 0 {
		e = budget.UsualOffCenter
	}
	off := budget.Turned(e, 2*math.Asin(worst))
	if off < budget.Measured {
		return ""
	}
	return fmt.Sprintf("The router doesn't turn when a panel does. If it faced a mark on the panel instead, a %s that is %s off centre would throw the grooves out by %s.", b.rider(), b.size(e), b.figure(off))
}

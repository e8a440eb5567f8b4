package bend

import (
	"fmt"
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// RuleTight is the rule of bends that can't be made.
const RuleTight = "bend-tight"

// RuleGlued is the rule of sandwiches that can't be bent once they are glued.
const RuleGlued = "bend-glued"

// Params are what bends depend on.
type Params struct {
	Stuff  []Stuff
	Pieces []Piece
}

// A Plan is how all bends of a job are made.
type Plan struct {
	Stuff []Stuff
	Bends []Bend
	Edges []Edge // of forms
	Trims []Trim // of holders
}

// New plans the bends, and reports those that can't be made: of each stuff the tightest.
func New(p Params) (Plan, diag.Findings) {
	plan := Plan{Stuff: p.Stuff, Bends: Group(p.Stuff, p.Pieces)}
	plan.Edges, plan.Trims = Edges(p.Stuff, plan.Bends), Trims(p.Stuff, plan.Bends, p.Pieces)
	var found diag.Findings
	reported := map[int]bool{}
	for _, b := range plan.Bends {
		if b.Verdict.Way == Tight && !reported[b.Stuff] {
			reported[b.Stuff] = true
			plan.tight(b, &found)
		}
	}
	plan.alone(&found)
	return plan, found
}

// alone reports a lay-up that is glued first and then bent more tightly than it takes, at
// its tightest bend.
func (p Plan) alone(found *diag.Findings) {
	pieces := map[int]bool{}
	least := math.Inf(1)
	for _, b := range p.Bends {
		if b.Verdict.Glued || b.Verdict.Way == Tight { // those are reported
			continue
		}
		least = min(least, b.Radius)
		for _, n := range b.Pieces {
			pieces[n] = true
		}
	}
	if len(pieces) == 0 {
		return
	}
	found.Warnf("inlay.laid", RuleGlued, "a sandwich doesn't bend as tightly as %s of it must, to R %s: bend the strips of those one by one, and glue them up round the form",
		unit.Count(len(pieces), "piece"), unit.Len(least)).
		Hintf(`write laid = "strips", or draw larger radii`).Propose("inlay.laid", unit.Say("%q", work.LaidStrips))
}

// Tight is how many pieces of a stuff have bends that can't be made.
func (p Plan) tightPieces(stuff int) int {
	pieces := map[int]bool{}
	for _, b := range p.Bends {
		if b.Stuff == stuff && b.Verdict.Way == Tight {
			for _, n := range b.Pieces {
				pieces[n] = true
			}
		}
	}
	return len(pieces)
}

func (p Plan) tight(b Bend, found *diag.Findings) {
	l := p.Stuff[b.Stuff][b.Verdict.Layer]
	n := p.tightPieces(b.Stuff)
	how := "even steamed"
	if l.Of.Metal() {
		how = l.Temper.Name
	}
	f := found.Warnf(diag.Key(fmt.Sprintf("inlay.strips.%d", l.Strips[0])), RuleTight, "%s of %s is too thick for a bend of R %s, %s (%s)",
		l.Material, unit.Len(l.Thickness), unit.Len(b.Radius), how, unit.Count(n, "piece"))
	thickest := Thickest(l.Most(), b.Radius)
	soft, annealed := l.softer(b.Verdict.Strain)
	glued := l.Laminate(b.Radius)
	switch {
	case annealed:
		f.Hintf("temper = %q bends that far; else strips of at most %s, or a larger radius", soft, unit.AtMost(thickest))
	case glued.N > 1:
		f.Hintf("glue up %d laminations of %s round a form, take strips of at most %s, or draw a larger radius", glued.N, unit.Len(glued.Each), unit.AtMost(thickest))
	default:
		f.Hintf("take strips of at most %s, or draw a larger radius", unit.AtMost(thickest))
	}
}

// softer is the hardest temper of a metal that takes a strain which its own doesn't.
func (l Layer) softer(strain float64) (name string, ok bool) {
	for _, t := range l.Of.Tempers {
		if l.Of.Metal() && strain <= t.Strain && t.Strain > l.Temper.Strain {
			name, ok = t.Name, true
		}
	}
	return name, ok
}

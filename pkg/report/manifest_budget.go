package report

import (
	"strapwork/pkg/budget"
	"strapwork/pkg/build"
)

// budgetJSON says by how much a groove may be out before anything goes wrong,
// in mm, plus or minus.
type budgetJSON struct {
	Terms  []termJSON `json:"terms"`
	Wander sumJSON    `json:"wander"` // to one side of where the others ask for it
	Widen  sumJSON    `json:"widen"`  // wider or narrower than planned, before it is tuned
	Deepen sumJSON    `json:"deepen"` // deeper or shallower
}

// termJSON is one source of error. Times errors alike, each of which does what
// the last three fields say.
type termJSON struct {
	Source  string `json:"source"`
	From    num    `json:"from"`    // the measure that it follows from: mm, for moisture per cent
	Assumed bool   `json:"assumed"` // nobody told that: it is what is usual
	Times   int    `json:"times"`
	Wander  num    `json:"wander"`
	Widen   num    `json:"widen"`
	Deepen  num    `json:"deepen"`
}

type sumJSON struct {
	Worst num    `json:"worst"`          // all errors the same way
	RSS   num    `json:"rss"`            // root of the sum of squares
	Most  string `json:"most,omitempty"` // the source that gives most of it
	Cure  string `json:"cure,omitempty"` // what makes that smaller
}

func budgetOf(r build.Result) budget.Budget {
	return budget.Of(build.BudgetParams(r.Job), r.Groove.Size, r.Set, r.Shop)
}

func newBudget(b budget.Budget) budgetJSON {
	out := budgetJSON{
		Terms:  []termJSON{},
		Wander: newSum(b.Sum(budget.Wander)), Widen: newSum(b.Sum(budget.Widen)), Deepen: newSum(b.Sum(budget.Deepen)),
	}
	for _, t := range b.Terms {
		out.Terms = append(out.Terms, termJSON{
			t.Source.String(), num(t.From), t.Assumed, t.Times, num(t.Wander), num(t.Widen), num(t.Deepen),
		})
	}
	return out
}

func newSum(s budget.Sum) sumJSON {
	out := sumJSON{Worst: num(s.Worst), RSS: num(s.RSS)}
	if s.RSS > 0 {
		out.Most, out.Cure = s.Most.String(), s.Most.Cure()
	}
	return out
}

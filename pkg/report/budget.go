package report

import (
	"math"

	"strapwork/pkg/budget"
	"strapwork/pkg/build"
	"strapwork/pkg/work"
)

// budgetJSON says by how much a groove may be out before anything goes wrong,
// in mm, plus or minus.
type budgetJSON struct {
	Terms  []termJSON `json:"terms"`
	Wander sumJSON    `json:"wander"` // to one side of where the others ask for it
	Widen  sumJSON    `json:"widen"`  // wider or narrower than planned, before it is tuned
	Deepen sumJSON    `json:"deepen"` // deeper or shallower

	Joints *jointBudget `json:"joints,omitempty"` // along the joints of a table that comes apart

	Turned *turnFacts `json:"-"` // nil where it does no harm
}

// termJSON is one source of error. Times errors alike, each of which does what
// the last three fields say.
type termJSON struct {
	Source  string `json:"source"`
	From    num    `json:"from"`    // the measure that it follows from: mm, for moisture per cent
	Assumed bool   `json:"assumed"` // it is not stated in the job, but usual
	Times   int    `json:"times"`
	Wander  num    `json:"wander"`
	Widen   num    `json:"widen"`
	Deepen  num    `json:"deepen"`

	Rider   string `json:"-"` // what makers call what guides the bit
	HeldDeg num    `json:"-"` // within what the router's mark is held
}

type sumJSON struct {
	Worst num    `json:"worst"`          // all errors the same way
	RSS   num    `json:"rss"`            // root of the sum of squares
	Most  string `json:"most,omitempty"` // the source that gives most of it
	Cure  string `json:"cure,omitempty"` // what makes that smaller

	Without num      `json:"-"` // RSS without that source
	From    termJSON `json:"-"` // that source's term
}

// turnFacts is the one mistake that the budget leaves out: a router that is turned
// along with a turned panel, which throws the grooves out.
type turnFacts struct{ OffCenter, Out num }

// jointBudget is by how much strands may be out along a joint where two sections meet.
type jointBudget struct {
	Laid     num  `json:"laid"`     // of the frame, at a station
	Play     num  `json:"play"`     // of what aligns the sections
	Station  num  `json:"station"`  // of one station's grooves, root of the sum of squares
	Together num  `json:"together"` // of sections that were grooved clamped together
	Others   num  `json:"others"`   // of sections that never were
	Worst    num  `json:"worst"`    // of those, all errors the same way
	Apart    bool `json:"-"`
}

func newJointBudget(r build.Result, b budget.Budget) *jointBudget {
	if r.Table == nil {
		return nil
	}
	play := 0.0
	if r.Table.Table.HasPlay {
		play = r.Table.Table.Play
	}
	j := b.Joint(play)
	return &jointBudget{
		Laid: num(j.Laid), Play: num(j.Play), Station: num(j.Station.RSS), Together: num(j.Together.RSS), Others: num(j.Others.RSS), Worst: num(j.Others.Worst),
		Apart: r.Table.Table.Groove == work.GrooveApart,
	}
}

func budgetOf(r build.Result) budget.Budget {
	return budget.Of(build.BudgetParams(r.Job), r.Groove.Size, r.Set, r.Shop)
}

func newBudget(r build.Result) budgetJSON {
	b := budgetOf(r)
	out := budgetJSON{
		Terms:  each(b.Terms, func(t budget.Term) termJSON { return newTerm(t, r.Job.Router.Guide) }),
		Wander: newSum(b, budget.Wander), Widen: newSum(b, budget.Widen), Deepen: newSum(b, budget.Deepen),
		Joints: newJointBudget(r, b), Turned: turnedWith(r),
	}
	for _, t := range out.Terms {
		for _, s := range []*sumJSON{&out.Wander, &out.Widen} {
			if t.Source == s.Most {
				s.From = t
			}
		}
	}
	return out
}

func newTerm(t budget.Term, by work.Guide) termJSON {
	return termJSON{
		Source: t.Source.String(), From: num(t.From), Assumed: t.Assumed, Times: t.Times, Wander: num(t.Wander), Widen: num(t.Widen), Deepen: num(t.Deepen),
		Rider: by.Rider(), HeldDeg: num(math.Round(budget.FacingHeld * 180 / math.Pi)),
	}
}

func newSum(b budget.Budget, e budget.Effect) sumJSON {
	s := b.Sum(e)
	out := sumJSON{Worst: num(s.Worst), RSS: num(s.RSS)}
	if s.RSS > 0 {
		out.Most, out.Cure, out.Without = s.Most.String(), s.Most.Cure(), num(b.Without(s.Most).Sum(e).RSS)
	}
	return out
}

// turnedWith is what a router would do that faced a mark on the panel; nil for one that
// runs true with its bit, and for too little to measure.
func turnedWith(r build.Result) *turnFacts {
	router := r.Job.Router
	if router.Guide.RunsTrue() {
		return nil
	}
	worst := 0.0
	setUps := r.Set.Plan.SetUps
	for _, s := range setUps {
		for _, o := range setUps {
			worst = math.Max(worst, math.Abs(math.Sin((s.Position.TurnDeg-o.Position.TurnDeg)*math.Pi/360)))
		}
	}
	e := router.OffCenter
	if e == 0 {
		e = budget.UsualOffCenter
	}
	off := budget.Turned(e, 2*math.Asin(worst))
	if off < budget.Measured {
		return nil
	}
	return &turnFacts{num(e), num(off)}
}

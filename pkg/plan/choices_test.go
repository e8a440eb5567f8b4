package plan

import (
	"fmt"
	"math"
	"testing"
)

// More set-ups than panels have positions are asked about as all positions are: a
// question with none to try would be refuted.
func TestChoicesOfMoreSetUpsThanPositions(t *testing.T) {
	r := fromFile(t, "looped-triangle")
	at := cutUp(&r.groove, positionsFor(paramsOf(r.job), &r.groove), math.Inf(1), false)
	at.relate()
	budget := 0
	s := newSearch(at, &budget, nil)
	n := len(at.positions)
	if n < 2 {
		t.Fatalf("%d positions: the job says nothing", n)
	}
	for panels := 1; panels < 3; panels++ {
		all, _ := s.choices(panels, panels*n)
		more, _ := s.choices(panels, panels*n+2)
		if len(all) != 1 || fmt.Sprint(more) != fmt.Sprint(all) {
			t.Errorf("%d panels: %v, and of two set-ups more %v", panels, all, more)
		}
	}
}

// Models take no more room than they are given: a question whose model would is
// given up, neither answered nor refuted.
func TestQuestionsTooLargeAreGivenUp(t *testing.T) {
	r := fromFile(t, "looped-triangle")
	at := cutUp(&r.groove, positionsFor(paramsOf(r.job), &r.groove), math.Inf(1), false)
	at.relate()
	budget := patience[0]
	s := newSearch(at, &budget, nil)
	s.room = mostClauses
	c := count{none, 1, 1, none}
	if s.ask(c, quick) || s.isRefuted(c) || len(s.models) > 0 {
		t.Errorf("without room: refuted %v, %d models", s.refuted, len(s.models))
	}
}

package shop

// Two judges of one program: the dry run, with areas from the strands' walls, and
// one that only walks along walls and moves.

import (
	"bytes"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/internal/walljudge"
	"strapwork/pkg/ngc"
)

// watched plans, writes and judges the program for a whole groove.
func (r *Result) watched(t testing.TB) (run judged, ok bool) {
	t.Helper()
	if r.Reached < Grooved {
		return run, false
	}
	r.passes()
	if !r.OK() || len(r.Grooving.Plan.Runs) == 0 {
		return run, false
	}
	run, err := r.writeProgram(draft{GroovePath, "groove", WholeGroove, cutting(r.Grooving.Plan)})
	if err != nil {
		t.Fatal(err)
	}
	return run, true
}

// secondOpinion is what the judge that knows no areas says of a program.
func (r *Result) secondOpinion(t testing.TB, text []byte) []walljudge.Fault {
	t.Helper()
	moves, err := ngc.ReadAll(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	j := r.Job
	w := walljudge.Work{Width: j.Inlay.Width, Depth: j.Inlay.Depth, Bit: j.Router.Bit}
	for _, s := range r.strands(0) {
		w.Strands = append(w.Strands, s.Line)
	}
	return walljudge.Judge(w, moves)
}

// differ says where the two judges disagree; "" if they don't.
func (r *Result) differ(t testing.TB, run judged) string {
	t.Helper()
	second := r.secondOpinion(t, run.text)
	switch {
	case run.report.OK() && len(second) > 0:
		return "the dry run finds nothing, the second judge " + second[0].String()
	case !run.report.OK() && len(second) == 0:
		return "only the dry run finds " + run.report.Findings.Error()
	}
	return ""
}

// TestJudgesAgreeOnJobs: neither judge finds anything in the programs of the
// demonstrations.
func TestJudgesAgreeOnJobs(t *testing.T) {
	for name, data := range demonstrations(t) {
		r := grooved(t, name, data)
		run, ok := r.watched(t)
		if !ok || run.report.Findings.Count(diag.Error) > 0 {
			t.Errorf("%s: %v %v", name, r.Findings, run.report.Findings)
			continue
		}
		if what := r.differ(t, run); what != "" {
			t.Errorf("%s: %s", name, what)
		}
	}
}

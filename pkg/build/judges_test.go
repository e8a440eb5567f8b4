package build

// Two judges of one program: the dry run, with areas from the strands' walls, and
// one that only walks along walls and moves.

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/thrown"
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
	return r.groovesProgram(t), true
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
	for _, s := range r.strands() {
		w.Strands = append(w.Strands, s.Line)
	}
	return walljudge.Judge(w, moves)
}

// unsure in mm is what one judge may take for a fault and the other not: the dry
// run has its limit at a hundredth and measures a strip's thickness, the second at
// one and a half, and measures how far wood is from what is cut.
const unsure = 0.04

// differ says where the two judges disagree about what is cut; "" if they don't.
func (r *Result) differ(t testing.TB, report dryrun.Report, text []byte) string {
	t.Helper()
	second := r.secondOpinion(t, text)
	worst := report.GougeMax.Amount
	for _, s := range report.Left {
		if !s.Chisel {
			worst = math.Max(worst, s.Thick)
		}
	}
	wrong := slices.ContainsFunc(report.Findings, func(f diag.Finding) bool {
		return f.Severity == diag.Error && slices.Contains([]string{"gouge", "missed", "no-room", "too-deep"}, f.Rule)
	})
	switch {
	case !wrong && len(second) > 0:
		return "the dry run finds nothing, the second judge " + second[0].String()
	case worst > unsure && len(second) == 0:
		return "only the dry run finds " + report.Findings.Error()
	}
	return ""
}

// TestJudgesAgreeOnJobs: neither judge finds anything in the programs of the
// demonstrations.
func TestJudgesAgreeOnJobs(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	for name, data := range demonstrations(t) {
		if slices.Contains(Slowest, name) && os.Getenv("JOBS") != "all" {
			continue
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := grooved(t, name, data)
			run, ok := r.watched(t)
			if !ok || run.report.Findings.Count(diag.Error) > 0 {
				t.Fatal(r.Findings, run.report.Findings)
			}
			if what := r.differ(t, run.report, run.text); what != "" {
				t.Error(what)
			}
		})
	}
}

// random is how many jobs thrown at random both judges are asked about.
var random = flag.Int("random", 15, "how many random programs two judges are asked about")

// TestJudgesAgreeOnRandomJobs asks both judges about programs for motifs thrown at
// random, good ones and ones that a number was changed in.
func TestJudgesAgreeOnRandomJobs(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	rng := rand.New(rand.NewPCG(41, 42))
	judgedJobs, faulty, spoilt := 0, 0, 0
	for n := 0; judgedJobs < *random; n++ {
		data := thrownJob(rng)
		a, r := underway(t, "thrown.toml", data)
		a.plane(&r)
		run, ok := r.watched(t)
		if !ok {
			continue
		}
		judgedJobs++
		if what := r.differ(t, run.report, run.text); what != "" {
			t.Errorf("job %d: %s\n%s", n, what, data)
		}
		if !run.report.OK() {
			faulty++
			t.Logf("job %d: %v\n%s", n, run.report.Findings.Error(), data)
		}
		bad := spoil(rng, string(run.text))
		if _, err := ngc.ReadAll(strings.NewReader(bad)); err != nil {
			continue // an arc that can't be
		}
		report := dryrun.Judge(strings.NewReader(bad), r.Grooving.dialect("bad.nc"), r.work(), nil)
		if what := r.differ(t, report, []byte(bad)); what != "" {
			t.Errorf("job %d, spoilt: %s\n%s", n, what, data)
		}
		if !report.OK() {
			spoilt++
		}
	}
	t.Logf("%d jobs, %d of them left something; %d spoilt ones at fault", judgedJobs, faulty, spoilt)
	if faulty > 0 || spoilt < *random/10 {
		t.Errorf("of %d jobs %d leave something, and of as many spoilt ones %d are at fault", judgedJobs, faulty, spoilt)
	}
}

// spoil adds a half of a millimetre or less to a number of one of a program's
// cuts, or takes the line away.
func spoil(rng *rand.Rand, text string) string {
	lines := strings.Split(text, "\n")
	for {
		i := rng.IntN(len(lines))
		words := strings.Fields(lines[i])
		k := slices.IndexFunc(words, func(w string) bool { return strings.ContainsRune("XYIJZ", rune(w[0])) })
		if k < 0 || strings.HasPrefix(lines[i], "(") {
			continue
		}
		if rng.IntN(4) == 0 {
			return strings.Join(slices.Delete(lines, i, i+1), "\n")
		}
		v, err := strconv.ParseFloat(words[k][1:], 64)
		if err != nil {
			continue
		}
		words[k] = words[k][:1] + strconv.FormatFloat(v+rng.Float64()-0.5, 'f', 4, 64)
		lines[i] = strings.Join(words, " ")
		return strings.Join(lines, "\n")
	}
}

// thrownJob is a job of one to three paths: chains, rings, a corner, a strand that
// ends on another, or a chain whose joints are kinks of up to half a degree.
func thrownJob(rng *rand.Rand) string {
	width := 2 + 4*rng.Float64()
	bit := width * (0.3 + 0.7*rng.Float64())
	var paths []string
	switch rng.IntN(5) {
	case 0:
		paths = append(paths, thrown.Ring(rng))
	case 1:
		paths = append(paths, thrown.Corner(rng, 20+150*rng.Float64()))
	case 2: // a tee
		a, b := geom.Pt(80*rng.Float64(), 80*rng.Float64()), geom.Polar(40+40*rng.Float64(), 7*rng.Float64())
		m := a.Add(b.Scale(0.3 + 0.4*rng.Float64()))
		e := m.Add(geom.Polar(30+20*rng.Float64(), b.Angle()+(0.4+0.5*rng.Float64())*math.Pi/2))
		paths = append(paths, fmt.Sprintf("M %.12f %.12f L %.12f %.12f", a.X, a.Y, a.Add(b).X, a.Add(b).Y),
			fmt.Sprintf("M %.12f %.12f L %.12f %.12f", m.X, m.Y, e.X, e.Y))
	default:
		for range 1 + rng.IntN(3) {
			paths = append(paths, thrown.Chain(rng))
		}
	}
	return thrown.Job(width, bit, paths...)
}

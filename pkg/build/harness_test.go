package build

// The noise harness: jobs as they really come. Every job of testdata and seeded
// motifs are written down as a person does, with numbers rounded to some
// decimals or out by a little, copies counted or written out, and built whole.
// What comes out must be what the exact drawing gives: a little in the input is
// a little in the output.
//
// HARNESS=full runs all of it (most of an hour on two cores), HARNESS=n only so
// many motifs; without, a sample, each in two of three readings, and a smaller one with
// -short. Single builds: -run
// 'TestHarness/seed-17/2-decimals-in-full'.

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/internal/byhand"
	"strapwork/pkg/motif"
	"strapwork/pkg/weave"
)

const (
	harnessMotifs = 100
	harnessSample = 5 // of the motifs when not all are asked for
)

// fewPerCent is how much areas and programs may differ: they follow lengths and
// never jump.
const fewPerCent = 0.03

// A reading is one way in which a drawing is written down.
type reading struct {
	name   string
	hand   byhand.Hand
	inFull bool
	seed   uint64
}

// readings are all of them, the roundings first.
func readings() []reading {
	var list []reading
	for decimals := 6; decimals >= 1; decimals-- {
		for _, full := range []bool{false, true} {
			list = append(list, reading{fmt.Sprintf("%d-decimals%s", decimals, inFullWords(full)), byhand.Hand{Decimals: decimals}, full, 0})
		}
	}
	for k := 9; k >= 2; k-- {
		full := k%2 == 0
		list = append(list, reading{fmt.Sprintf("shaken-1e-%d%s", k, inFullWords(full)), byhand.Hand{Shake: math.Pow10(-k)}, full, 0})
	}
	return list
}

func inFullWords(full bool) string {
	if full {
		return "-in-full"
	}
	return ""
}

// A tally counts how builds came out, by reading.
type tally struct {
	sync.Mutex
	whole, refused, wrong map[string]int
	reasons               map[string]int
}

func (c *tally) add(to map[string]int, key, reason string) {
	c.Lock()
	defer c.Unlock()
	to[key]++
	if reason != "" {
		c.reasons[key+": "+reason]++
	}
}

func TestHarness(t *testing.T) {
	motifs, all := harnessSample, readings()
	switch v := os.Getenv("HARNESS"); v {
	case "":
		if testing.Short() {
			motifs = 1
		}
		all = slices.DeleteFunc(all, func(r reading) bool {
			return r.name != "3-decimals" && (testing.Short() || !slices.Contains([]string{"2-decimals-in-full", "shaken-1e-5"}, r.name))
		})
	case "full":
		motifs = harnessMotifs
	default:
		n, err := strconv.Atoi(v)
		if err != nil {
			t.Fatalf("HARNESS=%s is neither full nor a number", v)
		}
		motifs = n
	}
	c := &tally{whole: map[string]int{}, refused: map[string]int{}, wrong: map[string]int{}, reasons: map[string]int{}}
	t.Cleanup(func() { c.report(t) })
	for i := range all {
		all[i].seed = uint64(i)
	}
	drawings := harnessDrawings(t, motifs)
	for i, name := range slices.Sorted(maps.Keys(drawings)) {
		some := all
		if sampled := os.Getenv("HARNESS") == ""; sampled && len(all) > 1 {
			k := i % len(all)
			some = slices.Delete(slices.Clone(all), k, k+1)
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			harnessDrawing(t, drawings[name], some, c)
		})
	}
}

// harnessDrawings are the jobs of testdata and the seeded motifs.
func harnessDrawings(t *testing.T, motifs int) map[string]byhand.Drawing {
	t.Helper()
	list := map[string]byhand.Drawing{}
	jobs, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(jobs) == 0 {
		t.Fatal("no jobs: ", err)
	}
	for i, path := range jobs {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		d, err := byhand.Of(string(text))
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		if motifs < harnessMotifs && i > motifs/4 {
			continue
		}
		list[strings.TrimSuffix(filepath.Base(path), ".toml")] = d
	}
	for seed := range motifs {
		kind, d := byhand.Seeded(seed)
		list[fmt.Sprintf("seed-%d/%s", seed, kind)] = d
	}
	return list
}

// harnessDrawing builds a drawing exactly and in all readings.
func harnessDrawing(t *testing.T, d byhand.Drawing, all []reading, c *tally) {
	exact := harnessBuild(d.Write(byhand.Hand{}))
	if !exact.OK() {
		t.Fatalf("exact: %v", errorsOf(exact))
	}
	want := outcomeOf(exact)
	var inFull outcome
	if slices.ContainsFunc(all, func(r reading) bool { return r.inFull }) {
		inFull = harnessInFull(t, d, want)
	}
	for _, r := range all {
		t.Run(r.name, func(t *testing.T) {
			written, want := d, want
			if r.inFull {
				written, want = d.InFull(), inFull
			}
			hand := r.hand
			hand.Rand = rand.New(rand.NewPCG(r.seed, 7))
			text := written.Write(hand)
			got := harnessBuild(text)
			moved := hand.Moves(written) + hand.Shake
			if errs := errorsOf(got); len(errs) > 0 {
				reason := errs[0].Rule
				if !rightly(got.Findings, moved) {
					c.add(c.wrong, r.name, "refused: "+reason)
					t.Errorf("refused: %v", errs[0])
					keep(t, text)
					return
				}
				c.add(c.refused, r.name, reason)
				if hand.Decimals == 0 || hand.Decimals > 2 {
					t.Errorf("refused: %v", errs[0])
					keep(t, text)
				}
				return
			}
			diff := want.differs(outcomeOf(got), moved, hand)
			for _, f := range got.secondOpinion(t, fileAt(t, got, GroovePath)) {
				diff = append(diff, "second judge: "+f.String())
			}
			if len(diff) > 0 {
				c.add(c.wrong, r.name, strings.Fields(diff[0])[0])
				t.Error(strings.Join(diff, "\n"))
				keep(t, text)
				return
			}
			c.add(c.whole, r.name, "")
		})
	}
}

// harnessInFull is the outcome of a drawing with its copies written out, exactly.
// It must be that of the drawing; but closed curves begin elsewhere, and a search
// that has its bounds may share out other cuts.
func harnessInFull(t *testing.T, d byhand.Drawing, want outcome) outcome {
	t.Helper()
	r := harnessBuild(d.InFull().Write(byhand.Hand{}))
	if !r.OK() {
		t.Fatalf("exact, in full: %v", errorsOf(r))
	}
	got := outcomeOf(r)
	free := got
	free.cuts = want.cuts
	if diff := want.differs(free, 0, byhand.Hand{}); len(diff) > 0 {
		t.Errorf("exact, in full: %s", strings.Join(diff, "\n"))
	}
	return got
}

// keep writes a job that went wrong among the test's artifacts: -artifacts and
// -outputdir say where they are kept.
func keep(t *testing.T, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(t.ArtifactDir(), "job.toml"), []byte(text), 0o644); err != nil {
		t.Error(err)
	}
}

func harnessBuild(text string) Result {
	return Build("job.toml", []byte(text), os.ReadFile, Options{Only: Templates | Programs})
}

func errorsOf(r Result) diag.Findings {
	return slices.DeleteFunc(slices.Clone(r.Findings), func(f diag.Finding) bool { return f.Severity != diag.Error })
}

// apart are the rules of errors that say that ends, or an end and the strand it
// was meant to lie on, are too far apart to be joined; elsewhere those of strands
// that so run, and meet, where nobody meant them to.
var (
	apart     = []string{"ends-near", "tee-near"}
	elsewhere = []string{"ends-near", "tee-near", "strands-crowded", "strands-touch", "strands-overlap", "grooves-touch", "crossing-slant"}
)

// rightly reports whether a job may be refused: the hand can have moved two ends
// that were one so far apart that nobody may join them, and this is said, if only
// as a warning beside what follows from it; or so far that they aren't even taken
// for ends that were meant to meet.
func rightly(found diag.Findings, moved float64) bool {
	said := func(f diag.Finding) bool { return slices.Contains(apart, f.Rule) }
	if 2*moved <= motif.Joint || 2*moved <= motif.NearJoint && !slices.ContainsFunc(found, said) {
		return false
	}
	return !slices.ContainsFunc(found, func(f diag.Finding) bool {
		return f.Severity == diag.Error && (!slices.Contains(elsewhere, f.Rule) || f.Hint == "")
	})
}

// An outcome is what is compared of two builds.
type outcome struct {
	strands   []float64 // lengths, open ones negative; sorted
	crossings []woven
	cuts      int
	blocks    int
	width     float64 // mm, of the groove
	groove    float64 // mm2
	chisel    float64 // mm2 that the program leaves
	furthest  float64 // mm, of what the program leaves, from where the bit goes
	uncut     float64 // mm2 that the templates leave
	deepest   float64 // mm, of what the templates leave, likewise
	missed    float64 // mm2 that the program leaves though the bit could reach it
	unlike    bool    // it is reported to be symmetric but for a little
	warnings  []string
}

// A woven crossing is where it lies, and how its passages run.
type woven struct {
	at           geom.Point
	angle        float64
	upper, lower geom.Point // directions
}

func outcomeOf(r Result) outcome {
	run := r.Grooving.Run
	o := outcome{
		cuts: len(r.Cuts), blocks: run.Blocks, width: r.Job.Inlay.Width, groove: r.Groove.Area().Area(),
		chisel: run.LeftArea, furthest: run.LeftMax.Amount, missed: run.MissedArea,
		uncut: r.Proof.UncutArea, deepest: r.Proof.UncutMax,
	}
	for _, s := range r.Motif.Strands {
		length := s.Length()
		if !s.Contour.Closed {
			length = -length
		}
		o.strands = append(o.strands, length)
	}
	slices.Sort(o.strands)
	for _, c := range r.Weave.Crossings {
		o.crossings = append(o.crossings, woven{c.At, c.Angle, direction(r, c.Upper()), direction(r, c.Lower())})
	}
	rules := map[string]bool{}
	for _, f := range r.Findings {
		o.unlike = o.unlike || f.Rule == "nearly-symmetric"
		// Which cuts go over made groove hangs on where strands are split, and
		// that may be anywhere: only the number of cuts is held to. So may a name find
		// room on a panel with other cuts.
		if f.Severity == diag.Warning && f.Rule != "cut-again" && f.Rule != "mark-no-room" {
			rules[f.Rule] = true
		}
	}
	o.warnings = slices.Sorted(maps.Keys(rules))
	return o
}

// direction is a strand's at a passage.
func direction(r Result, v weave.Visit) geom.Point {
	_, along := r.Motif.Strands[v.Strand].Contour.At(v.S)
	return along
}

// differs lists what makes got another piece of work than o; moved is how far
// the hand may have moved anything.
func (o outcome) differs(got outcome, moved float64, hand byhand.Hand) []string {
	var list []string
	say := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	near := moved + motif.Joint
	if len(o.strands) != len(got.strands) {
		say("strands: %d, want %d", len(got.strands), len(o.strands))
	} else {
		for i, want := range o.strands {
			if math.Abs(got.strands[i]-want) > fewPerCent*math.Abs(want) {
				say("strands: one is %.3f mm long, want %.3f (negative: open)", got.strands[i], want)
			}
		}
	}
	list = append(list, o.weaveDiffers(got, near)...)
	// A drawing that has lost its symmetry by the hand, and is said to have, needs
	// panels for what a turned panel did before: it is shared out anew.
	if d := got.cuts - o.cuts; (d < -1 || d > 1) && !got.unlike {
		say("cuts: %d, want %d", got.cuts, o.cuts)
	}
	share := func(what string, got, want, least float64) {
		if math.Abs(got-want) > fewPerCent*want+least {
			say("%s: %.4f, want %.4f", what, got, want)
		}
	}
	const someBlocks, speck = 6, 0.05
	share("blocks", float64(got.blocks), float64(o.blocks), someBlocks)
	share("groove", got.groove, o.groove, 0)
	share("left-area", got.chisel, o.chisel, speck)
	// A motif that is symmetric to motif.Same has panels that are used in several
	// positions, and a film as thin may stand along a wall.
	share("uncut-area", got.uncut, o.uncut, speck+motif.Same*o.groove/o.width)
	remainder := func(what string, got, want float64) {
		if math.Abs(got-want) > 0.01+2*max(hand.Shake, moved) {
			say("%s: %.4f mm, want %.4f", what, got, want)
		}
	}
	remainder("left", got.furthest, o.furthest)
	remainder("uncut", got.deepest, o.deepest)
	if got.missed > 0 {
		say("missed: %.4f mm2 that the bit could reach", got.missed)
	}
	if !slices.Equal(got.warnings, o.warnings) {
		say("warnings: %v, want %v", got.warnings, o.warnings)
	}
	return list
}

// weaveDiffers compares the crossings: at the same places, the same passage is
// on top.
func (o outcome) weaveDiffers(got outcome, near float64) []string {
	if len(o.crossings) != len(got.crossings) {
		return []string{fmt.Sprintf("crossings: %d, want %d", len(got.crossings), len(o.crossings))}
	}
	var list []string
	for _, want := range o.crossings {
		c := slices.MinFunc(got.crossings, func(a, b woven) int { return cmp.Compare(a.at.Dist(want.at), b.at.Dist(want.at)) })
		if d := c.at.Dist(want.at); d > 2*near/math.Sin(want.angle) {
			list = append(list, fmt.Sprintf("crossings: none near (%.3f, %.3f), but at %.3f mm", want.at.X, want.at.Y, d))
			continue
		}
		parallel := func(a, b geom.Point) float64 { return math.Abs(a.Cross(b)) }
		if parallel(c.upper, want.upper) > parallel(c.upper, want.lower) {
			list = append(list, fmt.Sprintf("weave: the other strand is on top at (%.3f, %.3f)", want.at.X, want.at.Y))
		}
	}
	return list
}

// report writes the table, and holds it to what is asked.
func (c *tally) report(t *testing.T) {
	t.Logf("%-24s %6s %8s %6s", "", "whole", "refused", "wrong")
	for _, r := range readings() {
		whole, refused, wrong := c.whole[r.name], c.refused[r.name], c.wrong[r.name]
		if whole+refused+wrong > 0 {
			t.Logf("%-24s %6d %8d %6d", r.name, whole, refused, wrong)
		}
		const enough = 0.95 // of those with two decimals
		if r.hand.Decimals == 2 && float64(whole) < enough*float64(whole+refused+wrong) {
			t.Errorf("%s: only %d of %d are made whole", r.name, whole, whole+refused+wrong)
		}
	}
	for _, reason := range slices.Sorted(maps.Keys(c.reasons)) {
		t.Logf("%5d  %s", c.reasons[reason], reason)
	}
}

package cli

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/job"
	"strapwork/pkg/measured"
	"strapwork/pkg/received"
	"strapwork/pkg/unit"
)

var receivedCommand = command{
	name: "received", args: "JOB.toml CARD.toml", about: "reports how wide the grooves come out, as measured, and what to do about those that are off",
	text: `CARD.toml is a copy of received.toml, which a build writes beside the set-up
sheet, with what calipers say of rider, bit and tracks filled in. One of the two
files may be - for standard input

exit status: 0 every groove is right, or tape makes it so; 1 something is too
narrow, or is not measured; 2 a file that cannot be read
`,
	flags: []flag{
		notesFlag,
		jsonFlag("print what becomes of each track as JSON"),
	},
	operand: tomlFiles(2),
	run:     runReceived,
}

func runReceived(e *env, c command, args []string) int {
	return e.withCard(c, args, e.judge)
}

// withCard reads what commands about a card need, a job that can be made and the card's
// text, and goes on with them. Findings from before come first.
func (e *env) withCard(c command, args []string, then func(c command, r build.Result, cardPath string, text []byte, before diag.Findings) int) int {
	fs := e.flagSet(c)
	e.noteFlag(fs)
	if status, done := e.parse(fs, c, args, 1, 2); done {
		return status
	}
	if fs.NArg() < 2 {
		return e.usage(c.name, "the card's name is missing", c.usage())
	}
	path, cardPath := fs.Arg(0), fs.Arg(1)
	if path == fromStdin && cardPath == fromStdin {
		return e.usage(c.name, "job and card cannot both come from standard input", c.usage())
	}
	data, found := e.readJob(path)
	if found.HasErrors() {
		return e.fail(c.name, statusUsage, found)
	}
	repaired := repairAround(cardPath)
	if repaired.HasErrors() {
		return e.fail(c.name, statusUsage, repaired)
	}
	text, found := e.readCard(cardPath)
	if found.HasErrors() {
		return e.fail(c.name, statusUsage, append(repaired, found...))
	}
	r := build.Check(jobName(path), data, beside(path), e.progress())
	e.wiped()
	if !r.OK() {
		return e.fail(c.name, statusOf(r.Findings), r.Findings)
	}
	return then(c, r, cardPath, text, repaired)
}

// judge reads the card against a job that can be made, and reports what becomes
// of its tracks. Findings from before come first.
func (e *env) judge(c command, r build.Result, cardPath string, data []byte, before diag.Findings) int {
	openings := received.Openings(r.Set, r.Groove.Size)
	if len(openings) == 0 {
		return e.usage(c.name, "this job has no panels whose tracks could be measured", "measure the parts as the set-up sheet says")
	}
	ids := make([]string, len(openings))
	for i, o := range openings {
		ids[i] = o.ID
	}
	card, found := received.Read(jobName(cardPath), data, r.Job.Units, ids)
	switch {
	case received.Unreadable(found):
		return e.fail(c.name, statusUsage, found)
	case found.HasErrors():
		return e.fail(c.name, statusFailed, found)
	}
	found = slices.Concat(before, found, otherJob(c, card.Card, r.File))
	grooves, judged := received.Judge(received.WorkOf(r.Job.Inlay, r.GivenKerf(), build.BudgetParams(r.Job), r.Groove.Size, r.Set, r.Shop), card, openings)
	scale, scaled, long := received.JudgeRail(card, received.RailOf(r.Set), r.Set.Plan.Step.Pitch.Norm())
	found = slices.Concat(found, judged, long).In(r.Job.Units)
	status := statusDone
	if found.HasErrors() {
		status = statusFailed
	}
	if e.json {
		doc := newReceived(r.Job, card, grooves, found)
		if scaled {
			doc.Rail = &railJSON{micron(scale.Nominal), micron(scale.Measured), micron(scale.Part())}
		}
		return e.printJSON(doc, status)
	}
	if err := e.show(found); err != nil {
		return statusUsage
	}
	text := grooveTable(r.Job, grooves)
	if scaled {
		text += railLine(scale, r.Job.Units)
	}
	return e.print(text, status)
}

// railLine is what a person reads of the rail.
func railLine(s received.Scale, u unit.System) string {
	return fmt.Sprintf("rail: %s measured, %s planned: the shop's lengths are out by %s %%\n",
		unit.Len(s.Measured).In(u), unit.Len(s.Nominal).In(u), signedPercent(s.Part()))
}

func signedPercent(part float64) string {
	text := unit.Decimal(100*part, 2)
	if part > 0 && text != "0" {
		text = "+" + text
	}
	return text
}

// readCard reads a card, or standard input.
func (e *env) readCard(path string) ([]byte, diag.Findings) {
	return e.readText(path, "a card", measured.MaxSize)
}

// otherJob warns of a card that names another job.
func otherJob(c command, card measured.Card, jobFile string) diag.Findings {
	var found diag.Findings
	name := filepath.Base(jobFile)
	if card.Job != "" && card.Job != name && jobFile != jobName(fromStdin) {
		found.WarnAt(diag.Position{File: card.File}, "other-job", "the card is for %s, and not for %s", card.Job, name).
			Hintf("strapwork %s %s %s", c.name, diag.Typed(card.Job), diag.Typed(card.File))
	}
	return found
}

// grooveTable is what a person reads.
func grooveTable(j *job.Job, grooves []received.Groove) string {
	var b strings.Builder
	say := func(mm float64) string { return unit.Number(mm, j.Units) }
	fmt.Fprintf(&b, "the groove is to be %s wide; within %s nothing needs doing\n", unit.Len(j.Inlay.Width).In(j.Units), unit.Format(received.Tolerance, j.Units))
	w := tabwriter.NewWriter(&b, 0, 0, 3, ' ', 0)
	fmt.Fprintf(w, "track\tcuts\tmeasured, %[1]s\tgroove, %[1]s\toff by, %[1]s\twhat to do\n", j.Units)
	for _, g := range grooves {
		measured, width, off := "-", "-", "-"
		if g.Track > 0 {
			measured = span(say(g.Track), say(g.Broad))
		}
		if g.Verdict != received.Unknown {
			width, off = span(say(g.Width), say(g.Widest)), span(signed(g.Off, j.Units), signed(g.Widest-g.Width+g.Off, j.Units))
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", g.ID, cutNumbers(g.Cuts), measured, width, off, g.Advice().In(j.Units))
	}
	_ = w.Flush() // to a strings.Builder, which takes everything
	for _, line := range received.Footer(received.Tapings(grooves)) {
		fmt.Fprintf(&b, "%s\n", line.In(j.Units))
	}
	return b.String()
}

// cutNumbers are the numbers of a track's cuts: "1,3"; "-" where it makes none.
func cutNumbers(cuts []received.Made) string {
	if len(cuts) == 0 {
		return "-"
	}
	list := make([]string, len(cuts))
	for i, c := range cuts {
		list[i] = strconv.Itoa(c.Number)
	}
	return strings.Join(list, ",")
}

func signed(mm float64, u unit.System) string {
	text := unit.Number(mm, u)
	if mm > 0 && text != "0" {
		text = "+" + text
	}
	return text
}

// span is a figure at a track's narrowest and at its widest place, if they differ.
func span(lo, hi string) string {
	if lo == hi {
		return lo
	}
	return lo + " to " + hi
}

// receivedDocument is the JSON of a card that could be judged. Lengths are mm.
type receivedDocument struct {
	document
	Wanted    float64        `json:"wanted"` // the groove's width
	Tolerance float64        `json:"tolerance"`
	Rider     *float64       `json:"rider"` // means of the readings; null where there is none
	Bit       *float64       `json:"bit"`
	Tracks    []receivedJSON `json:"tracks"`
	Rail      *railJSON      `json:"rail,omitempty"` // nil where the job has none, or it was not measured
}

// railJSON is how long the rail came.
type railJSON struct {
	Nominal  float64 `json:"nominal"`
	Measured float64 `json:"measured"`
	Scale    float64 `json:"scale"` // by how much the shop's lengths are out, as a share
}

type receivedJSON struct {
	ID      string    `json:"id"`
	Panel   string    `json:"panel"`
	Cut     string    `json:"cut"`
	Cuts    []cutMade `json:"cuts"` // all that the track makes, in the order of work
	Nominal float64   `json:"nominal"`
	Track   *float64  `json:"track"`  // the narrowest reading; null where it was not measured
	Groove  *float64  `json:"groove"` // that it makes there; null where it is not known
	Widest  *float64  `json:"widest"` // and where the track is widest
	Off     *float64  `json:"off"`    // groove less wanted
	Verdict string    `json:"verdict"`
	Tape    float64   `json:"tape"`   // thickness in all that brings it back to size; 0 for none
	Layers  []float64 `json:"layers"` // of usual tapes that come near it, both walls together
	Left    []float64 `json:"left"`   // those on the wall to the left along the cut
	Right   []float64 `json:"right"`
	Shift   float64   `json:"shift"`        // by how much they move the groove's middle to the right
	Broad   *float64  `json:"track_widest"` // the widest reading
	Advice  string    `json:"advice"`       // what to do, in the job's units
}

// cutMade is a cut by its number through the job, and the set-up that makes it.
type cutMade struct {
	Number int `json:"number"`
	SetUp  int `json:"set_up"`
}

func newReceived(j *job.Job, card received.Card, grooves []received.Groove, found diag.Findings) receivedDocument {
	doc := receivedDocument{
		document: done("received", found), Wanted: micron(j.Inlay.Width), Tolerance: received.Tolerance,
		Rider: known(card.Rider.Mean()), Bit: known(card.Bit.Mean()), Tracks: []receivedJSON{},
	}
	doc.OK = !found.HasErrors()
	for _, g := range grooves {
		t := receivedJSON{
			ID: g.ID, Panel: g.Panel, Cut: g.Cut, Cuts: []cutMade{}, Nominal: micron(g.Nominal), Verdict: g.Verdict.String(),
			Layers: g.Tape.Layers(), Left: append([]float64{}, g.Tape.Left...), Right: append([]float64{}, g.Tape.Right...),
			Shift: micron(g.Tape.Shift()), Advice: g.Advice().In(j.Units),
		}
		for _, c := range g.Cuts {
			t.Cuts = append(t.Cuts, cutMade(c))
		}
		if g.Track > 0 {
			t.Track, t.Broad = known(g.Track), known(g.Broad)
		}
		if g.Verdict != received.Unknown {
			t.Groove, t.Widest, t.Off = known(g.Width), known(g.Widest), known(g.Off)
		}
		if g.Verdict == received.Tape {
			t.Tape = micron(g.Off)
		}
		doc.Tracks = append(doc.Tracks, t)
	}
	return doc
}

// micron rounds to a thousandth of a micrometre, which drops the noise of
// arithmetic, and "-0".
func micron(mm float64) float64 {
	const perMM = 1e6
	return math.Round(mm*perMM)/perMM + 0
}

// known is a rounded number, or nil for one that is not known.
func known(mm float64) *float64 {
	if math.IsNaN(mm) {
		return nil
	}
	v := micron(mm)
	return &v
}

package cli

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"strapwork/pkg/build"
	"strapwork/pkg/diag"
	"strapwork/pkg/fit"
	"strapwork/pkg/job"
	"strapwork/pkg/received"
	"strapwork/pkg/unit"
)

var fitCommand = command{
	name: "fit", args: "JOB.toml MEASURED.toml", about: "reports which strips to thin and which walls to tape, so that every groove takes the strips",
	text: `MEASURED.toml is a copy of measured.toml, which a build writes beside the set-up
sheet, with what calipers say of the strips and of the grooves of the trial in
scrap filled in. One of the two files may be - for standard input

exit status: 0 every groove takes the strips, once done what is printed; 1
something can't be made to fit, or is not measured; 2 a file that cannot be read
`,
	flags: []flag{
		notesFlag,
		jsonFlag("print what becomes of each strip and groove as JSON"),
	},
	operand: tomlFiles(2),
	run:     func(e *env, c command, args []string) int { return e.withCard(c, args, e.fit) },
}

// fit reads the card against a job that can be made, and reports what is to be done.
// Findings from before come first.
func (e *env) fit(c command, r build.Result, cardPath string, text []byte, before diag.Findings) int {
	ways := fit.Ways(r.Set, r.Groove.Size, r.Motif)
	card, found := fit.Read(jobName(cardPath), text, r.Job.Units, r.Job.Inlay, ways)
	switch {
	case fit.Unreadable(found):
		return e.fail(c.name, statusUsage, found)
	case found.HasErrors():
		return e.fail(c.name, statusFailed, found)
	}
	found = slices.Concat(before, found, otherJob(c, card.Card, r.File))
	plan, judged := fit.Of(build.FitParams(r.Job), card, ways)
	found = append(found, judged...)
	var check *fit.Check
	if plan.Taped() && !found.HasErrors() {
		e.progress()("rolling the router in the walls as they are to be")
		rolled, faults := fit.Prove(r.Groove, r.Set, plan)
		e.wiped()
		check, found = &rolled, append(found, faults...)
	}
	found = found.In(r.Job.Units)
	if len(plan.Grooves) == 0 {
		return e.fail(c.name, statusFailed, found)
	}
	status := statusDone
	if found.HasErrors() {
		status = statusFailed
	}
	if e.json {
		return e.printJSON(newFit(r.Job, plan, check, found), status)
	}
	if err := e.show(found); err != nil {
		return statusUsage
	}
	return e.print(fitTables(r.Job, plan, check), status)
}

// fitTables is what a person reads.
func fitTables(j *job.Job, p fit.Plan, check *fit.Check) string {
	var b strings.Builder
	length := func(mm float64) string { return unit.Len(mm).In(j.Units) }
	say := func(mm float64) string { return unit.Number(mm, j.Units) }
	fmt.Fprintf(&b, "the strips are %s thick together", length(p.Together()))
	if p.Thinned() < p.Together() {
		fmt.Fprintf(&b, ", %s once thinned", length(p.Thinned()))
	}
	fmt.Fprintf(&b, "; with %s of clearance a groove is to be %s wide\n\n", length(p.Clearance), length(p.Wanted()))
	w := tabwriter.NewWriter(&b, 0, 0, 3, ' ', 0)
	fmt.Fprintf(w, "strips\tmaterial\tplanned, %[1]s\tmeasured, %[1]s\twhat to do\n", j.Units)
	for _, s := range p.Strips {
		planned := "-"
		if s.Planned > 0 {
			planned = say(s.Planned)
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\n", numberList(s.Numbers), s.Material, planned, span(say(s.Least), say(s.Most)), s.Advice().In(j.Units))
	}
	_ = w.Flush() // to a strings.Builder, which takes everything
	fmt.Fprintf(&b, "\n")
	first := "track\tcuts"
	if p.Grooves[0].Track == nil {
		first = "groove"
	}
	fmt.Fprintf(w, "%[2]s\tmeasured, %[1]s\toff by, %[1]s\tclearance then, %[1]s\twhat to do\n", j.Units, first)
	for _, g := range p.Grooves {
		name := g.ID
		if g.Track != nil {
			name += "\t" + cutNumbers(g.Track.Cuts)
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\n", name, span(say(g.Narrow), say(g.Broad)), signed(g.Off, j.Units), span(say(g.Tight), say(g.Loose)), g.Advice().In(j.Units))
	}
	_ = w.Flush()
	for _, line := range p.Footer() {
		fmt.Fprintf(&b, "%s\n", line.In(j.Units))
	}
	if check != nil {
		fmt.Fprintf(&b, "%s\n", check.Said().In(j.Units))
	}
	return b.String()
}

func numberList(numbers []int) string {
	list := make([]string, len(numbers))
	for i, n := range numbers {
		list[i] = strconv.Itoa(n)
	}
	return strings.Join(list, ",")
}

// fitDocument is the JSON of a card that could be judged. Lengths are mm.
type fitDocument struct {
	document
	Clearance float64     `json:"clearance"` // that is wanted
	Together  float64     `json:"together"`  // the strips, as measured
	Thinned   float64     `json:"thinned"`   // and once thinned
	Wanted    float64     `json:"wanted"`    // the width that every groove is to have
	Tolerance float64     `json:"tolerance"`
	Bit       *float64    `json:"bit"` // to be written into the job where no walls make the grooves; else null
	Strips    []stripJSON `json:"strips"`
	Grooves   []fitJSON   `json:"grooves"`
	Proof     *checkJSON  `json:"proof"` // null where no wall is changed, or something can't be made to fit
}

type stripJSON struct {
	Strips   []int    `json:"strips"` // in the lay-up, from 1 at the left
	Material string   `json:"material"`
	Planned  *float64 `json:"planned"`   // null where the job gives no strips
	Measured float64  `json:"thickness"` // the thickest reading
	Thinnest float64  `json:"thinnest"`
	Thin     float64  `json:"thin"`  // to be taken off each
	After    float64  `json:"after"` // the thickness that each is to be brought to
	Advice   string   `json:"advice"`
}

type fitJSON struct {
	ID     string    `json:"id"`    // the track's, or the strand's first element
	Panel  string    `json:"panel"` // "" without panels
	Cuts   []cutMade `json:"cuts"`  // all that the track makes, in the order of work
	Width  float64   `json:"width"` // the narrowest reading
	Widest float64   `json:"widest"`
	Off    float64   `json:"off"` // width less wanted
	Remedy string    `json:"remedy"`
	Tape   float64   `json:"tape"` // thickness in all on both walls; 0 for none
	Left   []float64 `json:"left"` // layers on the wall to the left along the cut
	Right  []float64 `json:"right"`
	Shift  float64   `json:"shift"`     // by how much they move the groove's middle to the right
	File   float64   `json:"file"`      // to be taken off both walls together
	Tight  float64   `json:"clearance"` // afterwards, at the tightest place
	Loose  float64   `json:"loosest"`
	Advice string    `json:"advice"` // what to do, in the job's units
}

type checkJSON struct {
	Width    float64 `json:"width"` // of the grooves that the walls are rolled for
	Overcut  float64 `json:"overcut_max"`
	Missed   float64 `json:"missed_max"`
	Expected float64 `json:"expected"` // what either may be at the walls by the tape that is chosen
	Corners  float64 `json:"corners"`  // and what may be missed at corners and ends
}

func newFit(j *job.Job, p fit.Plan, check *fit.Check, found diag.Findings) fitDocument {
	doc := fitDocument{
		document: done("fit", found), Clearance: micron(p.Clearance), Together: micron(p.Together()), Thinned: micron(p.Thinned()),
		Wanted: micron(p.Wanted()), Tolerance: received.Tolerance, Strips: []stripJSON{}, Grooves: []fitJSON{},
	}
	doc.OK = !found.HasErrors()
	if p.Bit > 0 {
		doc.Bit = known(p.Bit)
	}
	for _, s := range p.Strips {
		strip := stripJSON{
			Strips: s.Numbers, Material: s.Material, Measured: micron(s.Most), Thinnest: micron(s.Least), Thin: micron(s.Thin), After: micron(s.After()),
			Advice: s.Advice().In(j.Units),
		}
		if s.Planned > 0 {
			strip.Planned = known(s.Planned)
		}
		doc.Strips = append(doc.Strips, strip)
	}
	for _, g := range p.Grooves {
		doc.Grooves = append(doc.Grooves, newFitJSON(j, g))
	}
	if check != nil {
		doc.Proof = &checkJSON{micron(check.Width), micron(check.Overcut), micron(check.Missed), micron(check.Expected), micron(check.Corners)}
	}
	return doc
}

func newFitJSON(j *job.Job, g fit.Groove) fitJSON {
	out := fitJSON{
		ID: g.ID, Cuts: []cutMade{}, Width: micron(g.Narrow), Widest: micron(g.Broad), Off: micron(g.Off), Remedy: g.Remedy.String(),
		Tape: micron(g.Tape.Total()), Left: append([]float64{}, g.Tape.Left...), Right: append([]float64{}, g.Tape.Right...), Shift: micron(g.Tape.Shift()),
		File: micron(g.File), Tight: micron(g.Tight), Loose: micron(g.Loose), Advice: g.Advice().In(j.Units),
	}
	if g.Track != nil {
		out.Panel = g.Track.Panel
		for _, c := range g.Track.Cuts {
			out.Cuts = append(out.Cuts, cutMade(c))
		}
	}
	return out
}

package dryrun

import (
	"errors"
	"io"
	"math"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/unit"
)

// Judge reads a program and judges it. Faults in the program's words are among
// the findings. trace, if not nil, is given every move in order, some time
// after it was read, with how long it takes.
//
// Rapids are taken to go straight, which not every machine does.
//
// The same bytes give the same report. Memory grows with the number of different
// paths, not with how often they are cut.
func Judge(r io.Reader, d ngc.Dialect, w Work, trace func(Step)) Report {
	j := newJudge(d, w, trace)
	ready := targetFor(&w)
	var warned diag.Findings
	d.Warn = func(f diag.Finding) { warned.Add(f) }
	err := inBatches(r, d, j.move)
	j.report.Findings.Add(warned...)
	return j.finish(err, ready())
}

// targetFor makes the target on another processor. ready waits for it; a panic
// of its making goes on there, where it can be caught.
func targetFor(w *Work) (ready func() target) {
	var t target
	var broken any
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer func() { broken = recover() }()
		if !w.Partial {
			t = newTarget(w)
		}
	}()
	return func() target {
		<-done
		if broken != nil {
			panic(broken)
		}
		return t
	}
}

// Seconds is how long a program takes on a machine, as Judge has it, faults or
// not.
func Seconds(r io.Reader, d ngc.Dialect, m Machine) float64 {
	var report Report
	c := newClock(m, &report, nil)
	// What can't be read takes no time here; Judge reports it.
	_ = inBatches(r, d, func(m *ngc.Move) { c.add(m, false) })
	c.flush()
	return report.Seconds
}

// judge is one program being judged.
type judge struct {
	w      Work
	report Report
	clock  clock
	tally  tally
	gouger gouger
	legs   []leg // scratch

	clamps    []clamp
	parts     []turning
	clampTop  float64
	widest    float64 // of the parts' distances from a clamp
	startSeen bool
	spans     [3]span
	lastLine  int32

	place  ngc.Place // where the last move that went anywhere ended
	origin ngc.Origin
	spin   ngc.Spindle
	start  start
	ended  bool
	millis bool // dwells are in milliseconds

	heightReported, originReported, anyHeight bool
	asked                                     ngc.Modes // that were reported as unstated
	machineZ                                  float64   // the height that the last move with G53 led to, if atMachineZ
	atMachineZ                                bool
	broken                                    bool // the program could not be read as a whole
	cutShort                                  bool // but for its end

	guess   unit.Text // what the program may be meant to be, once it was guessed
	guessed bool
}

func newJudge(d ngc.Dialect, w Work, trace func(Step)) *judge {
	if s := w.Section; s != nil {
		w.Groove.Area = s.allowed(w.Groove.Area)
	}
	j := &judge{report: Report{Partial: w.Partial, Clamps: len(w.Clamps)}, w: w, tally: tally{file: d.File}, gouger: newGouger(&w), millis: d.DwellMillis}
	if w.Section != nil {
		j.report.Section = w.Section.Name
	}
	j.report.Extents, j.report.Cut = geom.EmptyBox(), geom.EmptyBox()
	j.clock = newClock(w.Machine, &j.report, trace)
	j.clamps, j.clampTop = readyClamps(&w)
	j.parts = w.parts()
	for _, p := range j.parts {
		j.widest = math.Max(j.widest, p.keep)
	}
	return j
}

// move judges one move, in order.
func (j *judge) move(m *ngc.Move) {
	if m.Line != j.lastLine {
		j.report.Blocks++
		j.lastLine = m.Line
	}
	fault := false
	j.knowHeight(m)
	if m.Kind.Travels() {
		j.speaks(m)
		j.extents(m)
		j.legs = legs(m, j.legs[:0])
		fault = j.cuts(m)
		fault = j.travel(m) || fault
		fault = j.clampsHit(m, j.legs) || fault
		fault = j.clampsBlind(m) || fault
		j.blindStart(m)
		fault = j.gouger.gouges(m, j.legs) || fault
		for _, b := range j.gouger.bites {
			j.tally.hit(m, hit{rule: deepAtOnce, at: b.at, hasAt: true, amount: b.depth})
		}
		j.cutBox()
		j.place, j.origin = m.To, m.Origin
	} else {
		fault = j.stands(m)
	}
	j.spin = m.Spindle
	j.clock.add(m, fault)
}

// speaks takes the units of a program from its first move that goes anywhere.
func (j *judge) speaks(m *ngc.Move) {
	if j.report.HasUnits {
		return
	}
	switch m.Units {
	case ngc.UnitsUnstated:
		return
	case ngc.Millimetres:
		j.report.Units = unit.MM
	case ngc.Inches:
		j.report.Units = unit.Inch
	}
	j.report.HasUnits = true
}

// cutBox takes the legs below the top of the work into the box of cuts.
func (j *judge) cutBox() {
	for _, l := range j.legs {
		if low, ok := l.below(-surface); ok {
			j.report.Cut = j.report.Cut.Join(low.Bounds())
		}
	}
}

// finish looks at the program as a whole.
func (j *judge) finish(err error, t target) Report {
	j.clock.flush()
	lost := j.readError(err)
	j.report.Unseen = len(j.w.Unseen(j.report.Extents, j.report.Lowest)) > 0
	j.endsHere()
	j.report.Findings.Add(j.findings(lost)...)
	j.nothingCut()
	if j.w.Bit.Slot > 0 {
		j.reportGouges()
		if !j.w.Partial {
			j.left(t)
			j.runOns()
		}
	} else {
		j.report.Findings.ErrorAt(diag.Position{File: j.tally.file, Line: 1}, "no-bit", "the width of the slot that the bit cuts isn't known").
			Hintf("give the bit's diameter, best as measured on a slot in scrap")
	}
	sortFindings(j.report.Findings)
	if j.report.HasUnits {
		j.report.Findings = j.report.Findings.In(j.report.Units)
	}
	return j.report
}

// endsHere looks at a program that stops without M2 or M30, for all that is known
// of where it then is.
func (j *judge) endsHere() {
	if j.ended || !j.inWood() || j.broken && !j.cutShort {
		return
	}
	last := ngc.Move{From: j.place, Line: j.lastLine, Kind: ngc.End, Origin: j.origin}
	j.stands(&last)
}

// nothingCut reports a program that cuts nothing at all.
func (j *judge) nothingCut() {
	if j.w.Partial || j.broken || j.gouger.table.n > 0 {
		return
	}
	j.report.Findings.ErrorAt(diag.Position{File: j.tally.file, Line: max(1, int(j.lastLine))}, "nothing-cut", "the program cuts nothing").
		Hintf("check that it is the right file, and that its Z words go below 0")
}

// readError takes what the reader found into the findings. It returns the first
// line that the reader could make nothing of, behind which places may be unknown
// for that reason alone.
func (j *judge) readError(err error) (lost int) {
	if err == nil {
		return math.MaxInt
	}
	j.broken, j.report.Broken = true, true
	var fs diag.Findings
	if errors.As(err, &fs) {
		j.report.Findings.Add(fs...)
		j.cutShort = len(fs) == 1 && fs[0].Rule == "no-end"
		return fs[0].Pos.Line
	}
	j.report.Findings.ErrorAt(diag.Position{File: j.tally.file, Line: max(1, int(j.lastLine))}, "unreadable", "the program can't be read: %v", err).
		Hintf("check that the file is there and whole")
	return math.MaxInt
}

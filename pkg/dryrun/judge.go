package dryrun

import (
	"errors"
	"io"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// Judge reads a program and judges it. Faults in the program's words are among
// the findings. trace, if not nil, is given every move in order, some time
// after it was read, with how long it takes.
func Judge(r io.Reader, d ngc.Dialect, w Work, trace func(Step)) Report {
	j := newJudge(d.File, w, trace)
	err := d.Read(r, func(m ngc.Move) error {
		j.move(&m)
		return nil
	})
	return j.finish(err)
}

// judge is one program being judged.
type judge struct {
	file     string
	w        Work
	report   Report
	clock    clock
	lastLine int32
	zKnown   bool
}

func newJudge(file string, w Work, trace func(Step)) *judge {
	j := &judge{file: file, w: w}
	j.report.Extents, j.report.Cut = geom.EmptyBox(), geom.EmptyBox()
	j.clock = newClock(w.Machine, &j.report, trace)
	return j
}

// move judges one move, in order.
func (j *judge) move(m *ngc.Move) {
	if m.Line != j.lastLine {
		j.report.Blocks++
		j.lastLine = m.Line
	}
	j.clock.add(m, false)
}

// finish looks at the program as a whole.
func (j *judge) finish(err error) Report {
	j.clock.flush()
	j.readError(err)
	return j.report
}

// readError takes what the reader found into the findings.
func (j *judge) readError(err error) {
	if err == nil {
		return
	}
	var fs diag.Findings
	if errors.As(err, &fs) {
		j.report.Findings.Add(fs...)
		return
	}
	j.report.Findings.Errorf(diag.Position{File: j.file, Line: int(j.lastLine)}, "unreadable", "the program can't be read: %v", err).
		Hintf("look whether the file is there and whole")
}

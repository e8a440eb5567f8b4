package ngc

import (
	"bytes"
	"fmt"
	"io"
	"unicode/utf8"

	"strapwork/pkg/diag"
)

// defaultMaxErrors is how many errors are reported where a Dialect doesn't say:
// more than a person reads.
const defaultMaxErrors = 100

// A Dialect is what a program doesn't say of itself. The zero Dialect is right
// for programs that say all that they can.
type Dialect struct {
	File        string // the file's name, for errors
	DwellMillis bool   // P of G4 is in milliseconds and not in seconds as NISTIR 6556 has it
	MaxErrors   int    // how many errors are reported before reading ends; 0 means 100

	// StartsWith are the modes that the machine is known to start every program in,
	// as a block such as "G17 G90". They count as stated by the program.
	StartsWith string
	// Warn is given what is read, but had better be written otherwise: findings
	// that are no errors. It may be nil.
	Warn func(diag.Finding)
}

// Read reads a program as the zero Dialect does.
func Read(r io.Reader, visit func(Move) error) error { return Dialect{}.Read(r, visit) }

// ReadAll reads a program as the zero Dialect does and returns its moves.
func ReadAll(r io.Reader) ([]Move, error) { return Dialect{}.ReadAll(r) }

// ReadAll is Read with the moves in a list. With an error, it holds the moves
// that could be made out.
func (d Dialect) ReadAll(r io.Reader) ([]Move, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("reading the program: %w", err)
	}
	// Nearly every line is one move; a list that grows would take up to three
	// times the memory.
	list := make([]Move, 0, bytes.Count(text, []byte{'\n'})+maxMoves)
	err = d.Read(bytes.NewReader(text), func(m Move) error {
		list = append(list, m)
		return nil
	})
	return list, err
}

// Read reads a program and gives its moves to visit, in order, in memory that
// doesn't grow with the program.
//
// Faults in the program come back as diag.Findings with a line and a column
// each, one for a block at most. Reading goes on behind a block with a fault:
// the place is then unknown, and what may follow from that is not reported. So
// moves behind a fault are of use for looking at only. The program ends at M2
// or M30 or at the second of two lines with %; what stands behind that is not
// read. A program without such an end is cut off, which is a fault.
//
// An error of r, or one that visit returns, ends the reading and comes back
// itself.
func (d Dialect) Read(r io.Reader, visit func(Move) error) error {
	rd := reader{d: d, lines: newLines(r), visit: visit, state: initial()}
	rd.state.millis = d.DwellMillis
	if err := rd.state.start(d.StartsWith); err != nil {
		return err
	}
	if rd.d.MaxErrors <= 0 {
		rd.d.MaxErrors = defaultMaxErrors
	}
	if err := rd.read(); err != nil {
		return err
	}
	return rd.findings.Err()
}

// byteOrderMark is what some editors put before a text in UTF-8 (U+FEFF).
const byteOrderMark = "\ufeff"

type reader struct {
	d        Dialect
	lines    *lines
	visit    func(Move) error
	state    state
	block    block
	findings diag.Findings
	percent  bool // the first line that isn't blank was %
	begun    bool
	ended    bool // by M2, M30 or %
	words    bool // a block was met that isn't empty
	longN    bool // a line number of many digits was met
	lost     bool // the place isn't known because of a fault
}

func (r *reader) read() error {
	for !r.ended {
		line, ok := r.lines.next()
		if !ok {
			break
		}
		if r.lines.number == 1 {
			line = bytes.TrimPrefix(line, []byte(byteOrderMark))
			if bytes.HasPrefix(line, []byte("\xff\xfe")) || bytes.HasPrefix(line, []byte("\xfe\xff")) {
				r.findings.ErrorAt(r.pos(1), "character", "the file is in UTF-16, and not plain text").Hintf("save it as plain text, in ASCII or UTF-8")
				return nil
			}
		}
		if r.isPercent(line) {
			return nil
		}
		if err := r.one(line); err != nil {
			return err
		}
		if len(r.findings) >= r.d.MaxErrors {
			r.findings.ErrorAt(r.pos(0), "too-many", "too many errors; the rest of the program was not read")
			return nil
		}
	}
	return r.finish()
}

// isPercent reports whether line is the second of the two lines that may
// enclose a program (NISTIR 6556, 3.2), and takes note of the first.
func (r *reader) isPercent(line []byte) bool {
	if len(line) > maxLine {
		return false // cut down; see one
	}
	if text := bytes.Trim(line, " \t"); len(text) != 1 || text[0] != '%' {
		r.begun = r.begun || len(text) > 0
		return false
	}
	if r.percent {
		return true
	}
	if !r.begun {
		r.percent = true
	}
	return false
}

// one reads a line and carries it out.
func (r *reader) one(line []byte) error {
	if f := tooLong(line); f != nil {
		r.block = block{}
		r.fail(line, f)
		return nil
	}
	if r.percent && !r.begun {
		r.begun = true
		return nil // the first %
	}
	f, first := r.block.parse(line), !r.words
	r.words = r.words || f != nil || !r.block.empty
	switch {
	case f != nil:
		r.fail(line, f)
		return nil
	case r.block.empty:
		return nil
	case r.block.numbered && !first:
		r.fail(line, faultf(skipBlanks(line, 0), "o-word", "write every program into a file of its own", "another program's number"))
		return nil
	}
	r.warnLong(line)
	next := r.state
	next.line = r.lines.number
	var out moves
	if f := next.run(&r.block, &out); f != nil {
		r.fail(line, f)
		return nil
	}
	r.state = next
	for _, m := range out.list[:out.n] {
		r.ended = r.ended || m.Kind == End
		if err := r.visit(m); err != nil {
			return err
		}
	}
	return nil
}

// warnLong warns, once, of line numbers that some machines don't take.
func (r *reader) warnLong(line []byte) {
	if !r.block.long || r.longN || r.d.Warn == nil {
		return
	}
	r.longN = true
	pos := r.pos(int(column(line, skipBlanks(line, 0))))
	f := diag.NewAt(diag.Warning, pos, "line-number", "line numbers of more than %d digits, which some controllers don't take", maxDigitsN)
	f.Hintf("number the lines from 1 to 99999, or leave the numbers out").SetExcerpt(string(line))
	r.d.Warn(f)
}

func tooLong(line []byte) *fault {
	if len(line) <= maxLine || utf8.RuneCount(line) <= maxLine {
		return nil
	}
	return faultf(0, "long-line", "write it as several lines", "a line of more than %d characters", maxLine)
}

// fail reports a fault, unless an earlier one may have caused it, and takes over
// what the block says of units and modes, so that one mistake isn't reported often.
func (r *reader) fail(line []byte, f *fault) {
	follows := r.lost && (f.rule == "unknown-start" || f.rule == "no-feed" || f.rule == "no-motion")
	if !follows {
		pos := r.pos(0)
		pos.Col = int(column(line, f.at))
		r.findings.ErrorAt(pos, f.rule, "%s", f.msg).Hintf("%s", f.hint).SetExcerpt(string(line))
	}
	r.lost = true
	if f.rule == "units" {
		r.state.units = Millimetres
	}
	b := &r.block
	r.state.setFeedMode(b)
	r.state.setModes(b)
	_ = r.state.setPath(b) // a second fault in the block
	if b.g.has(uint8(gMotion)) {
		r.state.motion = b.gs[gMotion]
	}
	r.state.at = Place{}
}

// finish looks for the end of a program whose blocks are done.
func (r *reader) finish() error {
	for r.percent {
		line, ok := r.lines.next()
		if !ok {
			break
		}
		if r.isPercent(line) {
			return nil
		}
	}
	switch err := r.lines.err; {
	case err != nil && err != io.EOF:
		return fmt.Errorf("reading the program: %w", err)
	case r.percent:
		r.findings.ErrorAt(r.pos(1), "no-end", "the program begins with %% and doesn't end with it: it may be cut off").
			Hintf("write %% on a line of its own at the end")
	case !r.ended:
		r.findings.ErrorAt(r.pos(1), "no-end", "the program doesn't end: it may be cut off").
			Hintf("write M2 on a line of its own at the end")
	}
	return nil
}

// pos is the last line that was read, at least the first.
func (r *reader) pos(col int) diag.Position {
	return diag.Position{File: r.d.File, Line: int(max(1, r.lines.number)), Col: col}
}

// column is the character, from 1, at a byte of a line.
func column(line []byte, at int) int32 {
	return int32(utf8.RuneCount(line[:min(at, len(line))])) + 1
}

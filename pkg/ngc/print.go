package ngc

import (
	"io"
	"iter"
)

// Print writes moves as a program: those of Read, or others. Lost are comments,
// coolant, override switches, path mode, the tool's number and line numbers.
// Inverse time becomes the feed that it amounts to.
//
// Moves that can't be given in absolute places are an error: an increment from an
// unknown place, a feed that isn't known. Reading what Print wrote and printing
// it again with the same options gives the same bytes.
func Print(out io.Writer, o Options, moves iter.Seq[Move]) error {
	w := NewWriter(out, o)
	w.Preamble()
	for m := range moves {
		w.follow(m)
		w.Move(m)
		if w.err != nil || w.ended {
			break
		}
	}
	if !w.ended {
		w.End()
	}
	return w.Close()
}

// follow changes to a move's origin. What is done before an origin is set is
// done in one that a program can't name, so that it can't be printed before
// another.
func (w *Writer) follow(m Move) {
	switch {
	case m.Origin == OriginUnknown:
		w.unstated = w.unstated || m.Kind.Travels()
	case w.unstated:
		w.fail(ErrUnknown, "the origin before line %d", m.Line)
	default:
		w.SetOrigin(m.Origin)
	}
}

// Move writes a move, and the spindle's state where the move's differs from that
// before it. From and Origin are not looked at.
func (w *Writer) Move(m Move) {
	w.turn(m)
	to := m.To
	to.Known &= m.Named
	if m.Kind.Travels() && to.Known != m.Named {
		w.fail(ErrUnknown, "the end of the move of line %d", m.Line)
		return
	}
	switch m.Kind {
	case Rapid:
		w.Rapid(to)
	case Line:
		w.Line(to, m.Feed)
	case Arc:
		to.X, to.Y, to.Known = m.To.X, m.To.Y, m.Named|AxesXY
		w.Arc(to, m.Center, m.Sweep, m.Feed)
	case Turn: // done
	case Dwell:
		w.Dwell(m.Seconds)
	case Stop:
		w.Stop()
	case OptionalStop:
		w.OptionalStop()
	case End:
		w.End()
	}
}

// turn brings the spindle to a move's state.
func (w *Writer) turn(m Move) {
	if m.Kind == End {
		return // which stops it, whatever m says
	}
	if m.Spindle == SpindleOff {
		if w.spindle != SpindleOff {
			w.SpindleOff()
		}
		return
	}
	if speed, ok := steps(m.Speed, decimalsSpeed); !ok || speed != w.speed || m.Spindle != w.spindle {
		w.SpindleOn(m.Spindle, m.Speed, 0)
	}
}

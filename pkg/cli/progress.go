package cli

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"strapwork/pkg/unit"
)

// patience is how long a command may take before a person wants to see that it
// goes on: about where attention wanders (common practice).
const patience = 2 * time.Second

// A progress shows on a terminal what is being done, once that takes a while, and for
// how long, so that a long step is seen to go on.
type progress struct {
	mu    sync.Mutex
	w     io.Writer
	timer *time.Timer // to show it next; nil once it is wiped
	what  string
	since time.Time // what was begun
	shown bool
}

// newProgress shows steps on w, from some time on.
func newProgress(w io.Writer, after time.Duration) *progress {
	p := &progress{w: w, since: time.Now()}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.timer = time.AfterFunc(after, p.again)
	return p
}

// again shows what is being done, and does so each second from then on.
func (p *progress) again() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.timer == nil {
		return
	}
	p.shown = true
	p.show()
	p.timer.Reset(time.Second)
}

// startOfLine is a carriage return and "erase to the end" (ECMA-48 EL).
const startOfLine = "\r\x1b[K"

func (p *progress) show() {
	if p.what == "" {
		return // nobody has said yet
	}
	long := ""
	if d := time.Since(p.since).Truncate(time.Second); d >= patience {
		long = ", " + unit.Duration(d.Seconds())
	}
	fmt.Fprint(p.w, startOfLine+p.what+long)
}

// step shows what comes next, or after a colon how far the same step is, which may change
// faster than it can be read: that is shown at the next second.
func (p *progress) step(what string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	name, _, goesOn := strings.Cut(what, ": ")
	if goesOn && strings.HasPrefix(p.what, name) {
		p.what = what
		return
	}
	p.what, p.since = what, time.Now()
	if p.shown {
		p.show()
	}
}

// wipe takes off what is shown; nothing is shown after it.
func (p *progress) wipe() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.timer == nil {
		return
	}
	p.timer.Stop()
	p.timer = nil
	if p.shown {
		fmt.Fprint(p.w, startOfLine)
	}
	p.shown = false
}

// progress returns what shows steps on a terminal, until e.wiped; elsewhere
// they are not shown.
func (e *env) progress() (step func(string)) {
	if e.shown != nil {
		return e.shown.step
	}
	f, ok := terminal(e.stderr)
	if !ok || e.json {
		return func(string) {}
	}
	e.shown = newProgress(f, patience)
	return e.shown.step
}

// wiped takes progress off the terminal.
func (e *env) wiped() {
	if e.shown != nil {
		e.shown.wipe()
		e.shown = nil
	}
}

// terminal is the file behind w, if a person sees what is written there.
func terminal(w io.Writer) (f *os.File, ok bool) {
	if f, ok = w.(*os.File); !ok {
		return nil, false
	}
	info, err := f.Stat()
	return f, err == nil && info.Mode()&os.ModeCharDevice != 0
}

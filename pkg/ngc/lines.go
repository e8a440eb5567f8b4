package ngc

import (
	"bytes"
	"io"
)

const (
	// maxLine is how many characters a line may have, without its end
	// (NISTIR 6556, 3.3: currently 256).
	maxLine = 256

	// bufferSize is how much is read at a time. It holds any line that is
	// allowed many times over, also in characters of four bytes.
	bufferSize = 64 << 10
)

// lines cuts a file into lines that end in a line feed, a carriage return or
// both, in a buffer of fixed size.
type lines struct {
	r          io.Reader
	buf        []byte
	start, end int
	err        error // of r
	afterCR    bool  // a line feed that comes first belongs to the last line
	number     int32
}

func newLines(r io.Reader) *lines { return &lines{r: r, buf: make([]byte, bufferSize)} }

// next returns a line, good until the next call, without its end. A line that
// doesn't fit into the buffer comes as its first part and the rest is dropped;
// it is much longer than maxLine, so nobody takes it for a whole one. ok is
// false at the end of the file or where it can't be read further.
func (l *lines) next() (line []byte, ok bool) {
	scanned := 0
	for {
		if l.afterCR && l.start < l.end {
			l.afterCR = false
			if l.buf[l.start] == '\n' {
				l.start++
			}
		}
		window := l.buf[l.start:l.end]
		if i := lineEnd(window, scanned); i >= 0 {
			l.take(i + 1)
			l.afterCR = window[i] == '\r'
			return window[:i], true
		}
		scanned = len(window)
		switch {
		case l.err != nil && scanned == 0:
			return nil, false
		case l.err != nil:
			l.take(scanned)
			return window, l.err == io.EOF
		case scanned == len(l.buf):
			return l.tooLong(), true
		}
		l.fill()
	}
}

// lineEnd is the index of the first line feed or carriage return at or after
// from, or -1. Lines are short, so a plain loop is as fast as any search.
func lineEnd(b []byte, from int) int {
	for i := from; i < len(b); i++ {
		if c := b[i]; c == '\n' || c == '\r' {
			return i
		}
	}
	return -1
}

func (l *lines) take(n int) {
	l.start += n
	l.number++
}

func (l *lines) fill() {
	if l.start > 0 {
		l.end = copy(l.buf, l.buf[l.start:l.end])
		l.start = 0
	}
	const idleReads = 100 // as bufio: a reader that gives nothing is broken
	for range idleReads {
		n, err := l.r.Read(l.buf[l.end:])
		l.end += n
		l.err = err
		if n > 0 || err != nil {
			return
		}
	}
	l.err = io.ErrNoProgress
}

// tooLong drops a line that fills the buffer up to its end, and returns its
// first part.
func (l *lines) tooLong() []byte {
	head := bytes.Clone(l.buf[:4*maxLine+1])
	l.number++
	for l.err == nil {
		l.start, l.end = 0, 0
		l.fill()
		if i := lineEnd(l.buf[:l.end], 0); i >= 0 {
			l.afterCR = l.buf[i] == '\r'
			l.start = i + 1
			break
		}
		l.start = l.end
	}
	return head
}

package dxf

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// A ReadError says what is wrong with a file and in which line, from 1.
type ReadError struct {
	Line int
	Msg  string
}

// Error is the message with its line.
func (e *ReadError) Error() string { return fmt.Sprintf("dxf: line %d: %s", e.Line, e.Msg) }

func errorAt(line int, format string, args ...any) error {
	return &ReadError{Line: line, Msg: fmt.Sprintf(format, args...)}
}

// A tag is one item of a file: a group code on one line and its value on the
// next.
type tag struct {
	code  int
	value string
	line  int // of the value
}

// is reports whether t is group 0 with the given word.
func (t tag) is(word string) bool { return t.code == 0 && t.value == word }

// Limits that hold memory within a small multiple of what any part of a
// template needs.
const (
	// maxLine is the longest value that a group may have (DXF Reference: 2049
	// characters); anything longer is no DXF.
	maxLine = 2049
	// maxVertices is far above what a template has (a busy panel has some
	// thousands), but a file that exceeds it is a drawing of something else.
	maxVertices = 1 << 20
	// maxCode is the last group code (extended data, 1071).
	maxCode = 1071
)

// A tagReader reads tags one at a time; one can be put back.
type tagReader struct {
	scan *bufio.Scanner
	line int
	back *tag
}

func newTagReader(r io.Reader) *tagReader {
	s := bufio.NewScanner(r)
	s.Buffer(make([]byte, 0, maxLine+2), maxLine+2) // and the line's end
	return &tagReader{scan: s}
}

// unread puts t back, to be the next tag.
func (r *tagReader) unread(t tag) { r.back = &t }

// next returns the next tag, comments left out. The end of the file is an
// error here: every file ends with group 0, EOF.
func (r *tagReader) next() (tag, error) {
	if r.back != nil {
		t := *r.back
		r.back = nil
		return t, nil
	}
	for {
		word, err := r.text()
		if err != nil {
			return tag{}, err
		}
		code, err := strconv.Atoi(strings.TrimSpace(word))
		if err != nil || code < 0 || code > maxCode {
			return tag{}, errorAt(r.line, "%.40q is not a group code: is this an ASCII DXF file?", word)
		}
		value, err := r.text()
		if err != nil {
			return tag{}, err
		}
		if code == 999 {
			continue
		}
		if code == 0 || code == 9 {
			value = strings.TrimSpace(value)
		}
		return tag{code, value, r.line}, nil
	}
}

// text returns the next line.
func (r *tagReader) text() (string, error) {
	r.line++
	if r.scan.Scan() {
		s := r.scan.Text()
		if r.line == 1 {
			s = strings.TrimPrefix(s, "\ufeff") // a byte order mark
		}
		return strings.TrimSuffix(s, "\r"), nil
	}
	switch err := r.scan.Err(); {
	case err == nil:
		return "", errorAt(r.line, "the file ends before its EOF: it is cut short")
	case errors.Is(err, bufio.ErrTooLong):
		return "", errorAt(r.line, "the line is longer than %d characters: is this an ASCII DXF file?", maxLine)
	default:
		return "", fmt.Errorf("dxf: line %d: %w", r.line, err)
	}
}

// rest reports an error unless nothing but blank lines follows.
func (r *tagReader) rest() error {
	for {
		r.line++
		if !r.scan.Scan() {
			return r.scan.Err()
		}
		if strings.TrimSpace(r.scan.Text()) != "" {
			return errorAt(r.line, "there is text after EOF")
		}
	}
}

// number is t's value as an ordinary decimal number.
func (t tag) number() (float64, error) {
	s := strings.TrimSpace(t.value)
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(s, "xXpP_") {
		return 0, errorAt(t.line, "%.40q is not a number", t.value)
	}
	return v, nil
}

// coordinate is t's value as a number that may be a coordinate.
func (t tag) coordinate() (float64, error) {
	v, err := t.number()
	if err == nil && !within(v) {
		err = errorAt(t.line, "%g is beyond %g", v, maxCoordinate)
	}
	return v, err
}

// integer is t's value as a whole number.
func (t tag) integer() (int, error) {
	v, err := strconv.ParseInt(strings.TrimSpace(t.value), 10, 32)
	if err != nil {
		return 0, errorAt(t.line, "%.40q is not a whole number", t.value)
	}
	return int(v), nil
}

// Package tags reads the ASCII form of a DXF file as what it is made of: a group code on
// one line, its value on the next. It knows no sections and no entities.
package tags

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// An Error says what is wrong with a file and in which line, from 1.
type Error struct {
	Line int
	Msg  string
}

// Error is the message with its line.
func (e *Error) Error() string { return fmt.Sprintf("dxf: line %d: %s", e.Line, e.Msg) }

// Errorf is an Error with a message made like fmt.Sprintf.
func Errorf(line int, format string, args ...any) *Error {
	return &Error{Line: line, Msg: fmt.Sprintf(format, args...)}
}

// A Tag is one item of a file: a group code on one line and its value on the
// next.
type Tag struct {
	Code  int
	Value string
	Line  int // of the value
}

// Is reports whether t is group 0 with the given word.
func (t Tag) Is(word string) bool { return t.Code == 0 && t.Value == word }

const (
	// maxLine is the longest value that a group may have (DXF Reference: 2049
	// characters, of up to 4 bytes each in UTF-8); anything longer is no DXF.
	maxLine = 4 * 2049
	// maxCode is the last group code (extended data, 1071).
	maxCode = 1071
)

// A Reader reads tags one at a time; one can be put back.
type Reader struct {
	scan *bufio.Scanner
	line int
	back *Tag
}

// NewReader reads tags from r.
func NewReader(r io.Reader) *Reader {
	s := bufio.NewScanner(r)
	s.Buffer(make([]byte, 0, maxLine+2), maxLine+2) // and the line's end
	return &Reader{scan: s}
}

// Unread puts t back, to be the next tag.
func (r *Reader) Unread(t Tag) { r.back = &t }

// Next returns the next tag, comments left out. The end of the file is an
// error here: every file ends with group 0, EOF.
func (r *Reader) Next() (Tag, error) {
	if r.back != nil {
		t := *r.back
		r.back = nil
		return t, nil
	}
	for {
		word, err := r.text()
		if err != nil {
			return Tag{}, err
		}
		code, err := strconv.Atoi(strings.TrimSpace(word))
		if err != nil || code < 0 || code > maxCode {
			return Tag{}, Errorf(r.line, "%.40q is not a group code: is this an ASCII DXF file?", word)
		}
		value, err := r.text()
		if err != nil {
			return Tag{}, err
		}
		if code == 999 {
			continue
		}
		if code == 0 || code == 9 {
			value = strings.TrimSpace(value)
		}
		return Tag{code, value, r.line}, nil
	}
}

// text returns the next line.
func (r *Reader) text() (string, error) {
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
		return "", Errorf(r.line, "the file ends before its EOF: it is cut short")
	case errors.Is(err, bufio.ErrTooLong):
		return "", Errorf(r.line, "the line is longer than %d bytes: is this an ASCII DXF file?", maxLine)
	default:
		return "", fmt.Errorf("dxf: line %d: %w", r.line, err)
	}
}

// Rest reports an error unless nothing but blank lines follows.
func (r *Reader) Rest() error {
	for {
		r.line++
		if !r.scan.Scan() {
			return r.scan.Err()
		}
		if strings.TrimSpace(r.scan.Text()) != "" {
			return Errorf(r.line, "there is text after EOF")
		}
	}
}

// Number is t's value as an ordinary decimal number.
func (t Tag) Number() (float64, error) {
	s := strings.TrimSpace(t.Value)
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(s, "xXpP_") {
		return 0, Errorf(t.Line, "%.40q is not a number", t.Value)
	}
	return v, nil
}

// Integer is t's value as a whole number.
func (t Tag) Integer() (int, error) {
	v, err := strconv.ParseInt(strings.TrimSpace(t.Value), 10, 32)
	if err != nil {
		return 0, Errorf(t.Line, "%.40q is not a whole number", t.Value)
	}
	return int(v), nil
}

package job

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"strapwork/pkg/diag"
)

// source is the text of a job file and its keys.
type source struct {
	file   string
	data   string
	starts []int // of lines
	root   *node
}

func newSource(file, data string) *source {
	s := &source{file: file, data: data, starts: []int{0}}
	for i := 0; i < len(data); i++ {
		if data[i] == '\n' {
			s.starts = append(s.starts, i+1)
		}
	}
	return s
}

// at is the position of a byte; columns count characters.
func (s *source) at(off int) diag.Position {
	off = min(max(off, 0), len(s.data))
	line := s.line(off)
	col := utf8.RuneCountInString(s.data[s.starts[line-1]:off]) + 1
	return diag.Position{File: s.file, Line: line, Col: col}
}

// line is the number of the line that holds a byte: how many start at or
// before it.
func (s *source) line(off int) int { return sort.SearchInts(s.starts, off+1) }

// Pos is where a key's value stands in the file, such as "inlay.depth" or
// "weave.flip.1" (lists count from 1). A key that the file lacks gives its
// table's place, and failing that line 1.
func (j *Job) Pos(key diag.Key) diag.Position { return j.source.pos(string(key)) }

// Excerpt is a line of the file, counted from 1; empty beyond its end.
func (j *Job) Excerpt(line int) string { return j.source.excerpt(line) }

func (s *source) pos(key string) diag.Position {
	n := s.root
	for name := range strings.SplitSeq(key, ".") {
		next := n.child(name)
		if next == nil {
			break
		}
		n = next
	}
	return s.at(n.off)
}

// child is a table's field or a list's item, counted from 1; nil if there is
// none.
func (n *node) child(name string) *node {
	if n.kind == nodeList {
		if i, err := strconv.Atoi(name); err == nil && i >= 1 && i <= len(n.items) {
			return n.items[i-1]
		}
		return nil
	}
	return n.get(name)
}

func (s *source) excerpt(line int) string {
	if line < 1 || line > len(s.starts) {
		return ""
	}
	end := len(s.data)
	if line < len(s.starts) {
		end = s.starts[line] - 1
	}
	return strings.TrimSuffix(s.data[s.starts[line-1]:end], "\r")
}

func itoa(n int) string { return strconv.Itoa(n) }

// quoteAt is the character at a place, quoted.
func quoteAt(data []byte, off int) string {
	r, _ := utf8.DecodeRune(data[off:])
	if r == '\n' || r == '\r' {
		return "the end of the line"
	}
	return fmt.Sprintf("%q", r)
}

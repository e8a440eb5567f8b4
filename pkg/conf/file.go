package conf

import (
	"sort"
	"strings"
	"unicode/utf8"

	"strapwork/pkg/diag"
)

// Top is the place of what a file lacks: its first line, which is not shown, having
// nothing to do with it.
const Top = -1

// A File is the text of a file, and its values.
type File struct {
	Name string
	Root *Value

	data   string
	starts []int // of lines
}

func newFile(name, data string) *File {
	f := &File{Name: name, data: data, starts: []int{0}}
	for i := 0; i < len(data); i++ {
		if data[i] == '\n' {
			f.starts = append(f.starts, i+1)
		}
	}
	return f
}

// At is the position of a byte; columns count characters.
func (f *File) At(off int) diag.Position {
	off = min(max(off, 0), len(f.data))
	line := f.Line(off)
	col := utf8.RuneCountInString(f.data[f.starts[line-1]:off]) + 1
	return diag.Position{File: f.Name, Line: line, Col: col}
}

// Line is the number of the line that holds a byte: how many start at or before it.
func (f *File) Line(off int) int { return sort.SearchInts(f.starts, off+1) }

// Find is a key's value in the file, such as "inlay.depth" or "weave.flip.1" (lists count
// from 1). A key that the file lacks gives its table, and failing that the whole.
func (f *File) Find(key diag.Key) *Value {
	v := f.Root
	for name := range strings.SplitSeq(string(key), ".") {
		next := v.child(name)
		if next == nil {
			break
		}
		v = next
	}
	return v
}

// Pos is where Find finds a key.
func (f *File) Pos(key diag.Key) diag.Position { return f.At(f.Find(key).Off) }

// Excerpt is a line of the file, counted from 1; empty beyond its end.
func (f *File) Excerpt(line int) string {
	if line < 1 || line > len(f.starts) {
		return ""
	}
	end := len(f.data)
	if line < len(f.starts) {
		end = f.starts[line] - 1
	}
	return strings.TrimSuffix(f.data[f.starts[line-1]:end], "\r")
}

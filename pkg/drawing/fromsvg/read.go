// Package fromsvg reads an SVG drawing into the neutral model of package drawing.
//
// It follows W3C, Scalable Vector Graphics (SVG) 1.1 (Second Edition), 2011, and SVG 2
// (Candidate Recommendation, 2018) where that says more. What a drawing shows by lines is
// read exactly: arcs stay arcs, Bezier curves stay Bezier curves, under all transforms.
// What is no line to follow is counted as passed over. What can't be read right is
// refused at its place in the file, where a browser would leave it out without a word.
package fromsvg

import (
	"bytes"
	"sort"
	"unicode/utf8"

	"strapwork/pkg/diag"
	"strapwork/pkg/drawing"
)

// Bounds of what is read, so that no file takes long or much memory: drawings of motifs
// have some hundreds of elements and some dozens of rules of style.
const (
	maxElements   = 4 * drawing.MaxCurves
	maxAttributes = 1_000_000
	maxOfOne      = 200                 // attributes of one element
	maxRules      = 20_000              // selectors of style sheets
	maxDeclared   = 200_000             // properties that they set
	maxVisits     = maxElements         // elements drawn, copies by <use> counted
	maxMatching   = 30_000_000          // steps of matching selectors to elements: under a second
	maxWork       = 3 * drawing.MaxSize // bytes of values read, once for each copy drawn
)

// Rules of what is found, as fromdxf has them where both can find it.
const (
	ruleFormat    = "drawing-format"    // no SVG of a kind that is read
	ruleLimit     = "drawing-limit"     // more than is read
	ruleDamaged   = "drawing-damaged"   // no XML
	ruleValue     = "drawing-value"     // a value that can't be read right
	ruleReference = "drawing-reference" // what is drawn isn't in the file
	ruleStyle     = "drawing-style"     // a rule of style that is left out
)

// Read reads an SVG drawing; file names it in what is found. A drawing with an error
// among the findings is not to be used.
func Read(file string, data []byte) (drawing.Drawing, diag.Findings) {
	r := &reader{file: file, data: data}
	if !r.readable() {
		return drawing.Drawing{}, r.findings
	}
	root := r.parse()
	if root != nil && !r.findings.HasErrors() {
		r.drawRoot(root)
	}
	if r.findings.HasErrors() {
		r.out = drawing.Drawing{}
	}
	return r.out, r.findings.InOrder().Shorten()
}

// A reader holds one drawing while it is read.
type reader struct {
	file     string
	data     []byte
	lines    []int // where each line starts, and
	runes    []int // how many characters come before each stride of bytes; made when first asked for
	findings diag.Findings
	out      drawing.Drawing

	ids      map[string]*node
	names    []string
	sheet    sheet
	declared int
	matching int
	visits   int
	work     int
	segments int
	halted   bool    // a limit was passed: nothing more is read
	perUnit  float64 // px of the page in a unit of the drawing
}

// readable refuses what is no text of a size to be read.
func (r *reader) readable() bool {
	switch {
	case len(r.data) > drawing.MaxSize:
		r.errorAt(-1, ruleLimit, "the drawing has %d MB, and at most %d are read", len(r.data)>>20, drawing.MaxSize>>20).
			Hintf("leave pictures and what isn't the motif out of it")
	case bytes.HasPrefix(r.data, []byte{0x1f, 0x8b}):
		r.errorAt(-1, ruleFormat, "the drawing is packed (gzip)").Hintf("save it as plain SVG, or unpack it: gzip -dc < drawing.svgz > drawing.svg")
	case bytes.HasPrefix(r.data, []byte{0xff, 0xfe}), bytes.HasPrefix(r.data, []byte{0xfe, 0xff}):
		r.errorAt(-1, ruleFormat, "the drawing is written in UTF-16").Hintf("save it as UTF-8")
	case bytes.Count(r.data, []byte("=")) > maxAttributes:
		r.errorAt(-1, ruleLimit, "the drawing has more than %d attributes", maxAttributes).Hintf("leave out what isn't the motif")
	}
	return !r.findings.HasErrors()
}

// stride is how many bytes apart characters are counted: a drawing may be one long line.
const stride = 1024

// pos is the place of a byte of the file; unknown where it is negative.
func (r *reader) pos(offset int) diag.Position {
	if offset < 0 {
		return diag.Position{File: r.file}
	}
	if r.lines == nil {
		r.lines = []int{0}
		count := 0
		for i, b := range r.data {
			if i%stride == 0 {
				r.runes = append(r.runes, count)
			}
			if utf8.RuneStart(b) {
				count++
			}
			if b == '\n' {
				r.lines = append(r.lines, i+1)
			}
		}
	}
	offset = min(offset, len(r.data))
	line := sort.SearchInts(r.lines, offset+1)
	return diag.Position{File: r.file, Line: line, Col: r.before(offset) - r.before(r.lines[line-1]) + 1}
}

// before is how many characters begin before a byte.
func (r *reader) before(offset int) int {
	if len(r.runes) == 0 {
		return 0
	}
	k := min(offset/stride, len(r.runes)-1)
	count := r.runes[k]
	for _, b := range r.data[k*stride : offset] {
		if utf8.RuneStart(b) {
			count++
		}
	}
	return count
}

// errorAt adds an error about a byte of the file.
func (r *reader) errorAt(offset int, rule, format string, args ...any) *diag.Finding {
	return r.located(r.findings.ErrorAt(r.pos(offset), rule, format, args...))
}

// warnAt adds a warning about a byte of the file, unless there are as many as are shown.
func (r *reader) warnAt(offset int, rule, format string, args ...any) *diag.Finding {
	if r.findings.Count(diag.Warning) >= diag.Most {
		return &diag.Finding{}
	}
	return r.located(r.findings.WarnAt(r.pos(offset), rule, format, args...))
}

// longLine is the length in bytes beyond which a line isn't shown: a drawing saved to be
// small is one line, and every finding would hold all of it.
const longLine = 2000

func (r *reader) located(f *diag.Finding) *diag.Finding {
	if f.Pos.Line == 0 {
		return f
	}
	line := r.data[r.lines[f.Pos.Line-1]:]
	if i := bytes.IndexByte(line, '\n'); i >= 0 {
		line = line[:i]
	}
	if len(line) <= longLine {
		f.SetExcerpt(string(bytes.TrimSuffix(line, []byte("\r"))))
	}
	return f
}

// halt adds an error after which nothing more is read, and no other is added.
func (r *reader) halt(offset int, format string, args ...any) *diag.Finding {
	if r.halted {
		return &diag.Finding{}
	}
	r.halted = true
	return r.errorAt(offset, ruleLimit, format, args...)
}

// spend counts bytes of values that are read, which copies multiply.
func (r *reader) spend(n *node, bytes int) {
	if r.work += bytes; r.work > maxWork {
		r.halt(n.offset, "the drawing takes too long to work out").Hintf("leave out what isn't the motif")
	}
}

// full reports that no more need be read: a limit was passed, or there is as much to repair
// as is shown.
func (r *reader) full() bool { return r.halted || r.findings.Count(diag.Error) >= diag.Most }

// pass counts what is passed over.
func (r *reader) pass(what string, n *node) { r.out.Pass(what, r.pos(n.offset)) }

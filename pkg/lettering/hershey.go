package lettering

// The reader of the letters' data: James Hurt's format, one character to a
// line. Columns 1 to 5 are the number in Hershey's list and columns 6 to 8 the
// count of the coordinate pairs that follow. A pair is two characters, each a
// number by its distance from 'R'; x runs to the right and y down. The first
// pair is the character's left and right limit, and the pair " R" lifts the
// pen. (Recalled; checked against the data itself.)

import (
	"bytes"
	"fmt"
	"strconv"

	"strapwork/pkg/geom"
)

const (
	firstChar = ' ' // the data's first line
	lastChar  = '~' // the last printable character; one more line may follow

	// capHeight is the capitals' height in the data's units, and baseY its y
	// of the base line: the letter H runs from 12 above the origin to 9 below.
	capHeight = 21
	baseY     = 9
)

// A glyph is one character in the data's units, about the base line.
type glyph struct {
	number      int // in Hershey's list
	left, right float64
	strokes     [][]geom.Point // y up from the base line
}

// glyphOf finds a printable character, which ASCII made sure of.
func glyphOf(c rune) glyph {
	if i := int(c - firstChar); i >= 0 && i < len(glyphs) {
		return glyphs[i]
	}
	return glyph{}
}

// parse reads characters, one to a line. The error names the line.
func parse(data []byte) ([]glyph, error) {
	var list []glyph
	n := 0
	for line := range bytes.Lines(data) {
		n++
		g, err := parseGlyph(bytes.TrimSuffix(line, []byte("\n")))
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
		list = append(list, g)
	}
	return list, nil
}

// header is the number of columns before the pairs, of which numberCols hold
// the character's number.
const (
	header     = 8
	numberCols = 5
)

func parseGlyph(line []byte) (glyph, error) {
	var g glyph
	if len(line) < header {
		return g, fmt.Errorf("%d characters are no header of %d", len(line), header)
	}
	var pairs int
	for _, field := range []struct {
		text []byte
		to   *int
	}{{line[:numberCols], &g.number}, {line[numberCols:header], &pairs}} {
		n, err := strconv.Atoi(string(bytes.TrimLeft(field.text, " ")))
		if err != nil || n < 1 {
			return g, fmt.Errorf("%q is not a number from 1", field.text)
		}
		*field.to = n
	}
	body := line[header:]
	if len(body) != 2*pairs {
		return g, fmt.Errorf("%d pairs are announced, and %d characters follow", pairs, len(body))
	}
	return g, g.read(body)
}

// read reads the pairs.
func (g *glyph) read(body []byte) error {
	for i, c := range body {
		if c < ' ' || c > '~' || c == ' ' && (i < 2 || i%2 == 1 || body[i+1] != 'R') {
			return fmt.Errorf("the character %q can't stand at column %d", c, header+i+1)
		}
	}
	at := func(i int) geom.Point { return geom.Pt(float64(int(body[i])-'R'), float64(baseY+'R'-int(body[i+1]))) }
	g.left, g.right = at(0).X, float64(int(body[1])-'R')
	if g.left > g.right {
		return fmt.Errorf("the left limit %g lies right of %g", g.left, g.right)
	}
	var stroke []geom.Point
	for i := 2; i <= len(body); i += 2 {
		if i < len(body) && body[i] != ' ' {
			stroke = append(stroke, at(i))
			if n := len(stroke); n > 1 && stroke[n-1] == stroke[n-2] {
				return fmt.Errorf("the pen stands still at column %d", header+i+1)
			}
			continue
		}
		if len(stroke) == 1 || len(stroke) == 0 && (i < len(body) || i > 2) {
			return fmt.Errorf("a stroke of %d points ends at column %d", len(stroke), header+i+1)
		}
		if stroke != nil {
			g.strokes = append(g.strokes, stroke)
		}
		stroke = nil
	}
	return nil
}

package program

import (
	"fmt"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// cautions are the last lines of every head. They are usual ones; who made the
// machine and who knows it come first.
var cautions = []string{
	"routers throw parts and grab sleeves, hair and cords:",
	"keep hands and clothes away, and stand by the stop",
	"wear eye, ear and breathing protection, and draw off the dust",
	"the manuals of machine and cutter, local rules and trained people",
	"come before this program",
	"first the dry run, then the perimeter program, then cut in scrap",
}

// head writes the comments that a program begins with: its kind and title, the
// facts of its kind, what all programs have, and the cautions. Each is worded to
// fit a line, so that no number is parted from its unit.
func (p *writer) head(kind string, facts ...string) {
	s := p.s
	title := kind
	if s.Title != "" {
		title += ": " + s.Title
	}
	p.Comment(title)
	if s.Part != "" {
		p.Comment(s.Part)
	}
	var source []string
	if s.Job != "" {
		source = append(source, "job "+s.Job)
	}
	if s.Revision != "" {
		source = append(source, "revision "+s.Revision)
	}
	p.Comment(strings.Join(source, ", "))
	for _, f := range facts {
		p.Comment(f)
	}
	p.Comment(timeLine(s.Time))
	for _, c := range cautions {
		p.Comment(c)
	}
}

// length is a length in mm, shown in the program's units and as its words have it:
// in decimals.
func (s Params) length(mm float64) string { return unit.Format(mm, s.Units()) }

// Size is a length in mm of something that a maker measures: a fraction of an inch
// where that is exact.
func (s Params) Size(mm float64) string {
	if text := unit.Len(mm).In(s.Units()); strings.Contains(text, "/") {
		return text
	}
	return s.length(mm)
}

// number is length without its unit.
func (s Params) number(mm float64) string { return unit.Number(mm, s.Units()) }

// zeroLines say where the program's zero is.
func (s Params) zeroLines() []string {
	where := s.Zero
	if where == "" {
		where = "not stated in the job"
	}
	return []string{"zero: x0 y0 is " + where, "zero: z0 is the top of the work"}
}

func (s Params) bitLine(bit float64) string {
	return fmt.Sprintf("bit: cuts a slot of %s, as measured", s.Size(bit))
}

// boardLines give the stock and where it lies, in the program's coordinates.
func (s Params) boardLines() []string {
	if s.Board == nil || s.Board.Box().Empty() {
		return []string{"board: its size is not stated in the job"}
	}
	size := s.Board.Size
	thick := ""
	if s.Board.Thickness > 0 {
		thick = fmt.Sprintf(", %s thick", s.Size(s.Board.Thickness))
	}
	return []string{fmt.Sprintf("board: %s by %s%s", s.Size(size.X), s.Size(size.Y), thick), "board: " + s.span(s.Board.Box())}
}

// span gives a box of the motif in the program's coordinates.
func (s Params) span(b geom.Box) string {
	b = s.Shift.Box(b)
	return fmt.Sprintf("x %s to %s, y %s to %s", s.number(b.Min.X), s.length(b.Max.X), s.number(b.Min.Y), s.length(b.Max.Y))
}

func (s Params) feedLines() []string {
	return []string{
		fmt.Sprintf("feed %s/min, plunge %s/min", s.length(s.Feed), s.length(s.Plunge)),
		fmt.Sprintf("spindle %.0f rpm clockwise", s.Speed),
	}
}

// timeLine is one line whatever the time is, short enough not to be broken.
func timeLine(seconds float64) string {
	if !(seconds >= 0.5) {
		return "time unknown"
	}
	return "time about " + unit.Duration(seconds)
}

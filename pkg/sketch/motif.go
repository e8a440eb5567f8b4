package sketch

import (
	"fmt"
	"math"
	"strings"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/motif"
	"strapwork/pkg/unit"
	"strapwork/pkg/weave"
	"strapwork/pkg/work"
)

// A Drawing is a motif to be drawn, whole or not.
type Drawing struct {
	Title    string
	Units    unit.System
	Width    float64 // of the groove, mm; 0 where it isn't known
	Motif    motif.Motif
	Weave    weave.Weave
	Numbers  []work.Numbers
	Findings diag.Findings // in the order of their numbers; those without a place are left out
}

// Of is a sketch of a motif: elements as drawn and, lighter, their copies, in bands if
// the groove's width is known; names, joints and crossings; what was found, in its place.
func Of(d Drawing) Sketch {
	s := Sketch{Title: d.Title, Units: d.Units, Axes: true}
	s.Lines = []string{fmt.Sprintf("%s, %s, %s", unit.Count(elements(d.Motif), "element"), unit.Count(len(d.Motif.Strands), "strand"), unit.Count(len(d.Weave.Crossings), "crossing"))}
	if d.Width > 0 {
		s.Lines[0] += ", groove " + unit.Len(d.Width).In(d.Units)
	}
	s.Layers = d.layers()
	s.Passes = d.passes()
	s.Signs = append(d.joints(), d.ends()...)
	s.Names = d.names()
	s.Numbers = d.Numbers
	for _, f := range d.Findings {
		if f.HasAt {
			s.Marks = append(s.Marks, markOf(f))
		}
	}
	return s
}

// markOf is a finding's mark.
func markOf(f diag.Finding) Mark {
	text := f.Message
	if f.Pos.Line > 0 {
		text += fmt.Sprintf(" (line %d)", f.Pos.Line)
	}
	m := Mark{Severity: f.Severity, At: geom.Pt(f.At[0], f.At[1]), Placed: true, Text: fmt.Sprintf("%s: %s", f.Severity, text), Hint: f.Hint}
	for _, p := range f.Also {
		m.Also = append(m.Also, geom.Pt(p[0], p[1]))
	}
	return m
}

// elements is of how many elements as drawn anything is left.
func elements(m motif.Motif) int {
	seen := map[int]bool{}
	for _, s := range m.Sources {
		seen[s.Element] = true
	}
	return len(seen)
}

// style is how an edge's source is drawn.
func style(s motif.Source) Style {
	if s.Copy == 1 && !s.Mirrored {
		return Drawn
	}
	return Copied
}

// layers are the strands, the copies' parts under the others.
func (d Drawing) layers() []Layer {
	lines := map[Style][]geom.Contour{}
	for _, s := range d.Motif.Strands {
		for _, r := range runs(s, func(i int) int { return int(style(d.Motif.Sources[s.Sources[i]])) }) {
			k := style(d.Motif.Sources[s.Sources[r.first]])
			lines[k] = append(lines[k], r.line)
		}
	}
	layers := []Layer{
		{Style: Copied, Lines: lines[Copied], Width: d.Width, Legend: "copies"},
		{Style: Drawn, Lines: lines[Drawn], Width: d.Width, Legend: "as drawn"},
	}
	return layers
}

// A run is a part of a strand whose edges are alike.
type run struct {
	first int // edge
	line  geom.Contour
}

// runs breaks a strand where what it is by kind changes; one that is all of a kind
// stays whole.
func runs(s motif.Strand, kind func(edge int) int) (list []run) {
	n := s.Contour.Len()
	from := 0
	for i := 1; i <= n; i++ {
		if i < n && kind(i) == kind(from) {
			continue
		}
		if from == 0 && i == n {
			return []run{{0, s.Contour}}
		}
		list = append(list, run{from, geom.Chain(false, s.Contour.Edges()[from:i]...)})
		from = i
	}
	return list
}

// passes are the crossings, as who is on top passes over who is beneath.
func (d Drawing) passes() []Pass {
	var list []Pass
	for _, c := range d.Weave.Crossings {
		v := c.Upper()
		s := d.Motif.Strands[v.Strand]
		p := Pass{Style: style(d.Motif.Sources[s.Sources[v.Edge]]), Line: s.Contour, At: v.S, Room: d.room(v), Width: d.Width}
		// What a band of width w takes of one of the same width that crosses it at an angle.
		p.Needs = d.Width / 2 * (1 + math.Abs(math.Cos(c.Angle))) / max(math.Sin(c.Angle), 0.05)
		list = append(list, p)
	}
	return list
}

// room is how far to each side of a passage its strand may be drawn over others: half
// the way to the strand's next one.
func (d Drawing) room(v weave.Visit) float64 {
	s := d.Motif.Strands[v.Strand]
	room := s.Length() / 2
	for _, o := range d.Weave.Visits[v.Strand] {
		far := math.Abs(o.S - v.S)
		if s.Contour.Closed {
			far = min(far, s.Length()-far)
		}
		if o != v && far > 0 {
			room = min(room, far/2)
		}
	}
	return room
}

// joints are signs where elements join and where strands turn.
func (d Drawing) joints() []Sign {
	var list []Sign
	for _, s := range d.Motif.Strands {
		for i := range s.Contour.Vertices {
			edge := s.Contour.Len() - 1
			switch {
			case i > 0:
				edge = i - 1
			case !s.Contour.Closed:
				continue
			}
			here := Sign{Kind: Joint, At: s.Contour.Vertices[i].Point, Dir: s.Contour.Edge(edge).Tangent(1)}
			switch {
			case s.Corner[i]:
				here.Kind = Corner
			case i >= len(s.Sources) || s.Sources[edge] == s.Sources[i]:
				continue
			}
			list = append(list, here)
		}
	}
	return list
}

// ends are signs at the strands' starts and ends.
func (d Drawing) ends() []Sign {
	type end struct {
		strand int
		atEnd  bool
	}
	onOthers := map[end]bool{}
	var list []Sign
	for _, t := range d.Weave.Tees {
		onOthers[end{t.Strand, t.AtEnd}] = true
		_, dir := d.Motif.Strands[t.Host].Contour.At(t.HostS)
		list = append(list, Sign{Kind: Tee, At: t.At, Dir: dir})
	}
	for i, s := range d.Motif.Strands {
		if len(d.Motif.Strands) <= fewStrands {
			list = append(list, Sign{Kind: Way, At: s.Contour.Start(), Dir: s.Contour.Edge(0).Tangent(0)})
		}
		if s.Contour.Closed {
			continue
		}
		if !onOthers[end{i, false}] {
			list = append(list, Sign{Kind: End, At: s.Contour.Start()})
		}
		if !onOthers[end{i, true}] {
			list = append(list, Sign{Kind: End, At: s.Contour.End()})
		}
	}
	return list
}

// fewCopies is with how many elements and copies the copies are named too, and fewStrands
// with how many strands each is named and has its arrow.
const fewCopies, fewStrands = 80, 200

// names are those of elements as drawn, of strands, and of copies if they are few.
func (d Drawing) names() []Name {
	var elements, strands, copies []Name
	for _, s := range d.Motif.Strands {
		if len(d.Motif.Strands) <= fewStrands {
			strands = append(strands, Name{Text: s.ID, Near: []geom.Point{s.Contour.Start()}, Minor: true})
		}
		for _, r := range runs(s, func(i int) int { return s.Sources[i] }) {
			from := d.Motif.Sources[s.Sources[r.first]]
			name := Name{Text: from.Name, Near: along(r.line)}
			if style(from) == Drawn {
				name.Text = strings.TrimSuffix(name.Text, ".1")
				elements = append(elements, name)
			} else if len(d.Motif.Sources) <= fewCopies {
				name.Minor = true
				copies = append(copies, name)
			}
		}
	}
	return append(append(elements, strands...), copies...)
}

// along is places on a line beside which its name may stand.
func along(c geom.Contour) (list []geom.Point) {
	length := c.Length()
	for _, t := range []float64{0.5, 0.4, 0.6, 0.28, 0.72, 0.15, 0.85, 0.04, 0.96} {
		p, _ := c.At(t * length)
		list = append(list, p)
	}
	return list
}

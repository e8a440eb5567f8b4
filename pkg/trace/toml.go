package trace

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"strapwork/pkg/geom"
	"strapwork/pkg/unit"
)

// TOML is the traced motif as a job file has it: to read, to edit, and to add [inlay] and
// [router] to. Numbers are mm, to a millionth.
func (d Traced) TOML(title string) string {
	var b strings.Builder
	for _, line := range d.Report.Lines() {
		fmt.Fprintf(&b, "# %s\n", line)
	}
	fmt.Fprintf(&b, "title = %s\nunits = \"mm\"\n\n[motif]\n", quoted(title))
	if d.Copies > 1 {
		fmt.Fprintf(&b, "copies = %d\n", d.Copies)
	}
	for _, e := range d.Elements {
		b.WriteString("\n")
		b.WriteString(e.toml())
	}
	b.WriteString(d.weaveTOML())
	return b.String()
}

// quoted is a basic string of TOML.
func quoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range s {
		switch {
		case c == '"' || c == '\\':
			b.WriteByte('\\')
			b.WriteRune(c)
		case c < ' ' || c == 0x7f:
			fmt.Fprintf(&b, "\\u%04X", c)
		default:
			b.WriteRune(c)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// weaveTOML says what differs from over and under by themselves.
func (d Traced) weaveTOML() string {
	if d.First && len(d.Flips) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("\n[weave]  # as the drawing shows it\n")
	if !d.First {
		b.WriteString("first = \"under\"\n")
	}
	if len(d.Flips) > 0 {
		b.WriteString("flip = [\n")
		for _, p := range d.Flips {
			fmt.Fprintf(&b, "  %s,\n", pair(geom.Pt(roundTo(p.X, 1e3), roundTo(p.Y, 1e3))))
		}
		b.WriteString("]\n")
	}
	return b.String()
}

// mm is a length as it is typed.
func mm(x float64) string { return unit.Decimal(x, 6) }

// degrees is an angle as it is typed: to 1e-7 of a degree, which moves the end of a metre
// by 2e-6 mm.
func degrees(a float64) string {
	return unit.Decimal(a*180/math.Pi, 7)
}

// short is a radius with as few decimals as say it: it was worked out from places that
// are rounded.
func short(r float64) string {
	for decimals := range 4 {
		if s := unit.Decimal(r, decimals); math.Abs(typed(s)-r) <= shortOff {
			return s
		}
	}
	if sixtyFourths := math.Round(r/inchSteps[1]) * inchSteps[1]; math.Abs(sixtyFourths-r) <= shortOff {
		return mm(sixtyFourths)
	}
	return mm(r)
}

// shortOff is by how much in mm a radius may be out since its arc's ends are rounded.
const shortOff = 1e-5

func pair(p geom.Point) string { return "[" + mm(p.X) + ", " + mm(p.Y) + "]" }

// toml is an element's table.
func (e Element) toml() string {
	off := "# " + e.Name + ": drawn exactly\n"
	if !e.Exact {
		off = fmt.Sprintf("# %s: off the drawing by at most %s, at %s\n", e.Name, unit.AtLeast(e.Off), at(e.At))
	}
	kind, body := e.body()
	return fmt.Sprintf("%s[[motif.%s]]\nname = %s\n%s", off, kind, quoted(e.Name), body)
}

// body is the kind of table that says it in the fewest words, and its keys.
func (e Element) body() (kind, body string) {
	c := e.Contour
	steps := runs(c)
	first := c.Edge(0)
	switch {
	case c.Closed && len(steps) == 1:
		return "circle", fmt.Sprintf("center = %s\nradius = %s\n", pair(first.Center()), short(first.Radius()))
	case len(steps) == 1 && first.IsLine():
		return "line", fmt.Sprintf("from = %s\nto = %s\n", pair(c.Start()), pair(c.End()))
	case len(steps) == 1:
		return "arc", fmt.Sprintf("center = %s\nradius = %s\nstart = %s\nsweep = %s\n",
			pair(steps[0].center()), short(steps[0].radius), degrees(c.Start().Sub(steps[0].center()).Angle()), degrees(steps[0].sweep))
	case straight(steps):
		var b strings.Builder
		b.WriteString("points = [\n")
		for _, s := range steps {
			fmt.Fprintf(&b, "  %s,\n", pair(s.from))
		}
		if !c.Closed {
			fmt.Fprintf(&b, "  %s,\n", pair(c.End()))
			return "line", b.String() + "]\n"
		}
		return "line", b.String() + "]\nclosed = true\n"
	}
	if walk, ok := walked(c, steps); ok {
		return "strand", walk
	}
	return "path", fmt.Sprintf("d = \"%s\"\n", pathData(c))
}

// A run is neighbouring edges on one line or circle.
type run struct {
	from          geom.Point
	leave, arrive geom.Point // directions of travel
	length        float64
	radius, sweep float64 // of an arc
}

func (r run) center() geom.Point {
	return r.from.Add(r.leave.Left().Scale(math.Copysign(r.radius, r.sweep)))
}

// sameCircle is by how much in mm and radians the numbers of two edges of one circle
// differ, since they were rounded.
const sameCircle = 3e-6

// runs are the runs of a contour, from its start.
func runs(c geom.Contour) []run {
	var all []run
	for i := range c.Len() {
		e := c.Edge(i)
		r := run{from: e.A, leave: e.Tangent(0), arrive: e.Tangent(1), length: e.Length(), radius: e.Radius(), sweep: e.Sweep()}
		if n := len(all); n > 0 && !e.IsLine() {
			last := &all[n-1]
			if last.sweep*r.sweep > 0 && last.center().Near(r.center(), sameCircle*math.Max(1, 0.1*r.radius)) &&
				math.Abs(last.radius-r.radius) <= sameCircle*math.Max(1, 0.1*r.radius) && math.Abs(last.sweep+r.sweep) < 2*math.Pi+1e-6 {
				last.arrive, last.length, last.sweep = r.arrive, last.length+r.length, last.sweep+r.sweep
				continue
			}
		}
		all = append(all, r)
	}
	return all
}

func straight(steps []run) bool {
	for _, s := range steps {
		if s.sweep != 0 {
			return false
		}
	}
	return true
}

// walkOff is how far in mm a walk may come to lie from what it stands for: each step
// begins where the rounded numbers of those before it lead.
const walkOff = 1e-4

// walked is a contour as one walks along it; not ok where the steps don't lead along it,
// since its joints aren't quite smooth.
func walked(c geom.Contour, steps []run) (string, bool) {
	var b strings.Builder
	fmt.Fprintf(&b, "start = %s\nheading = %s\ngo = [\n", pair(c.Start()), degrees(steps[0].leave.Angle()))
	at := c.Start()
	ahead := geom.Polar(1, typed(degrees(steps[0].leave.Angle()))*math.Pi/180)
	for i, s := range steps {
		if i > 0 {
			if !at.Near(s.from, walkOff) {
				return "", false
			}
			if turn := turnOf(steps[i-1].arrive, s.leave); math.Abs(turn) > cornerStep {
				turn = turnOf(ahead, s.leave)
				fmt.Fprintf(&b, "  \"corner %s\",\n", degrees(turn))
				ahead = ahead.Turn(typed(degrees(turn)) * math.Pi / 180)
			}
		}
		if s.sweep == 0 {
			fmt.Fprintf(&b, "  \"straight %s\",\n", mm(s.length))
			at = at.Add(ahead.Scale(typed(mm(s.length))))
			continue
		}
		side, sign := "left", 1.0
		if s.sweep < 0 {
			side, sign = "right", -1
		}
		turn, radius := degrees(math.Abs(s.sweep)), short(s.radius)
		fmt.Fprintf(&b, "  \"%s %s radius %s\",\n", side, turn, radius)
		out := ahead.Left().Scale(-sign * typed(radius))
		angle := sign * typed(turn) * math.Pi / 180
		at, ahead = at.Sub(out).Add(out.Turn(angle)), ahead.Turn(angle)
	}
	if c.Closed {
		b.WriteString("  \"close\",\n")
	}
	return b.String() + "]\n", at.Near(c.End(), walkOff)
}

// cornerStep is the least turn that a walk says: less is smooth but for rounding.
const cornerStep = 1e-4

func typed(s string) float64 {
	x, _ := strconv.ParseFloat(s, 64) // it was printed here
	return x
}

// pathData is a contour as path data.
func pathData(c geom.Contour) string {
	var b strings.Builder
	fmt.Fprintf(&b, "M %s %s", mm(c.Start().X), mm(c.Start().Y))
	for i := range c.Len() {
		e := c.Edge(i)
		switch {
		case e.IsLine() && c.Closed && i == c.Len()-1:
		case e.IsLine():
			fmt.Fprintf(&b, " L %s %s", mm(e.B.X), mm(e.B.Y))
		default:
			sweep := 0
			if e.Bulge > 0 {
				sweep = 1
			}
			// A radius rounded down would be too small for a half circle's ends.
			r := mm(math.Ceil(e.Radius()*places) / places)
			fmt.Fprintf(&b, " A %s %s 0 0 %d %s %s", r, r, sweep, mm(e.B.X), mm(e.B.Y))
		}
	}
	if c.Closed {
		b.WriteString(" Z")
	}
	return b.String()
}

package preview

import (
	"bytes"
	"math"
	"path"
	"path/filepath"
	"slices"

	"strapwork/pkg/diag"
	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/unit"
)

// What a move's byte in the array "flags" holds besides its kind.
const (
	kindBits  = 0x07 // ngc.Kind
	faultBit  = 0x08
	jumpBit   = 0x10 // it doesn't begin where the move before it ended, or that isn't known
	spinShift = 5    // ngc.Spindle, two bits
)

// How finely a page has the program's moves.
const (
	perMM     = 10_000 // places: to half a ten thousandth of a millimetre
	perSecond = 10_000 // times: since all are measured from the beginning, errors don't add up
	perFeed   = 1000   // a mm/min
	perTurn   = 16     // radians of a sweep: the page finds it exactly from an arc's ends, but not how many turns it has
)

// moves packs a program: its text, its sections, and of each step where it ends, when,
// at what feed, on which line, and its flags. Centres and sweeps are of arcs alone.
func moves(program Program) *pack {
	steps := program.Steps
	n := len(steps)
	var to [3][]int64
	end, feed, line := make([]int64, n), make([]int64, n), make([]int64, n)
	flags, unknown := make([]byte, n), make([]byte, n)
	var arcs, cx, cy, sweep []int64
	t := 0.0
	var last [3]int64
	for i, s := range steps {
		m := s.Move
		for a, axis := range []ngc.Axes{ngc.AxisX, ngc.AxisY, ngc.AxisZ} {
			if m.To.Has(axis) {
				last[a] = units([]float64{m.To.X, m.To.Y, m.To.Z}[a], perMM)
			} else {
				unknown[i] |= 1 << a
			}
			to[a] = append(to[a], last[a])
		}
		t += duration(s.Seconds)
		end[i], feed[i], line[i] = units(t, perSecond), units(m.Feed, perFeed), int64(m.Line)
		flags[i] = flag(s)
		if i > 0 && m.From != steps[i-1].Move.To {
			flags[i] |= jumpBit
		}
		if m.Kind == ngc.Arc {
			arcs = append(arcs, int64(i))
			cx, cy = append(cx, units(m.Center.X, perMM)-last[0]), append(cy, units(m.Center.Y, perMM)-last[1])
			sweep = append(sweep, units(m.Sweep, perTurn))
		}
	}
	p := &pack{}
	p.rise("end", perSecond, end)
	for a, name := range []string{"x", "y", "z"} {
		p.rise(name, perMM, to[a])
	}
	p.rise("feed", perFeed, feed)
	p.rise("line", 1, line)
	p.rise("arc", 1, arcs)
	p.whole("cx", perMM, cx) // from where the arc ends
	p.whole("cy", perMM, cy)
	p.whole("sweep", perTurn, sweep)
	p.bytes("flags", flags)
	p.bytes("unknown", unknown) // one bit an axis
	p.sections(program.Sections)
	p.bytes("text", bytes.ToValidUTF8(program.Text, []byte("?")))
	return p
}

// sections packs sections, of which a long program has one for every few moves.
func (p *pack) sections(list []Section) {
	n := len(list)
	line, lines, strand, depth, role := make([]int64, n), make([]int64, n), make([]int64, n), make([]int64, n), make([]int64, n)
	names := roles(list)
	for i, s := range list {
		line[i], lines[i], strand[i], depth[i] = int64(s.Line), int64(s.Last-s.Line), int64(s.Strand), units(s.Depth, perMM)
		role[i] = int64(slices.Index(names, s.Role))
	}
	p.rise("section.line", 1, line)
	p.whole("section.more", 1, lines)
	p.rise("section.strand", 1, strand)
	p.whole("section.depth", perMM, depth)
	p.whole("section.role", 1, role)
}

// roles are the roles that sections have, each once.
func roles(list []Section) []string {
	out := []string{}
	for _, s := range list {
		if !slices.Contains(out, s.Role) {
			out = append(out, s.Role)
		}
	}
	return out
}

func flag(s dryrun.Step) uint8 {
	f := uint8(s.Move.Kind)&kindBits | uint8(s.Move.Spindle)<<spinShift
	if s.Fault {
		f |= faultBit
	}
	return f
}

// duration is seconds that a player can count with: what isn't known takes no
// time.
func duration(s float64) float64 {
	if !(s > 0) || math.IsInf(s, 0) {
		return 0
	}
	return s
}

// speeds are the spindle's speeds as pairs: the first step with it, and its
// rpm.
func speeds(steps []dryrun.Step) []num {
	var out []num
	last := 0.0
	for i, s := range steps {
		if s.Move.Speed != last {
			last = s.Move.Speed
			out = append(out, num(i), num(last))
		}
	}
	return out
}

// num is a number in the page's JSON: to a ten thousandth, finer than any
// eye sees on a page, without -0; what is not a number is null.
type num float64

const numDecimals = 4

// MarshalJSON writes the number.
func (n num) MarshalJSON() ([]byte, error) {
	f := float64(n)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	return []byte(unit.Decimal(f, numDecimals)), nil
}

// outline is a contour: x, y and bulge of each vertex in turn.
type outline struct {
	Closed bool  `json:"closed"`
	V      []num `json:"v"`
}

func outlineOf(c geom.Contour) outline {
	v := make([]num, 0, 3*len(c.Vertices))
	for _, q := range c.Vertices {
		v = append(v, num(q.X), num(q.Y), num(q.Bulge))
	}
	return outline{c.Closed, v}
}

func outlines(cs []geom.Contour) []outline { return each(cs, outlineOf) }

func box(b geom.Box) []num {
	if b.Empty() {
		return nil
	}
	return []num{num(b.Min.X), num(b.Min.Y), num(b.Max.X), num(b.Max.Y)}
}

func place(p geom.Point) []num { return []num{num(p.X), num(p.Y)} }

// each is f of every element; never nil, so that a page gets a list.
func each[T, U any](in []T, f func(T) U) []U {
	out := make([]U, 0, len(in))
	for _, v := range in {
		out = append(out, f(v))
	}
	return out
}

// Finding is a finding as the page's scripts read it.
type Finding struct {
	Severity string `json:"severity"`
	File     string `json:"file,omitempty"` // its name, without folders
	Line     int    `json:"line"`           // 0: not known
	Message  string `json:"message"`
	Hint     string `json:"hint"`
	At       []num  `json:"at"` // null: no place
}

// FindingsOf are findings as the page's scripts read them.
func FindingsOf(fs diag.Findings) []Finding { return each(fs, findingOf) }

func findingOf(f diag.Finding) Finding {
	out := Finding{Severity: f.Severity.String(), Line: f.Pos.Line, Message: f.Message, Hint: f.Hint}
	if f.Pos.File != "" {
		out.File = path.Base(filepath.ToSlash(f.Pos.File))
	}
	if f.HasAt {
		out.At = []num{num(f.At[0]), num(f.At[1])}
	}
	return out
}

// spot is a deviation as the page shows it.
type spot struct {
	At     []num     `json:"at"`
	Amount num       `json:"amount"`
	Thick  num       `json:"thick"`
	Depth  num       `json:"depth"`
	Area   num       `json:"area"`
	Line   int       `json:"line"`
	Chisel bool      `json:"chisel"`
	Loops  []outline `json:"loops"`
}

func spotOf(s dryrun.Deviation) spot {
	return spot{place(s.At), num(s.Amount), num(s.Thick), num(s.Depth), num(s.Area), s.Line, s.Chisel, outlines(s.Loops)}
}

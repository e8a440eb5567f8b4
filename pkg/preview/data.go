package preview

import (
	"math"

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

// moves packs the program's steps: where each ends, when, at what feed, on
// which line, and its flags. Centres and sweeps are told of arcs alone.
func moves(steps []dryrun.Step) *pack {
	n := len(steps)
	x, y, z, feed := make([]float32, n), make([]float32, n), make([]float32, n), make([]float32, n)
	line, flags, ends := make([]int32, n), make([]uint8, n), make([]float64, n)
	var arcs []int32
	var cx, cy, sweep []float32
	t := 0.0
	for i, s := range steps {
		m := s.Move
		x[i], y[i], z[i] = known(m.To, ngc.AxisX), known(m.To, ngc.AxisY), known(m.To, ngc.AxisZ)
		t += duration(s.Seconds)
		feed[i], line[i], ends[i] = float32(m.Feed), m.Line, t
		flags[i] = flag(s)
		if i > 0 && m.From != steps[i-1].Move.To {
			flags[i] |= jumpBit
		}
		if m.Kind == ngc.Arc {
			arcs = append(arcs, int32(i))
			cx, cy, sweep = append(cx, float32(m.Center.X)), append(cy, float32(m.Center.Y)), append(sweep, float32(m.Sweep))
		}
	}
	p := &pack{}
	p.f8("end", ends)
	p.f4("x", x)
	p.f4("y", y)
	p.f4("z", z)
	p.f4("feed", feed)
	p.i4("line", line)
	p.i4("arc", arcs)
	p.f4("cx", cx)
	p.f4("cy", cy)
	p.f4("sweep", sweep)
	p.u1("flags", flags)
	return p
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

func known(p ngc.Place, a ngc.Axes) float32 {
	if !p.Has(a) {
		return float32(math.NaN())
	}
	switch a {
	case ngc.AxisX:
		return float32(p.X)
	case ngc.AxisY:
		return float32(p.Y)
	default:
		return float32(p.Z)
	}
}

// speeds are the spindle's speeds as pairs: the first step with it, turns a
// minute.
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

// num is a number in the page's JSON: to a ten thousandth, which no eye can
// tell on a page, without -0; what is no number is null.
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

// finding is a finding as the page shows it.
type finding struct {
	Severity string `json:"severity"`
	Line     int    `json:"line"`
	Message  string `json:"message"`
	Hint     string `json:"hint"`
	At       []num  `json:"at"` // null: no place
}

func findingOf(f diag.Finding) finding {
	out := finding{Severity: f.Severity.String(), Line: f.Pos.Line, Message: f.Message, Hint: f.Hint}
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

package preview

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"strapwork/pkg/dryrun"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// unpacked is a move as the page has it.
type unpacked struct {
	X, Y, Z, End, Feed *float64
	Line, Flags        int
	Arc                []float64
}

// TestUnpacked holds that a page has all moves of a program as it was given them: those
// of the ring and the bar, and strange ones.
func TestUnpacked(t *testing.T) {
	p := page(t)
	at := func(x, y, z float64, known ngc.Axes) ngc.Place { return ngc.Place{X: x, Y: y, Z: z, Known: known} }
	far := at(1999.99994, -1234.56785, -0.00004, ngc.AxesXYZ)
	round := p.Program.Steps[len(p.Program.Steps)-1].Move
	round.Kind, round.From, round.To, round.Center, round.Sweep = ngc.Arc, far, far, geom.Pt(1990, -1234.56785), -2*math.Pi
	there := round
	there.Kind, there.From = ngc.Rapid, p.Program.Steps[len(p.Program.Steps)-1].Move.To
	twice := round
	twice.Sweep = 4 * math.Pi
	tiny := round // all but no turn at all: not a whole one
	tiny.To.Y, tiny.Sweep = tiny.To.Y+0.0002, 0.0002/9.99994
	unknown := round
	unknown.Kind, unknown.From, unknown.To = ngc.Rapid, tiny.To, at(0, 0, 12.7, ngc.AxisZ)
	for _, m := range []ngc.Move{there, round, twice, tiny, unknown} {
		p.Program.Steps = append(p.Program.Steps, dryrun.Step{Move: m, Seconds: 0.12345})
	}
	b := open(t, p, 800, 600)
	got := eval[[]unpacked](b, `Array.from({ length: strapwork.state().moves }, (_, i) => strapwork.move(i))`)
	if len(got) != len(p.Program.Steps) {
		t.Fatalf("got %d moves, want %d", len(got), len(p.Program.Steps))
	}
	ends, arcs := 0.0, 0
	for i, s := range p.Program.Steps {
		m, g := s.Move, got[i]
		ends += s.Seconds
		same := func(name string, got *float64, want, tol float64) {
			if got == nil || !(math.Abs(*got-want) <= tol) {
				t.Errorf("move %d: got %s %v, want %v", i, name, got, want)
			}
		}
		for name, v := range map[string]struct {
			got   *float64
			want  float64
			known bool
		}{"x": {g.X, m.To.X, m.To.Has(ngc.AxisX)}, "y": {g.Y, m.To.Y, m.To.Has(ngc.AxisY)}, "z": {g.Z, m.To.Z, m.To.Has(ngc.AxisZ)}} {
			if v.known {
				same(name, v.got, v.want, 1e-4)
			} else if v.got != nil {
				t.Errorf("move %d: got %s %v of a place that isn't known", i, name, *v.got)
			}
		}
		same("end", g.End, ends, 1e-3)
		same("feed", g.Feed, m.Feed, 1e-3)
		if g.Line != int(m.Line) || ngc.Kind(g.Flags&kindBits) != m.Kind || g.Flags&faultBit != 0 != s.Fault || ngc.Spindle(g.Flags>>spinShift) != m.Spindle {
			t.Errorf("move %d: got line %d and flags %b of %+v", i, g.Line, g.Flags, m)
		}
		if (g.Arc != nil) != (m.Kind == ngc.Arc) {
			t.Fatalf("move %d: got arc %v of a %v", i, g.Arc, m.Kind)
		}
		if g.Arc != nil {
			arcs++
			same("cx", &g.Arc[0], m.Center.X, 1e-4)
			same("cy", &g.Arc[1], m.Center.Y, 1e-4)
			// a ten thousandth at both ends, seen from the centre
			same("sweep", &g.Arc[2], m.Sweep, 3e-4/m.Center.Dist(m.To.Point()))
		}
	}
	if arcs < 5 {
		t.Errorf("got %d arcs", arcs)
	}
	eval[any](b, `document.getElementById("lines-open").open = true, strapwork.seek(strapwork.state().total), null`)
	b.Wait(`document.querySelector("#lines [aria-current]")`)
}

// crowdedProgram is of strands of lines and arcs at places without any order, each cut
// as programs are: at three depths, down the middle and along both walls.
func crowdedProgram(moves int) (text []byte, sections []Section) {
	var b bytes.Buffer
	line := 0
	write := func(format string, args ...any) {
		fmt.Fprintf(&b, format+"\n", args...)
		line++
	}
	write("G21 G17 G90 G94 G54")
	write("G0 Z10")
	random := rand.New(rand.NewPCG(14, 1))
	for strand := 0; line < moves; strand++ {
		// the centre line: straight, then round, and so on
		const pieces = 40
		at, way := geom.Pt(random.Float64()*800, random.Float64()*500), random.Float64()*6
		long, bend, radius := make([]float64, pieces), make([]float64, pieces), make([]float64, pieces)
		for i := range pieces {
			long[i], bend[i], radius[i] = 5+50*random.Float64(), math.Pi*(random.Float64()-0.5), 8+40*random.Float64()
		}
		for depth := range 3 {
			for _, pass := range []struct {
				side float64
				role string
			}{{0, "slot down the middle"}, {1.3625, "forward, wall on the left"}, {-1.3625, "back, wall on the right"}} {
				first := line + 1
				p, a := at, way
				left := func() geom.Point { return geom.Pt(-math.Sin(a), math.Cos(a)) }
				q := func() geom.Point { return p.Add(left().Scale(pass.side)) }
				write("G0 X%.4f Y%.4f", q().X, q().Y)
				write("G1 Z%.4f F150", -1.1*float64(depth+1))
				for i := range pieces {
					p = p.Add(geom.Pt(math.Cos(a), math.Sin(a)).Scale(long[i]))
					write("G1 X%.4f Y%.4f F600", q().X, q().Y)
					turn, code := math.Copysign(1, bend[i]), "G3"
					if turn < 0 {
						code = "G2"
					}
					from, centre := q(), p.Add(left().Scale(turn*radius[i]))
					a += bend[i]
					p = centre.Sub(left().Scale(turn * radius[i]))
					write("%s X%.4f Y%.4f I%.4f J%.4f", code, q().X, q().Y, centre.X-from.X, centre.Y-from.Y)
				}
				sections = append(sections, Section{first, line, strand % 2, 1.1 * float64(depth+1), pass.role})
			}
		}
	}
	write("G0 Z10")
	write("M2")
	return b.Bytes(), sections
}

// TestSize holds that a page of 200,000 moves takes at most 5 MB.
func TestSize(t *testing.T) {
	const most = 5_000_000
	p := page(t)
	p.Program.Text, p.Program.Sections = crowdedProgram(longMoves)
	p.Program.Steps = steps(t, p.Program.Text, 0)
	if n := len(p.Program.Steps); n < longMoves {
		t.Fatalf("only %d moves", n)
	}
	n := len(written(t, p))
	t.Logf("%d moves in %d bytes", len(p.Program.Steps), n)
	if n > most {
		t.Errorf("%d moves take %d bytes, want at most %d", len(p.Program.Steps), n, most)
	}
}

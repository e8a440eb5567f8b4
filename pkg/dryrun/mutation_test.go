package dryrun

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
)

// harm looks at what the moves of a program do to the straight groove, by
// points along them and formulas of the groove, and says what is wrong.
func harm(moves []ngc.Move, w Work) string {
	var cut []geom.Point // at full depth
	for _, m := range moves {
		if !m.Kind.Travels() {
			continue
		}
		length, known := m.Length()
		for i, n := 0, int(length/0.02)+1; i <= n; i++ {
			t := float64(i) / float64(n)
			if !known {
				t = 1
			}
			x, y, z := pointAt(m, t)
			if m.To.Has(ngc.AxisZ) && z < -1e-5 {
				if s := harmInWood(m, w, x, y, z); s != "" {
					return s
				}
				if z <= -deep+deepOver {
					cut = append(cut, geom.Pt(x, y))
				}
			}
			if c := w.Clamps[0]; m.To.Has(ngc.AxesXYZ) && z < c.Height+w.Clearance-0.01 &&
				c.Box.Dist(geom.Pt(x, y)) < w.keepOff()-0.01 {
				return "in a clamp"
			}
		}
	}
	return uncut(cut)
}

// pointAt is a move's place at a fraction of its way.
func pointAt(m ngc.Move, t float64) (x, y, z float64) {
	z = m.From.Z + (m.To.Z-m.From.Z)*t
	if m.Kind == ngc.Arc {
		p := m.Center.Add(m.From.Point().Sub(m.Center).Turn(m.Sweep * t))
		return p.X, p.Y, z
	}
	return m.From.X + (m.To.X-m.From.X)*t, m.From.Y + (m.To.Y-m.From.Y)*t, z
}

func harmInWood(m ngc.Move, w Work, x, y, z float64) string {
	const tol = gougeOver + 0.001
	length, _ := m.Length()
	up := m.To.Z > m.From.Z && m.To.X == m.From.X && m.To.Y == m.From.Y
	switch {
	case !m.To.Has(ngc.AxesXYZ) || !m.From.Has(ngc.AxisZ) && m.Named != ngc.AxisZ:
		return "cuts nobody knows where"
	case !up && (math.Abs(y)+bit/2 > wide/2+tol || x-bit/2 < -tol || x+bit/2 > long+tol):
		return fmt.Sprintf("gouges at %v %v", x, y)
	case z < -deep-deepOver-0.001:
		return "too deep"
	case m.Kind == ngc.Rapid && !up:
		return "rapid in the wood"
	case m.Kind == ngc.Rapid:
	case m.Spindle != ngc.Clockwise || m.Speed < 0.98*w.Machine.Spindle[0] || m.Speed > 1.02*w.Machine.Spindle[1]:
		return "spindle"
	case m.Feed <= 0 || m.Feed > 1.02*w.Machine.Feed[0]:
		return "feed"
	case length > 0 && m.Feed*(m.From.Z-m.To.Z)/length > 1.02*w.Machine.Plunge:
		return "plunge"
	}
	return ""
}

// uncut looks for wood that is left, but in the corners.
func uncut(cut []geom.Point) string {
	const grid = 0.4
	near := map[[2]int][]geom.Point{}
	for _, p := range cut {
		k := [2]int{int(math.Floor(p.X / 2)), int(math.Floor(p.Y / 2))}
		near[k] = append(near[k], p)
	}
	for x := grid / 3; x < long; x += grid {
		for y := -wide/2 + grid/3; y < wide/2; y += grid {
			dx, dy := math.Max(0, math.Max(bit/2-x, x-long+bit/2)), math.Max(0, math.Abs(y)-play)
			if math.Hypot(dx, dy) > bit/2-0.02 || hasNear(near, geom.Pt(x, y), bit/2+0.015) {
				continue
			}
			return fmt.Sprintf("leaves %v %v", x, y)
		}
	}
	return ""
}

func hasNear(near map[[2]int][]geom.Point, p geom.Point, d float64) bool {
	i, j := int(math.Floor(p.X/2)), int(math.Floor(p.Y/2))
	for a := i - 1; a <= i+1; a++ {
		for b := j - 1; b <= j+1; b++ {
			for _, q := range near[[2]int{a, b}] {
				if q.Near(p, d) {
					return true
				}
			}
		}
	}
	return false
}

// mutate changes one thing in a program.
func mutate(rnd *rand.Rand, text string) string {
	b := []byte(text)
	i := rnd.IntN(len(b))
	lines := strings.SplitAfter(text, "\n")
	k := rnd.IntN(len(lines) - 1)
	switch rnd.IntN(7) {
	case 0: // another digit, letter or sign
		const letters = "0123456789.-XYZGFMIJRSP"
		b[i] = letters[rnd.IntN(len(letters))]
		return string(b)
	case 1: // a character lost
		return string(append(b[:i:i], b[i+1:]...))
	case 2: // a character twice
		return string(b[:i+1]) + string(b[i:])
	case 3: // a line lost
		lines[k] = ""
	case 4: // two lines changed about
		if k > 0 {
			lines[k], lines[k-1] = lines[k-1], lines[k]
		}
	case 5: // a number a little off
		words := strings.FieldsFunc(lines[k], func(r rune) bool { return r == ' ' })
		n := rnd.IntN(len(words))
		var v float64
		if _, err := fmt.Sscanf(words[n][1:], "%g", &v); err == nil {
			words[n] = fmt.Sprintf("%c%.4f\n", words[n][0], v+rnd.NormFloat64()*0.05)
		}
		lines[k] = strings.Join(words, " ")
	case 6: // G0 for G1 and the like
		words := []string{"G0", "G1", "G2", "G3", "G20", "G21", "G90", "G91", "G93", "M3", "M4", "M5"}
		lines[k] = words[rnd.IntN(len(words))] + " " + lines[k]
	}
	return strings.Join(lines, "")
}

// Of 400 programs with a mistake in them, none that does harm is taken.
func TestMutations(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	t.Parallel()
	w := knowing()
	w.Machine.At[2] = -30
	if r := judged(t, good, w); !r.OK() || fmt.Sprint(rules(r.Findings, diag.Warning)) != "[blind-start:2]" {
		t.Fatal(r.Findings)
	}
	moves, err := ngc.ReadAll(strings.NewReader(good))
	if s := harm(moves, w); err != nil || s != "" {
		t.Fatal(err, s)
	}
	rnd := rand.New(rand.NewPCG(4, 2))
	taken, harmful := 0, 0
	for range 400 {
		text := mutate(rnd, good)
		r := judged(t, text, w)
		moves, err := ngc.ReadAll(strings.NewReader(text))
		s := harm(moves, w)
		if err != nil {
			s = err.Error()
		}
		if s != "" {
			harmful++
		}
		if r.OK() {
			taken++
			if s != "" {
				t.Errorf("taken, though it %s:\n%s", s, text)
			}
		}
	}
	if taken < 40 || harmful < 150 {
		t.Errorf("%d taken, %d harmful: too few to say", taken, harmful)
	}
}

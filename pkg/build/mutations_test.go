package build_test

// Blind changes of a good program, and a judge of harm that knows nothing of the
// dry run's ways: it follows the moves in small steps.

import (
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/geom/region"
	"strapwork/pkg/motif"
	"strapwork/pkg/ngc"
)

const (
	mutations = 200 // MUTATIONS=n tries so many
	// harmWalk in mm is how far apart the places are that harm is looked for at,
	// and harmGrid those of the groove's floor.
	harmWalk = 0.05
	harmGrid = 0.25
	// harmful in mm is what a maker sees: twice what makers work to.
	harmful = 0.02
)

// TestMutations changes a good program blindly in many ways. A program that is
// still accepted must do no harm.
func TestMutations(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	r, good := goodProgram(t)
	h := newHarm(r)
	if what := h.of(t, good); what != "" {
		t.Fatalf("the good program is judged harmful: %s", what)
	}
	mutations := mutations
	if v := os.Getenv("MUTATIONS"); v != "" {
		var err error
		if mutations, err = strconv.Atoi(v); err != nil {
			t.Fatalf("MUTATIONS=%s is no number", v)
		}
	}
	rng := rand.New(rand.NewPCG(5, 11))
	accepted := 0
	for i := range mutations {
		text, how := mutate(rng, good)
		for text == good { // a sign flipped on a bare word, say
			text, how = mutate(rng, good)
		}
		if !dryRun(t, text).OK() {
			continue
		}
		accepted++
		if what := h.of(t, text); what != "" {
			t.Errorf("change %d (%s) is accepted, and %s", i, how, what)
		}
	}
	t.Logf("%d changes, %d accepted and harmless", mutations, accepted)
	if accepted == 0 || accepted > mutations/2 {
		t.Errorf("%d of %d changed programs are accepted: the changes say little", accepted, mutations)
	}
}

// mutate changes one line of a program behind its head, or two neighbours.
func mutate(rng *rand.Rand, text string) (changed, how string) {
	lines := strings.Split(text, "\n")
	head := 0
	for strings.HasPrefix(lines[head], "(") {
		head++
	}
	i := head + rng.IntN(len(lines)-1-head)
	for strings.HasPrefix(lines[i], "(") {
		i = head + rng.IntN(len(lines)-1-head)
	}
	was := lines[i]
	switch kind := rng.IntN(9); kind {
	case 0:
		lines = append(lines[:i], lines[i+1:]...)
		return strings.Join(lines, "\n"), "without " + was
	case 1:
		lines[i] = was + "\n" + was
	case 2:
		if i+1 < len(lines) {
			lines[i], lines[i+1] = lines[i+1], lines[i]
		}
	case 3:
		words := strings.Fields(was)
		k := rng.IntN(len(words))
		lines[i] = strings.Join(append(words[:k:k], words[k+1:]...), " ")
	case 4:
		lines[i] = swapWords(was, [][2]string{{"G2", "G3"}, {"G1", "G0"}, {"M3", "M5"}, {"G21", "G20"}, {"G90", "G91"}})
	case 5:
		lines[i] = flipSign(rng, was)
	default:
		at := rng.IntN(len(was))
		lines[i] = was[:at] + string("0123456789.-XYZIJFGM "[rng.IntN(21)]) + was[at+kind%2:]
	}
	return strings.Join(lines, "\n"), was + " to " + strings.ReplaceAll(lines[i], "\n", " / ")
}

// swapWords exchanges the first pair of which the line has one.
func swapWords(line string, pairs [][2]string) string {
	for _, p := range pairs {
		for _, q := range [][2]string{p, {p[1], p[0]}} {
			if strings.Contains(line, q[0]) {
				return strings.Replace(line, q[0], q[1], 1)
			}
		}
	}
	return line
}

// flipSign changes the sign of one word's number.
func flipSign(rng *rand.Rand, line string) string {
	words := strings.Fields(line)
	k := rng.IntN(len(words))
	w := words[k]
	if strings.HasPrefix(w[1:], "-") {
		words[k] = w[:1] + w[2:]
	} else {
		words[k] = w[:1] + "-" + w[1:]
	}
	return strings.Join(words, " ")
}

// A harm knows what a program must not do.
type harm struct {
	r      build.Result
	groove region.Region
	floor  []geom.Point // places that must be cut to depth
}

func newHarm(r build.Result) harm {
	h := harm{r: r, groove: r.Groove.Area()}
	reach := h.groove.Open(r.Groove.Size.Bit / 2)
	box := reach.Bounds()
	for x := box.Min.X; x <= box.Max.X; x += harmGrid {
		for y := box.Min.Y; y <= box.Max.Y; y += harmGrid {
			if p := geom.Pt(x, y); reach.Contains(p) {
				h.floor = append(h.floor, p)
			}
		}
	}
	return h
}

// of says what harm a program does; "" if it does none.
func (h harm) of(t *testing.T, text string) string {
	t.Helper()
	moves, err := ngc.ReadAll(strings.NewReader(text))
	if err != nil {
		return "is not even understood: " + err.Error()
	}
	var deep []geom.Point
	for i := range moves {
		m := &moves[i]
		if !m.Kind.Travels() || !m.From.Has(ngc.AxesXYZ) || !m.To.Has(ngc.AxesXYZ) {
			continue
		}
		var what string
		walk(m, func(p geom.Point, z float64) {
			if what == "" {
				what = h.at(m, p, z)
			}
			if z <= -h.r.Job.Inlay.Depth+harmful {
				deep = append(deep, p)
			}
		})
		if what != "" {
			return what
		}
	}
	return h.missed(deep)
}

// walk visits places along a move, its ends among them.
func walk(m *ngc.Move, visit func(p geom.Point, z float64)) {
	length, _ := m.Length()
	n := max(1, int(math.Ceil(length/harmWalk)))
	from := m.From.Point()
	for i := 0; i <= n; i++ {
		f := float64(i) / float64(n)
		p := from.Add(m.To.Point().Sub(from).Scale(f))
		if m.Kind == ngc.Arc {
			arm := from.Sub(m.Center)
			c, s := math.Cos(m.Sweep*f), math.Sin(m.Sweep*f)
			p = m.Center.Add(geom.Pt(arm.X*c-arm.Y*s, arm.X*s+arm.Y*c))
		}
		visit(p, m.From.Z+(m.To.Z-m.From.Z)*f)
	}
}

// at says what harm is done at a place of a move.
func (h harm) at(m *ngc.Move, p geom.Point, z float64) string {
	bit := h.r.Groove.Size.Bit / 2
	machine, at := h.r.Grooving.Machine, h.r.Grooving.Wanted.At
	travels := func(v float64, axis int) bool {
		t := machine.Travel[axis]
		return v+at[axis] >= t[0]-harmful && v+at[axis] <= t[1]+harmful
	}
	clamp := h.r.Job.Clamping.Clamps[0]
	switch {
	case !travels(p.X, 0) || !travels(p.Y, 1) || !travels(z, 2):
		return "leaves the machine's travel"
	case z < clamp.Height && clamp.Box.Dist(p) < bit:
		return "hits the clamp"
	case z >= -harmful:
		return ""
	case z < -h.r.Job.Inlay.Depth-harmful:
		return "cuts too deep"
	case !h.groove.Contains(p) || h.groove.BoundaryDist(p) < bit-harmful:
		return "cuts beyond the groove"
	case m.Kind == ngc.Rapid && (m.To.Z < m.From.Z || m.To.Point().Dist(m.From.Point()) > harmful):
		return "goes through wood in a rapid"
	case m.Kind == ngc.Rapid:
		return ""
	case m.Spindle != ngc.Clockwise || m.Speed < machine.Spindle[0] || m.Speed > machine.Spindle[1]:
		return "cuts with the spindle not as it should turn"
	case m.Feed > machine.Feed[0]+1:
		return "is fed too fast"
	}
	length, _ := m.Length()
	if down := (m.From.Z - m.To.Z) / length * m.Feed; down > 1.05*h.r.Grooving.Plunge {
		return "goes down too fast"
	}
	return ""
}

// missed says whether some place of the groove was not cut to depth.
func (h harm) missed(deep []geom.Point) string {
	bit := h.r.Groove.Size.Bit / 2
	cells := map[[2]int][]geom.Point{}
	cell := func(p geom.Point) [2]int { return [2]int{int(math.Floor(p.X / bit)), int(math.Floor(p.Y / bit))} }
	for _, p := range deep {
		cells[cell(p)] = append(cells[cell(p)], p)
	}
	for _, p := range h.floor {
		if !near(cells, cell(p), p, bit+harmful) {
			return "leaves some of the groove at " + motif.Place(p).String()
		}
	}
	return ""
}

// near reports whether some place about a cell is within d of p; cells are a
// little smaller than d, so that three to either side hold all.
func near(cells map[[2]int][]geom.Point, c [2]int, p geom.Point, d float64) bool {
	for i := c[0] - 2; i <= c[0]+2; i++ {
		for j := c[1] - 2; j <= c[1]+2; j++ {
			for _, q := range cells[[2]int{i, j}] {
				if p.Dist(q) <= d {
					return true
				}
			}
		}
	}
	return false
}

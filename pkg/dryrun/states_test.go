package dryrun

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"strapwork/pkg/diag"
	"strapwork/pkg/geom"
	"strapwork/pkg/ngc"
	"strapwork/pkg/work"
)

// mill is a machine that carries out what it is given, whatever a reader may know
// of it: it stands somewhere before the first line, and its origins lie where
// they lie. It reads plain lines only, words apart.
type mill struct {
	at            [3]float64
	units, feed   float64
	inverse, incr bool
	motion        string
	spin          string
	speed         float64
	harm          string
	deep          []geom.Point
	w             Work
}

// run carries a program out and says what harm it does first.
func (m *mill) run(text string) string {
	for n, line := range strings.Split(text, "\n") {
		if m.block(strings.Fields(line)); m.harm != "" {
			return fmt.Sprintf("line %d: %s", n+1, m.harm)
		}
	}
	if m.w.Partial {
		return ""
	}
	return uncut(m.deep)
}

func (m *mill) block(words []string) {
	v := map[byte]float64{}
	spin := m.spin
	for _, w := range words {
		x, _ := strconv.ParseFloat(w[1:], 64)
		switch w {
		case "G0", "G1", "G2", "G3":
			m.motion = w
		case "G20":
			m.units = 25.4
		case "G21":
			m.units = 1
		case "G90", "G91":
			m.incr = w == "G91"
		case "G93", "G94":
			m.inverse = w == "G93"
		case "M3", "M4", "M5":
			spin = w
		default:
			v[w[0]] = x
		}
	}
	if s, ok := v['S']; ok {
		m.speed = s
	}
	if spin != m.spin && spin != "M5" && m.at[2] < -1e-5 {
		m.harm = "starts the spindle in the wood"
	}
	m.spin = spin
	to, moves := m.at, false
	for i, c := range [3]byte{'X', 'Y', 'Z'} {
		if x, ok := v[c]; ok {
			moves = true
			to[i] = x * m.units
			if m.incr {
				to[i] += m.at[i]
			}
		}
	}
	if f, ok := v['F']; ok {
		m.feed = f * m.units
		if m.inverse {
			m.feed = f
		}
	}
	if moves {
		m.move(to, geom.Pt(v['I'], v['J']).Scale(m.units))
	}
}

// move goes somewhere in small steps and looks.
func (m *mill) move(to [3]float64, arm geom.Point) {
	a, b := geom.Pt(m.at[0], m.at[1]), geom.Pt(to[0], to[1])
	sweep, plan := 0.0, a.Dist(b)
	if m.motion == "G2" || m.motion == "G3" {
		c := a.Add(arm)
		sweep = math.Atan2(a.Sub(c).Cross(b.Sub(c)), a.Sub(c).Dot(b.Sub(c)))
		if m.motion == "G3" && sweep <= 1e-12 {
			sweep += 2 * math.Pi
		}
		if m.motion == "G2" && sweep >= -1e-12 {
			sweep -= 2 * math.Pi
		}
		plan = arm.Norm() * math.Abs(sweep)
	}
	rise := to[2] - m.at[2]
	length := math.Hypot(plan, rise)
	feed := m.feed
	if m.inverse {
		feed *= length
	}
	n := int(length/0.02) + 1
	for i := 0; i <= n && m.harm == ""; i++ {
		t := float64(i) / float64(n)
		p := a.Lerp(b, t)
		if sweep != 0 {
			p = a.Add(arm).Sub(arm.Turn(sweep * t))
		}
		m.look(p, m.at[2]+rise*t, feed, plan, rise, length)
	}
	m.at = to
}

func (m *mill) look(p geom.Point, z, feed, plan, rise, length float64) {
	const tol = gougeOver + 0.001
	up := plan == 0 && rise >= 0
	switch c := m.w.Clamps[0]; {
	case z < c.Height+m.w.Clearance-0.01 && c.Box.Dist(p) < m.w.keepOff()-0.01:
		m.harm = "in a clamp"
	case z >= -1e-5:
	case z < -deep-deepOver-0.001:
		m.harm = "too deep"
	case math.Abs(p.Y)+bit/2 > wide/2+tol || p.X-bit/2 < -tol || p.X+bit/2 > long+tol:
		m.harm = fmt.Sprintf("gouges at %v", p)
	case up && m.motion == "G0":
	case m.motion == "G0":
		m.harm = "a rapid in the wood"
	case m.spin != "M3" || m.speed < 0.98*m.w.Machine.Spindle[0] || m.speed > 1.02*m.w.Machine.Spindle[1]:
		m.harm = "spindle"
	case feed <= 0 || feed > 1.02*m.w.Machine.Feed[0]:
		m.harm = "feed"
	case length > 0 && -feed*rise/length > 1.02*m.w.Machine.Plunge:
		m.harm = "plunge"
	case z <= -deep+deepOver:
		m.deep = append(m.deep, p)
	}
}

// Lines that change what holds (units, origin, increments, spindle, feed mode),
// put into a good program where they do harm or none: what harms a machine that
// merely does what it is given is never taken.
func TestStates(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	t.Parallel()
	w := knowing()
	w.Machine.At[2] = -30
	w.Safe = 0
	soup := []string{
		"G55\nG54", "G55", "G54", "G20", "G21", "G91", "G90", "G93", "G94", "M5", "M3", "M4", "M0", "S100", "S16000",
		"G4 P1", "G1 X50", "G1 Y5", "G0 X50", "G0 Z0", "G0 Z-1", "G1 Z-1 F2000", "G1 Z-1 F250", "G91 G0 Z5\nG90", "G91 G1 X-0.5 F900\nG90",
		"G0 X-40 Y0", "G55\nG54\nG0 X50", "G55\nG54\nG1 X50 F900", "G55\nG54\nG0 Z5", "G0 X-40", "G0 Z5", "G0 Z2", "G3 I0.5", "G3 X50 Y0.9525 I10", "G2 X1.5875 Y0.9525 I0.02 Z-1 F600", "G93 G1 X20 F30\nG94",
		"M5\nM3", "G1 X60 Z0 F1200", "G1 X60 Y40 Z0.5 F1200", "G1 F1200", "F1200", "G91 G0 Z-5\nG90", "G1 X10 Y0", "G0 X1.5875 Y0.9525",
	}
	rnd := rand.New(rand.NewPCG(31, 7))
	taken, harmful := 0, 0
	for trial := range 1200 {
		w.Partial = trial%3 > 0
		lines := strings.SplitAfter(good, "\n")
		for range 1 + rnd.IntN(3) {
			i := rnd.IntN(len(lines) - 2)
			if line := soup[rnd.IntN(len(soup))] + "\n"; rnd.IntN(4) == 0 {
				lines[i] = line
			} else {
				lines[i] = line + lines[i]
			}
		}
		if rnd.IntN(4) == 0 {
			lines[0] = "G21 G17 G90 G94\n" // the origin comes late or never
		}
		text := strings.Join(lines, "")
		m := mill{at: [3]float64{20, 50, 60}, units: 1, spin: "M5", motion: "G0", w: w}
		harm := m.run(text)
		r := judged(t, text, w)
		if harm != "" {
			harmful++
		}
		if r.OK() {
			taken++
			if harm != "" {
				t.Errorf("taken, though %s:\n%s", harm, text)
			}
		}
	}
	if taken < 100 || harmful < 300 {
		t.Errorf("%d taken, %d harmful: too few to say", taken, harmful)
	}
}

// Random moves of every kind by random clamps: hits by points along them are
// reported, and nothing else is.
func TestClampsByPoints(t *testing.T) {
	if testing.Short() {
		t.Skipf("takes longer than -short allows")
	}
	t.Parallel()
	hits, passes := 0, 0
	for trial := range 250 {
		rnd := rand.New(rand.NewPCG(uint64(trial), 5))
		text := strings.NewReplacer("Z-1 F", "Z8 F", "Z-2", "Z30", "Z-0.5", "Z12", "Z1 ", "Z40 ").Replace(astray(rnd))
		moves, err := ngc.ReadAll(strings.NewReader(text))
		if err != nil {
			continue
		}
		var clamps []work.Clamp
		for range 1 + rnd.IntN(3) {
			at := geom.Pt(rnd.Float64()*120, (rnd.Float64()-0.5)*40)
			clamps = append(clamps, work.Clamp{
				Box:    geom.Box{Min: at, Max: at.Add(geom.Pt(rnd.ExpFloat64()*5, rnd.ExpFloat64()*5))},
				Height: rnd.Float64() * 25,
			})
		}
		var w Work
		r := away(t, text, func(x *Work) { x.Clamps = clamps; w = *x })
		sure, maybe := false, false
		for _, m := range moves {
			length, known := m.Length()
			if !m.Kind.Travels() || !m.To.Has(ngc.AxesXYZ) {
				continue
			}
			n := int(length/0.05) + 1
			for i := range n + 1 {
				f := float64(i) / float64(n)
				if !known || !m.From.Has(ngc.AxesXYZ) {
					f = 1
				}
				x, y, z := pointAt(m, f)
				for _, c := range clamps {
					d, top := c.Box.Dist(geom.Pt(x, y)), c.Height+w.Clearance
					sure = sure || d < w.keepOff()-0.01 && z < top-0.01
					maybe = maybe || d < w.keepOff()+0.03 && z < top+0.06 // half a step more
				}
			}
		}
		if sure {
			hits++
		} else if !maybe {
			passes++
		}
		reported := strings.Contains(fmt.Sprint(rules(r.Findings, diag.Error)), "hits-clamp")
		if sure && !reported || reported && !maybe {
			t.Errorf("trial %d: sure %v, maybe %v, reported %v: %v\n%v\n%s", trial, sure, maybe, reported, r.Findings, clamps, text)
		}
	}
	if hits < 50 || passes < 50 {
		t.Errorf("%d hits, %d passes: too few to say", hits, passes)
	}
}
